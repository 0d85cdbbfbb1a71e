//! Safety, prediction and provenance, in sentences.

use crate::chem::AtomicWeights;
use crate::chem::hazard;
use crate::lab::Lab;
use crate::lab::ShowWorking;
use crate::lab::UncertaintyRule;
use crate::measure::Rounding;
use crate::report::compose::Case;
use crate::report::compose::LabFrom;
use crate::report::model::Hazard;
use crate::report::model::HazardStatement;
use crate::report::model::Safety;
use crate::say;
use crate::working::Constant;
use crate::working::Expression;
use crate::working::Kind;

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
            "Values are exact ratios of the readings and are rounded once, when they are shown; {rounding}. Intermediate values carry one guard digit, and further ones where a line would not come to its result without them.",
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
