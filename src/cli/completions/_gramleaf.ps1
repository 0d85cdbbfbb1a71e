
using namespace System.Management.Automation
using namespace System.Management.Automation.Language

Register-ArgumentCompleter -Native -CommandName 'gramleaf' -ScriptBlock {
    param($wordToComplete, $commandAst, $cursorPosition)

    $commandElements = $commandAst.CommandElements
    $command = @(
        'gramleaf'
        for ($i = 1; $i -lt $commandElements.Count; $i++) {
            $element = $commandElements[$i]
            if ($element -isnot [StringConstantExpressionAst] -or
                $element.StringConstantType -ne [StringConstantType]::BareWord -or
                $element.Value.StartsWith('-') -or
                $element.Value -eq $wordToComplete) {
                break
        }
        $element.Value
    }) -join ';'

    $completions = @(switch ($command) {
        'gramleaf' {
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('-V', '-V ', [CompletionResultType]::ParameterName, 'Print version')
            [CompletionResult]::new('--version', '--version', [CompletionResultType]::ParameterName, 'Print version')
            [CompletionResult]::new('labs', 'labs', [CompletionResultType]::ParameterValue, 'List the built-in labs, or write one''s description for editing')
            [CompletionResult]::new('start', 'start', [CompletionResultType]::ParameterValue, 'Write blank data files for a lab, bench sheets to print, or pages before the lab')
            [CompletionResult]::new('import', 'import', [CompletionResultType]::ParameterValue, 'Write a data file for each row of a table, as a web form or a spreadsheet saves it')
            [CompletionResult]::new('draft', 'draft', [CompletionResultType]::ParameterValue, 'Build reports, as Markdown and HTML, from data files')
            [CompletionResult]::new('check', 'check', [CompletionResultType]::ParameterValue, 'Say what is wrong, missing or odd in data files')
            [CompletionResult]::new('share', 'share', [CompletionResultType]::ParameterValue, 'Build the pages that a class shares: results and one report a group, under codes, without names')
            [CompletionResult]::new('plan', 'plan', [CompletionResultType]::ParameterValue, 'Say what to set out for a class: reagents, solutions, vessels, what to expect')
            [CompletionResult]::new('completions', 'completions', [CompletionResultType]::ParameterValue, 'Print the script that completes commands and options in a shell')
            [CompletionResult]::new('man', 'man', [CompletionResultType]::ParameterValue, 'Print the manual page')
            break
        }
        'gramleaf;labs' {
            [CompletionResult]::new('--out', '--out', [CompletionResultType]::ParameterName, 'Write the description to this file instead of the terminal')
            [CompletionResult]::new('--schema', '--schema', [CompletionResultType]::ParameterName, 'Print the JSON Schema of lab descriptions, for editors; with a file, write it there and name it in the description')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('-V', '-V ', [CompletionResultType]::ParameterName, 'Print version')
            [CompletionResult]::new('--version', '--version', [CompletionResultType]::ParameterName, 'Print version')
            break
        }
        'gramleaf;start' {
            [CompletionResult]::new('--sheet', '--sheet', [CompletionResultType]::ParameterName, 'What to write: the data file, the same form on paper, or the prediction page before the lab')
            [CompletionResult]::new('--group', '--group', [CompletionResultType]::ParameterName, 'Group code, such as 3-07')
            [CompletionResult]::new('--groups', '--groups', [CompletionResultType]::ParameterName, 'Number of groups; their codes are made from the section')
            [CompletionResult]::new('--roster', '--roster', [CompletionResultType]::ParameterName, 'Class list (CSV with columns group, section, names): a form for each of its groups')
            [CompletionResult]::new('--section', '--section', [CompletionResultType]::ParameterName, 'Section, such as 3')
            [CompletionResult]::new('--out', '--out', [CompletionResultType]::ParameterName, 'Data files: file for one group, or folder for several. Sheets: NAME of NAME.md and NAME.html, which hold all groups. `-` prints')
            [CompletionResult]::new('--schema', '--schema', [CompletionResultType]::ParameterName, 'Print the JSON Schema of the lab''s data files, for editors; with a file, write it there and name it in the forms')
            [CompletionResult]::new('--key', '--key', [CompletionResultType]::ParameterName, 'With `--sheet prelab`: filled in from the planned amounts (for the teacher)')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help (see more with ''--help'')')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help (see more with ''--help'')')
            [CompletionResult]::new('-V', '-V ', [CompletionResultType]::ParameterName, 'Print version')
            [CompletionResult]::new('--version', '--version', [CompletionResultType]::ParameterName, 'Print version')
            break
        }
        'gramleaf;import' {
            [CompletionResult]::new('--lab', '--lab', [CompletionResultType]::ParameterName, 'Id of a built-in lab, or the path of a lab description')
            [CompletionResult]::new('--out', '--out', [CompletionResultType]::ParameterName, 'Folder for the data files; without it they go where you are')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('-V', '-V ', [CompletionResultType]::ParameterName, 'Print version')
            [CompletionResult]::new('--version', '--version', [CompletionResultType]::ParameterName, 'Print version')
            break
        }
        'gramleaf;draft' {
            [CompletionResult]::new('--out', '--out', [CompletionResultType]::ParameterName, 'Folder for the reports; without it they stand beside their data files')
            [CompletionResult]::new('--template', '--template', [CompletionResultType]::ParameterName, 'A template by name (report, formal, worksheet), or a folder of your own templates')
            [CompletionResult]::new('--lab', '--lab', [CompletionResultType]::ParameterName, 'Use this lab description for every file')
            [CompletionResult]::new('--key', '--key', [CompletionResultType]::ParameterName, 'Show all working, whatever the lab description hides (for the teacher)')
            [CompletionResult]::new('--replace', '--replace', [CompletionResultType]::ParameterName, 'Replace reports that were edited by hand since they were drafted; a copy of each is kept')
            [CompletionResult]::new('--watch', '--watch', [CompletionResultType]::ParameterName, 'Draft again whenever a data file, its lab description or a template is saved, until Ctrl-C')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('-V', '-V ', [CompletionResultType]::ParameterName, 'Print version')
            [CompletionResult]::new('--version', '--version', [CompletionResultType]::ParameterName, 'Print version')
            break
        }
        'gramleaf;check' {
            [CompletionResult]::new('--marked', '--marked', [CompletionResultType]::ParameterName, 'Write a marked copy of each group into this folder, and one file a section to print (for the teacher)')
            [CompletionResult]::new('--since', '--since', [CompletionResultType]::ParameterName, 'Say what changed since an older copy: readings, signs, answers, verdicts; a folder holds one for each file')
            [CompletionResult]::new('--lab', '--lab', [CompletionResultType]::ParameterName, 'Use this lab description for every file')
            [CompletionResult]::new('--key', '--key', [CompletionResultType]::ParameterName, 'Show what the readings give, whatever the lab description hides (for the teacher)')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Print JSON: an array with one object a file')
            [CompletionResult]::new('--csv', '--csv', [CompletionResultType]::ParameterName, 'Print CSV with a row for each group and step')
            [CompletionResult]::new('--groups-csv', '--groups-csv', [CompletionResultType]::ParameterName, 'Print CSV with a row for each group: readings and answers as typed, verdicts counted')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('-V', '-V ', [CompletionResultType]::ParameterName, 'Print version')
            [CompletionResult]::new('--version', '--version', [CompletionResultType]::ParameterName, 'Print version')
            break
        }
        'gramleaf;share' {
            [CompletionResult]::new('--out', '--out', [CompletionResultType]::ParameterName, 'Folder for the shared pages')
            [CompletionResult]::new('--teacher', '--teacher', [CompletionResultType]::ParameterName, 'Folder for the teacher''s page, with names and answers; never inside the shared one')
            [CompletionResult]::new('--lab', '--lab', [CompletionResultType]::ParameterName, 'Use this lab description for every file')
            [CompletionResult]::new('--alias', '--alias', [CompletionResultType]::ParameterName, 'Replace the groups'' codes by shuffled ones; which is whose is kept in the teacher''s folder')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('-V', '-V ', [CompletionResultType]::ParameterName, 'Print version')
            [CompletionResult]::new('--version', '--version', [CompletionResultType]::ParameterName, 'Print version')
            break
        }
        'gramleaf;plan' {
            [CompletionResult]::new('--groups', '--groups', [CompletionResultType]::ParameterName, 'Number of groups')
            [CompletionResult]::new('--spare', '--spare', [CompletionResultType]::ParameterName, 'How much more than needed to set out, such as 15%')
            [CompletionResult]::new('--out', '--out', [CompletionResultType]::ParameterName, 'Write NAME.md and NAME.html instead of printing Markdown')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Print JSON')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('-V', '-V ', [CompletionResultType]::ParameterName, 'Print version')
            [CompletionResult]::new('--version', '--version', [CompletionResultType]::ParameterName, 'Print version')
            break
        }
        'gramleaf;completions' {
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('-V', '-V ', [CompletionResultType]::ParameterName, 'Print version')
            [CompletionResult]::new('--version', '--version', [CompletionResultType]::ParameterName, 'Print version')
            break
        }
        'gramleaf;man' {
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('-V', '-V ', [CompletionResultType]::ParameterName, 'Print version')
            [CompletionResult]::new('--version', '--version', [CompletionResultType]::ParameterName, 'Print version')
            break
        }
    })

    $completions.Where{ $_.CompletionText -like "$wordToComplete*" } |
        Sort-Object -Property ListItemText
}
