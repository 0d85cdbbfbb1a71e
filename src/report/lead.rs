//! The sentence above the causes: what they would explain, or why there are none.

use crate::causes::Fit;
use crate::causes::Weighed;
use crate::report::compose::Case;
use crate::report::equations;
use crate::say;
use crate::words::Words;

/// What the list of causes is, or why there is none; `only_named` tells that no cause is written out, so that a sentence which
/// names them follows and no list.
pub(in crate::report) fn lead(case: &Case<'_>, weighed: &Weighed<'_>, only_named: bool) -> String {
    let words = &case.lab.words;
    if equations::wait(case) {
        return say!(
            words,
            "What could explain the result is weighed here once you have said which equation your data speak for."
        );
    }
    let measured = weighed.deviations.all.len();
    let hidden = |id| case.graph.step(id).asked.is_some() && !case.open.step(id);
    if measured == 0 && case.graph.ids().any(hidden) {
        return say!(
            words,
            "What could explain the result is weighed here once your own answers stand: the yield, and what is left."
        );
    }
    if measured == 0 || !weighed.beyond {
        return String::new();
    }
    let count = weighed.listed.len();
    if weighed.scene.products.is_empty() && weighed.scene.leftovers.is_empty() {
        return say!(
            words,
            "This lab predicts neither the mass of a product nor that of a leftover, so there is none to hold the causes against that the program knows. Ask of \
                each reading what could have made it larger or smaller, and which way that moves the result."
        );
    }
    if count == 0 {
        return say!(
            words,
            "No cause that the program knows explains what was measured, alone or together with one other. Look at the readings themselves first: a digit, a \
                vessel, a tare."
        );
    }
    let alone = weighed.listed[0].fit == Fit::Alone;
    let separate = match (count, measured) {
        (0 | 1, _) => String::new(),
        (_, 1) => say!(
            words,
            " One measured amount cannot separate {count} causes: what was seen, or one of the tests, has to.",
            count = count
        ),
        _ => say!(
            words,
            " {number} measured amounts cannot separate {count} causes: what was seen, or one of the tests, has to.",
            number = in_letters(words, measured),
            count = count
        ),
    };
    let still_off = &weighed.still_off;
    let what = if still_off.is_empty() {
        say!(words, "all that was measured")
    } else {
        let weighed = weighed.deviations.all.iter();
        let titles = weighed.map(|one| &case.graph.step(one.found).title);
        let quoted = titles.map(|quantity| say!(words, "“{quantity}”", quantity = quantity));
        let quoted: Vec<String> = quoted.collect();
        say!(
            words,
            "what was found for {quantities}",
            quantities = quoted.join(", ")
        )
    };
    let mut lead = if alone && only_named {
        say!(
            words,
            "Nothing that was written down speaks clearly for one of the causes that would explain {what}.{separate}",
            what = what,
            separate = separate
        )
    } else if only_named {
        say!(
            words,
            "No single cause explains {what}, and nothing that was written down speaks clearly for one of those that would together.{separate}",
            what = what,
            separate = separate
        )
    } else if alone {
        say!(
            words,
            "Each of these would explain {what}, in direction and in size.{separate}",
            what = what,
            separate = separate
        )
    } else {
        say!(
            words,
            "No single cause explains {what}. These would, two at a time, each amount found together with its partner.{separate}",
            what = what,
            separate = separate
        )
    };
    if !still_off.is_empty() {
        lead.push_str(&say!(
            words,
            " That leaves unexplained, beside the accepted value: {quantities}. Look for what else happened there.",
            quantities = still_off.join(", ")
        ));
    }
    lead
}

/// A small count as the first word of a sentence.
fn in_letters(words: &Words, count: usize) -> String {
    match count {
        2 => say!(words, "Two"),
        3 => say!(words, "Three"),
        4 => say!(words, "Four"),
        5 => say!(words, "Five"),
        6 => say!(words, "Six"),
        _ => count.to_string(),
    }
}
