//! Two lines of one name in a form with slips.

use crate::problem::Code;
use crate::problem::Problem;
use crate::problem::mend::Line;
use crate::problem::mend::Walk;
use crate::problem::mend::text::is_quote;
use crate::say;

impl Walk<'_> {
    /// Two lines of one name: the filled one counts; when both are filled, neither does.
    pub(super) fn doubled(&mut self, name: &str, line: Line) {
        let key = (self.section.clone(), name.to_owned());
        let Some(first) = self.names.get(&key).cloned() else {
            self.names.insert(key, line);
            return;
        };
        let text = |line: &Line| self.text[line.value.clone()].trim();
        let blank = |line: &Line| {
            text(line)
                .chars()
                .all(|c| is_quote(c) || c.is_whitespace() || matches!(c, '[' | ']' | ','))
        };
        // Two texts are no contradiction, and nobody's words are lost.
        let prose = |line: &Line| {
            let inner = text(line).strip_prefix("'''")?.strip_suffix("'''")?;
            Some(inner).filter(|inner| !inner.trim().is_empty())
        };
        let joined = prose(&first)
            .and(prose(&line))
            .filter(|_| text(&first) != text(&line));
        if let Some(second) = joined {
            let end = first.value.end - "'''".len();
            self.edits.insert(
                end,
                &format!("\n{}", second.trim_start_matches(['\r', '\n'])),
            );
        }
        let (drop_first, drop_second) = match (blank(&first), blank(&line)) {
            _ if joined.is_some() => (false, true),
            (_, true) => (false, true),
            (true, false) => (true, false),
            // Which of two different values is meant, nobody can tell; the heading of the file must stay readable.
            (false, false) => (text(&first) != text(&line) && self.section != "who", true),
        };
        let help = if drop_first && drop_second {
            say!(self.words, "neither is used; take the wrong one away")
        } else if joined.is_some() {
            say!(
                self.words,
                "both texts are read, one after the other; put them into one"
            )
        } else {
            say!(self.words, "take one of them away")
        };
        let message = say!(self.words, "you have two lines called {name}", name = name);
        self.problems.push(
            Problem::error(Code::DoubledKey, message)
                .at(line.name.clone(), self.words.say("the second one"))
                .at(first.name.clone(), self.words.say("the first one"))
                .help(help),
        );
        if drop_first {
            self.edits.replace(first.name.start..first.value.end, "");
        }
        if drop_second {
            self.edits.replace(line.name.start..line.value.end, "");
        } else {
            self.names.insert(key, line);
        }
    }
}
