//! The group's own file, where a student who hands in separately points at it: read, and why it may be no use.

use std::path::Path;
use std::path::PathBuf;

use crate::command::files;
use crate::command::labs_in_use::LabsInUse;
use crate::command::labs_in_use::Ready;
use crate::problem::Code;
use crate::problem::Problem;
use crate::problem::Source;
use crate::problem::Span;
use crate::record;
use crate::record::Content;
use crate::record::Record;
use crate::record::Recorded;
use crate::say;
use crate::words::Words;

/// A group's file that can be used.
pub(super) struct GroupFile {
    /// Its text.
    pub source: Source,
    /// What is wrong or odd in it.
    pub problems: Vec<Problem>,
    /// Its record.
    pub record: Record,
}

/// Why a group's file cannot be used.
pub(super) enum Unfit {
    NotThere,
    NoText,
    LabDescription,
    /// It takes its readings from another file itself.
    PointsOn(String),
    /// It belongs to another lab, by the name it gives.
    OtherLab(String),
}

/// Where the group's file is, by its name in a student's: written as it is found in a folder, whether `./` was typed or not.
pub(super) fn path(student: &Path, group_file: &str) -> PathBuf {
    let folder = student.parent().unwrap_or(Path::new(""));
    folder.join(
        Path::new(group_file)
            .strip_prefix(".")
            .unwrap_or(Path::new(group_file)),
    )
}

/// Reads the group's file beside a student's, by the lab of the student's.
///
/// # Errors
/// When it cannot be used: why.
pub(super) fn read(
    student: &Path,
    group_file: &str,
    ready: &Ready,
    labs: Option<&LabsInUse>,
) -> Result<GroupFile, Unfit> {
    let path = path(student, group_file);
    let bytes = files::read(&path).map_err(|_| Unfit::NotThere)?;
    let (lab, _) = ready.lab.as_ref().ok_or(Unfit::NotThere)?;
    let name = path.display().to_string();
    let (source, mut problems) = Source::decode_in(name, &bytes, &ready.words);
    if source.text.is_empty() && !problems.is_empty() {
        return Err(Unfit::NoText);
    }
    let written = record::read_in(source, &ready.words);
    if written.is_lab {
        return Err(Unfit::LabDescription);
    }
    if let Some((other, _)) = written.who.readings_of {
        return Err(Unfit::PointsOn(other));
    }
    let named = &written.who.lab;
    let other = labs.filter(|_| !named.is_empty()).is_some_and(|labs| {
        let its = labs.named(named, &path);
        let its = its.as_deref().and_then(|its| its.lab.as_ref());
        its.is_some_and(|(its, _)| its.id != lab.id)
    });
    if other {
        return Err(Unfit::OtherLab(written.who.lab));
    }
    let (record, found) = record::check(&written, lab, &ready.steps);
    problems.extend(found);
    Ok(GroupFile {
        source: written.source,
        problems,
        record,
    })
}

/// The problem of a student's file whose group's file cannot be used.
pub(super) fn unfit(words: &Words, file: &str, span: &Span, why: &Unfit) -> Problem {
    let its_name =
        || words.say("write its name as it stands in the same folder, such as \"3-07.toml\"");
    let (label, help) = match why {
        Unfit::NotThere => (words.say("not found").to_owned(), its_name().to_owned()),
        Unfit::NoText => (
            words.say("it is no plain text").to_owned(),
            its_name().to_owned(),
        ),
        Unfit::LabDescription => (
            words
                .say("this is the teacher's lab description")
                .to_owned(),
            its_name().to_owned(),
        ),
        Unfit::PointsOn(other) if other == file => (
            words
                .say("it takes its readings from another file itself")
                .to_owned(),
            words
                .say("name the file that the readings were typed into, or take this line away")
                .to_owned(),
        ),
        Unfit::PointsOn(other) => (
            words
                .say("it takes its readings from another file itself")
                .to_owned(),
            say!(
                words,
                "name the file that the readings were typed into: readings_of = \"{file}\"",
                file = other
            ),
        ),
        Unfit::OtherLab(lab) => (
            say!(words, "it belongs to the lab `{lab}`", lab = lab),
            words
                .say("name the file that your group made for this lab")
                .to_owned(),
        ),
    };
    let message = say!(words, "the group's file {file} cannot be used", file = file);
    Problem::error(Code::ReadingsOf, message)
        .at(span.clone(), label)
        .help(help)
}

/// What a student typed beside `readings_of` that is not used, because the group's file has something else.
pub(super) fn unused(words: &Words, file: &str, own: &Record, group: &Record) -> Vec<Problem> {
    let mut problems = Vec::new();
    let mut places = Vec::new();
    let mut compare = |own: &[Recorded], group: Option<&[Recorded]>| {
        for (index, recorded) in own.iter().enumerate() {
            let typed = |recorded: &Recorded| -> Vec<String> {
                let entries = recorded.entries.iter();
                entries.map(|entry| entry.typed.clone()).collect()
            };
            if group.is_none_or(|group| typed(&group[index]) != typed(recorded)) {
                let filled = recorded.entries.iter();
                let filled = filled.filter(|entry| !is_unknown(&entry.content));
                places.extend(filled.map(|entry| entry.span.clone()));
            }
        }
    };
    compare(&own.readings, Some(&group.readings));
    for trial in &own.trials {
        let named = |(index, recorded): (usize, &Recorded)| {
            if trial.common[index] {
                Recorded::default()
            } else {
                recorded.clone()
            }
        };
        let readings: Vec<Recorded> = trial.readings.iter().enumerate().map(named).collect();
        let same = |other: &&record::Trial| other.number == trial.number;
        let group = group.trials.iter().find(same);
        compare(&readings, group.map(|trial| &trial.readings[..]));
    }
    if let Some((first, others)) = places.split_first() {
        let message = say!(
            words,
            "a reading typed here is not used: this file takes its readings from {file}",
            file = file
        );
        let label = words.say("not used");
        let problem = Problem::warning(Code::ReadingsOf, message).at(first.clone(), label);
        let others = others.iter().cloned();
        problems.push(
            others
                .fold(problem, |problem, place| problem.at(place, label))
                .help(say!(
                    words,
                    "put a wrong number right in {file}; for readings of your own take the line readings_of away",
                    file = file
                )),
        );
    }
    let mut seen = own.days.iter().zip(&group.days);
    let mut signs = own.signs.iter().zip(&group.signs);
    let lost = seen.any(|(own, group)| own.seen.is_some() && own.seen != group.seen)
        || signs.any(|(own, group)| own.1.is_some() && own != group)
        || own.extra.iter().any(|line| !group.extra.contains(line));
    if lost {
        let message = say!(
            words,
            "observations, signs or unplanned readings typed here are not used: those of {file} count",
            file = file
        );
        let help = say!(
            words,
            "type them into {file}, for the whole group",
            file = file
        );
        problems.push(Problem::warning(Code::ReadingsOf, message).help(help));
    }
    problems
}

/// Whether a box says no more than that nothing is known.
fn is_unknown(content: &Content) -> bool {
    matches!(content, Content::Missing(_))
}
