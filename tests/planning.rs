//! Preparations held against amounts worked by hand, and against a real group's uncertainty.

use std::process::Command;

use serde_json::Value;

fn plan(words: &[&str]) -> (String, bool) {
    let output = Command::new(env!("CARGO_BIN_EXE_gramleaf"))
        .arg("plan")
        .args(words)
        .output()
        .expect("the program runs");
    let text = format!(
        "{}{}",
        String::from_utf8_lossy(&output.stdout),
        String::from_utf8_lossy(&output.stderr)
    );
    (text, output.status.success())
}

fn json(words: &[&str]) -> Value {
    let (text, good) = plan(&[words, &["--json"]].concat());
    assert!(good, "{text}");
    serde_json::from_str(&text).expect("JSON")
}

fn near(value: &Value, expected: f64, within: f64) {
    let value = value.as_f64().expect("a number");
    assert!(
        (value - expected).abs() <= within,
        "{value} is not {expected}"
    );
}

/// Worked by hand with M(CuSO₄·5H₂O) = 249.677 g/mol, M(Cu) = 63.546 g/mol, M(Zn) = 65.38 g/mol: 6.0 g of crystals are
/// 0.024031 mol; they give 1.5271 g of copper and use 1.5712 g of zinc, of 4.4 g. Tolerance: one unit of the last digit written here.
#[test]
fn amounts_are_those_worked_by_hand() {
    let plan = json(&["zinc-copper-sulfate", "--groups", "14", "--spare", "15%"]);
    let reagents = plan["reagents"].as_array().unwrap();
    assert_eq!(reagents.len(), 2);
    let salt = reagents
        .iter()
        .find(|one| one["substance"] == "salt")
        .unwrap();
    near(&salt["all"], 6.0 * 14.0 * 1.15, 1e-9);
    let expected = plan["expected"].as_array().unwrap();
    let of = |key: &str| expected.iter().find(|one| one["substance"] == key).unwrap();
    near(&of("copper")["grams"], 1.5271, 5e-5);
    near(&of("zinc")["grams"], 2.8288, 1e-4);
    assert_eq!(of("copper")["three_figures"], true);
    // 50 mL, and 3 washings of 25 mL.
    near(&plan["water_ml"]["each"], 125.0, 1e-9);
    near(&plan["water_ml"]["all"], 125.0 * 14.0 * 1.15, 1e-6);
    near(&plan["liquid_left_ml"]["all"], 125.0 * 14.0, 1e-6);
    assert_eq!(plan["vessels"].as_array().unwrap().len(), 3);
}

/// First order by hand: relative variance = 2·u²/m(Cu)² + 2·u²/m(salt)² with u = 0.01 g/√12; the atomic weights are below it.
#[test]
fn the_uncertainty_is_that_of_the_balance_and_doubling_halves_it() {
    let plan = json(&["zinc-copper-sulfate"]);
    let u = 0.01 / 12.0_f64.sqrt();
    let by_hand = 100.0 * (2.0 * (u / 1.5271).powi(2) + 2.0 * (u / 6.0).powi(2)).sqrt();
    near(&plan["percent_yield_standard_uncertainty"], by_hand, 0.002);
    assert_eq!(plan["halving_factor"], 2.0);
}

#[test]
fn every_built_in_lab_can_be_prepared() {
    for folder in std::fs::read_dir("samples").unwrap() {
        let lab = folder.unwrap().path().join("lab.toml");
        if !lab.is_file() {
            continue;
        }
        let (text, good) = plan(&[lab.to_str().unwrap(), "--groups", "7"]);
        assert!(good, "{}: {text}", lab.display());
        assert!(text.contains("## Reagents"), "{text}");
        assert!(text.contains("as the teacher directs") || !text.contains("liquid left over"));
        assert!(!text.contains("NaN") && !text.contains("inf "), "{text}");
    }
}

#[test]
fn wrong_input_is_answered_with_a_next_step() {
    for (words, says) in [
        (
            &["zinc-coper-sulfate"][..],
            "did you mean `zinc-copper-sulfate`?",
        ),
        (
            &["zinc-copper-sulfate", "--spare", "much"],
            "write a percentage from 0 to 1000, such as 15%",
        ),
        (
            &["zinc-copper-sulfate", "--groups", "0"],
            "0 is not in 1..=2000",
        ),
    ] {
        let (text, good) = plan(words);
        assert!(!good && text.contains(says), "{text}");
    }
}
