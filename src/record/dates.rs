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
            let ways = ways(day.date.as_deref()?);
            let some = ways.iter().any(Option::is_some);
            some.then(|| (day.number, day.date_span.clone(), ways))
        })
        .collect();
    for pair in read.windows(2) {
        let ((first, first_at, before), (second, second_at, after)) = (&pair[0], &pair[1]);
        // Dates of figures alone can be read in two ways, and what is said must hold in both.
        let gaps = before.iter().zip(after);
        let gaps: Vec<i64> = gaps
            .filter_map(|(before, after)| Some(gap((*before)?, (*after)?)))
            .collect();
        if gaps.is_empty() {
            continue;
        }
        if gaps.iter().all(|gap| *gap < 0) {
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
        } else if gaps.iter().all(|gap| *gap > 7) {
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

/// The days from one date to another.
fn gap((year_a, a): Date, (year_b, b): Date) -> i64 {
    let gap = b - a;
    match (year_a, year_b) {
        (Some(x), Some(y)) => gap + (y - x) * 366,
        // Without a year, January behind December is the next one.
        _ if gap < -300 => gap + 366,
        _ => gap,
    }
}

/// Year, if written, and day of the year (leap days count in every year).
type Date = (Option<i64>, i64);

/// A date as it is read with the day in front of the month, and with the month in front; both are the same where it says which
/// is which.
fn ways(text: &str) -> [Option<Date>; 2] {
    match number(text) {
        Some(date) => [Some(date); 2],
        None => figures(text),
    }
}

/// A date of figures alone: `05/11/25`, `4.11.`, `Tue 11-5`. With points the day stands in front, in every country.
fn figures(text: &str) -> [Option<Date>; 2] {
    let of_figures = |part: &&str| part.starts_with(|c: char| c.is_ascii_digit());
    let parts = text.split([' ', ',']).find(of_figures).unwrap_or("");
    let mark = parts.chars().find(|c| !c.is_ascii_digit());
    let Some(mark) = mark.filter(|mark| matches!(mark, '/' | '.' | '-')) else {
        return [None; 2];
    };
    let numbers: Option<Vec<i64>> = parts
        .trim_end_matches(mark)
        .split(mark)
        .map(|part| part.parse().ok().filter(|number| *number >= 0))
        .collect();
    let (first, second, year) = match numbers.as_deref() {
        Some([first, second]) => (*first, *second, None),
        Some([first, second, year @ 0..100]) => (*first, *second, Some(year + 2000)),
        Some([first, second, year @ 1000..3000]) => (*first, *second, Some(*year)),
        _ => return [None; 2],
    };
    let date = |month, day| Some((year, position(month, day)?));
    let day_first = date(second, first);
    [
        day_first,
        if mark == '.' {
            day_first
        } else {
            date(first, second)
        },
    ]
}

/// A date that can be read in one way; `None` for any other.
fn number(text: &str) -> Option<Date> {
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

    #[test]
    fn dates_of_figures_are_compared_where_both_ways_agree() {
        let between = |before: &str, after: &str| {
            let gaps = ways(before).into_iter().zip(ways(after));
            let gaps = gaps.filter_map(|(before, after)| Some(gap(before?, after?)));
            gaps.collect::<Vec<i64>>()
        };
        for (before, after, expected) in [
            // In both ways backwards.
            ("05/11/25", "03/11/25", &[-2, -61][..]),
            ("Di, 4.11.", "Mo, 3.11.", &[-1, -1]),
            ("4.11.2025", "3.11.2025", &[-1, -1]),
            // One way only goes backwards.
            ("05/11/25", "11/06/25", &[-147, 179]),
            ("3.11.", "5.11.", &[2, 2]),
            ("Mon 3 Nov", "11/05", &[-176, 2]),
            ("3 Nov 2025", "13/11/2025", &[10]),
            ("30.12.25", "2.1.26", &[3, 3]),
            ("14:10", "3.11.", &[]),
            ("1/2/3/4", "3.11.", &[]),
        ] {
            assert_eq!(between(before, after), expected, "{before} {after}");
        }
    }
}
