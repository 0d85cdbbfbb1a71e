//! Typed text made safe for Markdown: it comes out as the text it was, in a table cell as in a paragraph.

/// Text with every character that Markdown would read as markup escaped; line ends become spaces and marks
/// that turn the direction of writing are left out.
///
/// Only what CommonMark, GFM or the dollar signs of mathematics would read is touched, so that the source reads well.
#[must_use]
pub fn markdown(text: &str) -> String {
    let text = plain(text);
    if is_harmless(&text) {
        return text;
    }
    let mut out = String::with_capacity(text.len() + 8);
    let characters: Vec<char> = text.chars().collect();
    for (place, c) in characters.iter().enumerate() {
        let before = place.checked_sub(1).and_then(|place| characters.get(place));
        let after = characters.get(place + 1);
        let ends = |after: Option<&char>| after.is_none_or(|c| c.is_whitespace());
        let digits_before = place > 0 && characters[..place].iter().all(char::is_ascii_digit);
        let special = match c {
            '\\' | '`' | '*' | '[' | ']' | '<' | '>' | '|' | '$' | '~' | '@' => true,
            '&' => after.is_some_and(|c| c.is_ascii_alphanumeric() || *c == '#'),
            '_' => {
                !(before.is_some_and(|c| c.is_alphanumeric())
                    && after.is_some_and(|c| c.is_alphanumeric()))
            }
            '!' => after == Some(&'['),
            // Markers of headings, lists and rules count only at the start of a line.
            '#' => place == 0 && (ends(after) || after == Some(&'#')),
            '+' => place == 0 && ends(after),
            '-' | '=' => place == 0 && (ends(after) || after == Some(c)),
            '.' | ')' => (digits_before && ends(after)) || ends_www(&characters[..place]),
            // `http://` would become a link.
            '/' => before == Some(&':') && after == Some(&'/'),
            _ => false,
        };
        if special {
            out.push('\\');
        }
        out.push(*c);
    }
    out
}

/// Whether a text surely holds nothing that Markdown would read as markup: words, and numbers with their units.
fn is_harmless(text: &str) -> bool {
    let bytes = text.as_bytes();
    let digit = |place: usize| bytes.get(place).is_some_and(u8::is_ascii_digit);
    let starts_with_digit = digit(0);
    bytes.iter().enumerate().all(|(place, byte)| match byte {
        b' ' | b',' | b';' | b':' | b'%' | b'(' | b'?' | b'\'' | b'"' => true,
        b'.' | b')' if place > 0 => {
            let number = digit(place - 1) && digit(place + 1);
            (number && *byte == b'.')
                || !(starts_with_digit || bytes[place - 1].eq_ignore_ascii_case(&b'w'))
        }
        b'-' | b'+' | b'=' => place > 0,
        byte => byte.is_ascii_alphanumeric() || *byte >= 0x80,
    })
}

/// Whether `www` stands right before.
fn ends_www(before: &[char]) -> bool {
    before.len() >= 3
        && before[before.len() - 3..]
            .iter()
            .all(|c| c.eq_ignore_ascii_case(&'w'))
}

/// Text on one line without control characters and without marks that turn the direction of writing.
pub(super) fn plain(text: &str) -> String {
    if text.bytes().all(|byte| (b' '..=b'~').contains(&byte)) {
        return text.trim().to_owned();
    }
    let mut out = String::with_capacity(text.len());
    for c in text.trim().chars() {
        match c {
            '\n' | '\r' | '\t' => {
                if !out.ends_with(' ') {
                    out.push(' ');
                }
            }
            c if turns_direction(c) || c.is_control() => {}
            c => out.push(c),
        }
    }
    out
}

/// Marks that change the direction in which the text around them is written.
pub(super) fn turns_direction(c: char) -> bool {
    matches!(c, '\u{200e}' | '\u{200f}' | '\u{061c}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

/// Text without control characters and without marks that turn the direction of writing; line ends stay, as `\n`.
pub(super) fn clean(text: &str) -> String {
    let plain = |c: char| {
        c == '\n' || !(c.is_control() || turns_direction(c) || matches!(c, '\u{2028}' | '\u{2029}'))
    };
    if text.chars().all(plain) {
        return text.to_owned();
    }
    let lines = text
        .replace("\r\n", "\n")
        .replace(['\r', '\u{2028}', '\u{2029}'], "\n");
    let stays = |c: &char| !turns_direction(*c) && (!c.is_control() || matches!(*c, '\n' | '\t'));
    lines.chars().filter(stays).collect()
}

/// Text for HTML content and double-quoted attributes.
pub(super) fn html(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 8);
    let special = |c: char| {
        matches!(c, '&' | '<' | '>' | '"')
            || turns_direction(c)
            || (c.is_control() && !matches!(c, '\n' | '\t'))
    };
    let mut rest = text;
    while let Some(at) = rest.find(special) {
        let (before, from) = rest.split_at(at);
        out.push_str(before);
        let mut characters = from.chars();
        match characters.next() {
            Some('&') => out.push_str("&amp;"),
            Some('<') => out.push_str("&lt;"),
            Some('>') => out.push_str("&gt;"),
            Some('"') => out.push_str("&quot;"),
            _ => {}
        }
        rest = characters.as_str();
    }
    out.push_str(rest);
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn markup_is_escaped_and_plain_words_are_not() {
        for (text, expected) in [
            ("a|b", "a\\|b"),
            ("mass_salt", "mass_salt"),
            ("_x_", "\\_x\\_"),
            ("5 * 3", "5 \\* 3"),
            ("- item", "\\- item"),
            ("1. item", "1\\. item"),
            ("# head", "\\# head"),
            ("copper(II) sulfate", "copper(II) sulfate"),
            ("two\nlines", "two lines"),
            ("a\u{202e}b", "ab"),
            ("{{x}}", "{{x}}"),
            ("AT&T &amp;", "AT\\&T \\&amp;"),
            ("http://x", "http:\\//x"),
            ("~25 mL", "\\~25 mL"),
        ] {
            assert_eq!(markdown(text), expected, "{text}");
        }
    }
}
