//! Typed text made safe for Markdown: it comes out as the text it was, in a table cell as in a paragraph.

use std::borrow::Cow;

/// Text with every character that Markdown would read as markup escaped; line ends become spaces and marks
/// that turn the direction of writing are left out.
///
/// Only what CommonMark, GFM or the dollar signs of mathematics would read is touched, so that the source reads well.
#[must_use]
pub fn markdown(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 8);
    markdown_into(text, &mut out);
    out
}

/// The same, written behind what is there.
pub(super) fn markdown_into(text: &str, out: &mut String) {
    let text = trimmed(text);
    let start = out.len();
    if !escape(text, false, out) {
        out.truncate(start);
        escape(without_unusual(text).trim(), true, out);
    }
}

/// The text that Markdown reads from a typed text when it is escaped.
pub(super) fn plain(text: &str) -> Cow<'_, str> {
    static MAY_BE_UNUSUAL: [bool; 256] = beginning(b"");
    let text = trimmed(text);
    let bytes = text.as_bytes();
    let mut places = bytes.iter().enumerate();
    let unusual =
        |(at, byte): (usize, &u8)| MAY_BE_UNUSUAL[usize::from(*byte)] && is_unusual(bytes, at);
    if places.any(unusual) {
        Cow::Owned(without_unusual(text).trim().to_owned())
    } else {
        Cow::Borrowed(text)
    }
}

/// Escapes a text that is known to hold nothing that has to be left out; of another one, tells whether that was so.
fn escape(text: &str, known: bool, out: &mut String) -> bool {
    static MAY_BE_SPECIAL: [bool; 256] = beginning(b"\\`*[]<>|$~@&_!#+-=.)/");
    let bytes = text.as_bytes();
    let may_be_special = |byte: &u8| MAY_BE_SPECIAL[usize::from(*byte)];
    let (mut done, mut at) = (0, 0);
    while let Some(further) = bytes[at..].iter().position(may_be_special) {
        at += further;
        if !known && is_unusual(bytes, at) {
            return false;
        }
        if bytes[at].is_ascii() && is_special(text, at, bytes[at]) {
            out.push_str(&text[done..at]);
            out.push('\\');
            done = at;
        }
        at += 1;
    }
    out.push_str(&text[done..]);
    true
}

/// Bytes with which any of some signs begins, or what [`is_unusual`] may be.
const fn beginning(signs: &[u8]) -> [bool; 256] {
    let mut begins = [false; 256];
    let mut control = 0;
    while control < b' ' {
        begins[control as usize] = true;
        control += 1;
    }
    begins[0x7f] = true;
    begins[0xc2] = true;
    begins[0xd8] = true;
    begins[0xe2] = true;
    let mut at = 0;
    while at < signs.len() {
        begins[signs[at] as usize] = true;
        at += 1;
    }
    begins
}

/// Whether a control character, a mark that turns the direction of writing or another separator of lines begins at
/// a place: told from the bytes, since hardly any text holds one.
fn is_unusual(bytes: &[u8], at: usize) -> bool {
    let behind = |more: usize| bytes.get(at + more).copied().unwrap_or_default();
    match bytes[at] {
        0..b' ' | 0x7f => true,
        0xc2 => behind(1) < 0xa0,
        0xd8 => behind(1) == 0x9c,
        0xe2 => match behind(1) {
            0x80 => matches!(behind(2), 0x8e | 0x8f | 0xa8..=0xae),
            0x81 => matches!(behind(2), 0xa6..=0xa9),
            _ => false,
        },
        _ => false,
    }
}

/// Whether Markdown would read the character at a place as markup.
fn is_special(text: &str, at: usize, byte: u8) -> bool {
    let (before, after) = (&text[..at], &text[at + 1..]);
    let ends = || !after.starts_with(|c: char| !c.is_whitespace());
    match byte {
        b'&' => after.starts_with(|c: char| c.is_ascii_alphanumeric() || c == '#'),
        b'_' => {
            !(before.ends_with(char::is_alphanumeric) && after.starts_with(char::is_alphanumeric))
        }
        b'!' => after.starts_with('['),
        // Markers of headings, lists and rules count only at the start of a line.
        b'#' => at == 0 && (ends() || after.starts_with('#')),
        b'+' => at == 0 && ends(),
        b'-' | b'=' => at == 0 && (ends() || after.as_bytes().first() == Some(&byte)),
        b'.' | b')' => {
            let digits_before = || at > 0 && before.bytes().all(|byte| byte.is_ascii_digit());
            (ends() && digits_before()) || ends_www(before)
        }
        // `http://` would become a link.
        b'/' => before.ends_with(':') && after.starts_with('/'),
        _ => true,
    }
}

/// Whether `www` stands right before.
fn ends_www(before: &str) -> bool {
    before
        .as_bytes()
        .last_chunk::<3>()
        .is_some_and(|three| three.eq_ignore_ascii_case(b"www"))
}

/// Without blanks around; most texts have none.
fn trimmed(text: &str) -> &str {
    let bytes = text.as_bytes();
    match (bytes.first(), bytes.last()) {
        (Some(b'!'..=b'~'), Some(b'!'..=b'~')) => text,
        _ => text.trim(),
    }
}

/// Text on one line without control characters and without marks that turn the direction of writing.
fn without_unusual(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
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
pub(super) fn clean(text: &str) -> Cow<'_, str> {
    static MAY_BE_UNUSUAL: [bool; 256] = beginning(b"");
    let bytes = text.as_bytes();
    let mut places = bytes.iter().enumerate();
    let is_plain = places.all(|(at, byte)| {
        !MAY_BE_UNUSUAL[usize::from(*byte)] || *byte == b'\n' || !is_unusual(bytes, at)
    });
    if is_plain {
        return Cow::Borrowed(text);
    }
    let lines = text
        .replace("\r\n", "\n")
        .replace(['\r', '\u{2028}', '\u{2029}'], "\n");
    let stays = |c: &char| !turns_direction(*c) && (!c.is_control() || matches!(*c, '\n' | '\t'));
    Cow::Owned(lines.chars().filter(stays).collect())
}

/// Text for HTML content and double-quoted attributes; itself, where nothing needs to change.
pub(super) fn html(text: &str) -> Cow<'_, str> {
    static MAY_CHANGE: [bool; 256] = beginning(b"&<>\"");
    let may_change = |byte: &u8| MAY_CHANGE[usize::from(*byte)];
    let bytes = text.as_bytes();
    let mut out = String::new();
    let (mut done, mut at) = (0, 0);
    while let Some(further) = bytes[at..].iter().position(may_change) {
        at += further;
        // What may change begins a character.
        let c = text[at..].chars().next().unwrap_or_default();
        let behind = at + c.len_utf8();
        let instead = match c {
            '&' => Some("&amp;"),
            '<' => Some("&lt;"),
            '>' => Some("&gt;"),
            '"' => Some("&quot;"),
            '\n' | '\t' => None,
            c => (turns_direction(c) || c.is_control()).then_some(""),
        };
        if let Some(instead) = instead {
            out.push_str(&text[done..at]);
            out.push_str(instead);
            done = behind;
        }
        at = behind;
    }
    if done == 0 {
        return Cow::Borrowed(text);
    }
    out.push_str(&text[done..]);
    Cow::Owned(out)
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
            ("\u{202e} # a \u{7f}", "\\# a"),
            ("{{x}}", "{{x}}"),
            ("AT&T &amp;", "AT\\&T \\&amp;"),
            ("http://x", "http:\\//x"),
            ("~25 mL", "\\~25 mL"),
        ] {
            assert_eq!(markdown(text), expected, "{text}");
        }
    }

    #[test]
    fn what_is_left_out_is_told_from_bytes() {
        for c in '\0'..=char::MAX {
            let mut bytes = [0; 4];
            let bytes = c.encode_utf8(&mut bytes).as_bytes();
            let separates = matches!(c, '\u{2028}' | '\u{2029}');
            let expected = c.is_control() || turns_direction(c) || separates;
            assert_eq!(is_unusual(bytes, 0), expected, "{c:?}");
            assert_eq!(
                clean(&format!("a{c}{c}b")) == format!("a{c}{c}b"),
                !expected || matches!(c, '\n' | '\t'),
                "{c:?}"
            );
        }
    }

    #[test]
    fn markup_and_hidden_characters_are_taken_out_of_html() {
        for (text, expected) in [
            ("plain − 2·10⁻³ ₂ – ’ ‰ ؛ é", "plain − 2·10⁻³ ₂ – ’ ‰ ؛ é"),
            ("<a href=\"x\">&", "&lt;a href=&quot;x&quot;&gt;&amp;"),
            ("a\u{202e}b\u{61c}\u{85}\u{7f}\0c\n\t", "abc\n\t"),
            ("\u{200e}", ""),
        ] {
            assert_eq!(html(text), expected, "{text:?}");
        }
        // Every character as the definition has it.
        for c in ('\0'..='\u{ffff}').filter(|c| !matches!(c, '&' | '<' | '>' | '"')) {
            let hidden = turns_direction(c) || (c.is_control() && !matches!(c, '\n' | '\t'));
            let expected = if hidden { String::new() } else { c.to_string() };
            assert_eq!(html(&c.to_string()), expected, "{c:?}");
        }
    }
}
