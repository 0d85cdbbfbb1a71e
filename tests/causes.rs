//! Causes at the bench held against experiments made up to have exactly one of them, and against experiments with none.

#![allow(
    clippy::print_stdout,
    clippy::unwrap_used,
    reason = "the tables that the tests print are to be read, and a test stops at what it cannot use"
)]

mod support;

#[path = "support/experiments.rs"]
mod experiments;
#[path = "support/random.rs"]
mod random;

use std::collections::BTreeMap;
use std::collections::BTreeSet;
use std::fs;
use std::path::PathBuf;

use experiments::Experiment;
use experiments::Happened;
use experiments::Model;
use experiments::ROWS;
use experiments::Sort;
use gramleaf::causes;
use gramleaf::causes::Cause;
use gramleaf::causes::Effect;
use gramleaf::causes::Fit;
use gramleaf::causes::Weighed;
use gramleaf::causes::catalogue;
use random::Random;
use support::Described;

/// An amount is taken to be found when it is within so many of its standard uncertainties: 99.7 % of a normal distribution, and
/// more of one that is made of a few rectangles. So of six hundred amounts one or two are farther off by right; they are counted.
const COVERAGE: f64 = 3.0;

/// No amount is farther off than so many standard uncertainties: of a normal distribution six in a hundred thousand are.
const FARTHEST: f64 = 4.0;

/// The least size tried, in standard uncertainties: smaller ones may be missed by right.
const LEAST: f64 = 3.5;

/// With two deviations a cause that is the right one leaves more than the 99.7 % quantile of χ² for one degree of freedom
/// (8.81, the square of the normal distribution's 2.968) in three experiments of a thousand, and is then said not to fit by itself.
const RIGHT_BUT_MISSED: std::ops::Range<f64> = 8.81..14.0;

/// Causes that no lab of the samples can show, with the reason.
const NOT_TRIED: &[(&str, &str)] = &[
    (
        "attacked-by-oxygen",
        "the oxygen in 50 mL of water takes less than 2 mg of metal, which no balance of these labs tells",
    ),
    ("over-titrated", "nothing is titrated in them"),
    ("under-titrated", "nothing is titrated in them"),
    ("titrant-weaker", "nothing is titrated in them"),
    ("titrant-stronger", "nothing is titrated in them"),
    ("air-in-burette", "nothing is titrated in them"),
    ("sample-lost", "none of them has a sample of its own"),
    ("sample-damp", "none of them has a sample of its own"),
    ("leftover-liquid-lost", "nothing is titrated in them"),
    (
        "product-reduced",
        "no oxide that carbon reduces is ignited in them",
    ),
    (
        "took-up-carbon-dioxide",
        "no base limits in them, and none is left over",
    ),
];

/// Labs whose limiting reactant colours the liquid until it has run out; elsewhere a colour tells nothing about the end.
const FADES: [&Model; 4] = [
    &experiments::ZINC,
    &experiments::ALUMINIUM,
    &experiments::IRON,
    &experiments::IODIDE,
];

#[test]
fn a_cause_made_up_is_found_again_with_its_size() {
    let mut wrong = Vec::new();
    let mut ranks: Vec<(usize, usize, usize)> = Vec::new();
    println!(
        "{:<24}{:<32}{:<8}{:>10}{:>22}{:>8}{:>9}{:>11}",
        "cause", "lab", "size", "made up", "found ± u", "off/u", "rank", "with sign"
    );
    let mut offs = Vec::new();
    let mut missed = 0;
    for row in ROWS {
        let cause = catalogue::find(row.cause).unwrap_or_else(|| panic!("{}", row.cause));
        for model in row.labs {
            let lab = lab_text(model);
            let plain = Described::read(&lab);
            let (asked, sign) = with_sign(&lab, cause);
            let asked = Described::read(&asked);
            for (name, size) in ["small", "middle", "large"].iter().zip(row.sizes) {
                let mut happened = Happened::default();
                let amount = (row.happens)(model, &mut happened, size);
                let done = model.run(&happened, &mut Random::named(&[cause.id, model.lab, name]));
                let found = look(&plain, &data_text(model, &lab, &done, ""), cause);
                let signed = format!("[signs]\n{sign} = \"yes\"\n");
                let told = look(&asked, &data_text(model, &lab, &done, &signed), cause);
                // What never reacts may count as grams, or as a part of what was taken.
                let part = found.listed.as_ref().map(|one| one.effect) == Some(Effect::Unreacted);
                let amount = if part && happened.unreacted == 0.0 {
                    amount / done.taken
                } else {
                    amount
                };
                let fault = judge(amount, &found, &told);
                if fault.is_some() && found.beyond && RIGHT_BUT_MISSED.contains(&found.rest) {
                    println!(
                        "{}, by chance",
                        line(cause, model, name, amount, &found, &told)
                    );
                    missed += 1;
                    continue;
                }
                println!("{}", line(cause, model, name, amount, &found, &told));
                if let Some(fault) = fault {
                    wrong.push(format!("{} in {} ({name}): {fault}", cause.id, model.lab));
                } else if let (Some(one), Some(two)) = (&found.listed, &told.listed) {
                    ranks.push((one.rank, one.of, two.rank));
                    offs.push((one.amount - amount) / one.standard);
                }
            }
        }
    }
    let mut places: Vec<usize> = ranks.iter().map(|(rank, ..)| *rank).collect();
    let mut lengths: Vec<usize> = ranks.iter().map(|(_, of, _)| *of).collect();
    places.sort_unstable();
    lengths.sort_unstable();
    let first = ranks.iter().filter(|(_, _, told)| *told == 1).count();
    println!(
        "{} experiments: without a sign at place {} of {} (medians), with its sign first in {first}",
        ranks.len(),
        places[places.len() / 2],
        lengths[lengths.len() / 2],
    );
    let count = offs.len() as f64;
    let mean = offs.iter().sum::<f64>() / count;
    let spread = (offs.iter().map(|off| (off - mean).powi(2)).sum::<f64>() / count).sqrt();
    let far = offs.iter().filter(|off| off.abs() > COVERAGE).count();
    println!(
        "off by {mean:.2} ± {spread:.2} standard uncertainties, {far} by more than {COVERAGE}"
    );
    println!("{missed} missed by chance, for what is left unexplained");
    assert!(wrong.is_empty(), "{}\n{}", wrong.len(), wrong.join("\n"));
    assert!(
        missed * 50 <= offs.len(),
        "{missed} of {} missed",
        offs.len()
    );
    assert!(
        far * 100 <= offs.len(),
        "{far} of {} are far off",
        offs.len()
    );
    // The uncertainty of an amount is neither boasted nor too modest: of some five hundred the mean is known to 0.05, the
    // standard deviation to about 0.03.
    assert!(
        mean.abs() < 0.15 && (spread - 1.0).abs() < 0.1,
        "{mean} ± {spread}"
    );
}

/// Aluminium goes three for two and is light, silver two for one: there the deviations of product and leftover together tell the
/// kinds of cause apart. (Copper and zinc weigh nearly the same for each mole, so copper on the zinc looks like less reaction.)
#[test]
fn causes_that_leave_another_trace_are_not_listed() {
    let mut wrong = Vec::new();
    let mut tried = 0;
    for row in ROWS {
        let cause = catalogue::find(row.cause).unwrap();
        for model in row.labs.iter().filter(|model| {
            [experiments::ALUMINIUM.lab, experiments::SILVER.lab].contains(&model.lab)
        }) {
            let lab = lab_text(model);
            let described = Described::read(&lab);
            for size in &row.sizes[1..] {
                let mut happened = Happened::default();
                let amount = (row.happens)(model, &mut happened, *size);
                if amount < 30.0 * model.step / 12.0_f64.sqrt() {
                    continue;
                }
                tried += 1;
                let done = model.run(
                    &happened,
                    &mut Random::named(&[cause.id, model.lab, "trace"]),
                );
                weighed(&described, &data_text(model, &lab, &done, ""), |weighed| {
                    for one in &weighed.listed {
                        if sort(one.effect) != happened.sort() {
                            wrong.push(format!(
                                "{} of {amount} in {}: {} is listed",
                                cause.id, model.lab, one.cause.id
                            ));
                        }
                    }
                });
            }
        }
    }
    println!(
        "{tried} experiments, {} causes listed that leave another trace",
        wrong.len()
    );
    assert!(
        tried > 50 && wrong.is_empty(),
        "{tried}\n{}",
        wrong.join("\n")
    );
}

/// The kind of an effect.
fn sort(effect: Effect) -> Sort {
    match effect {
        Effect::MoreProduct(_) => Sort::MoreProduct,
        Effect::LessProduct(_) | Effect::HeavierVessel(_) => Sort::LessProduct,
        Effect::MoreLeft(_) => Sort::MoreLeft,
        Effect::LessLeft(_) => Sort::LessLeft,
        Effect::Carried { .. } => Sort::Carried,
        Effect::Clinging { .. } => Sort::Clinging,
        Effect::Unreacted | Effect::LessTaken(_) | Effect::NotPutIn(_) => Sort::LessReacted,
        Effect::MoreTaken(_) => Sort::MoreReacted,
        // None of these labs has a sample of its own or is titrated.
        Effect::Overstated(_) | Effect::Understated(_) => Sort::LessReacted,
    }
}

#[test]
fn every_cause_that_can_apply_is_tried_in_a_lab_where_it_applies() {
    let mut applies: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
    let models = models();
    let mut texts: Vec<(String, String, String)> = Vec::new();
    for model in models.values() {
        let lab = lab_text(model);
        let done = model.run(&Happened::default(), &mut Random::named(&["any"]));
        let data = data_text(model, &lab, &done, "");
        texts.push((model.lab.to_owned(), lab, data));
    }
    for folder in folders() {
        if !models.contains_key(folder.as_str()) {
            let lab = fs::read_to_string(format!("{folder}/lab.toml")).unwrap();
            let group = fs::read_to_string(group_file(&folder)).unwrap();
            texts.push((folder, lab, group));
        }
    }
    for (folder, lab, data) in &texts {
        support::worked(lab, data, |lab, graph, record, worked| {
            let weighed = causes::weigh(lab, graph, record, worked, &|_| true);
            let scene = &weighed.scene;
            // Less of what is in excess, and whose leftover nobody measures, shows in nothing.
            let shows = |effect: &Effect| !effect.reactant().is_some_and(|it| scene.idle(it));
            for cause in catalogue::all().filter(|cause| (cause.at)(scene).iter().any(shows)) {
                applies.entry(cause.id).or_default().insert(folder);
            }
        });
    }
    let mut faults = Vec::new();
    for cause in catalogue::all() {
        let labs = applies.get(cause.id).cloned().unwrap_or_default();
        let tried: BTreeSet<&str> = ROWS
            .iter()
            .filter(|row| row.cause == cause.id)
            .flat_map(|row| row.labs)
            .map(|model| model.lab)
            .collect();
        println!(
            "{:<24}applies in {:>2} labs, tried in {:>2}",
            cause.id,
            labs.len(),
            tried.len()
        );
        let excused = NOT_TRIED.iter().any(|(id, _)| *id == cause.id);
        if tried.is_empty() != excused {
            faults.push(format!(
                "{}: tried in {tried:?}, excused: {excused}",
                cause.id
            ));
        }
        // Where few labs have it, all of those with an experiment must be there.
        let possible = labs.iter().filter(|lab| models.contains_key(*lab)).count();
        if !excused && tried.len() < possible.min(3) {
            faults.push(format!("{}: tried in {tried:?} of {labs:?}", cause.id));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// Labs whose deviation is worked out by hand: the standard uncertainty of the product's, from steps of the balance with
/// u = step ÷ √12 (JCGM 100:2008, 4.3.7), two readings of the vessel and two of the reactant, times what one gram of it gives.
fn three_labs() -> [(&'static Model, f64); 3] {
    let step = |step: f64| step / 12.0_f64.sqrt();
    let gives = |model: &Model| model.product_moles() * model.product.molar_mass / model.planned;
    let apart = |model: &'static Model| {
        let both = 2.0 + 2.0 * gives(model).powi(2);
        (model, step(model.step) * both.sqrt())
    };
    let soda = &experiments::SODA;
    let k = gives(soda);
    // Crucible, with soda, heated: heated − crucible − k·(with soda − crucible).
    let crucible = step(soda.step) * (1.0 + k * k + (1.0 - k).powi(2)).sqrt();
    [
        apart(&experiments::ZINC),
        apart(&experiments::CHALK),
        (soda, crucible),
    ]
}

#[test]
fn no_cause_is_claimed_for_groups_to_whom_nothing_happened() {
    let three = three_labs().map(|(model, _)| model.lab);
    for model in models().values() {
        let groups = if three.contains(&model.lab) {
            1000
        } else {
            250
        };
        let lab = lab_text(model);
        let described = Described::read(&lab);
        let claimed = (0..groups)
            .filter(|seed| {
                let done = model.run(&Happened::default(), &mut numbered(model, *seed));
                beyond(&described, &data_text(model, &lab, &done, ""))
            })
            .count();
        println!("{}: claimed for {claimed} of {groups}", model.lab);
        assert!(claimed as u64 * 10 <= groups, "{}: {claimed}", model.lab);
    }
}

/// A tenth of the reaction missing and six drops of water in the copper: more copper than could form, and more aluminium left
/// than should be. No cause alone does both; the signs say which two did.
#[test]
fn two_causes_at_once_are_found_with_the_size_of_each() {
    let model = &experiments::ALUMINIUM;
    let stopped = catalogue::find("stopped-early").unwrap();
    let damp = catalogue::find("product-damp").unwrap();
    let (lab, coloured) = with_sign(&lab_text(model), stopped);
    let (lab, clumped) = with_sign(&lab, damp);
    let described = Described::read(&lab);
    let happened = Happened {
        unreacted: 0.1,
        with_product: 0.3,
        ..Happened::default()
    };
    let signs = format!("[signs]\n{coloured} = \"yes\"\n{clumped} = \"yes\"\n");
    for group in 0..20 {
        let done = model.run(&happened, &mut numbered(model, group));
        let data = data_text(model, &lab, &done, &signs);
        weighed(&described, &data, |weighed| {
            assert!(weighed.listed.iter().all(|one| one.fit != Fit::Alone));
            for (cause, amount) in [(stopped, 0.1), (damp, 0.3)] {
                let first = weighed.listed.iter().take(3);
                let one = first
                    .into_iter()
                    .find(|one| one.cause.id == cause.id)
                    .unwrap_or_else(|| {
                        panic!("{group}: {} is not among the first three", cause.id)
                    });
                let off = (one.solved.amount - amount) / one.solved.standard;
                assert!(off.abs() < COVERAGE, "{group}: {} {off}", cause.id);
            }
        });
    }
}

#[test]
fn five_standard_uncertainties_are_not_missed() {
    const GROUPS: u64 = 400;
    for (model, standard) in three_labs() {
        let lab = lab_text(model);
        let described = Described::read(&lab);
        for (way, sign) in [("too much", 1.0), ("too little", -1.0)] {
            let happened = Happened {
                with_product: sign * 5.0 * standard,
                ..Happened::default()
            };
            let claimed = (0..GROUPS)
                .filter(|seed| {
                    let done = model.run(&happened, &mut numbered(model, 7000 + *seed));
                    beyond(&described, &data_text(model, &lab, &done, ""))
                })
                .count();
            println!("{}, {way}: claimed for {claimed} of {GROUPS}", model.lab);
            assert!(
                claimed as u64 * 100 > GROUPS * 95,
                "{} {way}: {claimed}",
                model.lab
            );
        }
    }
}

/// Every lab with an experiment.
fn models() -> BTreeMap<&'static str, &'static Model> {
    let labs = ROWS.iter().flat_map(|row| row.labs);
    labs.map(|model| (model.lab, *model)).collect()
}

/// A cause in the list.
struct Place {
    rank: usize,
    of: usize,
    alone: bool,
    effect: Effect,
    amount: f64,
    standard: f64,
}

/// What became of one record.
struct Found {
    beyond: bool,
    /// What the cause leaves unexplained when it is solved for, squared and in standard uncertainties.
    rest: f64,
    /// Why the cause is not listed, in words.
    instead: String,
    listed: Option<Place>,
}

fn look(described: &Described, data: &str, cause: &Cause) -> Found {
    weighed(described, data, |weighed| {
        let place = weighed
            .listed
            .iter()
            .position(|one| one.cause.id == cause.id);
        let ruled_out = weighed
            .ruled_out
            .iter()
            .find(|one| one.cause.id == cause.id);
        let effects = (cause.at)(&weighed.scene);
        let solved: Vec<String> = effects
            .iter()
            .map(|effect| {
                format!(
                    "{effect:?}: {:?}",
                    effect.solve(&weighed.scene, &weighed.deviations)
                )
            })
            .collect();
        let solutions = effects
            .iter()
            .filter_map(|effect| effect.solve(&weighed.scene, &weighed.deviations));
        Found {
            beyond: weighed.beyond,
            rest: solutions
                .map(|solved| solved.rest)
                .fold(f64::INFINITY, f64::min),
            instead: format!(
                "{:?} {solved:?}, deviations {:?}",
                ruled_out.map(|one| &one.why),
                weighed
                    .deviations
                    .all
                    .iter()
                    .map(|one| (one.size, one.standard))
                    .collect::<Vec<_>>(),
            ),
            listed: place.map(|index| {
                let one = &weighed.listed[index];
                Place {
                    rank: index + 1,
                    of: weighed.listed.len(),
                    alone: one.fit == Fit::Alone,
                    effect: one.effect,
                    amount: one.solved.amount,
                    standard: one.solved.standard,
                }
            }),
        }
    })
}

/// What is wrong with what was found, if anything.
fn judge(amount: f64, found: &Found, told: &Found) -> Option<String> {
    if !found.beyond {
        return Some("nothing claimed".to_owned());
    }
    let (Some(one), Some(two)) = (&found.listed, &told.listed) else {
        return Some(format!("not listed; {}", found.instead));
    };
    if !one.alone {
        return Some(format!("only with another cause; {}", found.instead));
    }
    let off = (one.amount - amount) / one.standard;
    if off.abs() > FARTHEST {
        return Some(format!(
            "{amount} comes out as {} ± {}",
            one.amount, one.standard
        ));
    }
    if amount < LEAST * one.standard {
        return Some(format!(
            "too small to be tried: {amount} with ± {}",
            one.standard
        ));
    }
    (two.rank > 3).then(|| format!("with its sign at place {} of {}", two.rank, two.of))
}

fn line(
    cause: &Cause,
    model: &Model,
    size: &str,
    amount: f64,
    found: &Found,
    told: &Found,
) -> String {
    let lab = model.lab.rsplit('/').next().unwrap();
    let start = format!("{:<24}{lab:<32}{size:<8}{amount:>10.4}", cause.id);
    let Some(one) = &found.listed else {
        return format!("{start}  not listed");
    };
    let sign = told.listed.as_ref().map_or_else(
        || "not listed".to_owned(),
        |two| format!("{}/{}", two.rank, two.of),
    );
    format!(
        "{start}{:>22}{:>8.1}{:>9}{sign:>11}",
        format!("{:.4} ± {:.4}", one.amount, one.standard),
        (one.amount - amount) / one.standard,
        format!("{}/{}", one.rank, one.of),
    )
}

fn weighed<T>(described: &Described, data: &str, look: impl FnOnce(&Weighed<'_>) -> T) -> T {
    described.work(data, |lab, graph, record, worked| {
        look(&causes::weigh(lab, graph, record, worked, &|_| true))
    })
}

/// The random numbers of one group of many.
fn numbered(model: &Model, group: u64) -> Random {
    Random::named(&[model.lab, &group.to_string()])
}

fn beyond(described: &Described, data: &str) -> bool {
    weighed(described, data, |weighed| weighed.beyond)
}

/// Every folder with a lab description.
fn folders() -> Vec<String> {
    let mut found = Vec::new();
    for entry in fs::read_dir("samples").unwrap() {
        let name = entry.unwrap().file_name().into_string().unwrap();
        if PathBuf::from(format!("samples/{name}/lab.toml")).exists() {
            found.push(format!("samples/{name}"));
        }
    }
    found.sort();
    found
}

/// The first group's file of a folder.
fn group_file(folder: &str) -> PathBuf {
    let files = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path());
    let groups = files.filter(|file| {
        file.extension().is_some_and(|ending| ending == "toml") && !file.ends_with("lab.toml")
    });
    groups
        .min()
        .unwrap_or_else(|| panic!("{folder}: neither a group nor an experiment"))
}

fn lab_text(model: &Model) -> String {
    fs::read_to_string(format!("{}/lab.toml", model.lab)).unwrap()
}

/// The lab with a sign that supports the cause: the first built-in one, else one of the teacher's own.
fn with_sign(lab: &str, cause: &Cause) -> (String, String) {
    let blind = ["stopped-early", "too-little-metal"].contains(&cause.id)
        && !FADES.iter().any(|model| lab_text(model) == lab);
    let (id, own) = match cause.signs.first().filter(|_| !blind) {
        Some(id) => ((*id).to_owned(), None),
        None => (
            "seen_it".to_owned(),
            Some(format!(
                "seen_it = {{ question = \"Did you see it?\", supports = [\"{}\"] }}",
                cause.id
            )),
        ),
    };
    let quoted = format!("\"{id}\"");
    let signs = lab.split_once("[signs]\n").map(|(_, rest)| rest);
    let used = signs.and_then(|rest| rest.split("\n[").next());
    let used = used.is_some_and(|signs| signs.starts_with("use = ["));
    let text = match (signs.is_some(), used, own) {
        (true, _, Some(own)) => lab.replacen("[signs]\n", &format!("[signs]\n{own}\n"), 1),
        (false, _, Some(own)) => format!("{lab}\n[signs]\n{own}\n"),
        (true, true, None) if lab.contains(&quoted) => lab.to_owned(),
        (true, true, None) => lab.replacen(
            "[signs]\nuse = [",
            &format!("[signs]\nuse = [{quoted}, "),
            1,
        ),
        (true, false, None) => {
            lab.replacen("[signs]\n", &format!("[signs]\nuse = [{quoted}]\n"), 1)
        }
        (false, _, None) => format!("{lab}\n[signs]\nuse = [{quoted}]\n"),
    };
    (text, id)
}

/// A group's file: the readings under their days.
fn data_text(model: &Model, lab: &str, done: &Experiment, signs: &str) -> String {
    let table: toml::Table = lab.parse().unwrap();
    let id = table["id"].as_str().unwrap();
    let mut text = format!("[who]\nlab = \"{id}\"\nsection = \"1\"\ngroup = \"1-01\"\n");
    for (day, described) in table["day"].as_table().unwrap() {
        text.push_str(&format!("[day.{day}]\n"));
        let asked = described.get("readings").and_then(toml::Value::as_array);
        for asked in asked.into_iter().flatten() {
            let name = asked["name"].as_str().unwrap();
            let (_, shown) = done
                .readings
                .iter()
                .find(|(known, _)| *known == name)
                .unwrap_or_else(|| panic!("{}: {name}", model.lab));
            if asked.get("series").is_some() {
                text.push_str(&format!("{name} = [\"{shown}\"]\n"));
            } else {
                text.push_str(&format!("{name} = \"{shown}\"\n"));
            }
        }
    }
    text.push_str(signs);
    text
}

/// Wet nails on the first day are no wet copper on the third.
#[test]
fn notes_of_an_earlier_day_say_nothing_of_the_product_at_its_weighing() {
    let model = &experiments::IRON;
    let lab = lab_text(model);
    let described = Described::read(&lab);
    let done = model.run(&Happened::default(), &mut numbered(model, 1));
    let notes = |day: u32, seen: &str| {
        let signs = "[signs]\nproduct_still_damp = \"no\"\n";
        let data = data_text(model, &lab, &done, signs);
        let head = format!("[day.{day}]\n");
        data.replace(&head, &format!("{head}seen = \"{seen}\"\n"))
    };
    for (day, seen, asked) in [
        (1, "The nails went red where they were wet.", false),
        (2, "The copper was a wet clump.", false),
        (3, "The copper was still damp.", true),
    ] {
        let hints = described.work(&notes(day, seen), |lab, _, record, _| {
            causes::hints(lab, record)
        });
        let found = hints.iter().any(|hint| hint.contains("damp or clumped"));
        assert_eq!(found, asked, "{seen}: {hints:?}");
    }
}

/// What to look at, and how long to wait, fits the kind of experiment.
#[test]
fn the_end_of_a_reaction_is_told_by_what_shows_it() {
    let stopped = catalogue::find("stopped-early").unwrap();
    let scraped = catalogue::find("too-little-metal").unwrap();
    for (model, until, look, sign_counts) in [
        (
            &experiments::ZINC,
            "the colour of the copper(II) sulfate,",
            "fades",
            true,
        ),
        (
            &experiments::IRON,
            "the colour of the copper(II) chloride,",
            "fades",
            true,
        ),
        (
            &experiments::IODIDE,
            "the colour of the iodine",
            "fades",
            true,
        ),
        (&experiments::SILVER, "nothing changes", "changes", false),
        (&experiments::MARBLE, "no more bubbles", "bubbles", false),
        (
            &experiments::EVAPORATED,
            "no more bubbles",
            "bubbles",
            false,
        ),
        (&experiments::CHALK, "nothing changes", "changes", false),
        (
            &experiments::CRYSTALS_GROWN,
            "nothing changes",
            "changes",
            false,
        ),
    ] {
        let (lab, sign) = with_sign(
            &lab_text(model),
            catalogue::find("stayed-in-solution").unwrap(),
        );
        let done = model.run(&Happened::default(), &mut numbered(model, 1));
        let data = data_text(model, &lab, &done, &format!("[signs]\n{sign} = \"yes\"\n"));
        weighed(&Described::read(&lab), &data, |weighed| {
            let fill = |text| Cause::fill(text, Effect::Unreacted, &weighed.scene);
            let (says, test) = (fill(stopped.next_time), fill(stopped.test));
            assert!(says.contains(until), "{}: {says}", model.lab);
            assert!(test.contains(look), "{}: {test}", model.lab);
            let scrape = fill(scraped.test);
            assert!(scrape.ends_with(&test), "{}: {scrape}", model.lab);
            let support = causes::evidence(stopped, Effect::Unreacted, &weighed.scene).in_a_word();
            let expected = if sign_counts { "supported" } else { "open" };
            assert_eq!(support, expected, "{}", model.lab);
        });
    }
}

/// An organic product that is filtered off leaves some of itself in the liquid, like crystals of a salt.
#[test]
fn what_stays_in_the_filtrate_is_weighed_for_an_organic_product() {
    let model = &experiments::ASPIRIN;
    let lab = lab_text(model);
    let happened = Happened {
        product_gone: 0.5,
        ..Happened::default()
    };
    let done = model.run(&happened, &mut numbered(model, 1));
    for what in [
        "crystals_in_filtrate",
        "Some aspirin stayed in the filtrate",
        "It was left in the mother liquor",
        "Crystals were washed away with the ice water",
    ] {
        let own = format!(
            "[signs]\ncrystals_in_filtrate = \"yes\"\n[cause.1]\nwhat = \"{what}\"\neffect = \"lower\"\n"
        );
        weighed(
            &Described::read(&lab),
            &data_text(model, &lab, &done, &own),
            |weighed| {
                let own = &weighed.own[0];
                let known = own.cause.map(|(cause, _)| cause.id);
                assert_eq!(known, Some("stayed-in-solution"), "{what}");
                assert!(own.direction.starts_with("fits"), "{}", own.direction);
                assert_eq!(own.support, "supported", "{what}");
            },
        );
    }
}

/// Causes that a lab has no place for, by what its reactants are.
#[test]
fn causes_fit_the_substances() {
    let at = |folder: &str, id: &str| {
        let lab = fs::read_to_string(format!("samples/{folder}/lab.toml")).unwrap();
        let data = fs::read_to_string(group_file(&format!("samples/{folder}"))).unwrap();
        let cause = catalogue::find(id).unwrap_or_else(|| panic!("{id}"));
        weighed(&Described::read(&lab), &data, |weighed| {
            !(cause.at)(&weighed.scene).is_empty()
        })
    };
    for (folder, id, applies) in [
        // The copper(II) sulfate of the cycle is made from a wire: nobody weighs it, and it comes from no bottle.
        ("copper-cycle", "solution-weaker", false),
        ("copper-cycle", "reactant-spilled", false),
        ("copper-cycle", "more-water-than-stated", false),
        ("copper-cycle", "left-in-weighing-dish", false),
        ("copper-cycle", "stopped-early", true),
        ("copper-sulfate-crystals", "solution-weaker", true),
        ("copper-silver-nitrate", "more-water-than-stated", false),
        ("zinc-iodide", "more-water-than-stated", false),
        ("marble-and-acid", "more-water-than-stated", false),
        ("marble-and-acid", "reactant-damp", true),
        ("zinc-copper-sulfate", "more-water-than-stated", true),
        ("zinc-copper-sulfate", "reactant-damp", false),
        (
            "calcium-carbonate-precipitate",
            "more-water-than-stated",
            true,
        ),
        ("zinc-iodide", "reactant-vapour", true),
        ("copper-silver-nitrate", "reactant-vapour", false),
        // A crucible that reads light looks as if more water had left it.
        ("water-in-hydrate", "weighed-warm", true),
        ("water-in-hydrate", "vessel-damp-at-first", true),
        ("water-in-hydrate", "vessels-exchanged", true),
        ("water-in-hydrate", "solid-lost", true),
        ("baking-soda", "weighed-warm", true),
        ("marble-and-acid", "vessels-exchanged", false),
        ("hydrogen-over-water", "weighed-warm", false),
    ] {
        assert_eq!(at(folder, id), applies, "{folder} {id}");
    }
}

/// Water on the iron left makes one copper for one iron look like three for two: then both possibilities are said.
#[test]
fn a_damp_leftover_is_not_taken_for_another_equation() {
    // Three copper for two iron: less iron is used, and more is left.
    let (iron, planned) = experiments::IRON.excess.unwrap();
    let other = Model {
        excess: Some((
            experiments::Substance {
                coefficient: 2.0 / 3.0,
                ..iron
            },
            planned,
        )),
        ..experiments::IRON
    };
    let (own, damp) = (
        &experiments::IRON,
        catalogue::find("leftover-damp").unwrap(),
    );
    let lab = lab_text(own);
    let with_damp = lab.replacen(
        "[signs]\n",
        "[signs]\nnails_wet = { question = \"Wet?\", supports = [\"leftover-damp\"] }\n",
        1,
    );
    for (model, water, sign, favoured, doubted) in [
        (own, 0.0, "", Some(0), None),
        // Beyond both predictions: neither fits.
        (own, 0.6, "", None, Some(1)),
        // As the other equation says: it is favoured, with a word of what else would do it.
        (own, 0.44, "", Some(1), None),
        (own, 0.44, "yes", None, Some(1)),
        (&other, 0.0, "", Some(1), None),
        (&other, 0.0, "no", Some(1), None),
    ] {
        let happened = Happened {
            with_left: water,
            ..Happened::default()
        };
        let done = model.run(&happened, &mut numbered(model, 3));
        let signs = format!("[signs]\nnails_wet = \"{sign}\"\n");
        let data = data_text(model, &with_damp, &done, &signs);
        weighed(&Described::read(&with_damp), &data, |weighed| {
            let decision = weighed.decision.as_ref().unwrap();
            assert_eq!(decision.favoured, favoured, "{water} {sign}");
            assert_eq!(decision.doubted, doubted, "{water} {sign}");
            let Some(instead) = &decision.instead else {
                assert_eq!(favoured, Some(0));
                return;
            };
            assert!(matches!(instead.effect, Effect::MoreLeft(_)), "{instead:?}");
            if water > 0.0 {
                let off = (instead.solved.amount - water) / instead.solved.standard;
                assert!(off.abs() < COVERAGE, "{water}: {off}");
            }
            if favoured.is_none() {
                let listed = weighed.listed.iter().any(|one| one.cause.id == damp.id);
                assert!(listed, "{water} {sign}");
            }
        });
    }
}

/// The limits of a crucible's readings added up by hand: the amount of a cause may be off by as much.
#[test]
fn limits_that_add_bound_the_amount_of_a_cause() {
    let model = &experiments::SODA;
    let lab = lab_text(model).replacen("[policy]\n", "[policy]\nuncertainty = \"worst-case\"\n", 1);
    let described = Described::read(&lab);
    let gives = model.product_moles() * model.product.molar_mass / model.planned;
    // Half a step for each reading: heated − crucible − k·(with soda − crucible).
    let limit = model.step / 2.0 * (1.0 + gives + (1.0 - gives).abs());
    let product_gone = 2.0 * limit;
    for (gone, beyond) in [(product_gone, true), (0.0, false)] {
        let happened = Happened {
            product_gone: gone,
            ..Happened::default()
        };
        let done = model.run(&happened, &mut numbered(model, 1));
        weighed(&described, &data_text(model, &lab, &done, ""), |weighed| {
            assert_eq!(weighed.beyond, beyond, "{gone}");
            let lost = catalogue::find("solid-lost").unwrap();
            for one in weighed.listed.iter().filter(|one| one.cause.id == lost.id) {
                // Besides the readings only the atomic weights, some parts in ten thousand of the product.
                let off = one.solved.limit / limit - 1.0;
                assert!((-0.01..0.3).contains(&off), "{off}");
                let words = one.effect.in_words(&one.solved, &weighed.scene);
                assert!(words.contains("(±\u{a0}0.00"), "{words}");
            }
            assert_eq!(
                weighed.listed.iter().any(|one| one.cause.id == lost.id),
                beyond
            );
        });
    }
}

/// Silver chloride filtered off on paper; the equation says nothing of solids and solutions.
const SILVER: &str = r#"
id = "silver"
title = "Silver chloride on paper"
equation = "AgNO3 + NaCl -> AgCl + NaNO3"
[substance.silver]
formula = "AgNO3"
before = "silver_volume * silver_molarity"
[substance.salt]
formula = "NaCl"
before = "boat_full - boat"
[substance.chloride]
formula = "AgCl"
after = "paper_full - paper"
yield = true
[given]
silver_molarity = "0.100 ± 0.001 mol/L"
[instrument.balance]
unit = "g"
readability = "0.001 g"
[instrument.cylinder]
unit = "mL"
tolerance = "0.3 mL"
[day.1]
title = "All"
readings = [
  { name = "boat", label = "boat, empty" },
  { name = "boat_full", label = "boat with salt" },
  { name = "silver_volume", label = "silver nitrate solution", unit = "mL" },
  { name = "paper", label = "filter paper, dry" },
  { name = "paper_full", label = "the same paper with the dry solid" },
]
[signs]
cloudy = { question = "Was the filtrate cloudy?", supports = ["solid-through-paper"] }
"#;

/// A group of that lab by its last weighing.
fn silver<T>(paper_full: &str, look: impl FnOnce(&Weighed<'_>) -> T) -> T {
    let data = format!(
        "[who]\nlab = \"silver\"\ngroup = \"1\"\n[day.1]\nboat = \"1.198 g\"\nboat_full = \"1.402 g\"\nsilver_volume = \"25.0 mL\"\n\
         paper = \"0.808 g\"\npaper_full = \"{paper_full} g\"\n[signs]\ncloudy = \"yes\"\n[cause.1]\nwhat = \"two balances\"\n"
    );
    weighed(&Described::read(SILVER), &data, look)
}

#[test]
fn without_states_what_is_done_with_a_substance_tells_its_own() {
    silver("1.139", |weighed| {
        let first = weighed.listed.first().expect("a cause");
        assert_eq!(first.cause.id, "solid-through-paper");
        assert!(!first.evidence.supports.is_empty());
        let scene = &weighed.scene;
        assert!(
            scene.wet() && scene.precipitate(2),
            "a solid from a solution"
        );
        let salt = catalogue::find("salt-in-paper").expect("known");
        assert!(!(salt.at)(scene).is_empty());
    });
}

#[test]
fn what_is_possible_only_by_its_uncertainty_comes_last_and_is_called_so() {
    silver("1.177", |weighed| {
        let ids: Vec<&str> = weighed.listed.iter().map(|one| one.cause.id).collect();
        let edge: Vec<bool> = weighed
            .listed
            .iter()
            .map(causes::Listed::is_at_edge)
            .collect();
        assert!(
            edge.is_sorted() && edge.contains(&false),
            "{ids:?} {edge:?}"
        );
        let last = weighed.listed.last().expect("a cause");
        assert_eq!(
            (last.cause.id, last.is_at_edge()),
            ("different-balances", true)
        );
        let told = last
            .only_at_edge(&weighed.scene.lab.words)
            .expect("a sentence");
        let says = "This amount is possible only at the edge of its uncertainty.";
        assert!(told.ends_with(says), "{told}");
        assert!(
            weighed.own[0].size.ends_with(says),
            "{}",
            weighed.own[0].size
        );
    });
}
