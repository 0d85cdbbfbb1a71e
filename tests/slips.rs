//! How well answers are judged: slips are recognised, honest answers are never sent back, chance matches are rare.

#![allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::cast_lossless,
    clippy::cast_precision_loss,
    clippy::float_cmp,
    reason = "the numbers of a school lab are small, and habits are told apart by the very number written here"
)]

use std::path::Path;
use std::path::PathBuf;

use gramleaf::answers::Judged;
use gramleaf::answers::Verdict;
use gramleaf::answers::judge;
use gramleaf::answers::slips;
use gramleaf::lab::Lab;
use gramleaf::measure::Decimal;
use gramleaf::measure::Unit;
use gramleaf::problem::Source;
use gramleaf::record::Answer;
use gramleaf::record::Content;
use gramleaf::record::Record;
use gramleaf::working::Graph;
use gramleaf::working::Kind;
use gramleaf::working::Worked;

/// A lab, planned, and one record of it.
struct Bench {
    name: String,
    lab: Lab,
    graph: Graph,
    record: Record,
}

impl Bench {
    fn read(lab: &Path, data: &Path) -> Self {
        Self::with(lab, data, |text| text)
    }

    /// A record whose text is changed first.
    fn with(lab: &Path, data: &Path, change: impl FnOnce(String) -> String) -> Self {
        let source = |path: &Path| Source {
            name: path.display().to_string(),
            text: std::fs::read_to_string(path).expect("a readable file"),
        };
        let (description, _) = gramleaf::lab::check::check(&source(lab));
        let lab = description.unwrap_or_else(|| panic!("{}", lab.display()));
        let (graph, _) = gramleaf::working::plan::plan(&lab);
        let steps: Vec<String> = graph.steps().iter().map(|step| step.id.clone()).collect();
        let written = gramleaf::record::read(Source {
            text: change(source(data).text),
            ..source(data)
        });
        let (mut record, _) = gramleaf::record::check(&written, &lab, &steps);
        record.answers.clear();
        Self {
            name: data.display().to_string(),
            lab,
            graph,
            record,
        }
    }

    fn zinc() -> Self {
        let folder = root().join("samples/zinc-copper-sulfate");
        Self::read(&folder.join("lab.toml"), &folder.join("3-07.toml"))
    }

    /// Judges answers, each a step and a text.
    fn judge(&self, answers: &[(&str, String)]) -> Judged {
        let mut record = self.record.clone();
        record.answers = given(answers);
        let (worked, _) = gramleaf::working::work(&self.lab, &self.graph, &mut record);
        judge(&self.lab, &self.graph, &record, &worked).0
    }

    fn verdict(&self, judged: &Judged, step: &str) -> Verdict {
        let id = self
            .graph
            .find(step)
            .unwrap_or_else(|| panic!("no step {step}"));
        judged.of(id).expect("a judgement").verdict
    }

    fn slips(&self, judged: &Judged, step: &str) -> Vec<&'static str> {
        let id = self.graph.find(step).expect("a step");
        judged
            .of(id)
            .expect("a judgement")
            .slips
            .iter()
            .map(|slip| slip.id)
            .collect()
    }
}

/// Answers as a data file holds them, each a step and a text.
fn given(answers: &[(&str, String)]) -> Vec<Answer> {
    let one = |(step, typed): &(&str, String)| Answer {
        step: (*step).to_owned(),
        typed: typed.clone(),
        span: 0..0,
    };
    answers.iter().map(one).collect()
}

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// Every lab with one complete record: the samples.
fn benches() -> Vec<Bench> {
    let mut found = Vec::new();
    let mut folders: Vec<PathBuf> = std::fs::read_dir(root().join("samples"))
        .expect("a folder")
        .map(|entry| entry.expect("an entry").path())
        .collect();
    folders.sort();
    for lab in folders
        .into_iter()
        .filter(|folder| folder.join("lab.toml").exists())
    {
        let mut files: Vec<PathBuf> = std::fs::read_dir(&lab)
            .expect("a folder")
            .map(|entry| entry.expect("an entry").path())
            .collect();
        files.sort();
        let data = files.iter().filter(|file| {
            file.extension().is_some_and(|e| e == "toml") && !file.ends_with("lab.toml")
        });
        let complete = data
            .map(|data| Bench::read(&lab.join("lab.toml"), data))
            .find(|bench| {
                bench
                    .record
                    .readings
                    .iter()
                    .all(|reading| reading.usable().is_some())
            });
        found.extend(complete);
    }
    found
}

/// A generator of numbers from 0 to 1, the same every run (a 64-bit linear congruence with Knuth's constants, from memory).
struct Dice(u64);

impl Dice {
    fn roll(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.roll()
    }
}

/// A number to so many figures, as a student writes it.
fn figures(value: f64, figures: i32) -> String {
    if value == 0.0 {
        return "0".to_owned();
    }
    let exponent = value.abs().log10().floor() as i32;
    let places = figures - 1 - exponent;
    if places >= 0 {
        format!("{value:.0$}", places as usize)
    } else {
        let power = 10.0_f64.powi(-places);
        format!("{:.0}", (value / power).round() * power)
    }
}

fn unit(bench: &Bench, step: &str) -> Unit {
    bench
        .graph
        .step(bench.graph.find(step).expect("a step"))
        .unit
}

fn with_unit(text: &str, unit: Unit) -> String {
    if unit == Unit::One {
        text.to_owned()
    } else {
        format!("{text} {unit}")
    }
}

/// Values of the aluminium lab with the slips named, worked by hand and by script apart from the program: salt dish
/// 1.62 g, with salt 5.71 g, aluminium 1.27 g, beaker 98.46 g, with copper 101.12 / 99.94 / 99.91 g, metal dish 1.95 g, with metal 2.76 g.
#[test]
fn slips_worked_by_hand_are_recognised() {
    let folder = root().join("samples/aluminium-copper-chloride");
    let bench = Bench::with(
        &folder.join("lab.toml"),
        &folder.join("5-03.toml"),
        |text| {
            text.replace(
                r#"["99.94 g", "99.91 g", "", ""]"#,
                r#"["101.12 g", "99.94 g", "99.91 g"]"#,
            )
        },
    );
    assert_eq!(
        bench
            .record
            .readings
            .iter()
            .map(|reading| reading.entries.len())
            .max(),
        Some(3)
    );
    let ids = |kind: fn(&str) -> bool| {
        bench
            .graph
            .steps()
            .iter()
            .map(|step| step.id.clone())
            .find(|id| kind(id))
            .expect("a step")
    };
    let mass = ids(|id| id.starts_with("mass_") && id != "mass_aluminium" && id != "mass_kept");
    let theory = ids(|id| id.starts_with("theoretical_"));
    let left = ids(|id| id.starts_with("expected_left_al"));
    let used = ids(|id| id.starts_with("used_"));
    let collected = ids(|id| id.starts_with("collected_"));
    let ratio = ids(|id| id.starts_with("ratio_"));
    let moles = mass.replace("mass_", "moles_");
    for (step, answer, slip) in [
        (&mass, "5.71 g", "container-left-in"),
        (&theory, "2.128 g", "container-left-in"),
        (&mass, "3.76 g", "another-container"),
        (&mass, "2.47 g", "container-taken-twice"),
        (&mass, "7.33 g", "container-added"),
        (&mass, "-4.09 g", "subtracted-backwards"),
        (&collected, "2.66 g", "first-drying"),
        (&collected, "1.48 g", "earlier-drying"),
        (&used, "0.81 g", "left-for-used"),
        (&used, "1.27 g", "start-for-used"),
        (&used, "1.49 g", "vessel-in-leftover"),
        (&mass, "4.90 g", "digits-swapped"),
        (&theory, "1.933 g", "water-left-out"),
        (&theory, "1.705 g", "water-counted-once"),
        (&theory, "1.682 g", "water-half-counted"),
        (&theory, "1.543 g", "water-half-counted"),
        (&theory, "0.0537 g", "dot-multiplied"),
        (&theory, "1.925 g", "subscript-ignored"),
        (&theory, "0.508 g", "coefficient-in-molar-mass"),
        (&theory, "0.696 g", "atomic-number"),
        (&theory, "3.049 g", "pairs-of-atoms"),
        (&theory, "0.647 g", "molar-mass-of-another"),
        (&theory, "1.414 g", "look-alike-symbol"),
        (&moles, "697 mol", "molar-mass-multiplied"),
        (&moles, "41.7 mol", "molar-mass-upside-down"),
        (&theory, "0.000378 g", "divided-on-the-way-back"),
        (&theory, "0.02399 g", "stopped-at-moles"),
        (&moles, "6.79e-24 mol", "avogadro-number"),
        (&moles, "0.183 mol", "gas-volume"),
        (&theory, "15.25 g", "decimal-point"),
        (&left, "0.623 g", "ratio-ignored"),
        (&left, "0.299 g", "ratio-turned-over"),
        (&theory, "2.287 g", "another-ratio"),
        (&theory, "4.09 g", "mass-for-mass"),
        (&theory, "4.487 g", "from-the-excess-reactant"),
        (&theory, "6.011 g", "yields-added"),
        (&theory, "2.133 g", "another-product"),
        (&theory, "3.199 g", "another-product"),
        (&theory, "1.625 g", "from-what-was-used"),
        (&left, "0.0311 g", "leftover-in-moles"),
        (&left, "0.432 g", "used-for-leftover"),
        (&left, "-2.82 g", "unlike-subtracted"),
        (&left, "1.975 g", "leftover-with-another-molar-mass"),
        (&left, "0.203 g", "coefficient-in-the-leftover"),
        (&left, "0.81 g", "measured-for-predicted"),
        (
            &"percent_yield".to_owned(),
            "105.1 %",
            "percent-upside-down",
        ),
        (&"percent_yield".to_owned(), "0.951", "fraction-for-percent"),
        (&"percent_yield".to_owned(), "9511 %", "hundred-twice"),
        (&"percent_yield".to_owned(), "4.891 %", "percent-error"),
        (
            &"percent_yield".to_owned(),
            "5.143 %",
            "percent-error-of-found",
        ),
        (&"percent_yield".to_owned(), "5.014 %", "percent-difference"),
        (
            &"percent_yield".to_owned(),
            "35.5 %",
            "percent-of-the-reactant",
        ),
        (
            &"percent_yield".to_owned(),
            "89.23 %",
            "percent-of-what-was-used",
        ),
        (&"percent_yield".to_owned(), "6553 %", "vessel-on-top"),
        (&"percent_yield".to_owned(), "1.497 %", "grams-over-moles"),
        (&"percent_yield".to_owned(), "37.3 %", "percent-composition"),
        (&"percent_yield".to_owned(), "174.5 %", "first-drying"),
        (&ratio, "0.747", "ratio-upside-down"),
        (&ratio, "3.152", "ratio-of-grams"),
        (&ratio, "0.485", "ratio-of-the-start"),
        (&ratio, "0.760", "ratio-of-the-leftover"),
        (&ratio, "1.407", "theory-for-data"),
        (&ratio, "7.42", "masses-multiplied"),
        (&ratio, "3:2", "other-whole-numbers"),
        (&theory, "1.271 g", "rounded-too-early"),
    ] {
        let judged = bench.judge(&[(step.as_str(), answer.to_owned())]);
        let offered = bench.slips(&judged, step);
        assert!(
            offered.contains(&slip),
            "{step} = {answer}: expected {slip}, offered {offered:?}, {:?}",
            bench.verdict(&judged, step)
        );
    }
}

#[test]
fn ids_are_unique_and_no_prompt_holds_a_number() {
    let mut ids: Vec<&str> = slips::all().map(|slip| slip.id).collect();
    assert!(ids.len() >= 60, "{}", ids.len());
    ids.sort_unstable();
    let count = ids.len();
    ids.dedup();
    assert_eq!(ids.len(), count);
    for slip in slips::all() {
        assert!(
            slip.id.bytes().all(|b| b.is_ascii_lowercase() || b == b'-'),
            "{}",
            slip.id
        );
        assert!(
            !slip.prompt.chars().any(char::is_numeric),
            "{}",
            slip.prompt
        );
        assert!(
            slip.prompt.ends_with(['.', '?', ':']) && slip.prompt.len() > 15,
            "{}",
            slip.prompt
        );
    }
}

/// Every slip in every lab at every asked step, the answer to 3, 4 and 5 figures.
#[test]
fn slips_are_recognised_where_they_can_be_told_from_the_right_value() {
    let mut cases = 0;
    let mut found = 0;
    let mut told_apart = 0;
    let mut missed: Vec<String> = Vec::new();
    let mut seen: std::collections::BTreeSet<&str> = std::collections::BTreeSet::new();
    for bench in benches() {
        let mut record = bench.record.clone();
        let (worked, _) = gramleaf::working::work(&bench.lab, &bench.graph, &mut record);
        for id in bench.graph.ids() {
            let step = bench.graph.step(id);
            let Some(value) = worked
                .value(id)
                .filter(|_| step.asked.is_some() && step.kind != Kind::Limiting)
            else {
                continue;
            };
            let right = value.approximate();
            for slip in slips::all() {
                for digits in 3..=5 {
                    for wrong in slips::wrong_values(
                        slip,
                        (&bench.lab, &bench.graph, &record, &worked),
                        id,
                        digits,
                    ) {
                        let base = 10.0_f64.powi(step.unit.power_to_base());
                        let text = figures(wrong / base, digits);
                        let typed: f64 = text.parse().unwrap_or(f64::NAN);
                        // Told apart from the right value by more than rounding, and a size that students would write.
                        let clear =
                            (typed * base - right).abs() > 0.02 * right.abs() + 0.02 * wrong.abs();
                        if !clear
                            || !typed.is_finite()
                            || wrong.abs() > 1e9 * right.abs()
                            || wrong.abs() < 1e-9 * right.abs()
                        {
                            continue;
                        }
                        cases += 1;
                        let answer = with_unit(&text, step.unit);
                        let judged = bench.judge(&[(step.id.as_str(), answer.clone())]);
                        let offered = bench.slips(&judged, &step.id);
                        if offered.contains(&slip.id) {
                            found += 1;
                            seen.insert(slip.id);
                            told_apart += usize::from(offered.len() == 1);
                        } else {
                            missed.push(format!(
                                "{}: {} = {answer}: {}, offered {offered:?}, {:?}",
                                bench.name,
                                step.id,
                                slip.id,
                                bench.verdict(&judged, &step.id)
                            ));
                        }
                    }
                }
            }
        }
    }
    let rate = 100.0 * found as f64 / cases as f64;
    println!(
        "recognised: {found} of {cases} wrong answers, {rate:.1} %; {told_apart} of them with one slip only; {} slips seen",
        seen.len()
    );
    for line in missed.iter().take(20) {
        println!("missed: {line}");
    }
    assert!(cases > 2_000, "{cases}");
    assert!(rate >= 95.0, "{rate}");
    assert!(seen.len() >= 60, "{}: {seen:?}", seen.len());
}

/// Wrong answers drawn log-uniformly within ×½ … ×2 of the right theoretical yield: how many look like a slip by chance, by themselves
/// and behind moles typed to three figures, where a slip is looked for on both lines.
#[test]
fn chance_matches_are_rare() {
    let bench = Bench::zinc();
    let aluminium = {
        let folder = root().join("samples/aluminium-copper-chloride");
        Bench::read(&folder.join("lab.toml"), &folder.join("5-03.toml"))
    };
    for (bench, lab) in [(&bench, "zinc"), (&aluminium, "aluminium")] {
        let mut record = bench.record.clone();
        let (worked, _): (Worked<'_>, _) =
            gramleaf::working::work(&bench.lab, &bench.graph, &mut record);
        let id = bench
            .graph
            .ids()
            .find(|id| matches!(bench.graph.step(*id).kind, Kind::Theoretical(_)))
            .expect("a yield");
        let step = bench.graph.step(id);
        let right = worked.value(id).expect("a value").approximate();
        let moles = bench.graph.ids().filter_map(|id| {
            let step = bench.graph.step(id);
            let asked = step.asked.is_some() && matches!(step.kind, Kind::Moles(_));
            let value = worked.value(id).filter(|_| asked)?.approximate();
            Some((step.id.as_str(), format!("{} mol", figures(value, 3))))
        });
        let moles = given(&moles.collect::<Vec<_>>());
        assert!(!moles.is_empty());
        for (digits, earlier, goal) in [
            (4, false, 8.0),
            (4, true, 8.0),
            (3, false, 100.0),
            (3, true, 100.0),
        ] {
            let mut dice = Dice(7);
            let (mut wrong, mut matched) = (0, 0);
            while wrong < 3_000 {
                let value = right * 2.0_f64.powf(dice.between(-1.0, 1.0));
                record.answers = if earlier { moles.clone() } else { Vec::new() };
                record.answers.push(Answer {
                    step: step.id.clone(),
                    typed: format!("{} g", figures(value, digits)),
                    span: 0..0,
                });
                let (judged, _) = judge(&bench.lab, &bench.graph, &record, &worked);
                let judgement = judged.of(id).expect("a judgement");
                if judgement.verdict != Verdict::LookAgain {
                    continue;
                }
                wrong += 1;
                matched += usize::from(!judgement.slips.is_empty());
            }
            let rate = 100.0 * matched as f64 / wrong as f64;
            println!(
                "{lab}, {digits} figures, moles typed {earlier}: {rate:.1} % of wrong answers look like a slip by chance"
            );
            assert!(rate <= goal, "{lab}: {rate}");
        }
    }
}

/// A way to write down what was worked out.
type Habit = (&'static str, f64, fn(f64, bool) -> f64);

/// Rounds to figures, or to decimals when `moles`.
const HABITS: [Habit; 6] = [
    ("full precision, Cu 63.5", 63.5, |value, _| value),
    ("full precision, Cu 63.55", 63.55, |value, _| value),
    ("full precision, Cu 63.546", 63.546, |value, _| value),
    ("four figures at each step", 63.546, |value, _| {
        rounded(value, 4)
    }),
    ("three figures at each step", 63.546, |value, _| {
        rounded(value, 3)
    }),
    ("moles to four decimals", 63.546, |value, moles| {
        if moles {
            (value * 1e4).round() / 1e4
        } else {
            value
        }
    }),
];

fn rounded(value: f64, to: i32) -> f64 {
    figures(value, to).parse().unwrap_or(value)
}

/// 10,000 random groups for each habit; the student's arithmetic is the test's own.
#[test]
fn no_honest_answer_is_sent_back() {
    let bench = Bench::zinc();
    let mut dice = Dice(11);
    let mut wrong: Vec<String> = Vec::new();
    let mut answers = 0;
    let mut record = bench.record.clone();
    for group in 0..10_000 {
        let centi = |value: f64| (value * 100.0).round() / 100.0;
        let salt = centi(dice.between(4.5, 7.5));
        let zinc = centi(dice.between(2.5, 5.5));
        let completion = dice.between(0.9, 1.05);
        let recovery = dice.between(0.85, 1.08);
        let needed = salt / 249.677 * 65.38;
        let used = centi((needed * completion).min(zinc - 0.05));
        let left = centi(zinc - used);
        let copper = centi(used / 65.38 * 63.546 * recovery);
        let set = |record: &mut Record, name: &str, value: f64| {
            let index = bench
                .lab
                .reading_index(name)
                .unwrap_or_else(|| panic!("{name}"));
            let entry = record.readings[index].entries.last_mut().expect("an entry");
            let Content::Value(reading) = &mut entry.content else {
                panic!("a value")
            };
            reading.number = Decimal::new((value * 100.0).round() as i128, 2);
        };
        for (name, value) in [
            ("dish_empty", 2.45),
            ("dish_with_salt", 2.45 + salt),
            ("zinc_before", zinc),
            ("beaker_empty", 104.18),
            ("beaker_with_copper", 104.18 + copper),
            ("zinc_dish_empty", 2.38),
            ("zinc_dish_with_zinc", 2.38 + left),
        ] {
            set(&mut record, name, value);
        }
        for reading in &mut record.readings {
            reading.impossible = None;
        }
        let (worked, _) = gramleaf::working::work(&bench.lab, &bench.graph, &mut record);
        for (habit, cu, round) in HABITS {
            let m = |value: f64| round(value, true);
            let g = |value: f64| round(value, false);
            let molar_salt = if cu == 63.5 { 249.6 } else { 249.68 };
            let n_salt = m(salt / molar_salt);
            let n_zinc = m(zinc / 65.38);
            let salt_limits = n_salt < n_zinc;
            let extent = n_salt.min(n_zinc);
            let theory = g(extent * cu);
            let expected = if salt_limits {
                g(zinc - g(extent * 65.38))
            } else {
                0.0
            };
            let percent = g(100.0 * copper / theory);
            let ratio = g(m(copper / cu) / m(used / 65.38));
            let shown = |value: f64| {
                if habit.starts_with("full") {
                    figures(value, 6)
                } else if habit.starts_with("four") || habit.starts_with("moles") {
                    figures(value, 4)
                } else {
                    figures(value, 3)
                }
            };
            let moles = |value: f64| {
                if habit.starts_with("moles") {
                    format!("{value:.4} mol")
                } else {
                    format!("{} mol", shown(value))
                }
            };
            let limiting = if salt_limits {
                "copper(II) sulfate"
            } else {
                "zinc"
            };
            let typed = [
                ("mass_salt", format!("{salt:.2} g")),
                ("moles_salt", moles(n_salt)),
                ("moles_zinc", moles(n_zinc)),
                ("limiting", limiting.to_owned()),
                ("theoretical_copper", format!("{} g", shown(theory))),
                ("expected_left_zinc", format!("{} g", shown(expected))),
                ("collected_copper", format!("{copper:.2} g")),
                ("measured_left_zinc", format!("{left:.2} g")),
                ("used_zinc", format!("{used:.2} g")),
                ("percent_yield", format!("{} %", shown(percent))),
                ("ratio_copper_zinc", shown(ratio)),
            ];
            record.answers = given(&typed);
            let (judged, _) = judge(&bench.lab, &bench.graph, &record, &worked);
            for judgement in &judged.answers {
                answers += 1;
                if judgement.verdict == Verdict::LookAgain {
                    wrong.push(format!(
                        "group {group}, {habit}: salt {salt} zinc {zinc} copper {copper} used {used}: {} = {:?}, key {:?}",
                        bench.graph.step(judgement.step).id,
                        judgement.typed,
                        worked.value(judgement.step).map(gramleaf::working::Value::approximate)
                    ));
                }
            }
        }
    }
    println!("{answers} honest answers, {} sent back", wrong.len());
    for line in wrong.iter().take(10) {
        println!("{line}");
    }
    assert!(wrong.is_empty());
    assert!(unit(&bench, "percent_yield") == Unit::Percent);
}
