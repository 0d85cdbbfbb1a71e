//! What every printed document has besides its fields: a title for its page, charts, and worked chains.

use std::collections::BTreeMap;

use serde::Serialize;

use crate::report::Report;
use crate::report::class::ClassPage;
use crate::report::class::TeacherPage;
use crate::report::model::Chart;
use crate::say;
use crate::words::Words;
use crate::working::math::Chain;

/// Something that templates print.
pub trait Document: Serialize {
    /// The title of its page.
    fn title(&self) -> String;

    /// The wording of the language it is written in.
    fn words(&self) -> &Words;

    /// Charts that its templates may print, to be drawn.
    fn charts(&self) -> Vec<&Chart>;

    /// Worked chains by step id, to be set as formulas.
    fn chains(&self) -> Option<&BTreeMap<String, Vec<Chain>>> {
        None
    }

    /// Whether it is written on by hand: boxes and lines of its text are drawn then.
    fn on_paper(&self) -> bool {
        false
    }
}

impl Document for Report {
    fn title(&self) -> String {
        if self.group.is_empty() {
            self.title.clone()
        } else {
            say!(
                self.words,
                "{title}, group {group}",
                title = self.title,
                group = self.group
            )
        }
    }

    fn words(&self) -> &Words {
        &self.words
    }

    fn charts(&self) -> Vec<&Chart> {
        self.all_charts().collect()
    }

    fn chains(&self) -> Option<&BTreeMap<String, Vec<Chain>>> {
        Some(&self.chains)
    }
}

impl Document for ClassPage {
    fn title(&self) -> String {
        if self.scope.is_empty() {
            say!(self.words, "{title}, the class", title = self.title)
        } else {
            format!("{}, {}", self.title, self.scope)
        }
    }

    fn words(&self) -> &Words {
        &self.words
    }

    fn charts(&self) -> Vec<&Chart> {
        self.all_charts().collect()
    }
}

impl Document for TeacherPage {
    fn title(&self) -> String {
        say!(self.words, "{title}, for the teacher", title = self.title)
    }

    fn words(&self) -> &Words {
        &self.words
    }

    fn charts(&self) -> Vec<&Chart> {
        Vec::new()
    }
}
