//! What follows from a wrong line counts as following, whatever names it: own masses in the place of readings, own molar masses, own
//! moles. And what is typed plainly is read.

#![allow(clippy::unwrap_used, reason = "a test stops at what it cannot use")]

mod support;

use gramleaf::answers::Judgement;
use gramleaf::answers::Verdict;
use gramleaf::answers::judge;
use gramleaf::lab::builtin::find;
use gramleaf::working::line::Standing;

const MAGNESIUM: &str = "[who]\nlab = \"magnesium-oxide\"\ngroup = \"6-01\"\n[day.1]\ncrucible = \"26.721 g\"\n\
crucible_with_magnesium = \"27.045 g\"\ncrucible_with_oxide = [\"27.239 g\", \"27.237 g\"]\n";
const HYDRATE: &str = "[who]\nlab = \"unknown-hydrate\"\ngroup = \"1-01\"\n[day.1]\ncrucible = \"25.412 g\"\n\
crucible_with_crystals = \"28.226 g\"\ncrucible_heated = [\"26.816 g\", \"26.814 g\"]\n";
const ZINC: &str = "[who]\nlab = \"zinc-copper-sulfate\"\ngroup = \"3-01\"\n[day.1]\ndish_empty = \"1.54 g\"\n\
dish_with_salt = \"7.90 g\"\nzinc_before = \"4.71 g\"\nbeaker_empty = \"97.70 g\"\nwater_added = \"50 mL\"\n[day.3]\n\
beaker_with_copper = [\"99.29 g\", \"99.27 g\"]\nzinc_dish_empty = \"2.05 g\"\nzinc_dish_with_zinc = \"5.08 g\"\n";
/// 1.33 ÷ 65.38 = 0.0203 mol of zinc runs out before 6.36 ÷ 249.68 = 0.0255 mol of the salt.
const LITTLE_ZINC: (&str, &str) = ("zinc_before = \"4.71 g\"", "zinc_before = \"1.33 g\"");
const CHALK: &str = "[who]\nlab = \"calcium-carbonate-precipitate\"\ngroup = \"2-01\"\n[day.1]\nchloride_boat = \"0.85 g\"\n\
chloride_boat_with_salt = \"2.45 g\"\nsoda_boat = \"0.85 g\"\nsoda_boat_with_salt = \"2.35 g\"\nwater_each = \"25 mL\"\npaper = \"0.98 g\"\n\
[day.2]\npaper_with_chalk = [\"2.05 g\", \"2.03 g\"]\n";

/// The judgements of some answers in a lab that is built in, the steps asked for or not, two points each; and the problems said.
fn judged(id: &str, data: &str, answers: &[(&str, &str)]) -> (Vec<Judgement>, Vec<String>) {
    let lab = find(id).unwrap();
    let (before, rest) = lab.split_once("[ask]").unwrap();
    let behind = rest.find("\n[").map_or("", |at| &rest[at..]);
    let steps: Vec<String> = answers
        .iter()
        .map(|(step, _)| format!("{step} = {{ points = 2 }}\n"))
        .collect();
    let lab = format!("{before}[ask]\n{}{behind}", steps.concat());
    let lines: Vec<String> = answers
        .iter()
        .map(|(step, typed)| format!("{step} = \"{typed}\"\n"))
        .collect();
    let data = format!("{data}[answers]\n{}", lines.concat());
    support::worked(&lab, &data, |lab, graph, record, worked| {
        let (judged, problems) = judge(lab, graph, record, worked);
        let said = problems.iter();
        let said = said.map(|problem| {
            format!(
                "{} {}",
                problem.message,
                problem.help.clone().unwrap_or_default()
            )
        });
        let by_step = answers.iter().map(|(step, _)| {
            let step = graph.find(step).unwrap();
            judged.of(step).unwrap().clone()
        });
        (by_step.collect(), said.collect())
    })
}

/// The verdicts of some answers.
fn verdicts(id: &str, data: &str, answers: &[(&str, &str)]) -> Vec<Verdict> {
    let (judged, problems) = judged(id, data, answers);
    assert!(problems.is_empty(), "{answers:?} {problems:?}");
    judged.iter().map(|judgement| judgement.verdict).collect()
}

use Verdict::Follows;
use Verdict::LookAgain;
use Verdict::Matches;

/// By hand: 0.516 − 0.342 = 0.174 g and 34.2 ÷ 0.516 = 66.3 %; 0.561 − 0.324 = 0.237 g and 32.4 ÷ 0.561 = 57.8 %. What is right by
/// the readings stays right, and what neither gives does not follow.
#[test]
fn own_masses_stand_in_for_the_readings_of_a_later_step() {
    let magnesium = |answers: &[_]| verdicts("magnesium-oxide", MAGNESIUM, answers);
    for (oxygen, percent, expected) in [
        ("0.174 g", "66.3 %", Follows),
        ("0.192 g", "62.8 %", Matches),
        ("0.163 g", "60.1 %", LookAgain),
    ] {
        let all = magnesium(&[
            ("mass_magnesium", "0.342 g"),
            ("collected_oxide", "0.516 g"),
            ("used_oxygen", oxygen),
            ("magnesium_percent", percent),
        ]);
        assert_eq!(all, [LookAgain, Matches, expected, expected], "{oxygen}");
    }
    let all = magnesium(&[
        ("collected_oxide", "0.561 g"),
        ("used_oxygen", "0.237 g"),
        ("magnesium_percent", "57.8 %"),
    ]);
    assert_eq!(all, [LookAgain, Follows, Follows]);
    // The first weighing taken for the last: 32.4 ÷ 0.518 = 62.5 %, less than 1 % from 62.8 %, is charged once.
    let (all, _) = judged(
        "magnesium-oxide",
        MAGNESIUM,
        &[
            ("collected_oxide", "0.518 g"),
            ("magnesium_percent", "62.5 %"),
        ],
    );
    assert_eq!(all[1].points, Some((2, 2)), "{:?}", all[1].verdict);
    // Milligrams called grams all the way down: 516 − 324 = 192. Each is right but for its unit, which is charged once, and nothing is said of
    // its digits.
    let (all, _) = judged(
        "magnesium-oxide",
        MAGNESIUM,
        &[
            ("mass_magnesium", "324 g"),
            ("collected_oxide", "516 g"),
            ("used_oxygen", "192 g"),
        ],
    );
    assert_eq!((all[2].verdict, all[2].points), (Matches, Some((2, 2))));
    let slips: Vec<&str> = all[2].slips.iter().map(|slip| slip.id).collect();
    assert_eq!(slips, ["prefix", "unit-of-another-kind"]);
    // Of a mass that is wrong by itself nothing is told from other lines.
    assert_eq!(all[1].own, None);
    // The oxide is weighed: 0.342 + (27.237 − 27.045) = 0.534 g is no line of anybody's.
    let all = magnesium(&[
        ("mass_magnesium", "0.342 g"),
        ("collected_oxide", "0.534 g"),
    ]);
    assert_eq!(all, [LookAgain, LookAgain]);
    // Both misread: 0.561 − 0.342 = 0.219 g, and 34.2 ÷ 0.561 = 61.0 %.
    let all = magnesium(&[
        ("mass_magnesium", "0.342 g"),
        ("collected_oxide", "0.561 g"),
        ("used_oxygen", "0.219 g"),
        ("magnesium_percent", "61.0 %"),
    ]);
    assert_eq!(all, [LookAgain, LookAgain, Follows, Follows]);
    // The moles of a relation that divides the same mass: 0.0157 ÷ (0.192 ÷ 15.999) = 1.31.
    let all = magnesium(&[
        ("moles_magnesium", "0.0157 mol"),
        ("magnesium_to_oxygen", "1.31"),
    ]);
    assert_eq!(all, [LookAgain, Follows]);
    // 2.814 − 1.420 = 1.394 g of water, with the mass of the crystals answered or not.
    for crystals in [&[][..], &[("mass_crystals", "2.814 g")]] {
        let answers = [
            crystals,
            &[
                ("collected_residue", "1.420 g"),
                ("collected_water", "1.394 g"),
            ],
        ];
        let all = verdicts("unknown-hydrate", HYDRATE, &answers.concat());
        assert_eq!(all[crystals.len()..], [LookAgain, Follows], "{crystals:?}");
    }
}

/// By hand: 1.50 ÷ 83 = 0.0181 mol; 1.60 ÷ 147.01 = 0.01088 mol takes × 83 = 0.903 g and leaves 0.60 g.
/// Zinc by 30 g/mol: 4.71 ÷ 30 = 0.157 mol; 4.71 − 6.36 ÷ 249.68 × 30 = 3.95 g; 1.57 ÷ 63.546 ÷ (1.68 ÷ 30) = 0.441.
#[test]
fn a_wrong_molar_mass_is_charged_once() {
    let chalk = |moles, left| {
        let answers = [("moles_soda", moles), ("expected_left_soda", left)];
        verdicts("calcium-carbonate-precipitate", CHALK, &answers)
    };
    assert_eq!(chalk("0.0181 mol", "0.60 g"), [LookAgain, Follows]);
    assert_eq!(chalk("0.0181 mol", "0.70 g"), [LookAgain, LookAgain]);
    // By 415 g/mol, far from any molar mass of it: 1.50 ÷ 415 = 0.00361 mol.
    assert_eq!(chalk("0.0400 mol", "1.09 g"), [LookAgain, LookAgain]);
    for (moles, left, ratio) in [
        ("0.157 mol", "3.95 g", "0.441"),
        // By 56.38 g/mol.
        ("0.0835 mol", "3.27 g", "0.829"),
    ] {
        let (judged, _) = judged(
            "zinc-copper-sulfate",
            ZINC,
            &[
                ("moles_zinc", moles),
                ("expected_left_zinc", left),
                ("ratio_copper_zinc", ratio),
            ],
        );
        let points: Vec<_> = judged.iter().map(|one| (one.verdict, one.points)).collect();
        let follows = (Follows, Some((2, 2)));
        // The atomic number is a slip that is known.
        let left = u32::from(moles == "0.157 mol");
        assert_eq!(
            points,
            [(LookAgain, Some((left, 2))), follows, follows],
            "{moles}"
        );
    }
}

/// Copper by its atomic number, 29: 0.02547 mol × 29 = 0.739 g; 1.57 ÷ 29 ÷ (1.68 ÷ 65.38) = 2.11.
#[test]
fn so_is_one_in_the_line_from_moles_to_grams() {
    for (theory, ratio) in [("0.739 g", "2.11"), ("1.643 g", "0.947")] {
        let answers = [("theoretical_copper", theory), ("ratio_copper_zinc", ratio)];
        assert_eq!(
            verdicts("zinc-copper-sulfate", ZINC, &answers),
            [LookAgain, Follows],
            "{theory}"
        );
    }
}

/// The number an own line comes to.
fn own(judgement: &Judgement) -> Option<f64> {
    match judgement.own {
        Some(Standing::Number(own)) => Some(own),
        _ => None,
    }
}

/// What is said to be from the own lines is what the verdict was found by.
#[test]
fn the_value_from_own_lines_is_the_one_that_was_matched() {
    // 0.0687 mol by 68.5 g/mol; 0.0687 − 0.0255 = 0.0432 mol × 65.38 = 2.83 g.
    let answers = [
        ("moles_zinc", "0.0687 mol"),
        ("expected_left_zinc", "2.83 g"),
    ];
    let (all, _) = judged("zinc-copper-sulfate", ZINC, &answers);
    assert_eq!(all[1].verdict, Follows);
    let told = own(&all[1]).unwrap();
    assert!((told - 2.83).abs() < 0.03, "{told}");
    // Little zinc, and the moles of more: 0.0720 − 0.0255 = 0.0465 mol × 65.38 = 3.04 g, with the decimals of the balance.
    let data = ZINC
        .replace(LITTLE_ZINC.0, LITTLE_ZINC.1)
        .replace("5.08 g", "2.07 g");
    let answers = [
        ("moles_zinc", "0.0720 mol"),
        ("limiting", "copper(II) sulfate"),
        ("expected_left_zinc", "3.04 g"),
    ];
    let (all, _) = judged("zinc-copper-sulfate", &data, &answers);
    assert_eq!(all[2].verdict, Follows);
    let told = own(&all[2]).unwrap();
    assert!((told - 3.04).abs() < 0.03, "{told}");
    assert_eq!(all[2].points, Some((2, 2)), "{}", all[2].feedback);
    assert_eq!(all[2].feedback, "");
}

/// “neither” and “Zn or CuSO4” choose nothing, so that what is right later is simply right.
#[test]
fn who_names_none_or_both_chooses_no_reactant() {
    for typed in ["neither", "Zn or CuSO4", "both", "zinc and copper sulfate"] {
        let answers = [("limiting", typed), ("theoretical_copper", "1.62 g")];
        let (all, problems) = judged("zinc-copper-sulfate", ZINC, &answers);
        assert!(problems.is_empty(), "{problems:?}");
        assert_eq!(all[0].verdict, LookAgain, "{typed}");
        assert!(
            all[0]
                .feedback
                .starts_with("This names no single reactant."),
            "{}",
            all[0].feedback
        );
        assert_eq!(all[1].verdict, Matches, "{typed}");
        assert!(all[1].slips.is_empty(), "{typed}: {:?}", all[1].feedback);
    }
    for (typed, verdict, said) in [
        (
            "copper(I) sulfate",
            Verdict::Unreadable,
            "this names none of the reactants",
        ),
        (
            "Copper (I) sulfate",
            Verdict::Unreadable,
            "this names none of the reactants",
        ),
        ("copper", Verdict::Unreadable, "copper is a product"),
        (
            "CuS04",
            Matches,
            "a digit 0 stands in the formula where the letter O belongs it was read as CuSO4",
        ),
        ("CuS04·5H20", Matches, "a digit 0 stands in the formula"),
    ] {
        let (all, problems) = judged("zinc-copper-sulfate", ZINC, &[("limiting", typed)]);
        assert_eq!(all[0].verdict, verdict, "{typed}");
        assert!(problems[0].contains(said), "{typed}: {problems:?}");
    }
}

/// The result is what stands behind the last `=`.
#[test]
fn a_line_of_working_is_read_by_its_result() {
    for (step, typed) in [
        ("mass_magnesium", "m = 0.324g"),
        ("mass_magnesium", "m=0,324 g"),
        ("moles_magnesium", "0.324/24.305 = 0.0133 mol"),
        ("used_oxygen", "27.237-27.045=0.192 g"),
        ("percent_yield", "yield = 96.0%"),
    ] {
        assert_eq!(
            verdicts("magnesium-oxide", MAGNESIUM, &[(step, typed)]),
            [Matches],
            "{typed}"
        );
    }
    let x = verdicts(
        "unknown-hydrate",
        HYDRATE,
        &[("waters_crystals", "x = 6.73")],
    );
    assert_eq!(x, [Matches]);
    for typed in ["1/75 mol", "m =", "0.324/24.305 ="] {
        let (all, problems) = judged("magnesium-oxide", MAGNESIUM, &[("moles_magnesium", typed)]);
        assert_eq!(all[0].verdict, Verdict::Unreadable, "{typed}");
        assert!(problems[0].contains("in mol"), "{typed}: {problems:?}");
    }
}

/// A reading that was lost takes its answers out of the marks.
#[test]
fn what_waits_for_a_reading_is_not_marked() {
    let data = MAGNESIUM.replace("[\"27.239 g\", \"27.237 g\"]", "\"lost\"");
    let answers = [
        ("mass_magnesium", "0.324 g"),
        ("collected_oxide", "0.516 g"),
    ];
    let (all, _) = judged("magnesium-oxide", &data, &answers);
    assert_eq!(all[0].points, Some((2, 2)));
    assert_eq!((all[1].verdict, all[1].points), (Verdict::Waiting, None));
}
