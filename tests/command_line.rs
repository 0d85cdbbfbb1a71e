//! Completion scripts and the manual page, made from the definitions of the command line and kept beside them.

use std::fs;
use std::path::Path;
use std::path::PathBuf;
use std::process::Child;
use std::process::Command;
use std::process::Stdio;

use clap::CommandFactory;
use clap_complete::Shell;
use gramleaf::cli::Cli;

const AGAIN: &str = "cargo test --test command_line -- --ignored";

/// Name of each shell on the command line, the generator's shell, and the file.
const SCRIPTS: &[(&str, Shell, &str)] = &[
    ("bash", Shell::Bash, "completions/gramleaf.bash"),
    ("zsh", Shell::Zsh, "completions/_gramleaf"),
    ("fish", Shell::Fish, "completions/gramleaf.fish"),
    ("powershell", Shell::PowerShell, "completions/_gramleaf.ps1"),
    ("elvish", Shell::Elvish, "completions/gramleaf.elv"),
];

/// What the manual page says beyond the definitions.
const EPILOGUE: &str = r#".SH "EXIT STATUS"
.TP
.B 0
All good, also when readings or answers are missing, or something is warned about.
.TP
.B 1
A file has an error, or an answer needs another look.
.TP
.B 2
The program could not run: an unknown option, a path that is not there, a folder that cannot be written.
.SH ENVIRONMENT
.TP
.B NO_COLOR
Problems are printed without colour.
.SH FILES
.TP
.I 3\-07.toml
A data file, one for each group: a form that \fBgramleaf start\fR writes. Students type between the quote marks.
.TP
.I lab.toml\fR, \fI*.lab.toml
A lab description, the teacher's file. It is looked for in the folder of the data file and those above it; the labs that
\fBgramleaf labs\fR lists are built in.
.TP
.I *.schema.json
A JSON Schema for editors, named in the first line of a file.
.SH EXAMPLES
.TP
A form for each of fourteen groups:
gramleaf start zinc\-copper\-sulfate \-\-section 3 \-\-groups 14 \-\-out section\-3
.TP
Is the file all right, and what is still missing?
gramleaf check 3\-07.toml
.TP
The report, as Markdown and as a web page:
gramleaf draft 3\-07.toml
.TP
The pages that a class shares:
gramleaf share section\-3 \-\-out site \-\-teacher private
"#;

fn place(file: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("src/cli")
        .join(file)
}

fn script(shell: Shell) -> String {
    let mut bytes = Vec::new();
    clap_complete::generate(shell, &mut Cli::command(), "gramleaf", &mut bytes);
    String::from_utf8(bytes).expect("text")
}

/// The commands with their names in full, `gramleaf start`; what each does for `--help` is said once for all.
fn commands() -> Vec<clap::Command> {
    let root = Cli::command();
    let commands = root.get_subcommands().map(|command| {
        let name = format!("gramleaf {}", command.get_name());
        let command = command.clone().bin_name(name);
        command.disable_help_flag(true).disable_version_flag(true)
    });
    commands.collect()
}

/// A part of the manual that the generator renders.
fn rendered(render: impl Fn(&mut dyn std::io::Write) -> std::io::Result<()>) -> String {
    let mut bytes = Vec::new();
    render(&mut bytes).expect("written to memory");
    let text = String::from_utf8(bytes).expect("text");
    // Each part opens with two definitions that one page needs only once.
    text.lines()
        .filter(|line| !line.starts_with(".ie ") && !line.starts_with(".el "))
        .map(|line| format!("{line}\n"))
        .collect()
}

fn manual() -> String {
    let page = clap_mangen::Man::new(Cli::command());
    // Without date and version the page changes only with the commands.
    let mut text = String::from(
        ".ie \\n(.g .ds Aq \\(aq\n.el .ds Aq '\n.TH GRAMLEAF 1 \"\" gramleaf \"User Commands\"\n",
    );
    text += &rendered(|out| page.render_name_section(out));
    text += &rendered(|out| page.render_synopsis_section(out));
    text += &rendered(|out| page.render_description_section(out));
    text += &rendered(|out| page.render_options_section(out));
    for command in commands() {
        let name = command.get_name().to_owned();
        let part = clap_mangen::Man::new(command);
        text += &format!(".SH \"GRAMLEAF {}\"\n", name.to_uppercase());
        for (section, part) in [
            (
                "DESCRIPTION",
                rendered(|out| part.render_description_section(out)),
            ),
            (
                "SYNOPSIS",
                rendered(|out| part.render_synopsis_section(out)),
            ),
            ("OPTIONS", rendered(|out| part.render_options_section(out))),
        ] {
            let body = part
                .strip_prefix(&format!(".SH {section}\n"))
                .unwrap_or(&part);
            text += if section == "SYNOPSIS" { ".PP\n" } else { "" };
            text += body;
        }
    }
    text + EPILOGUE
}

/// A text with line ends of Unix, whatever the copy of the repository has.
fn kept(file: &str) -> String {
    let text = fs::read_to_string(place(file)).unwrap_or_else(|why| panic!("{file}: {why}"));
    text.replace("\r\n", "\n")
}

fn printed(arguments: &[&str]) -> String {
    let output = Command::new(env!("CARGO_BIN_EXE_gramleaf"))
        .args(arguments)
        .output()
        .expect("the program runs");
    assert!(output.status.success(), "{arguments:?}");
    String::from_utf8(output.stdout)
        .expect("text")
        .replace("\r\n", "\n")
}

/// Names of the commands, and for each its long options.
fn names() -> Vec<(String, Vec<String>)> {
    let long = |command: &clap::Command| {
        let options = command.get_arguments().filter_map(clap::Arg::get_long);
        options.map(str::to_owned).collect()
    };
    let all: Vec<_> = commands()
        .iter()
        .map(|command| (command.get_name().to_owned(), long(command)))
        .collect();
    assert!(all.len() >= 8, "{all:?}");
    all
}

#[test]
#[ignore = "writes the files under src/cli again"]
fn write_the_files_again() {
    for (_, shell, file) in SCRIPTS {
        fs::write(place(file), script(*shell)).expect("written");
    }
    fs::write(place("gramleaf.1"), manual()).expect("written");
}

#[test]
fn the_files_are_those_that_the_definitions_make() {
    for (_, shell, file) in SCRIPTS {
        assert!(
            kept(file) == script(*shell),
            "src/cli/{file} is out of date: {AGAIN}"
        );
    }
    assert!(
        kept("gramleaf.1") == manual(),
        "src/cli/gramleaf.1 is out of date: {AGAIN}"
    );
}

#[test]
fn the_program_prints_them() {
    for (name, _, file) in SCRIPTS {
        assert_eq!(printed(&["completions", name]), kept(file), "{name}");
    }
    assert_eq!(printed(&["man"]), kept("gramleaf.1"));
}

#[test]
fn each_script_knows_every_command_and_long_option() {
    for (shell, _, file) in SCRIPTS {
        let text = kept(file);
        for (command, options) in names() {
            let word = |text: &str| {
                text.split(|c: char| !(c.is_alphanumeric() || c == '-'))
                    .any(|word| word == command)
            };
            assert!(word(&text), "{shell}: no {command}");
            for option in options {
                // Fish names an option without its dashes.
                let named = if *shell == "fish" {
                    format!("-l {option}")
                } else {
                    format!("--{option}")
                };
                assert!(text.contains(&named), "{shell}: no {named} of {command}");
            }
        }
    }
}

#[test]
fn the_manual_holds_every_command_with_its_options() {
    let page = manual();
    for (command, options) in names() {
        let head = format!(".SH \"GRAMLEAF {}\"\n", command.to_uppercase());
        let (_, rest) = page
            .split_once(&head)
            .unwrap_or_else(|| panic!("no {head}"));
        let section = rest.split("\n.SH ").next().expect("a section");
        for option in &options {
            let roff = format!("\\-\\-{}", option.replace('-', "\\-"));
            assert!(
                section.contains(&roff),
                "{command}: no {roff} in\n{section}"
            );
        }
    }
    for section in [
        "NAME",
        "SYNOPSIS",
        "DESCRIPTION",
        "\"EXIT STATUS\"",
        "FILES",
        "EXAMPLES",
    ] {
        assert!(page.contains(&format!("\n.SH {section}\n")), "no {section}");
    }
    for status in ["0", "1", "2"] {
        assert!(
            page.contains(&format!("\n.B {status}\n")),
            "no status {status}"
        );
    }
    // A line that begins with a point or a quote mark is a request, which these are.
    let known = [
        ".SH", ".TP", ".PP", ".B", ".I", ".TH", ".IP", ".ie", ".el", ".RS", ".RE", ".br", ".SS",
    ];
    for line in page.lines().filter(|line| line.starts_with(['.', '\''])) {
        let request = line.split(' ').next().expect("a word");
        assert!(known.contains(&request), "{line}");
    }
}

/// A run in a folder: its status, and what it said on standard error.
fn ran(folder: &Path, arguments: &[&str], out: Stdio) -> (Option<i32>, String) {
    let mut command = Command::new(env!("CARGO_BIN_EXE_gramleaf"));
    let command = command.current_dir(folder).args(arguments);
    let output = command.stdout(out).stderr(Stdio::piped());
    let output = output.spawn().and_then(Child::wait_with_output);
    let output = output.expect("the program runs");
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    (output.status.code(), said)
}

#[cfg(target_os = "linux")]
#[test]
fn lost_output_is_told() {
    let data = "samples/zinc-copper-sulfate/3-07.toml";
    for arguments in [
        &["check", data, "--csv"][..],
        &["check", data, "--json"],
        &["check", data],
        &["plan", "zinc-copper-sulfate"],
        &["labs"],
        &["start", "zinc-copper-sulfate", "--out", "-"],
        &["man"],
    ] {
        let here = Path::new(env!("CARGO_MANIFEST_DIR"));
        let full = fs::OpenOptions::new().write(true).open("/dev/full");
        let (status, said) = ran(here, arguments, full.expect("/dev/full").into());
        assert_eq!(status, Some(2), "{arguments:?}: {said}");
        let told = "error: what was to be printed is not complete: ";
        assert!(said.contains(told), "{arguments:?}: {said}");
        // Who reads no further has what they wanted.
        let (reader, writer) = std::io::pipe().expect("a pipe");
        drop(reader);
        let (status, said) = ran(here, arguments, writer.into());
        assert_eq!(status, Some(0), "{arguments:?}: {said}");
        assert!(!said.contains("not complete"), "{arguments:?}: {said}");
    }
}

#[test]
fn a_code_that_no_class_page_shows_is_told_when_its_form_is_written() {
    let folder = tempfile::tempdir().expect("a folder");
    let start = |group: &[&str]| {
        let arguments = [&["start", "zinc-copper-sulfate"], group].concat();
        ran(folder.path(), &arguments, Stdio::null())
    };
    for (group, told) in [
        (
            "../../evil",
            "warning: the group's code “../../evil” holds something",
        ),
        ("blue", "warning: the group's code “blue” has no digit"),
    ] {
        let (status, said) = start(&["--group", group]);
        assert_eq!(status, Some(0), "{said}");
        assert!(said.contains(told), "{said}");
    }
    let (_, said) = start(&["--groups", "3", "--section", "3/b", "--out", "section"]);
    assert_eq!(said.matches("warning").count(), 1, "{said}");
    for quiet in [&["--group", "3-07"][..], &["--out", "blank.toml"]] {
        assert_eq!(start(quiet), (Some(0), String::new()));
    }
    let (status, said) = start(&["--group", &"7".repeat(300)]);
    assert_eq!(status, Some(2), "{said}");
    let told = "error: “777777777777777777777777…” is too long for the name of a file\n  help: nothing was written; give the group a short code";
    assert!(said.contains(told), "{said}");
}
