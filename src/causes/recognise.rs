//! Which cause of the catalogue a student's words mean: by what happened, to which substance, and whether it is denied.

use std::ops::Range;

use crate::causes::about::Said;
use crate::causes::about::about;
use crate::causes::about::may_dissolve;
use crate::causes::about::should_run_out;
use crate::causes::catalogue;
use crate::causes::catalogue::Cause;
use crate::causes::deviation::Deviations;
use crate::causes::direction;
use crate::causes::effect::Effect;
use crate::causes::grain;
use crate::causes::grain::Grain;
use crate::causes::held;
use crate::causes::mention;
use crate::causes::mention::Mention;
use crate::causes::mention::Text;
use crate::causes::places::places;
use crate::causes::scene::Scene;
use crate::causes::told;
use crate::causes::told::Told;
use crate::causes::vocabulary;
use crate::causes::weigh::Listed;
use crate::record;
use crate::words::Words;
use crate::working::Variable;

/// How many words before a word a negation reaches.
const REACH: usize = 5;

/// Causes in which one substance is weighed with another: it is in it, or on it.
const TOGETHER: [&str; 2] = ["metal-in-product", "product-on-metal"];

/// Causes in which something dissolved is weighed with a solid.
const HELD_BACK: [&str; 2] = ["salt-not-rinsed", "salt-in-paper"];

/// Signs that something was lost, whatever became of it.
const LOST: [&str; 7] = [
    "sample_spilled",
    "solid_poured_away",
    "spattering_seen",
    "solid_stuck_to_glass",
    "filtrate_cloudy",
    "paper_torn",
    "smoke_escaped",
];

/// Causes by which a solution is not what its label says: words may leave open which way.
const STRENGTH: [&str; 4] = [
    "solution-weaker",
    "solution-stronger",
    "titrant-weaker",
    "titrant-stronger",
];

/// The cause that is any loss of a product.
const ANY_LOSS: &str = "product-spilled";

/// The cause whose words name a vessel: “copper in the beaker was wet” says nothing of the beaker.
const VESSEL: &str = "vessel-damp-at-first";

/// What a student's words were taken for.
pub(super) enum Meaning {
    /// A cause, and the substances that are named with it.
    Cause(&'static Cause, Vec<Mention>),
    /// Something that is answered by itself.
    Told(Told),
    /// Something that is said not to have happened.
    Denied,
    /// Nothing that is known.
    Unknown,
}

/// How well a cause fits a text; what counts most stands first.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
struct Fit {
    /// What cannot have happened here is meant only when nothing else is.
    applies: bool,
    /// How many of its substances are named.
    named: usize,
    /// Whether it is about the substance that stands nearest to what happened.
    nearest: bool,
    /// How many letters of the text say it.
    letters: usize,
    /// Whether it works the way they say, where its words leave open which.
    as_claimed: bool,
    /// Whether they are words for this cause alone, and whether the report lists it.
    besides: (bool, bool),
}

/// What students mean: by the sign they name, by the cause's id, or by their words.
pub(super) fn meaning(
    own: &record::Cause,
    scene: &Scene<'_>,
    deviations: &Deviations,
    listed: &[Listed],
) -> Meaning {
    let what = own.what.trim();
    let by_name = what.to_lowercase().replace([' ', '_'], "-");
    if let Some(cause) = catalogue::find(&by_name) {
        return Meaning::Cause(cause, Vec::new());
    }
    let sign = what.replace(' ', "_");
    match scene.lab.signs.iter().find(|known| known.id == sign) {
        Some(sign) => {
            let shows = |cause: &Cause| {
                if sign.supports.is_empty() {
                    cause.signs.contains(&sign.id.as_str())
                } else {
                    sign.supports.iter().any(|(id, _)| id == cause.id)
                }
            };
            let key = |cause: &Cause| (!(cause.at)(scene).is_empty(), is_listed(cause, listed));
            let mut best: Option<&'static Cause> = None;
            for cause in catalogue::all().filter(|cause| shows(cause)) {
                if best.is_none_or(|known| key(cause) > key(known)) {
                    best = Some(cause);
                }
            }
            // A loss that has no cause of its own here is a loss all the same.
            let has_place = best.is_some_and(|cause| !(cause.at)(scene).is_empty());
            if !has_place && sign.supports.is_empty() && LOST.contains(&sign.id.as_str()) {
                let loss = catalogue::find(ANY_LOSS);
                best = loss.filter(|loss| !(loss.at)(scene).is_empty()).or(best);
            }
            best.map_or(Meaning::Unknown, |cause| Meaning::Cause(cause, Vec::new()))
        }
        None => by_words(own, scene, deviations, listed),
    }
}

fn is_listed(cause: &Cause, listed: &[Listed]) -> bool {
    listed.iter().any(|one| one.cause.id == cause.id)
}

/// The cause that fits a text best.
fn by_words(
    own: &record::Cause,
    scene: &Scene<'_>,
    deviations: &Deviations,
    listed: &[Listed],
) -> Meaning {
    let text = Text::of(own.what.trim(), scene);
    let mentions = mention::all(&text, scene);
    if let Some(told) = told::of(&text, &mentions, scene) {
        return Meaning::Told(told);
    }
    let (mut denied, mut misfit) = (false, false);
    let mut best: Option<(Fit, &'static Cause)> = None;
    let claimed = direction::claimed(&own.effect, &scene.lab.words);
    let sized = grain::pace(&text, &mentions, &scene.lab.words).is_some();
    for cause in catalogue::all() {
        let effects = (cause.at)(scene);
        for said in said(cause, &effects, &text, &mentions, scene) {
            if sized && grain::is_only(&said.at, &text, &mentions, &scene.lab.words) {
                continue;
            }
            if is_denied(&said, &text, &mentions, &scene.lab.words) {
                denied = true;
                continue;
            }
            // Words that several causes share say nothing of one that has no place here.
            if effects.is_empty() && said.own {
                let fit = fit(&said, 0, false, cause, listed);
                better(
                    &mut best,
                    Fit {
                        applies: false,
                        ..fit
                    },
                    cause,
                );
            }
            for effect in &effects {
                match about(&said, (cause, *effect), &text, &mentions, scene) {
                    Some((named, nearest)) => {
                        let mut fit = fit(&said, named, nearest, cause, listed);
                        fit.as_claimed = STRENGTH.contains(&cause.id)
                            && claimed.is_some()
                            && direction::on_the_result(*effect, scene, deviations) == claimed;
                        better(&mut best, fit, cause);
                    }
                    None => misfit = true,
                }
            }
        }
    }
    let known = best.as_ref().filter(|(fit, _)| fit.applies);
    let known = known.map(|(_, cause)| *cause);
    if let Some(told) = told::impurity(known, (&text, &mentions), scene) {
        return Meaning::Told(told);
    }
    let unnamed = mentions.iter().all(|one| one.carrier);
    if unnamed
        && known.is_some_and(|cause| STRENGTH.contains(&cause.id))
        && has_two_solutions(scene)
    {
        return Meaning::Told(Told::WhichSolution);
    }
    if known.is_none() && told::rounded(&text, scene) {
        return Meaning::Told(Told::Slip);
    }
    match grain::of((&text, &mentions), known, scene) {
        Some(Grain::Told(told)) => return Meaning::Told(told),
        Some(Grain::Slow(cause)) => return Meaning::Cause(cause, mentions),
        None => {}
    }
    match best {
        // A substance is named: that nothing would show it is not known.
        Some((fit, _)) if !fit.applies && (misfit || mentions.iter().any(|one| !one.carrier)) => {
            Meaning::Unknown
        }
        Some((fit, _)) if !fit.applies && denied => Meaning::Denied,
        Some((_, cause)) => match told::damp_paper(cause, (&text, &mentions), claimed, scene) {
            Ok(cause) => Meaning::Cause(cause, mentions),
            Err(told) => Meaning::Told(told),
        },
        None if denied => Meaning::Denied,
        None => Meaning::Unknown,
    }
}

fn fit(said: &Said, named: usize, nearest: bool, cause: &Cause, listed: &[Listed]) -> Fit {
    Fit {
        applies: true,
        named,
        nearest,
        letters: said.letters,
        as_claimed: false,
        besides: (said.own, is_listed(cause, listed)),
    }
}

fn better(best: &mut Option<(Fit, &'static Cause)>, fit: Fit, cause: &'static Cause) {
    if best.as_ref().is_none_or(|(known, _)| fit > *known) {
        *best = Some((fit, cause));
    }
}

/// Where a text says what a cause is.
fn said(
    cause: &Cause,
    effects: &[Effect],
    text: &Text,
    mentions: &[Mention],
    scene: &Scene<'_>,
) -> Vec<Said> {
    let language = &scene.lab.words;
    let mut all = Vec::new();
    let mut look = |list: &'static str, own: bool| {
        let is_said = |at: &Range<usize>| {
            // The name of a substance says nothing of what happened to it: “oxide”.
            let named = |one: &Mention| one.at.start <= at.start && at.end <= one.at.end;
            let is_place = || mention::is_place(text, text.number(at.start), language);
            (own || !mentions.iter().any(named)) && !(cause.id == VESSEL && is_place())
        };
        let found = places(text, list, language).filter(is_said);
        all.extend(found.map(|at| Said {
            letters: text.plain[at.clone()].chars().count(),
            at,
            own,
            both: !own,
        }));
    };
    look(cause.words, true);
    let named = mentions
        .iter()
        .any(|one| !one.carrier || effects.iter().any(|effect| one.is_of(*effect, scene)));
    for (list, causes) in vocabulary::HAPPENED {
        if *list == vocabulary::UNDISSOLVED && !may_dissolve(mentions, scene)
            || *list == vocabulary::LEFT_OVER && !should_run_out(mentions, scene)
        {
            continue;
        }
        let mut here = causes.iter().filter_map(|id| catalogue::find(id));
        // Where no substance is named, it is the first that can be; beside a sample of its own nobody knows which.
        let mut is_first = || {
            if *list != vocabulary::UNDISSOLVED && scene.sample().is_some() {
                return false;
            }
            let first = here.find(|one| !(one.at)(scene).is_empty());
            first.is_some_and(|one| one.id == cause.id)
        };
        if causes.contains(&cause.id) && (named || is_first()) {
            look(list, false);
        }
    }
    // What is titrated with is measured as it is added: too much of it is past the end.
    let titrant = |one: &Mention| matches!(one.inputs[..], [Variable::Given(_)]);
    if mentions.iter().any(titrant) {
        match cause.id {
            "over-titrated" => look(vocabulary::TOO_MUCH, true),
            "under-titrated" => look(vocabulary::TOO_LITTLE, true),
            _ => {}
        }
    }
    if HELD_BACK.contains(&cause.id) {
        let held = held::places_of(text, mentions, scene).into_iter();
        all.extend(held.map(|at| Said {
            letters: text.plain[at.clone()].chars().count(),
            at,
            own: true,
            both: false,
        }));
    }
    if TOGETHER.contains(&cause.id) {
        all.extend(mentions.iter().filter(|one| one.place).map(|one| Said {
            at: one.at.clone(),
            letters: 1,
            own: false,
            both: true,
        }));
    }
    all
}

/// Whether there is a solution that is titrated with beside one that reacts, so that “the solution” may be either.
fn has_two_solutions(scene: &Scene<'_>) -> bool {
    let mut all = 0..scene.lab.substances.len();
    !scene.all_titrants().is_empty() && all.any(|index| scene.as_solution(index))
}

/// Whether a negation before what is said turns it into its opposite.
///
/// “Not all was poured” and “not carefully” deny only the manner, “without a lid it splashed” something else, and what is not
/// done, “washed” or “transferred”, is the cause itself.
fn is_denied(said: &Said, text: &Text, mentions: &[Mention], language: &Words) -> bool {
    let (first, last) = (text.number(said.at.start), text.number(said.at.end - 1));
    let is = |list: &'static str, number: usize| vocabulary::has(list, text.word(number), language);
    let step = vocabulary::own(vocabulary::STEPS, language)
        .any(|step| text.plain[said.at.clone()].trim_start().starts_with(step));
    if step || (first..=last).any(|number| is(vocabulary::NOT, number)) {
        return false;
    }
    let clause = text.clause(first, language);
    let partly = |number: usize| is(vocabulary::PARTLY, number) && text.word(number - 1) != "at";
    if clause.clone().any(|number| number > 0 && partly(number)) {
        return false;
    }
    let from = clause.start.max(first.saturating_sub(REACH));
    (from..first).any(|number| {
        let none_of = || {
            let behind = number + 1..number + 3;
            let named = |one: &Mention| behind.contains(&text.number(one.at.start));
            behind.contains(&first) || mentions.iter().any(named)
        };
        is(vocabulary::NOT, number) && (!is(vocabulary::NO_SUCH, number) || none_of())
    })
}
