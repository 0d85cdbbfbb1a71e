//! Own lines in the place of what a later step does not name: the same readings again, and the molar mass that own moles were worked with.

use crate::answers::Verdict;
use crate::answers::lines;
use crate::working::Constant;
use crate::working::Expression;
use crate::working::Graph;
use crate::working::Kind;
use crate::working::StepId;
use crate::working::line::Line;
use crate::working::line::Standing;
use crate::working::terms::Part;
use crate::working::terms::Term;
use crate::working::terms::Terms;

/// The molar mass that a student took, as a part of the right one: beyond that the moles are wrong in another way.
const MOLAR_MASSES: std::ops::RangeInclusive<f64> = 0.5..=2.0;

/// How many ways to put own lines together are tried for one part.
const WAYS: usize = 4;

/// A line on which wrong answers stand in for the parts of a step that say the same without naming them, in each of the ways that a student may
/// have gone, the plainest first. Empty where there is none. `by_slip` are the steps whose wrong answer a slip in a molar mass explains.
///
/// A relation of the lab may name the readings of a mass instead of the mass, and a difference of readings may be that of two
/// masses answered before. Own moles that only another molar mass explains tell which one the student goes on with.
pub(super) fn lines<'a>(
    graph: &Graph,
    line: &Line<'a>,
    id: StepId,
    (verdicts, by_slip): (&[Option<Verdict>], &[StepId]),
) -> Vec<Line<'a>> {
    let wrong: Vec<(StepId, f64)> = graph
        .ids()
        .filter(|step| {
            let verdict = verdicts[step.index()];
            verdict.is_some_and(|verdict| !matches!(verdict, Verdict::Matches | Verdict::Rounding))
        })
        .filter_map(|step| match line.answer(step) {
            Some(Standing::Number(number)) if step != id => Some((step, *number)),
            _ => None,
        })
        .collect();
    if wrong.is_empty() {
        return Vec::new();
    }
    let own = own_terms(graph, &wrong);
    let mut found = Vec::new();
    let (mut same, mut together) = (Vec::new(), Vec::new());
    for part in parts(graph, line, id) {
        if let Some(own) = same_as(graph, part, &wrong) {
            same.push((part.expression.clone(), own));
        } else {
            let values = values(graph, line, id, part, &own);
            together.extend((!values.is_empty()).then_some((&part.expression, values)));
        }
    }
    // What says the same comes first, and alone: nobody goes round by another line where the own one is at hand.
    if !same.is_empty() {
        found.push(with(line, &same));
    }
    let most = together.iter().map(|(_, values)| values.len()).max();
    for way in 0..most.unwrap_or(0) {
        let mut other = with(line, &same);
        for (part, values) in &together {
            other.replace((*part).clone(), values[way.min(values.len() - 1)]);
        }
        found.push(other);
    }
    let molar_masses = molar_masses(graph, line, &wrong, (verdicts, by_slip));
    if !molar_masses.is_empty() {
        let before: Vec<Line<'a>> = std::iter::once(line.clone())
            .chain(found.iter().cloned())
            .collect();
        for line in &before {
            found.push(with(line, &molar_masses));
            if molar_masses.len() > 1 {
                found.extend(molar_masses.chunks(1).map(|one| with(line, one)));
            }
        }
    }
    found
}

/// A line on which numbers stand in for parts of expressions.
fn with<'a>(line: &Line<'a>, taken: &[(Expression, f64)]) -> Line<'a> {
    let mut other = line.clone();
    for (part, value) in taken {
        other.replace(part.clone(), *value);
    }
    other
}

/// Every part of a step, and of the steps before it that nobody answered; not a step or a constant by itself.
fn parts<'g>(graph: &'g Graph, line: &Line<'_>, id: StepId) -> Vec<&'g Part> {
    let mut found: Vec<&Part> = Vec::new();
    for step in lines::without_numbers(graph, line, id) {
        for part in graph.parts(step) {
            let plain = matches!(
                part.expression,
                Expression::Step(_) | Expression::Constant(_)
            );
            let known = |other: &&Part| other.expression == part.expression;
            if !plain && !found.iter().any(known) {
                found.push(part);
            }
        }
    }
    found
}

/// What a step says by itself.
fn whole(graph: &Graph, step: StepId) -> &Part {
    // Every step has its own expression first among its parts.
    &graph.parts(step)[0]
}

/// The wrong answer to a step that says the same as a part.
fn same_as(graph: &Graph, part: &Part, wrong: &[(StepId, f64)]) -> Option<f64> {
    let mut latest_first = wrong.iter().rev();
    let same = latest_first.find(|(step, _)| whole(graph, *step).says_the_same(part));
    same.map(|(_, own)| *own)
}

/// The wrong answers to steps that are sums, with their terms; each with the other sign as well, since one adds a mass and takes
/// one off.
fn own_terms(graph: &Graph, wrong: &[(StepId, f64)]) -> Vec<(Terms, f64)> {
    let own = wrong.iter().filter_map(|(step, own)| {
        let terms = whole(graph, *step).terms.clone()?;
        Some([(turned(&terms), -own), (terms, *own)])
    });
    own.flatten().collect()
}

/// A sum with the other sign.
fn turned(terms: &Terms) -> Terms {
    terms.iter().map(|(term, count)| (*term, -count)).collect()
}

/// Whether a step before one finds a sum, or the same with the other sign.
fn is_found_before(graph: &Graph, id: StepId, sum: &Terms) -> bool {
    let mut before = graph.ids().take_while(|step| *step != id);
    let other = turned(sum);
    before.any(|step| {
        let terms = whole(graph, step).terms.as_ref();
        terms.is_some_and(|terms| terms == sum || *terms == other)
    })
}

/// What several own lines, or one and the readings, make of a difference, the plainest way first.
fn values(
    graph: &Graph,
    line: &Line<'_>,
    id: StepId,
    part: &Part,
    own: &[(Terms, f64)],
) -> Vec<f64> {
    let Some(target) = part.terms.as_ref().filter(|terms| size(terms) > 1) else {
        return Vec::new();
    };
    let mut ways: Vec<(u32, f64)> = Vec::new();
    let mut take = |rest: &Terms, own: f64| {
        // What is left over has to be what a step before finds, or nothing: to the metal's own mass nobody adds what the crucible gained.
        let is_found = rest.is_empty() || is_found_before(graph, id, rest);
        if is_found && let Some(rest_is) = value_of(line, rest) {
            ways.push((size(rest), own + rest_is));
        }
    };
    for (place, (first, own_first)) in own.iter().enumerate() {
        let rest = less(target, first);
        if size(&rest) <= size(target) {
            take(&rest, *own_first);
        }
        for (second, own_second) in &own[place + 1..] {
            let rest = less(&rest, second);
            if size(&rest) < size(target) {
                take(&rest, own_first + own_second);
            }
        }
    }
    ways.sort_by_key(|(rest, _)| *rest);
    ways.truncate(WAYS);
    ways.into_iter().map(|(_, value)| value).collect()
}

fn less(from: &Terms, taken: &Terms) -> Terms {
    let mut rest = from.clone();
    for (term, count) in taken {
        *rest.entry(*term).or_default() -= count;
    }
    rest.retain(|_, count| *count != 0);
    rest
}

/// How many terms a sum has, each as often as it counts.
fn size(terms: &Terms) -> u32 {
    terms.values().map(|count| count.unsigned_abs()).sum()
}

/// What a sum comes to by the readings.
fn value_of(line: &Line<'_>, terms: &Terms) -> Option<f64> {
    let value = |(term, count): (&Term, &i32)| {
        let expression = match term {
            Term::Reading(reading) => Expression::Reading(*reading),
            Term::Given(given) => Expression::Given(*given),
        };
        Some(line.value(&expression)? * f64::from(*count))
    };
    terms.iter().map(value).sum()
}

/// A molar mass for which no answer stands in; one that was answered is in the line already.
fn open<'e>(graph: &'e Graph, line: &Line<'_>, by: &'e Expression) -> &'e Expression {
    match by {
        Expression::Step(step) if line.answer(*step).is_none() => &graph.step(*step).expression,
        other => other,
    }
}

/// Molar masses that wrong lines between grams and moles were worked with: own mass ÷ own moles.
fn molar_masses(
    graph: &Graph,
    line: &Line<'_>,
    wrong: &[(StepId, f64)],
    (verdicts, by_slip): (&[Option<Verdict>], &[StepId]),
) -> Vec<(Expression, f64)> {
    let mut found: Vec<(Expression, f64)> = Vec::new();
    for (step, own) in wrong {
        if verdicts[step.index()] != Some(Verdict::LookAgain) || *own == 0.0 {
            continue;
        }
        let kind = graph.step(*step).kind;
        let (constant, mass, moles) = match (kind, &graph.step(*step).expression) {
            (
                Kind::Moles(_) | Kind::MolesCollected(_) | Kind::MolesUsed(_) | Kind::Find(_),
                Expression::Quotient(mass, by),
            ) => (open(graph, line, by), line.value(mass), Some(*own)),
            (Kind::Theoretical(_) | Kind::Needed(_), Expression::Product(factors)) => {
                let Some((by, moles)) = factors.split_last() else {
                    continue;
                };
                let moles = Expression::Product(moles.to_vec());
                (open(graph, line, by), Some(*own), line.value(&moles))
            }
            _ => continue,
        };
        if !matches!(constant, Expression::Constant(Constant::MolarMass(_))) {
            continue;
        }
        let (Some(mass), Some(moles), Some(right)) = (mass, moles, line.value(constant)) else {
            continue;
        };
        let taken = mass / moles;
        let known = found.iter().any(|(other, _)| other.is_like(constant));
        // The atomic number in its place may be less than half of it.
        let explained = MOLAR_MASSES.contains(&(taken / right)) || by_slip.contains(step);
        if explained && !known {
            found.push((constant.clone(), taken));
        }
    }
    found
}
