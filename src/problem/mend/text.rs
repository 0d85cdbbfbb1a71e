//! Places in the text of a form, and what its characters and lines look like.

use crate::problem::mend::Walk;

impl Walk<'_> {
    pub(super) fn line_end(&self, at: usize) -> usize {
        let end = self.text[at..]
            .find('\n')
            .map_or(self.text.len(), |length| at + length);
        if end > at && self.text.as_bytes()[end - 1] == b'\r' {
            end - 1
        } else {
            end
        }
    }

    pub(super) fn next_line(&self, at: usize) -> usize {
        self.text[at..]
            .find('\n')
            .map_or(self.text.len(), |length| at + length + 1)
    }

    pub(super) fn skip_blanks(&self, at: usize) -> usize {
        at + self.text[at..]
            .bytes()
            .take_while(|b| matches!(b, b' ' | b'\t'))
            .count()
    }

    pub(super) fn skip_space_and_comments(&self, mut at: usize) -> usize {
        loop {
            at += self.text[at..].len() - self.text[at..].trim_start().len();
            if !self.text[at..].starts_with('#') {
                return at;
            }
            at = self.next_line(at);
        }
    }

    /// The end of a heading or a name's line: the comment and blanks are left out.
    pub(super) fn code_end(&self, at: usize) -> usize {
        let line = &self.text[at..self.line_end(at)];
        at + line[..line.find('#').unwrap_or(line.len())]
            .trim_end()
            .len()
    }

    /// The end of an unquoted or unclosed value: in front of a comment, in a list also of a comma or bracket.
    pub(super) fn value_end(&self, at: usize, list: Option<usize>) -> usize {
        let line = &self.text[at..self.line_end(at)];
        let comment = line
            .char_indices()
            .find(|(inside, c)| {
                *c == '#' && (*inside == 0 || line[..*inside].ends_with([' ', '\t', '"', '\'']))
            })
            .map(|(inside, _)| inside);
        let line = &line[..comment.unwrap_or(line.len())];
        let line = match list {
            Some(_) => &line[..line.find([',', ']']).unwrap_or(line.len())],
            None => line,
        };
        at + line.trim_end().len()
    }
}

/// Letters, digits, `_`, `-` and the dot between parts of a name.
pub(super) const fn is_name_byte(byte: u8) -> bool {
    byte.is_ascii_alphanumeric() || matches!(byte, b'_' | b'-' | b'.')
}

/// Straight and typographic quote marks.
pub(super) const fn is_quote(c: char) -> bool {
    matches!(c, '"' | '“' | '”' | '„' | '«' | '»' | '″') || is_single(c)
}

/// Single quote marks.
pub(super) const fn is_single(c: char) -> bool {
    matches!(c, '\'' | '‘' | '’' | '‚' | '′' | '`')
}

/// The bytes of three quote marks of one kind at the start of a text.
pub(super) fn triple(text: &str) -> Option<usize> {
    let mut marks = text.chars().take(3);
    let first = marks.next().filter(|c| is_quote(*c))?;
    let (second, third) = (marks.next()?, marks.next()?);
    let alike = |c: char| is_quote(c) && is_single(c) == is_single(first);
    (alike(second) && alike(third)).then(|| first.len_utf8() + second.len_utf8() + third.len_utf8())
}

/// Whether a line inside a text is in truth the next line of the form.
pub(super) fn looks_like_form(line: &str) -> bool {
    let code = line.split('#').next().unwrap_or("").trim();
    if let Some(name) = code
        .strip_prefix('[')
        .and_then(|rest| rest.strip_suffix(']'))
    {
        return !name.is_empty()
            && name.bytes().all(is_name_byte)
            && name.starts_with(|c: char| c.is_ascii_lowercase());
    }
    code.split_once('=').is_some_and(|(name, value)| {
        let (name, value) = (name.trim(), value.trim());
        !name.is_empty()
            && name.bytes().all(is_name_byte)
            && (value.is_empty() || value.starts_with(|c| is_quote(c) || c == '['))
    })
}

/// Whether what stands behind a backslash makes it an escape of TOML.
pub(super) fn is_escape(behind: &str) -> bool {
    match behind.chars().next() {
        Some('u') => hexadecimal(&behind[1..], 4),
        Some('U') => hexadecimal(&behind[1..], 8),
        other => other.is_some_and(|c| "btnfre\"\\".contains(c)),
    }
}

/// Whether a text starts with that many hexadecimal digits.
fn hexadecimal(text: &str, count: usize) -> bool {
    text.as_bytes()
        .get(..count)
        .is_some_and(|digits| digits.iter().all(u8::is_ascii_hexdigit))
}

/// Numbers, dates and yes/no as TOML writes them without quotes.
pub(super) fn is_toml_bare(text: &str) -> bool {
    if matches!(text, "true" | "false") {
        return true;
    }
    let unsigned = text.strip_prefix(['+', '-']).unwrap_or(text);
    if matches!(unsigned, "nan" | "inf") {
        return true;
    }
    let is_date = text.len() >= 8
        && text
            .bytes()
            .all(|b| b.is_ascii_digit() || b"-:TZtz+. ".contains(&b))
        && text.bytes().filter(|b| matches!(b, b'-' | b':')).count() >= 2;
    if is_date {
        return true;
    }
    let (mantissa, exponent) = unsigned
        .split_once(['e', 'E'])
        .map_or((unsigned, None), |(m, e)| (m, Some(e)));
    let (whole, fraction) = mantissa
        .split_once('.')
        .map_or((mantissa, None), |(w, f)| (w, Some(f)));
    let digits = |part: &str| !part.is_empty() && part.bytes().all(|b| b.is_ascii_digit());
    digits(whole)
        && (whole == "0" || !whole.starts_with('0'))
        && fraction.is_none_or(digits)
        && exponent
            .is_none_or(|exponent| digits(exponent.strip_prefix(['+', '-']).unwrap_or(exponent)))
}
