//! Preparations held against amounts worked by hand, and against a real group's uncertainty.

use std::process::Command;
use std::sync::atomic::AtomicUsize;
use std::sync::atomic::Ordering;

use serde_json::Value;

fn one<'a>(list: &'a Value, field: &str, key: &str) -> &'a Value {
    let mut list = list.as_array().expect("a list").iter();
    list.find(|one| one[field] == key).expect(key)
}

fn reagent<'a>(plan: &'a Value, field: &str, key: &str) -> &'a Value {
    one(&plan["reagents"], field, key)
}

fn expected<'a>(plan: &'a Value, key: &str) -> &'a Value {
    one(&plan["expected"], "substance", key)
}

/// Times what is needed.
fn reach(plan: &Value, key: &str) -> Value {
    one(&plan["reactants"], "substance", key)["times_needed"].clone()
}

/// The path of a lab, built in or written before, with the one place of a text of it changed.
fn changed(lab: &str, from: &str, to: &str) -> String {
    let path = if lab.ends_with(".toml") {
        lab.to_owned()
    } else {
        format!("samples/{lab}/lab.toml")
    };
    let text = std::fs::read_to_string(path).expect("the lab");
    assert_eq!(text.matches(from).count(), 1, "{from}");
    let name = format!(
        "gramleaf-plan-{}-{}.toml",
        std::process::id(),
        COUNT.fetch_add(1, Ordering::Relaxed)
    );
    let path = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    std::fs::write(&path, text.replace(from, to)).expect("written");
    path.to_str().expect("a plain path").to_owned()
}

/// Files written so far.
static COUNT: AtomicUsize = AtomicUsize::new(0);

fn page(words: &[&str]) -> (String, bool) {
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
    let (text, good) = page(&[words, &["--json"]].concat());
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
    near(&of("copper")["amount"], 1.5271, 5e-5);
    near(&of("zinc")["amount"], 2.8288, 1e-4);
    assert_eq!(of("copper")["three_figures"], true);
    // 50 mL, and 3 washings of 25 mL.
    near(&plan["water_ml"]["each"], 125.0, 1e-9);
    near(&plan["water_ml"]["all"], 125.0 * 14.0 * 1.15, 1e-6);
    near(&plan["liquid_left_ml"]["all"], 125.0 * 14.0, 1e-6);
    assert_eq!(plan["vessels"].as_array().unwrap().len(), 3);
    // 0.024031 mol in 50 mL; 4.4 g of zinc are 0.067299 mol; 14 beakers at 12 a shelf.
    near(&salt["dissolved_concentration"], 0.48062, 1e-5);
    near(&reach(&plan, "zinc"), 0.067_299 / 0.024_031, 2e-4);
    assert_eq!(plan["oven_shelves"], 2);
}

/// 2.0 g of salicylic acid, M = 138.122 g/mol, are 0.0144800 mol and give as many of aspirin, M = 180.159 g/mol: 2.6087 g. 5.0 mL of
/// acetic anhydride at 1.08 g/mL weigh 5.40 g; M = 102.089 g/mol, 0.052895 mol, 3.6530 times as many. By hand.
#[test]
fn a_liquid_planned_by_volume_goes_through_its_density() {
    let plan = json(&["aspirin", "--groups", "14"]);
    let anhydride = reagent(&plan, "substance", "anhydride");
    near(&anhydride["each"], 5.0, 1e-9);
    assert_eq!(anhydride["unit"], "mL");
    near(&anhydride["grams"], 5.40, 1e-9);
    near(&anhydride["moles"], 0.052_895, 1e-6);
    near(&anhydride["all"], 80.5, 1e-9);
    assert!(anhydride["concentration"].is_null());
    near(&expected(&plan, "aspirin")["amount"], 2.6087, 5e-5);
    near(&reach(&plan, "anhydride"), 3.6530, 1e-4);
    // The volume stands beside 20 mL of water and 2 washings of 5 mL.
    near(&plan["liquid_left_ml"]["each"], 35.0, 1e-9);
    assert_eq!(plan["supplies"][0]["each"], "5 drops");
    let (page, _) = page(&["aspirin", "--groups", "14"]);
    assert!(page.contains("5.0\u{a0}mL of acetic anhydride weigh 5.40\u{a0}g; 80.5\u{a0}mL for all weigh 86.9\u{a0}g."), "{page}");
}

/// 0.41 g of wire, M(Cu) = 63.546 g/mol, are 0.0064520 mol; 1.0 g of zinc, M = 65.38 g/mol, is 2.3706 times as many. By hand.
#[test]
fn a_reading_that_is_planned_is_what_is_set_out() {
    let plan = json(&["copper-cycle", "--groups", "14"]);
    let wire = reagent(&plan, "reading", "wire");
    near(&wire["each"], 0.41, 1e-9);
    near(&wire["all"], 0.41 * 14.0 * 1.15, 1e-9);
    near(&wire["moles"], 0.006_452_0, 1e-7);
    near(&expected(&plan, "copper")["amount"], 0.41, 1e-6);
    near(&reach(&plan, "zinc"), 2.3706, 1e-4);
    let (page, _) = page(&["copper-cycle"]);
    assert!(
        page.contains("| copper wire at the start, sanded and dry |"),
        "{page}"
    );
    assert!(!page.contains("plans no amount"), "{page}");

    // The same said in moles of the salt: the wire is set out, in grams.
    let lab = changed(
        "copper-cycle",
        "wire             = \"0.41 g\"",
        "salt = \"6.452 mmol\"",
    );
    let plan = json(&[&lab]);
    let wire = reagent(&plan, "reading", "wire");
    near(&wire["each"], 0.41, 1e-4);
    assert_eq!(wire["unit"], "g");
}

/// CaCl₂·2H₂O 147.008 g/mol, Na₂CO₃ 105.988 g/mol, CaCO₃ 100.086 g/mol; Na₃PO₄·12H₂O 380.12 g/mol, Ca₃(PO₄)₂ 310.174 g/mol. By hand:
/// 1.6 g and 1.4 g are 0.010884 and 0.013209 mol, each in 25 mL, and 3 washings of 10 mL; 1.5 g and 3.1 g are 0.010204 and 0.0081553 mol,
/// each in 30 mL, (0.0081553 ÷ 2) ÷ (0.010204 ÷ 3) = 1.1989.
#[test]
fn each_of_two_solutions_has_water_of_its_own() {
    let plan = json(&[
        "calcium-carbonate-precipitate",
        "--groups",
        "10",
        "--spare",
        "0%",
    ]);
    near(&plan["water_ml"]["each"], 80.0, 1e-9);
    near(&plan["water_ml"]["all"], 800.0, 1e-6);
    near(
        &reagent(&plan, "substance", "chloride")["dissolved_concentration"],
        0.43535,
        1e-5,
    );
    near(
        &reagent(&plan, "substance", "soda")["dissolved_concentration"],
        0.52836,
        1e-5,
    );
    near(&expected(&plan, "chalk")["amount"], 1.0893, 5e-5);
    near(&reach(&plan, "soda"), 1.2137, 1e-4);

    let plan = json(&["calcium-phosphate"]);
    near(&plan["water_ml"]["each"], 90.0, 1e-9);
    near(
        &reagent(&plan, "substance", "chloride")["dissolved_concentration"],
        0.34012,
        1e-5,
    );
    near(
        &reagent(&plan, "substance", "phosphate")["dissolved_concentration"],
        0.27184,
        1e-5,
    );
    near(&expected(&plan, "solid")["amount"], 1.0550, 5e-5);
    near(&reach(&plan, "phosphate"), 1.1989, 1e-4);

    // Water that is nobody's own makes no solution.
    let lab = changed("zinc-copper-sulfate", "salt_water =", "water =");
    let plan = json(&[&lab]);
    near(&plan["water_ml"]["each"], 125.0, 1e-9);
    assert!(reagent(&plan, "substance", "salt")["dissolved_concentration"].is_null());
}

/// 0.038 g of magnesium, M = 24.305 g/mol, is 0.00156346 mol. Water at 20 °C has 2.339 kPa (IAPWS: 2.3392 kPa), R = 8.314463 kPa·L/(kmol·K):
/// 0.00156346 · 8.314463 · 293.15 ÷ (101.3 − 2.339) = 0.038508 L. First order, by hand: volume 0.150 %, temperature 0.5 °C ÷ √3 times
/// (1/293.15 + 0.145/98.96) with dp/dT = 0.145 kPa/K 0.141 %, pressure 0.058 %, mass 0.076 %; together 0.227 %.
#[test]
fn a_gas_is_planned_by_the_volume_that_the_tube_must_hold() {
    let plan = json(&["hydrogen-over-water", "--groups", "14"]);
    let hydrogen = expected(&plan, "hydrogen");
    near(&hydrogen["gas_ml"], 38.508, 0.01);
    near(&hydrogen["amount"], 0.001_563_46, 1e-8);
    assert_eq!(hydrogen["unit"], "mol");
    near(&plan["percent_yield_standard_uncertainty"], 0.227, 0.002);
    assert!(plan["halving_factor"].is_null());
    assert_eq!(plan["in_excess"][0], "acid");
    assert_eq!(plan["vessels"].as_array().unwrap().len(), 0);
    let (page, _) = page(&["hydrogen-over-water"]);
    assert!(
        page.contains("hydrochloric acid, in excess: as much as your procedure says"),
        "{page}"
    );
    assert!(page.contains("38.5\u{a0}mL (0.00156\u{a0}mol)"), "{page}");
}

/// M(CaCO₃) = 100.086 g/mol, M(CO₂) = 44.009 g/mol: 4.3 g are 0.042963 mol and lose 1.8908 g; 50 mL of 2.00 mol/L acid are 0.100 mol, 1.1638
/// times the need. M(NaCl) = 58.44 g/mol: 1.06 g of soda are 0.0100012 mol and give 1.1689 g. By hand.
#[test]
fn vessels_and_liquids_are_those_on_the_bench() {
    let plan = json(&["marble-and-acid"]);
    assert_eq!(
        plan["vessels"],
        serde_json::json!(["flask with acid, and a plug of cotton wool"])
    );
    near(&expected(&plan, "gas")["amount"], 1.8908, 5e-5);
    near(&reach(&plan, "acid"), 1.1638, 1e-4);
    near(&plan["liquid_left_ml"]["each"], 50.0, 1e-9);

    let plan = json(&["salt-by-evaporation"]);
    near(&expected(&plan, "salt")["amount"], 1.1689, 5e-5);
    near(&plan["liquid_left_ml"]["all"], 0.0, 1e-12);
    let (page, _) = page(&["salt-by-evaporation"]);
    assert!(!page.contains("liquid left over"), "{page}");
}

/// By hand, from the square sum: aspirin's yield hangs on the salicylic acid's single weighing (1/2.0²) and the crystals' (1/2.6087²), both zeroed
/// once: 0.63 to 0.37; doubling the salicylic acid alone doubles both, and the anhydride, 3.65 times, still suffices.
#[test]
fn the_mass_that_halves_the_uncertainty_is_named() {
    let plan = json(&["aspirin"]);
    assert_eq!(plan["halving_factor"], 2.0);
    assert_eq!(plan["halving_of"], serde_json::json!(["salicylic"]));
    let (page, _) = page(&["aspirin"]);
    assert!(
        page.contains("salicylic acid, balance zeroed with the boat (63\u{a0}%)"),
        "{page}"
    );
    assert!(
        page.contains(
            "To halve it: 4.00\u{a0}g instead of 2.0\u{a0}g of salicylic acid; the rest as planned."
        ),
        "{page}"
    );
    // With soda only 1.21 times what is needed, twice the chloride alone would run the soda out first.
    let plan = json(&["calcium-carbonate-precipitate"]);
    assert_eq!(plan["halving_of"], serde_json::json!(["chloride", "soda"]));
}

#[test]
fn what_is_too_light_or_too_close_is_said() {
    // 0.6 g of crystals give 0.153 g of copper: 15 steps of the balance. 0.16 g of zinc are 0.002447 mol for 0.002403: 1.02 times.
    let lab = changed("zinc-copper-sulfate", "= \"6.0 g\"", "= \"0.60 g\"");
    let lab = changed(&lab, "= \"4.4 g\"", "= \"0.16 g\"");
    let plan = json(&[&lab]);
    assert_eq!(expected(&plan, "copper")["figures"], 2);
    assert_eq!(expected(&plan, "zinc")["measurable"], false);
    let (page, _) = page(&[&lab]);
    for says in [
        "two figures only",
        "too little to be told from nothing",
        "For three figures of copper, 6.6 times as much of everything is needed.",
        "of zinc there is 1.02 times what is needed, so close that a group's weighing decides",
    ] {
        assert!(page.contains(says), "{says}: {page}");
    }
}

#[test]
fn a_planned_line_that_makes_no_sense_is_named() {
    for (from, to, says) in [
        ("zinc       = ", "zink = ", "Did you mean zinc?"),
        (
            "= \"3 of 25 mL\"",
            "= \"thrice\"",
            "write it like \"3 of 25 mL\"",
        ),
        ("= \"50 mL\"", "= \"50 g\"", "write it like \"50 mL\""),
        (
            "= \"12 beakers\"",
            "= \"many\"",
            "write it like \"12 beakers\"",
        ),
        ("= \"4.4 g\"", "= \"some\"", "write it like \"6.0 g\""),
        ("= \"4.4 g\"", "= \"4 mL\"", "the lab reads no volume of it"),
        ("zinc       = \"4.4 g\"", "", "plans no amount of zinc"),
    ] {
        let lab = changed("zinc-copper-sulfate", from, to);
        let (page, good) = page(&[&lab]);
        assert!(good && page.contains(says), "{to}: {page}");
    }
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

/// 14 groups × 3 trials × 0.038 g × 1.15.
#[test]
fn every_trial_of_a_group_is_counted() {
    let (text, good) = page(&["hydrogen-over-water", "--groups", "14"]);
    assert!(good, "{text}");
    assert!(
        text.contains("For 14 groups that do it 3 times each"),
        "{text}"
    );
    let row = text.lines().find(|line| line.starts_with("| magnesium "));
    assert!(row.unwrap().contains("1.84\u{a0}g"), "{row:?}");
    assert!(text.contains("| each trial |"), "{text}");
}

#[test]
fn every_built_in_lab_can_be_prepared() {
    for folder in std::fs::read_dir("samples").unwrap() {
        let lab = folder.unwrap().path().join("lab.toml");
        if !lab.is_file() {
            continue;
        }
        let (text, good) = page(&[lab.to_str().unwrap(), "--groups", "7"]);
        assert!(good, "{}: {text}", lab.display());
        // One of the labs is in German.
        let says = |english: &str, german: &str| text.contains(english) || text.contains(german);
        assert!(says("## Reagents", "## Chemikalien"), "{text}");
        assert!(
            says("as the teacher directs", "nach Anweisung der Lehrkraft")
                || !says("liquid left over", "Flüssigkeit, die am Ende übrig")
        );
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
        let (text, good) = page(words);
        assert!(!good && text.contains(says), "{text}");
    }
}

/// Washings with something else are no water, and a lab without water has none.
#[test]
fn what_is_washed_with_is_named_or_at_least_not_called_water() {
    let dry = changed(
        "magnesium-oxide",
        "[plan]",
        "[plan]\nwashes = \"2 of 3 mL\"",
    );
    let (said, _) = page(&[&dry, "--groups", "10", "--spare", "0"]);
    assert!(
        said.contains("| washing liquid ") && !said.contains("distilled water"),
        "{said}"
    );
    let toluene = changed(&dry, "[plan]", "[plan]\nwash_liquid = \"toluene\"");
    let (said, _) = page(&[&toluene, "--groups", "10", "--spare", "0"]);
    assert!(said.contains("| toluene for the washings "), "{said}");
    let plan = json(&[&toluene, "--groups", "10", "--spare", "0"]);
    assert_eq!(plan["wash_liquid"], "toluene");
    near(&plan["wash_liquid_ml"]["all"], 60.0, 1e-9);
    near(&plan["water_ml"]["all"], 0.0, 1e-9);
    // Where the lab has water besides, the two are apart.
    let both = changed(
        "zinc-copper-sulfate",
        "[plan]",
        "[plan]\nwash_liquid = \"ethanol\"",
    );
    let (said, _) = page(&[&both]);
    assert!(
        said.contains("| ethanol for the washings ") && said.contains("| distilled water, without"),
        "{said}"
    );
    let plan = json(&[&both, "--spare", "0"]);
    near(&plan["water_ml"]["each"], 50.0, 1e-9);
    near(&plan["wash_liquid_ml"]["each"], 75.0, 1e-9);
    near(&plan["liquid_left_ml"]["each"], 125.0, 1e-9);
    let water = changed(
        "zinc-copper-sulfate",
        "[plan]",
        "[plan]\nwash_liquid = \"cold water\"",
    );
    near(
        &json(&[&water, "--spare", "0"])["water_ml"]["each"],
        125.0,
        1e-9,
    );
}

/// 2 drops for 10 groups with 15 % to spare are 23.
#[test]
fn what_is_counted_is_counted_for_all() {
    let (said, _) = page(&["zinc-iodide", "--groups", "10", "--spare", "15"]);
    let row = said.lines().find(|line| line.starts_with("| acetic acid"));
    assert!(row.is_some_and(|row| row.contains(" 23 drops |")), "{said}");
    let plan = json(&["zinc-iodide", "--groups", "10", "--spare", "15"]);
    assert_eq!(one(&plan["supplies"], "name", "acetic_acid")["count"], 23);
}

/// By hand, M(MgSO4) = 120.361, M(H2O) = 18.015, x = 7: 2.8 g × 120.361 ÷ 246.466 = 1.3674 g and the rest, 1.4326 g, water.
#[test]
fn a_hydrate_is_planned_with_its_accepted_waters() {
    let plan = json(&["unknown-hydrate"]);
    near(&expected(&plan, "residue")["amount"], 1.3674, 2e-4);
    near(&expected(&plan, "water")["amount"], 1.4326, 2e-4);
    let open = changed("unknown-hydrate", "waters  = 7 ", "");
    assert_eq!(json(&[&open])["expected"], serde_json::json!([]));
}

/// Of 40 mmol of base 2.70 g of FeCl3·6H2O (98.0 %, M = 270.29) take 29.37: 10.63 mmol are left, of 250 mL a tenth is titrated.
#[test]
fn a_leftover_that_is_titrated_has_its_titre() {
    let lab = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("gramleaf-plan-titre.toml");
    let text = "id = \"left\"\ntitle = \"Base left\"\nequation = \"FeCl3 + 3 NaOH -> Fe(OH)3 + 3 NaCl\"\n\
        [substance.salt]\nformula = \"FeCl3\"\nweighed_as = \"FeCl3·6H2O\"\nbefore = \"salt\"\npurity = \"98.0 %\"\n\
        [substance.lye]\nformula = \"NaOH\"\nbefore = \"lye_volume * lye_molarity\"\nafter = \"titre * acid_molarity * 250 / 25\"\n\
        [given]\nlye_molarity = \"2.00 mol/L\"\nacid_molarity = \"0.1000 mol/L\"\n\
        [instrument.balance]\nunit = \"g\"\nreadability = \"0.01 g\"\n[instrument.burette]\nunit = \"mL\"\ntolerance = \"0.05 mL\"\n\
        [day.1]\ntitle = \"All\"\nreadings = [\n{ name = \"salt_mass\", label = \"salt\" },\n\
        { name = \"lye_volume\", label = \"lye\", unit = \"mL\", instrument = \"burette\" },\n\
        { name = \"titre\", label = \"acid used\", unit = \"mL\", instrument = \"burette\" },\n]\n\
        [plan]\nsalt = \"2.70 g\"\nlye = \"20 mL\"\n"
        .replace("before = \"salt\"", "before = \"salt_mass\"");
    std::fs::write(&lab, text).expect("written");
    let lab = lab.to_str().expect("a plain path");
    let plan = json(&[lab]);
    near(&expected(&plan, "lye")["titre_ml"], 10.63, 0.01);
    assert_eq!(expected(&plan, "lye")["three_figures"], true);
    let (said, _) = page(&[lab]);
    assert!(said.contains("left: 10.6\u{a0}mL on “acid used”"), "{said}");
}

/// 20 mL of a solution of 1.038 g/mL and 5.0 % hold 1.038 g of potassium iodide and weigh 20.76 g; 336 mL for 7 groups that do it twice
/// with 20 % to spare hold 17.4 g. By hand.
#[test]
fn a_solution_holds_what_a_pure_liquid_weighs_and_every_trial_has_a_vessel() {
    let lab = r#"
id = "rain"
title = "Golden rain"
equation = "Pb(NO3)2(aq) + KI(aq) -> PbI2(s) + KNO3(aq)"
trials = 2
[substance.lead]
formula = "Pb(NO3)2"
before = "lead_volume * lead_conc"
[substance.iodide]
formula = "KI"
name = "potassium iodide"
before = "iodide_volume * iodide_density * iodide_percent / 100"
[substance.gold]
formula = "PbI2"
after = "paper_gold - paper"
yield = true
[given]
lead_conc = "0.10 mol/L"
iodide_density = "1.038 g/mL"
iodide_percent = "5.0"
[day.1]
title = "All"
readings = [
  { name = "lead_volume", label = "lead nitrate solution", unit = "mL" },
  { name = "iodide_volume", label = "potassium iodide solution", unit = "mL" },
  { name = "paper", label = "filter paper", unit = "g" },
  { name = "paper_gold", label = "paper with the solid", unit = "g" },
]
[plan]
lead = "25 mL"
iodide = "20 mL"
oven_shelf = "4 papers"
"#;
    let path = std::path::Path::new(env!("CARGO_TARGET_TMPDIR"))
        .join(format!("gramleaf-plan-rain-{}.toml", std::process::id()));
    std::fs::write(&path, lab).expect("written");
    let path = path.to_str().expect("a plain path");
    let arguments = ["--groups", "7", "--spare", "20%"];
    let printed = |path: &str| {
        let (text, good) = page(&[&[path], &arguments[..]].concat());
        assert!(good, "{text}");
        text.replace('\u{a0}', " ")
    };
    let text = printed(path);
    assert!(
        text.contains(
            "20 mL of the solution hold 1.04 g of potassium iodide; 336 mL for all hold 17.4 g."
        ),
        "{text}"
    );
    assert!(!text.contains("weigh 1.04"), "{text}");
    let row = |text: &str, what: &str| {
        let mut lines = text.lines();
        let line = lines.find(|line| line.contains(what)).expect("a row");
        line.split('|')
            .map(|cell| cell.trim().to_owned())
            .collect::<Vec<_>>()
    };
    assert_eq!(row(&text, "| potassium iodide, in solution")[2], "KI");
    assert_eq!(row(&text, "| filter paper")[2..4], ["1", "14"]);
    // 14 papers, 4 on a shelf.
    assert_eq!(
        row(&text, "shelves of the oven, 4 papers on each, one for each")[3],
        "4"
    );
    assert!(text.contains("counted for every trial"), "{text}");
    // In a millilitre it is the solution's own concentration by mass, too light for any liquid.
    let by_mass = changed(
        &changed(path, " * iodide_percent / 100\"", "\""),
        "1.038 g/mL",
        "0.052 g/mL",
    );
    assert!(printed(&by_mass).contains("of the solution hold 1.04 g"));
    let (text, _) = page(&["aspirin", "--groups", "14"]);
    let text = text.replace('\u{a0}', " ");
    assert!(
        text.contains("acetic anhydride weigh 5.40 g") && !text.contains("of the solution hold"),
        "{text}"
    );
}

/// 500 mL × 2.00 mol/L × 80.0 % are 0.800 mol HCl, 29.17 g; whoever makes the solution weighs 36.46 g of what is 80.0 % pure. By hand.
#[test]
fn a_solution_of_what_is_not_pure_takes_more_from_the_bottle() {
    let formula = "formula = \"HCl\"";
    let lab = changed(
        "marble-and-acid",
        formula,
        &format!("{formula}\npurity = \"80.0 %\""),
    );
    let printed = |lab: &str| {
        let (text, good) = page(&[lab, "--groups", "10", "--spare", "0"]);
        assert!(good, "{text}");
        text.replace('\u{a0}', " ")
    };
    let said = printed(&lab);
    assert!(said.contains("hold 0.800 mol of HCl, 29.2 g."), "{said}");
    let bottle = "Of HCl with a purity of 80.0 % that is 36.5 g as it comes from its bottle.";
    assert!(said.contains(bottle), "{said}");
    assert!(!printed("marble-and-acid").contains("from its bottle"));
}
