//! What the class shares: whether working is shown, how far values are looked for, and groups the teacher leaves out.

use crate::lab::rules::word;
use crate::problem::Code;
use crate::problem::Problem;
use crate::problem::document::Shape;
use crate::problem::document::Table;

/// Rules of class pages.
#[derive(Debug, Clone, PartialEq)]
pub struct Sharing {
    /// Whether shared reports show the working.
    pub working: bool,
    /// How a value far from the others is told.
    pub outliers: OutlierRule,
    /// Two-sided confidence of the test, such as 0.95.
    pub level: f64,
    /// Groups whose values the teacher leaves out of the statistics, each with the reason that is printed.
    pub left_out: Vec<(String, String)>,
}

/// How a value far from the others is told. Nothing is ever removed by it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OutlierRule {
    /// More than three median absolute deviations (× 1.4826) from the median; any number of values.
    Deviation,
    /// Grubbs' test for one value.
    Grubbs,
    /// Dixon's ratio r₁₀ for one value, for 3 to 30 groups.
    Dixon,
    /// Nothing is marked.
    None,
}

impl Default for Sharing {
    fn default() -> Self {
        Self {
            working: false,
            outliers: OutlierRule::Deviation,
            level: 0.95,
            left_out: Vec::new(),
        }
    }
}

/// `[share]`
pub(super) fn read(root: &mut Table<'_>, problems: &mut Vec<Problem>) -> Sharing {
    let mut sharing = Sharing::default();
    let Some(mut table) = root.table("share", problems) else {
        return sharing;
    };
    sharing.working = table.flag("working", problems).unwrap_or(false);
    let rules = [
        ("deviation", OutlierRule::Deviation),
        ("grubbs", OutlierRule::Grubbs),
        ("dixon", OutlierRule::Dixon),
        ("none", OutlierRule::None),
    ];
    sharing.outliers = word(&mut table, "outliers", &rules, problems).unwrap_or(sharing.outliers);
    let levels = [("90 %", 0.90), ("95 %", 0.95), ("99 %", 0.99)];
    sharing.level = word(&mut table, "level", &levels, problems).unwrap_or(sharing.level);
    if let Some(mut left_out) = table.table("leave_out", problems) {
        for (code, span, value) in left_out.take_all() {
            match value.shape() {
                Shape::Text(reason) if !reason.trim().is_empty() => {
                    sharing.left_out.push((code, reason.trim().to_owned()));
                }
                _ => problems.push(
                    Problem::error(
                        Code::WrongShape,
                        format!("`{code}` is left out without a reason"),
                    )
                    .at(span, "why?")
                    .help("write the reason between quotes; it is printed on the class page"),
                ),
            }
        }
    }
    table.finish(problems);
    sharing
}
