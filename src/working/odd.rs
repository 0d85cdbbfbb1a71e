//! Results that no experiment can give, or few do.
use crate::lab::Lab;
use crate::problem::Problem;
use crate::record::Record;
use crate::working::Graph;
use crate::working::Worked;
use std::collections::BTreeMap;
/// x
pub fn look(
    _lab: &Lab,
    _graph: &Graph,
    _worked: &Worked<'_>,
    _record: &Record,
) -> (Vec<Problem>, BTreeMap<usize, String>) {
    (Vec::new(), BTreeMap::new())
}
