
use builtin;
use str;

set edit:completion:arg-completer[gramleaf] = {|@words|
    fn spaces {|n|
        builtin:repeat $n ' ' | str:join ''
    }
    fn cand {|text desc|
        edit:complex-candidate $text &display=$text' '(spaces (- 14 (wcswidth $text)))$desc
    }
    var command = 'gramleaf'
    for word $words[1..-1] {
        if (str:has-prefix $word '-') {
            break
        }
        set command = $command';'$word
    }
    var completions = [
        &'gramleaf'= {
            cand -h 'Print help'
            cand --help 'Print help'
            cand -V 'Print version'
            cand --version 'Print version'
            cand labs 'List the built-in labs, or write one''s description for editing'
            cand start 'Write blank data files for a lab, bench sheets to print, or pages before the lab'
            cand import 'Write a data file for each row of a table, as a web form or a spreadsheet saves it'
            cand draft 'Build reports, as Markdown and HTML, from data files'
            cand check 'Say what is wrong, missing or odd in data files'
            cand share 'Build the pages that a class shares: results and one report a group, under codes, without names'
            cand plan 'Say what to set out for a class: reagents, solutions, vessels, what to expect'
            cand completions 'Print the script that completes commands and options in a shell'
            cand man 'Print the manual page'
        }
        &'gramleaf;labs'= {
            cand --out 'Write the description to this file instead of the terminal'
            cand --schema 'Print the JSON Schema of lab descriptions, for editors; with a file, write it there and name it in the description'
            cand -h 'Print help'
            cand --help 'Print help'
            cand -V 'Print version'
            cand --version 'Print version'
        }
        &'gramleaf;start'= {
            cand --sheet 'What to write: the data file, the same form on paper, or the prediction page before the lab'
            cand --group 'Group code, such as 3-07'
            cand --groups 'Number of groups; their codes are made from the section'
            cand --roster 'Class list (CSV with columns group, section, names): a form for each of its groups'
            cand --section 'Section, such as 3'
            cand --out 'Data files: file for one group, or folder for several. Sheets: NAME of NAME.md and NAME.html, which hold all groups. `-` prints'
            cand --schema 'Print the JSON Schema of the lab''s data files, for editors; with a file, write it there and name it in the forms'
            cand --key 'With `--sheet prelab`: filled in from the planned amounts (for the teacher)'
            cand -h 'Print help (see more with ''--help'')'
            cand --help 'Print help (see more with ''--help'')'
            cand -V 'Print version'
            cand --version 'Print version'
        }
        &'gramleaf;import'= {
            cand --lab 'Id of a built-in lab, or the path of a lab description'
            cand --out 'Folder for the data files; without it they go where you are'
            cand -h 'Print help'
            cand --help 'Print help'
            cand -V 'Print version'
            cand --version 'Print version'
        }
        &'gramleaf;draft'= {
            cand --out 'Folder for the reports; without it they stand beside their data files'
            cand --template 'A template by name (report, formal, worksheet), or a folder of your own templates'
            cand --lab 'Use this lab description for every file'
            cand --key 'Show all working, whatever the lab description hides (for the teacher)'
            cand --replace 'Replace reports that were edited by hand since they were drafted; a copy of each is kept'
            cand --watch 'Draft again whenever a data file, its lab description or a template is saved, until Ctrl-C'
            cand -h 'Print help'
            cand --help 'Print help'
            cand -V 'Print version'
            cand --version 'Print version'
        }
        &'gramleaf;check'= {
            cand --marked 'Write a marked copy of each group into this folder, and one file a section to print (for the teacher)'
            cand --since 'Say what changed since an older copy: readings, signs, answers, verdicts; a folder holds one for each file'
            cand --lab 'Use this lab description for every file'
            cand --key 'Show what the readings give, whatever the lab description hides (for the teacher)'
            cand --json 'Print JSON: an array with one object a file'
            cand --csv 'Print CSV with a row for each group and step'
            cand --groups-csv 'Print CSV with a row for each group: readings and answers as typed, verdicts counted'
            cand -h 'Print help'
            cand --help 'Print help'
            cand -V 'Print version'
            cand --version 'Print version'
        }
        &'gramleaf;share'= {
            cand --out 'Folder for the shared pages'
            cand --teacher 'Folder for the teacher''s page, with names and answers; never inside the shared one'
            cand --lab 'Use this lab description for every file'
            cand --alias 'Replace the groups'' codes by shuffled ones; which is whose is kept in the teacher''s folder'
            cand -h 'Print help'
            cand --help 'Print help'
            cand -V 'Print version'
            cand --version 'Print version'
        }
        &'gramleaf;plan'= {
            cand --groups 'Number of groups'
            cand --spare 'How much more than needed to set out, such as 15%'
            cand --out 'Write NAME.md and NAME.html instead of printing Markdown'
            cand --json 'Print JSON'
            cand -h 'Print help'
            cand --help 'Print help'
            cand -V 'Print version'
            cand --version 'Print version'
        }
        &'gramleaf;completions'= {
            cand -h 'Print help'
            cand --help 'Print help'
            cand -V 'Print version'
            cand --version 'Print version'
        }
        &'gramleaf;man'= {
            cand -h 'Print help'
            cand --help 'Print help'
            cand -V 'Print version'
            cand --version 'Print version'
        }
    ]
    $completions[$command]
}
