//! Safety, standing, prediction and provenance, in sentences.

use crate::chem::AtomicWeights;
use crate::chem::hazard;
use crate::lab::Asked;
use crate::lab::Lab;
use crate::lab::ShowWorking;
use crate::lab::UncertaintyRule;
use crate::measure::Rounding;
use crate::measure::Unit;
use crate::problem::Code;
use crate::problem::Problem;
use crate::problem::Severity;
use crate::problem::Span;
use crate::record::Content;
use crate::record::Recorded;
use crate::report::compose::Case;
use crate::report::compose::LabFrom;
use crate::report::compose::sentence_case;
use crate::report::model::Hazard;
use crate::report::model::HazardStatement;
use crate::report::model::Remark;
use crate::report::model::Safety;
use crate::report::model::Standing;
use crate::say;
use crate::words::Words;
use crate::working::Constant;
use crate::working::Expression;
use crate::working::Kind;

/// Is the file all right, and what is missing?
#[must_use]
pub fn standing(case: &Case<'_>) -> Standing {
    let (lab, record) = (case.lab, case.record);
    let words = &lab.words;
    let trials = &record.trials;
    let several = lab.trials > 1 || !trials.is_empty();
    let which = |number: u32| match number {
        number if several => say!(words, "trial {number}: ", number = number),
        _ => String::new(),
    };
    let entry = |which: String, label: &str, day: u32, why: &str| {
        say!(
            words,
            "{trial}{reading} (day {day}){reason}",
            trial = which,
            reading = label,
            day = day,
            reason = why
        )
    };
    // What no result needs and nobody will read any more is said, and nothing waits for it.
    let unneeded = |index: usize, recorded: &Recorded| {
        (!counts(case, index, recorded)).then(|| words.say(" (no result needs it)"))
    };
    let mut missing = Vec::new();
    let mut total = 0;
    for (index, ((day, asked), recorded)) in lab.readings().zip(&record.readings).enumerate() {
        total += 1;
        if let Some(why) = why_missing(words, asked, recorded) {
            let why = why + unneeded(index, recorded).unwrap_or_default();
            missing.push(entry(which(1), &asked.label, day, &why));
        }
    }
    for trial in trials {
        total += trial.common.iter().filter(|common| !**common).count();
        for index in record.missing_in(trial) {
            if let Some((day, asked)) = lab.readings().nth(index) {
                let recorded = &trial.readings[index];
                let why = why_missing(words, asked, recorded).unwrap_or_default();
                let why = why + unneeded(index, recorded).unwrap_or_default();
                let which = which(trial.number);
                missing.push(entry(which, &asked.label, day, &why));
            }
        }
    }
    let of = match trials.len() {
        0 => say!(words, "readings"),
        further => say!(words, "readings of {count} trials", count = further + 1),
    };
    let waited_for = self::missing(case);
    let mut sentence = match missing.len() {
        1.. if waited_for == 0 => say!(
            words,
            "All {readings} that a result needs are in.",
            readings = of
        ),
        0 => say!(
            words,
            "All {total} {readings} are in.",
            total = total,
            readings = of
        ),
        1 => say!(
            words,
            "1 of {total} {readings} is still missing.",
            total = total,
            readings = of
        ),
        some => say!(
            words,
            "{count} of {total} {readings} are still missing.",
            count = some,
            total = total,
            readings = of
        ),
    };
    let empty: Vec<String> = case
        .record
        .unbegun(lab.trials)
        .map(|number| number.to_string())
        .collect();
    match &empty[..] {
        [] => {}
        [only] => sentence.push_str(&say!(
            words,
            " Trial {number} is still empty.",
            number = only
        )),
        several => sentence.push_str(&say!(
            words,
            " Trials {numbers} are still empty.",
            numbers = several.join(", ")
        )),
    }
    let remarks = case.problems.iter().map(|problem| remark(case, problem));
    Standing {
        sentence,
        complete: waited_for == 0 && empty.is_empty(),
        missing,
        remarks: remarks.collect(),
    }
}

/// How many readings are missing that somebody can still read, or that a result needs.
#[must_use]
pub fn missing(case: &Case<'_>) -> usize {
    case.record
        .missing(|index, recorded| counts(case, index, recorded))
}

/// Whether a reading is waited for while it is missing: not where it is given up and no result needs it.
fn counts(case: &Case<'_>, index: usize, recorded: &Recorded) -> bool {
    case.graph.needs(index) || !recorded.given_up()
}

/// Why a reading cannot be used, behind its label; `None` where it can.
fn why_missing(words: &Words, asked: &Asked, recorded: &Recorded) -> Option<String> {
    Some(match recorded.counting().map(|entry| &entry.content) {
        None => String::new(),
        Some(Content::Missing(word)) => format!(": {word}"),
        Some(Content::Unreadable) => say!(words, ": could not be read"),
        Some(Content::Value(_)) if recorded.impossible.is_some() && recorded.by_result => {
            say!(
                words,
                ": does not go with other readings, to be looked at again"
            )
        }
        Some(Content::Value(_)) if recorded.impossible.is_some() => {
            let weighed = asked.unit.dimension() == Unit::Gram.dimension();
            if weighed {
                say!(words, ": impossible, to be weighed again")
            } else {
                say!(words, ": impossible, to be read again")
            }
        }
        Some(Content::Value(_)) => return None,
    })
}

/// A problem as a remark that stands by itself: it names the reading that it is about.
fn remark(case: &Case<'_>, problem: &Problem) -> Remark {
    let about = problem.labels.first().and_then(|label| {
        let of_answers = matches!(problem.code, Code::Answer | Code::AnswerUnit);
        let trials = case.record.trials.iter().map(|trial| &trial.readings);
        let mut readings = std::iter::once(&case.record.readings)
            .chain(trials)
            .flat_map(|readings| case.lab.readings().zip(readings));
        let found = readings.find(|(_, recorded)| {
            let inside = |span: &Span| span.start <= label.span.start && label.span.end <= span.end;
            !of_answers && recorded.entries.iter().any(|entry| inside(&entry.span))
        });
        match found {
            Some(((_, asked), _)) => Some(asked.label.as_str()),
            // The label of an answer is its question.
            None => of_answers.then_some(label.text.as_str()),
        }
    });
    let words = &case.lab.words;
    let message = match about
        .filter(|label| !problem.message.contains(label) && problem.code != Code::AnswerUnit)
    {
        Some(label) => {
            let label = say!(words, "“{reading}”", reading = label);
            format!("{label}: {}", problem.message)
        }
        None => sentence_case(&problem.message),
    };
    let full = |text: String| {
        if text.is_empty() || text.ends_with(['.', '?', '!']) {
            text
        } else {
            format!("{text}.")
        }
    };
    let word = match problem.severity {
        Severity::Error => words.say("Error"),
        Severity::Warning => words.say("Warning"),
        Severity::Note => words.say("Note"),
    };
    Remark {
        word: word.to_owned(),
        sentence: full(message),
        help: full(sentence_case(problem.help.as_deref().unwrap_or_default())),
    }
}

/// Cautions, hazard statements, and who decides.
pub(in crate::report) fn safety(lab: &Lab, own: Option<String>) -> Safety {
    let safety = &lab.safety;
    let substances = lab
        .substances
        .iter()
        .filter(|substance| !substance.hazards.is_empty());
    let hazards = substances.map(|substance| Hazard {
        substance: substance
            .weighed_name
            .clone()
            .unwrap_or_else(|| substance.name.clone()),
        statements: substance
            .hazards
            .iter()
            .map(|code| HazardStatement {
                code: code.clone(),
                text: lab
                    .words
                    .say(hazard::statement(code).unwrap_or_default())
                    .to_owned(),
            })
            .collect(),
    });
    Safety {
        cautions: safety.cautions.clone(),
        hazards: hazards.collect(),
        priority: say!(
            lab.words,
            "Your teacher, the safety data sheet (SDS) of the bottle in use and the rules of your school come first; they take priority over this page."
        ),
        waste: safety
            .waste
            .clone()
            .unwrap_or_else(|| say!(lab.words, "Waste: as your teacher directs.")),
        source: safety.source.clone().unwrap_or_default(),
        own,
    }
}

/// What the amounts taken predict; only sentences whose every step is open.
pub(in crate::report) fn prediction(case: &Case<'_>) -> Vec<String> {
    let words = &case.lab.words;
    let mut sentences = Vec::new();
    for id in case.graph.ids() {
        let step = case.graph.step(id);
        let said = match step.kind {
            Kind::Limiting | Kind::Theoretical(_) => true,
            // Of what runs out there is nothing to say besides that.
            Kind::ExpectedLeft(r) => step.asked.is_some() && !runs_out(case, step.equation, r),
            _ => false,
        };
        let value = case.worked.value(id).filter(|_| said && case.open.step(id));
        let (Some(value), Some(shown)) = (value, case.shown(id)) else {
            continue;
        };
        let by = if step.equation == 0 {
            String::new()
        } else {
            say!(words, " by equation {number}", number = step.equation + 1)
        };
        let name = |index: usize| {
            let substance = &case.lab.substances[index];
            substance.weighed_name.as_ref().unwrap_or(&substance.name)
        };
        sentences.extend(match step.kind {
            Kind::Limiting if value.smallest.len() > 1 => Some(say!(
                words,
                "{substances} run out together{by}.",
                substances = shown,
                by = by
            )),
            Kind::Limiting => Some(say!(
                words,
                "{substance} runs out first{by}.",
                substance = shown,
                by = by
            )),
            Kind::Theoretical(p) => Some(say!(
                words,
                "At most {amount} of {substance} can form{by}.",
                amount = shown,
                substance = name(p),
                by = by
            )),
            Kind::ExpectedLeft(r) => Some(say!(
                words,
                "{amount} of {substance} should be left{by}.",
                amount = shown,
                substance = name(r),
                by = by
            )),
            _ => None,
        });
    }
    sentences
}

/// Whether a reactant runs out by one of the equations.
fn runs_out(case: &Case<'_>, equation: usize, reactant: usize) -> bool {
    let limiting = case.graph.of_equation(equation, Kind::Limiting);
    let value = limiting.and_then(|step| case.worked.value(step));
    value.is_some_and(|value| value.smallest.contains(&reactant))
}

/// Where the constants for gases come from, in a lab that needs them.
fn of_gases(case: &Case<'_>) -> Option<String> {
    let (mut gas, mut vapour) = (false, false);
    for step in case.graph.steps() {
        step.expression.visit(&mut |part| {
            gas |= matches!(part, Expression::Constant(Constant::Gas));
            vapour |= matches!(part, Expression::VapourPressure(_));
        });
    }
    let words = &case.lab.words;
    let sentence = if vapour {
        say!(
            words,
            "Gases are taken as ideal; R by CODATA 2022, vapour pressure of water by the CRC Handbook of Chemistry and Physics, 73rd edition, to 0.01 kPa."
        )
    } else {
        say!(words, "Gases are taken as ideal; R by CODATA 2022.")
    };
    gas.then_some(sentence)
}

/// How it was computed.
pub(in crate::report) fn provenance(case: &Case<'_>) -> Vec<String> {
    let words = &case.lab.words;
    let policy = &case.lab.policy;
    let rounding = match policy.rounding {
        Rounding::HalfUp => words.say("a half is rounded up"),
        Rounding::HalfEven => words.say("a half is rounded to the even digit"),
    };
    let uncertainty = match policy.uncertainty {
        UncertaintyRule::Standard => {
            words.say("Uncertainties are standard uncertainties by JCGM 100:2008, first order, with a reading used twice counted as one: a display step is a \
             full width (÷ √12), a tolerance or a ± a half-width (÷ √3), digits in brackets a standard uncertainty, the ± of an atomic weight a \
             half-width (÷ √3); a value from a label without ± is taken to half a unit of its last digit.")
        }
        UncertaintyRule::WorstCase => {
            words.say("Uncertainties are worst cases: the limits of every reading added up.")
        }
        UncertaintyRule::None => words.say("Uncertainties are not worked in this lab."),
    };
    let shown = match policy.show_working {
        _ if case.digest.is_empty() => "",
        _ if !case.lab.ask.present => words.say("All working is shown."),
        ShowWorking::Always => words.say("All working is shown."),
        ShowWorking::AfterAnswer => words
            .say("A worked step is shown once the group's own answer to it stands in the file."),
        ShowWorking::Teacher => words.say("Worked steps are shown to the teacher only."),
    };
    let id = &case.lab.id;
    let lab = match case.lab_from {
        LabFrom::Unsaid => say!(words, "Lab description: {name}.", name = id),
        LabFrom::BuiltIn => say!(words, "Lab description: {name} (built in).", name = id),
        LabFrom::File(file) => say!(
            words,
            "Lab description: {name} (from {file}).",
            name = id,
            file = file
        ),
    };
    let mut sentences = vec![
        lab,
        say!(
            words,
            "Atomic weights: {edition} with the CIAAW changes of 2024 (zirconium, gadolinium, lutetium). Every value stands in the table below.",
            edition = AtomicWeights::EDITION
        ),
        say!(
            words,
            "Values are exact ratios of the readings and are rounded once, when they are shown; {rounding}. Intermediate values carry one guard digit.",
            rounding = rounding
        ),
        uncertainty.to_owned(),
    ];
    sentences.extend(of_gases(case));
    sentences.extend((!shown.is_empty()).then(|| shown.to_owned()));
    // A shared report says nothing that leads back to the group's own file.
    if !case.digest.is_empty() {
        sentences.push(say!(
            words,
            "Data file: SHA-256 {digest}.",
            digest = case.digest
        ));
    }
    sentences.push(say!(
        words,
        "Made by gramleaf {version}.",
        version = env!("CARGO_PKG_VERSION")
    ));
    sentences
}
