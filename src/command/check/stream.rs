//! `check --json` over many files: each is printed as soon as those before it are, and kept no longer.

use super::Checked;
use super::Outcome;
use super::json;
use super::marked::Made;
use crate::command::Stop;
use crate::command::files::Found;
use crate::command::labs_in_use::LabsInUse;
use crate::command::pool;
use crate::command::terminal;
use crate::status::Status;

/// So much is printed at a time.
const AT_A_TIME: usize = 64 * 1024;

/// What is kept of a file until its turn to be printed.
struct Told {
    /// Its object, as it stands in the array.
    element: Result<String, serde_json::Error>,
    status: Status,
    stopped: Option<Stop>,
    made: Option<Made>,
}

/// Checks every file and prints the array; what is left to write are the marked copies.
///
/// # Errors
/// When an object cannot be written as JSON.
pub(super) fn run(
    found: &[Found],
    labs: &LabsInUse,
    one: impl Fn(usize) -> Outcome<Checked> + Sync,
) -> Result<(Status, Vec<Made>), Stop> {
    let mut status = Status::Good;
    let mut all_made = Vec::new();
    let mut array = Array::default();
    let mut failed = None;
    let mut files = found.iter();
    pool::in_order(
        found.len(),
        // The text is made here, on all cores, and the rest of what was found out is let go.
        |place| one(place).map(told),
        |outcome| {
            let Some(file) = files.next() else { return };
            let (of_file, told) = outcome.tell(file, labs);
            status = status.max(of_file);
            let Some(told) = told else { return };
            status = status.max(told.status);
            if let Some(stop) = &told.stopped {
                terminal::stopped(&stop.message, &stop.help);
            }
            all_made.extend(told.made);
            match told.element {
                Ok(element) => array.push(&element),
                Err(why) => failed = Some(why),
            }
        },
    );
    array.finish();
    match failed {
        Some(why) => Err(super::cannot_print(&why)),
        None => Ok((status, all_made)),
    }
}

fn told(checked: Checked) -> Told {
    Told {
        element: element(&checked.object),
        status: checked.status(),
        stopped: checked.stopped,
        made: checked.marked.map(|copy| Made {
            path: checked.object.path,
            section: checked.section,
            copy,
        }),
    }
}

/// An object with the line break before it and the indentation that it has in an array.
fn element(object: &json::File) -> Result<String, serde_json::Error> {
    let mut text = serde_json::to_string_pretty(&[object])?;
    text.truncate(text.len() - "\n]".len());
    text.remove(0);
    // Until its turn a text may wait for others.
    text.shrink_to_fit();
    Ok(text)
}

/// An array on its way to standard output.
#[derive(Default)]
struct Array {
    begun: bool,
    waiting: String,
}

impl Array {
    fn push(&mut self, element: &str) {
        self.waiting.push(if self.begun { ',' } else { '[' });
        self.begun = true;
        self.waiting.push_str(element);
        if self.waiting.len() >= AT_A_TIME {
            terminal::result(&self.waiting);
            self.waiting.clear();
        }
    }

    fn finish(mut self) {
        self.waiting
            .push_str(if self.begun { "\n]\n" } else { "[]\n" });
        terminal::result(&self.waiting);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn elements_make_the_array_that_the_objects_make_together() {
        let objects = ["a\nb", "[x]", ""].map(|path| json::File {
            path: path.to_owned(),
            ..json::File::default()
        });
        for count in 0..=objects.len() {
            let mut array = Array::default();
            for object in &objects[..count] {
                array.push(&element(object).unwrap());
            }
            let end = if array.begun { "\n]" } else { "[]" };
            assert_eq!(
                array.waiting + end,
                serde_json::to_string_pretty(&objects[..count]).unwrap()
            );
        }
    }
}
