# Print an optspec for argparse to handle cmd's options that are independent of any subcommand.
function __fish_gramleaf_global_optspecs
    string join \n h/help V/version
end

function __fish_gramleaf_needs_command
    # Figure out if the current invocation already has a command.
    set -l cmd (commandline -opc)
    set -e cmd[1]
    argparse -s (__fish_gramleaf_global_optspecs) -- $cmd 2>/dev/null
    or return
    if set -q argv[1]
        # Also print the command, so this can be used to figure out what it is.
        echo $argv[1]
        return 1
    end
    return 0
end

function __fish_gramleaf_using_subcommand
    set -l cmd (__fish_gramleaf_needs_command)
    test -z "$cmd"
    and return 1
    contains -- $cmd[1] $argv
end

complete -c gramleaf -n "__fish_gramleaf_needs_command" -s h -l help -d 'Print help'
complete -c gramleaf -n "__fish_gramleaf_needs_command" -s V -l version -d 'Print version'
complete -c gramleaf -n "__fish_gramleaf_needs_command" -f -a "labs" -d 'List the built-in labs, or write one\'s description for editing'
complete -c gramleaf -n "__fish_gramleaf_needs_command" -f -a "start" -d 'Write blank data files for a lab, bench sheets to print, or pages before the lab'
complete -c gramleaf -n "__fish_gramleaf_needs_command" -f -a "import" -d 'Write a data file for each row of a table, as a web form or a spreadsheet saves it'
complete -c gramleaf -n "__fish_gramleaf_needs_command" -f -a "draft" -d 'Build reports, as Markdown and HTML, from data files'
complete -c gramleaf -n "__fish_gramleaf_needs_command" -f -a "check" -d 'Say what is wrong, missing or odd in data files'
complete -c gramleaf -n "__fish_gramleaf_needs_command" -f -a "share" -d 'Build the pages that a class shares: results and one report a group, under codes, without names'
complete -c gramleaf -n "__fish_gramleaf_needs_command" -f -a "plan" -d 'Say what to set out for a class: reagents, solutions, vessels, what to expect'
complete -c gramleaf -n "__fish_gramleaf_needs_command" -f -a "completions" -d 'Print the script that completes commands and options in a shell'
complete -c gramleaf -n "__fish_gramleaf_needs_command" -f -a "man" -d 'Print the manual page'
complete -c gramleaf -n "__fish_gramleaf_using_subcommand labs" -l out -d 'Write the description to this file instead of the terminal' -r -F
complete -c gramleaf -n "__fish_gramleaf_using_subcommand labs" -l schema -d 'Print the JSON Schema of lab descriptions, for editors; with a file, write it there and name it in the description' -r -F
complete -c gramleaf -n "__fish_gramleaf_using_subcommand labs" -s h -l help -d 'Print help'
complete -c gramleaf -n "__fish_gramleaf_using_subcommand labs" -s V -l version -d 'Print version'
complete -c gramleaf -n "__fish_gramleaf_using_subcommand start" -l sheet -d 'What to write: the data file, the same form on paper, or the prediction page before the lab' -r -f -a "form\t'The data file, to type into'
bench\t'The bench sheet: the same form on paper'
prelab\t'The page before the lab'"
complete -c gramleaf -n "__fish_gramleaf_using_subcommand start" -l group -d 'Group code, such as 3-07' -r
complete -c gramleaf -n "__fish_gramleaf_using_subcommand start" -l groups -d 'Number of groups; their codes are made from the section' -r
complete -c gramleaf -n "__fish_gramleaf_using_subcommand start" -l roster -d 'Class list (CSV with columns group, section, names): a form for each of its groups' -r -F
complete -c gramleaf -n "__fish_gramleaf_using_subcommand start" -l section -d 'Section, such as 3' -r
complete -c gramleaf -n "__fish_gramleaf_using_subcommand start" -l out -d 'Data files: file for one group, or folder for several. Sheets: NAME of NAME.md and NAME.html, which hold all groups. `-` prints' -r -F
complete -c gramleaf -n "__fish_gramleaf_using_subcommand start" -l schema -d 'Print the JSON Schema of the lab\'s data files, for editors; with a file, write it there and name it in the forms' -r -F
complete -c gramleaf -n "__fish_gramleaf_using_subcommand start" -l key -d 'With `--sheet prelab`: filled in from the planned amounts (for the teacher)'
complete -c gramleaf -n "__fish_gramleaf_using_subcommand start" -s h -l help -d 'Print help (see more with \'--help\')'
complete -c gramleaf -n "__fish_gramleaf_using_subcommand start" -s V -l version -d 'Print version'
complete -c gramleaf -n "__fish_gramleaf_using_subcommand import" -l lab -d 'Id of a built-in lab, or the path of a lab description' -r
complete -c gramleaf -n "__fish_gramleaf_using_subcommand import" -l out -d 'Folder for the data files; without it they go where you are' -r -F
complete -c gramleaf -n "__fish_gramleaf_using_subcommand import" -s h -l help -d 'Print help'
complete -c gramleaf -n "__fish_gramleaf_using_subcommand import" -s V -l version -d 'Print version'
complete -c gramleaf -n "__fish_gramleaf_using_subcommand draft" -l out -d 'Folder for the reports; without it they stand beside their data files' -r -F
complete -c gramleaf -n "__fish_gramleaf_using_subcommand draft" -l template -d 'A template by name (report, formal, worksheet), or a folder of your own templates' -r
complete -c gramleaf -n "__fish_gramleaf_using_subcommand draft" -l lab -d 'Use this lab description for every file' -r -F
complete -c gramleaf -n "__fish_gramleaf_using_subcommand draft" -l key -d 'Show all working, whatever the lab description hides (for the teacher)'
complete -c gramleaf -n "__fish_gramleaf_using_subcommand draft" -l replace -d 'Replace reports that were edited by hand since they were drafted; a copy of each is kept'
complete -c gramleaf -n "__fish_gramleaf_using_subcommand draft" -l watch -d 'Draft again whenever a data file, its lab description or a template is saved, until Ctrl-C'
complete -c gramleaf -n "__fish_gramleaf_using_subcommand draft" -s h -l help -d 'Print help'
complete -c gramleaf -n "__fish_gramleaf_using_subcommand draft" -s V -l version -d 'Print version'
complete -c gramleaf -n "__fish_gramleaf_using_subcommand check" -l marked -d 'Write a marked copy of each group into this folder, and one file a section to print (for the teacher)' -r -F
complete -c gramleaf -n "__fish_gramleaf_using_subcommand check" -l since -d 'Say what changed since an older copy: readings, signs, answers, verdicts; a folder holds one for each file' -r -F
complete -c gramleaf -n "__fish_gramleaf_using_subcommand check" -l lab -d 'Use this lab description for every file' -r -F
complete -c gramleaf -n "__fish_gramleaf_using_subcommand check" -l key -d 'Show what the readings give, whatever the lab description hides (for the teacher)'
complete -c gramleaf -n "__fish_gramleaf_using_subcommand check" -l json -d 'Print JSON: an array with one object a file'
complete -c gramleaf -n "__fish_gramleaf_using_subcommand check" -l csv -d 'Print CSV with a row for each group and step'
complete -c gramleaf -n "__fish_gramleaf_using_subcommand check" -l groups-csv -d 'Print CSV with a row for each group: readings and answers as typed, verdicts counted'
complete -c gramleaf -n "__fish_gramleaf_using_subcommand check" -s h -l help -d 'Print help'
complete -c gramleaf -n "__fish_gramleaf_using_subcommand check" -s V -l version -d 'Print version'
complete -c gramleaf -n "__fish_gramleaf_using_subcommand share" -l out -d 'Folder for the shared pages' -r -F
complete -c gramleaf -n "__fish_gramleaf_using_subcommand share" -l teacher -d 'Folder for the teacher\'s page, with names and answers; never inside the shared one' -r -F
complete -c gramleaf -n "__fish_gramleaf_using_subcommand share" -l lab -d 'Use this lab description for every file' -r -F
complete -c gramleaf -n "__fish_gramleaf_using_subcommand share" -l alias -d 'Replace the groups\' codes by shuffled ones; which is whose is kept in the teacher\'s folder'
complete -c gramleaf -n "__fish_gramleaf_using_subcommand share" -s h -l help -d 'Print help'
complete -c gramleaf -n "__fish_gramleaf_using_subcommand share" -s V -l version -d 'Print version'
complete -c gramleaf -n "__fish_gramleaf_using_subcommand plan" -l groups -d 'Number of groups' -r
complete -c gramleaf -n "__fish_gramleaf_using_subcommand plan" -l spare -d 'How much more than needed to set out, such as 15%' -r
complete -c gramleaf -n "__fish_gramleaf_using_subcommand plan" -l out -d 'Write NAME.md and NAME.html instead of printing Markdown' -r -F
complete -c gramleaf -n "__fish_gramleaf_using_subcommand plan" -l json -d 'Print JSON'
complete -c gramleaf -n "__fish_gramleaf_using_subcommand plan" -s h -l help -d 'Print help'
complete -c gramleaf -n "__fish_gramleaf_using_subcommand plan" -s V -l version -d 'Print version'
complete -c gramleaf -n "__fish_gramleaf_using_subcommand completions" -s h -l help -d 'Print help'
complete -c gramleaf -n "__fish_gramleaf_using_subcommand completions" -s V -l version -d 'Print version'
complete -c gramleaf -n "__fish_gramleaf_using_subcommand man" -s h -l help -d 'Print help'
complete -c gramleaf -n "__fish_gramleaf_using_subcommand man" -s V -l version -d 'Print version'
