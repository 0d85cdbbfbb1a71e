//! Answers judged from the students' own lines: with the digits of the calculator, by the reactant that their moles make run out,
//! and by what stands on the label of the bottle.

#![allow(clippy::unwrap_used, reason = "a test stops at what it cannot use")]

mod support;

use gramleaf::answers::Verdict;
use gramleaf::answers::judge;

/// Tin from tin(II) chloride dihydrate of 98 % and aluminium foil in excess.
const LAB: &str = r#"
id = "tin"
title = "Tin"
equation = "2 Al(s) + 3 SnCl2(aq) -> 2 AlCl3(aq) + 3 Sn(s)"
[substance.aluminium]
formula = "Al"
before = "foil"
after = "foil_left"
[substance.salt]
formula = "SnCl2"
weighed_as = "SnCl2·2H2O"
before = "crystals"
purity = "98 %"
[substance.tin]
formula = "Sn"
after = "crystals_of_tin"
yield = true
[instrument.balance]
unit = "g"
readability = "0.01 g"
[day.1]
title = "All"
readings = [
  { name = "foil", label = "foil" },
  { name = "crystals", label = "crystals" },
  { name = "foil_left", label = "foil left" },
  { name = "crystals_of_tin", label = "tin" },
]
[ask]
usual = true
"#;

const DATA: &str = r#"
[who]
lab = "tin"
group = "4-01"
[day.1]
foil = "0.80 g"
crystals = "4.52 g"
foil_left = "0.44 g"
crystals_of_tin = "2.22 g"
"#;

/// The verdict, the slips and the feedback of the last of some answers.
fn last_of(answers: &[(&str, &str)]) -> (Verdict, Vec<&'static str>, String) {
    last_in(LAB, DATA, answers)
}

/// The same in any lab.
fn last_in(
    lab: &str,
    data: &str,
    answers: &[(&str, &str)],
) -> (Verdict, Vec<&'static str>, String) {
    let lines = answers
        .iter()
        .map(|(id, typed)| format!("{id} = \"{typed}\"\n"));
    let data = format!("{data}[answers]\n{}", lines.collect::<String>());
    support::worked(lab, &data, |lab, graph, record, worked| {
        let (judged, problems) = judge(lab, graph, record, worked);
        assert!(problems.is_empty(), "{answers:?} {problems:?}");
        let step = graph.find(answers.last().unwrap().0).unwrap();
        let judgement = judged.of(step).unwrap();
        let slips = judgement.slips.iter().map(|slip| slip.id).collect();
        (judgement.verdict, slips, judgement.feedback.clone())
    })
}

/// By hand: 0.80 ÷ 26.982 = 0.02965 mol Al, × 1.5 × 118.71 = 5.280 g of tin; from 0.0296 mol typed, 5.271 g.
#[test]
fn a_slip_is_known_from_the_digits_of_the_calculator_too() {
    let typed = [
        ("moles_aluminium", "0.0296 mol"),
        ("moles_salt", "0.0196 mol"),
        ("limiting", "SnCl2"),
    ];
    for theory in ["5.27 g", "5.28 g", "5.280 g"] {
        let answers = [&typed[..], &[("theoretical_tin", theory)]].concat();
        let (verdict, slips, _) = last_of(&answers);
        assert_eq!(verdict, Verdict::LookAgain, "{theory}");
        assert_eq!(slips, ["from-the-excess-reactant"], "{theory}");
    }
    // 2.22 ÷ 2.33 typed is 0.9528; ÷ 2.3307 from the calculator 0.95252; right lines on the way change no power of ten.
    for percent in ["0.953", "0.9528", "0.9525"] {
        let answers = [
            &typed[..],
            &[("theoretical_tin", "2.33 g"), ("percent_yield", percent)],
        ];
        let (_, slips, _) = last_of(&answers.concat());
        assert!(
            slips.contains(&"fraction-for-percent"),
            "{percent}: {slips:?}"
        );
    }
    // 0.0206 mol is another mistake; whatever it was rounded from, milligrams are one more.
    let (_, slips, _) = last_of(&[("moles_salt", "0.0206 mol"), ("theoretical_tin", "2.44 mg")]);
    assert_eq!(slips, ["prefix", "unit-of-another-kind"]);
}

/// By hand, the label not read: 4.52 ÷ 189.62 = 0.0238 mol of salt; × 118.71 = 2.83 g of tin; 0.80 − 0.0238 × 2 ÷ 3 × 26.982 = 0.372 g left.
#[test]
fn what_the_own_moles_make_run_out_counts_whatever_was_named() {
    let own = [
        ("moles_aluminium", "0.0296 mol"),
        ("moles_salt", "0.0238 mol"),
    ];
    for (named, step, typed) in [
        ("SnCl2", "theoretical_tin", "2.83 g"),
        ("aluminium", "theoretical_tin", "2.83 g"),
        ("aluminium", "expected_left_aluminium", "0.372 g"),
    ] {
        let answers = [&own[..], &[("limiting", named), (step, typed)]].concat();
        let (verdict, slips, feedback) = last_of(&answers);
        assert_eq!(
            verdict,
            Verdict::Follows,
            "{answers:?} {slips:?} {feedback}"
        );
    }
    // Right moles and the wrong reactant named: the right leftover is right.
    let (verdict, ..) = last_of(&[
        ("moles_salt", "0.01963 mol"),
        ("limiting", "aluminium"),
        ("expected_left_aluminium", "0.447 g"),
    ]);
    assert_eq!(verdict, Verdict::Matches);
    // What the named reactant gives follows as before, and what neither gives does not.
    for (typed, expected) in [("5.27 g", Verdict::Follows), ("3.33 g", Verdict::LookAgain)] {
        let answers = [
            &own[..],
            &[("limiting", "aluminium"), ("theoretical_tin", typed)],
        ];
        let (verdict, ..) = last_of(&answers.concat());
        assert_eq!(verdict, expected, "{typed}");
    }
}

/// By hand: 4.52 × 0.98 ÷ 225.65 = 0.01963 mol is right; ÷ 225.65 alone 0.02003; ÷ 189.62 (no water) 0.02384, with the purity 0.02336.
#[test]
fn what_the_label_says_besides_the_formula_is_missed() {
    for (typed, slip) in [
        ("0.02003 mol", "purity-ignored"),
        ("0.0200 mol", "purity-ignored"),
        ("0.02336 mol", "water-left-out"),
        ("0.02384 mol", "label-not-read"),
        ("0.0238 mol", "label-not-read"),
    ] {
        let (verdict, slips, feedback) = last_of(&[("moles_salt", typed)]);
        assert_eq!(verdict, Verdict::LookAgain, "{typed}");
        assert_eq!(slips, [slip], "{typed}");
        assert!(!feedback.contains("98"), "{feedback}");
    }
}

/// By hand: 0.01963 mol × 118.71 = 2.330 g. A zero at the end of milligrams may only hold a place.
#[test]
fn zeros_at_the_end_of_a_whole_number_hold_nothing_against_anybody() {
    for (typed, expected) in [
        ("2330 mg", Verdict::Matches),
        ("2300 mg", Verdict::Matches),
        ("2.3 g", Verdict::Matches),
        ("2.300 g", Verdict::LookAgain),
        ("2400 mg", Verdict::LookAgain),
        // No more than 2 g says.
        ("2000 mg", Verdict::Rough),
        ("2 g", Verdict::Rough),
        ("0.002 kg", Verdict::Rough),
    ] {
        let (verdict, _, feedback) = last_of(&[("theoretical_tin", typed)]);
        assert_eq!(verdict, expected, "{typed}");
        if typed == "2330 mg" {
            assert_eq!(feedback, "");
        }
    }
    // A percentage in whole percents means them: 95.3 % is not 100 %.
    let (verdict, ..) = last_of(&[("percent_yield", "100 %")]);
    assert_eq!(verdict, Verdict::LookAgain);
    // Nothing was rounded on the way to what the balance showed.
    let (verdict, ..) = last_of(&[("used_aluminium", "400 mg")]);
    assert_eq!(verdict, Verdict::LookAgain);
}

/// By hand: 2.22 ÷ 118.71 over 0.36 ÷ 26.982 is 1.402; to write it as a percentage, or with a unit over itself, changes nothing.
#[test]
fn a_ratio_may_be_written_as_a_percentage_or_with_a_unit_over_itself() {
    for typed in ["1.40", "140 %", "1.40 mol/mol", "1.40 mol / mol", "1.4 g/g"] {
        let (verdict, _, feedback) = last_of(&[("ratio_tin_aluminium", typed)]);
        assert_eq!(verdict, Verdict::Matches, "{typed}");
        assert_eq!(feedback, "", "{typed}");
    }
}

/// By hand: (21.172 − 20.269) ÷ 18.015 over (20.269 − 18.660) ÷ 159.60 is 4.972. Nobody rounds a difference of readings, so that the
/// 21 g that the crucible weighs give no room: only what one in a hundred of the result comes to.
#[test]
fn what_a_vessel_weighs_gives_no_room_for_rounding() {
    let lab = gramleaf::lab::builtin::find("water-in-hydrate").unwrap();
    let data = "[who]\nlab = \"water-in-hydrate\"\ngroup = \"3-07\"\n[day.1]\ncrucible = \"18.660 g\"\ncrucible_with_crystals = \"21.172 g\"\ncrucible_heated = [\"20.270 g\", \"20.269 g\"]\n";
    for (typed, expected) in [
        ("4.97", Verdict::Matches),
        ("4.93", Verdict::Rounding),
        ("5.01", Verdict::Rounding),
        ("4.90", Verdict::LookAgain),
        ("5.03", Verdict::LookAgain),
        ("5.05", Verdict::LookAgain),
        // The question is what was driven off; a whole number stands for it by its figure, which is too few to tell it from a guess.
        ("5", Verdict::Rough),
    ] {
        let (verdict, slips, _) = last_in(lab, data, &[("waters_per_salt", typed)]);
        assert_eq!(verdict, expected, "{typed}");
        assert_eq!(slips.contains(&"too-few-figures"), typed == "5", "{typed}");
    }
}

/// By hand: 5.58 ÷ 55.845 = 0.09992 mol of iron runs out and takes × 6 ÷ 4 × 18.015 = 2.700 g of water, so that 0.900 g are left; the
/// 2.60 ÷ 31.998 = 0.08126 mol of oxygen would take × 6 ÷ 3 × 18.015 = 2.928 g and leave 0.672 g.
#[test]
fn a_leftover_by_another_reactant_is_asked_about_as_a_leftover() {
    let lab = r#"
id = "rust"
title = "Rust"
equation = "4 Fe(s) + 3 O2(g) + 6 H2O(l) -> 4 Fe(OH)3(s)"
[substance.iron]
formula = "Fe"
before = "iron"
[substance.oxygen]
formula = "O2"
before = "oxygen"
[substance.water]
formula = "H2O"
before = "water"
after = "water_left"
[instrument.balance]
unit = "g"
readability = "0.01 g"
[day.1]
title = "All"
readings = [
  { name = "iron", label = "iron" },
  { name = "oxygen", label = "oxygen" },
  { name = "water", label = "water" },
  { name = "water_left", label = "water left" },
]
[ask]
expected_left_water = true
"#;
    let data = "[who]\nlab = \"rust\"\ngroup = \"1-01\"\n[day.1]\niron = \"5.58 g\"\noxygen = \"2.60 g\"\nwater = \"3.60 g\"\nwater_left = \"0.90 g\"\n";
    // Without these lines any slip that makes oxygen run out would be as good.
    let before = [
        ("moles_iron", "0.0999 mol"),
        ("moles_oxygen", "0.0813 mol"),
        ("limiting", "iron"),
    ];
    let answers = [&before[..], &[("expected_left_water", "0.672 g")]].concat();
    let (verdict, slips, feedback) = last_in(lab, data, &answers);
    assert_eq!(verdict, Verdict::LookAgain);
    assert_eq!(slips, ["leftover-by-another-reactant"]);
    assert!(
        feedback.contains("how much of this one is used"),
        "{feedback}"
    );
    let (verdict, ..) = last_in(lab, data, &[("expected_left_water", "0.900 g")]);
    assert_eq!(verdict, Verdict::Matches);
}
