//! A record made fit for sharing before anything is composed from it: what is taken out here can be on no page.

use crate::command::share::names::Names;
use crate::command::share::prose;
use crate::measure::Reading;
use crate::measure::typed::Time;
use crate::record::Content;
use crate::record::Record;
use crate::record::Recorded;
use crate::words::Words;
use crate::working::decay;

/// Takes out of a record what no shared page may hold, and sets its code. Observations and prose stay only where the group says so, and
/// then without names and times of day.
pub(super) fn make_fit(record: &mut Record, code: &str, names: &Names, words: &Words) {
    let who = &mut record.who;
    code.clone_into(&mut who.group);
    who.section = String::new();
    who.names = Vec::new();
    let shares = who.share_words;
    let fit = |text: &str| prose::without_times(&names.masked(&prose::letters(text)));
    record.answers.clear();
    record.extra.clear();
    let plain = |recorded: &mut Recorded| plain(recorded, words);
    record.readings.iter_mut().for_each(plain);
    record.each_trial(|trial| trial.readings.iter_mut().for_each(plain));
    for day in &mut record.days {
        day.date = None;
        day.seen = day.seen.take().filter(|_| shares).map(|seen| fit(&seen));
    }
    if !shares {
        for (_, answer) in &mut record.signs {
            *answer = None;
        }
        record.sign_remarks.clear();
        record.causes.clear();
        record.words.clear();
        return;
    }
    for (_, remark) in &mut record.sign_remarks {
        *remark = fit(remark);
    }
    for cause in &mut record.causes {
        for text in [
            &mut cause.what,
            &mut cause.evidence,
            &mut cause.effect,
            &mut cause.next_time,
        ] {
            *text = fit(text);
        }
    }
    record
        .words
        .retain(|(key, _)| ["discussion", "conclusion"].contains(&key.as_str()));
    for (_, text) in &mut record.words {
        *text = fit(text);
    }
}

/// A reading as a number only: remarks, corrections and words beside it go, and of times all but how long after the first of a
/// series each weighing was, which its end is estimated from as in the group's own report.
fn plain(recorded: &mut Recorded, words: &Words) {
    let clock = |reading: &Reading| match &reading.time {
        Some(Time::OfDay(clock)) => decay::minutes(clock),
        Some(Time::Since(minutes)) => Some(*minutes),
        None => None,
    };
    let first = recorded.values().next().and_then(clock);
    for entry in &mut recorded.entries {
        words.say("not readable").clone_into(&mut entry.typed);
        match &mut entry.content {
            Content::Value(reading) => {
                reading.note = None;
                reading.time = first
                    .zip(clock(reading))
                    .map(|(first, own)| Time::Since(own - first));
            }
            Content::Missing(word) => words.say("no reading").clone_into(word),
            Content::Unreadable => {}
        }
    }
    if let Some(why) = &mut recorded.impossible {
        "impossible".clone_into(why);
    }
}
