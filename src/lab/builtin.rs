//! The labs built in: the files `samples/*/lab.toml`, embedded.

/// Id and text of every built-in lab, in order of id.
pub const BUILT_IN: &[(&str, &str)] = &[];
