//! Works published uncertainty budgets as labs: given values with their doubt in, the source's uncertainty out.

mod support;

use std::fs;

use gramleaf::measure::Decimal;
use gramleaf::working::Variable;
use toml::Table;
use toml::Value;

/// Examples that a lab description cannot say, with the reason.
const NOT_EXPRESSED: &[(&str, &str)] = &[(
    "GUM-4.3.4",
    "limits with a level of confidence; here ± always means a rectangle",
)];

/// How far two workings in binary arithmetic may be apart.
const RELATIVE: f64 = 1e-6;

/// Sources: named in each example, most of them the EURACHEM/CITAC Guide QUAM and JCGM 100:2008. A printed figure may be off by
/// half a unit of its last digit; printed figures that do not follow from the source's own inputs must differ.
#[test]
fn published_budgets_come_out_as_printed() {
    let text =
        fs::read_to_string("tests/reference/uncertainty_published.toml").expect("the examples");
    let table: Table = text.parse().expect("TOML");
    let (mut printed, mut recomputed) = (0, 0);
    let examples = table["example"].as_array().expect("examples");
    for example in examples {
        let id = text_of(&example["id"]);
        let listed = NOT_EXPRESSED.iter().any(|(known, _)| *known == id);
        assert_ne!(
            listed,
            example.get("relation").is_some(),
            "{id} must be either worked or listed with a reason"
        );
        if listed {
            continue;
        }
        let found = work(example);
        for (quantity, expected) in entries(example, "recomputed") {
            recomputed += 1;
            let (found, expected) = (found.get(quantity), expected.as_float().expect("a number"));
            assert!(
                (found - expected).abs() <= RELATIVE * expected.abs(),
                "{id} {quantity}: {found} is not {expected}"
            );
        }
        for (quantity, expected) in entries(example, "printed") {
            printed += 1;
            let astray = entries(example, "astray").any(|(wrong, _)| wrong == quantity);
            assert_ne!(
                as_printed(found.get(quantity), text_of(expected)),
                astray,
                "{id} {quantity}: {expected} is printed, we find {}",
                found.get(quantity)
            );
        }
        for line in example
            .get("budget")
            .and_then(Value::as_array)
            .into_iter()
            .flatten()
        {
            printed += 1;
            let names = line["inputs"].as_array().expect("names");
            let together = found.together(names.iter().map(text_of));
            assert!(
                as_printed(together, text_of(&line["share"])),
                "{id}: the share of {names:?} is printed as {}, we find {together}",
                line["share"]
            );
        }
    }
    for (id, _) in NOT_EXPRESSED {
        assert!(
            examples
                .iter()
                .any(|example| text_of(&example["id"]) == *id),
            "{id} is listed, but no example"
        );
    }
    assert!(
        printed >= 25 && recomputed >= 20,
        "only {printed} printed and {recomputed} unrounded values were compared"
    );
}

/// What the program makes of an example, in the source's unit.
struct Found {
    value: f64,
    standard: f64,
    worst_case: f64,
    /// Each input's share in the standard uncertainty.
    budget: Vec<(String, f64)>,
}

impl Found {
    fn get(&self, quantity: &str) -> f64 {
        match quantity {
            "value" => self.value,
            "standard" => self.standard,
            "relative" => self.standard / self.value,
            "worst_case" => self.worst_case,
            other => panic!("there is no {other}"),
        }
    }

    /// The share of several inputs together.
    fn together<'n>(&self, names: impl Iterator<Item = &'n str>) -> f64 {
        let share = |name| {
            let line = self.budget.iter().find(|(known, _)| known == name);
            line.unwrap_or_else(|| panic!("no input {name}")).1
        };
        names.map(|name| share(name).powi(2)).sum::<f64>().sqrt()
    }
}

fn text_of(value: &Value) -> &str {
    value.as_str().expect("a text")
}

fn entries<'e>(example: &'e Value, table: &str) -> impl Iterator<Item = (&'e str, &'e Value)> {
    let table = example.get(table).and_then(Value::as_table);
    table
        .into_iter()
        .flatten()
        .map(|(key, value)| (key.as_str(), value))
}

/// Whether a number rounds to a printed one. A printed tie may have gone up or down.
fn as_printed(found: f64, printed: &str) -> bool {
    let printed = Decimal::parse(printed).unwrap_or_else(|why| panic!("{printed}: {why:?}"));
    let half_unit = 0.5 * 10_f64.powi(-printed.places());
    (found - printed.to_f64()).abs() <= half_unit * (1.0 + RELATIVE)
}

/// An input as a lab description writes it.
fn typed(input: &Value) -> String {
    let part = |name: &str| input.get(name).map(text_of);
    let (value, unit) = (text_of(&input["value"]), part("unit").unwrap_or_default());
    let triangular = input.get("triangular").is_some();
    let doubt = match (part("u"), part("half_width")) {
        (Some(u), None) => format!("({u})"),
        // There is no notation for a triangle, so its standard uncertainty is stated.
        (None, Some(half_width)) if triangular => {
            let half_width: f64 = half_width.parse().expect("a number");
            format!("({:.15})", half_width / 6.0_f64.sqrt())
        }
        (None, Some(half_width)) => format!(" ± {half_width}"),
        (None, None) => String::new(),
        (Some(_), Some(_)) => panic!("{input} has two uncertainties"),
    };
    format!("{value}{doubt} {unit}").trim_end().to_owned()
}

/// Works an example's relation as a lab's own quantity.
fn work(example: &Value) -> Found {
    let givens: String = entries(example, "inputs")
        .map(|(name, input)| format!("{name} = \"{}\"\n", typed(input)))
        .collect();
    let lab = format!(
        "id = \"example\"\ntitle = \"Example\"\nequation = \"Zn + CuSO4 -> ZnSO4 + Cu\"\n[substance.zinc]\nformula = \"Zn\"\nbefore = \"excess\"\n\
         [substance.salt]\nformula = \"CuSO4\"\nbefore = \"excess\"\n\
         [given]\n{givens}[day.1]\ntitle = \"Readings\"\n[find.wanted]\nvalue = {}\n",
        example["relation"]
    );
    let scale = example
        .get("scale")
        .and_then(Value::as_integer)
        .unwrap_or(1) as f64;
    let data = "[who]\nlab = \"example\"\ngroup = \"1\"\n";
    support::worked(&lab, data, |_, graph, _, worked| {
        let step = graph.find("wanted").expect("the relation is a step");
        let value = worked.value(step).expect("nothing is missing");
        let name = |variable: Variable| match variable {
            Variable::Given(given) => graph.givens[given].name.clone(),
            other => panic!("{other:?} is no input of the example"),
        };
        let budget = value.budget(&worked.inputs).into_iter();
        Found {
            value: scale * value.approximate(),
            standard: scale * value.standard_uncertainty(&worked.inputs),
            worst_case: scale * value.worst_case(&worked.inputs),
            budget: budget
                .map(|(variable, share)| (name(variable), scale * share.contribution))
                .collect(),
        }
    })
}
