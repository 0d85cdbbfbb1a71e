//! Markdown that people wrote, made safe to stand inside a report: everything that could break
//! out of its place becomes text, the rest stays byte for byte.

use std::ops::Range;

use pulldown_cmark::CodeBlockKind;
use pulldown_cmark::Event;
use pulldown_cmark::LinkType;
use pulldown_cmark::Options;
use pulldown_cmark::Parser;
use pulldown_cmark::Tag;
use pulldown_cmark::TagEnd;

use crate::render::addresses::is_remote;
use crate::render::addresses::may_lead_to;
use crate::render::escape::clean;
use crate::render::escape::markdown;
use crate::render::nesting::bounded;
use crate::render::signs;

/// An edit may uncover the next one; a text that needs more rounds than this is shown as plain text.
const ROUNDS: usize = 12;

/// Info strings that the page turns into formulas and drawings.
const OURS: [&str; 2] = ["working", "chart"];

/// The Markdown extensions that prose is read with; the page reads it with the same.
pub(super) fn options() -> Options {
    Options::ENABLE_TABLES | Options::ENABLE_MATH
}

/// Makes prose safe to stand inside a report.
///
/// Raw HTML, link definitions, and links to anything but the web, mail or a place nearby become
/// text; headings become bold paragraphs; pictures from elsewhere leave only their description;
/// a code block left open is closed. Signs of calculations and of rough amounts, which Markdown would read as emphasis or
/// as small print, stay as typed. The result is its own result.
#[must_use]
pub fn safe(text: &str) -> String {
    let cleaned = clean(text);
    let prose = trimmed(&cleaned);
    if is_harmless(prose) {
        return prose.to_owned();
    }
    made_safe(&cleaned)
}

/// Whether a text surely holds nothing but paragraphs and what may stand in them, as most do: every line begins as a
/// sentence or a formula does, and neither a link, HTML, emphasis by stars nor a subscript can begin.
fn is_harmless(prose: &str) -> bool {
    let begins = |c: char| c.is_alphabetic() || matches!(c, '$' | '(' | '"' | '“' | '„');
    !prose
        .bytes()
        .any(|byte| matches!(byte, b'<' | b'[' | b'*' | b'~'))
        && prose
            .split('\n')
            .all(|line| line.is_empty() || line.starts_with(begins))
}

/// The same for any text.
fn made_safe(cleaned: &str) -> String {
    let mut source = bounded(trimmed(cleaned));
    for _ in 0..ROUNDS {
        let edits = edits(&source);
        if edits.is_empty() {
            match ending(&source) {
                // What an edit took away may have left a blank at the end.
                Ending::Closed => {
                    let shorter = trimmed(&source).to_owned();
                    if shorter == source {
                        return source;
                    }
                    source = shorter;
                }
                Ending::Fence(fence) => source = format!("{source}\n{fence}"),
                Ending::Open => break,
            }
        } else {
            source = apply(&source, edits);
        }
    }
    as_text(cleaned)
}

/// Without blank lines before and blanks after.
fn trimmed(text: &str) -> &str {
    let mut text = text.trim_end();
    while let Some((line, rest)) = text.split_once('\n') {
        if !line.trim().is_empty() {
            break;
        }
        text = rest;
    }
    text
}

/// A piece of the source and what replaces it.
struct Edit {
    range: Range<usize>,
    with: String,
}

impl Edit {
    fn backslash(at: usize) -> Self {
        Self {
            range: at..at,
            with: "\\".to_owned(),
        }
    }
}

/// Applies edits in order; of two that overlap the first wins, and the next round sees the rest.
fn apply(source: &str, mut edits: Vec<Edit>) -> String {
    edits.sort_by_key(|edit| (edit.range.start, edit.range.end));
    let mut out = String::with_capacity(source.len() + edits.len());
    let mut done = 0;
    let mut last_insertion = None;
    for edit in edits {
        if edit.range.start < done || last_insertion == Some(edit.range.start) {
            continue;
        }
        out.push_str(&source[done..edit.range.start]);
        out.push_str(&edit.with);
        done = edit.range.end;
        last_insertion = Some(edit.range.start);
    }
    out.push_str(&source[done..]);
    out
}

/// Everything that has to change in one round.
fn edits(source: &str) -> Vec<Edit> {
    let parser = Parser::new_ext(source, options());
    let mut edits: Vec<Edit> = parser
        .reference_definitions()
        .iter()
        .map(|(_, definition)| Edit::backslash(definition.span.start))
        .collect();
    let mut walk = Walk {
        source,
        edits: Vec::new(),
        literal: Vec::new(),
        html: Vec::new(),
        open: Vec::new(),
        product_is_read: false,
    };
    for (event, range) in parser.into_offset_iter() {
        walk.event(event, range);
    }
    edits.append(&mut walk.edits);
    for (at, _) in source.match_indices('<') {
        let opens =
            source[at + 1..].starts_with(|c: char| c.is_ascii_alphabetic() || "/!?".contains(c));
        if opens && !is_escaped(source, at) && walk.html.iter().any(|range| range.contains(&at)) {
            edits.push(Edit::backslash(at));
        }
    }
    let products = walk.product_is_read.then(|| signs::products(source));
    let means_something = |at: &usize| !walk.is_literal(*at) && !is_escaped(source, *at);
    let tildes = source.match_indices('~').map(|(at, _)| at);
    let tildes: Vec<usize> = tildes.filter(means_something).collect();
    let signs = products.unwrap_or_default().into_iter();
    let signs = signs.filter(means_something);
    edits.extend(
        signs
            .chain(signs::not_of_subscripts(source, &tildes))
            .map(Edit::backslash),
    );
    for at in definitions(source) {
        if !walk.is_literal(at) {
            edits.push(Edit::backslash(at));
        }
    }
    edits
}

/// Whether an odd number of backslashes stands before a place.
fn is_escaped(source: &str, at: usize) -> bool {
    source[..at]
        .bytes()
        .rev()
        .take_while(|&b| b == b'\\')
        .count()
        % 2
        == 1
}

/// Where lines start as the definition of a link or a footnote: `[name]: …`.
fn definitions(source: &str) -> Vec<usize> {
    let mut found = Vec::new();
    let mut line_start = 0;
    for line in source.split('\n') {
        let container = |c: char| " \t>*+-.)".contains(c) || c.is_ascii_digit();
        let body = line.trim_start_matches(container);
        let closes = body
            .strip_prefix('[')
            .and_then(|label| label.split_once(']'));
        if closes.is_some_and(|(_, after)| after.starts_with(':')) {
            found.push(line_start + line.len() - body.len());
        }
        line_start += line.len() + 1;
    }
    found
}

/// The reader's events on their way into edits.
struct Walk<'s> {
    source: &'s str,
    edits: Vec<Edit>,
    /// Code, formulas and addresses: characters that mean only themselves.
    literal: Vec<Range<usize>>,
    /// Raw HTML.
    html: Vec<Range<usize>>,
    /// Headings and pictures being read: where they are and what their content spans.
    open: Vec<Open>,
    /// Whether emphasis begins or ends with what is a sign of a product.
    product_is_read: bool,
}

/// A heading or a picture being read.
struct Open {
    range: Range<usize>,
    content: Option<Range<usize>>,
    picture: bool,
}

impl Walk<'_> {
    fn event(&mut self, event: Event<'_>, range: Range<usize>) {
        if !matches!(event, Event::End(TagEnd::Heading(_) | TagEnd::Image)) {
            for open in &mut self.open {
                let content = open.content.get_or_insert(range.clone());
                content.start = content.start.min(range.start);
                content.end = content.end.max(range.end);
            }
        }
        match event {
            Event::Start(Tag::Heading { .. }) => {
                self.open.push(Open {
                    range,
                    content: None,
                    picture: false,
                });
            }
            Event::Start(Tag::Image { dest_url, .. }) => {
                // A picture that stays is opened too, so that its end finds its own start.
                let range = if is_remote(&dest_url) { range } else { 0..0 };
                self.open.push(Open {
                    range,
                    content: None,
                    picture: true,
                });
            }
            Event::End(TagEnd::Heading(_) | TagEnd::Image) => self.close(),
            Event::Start(Tag::CodeBlock(kind)) => {
                if let CodeBlockKind::Fenced(info) = kind {
                    self.fence(&info, &range);
                }
                self.literal.push(range);
            }
            Event::Start(Tag::Link {
                link_type,
                dest_url,
                ..
            }) => {
                let auto = matches!(link_type, LinkType::Autolink | LinkType::Email);
                if !auto && !may_lead_to(&dest_url) {
                    self.edits.push(Edit::backslash(range.start));
                } else if auto && may_lead_to(&dest_url) {
                    self.literal.push(range);
                } else if auto {
                    self.edits.push(Edit::backslash(range.start));
                }
            }
            Event::Start(Tag::Emphasis | Tag::Strong) => {
                self.product_is_read |= [range.start, range.end - 1]
                    .into_iter()
                    .any(|at| signs::is_product(self.source, at));
            }
            Event::Html(_) | Event::InlineHtml(_) => self.html.push(range),
            Event::Code(_) | Event::InlineMath(_) | Event::DisplayMath(_) => {
                self.literal.push(range);
            }
            _ => {}
        }
    }

    fn is_literal(&self, at: usize) -> bool {
        self.literal.iter().any(|range| range.contains(&at))
    }

    fn fence(&mut self, info: &str, range: &Range<usize>) {
        let word = info.trim().to_ascii_lowercase();
        if !OURS.iter().any(|ours| word.starts_with(ours)) {
            return;
        }
        let line = self.source[range.start..]
            .split('\n')
            .next()
            .unwrap_or_default();
        let fence = line.len() - line.trim_start().trim_start_matches(['`', '~']).len();
        let info = range.start + fence..range.start + line.len();
        self.edits.push(Edit {
            range: info,
            with: "text".to_owned(),
        });
    }

    /// Ends a heading or a picture.
    fn close(&mut self) {
        let Some(open) = self.open.pop() else { return };
        if open.range.is_empty() {
            return;
        }
        let content = open.content.map_or("", |content| &self.source[content]);
        if open.picture {
            self.edits.push(Edit {
                range: open.range,
                with: content.to_owned(),
            });
            return;
        }
        let whole = &self.source[open.range.clone()];
        let range = open.range.start..open.range.start + whole.trim_end().len();
        if content.trim().is_empty() {
            self.edits.push(Edit::backslash(range.start));
            return;
        }
        let mut with = bold(content.trim());
        let starts_line = range.start == 0 || self.source[..range.start].ends_with('\n');
        if starts_line {
            let before = self.source[..range.start].trim_end_matches('\n');
            if !before.is_empty() && range.start - before.len() < 2 {
                with.insert(0, '\n');
            }
            let after = &self.source[range.end..];
            if after.len() > 1 && !after.starts_with("\n\n") {
                with.push('\n');
            }
        }
        self.edits.push(Edit { range, with });
    }
}

/// A heading's text as a bold line, or plain where bold would not close.
fn bold(text: &str) -> String {
    if text.contains(['*', '`']) || text.ends_with('\\') {
        text.to_owned()
    } else {
        format!("**{text}**")
    }
}

/// What a text leaves open for what follows it.
enum Ending {
    /// Nothing.
    Closed,
    /// A code block with this fence.
    Fence(String),
    /// Something else.
    Open,
}

/// Finds out by reading the text with a heading after it.
fn ending(source: &str) -> Ending {
    let probe = format!("{source}\n\n# end\n");
    let at = source.len() + 2;
    let mut last_fence = None;
    let mut depth = 0_usize;
    for (event, range) in Parser::new_ext(&probe, options()).into_offset_iter() {
        match event {
            Event::Start(tag) => {
                if depth == 0 && range.start == at && matches!(tag, Tag::Heading { .. }) {
                    return Ending::Closed;
                }
                if depth == 0 && matches!(tag, Tag::CodeBlock(CodeBlockKind::Fenced(_))) {
                    last_fence = Some(range.start);
                }
                depth += 1;
            }
            Event::End(_) => depth = depth.saturating_sub(1),
            _ => {}
        }
    }
    last_fence.map_or(Ending::Open, |at| {
        let line = probe[at..].trim_start();
        let sign = if line.starts_with('~') { '~' } else { '`' };
        Ending::Fence(line.chars().take_while(|&c| c == sign).collect())
    })
}

/// Every line as plain text, paragraphs kept.
fn as_text(text: &str) -> String {
    let lines: Vec<String> = trimmed(text).split('\n').map(markdown).collect();
    lines.join("\n")
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn ordinary_prose_stays_byte_for_byte() {
        let rows = [
            "Solution clear blue. Zinc went *black* within a minute.",
            "We got $m = 1.50\\,\\mathrm{g}$, so 97.9 % < 100 %.\n\n- one\n- two\n\n1. a\n2. b",
            "| a | b |\n| --- | --: |\n| 1 | 2 |",
            "```\nif a < b:\n    <b>\n```\n\nand `<i>` too",
            "See [the sheet](https://example.org/a) or <https://example.org>.",
            "> quoted\n\n* * *\n\nH~2~O and x < 3, a<b",
            "![beaker](beaker.jpg)",
            "*very* wet, (*damp*) and **dry**: 2 * 3 * 4, 5*3 = 15",
            "Cu(OH)~2~ and Fe~2~O~3~, n~max~",
            "about ~5 g",
            "$a*b*c~d~e$ and `2*3*4 ~5 ~6`",
            "mass_of_salt, 2_3_4",
        ];
        for text in rows {
            assert_eq!(safe(text), text);
        }
    }

    #[test]
    fn what_breaks_out_becomes_text() {
        let rows = [
            ("<script>alert(1)</script>", "\\<script>alert(1)\\</script>"),
            ("a <b>c", "a \\<b>c"),
            ("<!-- /words -->", "\\<!-- /words -->"),
            ("# Big\ntext", "**Big**\n\ntext"),
            ("text\n## Big", "text\n\n**Big**"),
            ("Title\n=====\n\nmore", "**Title**\n\nmore"),
            ("#", "\\#"),
            ("# a*b", "a*b"),
            ("```\ncode", "```\ncode\n```"),
            ("~~~~ x\ncode\n~~~", "~~~~ x\ncode\n~~~\n~~~~"),
            ("```working theoretical\nx\n```", "```text\nx\n```"),
            ("``` Chart amounts\nx\n```", "```text\nx\n```"),
            ("[a]: http://x.y\n[a]", "\\[a]: http://x.y\n[a]"),
            ("[^1]: note", "\\[^1]: note"),
            ("> [a]: b", "> \\[a]: b"),
            ("[go](javascript:alert(1))", "\\[go](javascript:alert(1))"),
            ("[go](java&#115;cript:x)", "\\[go](java&#115;cript:x)"),
            ("<javascript:x>", "\\<javascript:x>"),
            ("![a *b*](http://x.y/z.png)", "a *b*"),
            ("![](//x.y/z.png)", ""),
            ("x\u{202e}y\0z", "xyz"),
            ("\n\n  a\n\n", "  a"),
            ("> > > > > > > > a", "> > > > > > \\> > a"),
            ("- - - - - - - - a", "- - - - - - \\- - a"),
            ("1.51/1.593*100*1", "1.51/1.593\\*100\\*1"),
            ("2**3**4 and *wet*", "2\\*\\*3\\*\\*4 and *wet*"),
            ("2*(3+4)*5, x*(y)", "2\\*(3+4)\\*5, x\\*(y)"),
            ("(3)*(4)*(5)", "(3)\\*(4)\\*(5)"),
            ("3 *4* 5", "3 \\*4\\* 5"),
            ("*so 2*3 is 6* here", "*so 2\\*3 is 6* here"),
            ("a\\*b*c*d", "a\\*b\\*c\\*d"),
            ("~5 g, ~6 g, H~2~O", "\\~5 g, \\~6 g, H~2~O"),
            ("5~6~7 a~b c~d", "5\\~6\\~7 a\\~b c\\~d"),
            ("~~gone~~", "\\~\\~gone\\~\\~"),
        ];
        for (typed, shown) in rows {
            assert_eq!(safe(typed), shown, "{typed:?}");
        }
    }

    #[test]
    fn nothing_is_left_at_the_end_by_an_edit() {
        let once = safe("---<![CDATA[\\\n]((javascript:x))");
        assert_eq!(safe(&once), once);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(2000))]
        #[test]
        fn soup_is_closed_safe_and_stable(text in crate::render::soup::soup()) {
            let once = safe(&text);
            prop_assert_eq!(&safe(&once), &once);
            prop_assert_eq!(&made_safe(&clean(&text)), &once);
            prop_assert!(matches!(ending(&once), Ending::Closed));
            for (event, _) in Parser::new_ext(&once, options()).into_offset_iter() {
                let bad = match event {
                    Event::Html(_) | Event::InlineHtml(_) | Event::Start(Tag::Heading { .. }) => true,
                    Event::Start(Tag::Link { dest_url, .. }) => !may_lead_to(&dest_url),
                    Event::Start(Tag::Image { dest_url, .. }) => is_remote(&dest_url),
                    _ => false,
                };
                prop_assert!(!bad, "{once:?}");
            }
        }
    }
}
