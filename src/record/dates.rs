//! Dates as students write them, compared only when they can be read in one way.

use crate::problem::Code;
use crate::problem::Problem;
use crate::record::Record;
use crate::say;
use crate::words::Words;

const MONTHS: [&str; 12] = [
    "jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec",
];

/// How German months begin where English ones do not.
const GERMAN: [(&str, usize); 6] = [
    ("mär", 2),
    ("maer", 2),
    ("mrz", 2),
    ("mai", 4),
    ("okt", 9),
    ("dez", 11),
];

/// Warns of days out of order and of long pauses.
pub(super) fn look(words: &Words, record: &Record, problems: &mut Vec<Problem>) {
    let read: Vec<_> = record
        .days
        .iter()
        .filter_map(|day| {
            Some((
                day.number,
                day.date_span.clone(),
                number(day.date.as_deref()?)?,
            ))
        })
        .collect();
    for pair in read.windows(2) {
        let ((first, first_at, (year_a, a)), (second, second_at, (year_b, b))) =
            (&pair[0], &pair[1]);
        let mut gap = b - a;
        match (year_a, year_b) {
            (Some(x), Some(y)) => gap += (y - x) * 365,
            // Without a year, January behind December is the next one.
            _ if gap < -300 => gap += 365,
            _ => {}
        }
        if gap < 0 {
            problems.push(
                Problem::error(
                    Code::DatesOutOfOrder,
                    say!(
                        words,
                        "day {second} has an earlier date than day {first}",
                        second = second,
                        first = first
                    ),
                )
                .at(second_at.clone(), say!(words, "earlier"))
                .at(first_at.clone(), say!(words, "later"))
                .help(say!(words, "compare both with your notes")),
            );
        } else if gap > 7 {
            problems.push(
                Problem::warning(
                    Code::LongPause,
                    say!(
                        words,
                        "more than a week lies between day {first} and day {second}",
                        first = first,
                        second = second
                    ),
                )
                .at(second_at.clone(), say!(words, "here"))
                .help(say!(
                    words,
                    "if that is right, say in `seen` where the samples stood"
                )),
            );
        }
    }
}

/// Year, if written, and day of the year (leap days count in every year); `None` when the date can be read in two ways.
fn number(text: &str) -> Option<(Option<i64>, i64)> {
    let lower = text.to_lowercase();
    let parts: Vec<&str> = lower
        .split(|c: char| !c.is_alphanumeric())
        .filter(|part| !part.is_empty())
        .collect();
    let numeric = |part: &str| {
        part.trim_end_matches(|c: char| c.is_ascii_alphabetic())
            .parse::<i64>()
            .ok()
    };
    if let [year, month, day] = parts[..]
        && year.len() == 4
        && lower.contains('-')
    {
        return position(numeric(month)?, numeric(day)?).map(|days| (numeric(year), days));
    }
    let month = parts.iter().find_map(|part| {
        let german = GERMAN.iter().find(|(start, _)| part.starts_with(start));
        MONTHS
            .iter()
            .position(|start| part.starts_with(start))
            .or(german.map(|(_, month)| *month))
            .filter(|_| part.chars().all(char::is_alphabetic))
    })?;
    let numbers: Vec<i64> = parts
        .iter()
        .filter(|part| part.starts_with(|c: char| c.is_ascii_digit()))
        .filter_map(|part| numeric(part))
        .collect();
    let day = numbers
        .iter()
        .copied()
        .find(|number| (1..=31).contains(number))?;
    let year = numbers.iter().copied().find(|number| *number > 1000);
    position(i64::try_from(month).ok()? + 1, day).map(|days| (year, days))
}

/// Days from the start of a leap year.
fn position(month: i64, day: i64) -> Option<i64> {
    const BEFORE: [i64; 12] = [0, 31, 60, 91, 121, 152, 182, 213, 244, 274, 305, 335];
    let before = BEFORE.get(usize::try_from(month - 1).ok()?)?;
    (1..=31).contains(&day).then_some(before + day)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dates_are_read_in_one_way_or_not_at_all() {
        for (text, expected) in [
            ("10 Feb", Some((None, 41))),
            ("3. März", Some((None, 63))),
            ("3. Maerz", Some((None, 63))),
            ("Dienstag, 1. Dezember", Some((None, 336))),
            ("Feb 10", Some((None, 41))),
            ("Monday, 10th February 2026", Some((Some(2026), 41))),
            ("2026-02-10", Some((Some(2026), 41))),
            ("3/4/2026", None),
            ("tomorrow", None),
            ("", None),
        ] {
            assert_eq!(number(text), expected, "{text}");
        }
    }
}
