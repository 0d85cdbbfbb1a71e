//! The first reading of a class: which files are groups, under which code, and what each contributes.

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::Arc;

use crate::class::Entry;
use crate::class::code;
use crate::class::pool::Kept;
use crate::cli;
use crate::command::Stop;
use crate::command::case;
use crate::command::files;
use crate::command::files::Found;
use crate::command::group_file;
use crate::command::labs_in_use::LabsInUse;
use crate::command::labs_in_use::Ready;
use crate::command::pool;
use crate::command::share::names::Names;
use crate::command::share::students;
use crate::command::share::students::Student;
use crate::command::terminal;
use crate::problem::Code;
use crate::problem::Problem;
use crate::problem::Severity;
use crate::problem::Source;
use crate::record;
use crate::report::Case;
use crate::report::class::Judged;
use crate::report::class::likely;
use crate::words::Words;

/// A group whose file can be used.
#[derive(Debug)]
pub(super) struct Group {
    /// Its file.
    pub path: PathBuf,
    /// What it contributes; its code may still become an alias.
    pub entry: Entry,
    /// What its teacher sees; kept only where a teacher's page is made.
    pub judged: Option<Judged>,
}

/// The groups of one lab.
#[derive(Debug)]
pub(super) struct Class {
    /// The lab.
    pub ready: Arc<Ready>,
    /// What is pooled of it.
    pub kept: Kept,
    /// Its groups, in an order that tells nothing.
    pub groups: Vec<Group>,
    /// Students who hand in apart, for the teacher alone: nothing that is pooled or shared is worked from them.
    pub students: Vec<Student>,
}

/// Everything read.
#[derive(Debug)]
pub(super) struct Gathered {
    /// By lab id.
    pub classes: BTreeMap<String, Class>,
    /// Every name of every file.
    pub names: Names,
    /// Files that could not be used.
    pub unread: usize,
    /// Files of students who hand in apart that could not be used. No shared page says that there are any.
    pub students_unread: usize,
}

/// What came of one file.
enum Outcome {
    Group {
        ready: Arc<Ready>,
        group: Box<Group>,
        names: Vec<String>,
    },
    /// A student's own file, where a teacher's page is made: its lab and the names in it.
    Student(String, Box<Student>, Vec<String>),
    /// A student's own file with faults. Only one that belongs to no lab is told where no teacher's page is made.
    UnusableStudent(Source, Vec<Problem>, Words, Vec<String>),
    /// A lab description, or a student's own file where no teacher's page is made.
    NoGroup(Vec<String>),
    /// A file with faults, the language they are told in, and the names that could be read in it all the same.
    Unusable(Source, Vec<Problem>, Words, Vec<String>),
    /// A file that is left out, and its names.
    Stopped(Stop, Vec<String>),
}

/// Faults that lie beside one reading or answer; the rest of the file can be used.
const BESIDE_A_READING: [Code; 14] = [
    Code::DoubledKey,
    Code::UnknownReading,
    Code::WrongDay,
    Code::LighterThanEmpty,
    Code::NegativeVolume,
    Code::ImpossibleResult,
    Code::Reading,
    Code::WrongUnit,
    Code::Answer,
    Code::AnswerUnit,
    Code::UnknownStep,
    Code::UnknownSign,
    Code::UnknownWord,
    Code::DatesOutOfOrder,
];

/// Reads every file; says what is wrong with those that cannot be used.
///
/// # Errors
/// When two groups have one code: nothing may be written then.
pub(super) fn all(
    found: &[Found],
    arguments: &cli::Share,
    labs: &LabsInUse,
) -> Result<Gathered, Stop> {
    let outcomes = pool::all(found.len(), |place| one(&found[place], arguments, labs));
    let mut gathered = Gathered {
        classes: BTreeMap::new(),
        names: Names::default(),
        unread: 0,
        students_unread: 0,
    };
    let mut students = Vec::new();
    for outcome in outcomes {
        match outcome {
            Outcome::Group {
                ready,
                group,
                names,
            } => {
                gathered.names.add(&names);
                let Some((lab, graph)) = &ready.lab else {
                    continue;
                };
                gathered
                    .classes
                    .entry(lab.id.clone())
                    .or_insert_with(|| Class {
                        kept: Kept::of(lab, graph),
                        ready: Arc::clone(&ready),
                        groups: Vec::new(),
                        students: Vec::new(),
                    })
                    .groups
                    .push(*group);
            }
            Outcome::NoGroup(names) => gathered.names.add(&names),
            Outcome::Student(lab, student, names) => {
                gathered.names.add(&names);
                students.push((lab, *student));
            }
            Outcome::UnusableStudent(source, problems, words, names) => {
                gathered.names.add(&names);
                gathered.students_unread += 1;
                terminal::problems(&source, &problems, &words);
            }
            Outcome::Unusable(source, problems, words, names) => {
                // The others may write of somebody whose own file is broken.
                gathered.names.add(&names);
                gathered.unread += 1;
                terminal::problems(&source, &problems, &words);
            }
            Outcome::Stopped(stop, names) => {
                gathered.names.add(&names);
                gathered.unread += 1;
                terminal::stopped(&stop.message, &stop.help);
            }
        }
    }
    leave_out_names(&mut gathered);
    students::beside_their_groups(students, &mut gathered);
    for (id, class) in &mut gathered.classes {
        class
            .groups
            .sort_by_cached_key(|group| code::order(id, &group.entry.code));
        let mut seen: BTreeMap<String, &PathBuf> = BTreeMap::new();
        for group in &class.groups {
            // Some file systems do not tell capitals from small letters.
            if let Some(first) = seen.insert(group.entry.code.to_lowercase(), &group.path) {
                let (a, b) = (first.min(&group.path), first.max(&group.path));
                return Err(Stop::new(
                    format!(
                        "{} and {} have one group code, {}",
                        a.display(),
                        b.display(),
                        group.entry.code
                    ),
                    "nothing was written; give each group a code of its own",
                ));
            }
        }
    }
    Ok(gathered)
}

fn one(found: &Found, arguments: &cli::Share, labs: &LabsInUse) -> Outcome {
    let mut read = match case::read(&found.path, arguments.lab.as_deref(), labs) {
        Ok(Some(read)) => read,
        Ok(None) => return Outcome::NoGroup(Vec::new()),
        Err(stop) => return Outcome::Stopped(stop, Vec::new()),
    };
    if let Some(lab) = read.broken_lab() {
        let names = names_in(&read.source);
        return Outcome::Unusable(
            lab.source.clone(),
            lab.problems.clone(),
            Words::english(),
            names,
        );
    }
    let Some((ready, record)) = &read.matched else {
        let who = record::read(read.source.clone()).who;
        let (source, problems, words) = (read.source, read.problems, read.words);
        return if who.readings_of.is_some() {
            Outcome::UnusableStudent(source, problems, words, who.names)
        } else {
            Outcome::Unusable(source, problems, words, who.names)
        };
    };
    let ready = Arc::clone(ready);
    let who = record.who.clone();
    let broken = |problem: &Problem| {
        problem.severity == Severity::Error && !BESIDE_A_READING.contains(&problem.code)
    };
    let is_broken = read.problems.iter().any(broken);
    if let Some((group_file, _)) = &who.readings_of {
        if arguments.teacher.is_none() {
            return Outcome::NoGroup(who.names);
        }
        let group_file = group_file::path(&found.path, group_file);
        let judged = read.with_case(true, |case| judged(found, case));
        return match (judged, ready.lab.as_ref()) {
            (Some(judged), Some((lab, _))) if !is_broken => Outcome::Student(
                lab.id.clone(),
                Box::new(Student {
                    path: found.path.clone(),
                    group_file,
                    judged: judged.apart(),
                }),
                who.names,
            ),
            _ => Outcome::UnusableStudent(read.source, read.problems, read.words, who.names),
        };
    }
    if is_broken {
        return Outcome::Unusable(read.source, read.problems, read.words, who.names);
    }
    if let Err(unfit) = code::fit(&who.group, &who.names) {
        let stop = label_unfit(&read.source, "group", &who.group, unfit.in_words());
        return Outcome::Stopped(stop, who.names);
    }
    // Sections are told from groups by having no digit of their own in many schools: only what could name somebody is refused.
    let section_fits = who.section.is_empty()
        || match code::fit(&who.section, &who.names) {
            Ok(()) | Err(code::Unfit::NoDigit) => true,
            Err(_) => false,
        };
    if !section_fits {
        let stop = label_unfit(
            &read.source,
            "section",
            &who.section,
            "cannot stand on a shared page",
        );
        return Outcome::Stopped(stop, who.names);
    }
    let made = read.with_case(true, |case| {
        let kept = Kept::of(case.lab, case.graph);
        let codes = (who.group.clone(), who.section.clone());
        let mut entry = Entry::of(codes, case.lab, case.graph, case.record, case.worked, &kept);
        entry.causes = likely(case, &kept);
        let judged = arguments.teacher.as_ref().map(|_| judged(found, case));
        (entry, judged)
    });
    let Some((entry, judged)) = made else {
        return Outcome::Unusable(read.source, read.problems, read.words, who.names);
    };
    Outcome::Group {
        ready,
        group: Box::new(Group {
            path: found.path.clone(),
            entry,
            judged,
        }),
        names: who.names,
    }
}

/// What the teacher sees of a file.
fn judged(found: &Found, case: &Case<'_>) -> Judged {
    let name = found.path.file_name();
    Judged::of(
        name.map_or_else(String::new, |name| name.to_string_lossy().into_owned()),
        (case.lab, case.graph),
        case.record,
        case.worked,
        case.judged,
    )
}

/// The names in a file that cannot be used, as far as it can be read.
fn names_in(source: &Source) -> Vec<String> {
    record::read(source.clone()).who.names
}

/// Takes out groups whose code or section holds a name that stands in another group's file.
fn leave_out_names(gathered: &mut Gathered) {
    let (names, unread) = (&gathered.names, &mut gathered.unread);
    for class in gathered.classes.values_mut() {
        class.groups.retain(|group| {
            let labels = [
                ("group", &group.entry.code),
                ("section", &group.entry.section),
            ];
            let Some((key, label)) = labels.into_iter().find(|(_, label)| names.are_in(label))
            else {
                return true;
            };
            let name = group.path.display().to_string();
            let bytes = files::read(&group.path).unwrap_or_default();
            let (source, _) = Source::decode(name, &bytes);
            let stop = label_unfit(&source, key, label, "holds a name from another file");
            *unread += 1;
            terminal::stopped(&stop.message, &stop.help);
            false
        });
    }
    gathered.classes.retain(|_, class| !class.groups.is_empty());
}

/// A label that cannot stand on a shared page, with its file and line.
fn label_unfit(source: &Source, key: &str, label: &str, why: &str) -> Stop {
    let mut lines = source.text.lines().enumerate();
    let line = lines
        .find(|(_, line)| line.trim_start().starts_with(key))
        .map_or(1, |(number, _)| number + 1);
    let label: String = label.chars().take(40).collect();
    Stop::new(
        format!("{}:{line}: the {key}'s label “{label}” {why}", source.name),
        "the file is left out; write a short code with a digit, such as 3-07",
    )
}
