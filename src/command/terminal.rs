//! Text to the terminal: results on standard output, problems on standard error, colour only on a terminal.

use std::io::Error;
use std::io::ErrorKind;
use std::io::IsTerminal;
use std::io::Write;
use std::sync::OnceLock;

use crate::problem::Problem;
use crate::problem::Source;
use crate::problem::print;
use crate::words::Words;

/// Why results did not all come out.
static LOST: OnceLock<Error> = OnceLock::new();

/// Prints a result. A closed pipe ends the output quietly; what is lost for another reason is [told](lost) at the end.
pub(super) fn result(text: &str) {
    let mut out = std::io::stdout().lock();
    let wrote = out.write_all(text.as_bytes()).and_then(|()| out.flush());
    if let Err(why) = wrote
        && why.kind() != ErrorKind::BrokenPipe
    {
        // The first reason is the one to tell.
        let _ = LOST.set(why);
    }
}

/// Why results did not all come out, if they did not.
pub(super) fn lost() -> Option<&'static Error> {
    LOST.get()
}

/// Prints problems with their lines quoted, in the language that they are told in.
pub(super) fn problems(source: &Source, problems: &[Problem], words: &Words) {
    written(&quoted(source, problems, words));
}

/// Problems as [`problems`] prints them, which need their file no longer.
pub(super) fn quoted(source: &Source, problems: &[Problem], words: &Words) -> String {
    let coloured = std::io::stderr().is_terminal() && std::env::var_os("NO_COLOR").is_none();
    print::print_in(source, problems, words, coloured)
}

/// Prints problems that were [quoted] before.
pub(super) fn written(problems: &str) {
    anstream::eprint!("{problems}");
}

/// Prints a remark that belongs to no line of a file.
pub(super) fn remark(text: &str) {
    let mut out = std::io::stderr().lock();
    let _ = writeln!(out, "{text}");
}

/// Says why nothing could be done.
pub(super) fn stopped(message: &str, help: &str) {
    remark(&format!("error: {message}"));
    if !help.is_empty() {
        remark(&format!("  help: {help}"));
    }
}
