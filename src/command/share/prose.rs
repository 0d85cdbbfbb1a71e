//! Words that a group shares, without what could tell when it worked: times of day; and with letters that are written by their codes.

use unicode_normalization::UnicodeNormalization;

/// Stands where a time of day stood.
const TIME: &str = "[time]";

/// Words behind which a number with a colon is a time of day and no ratio.
const AT: &[&str] = &[
    "at", "um", "until", "till", "since", "gegen", "seit", "ab", "kurz",
];

/// From this hour on a number with a colon is hardly a ratio: `1:10`.
const MORNING: u32 = 7;

/// What the code of a letter ends in for a mark over or under it.
const MARKS: &[(&str, char)] = &[
    ("uml", '\u{308}'),
    ("acute", '\u{301}'),
    ("grave", '\u{300}'),
    ("circ", '\u{302}'),
    ("tilde", '\u{303}'),
    ("ring", '\u{30a}'),
    ("cedil", '\u{327}'),
    ("caron", '\u{30c}'),
];

/// A text in which letters stand as they will be read: `&#109;ark` and `M&uuml;ller` are no other names than `mark` and `Müller`.
pub(super) fn letters(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(at) = rest.find('&') {
        out.push_str(&rest[..at]);
        rest = &rest[at..];
        let code = rest[1..].find(';').map(|end| &rest[1..=end]);
        if let Some((code, letter)) = code.and_then(|code| Some((code, letter(code)?))) {
            out.push_str(&letter);
            rest = &rest[code.len() + 2..];
        } else {
            out.push('&');
            rest = &rest[1..];
        }
    }
    out + rest
}

/// The letter of a code between `&` and `;`.
fn letter(code: &str) -> Option<String> {
    if let Some(number) = code.strip_prefix('#') {
        let number = match number.strip_prefix(['x', 'X']) {
            Some(number) => u32::from_str_radix(number, 16),
            None => number.parse(),
        };
        let letter = char::from_u32(number.ok()?).filter(|c| c.is_alphanumeric());
        return letter.map(String::from);
    }
    if code == "szlig" {
        return Some("ß".to_owned());
    }
    MARKS.iter().find_map(|(end, mark)| {
        let mut bare = code.strip_suffix(end)?.chars();
        let bare = bare.next().filter(|_| bare.as_str().is_empty())?;
        bare.is_ascii_alphabetic()
            .then(|| [bare, *mark].into_iter().nfc().collect())
    })
}

/// A text with every time of day in it replaced: `at 9:05`, `14h30`, `9.15 Uhr`, `3 pm`.
pub(super) fn without_times(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(at) = rest.find(|c: char| c.is_ascii_digit()) {
        out.push_str(&rest[..at]);
        rest = &rest[at..];
        let inside = |text: &str| text.ends_with(|c: char| c.is_ascii_digit());
        let goes_on = out.strip_suffix(['.', ',', ':', '/']).is_some_and(inside);
        let starts = !goes_on && !out.ends_with(|c: char| c.is_alphanumeric());
        let length = time(&out, rest).filter(|_| starts);
        if let Some(length) = length {
            out.push_str(TIME);
            rest = &rest[length..];
        } else {
            let digits = digits(rest);
            out.push_str(&rest[..digits]);
            rest = &rest[digits..];
        }
    }
    out + rest
}

fn digits(text: &str) -> usize {
    text.bytes().take_while(u8::is_ascii_digit).count()
}

/// How many bytes of a text are a time of day.
fn time(before: &str, text: &str) -> Option<usize> {
    let hours = digits(text);
    let hour: u32 = text[..hours].parse().ok().filter(|hour| *hour < 24)?;
    let mark = text[hours..].chars().next().unwrap_or_default();
    let behind = &text[hours..][mark.len_utf8().min(text.len() - hours)..];
    let minutes = &behind[..digits(behind)];
    let full = minutes.len() == 2 && minutes < "60" && [':', '.', 'h'].contains(&mark);
    let mut end = hours;
    if full {
        end += 3;
        // Seconds.
        let more = text[end..].strip_prefix(':').map_or(0, digits);
        end += if more == 2 { 3 } else { 0 };
    }
    let said = named(&text[end..]);
    let goes_on = {
        let mut next = text[end..].chars();
        match next.next() {
            Some('.' | ',' | ':') => next.next().is_some_and(|c| c.is_ascii_digit()),
            Some(c) => c.is_alphanumeric(),
            None => false,
        }
    };
    if let Some(said) = said {
        return Some(end + said);
    }
    let words = before.trim_end_matches([' ', '\u{a0}', '~']);
    let last = words.rsplit(|c: char| !c.is_alphabetic()).next();
    let last = last.unwrap_or_default().to_lowercase();
    let is_time = full && mark != '.' && (hour >= MORNING || AT.contains(&last.as_str()));
    (is_time && !goes_on).then_some(end)
}

/// How many bytes behind a number make a time of day of it.
fn named(text: &str) -> Option<usize> {
    let word = text.trim_start_matches([' ', '\u{a0}']);
    let gap = text.len() - word.len();
    let of_day = [
        "a.m.",
        "p.m.",
        "am",
        "pm",
        "o'clock",
        "o’clock",
        "Uhr",
        "uhr",
    ];
    of_day.iter().find_map(|name| {
        let start = word.get(..name.len())?;
        let rest = &word[name.len()..];
        // In German `am` is a word: `3 am Boden`.
        let fits = start.eq_ignore_ascii_case(name) && (*name != "am" || gap == 0);
        let ends = !rest.starts_with(|c: char| c.is_alphanumeric());
        (fits && ends).then_some(gap + name.len())
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_of_day_are_taken_out_and_ratios_and_numbers_stay() {
        for (text, is) in [
            (
                "At 10:45 we left (9:05-9:30).",
                "At [time] we left ([time]-[time]).",
            ),
            ("um 9.15 Uhr, um 8 Uhr", "um [time], um [time]"),
            (
                "at 3 pm, 3pm, 11 a.m. and 2:30 PM",
                "at [time], [time], [time] and [time]",
            ),
            ("14h30 and 9:11:25", "[time] and [time]"),
            ("at 1:20.", "at [time]."),
            (
                "diluted 1:10, 1:1.34 or 1.00:1.34",
                "diluted 1:10, 1:1.34 or 1.00:1.34",
            ),
            (
                "9.15 g, 10.45 mL, 105.60 g at 20 °C",
                "9.15 g, 10.45 mL, 105.60 g at 20 °C",
            ),
            ("3 am Boden, 10 amber, 25:30", "3 am Boden, 10 amber, 25:30"),
            ("100:2008, 9:305, 9", "100:2008, 9:305, 9"),
        ] {
            assert_eq!(without_times(text), is);
        }
    }

    #[test]
    fn letters_by_their_codes_are_read() {
        assert_eq!(
            letters("&#109;ark, M&uuml;ller, &#x4d;a, Stra&szlig;e & &lt;b&gt; &#60; &;"),
            "mark, Müller, Ma, Straße & &lt;b&gt; &#60; &;"
        );
    }

    proptest::proptest! {
        #[test]
        fn any_text_ends(text in ".{0,40}", clock in "[0-9]{1,3}[:.h][0-9]{0,3}( ?(am|Uhr|pm))?") {
            without_times(&format!("{text}{clock}{text}"));
            letters(&text);
        }
    }
}
