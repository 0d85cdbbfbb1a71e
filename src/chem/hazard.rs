//! GHS hazard statements by their codes.

/// The statement of a code such as `H302`; `None` for a code that does not exist.
#[must_use]
pub fn statement(code: &str) -> Option<&'static str> {
    let _ = code;
    unimplemented!()
}
