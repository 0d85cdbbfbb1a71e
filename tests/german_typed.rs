//! What a German class is told about a box that cannot be read: every fault once, and what works in its place.

#![allow(clippy::unwrap_used, reason = "a test stops at what it cannot use")]

use gramleaf::measure::Typed;
use gramleaf::measure::Unit;
use gramleaf::measure::foreign;
use gramleaf::measure::typed;
use gramleaf::words::Words;

fn german() -> Words {
    Words::of("de").unwrap()
}

/// What is typed, the fault, and the next step.
const FAULTS: &[(&str, &str, &str)] = &[
    ("inf g", "", ""),
    ("schwer", "", ""),
    ("10.2.2026", "", ""),
    ("14:10", "", ""),
    ("g 104,18", "", ""),
    ("1O4,18 g", "", ""),
    ("1O,18 g", "", ""),
    ("1I,18 g", "", ""),
    ("12,345,67", "", ""),
    ("1,2.3.4", "", ""),
    ("1 234 g", "", ""),
    ("105,70 g 105,68 g", "", ""),
    ("105,70 105,68", "", ""),
    ("8,47 - 2,45", "", ""),
    ("12,3 g (Tiegel) mL", "", ""),
    ("12,3 ± g", "", ""),
    ("12,3(5) ± 1 g", "", ""),
    ("12,3 g ± 1 %", "", ""),
    ("2x10^", "", ""),
    ("12(1.2.3) g", "", ""),
    ("9999999999999999999999999", "", ""),
    ("1e999", "", ""),
    ("4,36 gramms", "", ""),
    ("4,36 Unzen", "", ""),
    ("760 mmHg", "", ""),
];

#[test]
fn every_fault_is_said_in_german() {
    let words = german();
    for (text, message, help) in FAULTS {
        let error = typed::parse_with(text, None, &words).unwrap_err();
        println!("    (\n        {text:?},\n        {:?},\n        {:?},\n    ),", error.message, error.help);
    }
}
