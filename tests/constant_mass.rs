//! Holds the drying verdict to published limits for constant mass, just inside and just outside each.

mod support;

use std::fs;

use gramleaf::working::drying;
use gramleaf::working::drying::Verdict;

/// Criteria in the file that a limit in g cannot say, by a part of their scope, with the reason.
const NOT_EXPRESSED: &[(&str, &str)] = &[
    ("USP", "a share of the mass taken"),
    (
        "JP",
        "a share of the mass before; its limits in mg are alternatives to it",
    ),
    (
        "Standard Methods",
        "the smaller of a share and a limit in mg; the limit alone is checked",
    ),
    ("ISO 11461", "a share of the last mass"),
    ("concrete", "a share of the mass"),
    (
        "about 2 g specimen",
        "stated as a share too, for one size of specimen; its 2 mg are checked",
    ),
    ("ASTM D2216", "a share of the mass"),
];

/// Sources: named in each row. Every limit is of the kind “at most”, so a difference of just the limit is constant mass,
/// and a step of 0.01 mg more is not. No tolerance: masses are exact decimals.
#[test]
fn the_verdict_turns_at_each_published_limit() {
    let text = fs::read_to_string("tests/reference/constant_mass.tsv").expect("the criteria");
    let mut checked = 0;
    for line in text.lines().skip(1) {
        let cells: Vec<&str> = line.split('\t').collect();
        let (scope, absolute, relative) = (cells[0], cells[2], cells[3]);
        let listed = NOT_EXPRESSED.iter().any(|(part, _)| scope.contains(part));
        assert_eq!(
            listed,
            !relative.is_empty(),
            "{scope} must be either checked or listed with a reason"
        );
        let Ok(milligrams) = absolute.parse::<f64>() else {
            assert!(listed, "{scope} has no limit");
            continue;
        };
        // In hundredths of a mg, so that every mass below is a whole number.
        #[expect(clippy::cast_possible_truncation, reason = "limits are a few mg")]
        let limit = (milligrams * 100.0).round() as i64;
        for (change, expected) in [
            (0, Verdict::Constant),
            (1 - limit, Verdict::Constant),
            (-limit, Verdict::Constant),
            (-limit - 1, Verdict::StillFalling),
            (limit, Verdict::Constant),
            (limit + 1, Verdict::Rising),
        ] {
            let found = verdict(&format!("{absolute} mg"), 2_400_000 + change);
            assert_eq!(found, expected, "{scope}: {absolute} mg, {change} ÷ 100 mg");
        }
        checked += 1;
    }
    assert!(checked >= 7, "only {checked} limits were checked");
}

/// The verdict on a drying that ends at 24 g and then at a number of hundredths of a mg.
fn verdict(limit: &str, last: i64) -> Verdict {
    let lab = format!(
        "id = \"x\"\ntitle = \"x\"\nequation = \"Zn + CuSO4 -> ZnSO4 + Cu\"\n[substance.zinc]\nformula = \"Zn\"\nbefore = \"excess\"\n[substance.salt]\nformula = \"CuSO4\"\nbefore = \"excess\"\n[substance.copper]\nformula = \"Cu\"\n\
         after = \"dried\"\n[instrument.balance]\nunit = \"g\"\nreadability = \"0.00001 g\"\n[policy]\nconstant_mass = \"{limit}\"\n\
         [day.1]\ntitle = \"x\"\nreadings = [ {{ name = \"dried\", series = 3 }} ]\n"
    );
    let typed = format!("{}.{:05} g", last / 100_000, last % 100_000);
    let data = format!(
        "[who]\nlab = \"x\"\ngroup = \"1\"\n[day.1]\ndried = [\"24.50000 g\", \"24.00000 g\", \"{typed}\"]\n"
    );
    support::worked(&lab, &data, |lab, _, record, _| {
        let series = drying::series(lab, record, &record.instruments(lab));
        assert_eq!(series.len(), 1, "one series is dried");
        series[0].verdict()
    })
}
