//! The parts of a run inside one process, on one core, each beside the bare work it cannot do without.

use std::collections::BTreeMap;
use std::fs;
use std::hint::black_box;
use std::time::Duration;

use gramleaf::answers::Judged;
use gramleaf::answers::Open;
use gramleaf::answers::judge;
use gramleaf::lab;
use gramleaf::lab::Lab;
use gramleaf::lab::builtin;
use gramleaf::problem::Problem;
use gramleaf::problem::Source;
use gramleaf::problem::any_error;
use gramleaf::record;
use gramleaf::record::Record;
use gramleaf::render::Markdown;
use gramleaf::render::Templates;
use gramleaf::report::Case;
use gramleaf::report::Report;
use gramleaf::report::compose;
use gramleaf::working;
use gramleaf::working::Graph;
use gramleaf::working::plan::plan;

use crate::bare;
use crate::class;
use crate::clock;

/// Data files, each with other readings, so that nothing is timed on one input alone.
const COUNT: usize = 100;

/// How often all of them are gone through.
const RUNS: usize = 31;

/// The lab with its steps and their ids.
struct Ready {
    lab: Lab,
    graph: Graph,
    steps: Vec<String>,
}

/// Times reading, working, composing, both conversions, and what is done once a run.
pub fn run() {
    println!("parts of a run, one core, {COUNT} reports (medians of {RUNS})");
    let sample = fs::read_to_string(class::SAMPLE).unwrap();
    let varied = |number| class::varied(&sample, number);
    let files: Vec<String> = (0..COUNT).map(varied).collect();
    let templates = once_a_run();
    let ready = Ready::new();

    let mut records: Vec<Record> = files.iter().map(|text| ready.record(text).0).collect();
    let read = timed("record::read and record::check", None, || {
        for text in &files {
            black_box(ready.record(text));
        }
    });
    let parse = timed("  bound: the same TOML by toml alone", Some(read), || {
        for text in &files {
            black_box(text.parse::<toml::Table>().unwrap());
        }
    });

    // Every reading of these files is possible, so working a record again finds it as it was.
    let work = timed("working::work", None, || {
        for record in &mut records {
            black_box(working::work(&ready.lab, &ready.graph, record));
        }
    });

    let (composed, reports) = composing(&ready, &mut records);

    let markdown: Vec<Markdown> = reports
        .iter()
        .map(|report| templates.markdown("report", report).unwrap())
        .collect();
    let write_markdown = timed("Templates::markdown", None, || {
        for report in &reports {
            black_box(templates.markdown("report", report).unwrap());
        }
    });

    let both = || markdown.iter().zip(&reports);
    let pages: Vec<String> = both()
        .map(|(text, report)| templates.page(text, report))
        .collect();
    let write_page = timed("Templates::page", None, || {
        for (text, report) in both() {
            black_box(templates.page(text, report));
        }
    });
    let texts = markdown.iter().zip(&pages);
    let texts = texts.map(|(text, page)| bare::written_out(&text.text, page));
    let texts: Vec<String> = texts.collect();
    let frame = bare::frame(&pages[0]);
    let convert = timed(
        "  bound: the same Markdown by libraries",
        Some(write_page),
        || {
            for text in &texts {
                black_box(bare::html(text, &frame));
            }
        },
    );

    let all = read + work + composed + write_markdown + write_page;
    clock::line("all of the above, before writing", all, COUNT, "");
    let writing = bare_writing(&markdown, &pages);
    let write = timed("  bound: the same bytes written", Some(all), writing);
    let bounds = parse + convert + write;
    let beside = format!("all, written, takes {}", clock::ratio(all + write, bounds));
    clock::line("  bounds: all three", bounds, COUNT, &beside);
}

/// What a run does once, however many files it is given; returns the templates.
fn once_a_run() -> Templates {
    let set_up = || Templates::new(&BTreeMap::new()).unwrap().0;
    let time = clock::median(RUNS, || drop(set_up()));
    clock::line("template set-up", time, 1, "once a run");
    let time = clock::median(RUNS, || drop(Ready::new()));
    clock::line("lab::check and plan", time, 1, "once a lab");
    set_up()
}

impl Ready {
    fn new() -> Self {
        let description = builtin::find("zinc-copper-sulfate").unwrap();
        let (lab, problems) = lab::check::check(&source(description));
        assert!(!any_error(&problems), "{problems:?}");
        let lab = lab.unwrap();
        let graph = plan(&lab).0;
        let steps = graph.steps().iter().map(|step| step.id.clone()).collect();
        Self { lab, graph, steps }
    }

    fn record(&self, text: &str) -> (Record, Vec<Problem>) {
        let written = record::read(source(text));
        record::check(&written, &self.lab, &self.steps)
    }
}

/// Times `compose`, and returns the reports.
fn composing(ready: &Ready, records: &mut [Record]) -> (Duration, Vec<Report>) {
    let (lab, graph) = (&ready.lab, &ready.graph);
    let worked: Vec<_> = records
        .iter_mut()
        .map(|one| working::work(lab, graph, one))
        .collect();
    let judged: Vec<Judged> = records
        .iter()
        .zip(&worked)
        .map(|(record, (worked, _))| judge(lab, graph, record, worked).0)
        .collect();
    timed("answers::judge", None, || {
        for (record, (worked, _)) in records.iter().zip(&worked) {
            black_box(judge(lab, graph, record, worked));
        }
    });
    let open: Vec<Open> = judged
        .iter()
        .map(|judged| Open::of(lab, graph, judged, true))
        .collect();
    let cases: Vec<Case<'_>> = records
        .iter()
        .zip(worked.iter().zip(judged.iter().zip(&open)))
        .map(|(record, ((worked, problems), (judged, open)))| Case {
            lab,
            graph,
            record,
            worked,
            judged,
            open,
            problems,
            lab_from: gramleaf::report::LabFrom::BuiltIn,
            digest: "0000000000000000000000000000000000000000000000000000000000000000",
        })
        .collect();
    let time = timed("report::compose", None, || {
        for case in &cases {
            black_box(compose(case));
        }
    });
    (time, cases.iter().map(compose).collect())
}

/// Times work on all files and prints it, beside the part that it bounds if it does.
fn timed(name: &str, bounded: Option<Duration>, work: impl FnMut()) -> Duration {
    let time = clock::median(RUNS, work);
    let beside = bounded.map_or_else(String::new, |part| {
        format!("above it takes {}", clock::ratio(part, time))
    });
    clock::line(name, time, COUNT, &beside);
    time
}

fn source(text: &str) -> Source {
    let (name, text) = ("a file".to_owned(), text.to_owned());
    Source { name, text }
}

/// Writes both documents of every report, each time to a folder that no run has written to before.
fn bare_writing(markdown: &[Markdown], pages: &[String]) -> impl FnMut() {
    let scratch = class::scratch();
    let mut run = 0;
    move || {
        run += 1;
        let folder = scratch.path().join(run.to_string());
        fs::create_dir(&folder).unwrap();
        for (number, (text, page)) in markdown.iter().zip(pages).enumerate() {
            fs::write(folder.join(format!("{number}.md")), &text.text).unwrap();
            fs::write(folder.join(format!("{number}.html")), page).unwrap();
        }
    }
}
