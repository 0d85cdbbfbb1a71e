//! How deep quotations and lists may nest in prose: what goes further is shown as text.

/// More quotation or list markers than this in one line are shown as text.
const DEEPEST: usize = 6;

/// Further indentation than this is cut.
const FURTHEST: usize = 40;

/// The text with every line's nesting and indentation bounded.
pub(super) fn bounded(text: &str) -> String {
    let lines: Vec<String> = text.split('\n').map(bounded_line).collect();
    lines.join("\n")
}

fn bounded_line(line: &str) -> String {
    let body = line.trim_start_matches([' ', '\t']);
    let indent = &line[..line.len() - body.len()];
    let columns = indent
        .chars()
        .map(|c| if c == '\t' { 4 } else { 1 })
        .sum::<usize>();
    let indent = if columns > FURTHEST {
        " ".repeat(FURTHEST)
    } else {
        indent.to_owned()
    };
    if is_rule(body) {
        return indent + body;
    }
    let (mut at, mut markers) = (0, 0);
    while let Some(length) = marker(&body[at..]) {
        if markers == DEEPEST {
            let split = at + length - 1;
            return format!("{indent}{}\\{}", &body[..split], &body[split..]);
        }
        markers += 1;
        at += length;
        at += body[at..].len() - body[at..].trim_start_matches([' ', '\t']).len();
    }
    indent + body
}

/// Whether a line is a thematic break such as `* * *`.
fn is_rule(line: &str) -> bool {
    let Some(first) = line.chars().next().filter(|c| matches!(c, '*' | '-' | '_')) else {
        return false;
    };
    line.chars().all(|c| c == first || c == ' ' || c == '\t')
}

/// The length of the quotation or list marker that the text starts with.
fn marker(text: &str) -> Option<usize> {
    if text.starts_with('>') {
        return Some(1);
    }
    let digits = text.bytes().take_while(u8::is_ascii_digit).count();
    let sign = text[digits..].bytes().next()?;
    let is_marker = if digits == 0 {
        b"-*+".contains(&sign)
    } else {
        b".)".contains(&sign)
    };
    // A marker is one byte, so the next character starts behind it.
    (is_marker && text[digits + 1..].starts_with([' ', '\t'])).then_some(digits + 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn deep_nesting_becomes_text_and_rules_stay() {
        for (typed, kept) in [
            ("> > > > > > > a", "> > > > > > \\> a"),
            ("1. 1. 1. 1. 1. 1. 1. a", "1. 1. 1. 1. 1. 1. 1\\. a"),
            ("* * * * * * * * *", "* * * * * * * * *"),
            ("- a\n  - b", "- a\n  - b"),
        ] {
            assert_eq!(bounded(typed), kept, "{typed}");
        }
        let far = format!("{}a", " ".repeat(500));
        assert!(bounded(&far).len() < 50);
    }
}
