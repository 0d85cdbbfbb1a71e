//! Holds formulas, atomic weights, equations and hazard statements against published values.

#![expect(clippy::unwrap_used, reason = "a test stops at what it did not expect")]

use std::collections::BTreeMap;
use std::fs;

use gramleaf::chem::AtomicWeights;
use gramleaf::chem::Element;
use gramleaf::chem::Equation;
use gramleaf::chem::Formula;
use gramleaf::chem::hazard;
use gramleaf::chem::name;
use gramleaf::measure::Decimal;
use gramleaf::measure::Exact;

/// One row of a table: its cells by the names in the header line.
type Row = BTreeMap<String, String>;

/// The rows of a table under `tests/reference/`.
fn table(file: &str) -> Vec<Row> {
    let path = format!("{}/tests/reference/{file}", env!("CARGO_MANIFEST_DIR"));
    let text = fs::read_to_string(&path).unwrap_or_else(|error| panic!("{path}: {error}"));
    let mut lines = text.lines();
    let header: Vec<&str> = lines.next().unwrap().split('\t').collect();
    let cells = |line: &str| {
        let cells = line.split('\t').map(str::to_owned);
        header
            .iter()
            .map(|name| (*name).to_owned())
            .zip(cells)
            .collect()
    };
    let rows: Vec<Row> = lines.map(cells).collect();
    assert!(!rows.is_empty(), "{file} is empty");
    rows
}

fn formula(text: &str) -> Formula {
    Formula::parse(text).unwrap_or_else(|error| panic!("{text}: {error:?}"))
}

fn exact(text: &str) -> Exact {
    Decimal::parse(text)
        .unwrap_or_else(|error| panic!("{text}: {error:?}"))
        .to_exact()
}

/// The coefficients of an equation, left to right.
fn coefficients(equation: &Equation) -> Vec<u32> {
    equation
        .reactants
        .iter()
        .chain(&equation.products)
        .map(|species| species.coefficient)
        .collect()
}

/// `1 1 2` as numbers.
fn numbers(cell: &str) -> Vec<u32> {
    cell.split_whitespace()
        .map(|number| number.parse().unwrap())
        .collect()
}

/// An equation of the tables with a coefficient before each formula, also the 1s.
fn with_coefficients(equation: &str, coefficients: &[u32]) -> String {
    let mut numbers = coefficients.iter();
    let sides: Vec<String> = equation
        .split(" -> ")
        .map(|side| {
            let terms = side
                .split(" + ")
                .map(|term| format!("{} {term}", numbers.next().unwrap()));
            terms.collect::<Vec<_>>().join(" + ")
        })
        .collect();
    assert!(numbers.next().is_none(), "{equation}");
    sides.join(" -> ")
}

/// Source: CIAAW Standard Atomic Weights 2024, that is Prohaska et al., Pure Appl. Chem. 94 (2022)
/// 573, abridged table, with the changes of 2024. Tolerance: none, the digits are the ones printed.
#[test]
fn atomic_weights_are_those_printed() {
    let weights = AtomicWeights::default();
    let mut with_weight = Vec::new();
    for row in table("atomic_weights.tsv") {
        let element = Element::from_symbol(&row["symbol"]).unwrap();
        assert_eq!(element.atomic_number().to_string(), row["Z"]);
        assert_eq!(element.name(), row["name"]);
        let weight = weights
            .get(element)
            .unwrap_or_else(|| panic!("{} has no weight", row["symbol"]));
        assert_eq!(
            weight.value.to_string(),
            row["abridged"],
            "{}",
            row["symbol"]
        );
        assert_eq!(
            weight.half_width.to_string(),
            row["abridged_unc"],
            "{}",
            row["symbol"]
        );
        with_weight.push(element);
    }
    // The table is whole: no other element has a standard atomic weight.
    for element in Element::all().filter(|element| !with_weight.contains(element)) {
        assert_eq!(weights.get(element), None, "{}", element.symbol());
    }
}

/// Source: sums of the abridged weights 2024 in exact decimals. Tolerance: none for the mass and the
/// ± added up, which are finite decimals; half a unit of the fifth decimal, the last one printed, for
/// the ± in quadrature.
#[test]
fn molar_masses_are_exact() {
    let weights = AtomicWeights::default();
    for row in table("molar_masses.tsv") {
        let formula = formula(&row["formula"]);
        let mut atoms: Vec<String> = formula
            .atoms()
            .iter()
            .map(|(element, count)| format!("{}{count}", element.symbol()))
            .collect();
        atoms.sort();
        assert_eq!(atoms.join(";"), row["atoms"], "{}", row["formula"]);
        assert_eq!(
            weights.molar_mass(&formula),
            Ok(exact(&row["M_abridged2024"])),
            "{}",
            row["formula"]
        );
        let linear = weights.half_width_linear(&formula);
        assert_eq!(
            linear,
            Ok(exact(&row["abridged_unc_linear"])),
            "{}",
            row["formula"]
        );
        let quadrature = weights.half_width_quadrature(&formula).unwrap();
        let printed: f64 = row["abridged_unc_quadrature"].parse().unwrap();
        assert!(
            (quadrature - printed).abs() <= 0.000_005_000_1,
            "{}: {quadrature}",
            row["formula"]
        );
    }
}

/// Source: libraries and textbooks named in the columns. Tolerance: the libraries periodictable and
/// chempy carry the same or the full weights, whose distance from the abridged ones is below the ±
/// added up; textbooks print two decimals from older weights, hence 0.05 g/mol.
#[test]
fn molar_masses_agree_with_others() {
    let weights = AtomicWeights::default();
    for row in table("molar_masses.tsv") {
        let formula = formula(&row["formula"]);
        let mass = row["M_abridged2024"].parse::<f64>().unwrap();
        let wide: f64 = row["abridged_unc_linear"].parse().unwrap();
        assert!(weights.molar_mass(&formula).is_ok());
        for (column, tolerance) in [
            ("chempy_0.10.2", wide),
            ("periodictable_2.1.0", wide),
            ("printed_elsewhere", 0.05),
        ] {
            let Ok(other) = row[column].parse::<f64>() else {
                continue;
            };
            assert!(
                (mass - other).abs() <= tolerance,
                "{}, {column}: {other}",
                row["formula"]
            );
        }
    }
}

/// Source: the names of the molar mass table, common practice. A formula may have no name here, but
/// never a wrong one; the salts that school labs weigh all have theirs.
#[test]
fn names_are_the_usual_ones() {
    let mut named = 0;
    for row in table("molar_masses.tsv") {
        let Some(name) = name::of(&formula(&row["formula"])) else {
            continue;
        };
        assert_eq!(
            name,
            row["name"].trim_end_matches(" (anhydrous)"),
            "{}",
            row["formula"]
        );
        named += 1;
    }
    assert!(named >= 45, "only {named} are named");
}

/// Source: `OpenStax` Chemistry 2e and general knowledge, as each row says; coefficients are the exact
/// null vector. Tolerance: none, they are whole numbers.
#[test]
fn equations_balance() {
    for row in table("equations.tsv") {
        let equation = &row["unbalanced"];
        let expected = numbers(&row["coefficients"]);
        verified(equation, &expected);
        balanced_alone(equation, &expected, &row["nullity"]);
    }
}

/// Source: `OpenStax` Chemistry 2e, section in the row. Tolerance: none. A set that is twice the
/// smallest one balances too and is kept as given.
#[test]
fn textbook_equations_balance() {
    for row in table("equations_openstax.tsv") {
        let equation = &row["equation"];
        let printed = numbers(&row["coefficients"]);
        verified(equation, &printed);
        let smallest = match row["printed_is_minimal"].split_once("minimal=") {
            Some((_, smallest)) => numbers(smallest),
            None => printed,
        };
        balanced_alone(equation, &smallest, &row["nullity"]);
    }
}

/// Coefficients that are given and right are kept.
fn verified(equation: &str, given: &[u32]) {
    let text = with_coefficients(equation, given);
    let parsed = Equation::parse(&text).unwrap_or_else(|error| panic!("{text}: {error:?}"));
    assert_eq!(coefficients(&parsed), given, "{text}");
    let mut wrong = given.to_vec();
    wrong[0] += 1;
    let text = with_coefficients(equation, &wrong);
    // With more than one balance another first coefficient may still be right only by chance.
    assert!(Equation::parse(&text).is_err(), "{text}");
}

/// Without coefficients the equation is balanced, or reported when it has several balances.
fn balanced_alone(equation: &str, smallest: &[u32], nullity: &str) {
    let parsed = Equation::parse(equation);
    if nullity == "1" {
        let parsed = parsed.unwrap_or_else(|error| panic!("{equation}: {error:?}"));
        assert_eq!(coefficients(&parsed), smallest, "{equation}");
        assert_eq!(Equation::parse(&parsed.pretty()), Ok(parsed), "{equation}");
    } else {
        let error = parsed.expect_err(equation);
        assert!(
            error.message.contains("more than one way"),
            "{equation}: {error:?}"
        );
        assert!(error.help.unwrap().contains("coefficient"), "{equation}");
    }
}

/// Source: exact null spaces (sympy 1.14) of equations from textbooks and of misprints in them.
/// Tolerance: none; every error has to name what is at fault.
#[test]
fn equations_without_a_single_balance() {
    for row in table("equations_edge.tsv") {
        let equation = &row["equation"];
        let expected = numbers(&row["expected_coefficients"]);
        let status = row["status"].as_str();
        if !expected.is_empty() {
            verified(equation, &expected);
        }
        if status == "unique" || status.starts_with("underdetermined") {
            balanced_alone(equation, &expected, &row["nullity"]);
            continue;
        }
        let error = Equation::parse(equation).expect_err(equation);
        let species: Vec<&str> = equation
            .split(" -> ")
            .flat_map(|side| side.split(" + "))
            .collect();
        if status.starts_with("impossible") {
            let elements = species
                .iter()
                .flat_map(|text| formula(text).atoms().to_vec());
            let message = error.message.to_lowercase();
            let names_one = elements
                .into_iter()
                .any(|(element, _)| message.contains(element.name()));
            assert!(names_one, "{equation}: {error:?}");
            continue;
        }
        // Of a wrong side or a forced zero, the substance is marked in the text.
        let basis: Vec<i64> = row["integer_null_basis"]
            .split_whitespace()
            .map(|number| number.parse().unwrap())
            .collect();
        let wrong = if status.starts_with("wrong side") {
            "balances only with it on"
        } else {
            "takes no part"
        };
        assert!(error.message.contains(wrong), "{equation}: {error:?}");
        let at = basis.iter().position(|number| *number <= 0).unwrap();
        assert_eq!(&equation[error.span], species[at], "{equation}");
    }
}

/// Source: the misprinted coefficients that the notes of the edge table quote from `OpenStax` Chemistry
/// 2e. Each is refused, the element is named and the right set is offered.
#[test]
fn misprinted_coefficients_are_refused() {
    for (misprint, element, right) in [
        ("Al + Zr^4+ -> Al^3+ + Zr", None, vec![4, 3, 4, 3]),
        (
            "1 CCl2F2 + 4 H2 -> CH2F2 + 2 HCl",
            Some("Hydrogen"),
            vec![1, 2, 1, 2],
        ),
        ("2 Fe + 3 O2 -> Fe2O3", Some("Oxygen"), vec![4, 3, 2]),
        ("Na + I2 -> 2 NaI", Some("Sodium"), vec![2, 1, 2]),
        ("S + O2 -> 2 SO2", Some("Sulfur"), vec![1, 1, 1]),
        ("1 Na2O + H2O -> NaOH", Some("Sodium"), vec![1, 1, 2]),
        (
            "4 TiCl3 + CrO4^2- + 8 H^+ -> 4 Ti^4+ + Cr + 4 H2O + 12 Cl^-",
            Some("Charge"),
            vec![6, 1, 8, 6, 1, 4, 18],
        ),
    ] {
        let Some(element) = element else {
            assert_eq!(
                coefficients(&Equation::parse(misprint).unwrap()),
                right,
                "{misprint}"
            );
            continue;
        };
        let error = Equation::parse(misprint).expect_err(misprint);
        assert!(error.message.starts_with(element), "{misprint}: {error:?}");
        let help = error.help.unwrap();
        let offered = help.split('`').nth(1).unwrap();
        assert_eq!(
            coefficients(&Equation::parse(offered).unwrap()),
            right,
            "{misprint}: {help}"
        );
    }
}

/// Source: UN GHS, tenth revised edition, in the spelling of the `PubChem` table. The table has a
/// capital inside two statements and a full stop behind one, so capitals and full stops are not compared.
#[test]
fn hazard_statements_are_those_in_force() {
    for row in table("ghs_h_statements.tsv") {
        let printed = row["statement"].trim_end_matches('.').to_lowercase();
        let own = hazard::statement(&row["code"]).map(str::to_lowercase);
        let expected = (row["deleted"] != "yes").then_some(printed);
        assert_eq!(own, expected, "{}", row["code"]);
    }
}

/// A small generator of pseudo-random numbers, so that every run tries the same texts.
struct Random(u64);

impl Random {
    fn below(&mut self, bound: usize) -> usize {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(self.0 >> 33).unwrap() % bound
    }

    fn text(&mut self, alphabet: &[&str], longest: usize) -> String {
        let length = self.below(longest) + 1;
        (0..length)
            .map(|_| alphabet[self.below(alphabet.len())])
            .collect()
    }
}

#[test]
fn no_formula_panics_and_every_formula_reads_back() {
    let alphabet = [
        "H", "O", "C", "Cu", "S", "Na", "Cl", "U", "e", "a", "l", "x", "0", "1", "2", "9", "99999",
        "(", ")", "[", "]", "{", "}", ".", "·", "*", "^", "+", "-", "−", "_", " ", "\u{a0}", "₂",
        "²", "⁺", "½", "/", "(aq)", "(s)", "\n", "é", "🙂", "H2O", "SO4",
    ];
    let weights = AtomicWeights::default();
    let mut random = Random(20_240_901);
    let mut read = 0;
    for _ in 0..60_000 {
        let text = random.text(&alphabet, 9);
        match Formula::parse(&text) {
            Ok(formula) => {
                read += 1;
                let again = [formula.plain_with_state(), formula.pretty_with_state()];
                for written in again {
                    assert_eq!(
                        Formula::parse(&written).as_ref(),
                        Ok(&formula),
                        "{text} as {written}"
                    );
                }
                let (dry, waters) = formula.waters();
                assert!(
                    Formula::parse(dry.plain()).is_ok_and(|again| again.same_substance(&dry)),
                    "{text}"
                );
                let masses = [&formula, &dry].map(|formula| weights.molar_mass(formula).unwrap());
                let water = weights.molar_mass(&Formula::parse("H2O").unwrap()).unwrap();
                assert_eq!(
                    masses[0],
                    &masses[1] + water * Exact::from_integer(waters.into()),
                    "{text}"
                );
                let _ = name::of(&formula);
            }
            Err(error) => {
                assert!(text.get(error.span.clone()).is_some(), "{text}: {error:?}");
                assert!(error.message.ends_with('.'), "{text}: {error:?}");
            }
        }
    }
    assert!(read > 2_000, "only {read} texts were formulas");
}

#[test]
fn no_equation_panics() {
    let alphabet = [
        "H2", "O2", "H2O", "CO2", "Na", "Cl", "e^-", "Cu^2+", "2", "1/2", "0", "99999", " ", " + ",
        "+", "-", " -> ", "->", "-->", "=", "→", "(aq)", "(s)", "(", ")", "↓", "é", "½", ".",
    ];
    let mut random = Random(7);
    let mut balanced = 0;
    for _ in 0..40_000 {
        let mut text = random.text(&alphabet, 12);
        if random.below(2) == 0 {
            // Texts in the form of an equation, so that some of them balance.
            let mut formula = || alphabet[random.below(8)];
            text = format!("{} + {} -> {}", formula(), formula(), formula());
        }
        match Equation::parse(&text) {
            Ok(equation) => {
                balanced += 1;
                assert_eq!(
                    Equation::parse(&equation.plain()).as_ref(),
                    Ok(&equation),
                    "{text}"
                );
            }
            Err(error) => {
                assert!(text.get(error.span.clone()).is_some(), "{text}: {error:?}");
                assert!(error.message.ends_with('.'), "{text}: {error:?}");
            }
        }
    }
    assert!(balanced > 20, "only {balanced} texts were equations");
}
