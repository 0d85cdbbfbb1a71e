//! The main job on texts: a lab description and a data file in, everything worked out.

use gramleaf::lab;
use gramleaf::lab::Lab;
use gramleaf::problem::Problem;
use gramleaf::problem::Severity;
use gramleaf::problem::Source;
use gramleaf::record;
use gramleaf::record::Record;
use gramleaf::working;
use gramleaf::working::Graph;
use gramleaf::working::Worked;
use gramleaf::working::plan::plan;

/// Works a data file by a lab description, and lets `look` at what came of it. Neither text may hold an error.
pub(crate) fn worked<T>(
    lab_text: &str,
    data_text: &str,
    look: impl FnOnce(&Lab, &Graph, &Record, &Worked<'_>) -> T,
) -> T {
    Described::read(lab_text).work(data_text, look)
}

/// A lab description read, for any number of data files.
pub(crate) struct Described {
    lab: Lab,
    graph: Graph,
}

impl Described {
    /// Reads a lab description without an error.
    pub(crate) fn read(lab_text: &str) -> Self {
        let (lab, mut problems) = lab::check::check(&named("lab.toml", lab_text));
        let lab = lab.unwrap_or_else(|| panic!("{problems:#?}\n{lab_text}"));
        let (graph, found) = plan(&lab);
        problems.extend(found);
        no_error(&problems, lab_text);
        Self { lab, graph }
    }

    /// Works a data file without an error.
    pub(crate) fn work<T>(
        &self,
        data_text: &str,
        look: impl FnOnce(&Lab, &Graph, &Record, &Worked<'_>) -> T,
    ) -> T {
        let (lab, graph) = (&self.lab, &self.graph);
        let written = record::read(named("data.toml", data_text));
        let steps: Vec<String> = graph.steps().iter().map(|step| step.id.clone()).collect();
        let (mut record, mut problems) = record::check(&written, lab, &steps);
        problems.extend(written.problems);
        let (worked, odd) = working::work(lab, graph, &mut record);
        problems.extend(odd);
        no_error(&problems, data_text);
        look(lab, graph, &record, &worked)
    }
}

fn named(name: &str, text: &str) -> Source {
    Source {
        name: name.to_owned(),
        text: text.to_owned(),
    }
}

fn no_error(problems: &[Problem], text: &str) {
    let errors: Vec<&Problem> = problems
        .iter()
        .filter(|problem| problem.severity == Severity::Error)
        .collect();
    assert!(errors.is_empty(), "{errors:#?}\n{text}");
}
