//! Results: predicted beside found, the head of page one, and which reading dominates the uncertainty.

use crate::lab::UncertaintyRule;
use crate::measure::Decimal;
use crate::measure::Exact;
use crate::measure::Unit;
use crate::measure::figures::Figures;
use crate::report::compose::Case;
use crate::report::compose::after_answer;
use crate::report::compose::no_value;
use crate::report::model::Figure;
use crate::report::model::Table;
use crate::report::tables::figures;
use crate::report::tables::words;
use crate::report::trials;
use crate::say;
use crate::working::Kind;
use crate::working::StepId;
use crate::working::show;

/// One line of the results table: what was found, and what it is compared with.
pub(in crate::report) struct Line {
    pub(in crate::report) name: String,
    predicted: Option<Reference>,
    pub(in crate::report) found: StepId,
}

/// What a result is compared with.
enum Reference {
    /// Another step.
    Step(StepId),
    /// A ratio of coefficients, exact.
    Ratio(Exact),
}

/// Predicted, found, difference and uncertainty of everything measured.
pub(in crate::report) fn table(case: &Case<'_>) -> Table {
    let rows = lines(case)
        .into_iter()
        .map(|line| row(case, &line))
        .collect();
    let wording = &case.lab.words;
    let doubt = match case.lab.policy.uncertainty {
        UncertaintyRule::Standard => wording.say("standard uncertainty"),
        UncertaintyRule::WorstCase => wording.say("worst case ±"),
        UncertaintyRule::None => "",
    };
    let mut columns = vec![
        words(wording.say("quantity")),
        figures(wording.say("predicted")),
        figures(wording.say("found")),
        figures(wording.say("difference")),
        figures(doubt),
    ];
    let mut rows: Vec<Vec<String>> = rows;
    if doubt.is_empty() {
        columns.pop();
        for row in &mut rows {
            row.pop();
        }
    }
    Table {
        caption: say!(
            wording,
            "Results{of_trial}: what was predicted and what was found.",
            of_trial = trials::of_the_first(case)
        ),
        columns,
        rows,
    }
}

/// Everything measured, in the order of the steps.
pub(in crate::report) fn lines(case: &Case<'_>) -> Vec<Line> {
    let graph = case.graph;
    let mut lines = Vec::new();
    // How far a reaction went is reckoned by one equation, and which may be what is asked.
    let asks_equation = case.asks_which_equation();
    let splits = |kind| matches!(kind, Kind::Completion(_) | Kind::Recovery(..));
    // What opens with nobody's answer is kept from the page altogether.
    let kept_back = |id| case.open.everything() && !case.open.step(id);
    for id in graph.ids() {
        let step = graph.step(id);
        if step.equation != 0 || (asks_equation && splits(step.kind)) || kept_back(id) {
            continue;
        }
        let of = |kind| graph.of_kind(kind).map(Reference::Step);
        let predicted = match step.kind {
            Kind::Collected(p) => of(Kind::Theoretical(p)),
            Kind::MeasuredLeft(r) => of(Kind::ExpectedLeft(r)),
            Kind::Used(r) => of(Kind::Needed(r)),
            Kind::Ratio(p, r) => {
                let (product, reactant) = (&case.lab.substances[p], &case.lab.substances[r]);
                Some(Reference::Ratio(Exact::new(
                    product.coefficient.into(),
                    reactant.coefficient.into(),
                )))
            }
            Kind::Find(find) => graph
                .of_kind(Kind::Accepted(find))
                .filter(|id| !kept_back(*id))
                .map(Reference::Step),
            Kind::PercentYield(_) | Kind::MassKept | Kind::Completion(_) | Kind::Recovery(..) => {
                None
            }
            _ => continue,
        };
        lines.push(Line {
            name: step.title.clone(),
            predicted,
            found: id,
        });
    }
    lines
}

fn row(case: &Case<'_>, line: &Line) -> Vec<String> {
    let step = case.graph.step(line.found);
    let open = case.open.step(line.found);
    let value = case.worked.value(line.found);
    let found = match case.shown(line.found) {
        None => no_value(case, line.found),
        Some(_) if !open => after_answer(case),
        Some(shown) => shown,
    };
    let doubt = value
        .filter(|_| open)
        .and_then(|value| show::doubt_text(case.lab, step, value, &case.worked.inputs));
    let (predicted, reference) = match &line.predicted {
        None => (String::new(), None),
        Some(Reference::Ratio(ratio)) => {
            let shown = show::written(
                &case.lab.words,
                Figures::Exact.write(ratio, 0, case.lab.policy.rounding),
            );
            (shown, Some((ratio.clone(), Figures::Exact)))
        }
        Some(Reference::Step(id)) => match case.worked.value(*id) {
            None => (say!(case.lab.words, "waiting"), None),
            Some(_) if !case.open.step(*id) => (after_answer(case).to_owned(), None),
            Some(value) => (
                case.shown(*id).unwrap_or_default().to_owned(),
                Some((value.exact.clone(), value.figures)),
            ),
        },
    };
    let difference = match (reference, value.filter(|_| open)) {
        (Some((exact, digits)), Some(value)) => {
            let power = step.unit.power_to_base();
            let difference = (&value.exact - &exact) / Decimal::new(1, -power).to_exact();
            let digits =
                Figures::sum([(value.figures, &value.exact), (digits, &exact)]).shifted(power);
            let few = digits.significant(&difference).is_some_and(|left| left < 2);
            let digits = match &line.predicted {
                // Near the accepted value nearly no figures are left, where the discussion goes by the uncertainty.
                Some(Reference::Step(accepted)) if few && matches!(step.kind, Kind::Find(_)) => {
                    places_of_doubt(case, [line.found, *accepted]).map_or(digits, Figures::Places)
                }
                _ => digits,
            };
            let difference = show::signed(
                &case.lab.words,
                show::plain(
                    digits.write(&difference, 0, case.lab.policy.rounding),
                    step.unit,
                ),
            );
            if step.unit == Unit::Percent {
                // A difference of 3 % of a per cent is something else.
                say!(
                    case.lab.words,
                    "{difference} percentage points",
                    difference = difference
                )
            } else {
                show::with_unit(&difference, step.unit)
            }
        }
        _ => String::new(),
    };
    vec![
        line.name.clone(),
        predicted,
        found.to_owned(),
        difference,
        doubt.unwrap_or_default(),
    ]
}

/// The place of the largest uncertainty among some values, as printed.
fn places_of_doubt(case: &Case<'_>, steps: [StepId; 2]) -> Option<i32> {
    let doubts = steps.into_iter().filter_map(|id| {
        let value = case.worked.value(id)?;
        show::doubt(case.lab, case.graph.step(id), value, &case.worked.inputs)
    });
    let largest = doubts.reduce(f64::max)?;
    show::doubt_number(largest).map(Decimal::places)
}

/// The steps that answer the lab's question: percent yields, the lab's own quantities, else leftovers.
pub(in crate::report) fn main_steps(case: &Case<'_>) -> Vec<StepId> {
    let graph = case.graph;
    let is = |test: fn(Kind) -> bool| -> Vec<StepId> {
        graph
            .ids()
            .filter(|id| graph.step(*id).equation == 0 && test(graph.step(*id).kind))
            .collect()
    };
    let mut steps = is(|kind| matches!(kind, Kind::PercentYield(_)));
    steps.extend(is(|kind| matches!(kind, Kind::Find(_))));
    steps.extend(is(|kind| matches!(kind, Kind::Ratio(..))));
    steps.extend(is(|kind| matches!(kind, Kind::MeasuredLeft(_))));
    steps
}

/// The results at the head of page one; only what is open. Of several trials the mean comes first.
pub(in crate::report) fn headline(case: &Case<'_>) -> Vec<Figure> {
    let mut shown = Vec::new();
    for id in main_steps(case)
        .into_iter()
        .filter(|id| case.open.step(*id))
    {
        shown.extend(trials::figure(case, id));
        let step = case.graph.step(id);
        let Some(value) = case.worked.value(id) else {
            continue;
        };
        let doubt = show::doubt_text(case.lab, step, value, &case.worked.inputs);
        shown.push(Figure {
            name: format!("{}{}", step.title, trials::of_the_first(case)),
            value: case.shown(id).unwrap_or_default().to_owned(),
            uncertainty: doubt
                .map_or_else(String::new, |doubt| format!("±{}{doubt}", show::NO_BREAK)),
        });
    }
    shown.truncate(4);
    shown
}
