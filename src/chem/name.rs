//! Names of substances in words: `copper(II) sulfate pentahydrate` from its formula.

use crate::chem::Formula;

/// The usual English name of a formula, where a simple rule or a short table gives one.
#[must_use]
pub fn of(formula: &Formula) -> Option<String> {
    let _ = formula;
    unimplemented!()
}

/// The words for `n` waters of crystallisation: `pentahydrate`.
#[must_use]
pub fn hydrate_suffix(waters: u32) -> String {
    let _ = waters;
    unimplemented!()
}
