//! The strings files of every language held against the code and the templates: none missing, none left over.

#![allow(clippy::unwrap_used, reason = "a test stops at what it cannot use")]

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use gramleaf::answers::Verdict;
use gramleaf::answers::slips;
use gramleaf::causes::catalogue;
use gramleaf::causes::matter::Ending;
use gramleaf::causes::vocabulary;
use gramleaf::chem::Element;
use gramleaf::chem::hazard;
use gramleaf::lab::signs;
use gramleaf::measure::foreign;
use gramleaf::words::LANGUAGES;

/// Where a text that is said begins in a source file.
const STARTS: [&str; 2] = ["say!(", ".say("];

/// Every text said in the code, in the templates, and in the tables.
fn said() -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    for entry in walkdir::WalkDir::new("src") {
        let path = entry.unwrap().into_path();
        if path.extension().is_some_and(|end| end == "rs") && !path.starts_with("src/words") {
            in_code(&path, &mut found);
        }
    }
    for entry in walkdir::WalkDir::new("report-templates") {
        let path = entry.unwrap().into_path();
        if path.extension().is_some_and(|end| end == "hbs") {
            in_template(&fs::read_to_string(path).unwrap(), &mut found);
        }
    }
    in_tables(&mut found);
    found
}

/// Texts of the program's tables, which are said by what composes from them.
fn in_tables(found: &mut BTreeSet<String>) {
    for slip in slips::all() {
        found.extend([slip.id.to_owned(), slip.prompt.to_owned()]);
    }
    found.extend(
        Verdict::ALL
            .iter()
            .map(|verdict| verdict.in_words().to_owned()),
    );
    found.extend(
        signs::BUILT_IN
            .iter()
            .map(|(_, question)| (*question).to_owned()),
    );
    found.extend(Element::all().map(|element| element.name().to_owned()));
    found.extend(hazard::all().map(|(_, statement)| statement.to_owned()));
    for cause in catalogue::all() {
        let texts = [cause.says, cause.test, cause.next_time];
        found.extend(texts.map(str::to_owned));
    }
    found.extend(vocabulary::all().map(str::to_owned));
    found.extend(foreign::all().map(str::to_owned));
    for ending in [Ending::ColourFades, Ending::Bubbles, Ending::Still] {
        found.extend([ending.look().to_owned(), ending.until().to_owned()]);
    }
}

fn in_code(path: &Path, found: &mut BTreeSet<String>) {
    let text = fs::read_to_string(path).unwrap();
    let text = text.split("#[cfg(test)]").next().unwrap();
    for start in STARTS {
        for (at, _) in text.match_indices(start) {
            let mut rest = text[at + start.len()..].trim_start();
            if start == "say!(" {
                // The words come first.
                let Some((_, behind)) = rest.split_once(',') else {
                    continue;
                };
                rest = behind.trim_start();
            }
            if let Some(literal) = rest.strip_prefix('"') {
                found.insert(unescaped(literal));
            }
        }
    }
}

/// The text of a literal that has been opened.
fn unescaped(literal: &str) -> String {
    let mut out = String::new();
    let mut characters = literal.chars().peekable();
    while let Some(c) = characters.next() {
        match c {
            '"' => break,
            '\\' => match characters.next() {
                Some('n') => out.push('\n'),
                Some('\n') => while characters.next_if(|c| c.is_whitespace()).is_some() {},
                Some('u') => {
                    let code: String = characters
                        .by_ref()
                        .skip(1)
                        .take_while(|c| *c != '}')
                        .collect();
                    out.push(
                        u32::from_str_radix(&code, 16)
                            .ok()
                            .and_then(char::from_u32)
                            .unwrap(),
                    );
                }
                Some(other) => out.push(other),
                None => break,
            },
            c => out.push(c),
        }
    }
    out
}

/// `{{say "…"}}` and `{{say '…'}}`.
fn in_template(text: &str, found: &mut BTreeSet<String>) {
    for (at, _) in text.match_indices("say ") {
        let before = &text[..at];
        if !(before.ends_with("{{") || before.ends_with("{{{") || before.ends_with('(')) {
            continue;
        }
        let rest = &text[at + 4..];
        let mark = rest.chars().next().unwrap();
        if mark == '"' || mark == '\'' {
            let text = rest[1..].split(mark).next().unwrap();
            found.insert(text.to_owned());
        }
    }
}

fn entries(text: &str) -> toml::Table {
    let file: toml::Table = text.parse().unwrap();
    file["say"].as_table().unwrap().clone()
}

#[test]
fn every_language_says_every_text_and_no_other() {
    let said = said();
    for (code, text) in LANGUAGES {
        let entries = entries(text);
        let there: BTreeSet<String> = entries.keys().cloned().collect();
        let missing: Vec<&String> = said.difference(&there).collect();
        let unused: Vec<&String> = there.difference(&said).collect();
        assert!(
            missing.is_empty(),
            "{code} lacks {}: {missing:#?}",
            missing.len()
        );
        assert!(
            unused.is_empty(),
            "nothing says {unused:#?}, which {code} has"
        );
        for (english, own) in &entries {
            let own = own.as_str().unwrap();
            assert!(!own.trim().is_empty(), "{code}: no text for {english:?}");
            assert_eq!(places(own), places(english), "{code}: {english:?}");
            if *code == "en" {
                assert_eq!(own, english);
            }
        }
    }
}

/// What stands in braces.
fn places(text: &str) -> BTreeSet<&str> {
    let parts = text.split('{').skip(1);
    parts
        .filter_map(|part| Some(part.split_once('}')?.0))
        .collect()
}

/// Adds to each strings file what it lacks, and takes out what nothing says; a text that is to be translated is left empty.
#[test]
#[ignore = "writes the files under src/words again"]
fn write_the_files_again() {
    let said = said();
    for (code, text) in LANGUAGES {
        let entries = entries(text);
        let (head, _) = text.split_once("[say]").unwrap();
        let mut out = format!("{head}[say]\n");
        for english in &said {
            let own = entries.get(english).and_then(toml::Value::as_str);
            let own = own.unwrap_or(if *code == "en" { english } else { "" });
            let one_line = |text: &str| {
                let escaped = text
                    .replace('\\', "\\\\")
                    .replace('"', "\\\"")
                    .replace('\n', "\\n");
                format!("\"{escaped}\"")
            };
            out.push_str(&format!("{} = {}\n", one_line(english), one_line(own)));
        }
        fs::write(format!("src/words/{code}.toml"), out).unwrap();
    }
}
