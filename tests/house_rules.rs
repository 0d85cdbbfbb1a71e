//! The rules of this code base that a compiler does not keep: who may import whom, where disk and terminal are
//! touched, how long a file may be, and that the guides name what is really there.

#![allow(
    clippy::unwrap_used,
    reason = "a file of the repository that cannot be read must stop the test"
)]

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use std::path::PathBuf;
use std::process::Command;

/// The stages in order. A folder may use those in earlier rows, never those in its own row or in a later one.
const LAYERS: &[&[&str]] = &[
    &["words"],
    &["problem", "measure"],
    &["chem"],
    &["lab"],
    &["record"],
    &["working"],
    &["answers", "causes", "class", "planning"],
    &["report"],
    &["render"],
    &["status"],
    &["cli"],
    &["command"],
    &["main"],
];

/// Folders that may use even less: only what stands here.
const NARROW: &[(&str, &[&str])] = &[
    ("render", &["report", "problem", "words"]),
    ("status", &["problem"]),
];

/// The only places that may touch disk, terminal, clock, environment or threads.
const OUTER: &[&str] = &["command", "cli", "status", "main"];

/// How the outer world is reached.
const WORLD: &[&str] = &[
    "std::fs",
    "std::env",
    "std::io::std",
    "io::stdout",
    "io::stderr",
    "io::stdin",
    "std::process",
    "std::thread",
    "std::time",
    "println!",
    "print!(",
    "eprint!(",
];

/// Words that no file may hold outside its tests: unfinished work, and the network.
const NEVER: &[&str] = &[
    "todo!",
    "unimplemented!",
    "dbg!",
    "std::net",
    "super::super::",
    "use crate::{",
];

/// The longest a file may be, not counting its tests.
const LONGEST: usize = 400;

/// Files that may be longer, with the reason: tables of data, never code.
const LONG: &[(&str, &str)] = &[];

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// All files below a folder of the repository, as paths from its root with `/`, in order.
fn files_below(folder: &str) -> Vec<String> {
    let mut found = Vec::new();
    let mut waiting = vec![root().join(folder)];
    while let Some(next) = waiting.pop() {
        for entry in
            fs::read_dir(&next).unwrap_or_else(|error| panic!("{}: {error}", next.display()))
        {
            let path = entry.unwrap().path();
            if path.is_dir() {
                waiting.push(path);
            } else {
                found.push(from_root(&path));
            }
        }
    }
    found.sort();
    found
}

fn from_root(path: &Path) -> String {
    let parts = path.strip_prefix(root()).unwrap().components();
    parts
        .map(|part| part.as_os_str().to_string_lossy())
        .collect::<Vec<_>>()
        .join("/")
}

fn read(path: &str) -> String {
    fs::read_to_string(root().join(path)).unwrap_or_else(|error| panic!("{path}: {error}"))
}

fn sources() -> Vec<String> {
    files_below("src")
        .into_iter()
        .filter(|path| Path::new(path).extension().is_some_and(|end| end == "rs"))
        .collect()
}

/// A source file's lines before its tests, numbered from 1.
fn body(path: &str) -> Vec<(usize, String)> {
    let text = read(path);
    let lines = text
        .lines()
        .take_while(|line| line.trim() != "#[cfg(test)]");
    lines
        .enumerate()
        .map(|(index, line)| (index + 1, line.to_owned()))
        .collect()
}

/// The same without comments.
fn code(path: &str) -> Vec<(usize, String)> {
    let mut lines = body(path);
    lines.retain(|(_, line)| !line.trim_start().starts_with("//"));
    lines
}

/// `chem` for `src/chem/formula.rs`, `cli` for `src/cli.rs`.
fn stage(path: &str) -> &str {
    let inner = path.strip_prefix("src/").unwrap();
    inner.split('/').next().unwrap().trim_end_matches(".rs")
}

fn layer(stage: &str) -> Option<usize> {
    LAYERS.iter().position(|row| row.contains(&stage))
}

/// The names that follow `crate::` in a line.
fn crate_names(line: &str) -> impl Iterator<Item = &str> {
    line.match_indices("crate::").filter_map(|(at, found)| {
        let rest = &line[at + found.len()..];
        let end = rest
            .find(|c: char| !(c.is_ascii_lowercase() || c == '_'))
            .unwrap_or(rest.len());
        (end > 0).then(|| &rest[..end])
    })
}

/// Fails with every fault, a line each.
#[track_caller]
fn none(faults: &[String]) {
    assert!(faults.is_empty(), "\n{}\n", faults.join("\n"));
}

/// The texts between single back quotes.
fn quoted(text: &str) -> impl Iterator<Item = &str> {
    text.lines()
        .filter(|line| !line.starts_with("```"))
        .flat_map(|line| line.split('`').skip(1).step_by(2))
}

/// A level-two section of a Markdown file.
fn section<'a>(text: &'a str, title: &str) -> &'a str {
    let start = text
        .find(&format!("\n## {title}\n"))
        .unwrap_or_else(|| panic!("no section “{title}”"));
    let rest = &text[start + 1..];
    &rest[..rest[3..].find("\n## ").map_or(rest.len(), |end| end + 3)]
}

#[test]
fn a_stage_uses_only_earlier_stages() {
    let mut faults = Vec::new();
    for path in sources() {
        let home = stage(&path);
        if home == "lib" {
            continue;
        }
        let Some(here) = layer(home) else {
            faults.push(format!("{path}: `{home}` has no place in LAYERS"));
            continue;
        };
        let narrow = NARROW
            .iter()
            .find(|(name, _)| *name == home)
            .map(|(_, allowed)| *allowed);
        for (number, line) in code(&path) {
            // `say!` is the macro of `words`.
            for name in crate_names(&line).filter(|name| *name != home && *name != "say") {
                let allowed = match (narrow, layer(name)) {
                    (Some(allowed), _) => allowed.contains(&name),
                    (None, Some(there)) => there < here,
                    (None, None) => false,
                };
                if !allowed {
                    faults.push(format!("{path}:{number}: `{home}` may not use `{name}`"));
                }
            }
        }
    }
    none(&faults);
}

#[test]
fn only_the_outer_ring_touches_the_world() {
    let mut faults = Vec::new();
    for path in sources()
        .iter()
        .filter(|path| !OUTER.contains(&stage(path)))
    {
        for (number, line) in code(path) {
            for word in WORLD.iter().filter(|word| line.contains(**word)) {
                faults.push(format!("{path}:{number}: `{word}` belongs in src/command"));
            }
        }
    }
    none(&faults);
}

#[test]
fn nothing_is_left_unfinished() {
    let mut faults = Vec::new();
    for path in sources() {
        for (number, line) in code(&path) {
            for word in NEVER.iter().filter(|word| line.contains(**word)) {
                faults.push(format!("{path}:{number}: `{word}`"));
            }
            if line.contains("use super::*") {
                faults.push(format!("{path}:{number}: `use super::*` is for tests"));
            }
        }
    }
    none(&faults);
}

#[test]
fn a_file_says_what_it_is_for_and_is_not_long() {
    let mut faults = Vec::new();
    for path in sources() {
        let lines = body(&path);
        let first = lines.first().map_or("", |(_, line)| line.as_str());
        if !first.starts_with("//! ") || first.contains("being written") {
            faults.push(format!(
                "{path}: the first line is not a sentence after `//!`"
            ));
        }
        let long = LONG.iter().any(|(name, _)| *name == path);
        if (lines.len() > LONGEST) != long {
            faults.push(format!(
                "{path}: {} lines before its tests; {LONGEST} is the most",
                lines.len()
            ));
        }
    }
    none(&faults);
}

#[test]
fn the_developers_guide_names_every_file_and_no_other() {
    let guide = read("DEVELOPERS.md");
    let named: BTreeSet<&str> = quoted(&guide).collect();
    let mut faults = Vec::new();
    for path in sources().into_iter().chain(files_below("report-templates")) {
        if !named.contains(path.as_str()) {
            faults.push(format!("DEVELOPERS.md does not name `{path}`"));
        }
    }
    let tops = ["src/", "report-templates/", "tests/", "samples/", ".ci/"];
    for name in named
        .iter()
        .filter(|name| tops.iter().any(|top| name.starts_with(top)))
    {
        // `samples/<id>/lab.toml` stands for many.
        let there = name.contains(['<', '*']) || root().join(name).exists();
        if !there {
            faults.push(format!("DEVELOPERS.md names `{name}`, which is not there"));
        }
    }
    none(&faults);
}

#[test]
fn every_dependency_has_its_reason() {
    let guide = read("DEVELOPERS.md");
    let rows: BTreeSet<&str> = section(&guide, "Dependencies")
        .lines()
        .filter_map(|line| line.strip_prefix("| `")?.split('`').next())
        .collect();
    let manifest: toml::Table = read("Cargo.toml").parse().unwrap();
    let tables = ["dependencies", "dev-dependencies", "build-dependencies"];
    let used: BTreeSet<&str> = tables
        .iter()
        .filter_map(|table| manifest.get(*table)?.as_table())
        .flat_map(|table| table.keys().map(String::as_str))
        .collect();
    assert_eq!(
        used, rows,
        "Cargo.toml on the left, the rows of DEVELOPERS.md on the right"
    );
}

#[test]
fn the_readme_shows_commands_and_files_that_exist() {
    let readme = read("README.md");
    for needed in [
        "cargo run --release -- draft samples/zinc-copper-sulfate/3-07.toml --out out",
        "cargo test",
    ] {
        assert!(
            readme.lines().any(|line| line == needed),
            "README.md does not show `{needed}`"
        );
    }
    let mut faults = Vec::new();
    let mut commands = BTreeSet::new();
    let mut inside = false;
    for line in readme.lines() {
        if line.starts_with("```") {
            inside = line == "```sh";
        } else if inside {
            let command = line
                .strip_prefix("cargo run --release -- ")
                .or_else(|| line.strip_prefix("gramleaf "));
            commands.extend(command.and_then(|words| words.split(' ').next()));
            for word in line.split(' ').filter(|word| word.starts_with("samples/")) {
                if !root().join(word).exists() {
                    faults.push(format!("README.md: `{word}` is not there"));
                }
            }
        }
    }
    assert!(!commands.is_empty(), "README.md shows no command");
    for command in commands
        .into_iter()
        .filter(|command| !command.starts_with('-'))
    {
        let output = Command::new(env!("CARGO_BIN_EXE_gramleaf"))
            .args([command, "--help"])
            .output()
            .unwrap();
        if !output.status.success() || output.stdout.is_empty() {
            faults.push(format!("README.md: there is no command `{command}`"));
        }
    }
    for target in readme
        .split("](")
        .skip(1)
        .filter_map(|rest| rest.split([')', '#']).next())
    {
        if !target.is_empty() && !target.contains("://") && !root().join(target).exists() {
            faults.push(format!("README.md links to {target}, which is not there"));
        }
    }
    none(&faults);
}

#[test]
fn every_lab_of_the_samples_is_built_in() {
    let list = read("src/lab/builtin.rs");
    let labs: Vec<String> = files_below("samples")
        .into_iter()
        .filter(|path| path.ends_with("/lab.toml"))
        .collect();
    assert!(labs.len() >= 7, "only {} labs", labs.len());
    let missing: Vec<String> = labs
        .iter()
        .filter(|path| !path.starts_with("samples/problems/"))
        .filter(|path| {
            !list.contains(&path.replace("/lab.toml", ""))
                && !list.contains(path.split('/').nth(1).unwrap())
        })
        .map(|path| format!("{path} is not in src/lab/builtin.rs"))
        .collect();
    none(&missing);
}

#[test]
fn lock_files_keep_no_addresses() {
    assert!(
        !read("tests/browser/package-lock.json").contains("://"),
        "package-lock.json records where a package came from"
    );
    for line in read("Cargo.lock")
        .lines()
        .filter(|line| line.starts_with("source = "))
    {
        assert!(line.contains("registry+"), "Cargo.lock: {line}");
    }
}
