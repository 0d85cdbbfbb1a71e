//! Holds rounding, figures and uncertainty against published and independently computed values.

use std::collections::BTreeMap;
use std::fs;

use gramleaf::lab;
use gramleaf::measure::Decimal;
use gramleaf::measure::Exact;
use gramleaf::measure::Rounding;
use gramleaf::measure::figures::Figures;
use gramleaf::measure::rounding;
use gramleaf::problem::Source;
use gramleaf::record;
use gramleaf::working;
use gramleaf::working::plan::plan;

/// The rows of a tab-separated table, by the names of its header line.
fn rows(name: &str) -> Vec<BTreeMap<String, String>> {
    let text = fs::read_to_string(format!("tests/reference/{name}")).expect("the table");
    let mut lines = text.lines();
    let head: Vec<&str> = lines.next().expect("a header").split('\t').collect();
    lines
        .map(|line| {
            let cells = line.split('\t').map(str::to_owned);
            head.iter()
                .map(|name| (*name).to_owned())
                .zip(cells)
                .collect()
        })
        .collect()
}

fn number(text: &str) -> Decimal {
    Decimal::parse(text).unwrap_or_else(|why| panic!("{text}: {why:?}"))
}

/// Whether a rounded number is the printed one, digits and all.
///
/// A book that prints `140` for two figures leaves open which zeros count: then only the value is compared.
fn same(rounded: Decimal, printed: &str) -> bool {
    let printed = number(printed);
    let value = rounded.to_exact() == printed.to_exact();
    value && (rounded.places() < 0 || rounded.places() == printed.places())
}

/// Sources: named in each row (OpenStax Chemistry 2e section 1.5; NIST SP 811; textbooks). A tie is printed by one of the
/// two rules; the row's value must come out under at least one, and away from ties both agree.
#[test]
fn numbers_round_as_published() {
    let mut compared = 0;
    for row in rows("sigfig_rounding.tsv") {
        let (kind, expression, printed) = (
            row["kind"].as_str(),
            row["expression"].as_str(),
            row["printed"].as_str(),
        );
        let modes = match kind {
            "round_dp_half_up" => vec![Rounding::HalfUp],
            "round_dp_half_even" => vec![Rounding::HalfEven],
            _ => vec![Rounding::HalfUp, Rounding::HalfEven],
        };
        let right = match kind {
            "round_sf" | "round_dp" | "round_dp_half_up" | "round_dp_half_even" => {
                let value = number(expression).to_exact();
                let digits: i32 = row["arg"].parse().expect("a count");
                modes.iter().any(|mode| {
                    let by_figures = kind == "round_sf";
                    let rounded = if by_figures {
                        rounding::to_figures(&value, digits, *mode)
                    } else {
                        rounding::to_places(&value, digits, *mode)
                    };
                    same(rounded, printed)
                })
            }
            "count_sf" => number(expression).significant_figures().to_string() == printed,
            "add_sub" | "mul_div" => modes
                .iter()
                .any(|mode| same(result(expression, *mode), printed)),
            _ => continue,
        };
        assert!(right, "{kind} {expression}: {printed} is printed");
        compared += 1;
    }
    assert!(compared > 35, "only {compared} rows were compared");
}

/// A chain of sums, or of products, rounded by the propagation rules.
fn result(expression: &str, mode: Rounding) -> Decimal {
    let mut words = expression.split(' ');
    let first = number(words.next().expect("a number"));
    let (mut value, mut figures) = (first.to_exact(), Figures::of(first));
    while let (Some(sign), Some(next)) = (words.next(), words.next()) {
        let decimal = number(next);
        let own = Figures::of(decimal);
        let other = decimal.to_exact();
        let combined: Exact = match sign {
            "+" => &value + &other,
            "-" => &value - &other,
            "*" => &value * &other,
            _ => &value / &other,
        };
        figures = if matches!(sign, "+" | "-") {
            Figures::sum([(figures, &value), (own, &other)])
        } else {
            Figures::product(&[(figures, &value), (own, &other)])
        };
        value = combined;
    }
    figures.write(&value, 0, mode)
}

/// Source: values and standard uncertainties computed with the Python package uncertainties 3.2.3 (BSD), first order with
/// correlations. Each case runs through a lab description's own expression. Tolerance: one part in 10⁹, since the package
/// works in binary arithmetic throughout. Roots are not in the expression language.
#[test]
fn uncertainty_propagates_as_an_independent_package_does() {
    let mut compared = 0;
    for row in rows("uncertainty_cases.tsv") {
        let expression = row["expression"].replace("a**2", "a*a");
        if expression.contains("sqrt") || expression.contains("**") {
            continue;
        }
        let Some((value, doubt)) = worked(&expression, &row["inputs(value±standard_uncertainty)"])
        else {
            panic!("{} could not be worked", row["id"]);
        };
        let (expected, expected_doubt): (f64, f64) = (
            row["result"].parse().expect("a number"),
            row["std_uncertainty"].parse().expect("a number"),
        );
        assert!(
            (value - expected).abs() <= 1e-9 * expected.abs(),
            "{}: {value} is not {expected}",
            row["id"]
        );
        assert!(
            (doubt - expected_doubt).abs() <= 1e-9 * expected_doubt,
            "{}: ± {doubt} is not {expected_doubt}",
            row["id"]
        );
        compared += 1;
    }
    assert!(compared > 10, "only {compared} cases were compared");
}

/// The value and standard uncertainty of an expression, worked as a lab's own quantity.
fn worked(expression: &str, inputs: &str) -> Option<(f64, f64)> {
    // Names of files are lower case: M1 and m1 get different ones.
    let rename = |name: &str| {
        let case = if name.starts_with(char::is_uppercase) {
            "upper"
        } else {
            "lower"
        };
        format!("{case}_{}", name.to_lowercase())
    };
    let mut givens = String::new();
    for input in inputs.split("; ") {
        let (name, value) = input.split_once('=')?;
        let (value, doubt) = value.split_once('±')?;
        let typed = if doubt == "0.0" {
            format!("exactly {value}")
        } else {
            format!("{value}({:.19})", doubt.parse::<f64>().ok()?)
        };
        givens.push_str(&format!("{} = \"{typed}\"\n", rename(name)));
    }
    let mut written = String::new();
    let mut word = String::new();
    for c in expression.chars().chain([' ']) {
        if c.is_alphanumeric() {
            word.push(c);
            continue;
        }
        if word.starts_with(char::is_alphabetic) {
            written.push_str(&rename(&word));
        } else {
            written.push_str(&word);
        }
        word.clear();
        written.push(c);
    }
    let text = format!(
        "id = \"x\"\ntitle = \"x\"\nequation = \"Zn + CuSO4 -> ZnSO4 + Cu\"\n[substance.zinc]\nformula = \"Zn\"\n[given]\n{givens}\
         [day.1]\ntitle = \"x\"\n[ask]\nusual = false\n[find.wanted]\nvalue = \"{}\"\n",
        written.trim()
    );
    let source = Source {
        name: "x".to_owned(),
        text,
    };
    let (lab, problems) = lab::check::check(&source);
    let lab = lab.unwrap_or_else(|| panic!("{problems:#?}\n{}", source.text));
    let (graph, problems) = plan(&lab);
    assert!(problems.is_empty(), "{problems:#?}");
    let blank = record::read(Source {
        name: "y".to_owned(),
        text: "[who]\nlab = \"x\"\n".to_owned(),
    });
    let (mut record, _) = record::check(&blank, &lab, &[]);
    let (worked, _) = working::work(&lab, &graph, &mut record);
    let value = worked.value(graph.find("wanted")?)?;
    Some((
        value.approximate(),
        value.standard_uncertainty(&worked.inputs),
    ))
}
