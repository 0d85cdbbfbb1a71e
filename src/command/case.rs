//! A data file read, matched with its lab, and worked.

use std::borrow::Cow;
use std::path::Path;
use std::path::PathBuf;
use std::sync::Arc;

use sha2::Digest;
use sha2::Sha256;

use crate::answers;
use crate::answers::Open;
use crate::command::Stop;
use crate::command::files;
use crate::command::group_file;
use crate::command::labs_in_use::LabsInUse;
use crate::command::labs_in_use::Ready;
use crate::command::labs_in_use::value_of;
use crate::lab::builtin;
use crate::problem::Code;
use crate::problem::Problem;
use crate::problem::Source;
use crate::problem::suggest;
use crate::record;
use crate::record::Record;
use crate::report::Case;
use crate::report::LabFrom;
use crate::say;
use crate::words::Words;
use crate::working;

/// A data file as far as it could be read.
#[derive(Debug)]
pub(super) struct Read {
    /// Its text.
    pub source: Source,
    /// What is wrong or odd in it; plausibility of results is added when it is worked.
    pub problems: Vec<Problem>,
    /// The language of its lab, in which the problems are told; English where there is none.
    pub words: Words,
    /// The lab and the record; `None` when there is no lab to read it by.
    pub matched: Option<(Arc<Ready>, Record)>,
    /// SHA-256 of the file, hexadecimal.
    pub digest: String,
    /// The data file behind a worksheet with answers written into it: its text and what is wrong with it.
    pub beside: Option<(Source, Vec<Problem>)>,
    /// The group's file that the readings come from: its text and what is wrong with it.
    pub group_file: Option<(Source, Vec<Problem>)>,
}

impl Read {
    /// Works the record and judges its answers; `None` when there is no lab to work it by. What is odd in the results
    /// and in the answers is added to the problems.
    pub(super) fn with_case<T>(
        &mut self,
        key: bool,
        then: impl FnOnce(&Case<'_>) -> T,
    ) -> Option<T> {
        let (ready, record) = self.matched.as_mut()?;
        let (lab, graph) = ready.lab.as_ref()?;
        let (worked, odd) = working::work(lab, graph, record);
        // What is odd is told with the file that holds the readings.
        match self.group_file.as_mut().or(self.beside.as_mut()) {
            Some((_, problems)) => problems.extend(odd),
            None => self.problems.extend(odd),
        }
        let (judged, unread) = answers::judge(lab, graph, record, &worked);
        self.problems.extend(unread);
        let problems: Cow<'_, [Problem]> = match &self.group_file {
            Some((_, of_group)) => Cow::Owned(together(&self.problems, of_group)),
            None => Cow::Borrowed(&self.problems),
        };
        let open = Open::of(lab, graph, &judged, key);
        Some(then(&Case {
            lab,
            graph,
            record,
            worked: &worked,
            judged: &judged,
            open: &open,
            problems: &problems,
            lab_from: ready
                .file
                .as_deref()
                .map_or(LabFrom::BuiltIn, LabFrom::File),
            digest: &self.digest,
        }))
    }

    /// What is wrong with other files that this one is read with: the data file behind a worksheet, the group's file.
    pub(super) fn elsewhere(&mut self) -> Vec<(Source, Vec<Problem>)> {
        let beside = self.beside.take();
        beside.into_iter().chain(self.group_file.take()).collect()
    }

    /// The lab description, when it has errors of its own.
    pub(super) fn broken_lab(&self) -> Option<&Ready> {
        let (ready, _) = self.matched.as_ref()?;
        ready.lab.is_none().then_some(&**ready)
    }
}

/// Reads a worksheet report: the answers written into its table, on the readings of the data file beside it.
///
/// # Errors
/// When there is no such data file, or no table of steps in the worksheet.
pub(super) fn read_worksheet(
    path: &Path,
    lab: Option<&Path>,
    labs: &LabsInUse,
) -> Result<Option<Read>, Stop> {
    let bytes = files::read(path)?;
    let Some(data) = data_of(path) else {
        let wanted = path.with_extension("toml");
        return Err(Stop::new(
            format!("there is no data file for {}", path.display()),
            format!("put it beside its readings, {}", wanted.display()),
        ));
    };
    let Some(mut read) = read(&data, lab, labs)? else {
        return Ok(None);
    };
    let Some((ready, record)) = &mut read.matched else {
        return Ok(Some(read));
    };
    let name = path.display().to_string();
    let (worksheet, mut problems) = Source::decode_in(name, &bytes, &read.words);
    // The program itself lays its tables out with spaces that do not break.
    problems.retain(|problem| problem.code != Code::OddSpace);
    let Some((answers, found)) =
        record::worksheet::read(&worksheet.text, &ready.steps, &read.words)
    else {
        return Err(Stop::new(
            format!("{} holds no table of steps with answers", path.display()),
            "draft it with --template worksheet, and write the answers into its last table",
        ));
    };
    problems.extend(found);
    record.answers = answers;
    let of_data = std::mem::replace(&mut read.problems, problems);
    let source = std::mem::replace(&mut read.source, worksheet);
    read.beside = Some((source, of_data));
    Ok(Some(read))
}

/// The data file beside a worksheet report.
pub(super) fn data_of(report: &Path) -> Option<PathBuf> {
    let data = ["toml", "toml.txt"].map(|ending| report.with_extension(ending));
    data.into_iter().find(|data| files::exists(data))
}

/// Whether a path is that of a worksheet report rather than a data file.
pub(super) fn is_report(path: &Path) -> bool {
    path.extension()
        .is_some_and(|ending| ending.eq_ignore_ascii_case("md"))
}

/// Reads one data file. A lab description among data files is `None`: it is no group's file.
///
/// # Errors
/// When the file cannot be read at all.
pub(super) fn read(
    path: &Path,
    lab: Option<&Path>,
    labs: &LabsInUse,
) -> Result<Option<Read>, Stop> {
    let bytes = files::read(path)?;
    let digest = Sha256::digest(&bytes)
        .iter()
        .map(|byte| format!("{byte:02x}"))
        .collect();
    let name = if path.as_os_str() == "-" {
        "standard input".to_owned()
    } else {
        path.display().to_string()
    };
    let (source, words, named, mut problems) = decoded(name, &bytes, (path, lab), labs);
    if !problems.is_empty() && source.text.is_empty() {
        return Ok(Some(Read {
            source,
            problems,
            words,
            matched: None,
            digest,
            beside: None,
            group_file: None,
        }));
    }
    let written = record::read_in(source, &words);
    if written.is_lab {
        return Ok(None);
    }
    let ready = match named {
        Some((name, ready)) if lab.is_some() || name == written.who.lab => ready,
        _ if written.who.lab.is_empty() => None,
        _ => labs.named(&written.who.lab, path),
    };
    let source = written.source.clone();
    let Some(ready) = ready else {
        problems.extend(written.problems.iter().cloned());
        problems.push(no_lab(&written, &words));
        return Ok(Some(Read {
            source,
            problems,
            words,
            matched: None,
            digest,
            beside: None,
            group_file: None,
        }));
    };
    let Some((description, _)) = &ready.lab else {
        problems.extend(written.problems.iter().cloned());
        problems.push(broken(&ready, &written));
        return Ok(Some(Read {
            source,
            problems,
            words,
            matched: Some((Arc::clone(&ready), empty_record(&written))),
            digest,
            beside: None,
            group_file: None,
        }));
    };
    let (mut record, found) = record::check(&written, description, &ready.steps);
    problems.extend(found);
    let mut group_file = None;
    if let Some((file, span)) = &written.who.readings_of {
        match group_file::read(path, file, &ready, Some(labs).filter(|_| lab.is_none())) {
            Ok(group) => {
                problems.extend(group_file::unused(&words, file, &record, &group.record));
                record.take_readings(group.record);
                group_file = Some((group.source, group.problems));
            }
            Err(why) => problems.push(group_file::unfit(&words, file, span, &why)),
        }
    }
    Ok(Some(Read {
        source,
        problems,
        words,
        matched: Some((ready, record)),
        digest,
        beside: None,
        group_file,
    }))
}

/// The problems of a student's file with those of the group's. Places in the student's own mean nothing among the group's
/// readings, and are left out where they are no answer's.
fn together(own: &[Problem], of_group: &[Problem]) -> Vec<Problem> {
    let own = own.iter().cloned().map(|mut problem| {
        if !matches!(problem.code, Code::Answer | Code::AnswerUnit) {
            problem.labels.clear();
        }
        problem
    });
    own.chain(of_group.iter().cloned()).collect()
}

/// A lab as a file names it before anything else is read: the name, and the description if there is one.
type Named = (String, Option<Arc<Ready>>);

/// A data file's text, the language of its lab, the lab as the text names it, and what is wrong with its bytes. What is
/// wrong is told in that language, so the lab has to be known first, best effort: English where it is not found.
fn decoded(
    name: String,
    bytes: &[u8],
    (path, lab): (&Path, Option<&Path>),
    labs: &LabsInUse,
) -> (Source, Words, Option<Named>, Vec<Problem>) {
    let (source, problems) = Source::decode(name, bytes);
    let named: Option<Named> = match lab {
        Some(lab) => Some((String::new(), labs.read_file(lab))),
        None => value_of(&source.text, "lab")
            .filter(|name| !name.is_empty())
            .map(|name| (name.to_owned(), labs.named(name, path))),
    };
    let words = match &named {
        Some((_, Some(ready))) => ready.words.clone(),
        // A misspelt name is told in the language of the lab that may be meant.
        Some((name, None)) => near(name)
            .and_then(|id| labs.built_in(id))
            .map_or_else(Words::english, |ready| ready.words.clone()),
        None => Words::english(),
    };
    if problems.is_empty() {
        return (source, words, named, problems);
    }
    let (source, problems) = Source::decode_in(source.name, bytes, &words);
    (source, words, named, problems)
}

/// A record with nothing but who made it, for a file whose lab is broken.
fn empty_record(written: &record::Written) -> Record {
    Record {
        who: written.who.clone(),
        days: Vec::new(),
        readings: Vec::new(),
        trials: Vec::new(),
        extra: Vec::new(),
        signs: Vec::new(),
        sign_remarks: Vec::new(),
        answers: Vec::new(),
        causes: Vec::new(),
        words: Vec::new(),
    }
}

/// The problem of a data file whose lab is nowhere.
fn no_lab(written: &record::Written, words: &Words) -> Problem {
    let lab = &written.who.lab;
    if lab.is_empty() {
        let message = words.say("the file does not say which lab it belongs to");
        return Problem::error(Code::LabNotFound, message)
            .at(written.who.lab_span.clone(), words.say("no lab"))
            .help(words.say("under [who], add a line such as: lab = \"zinc-copper-sulfate\""));
    }
    let help = near(lab).map_or_else(
        || say!(words, "put the teacher's lab.toml into this folder, or name a built-in lab (`gramleaf labs` lists them)"),
        |near| say!(words, "did you mean `{name}`?", name = near),
    );
    let message = say!(words, "there is no lab called `{lab}` here", lab = lab);
    Problem::error(Code::LabNotFound, message)
        .at(written.who.lab_span.clone(), words.say("not found"))
        .help(help)
}

/// The built-in lab that a name may mean.
fn near(name: &str) -> Option<&'static str> {
    suggest::closest(name, builtin::BUILT_IN.iter().map(|(id, _)| *id))
}

/// The problem of a data file whose lab has errors.
fn broken(ready: &Ready, written: &record::Written) -> Problem {
    let words = &ready.words;
    let message = say!(
        words,
        "the lab description {file} has errors of its own",
        file = ready.source.name
    );
    Problem::error(Code::LabNotFound, message)
        .at(written.who.lab_span.clone(), words.say("this lab"))
        .help(
            words.say("the teacher's file must be put right first; its errors are listed with it"),
        )
}
