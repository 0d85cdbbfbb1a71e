//! Captions of tables and figures: the word in the language of the page; their numbers, and those of headings, in the order of printing.

use comrak::Node;
use comrak::nodes::NodeValue;

use super::markdown::place_of;
use super::table::text_of;
use crate::words::Words;

/// Stands in captions and headings for the number, which they get where they are printed. Typed text holds no such character: it is
/// cleaned of them.
pub(super) const UNNUMBERED: char = '\u{1}';

/// What begins a heading that may be numbered: parts of a section are not.
const HEADING: &str = "## ";

/// What a table is called in captions; said in the language of the document where the caption gets its number.
pub(super) const TABLE: &str = "Table";

/// What a figure is called.
pub(super) const FIGURE: &str = "Figure";

/// What a table or a figure is called in a language.
pub(super) fn said<'w>(kind: &str, words: &'w Words) -> &'w str {
    if kind == TABLE {
        words.say("Table")
    } else {
        words.say("Figure")
    }
}

/// How many tables, figures and numbered headings have been printed.
#[derive(Debug, Default)]
pub(super) struct Numbers {
    tables: u32,
    figures: u32,
    headings: u32,
}

impl Numbers {
    /// A line that is a caption or a heading to be numbered, with the next number; `None` for any other line.
    pub(super) fn number(&mut self, line: &str, words: &Words) -> Option<String> {
        // Most lines are told by their first byte.
        if !line.starts_with(['#', '*']) {
            return None;
        }
        if let Some(heading) = line.strip_prefix(HEADING) {
            let behind = heading.strip_prefix(UNNUMBERED)?;
            self.headings += 1;
            return Some(format!("{HEADING}{}{behind}", self.headings));
        }
        let caption = line.strip_prefix("**")?;
        [(TABLE, &mut self.tables), (FIGURE, &mut self.figures)]
            .into_iter()
            .find_map(|(kind, count)| {
                let behind = caption.strip_prefix(kind)?.strip_prefix(' ')?;
                let rest = behind.strip_prefix(UNNUMBERED)?;
                *count += 1;
                Some(format!("**{} {count}{rest}", said(kind, words)))
            })
    }
}

/// Whether a paragraph is the caption of the table that follows: it begins with a bold “Table N.”.
pub(super) fn of_a_table(node: Node<'_>, words: &Words) -> bool {
    let before_a_table = node
        .next_sibling()
        .is_some_and(|next| match &next.data().value {
            NodeValue::Table(_) => true,
            NodeValue::HtmlBlock(block) => place_of(&block.literal).is_some(),
            _ => false,
        });
    before_a_table && named(node, said(TABLE, words)).is_some()
}

/// The number of the figure whose caption a paragraph is: it begins with a bold “Figure N.” and stands behind a chart.
pub(super) fn of_a_figure(node: Node<'_>, words: &Words) -> Option<String> {
    let chart = node.previous_sibling()?;
    let is_chart = matches!(&chart.data().value, NodeValue::CodeBlock(block) if block.info.starts_with("chart "));
    is_chart.then(|| named(node, said(FIGURE, words)))?
}

/// What stands behind a word at the bold beginning of a paragraph, without its point.
fn named(node: Node<'_>, word: &str) -> Option<String> {
    let strong = node.first_child()?;
    if !matches!(strong.data().value, NodeValue::Strong) {
        return None;
    }
    let text = text_of(strong);
    let number = text.strip_prefix(word)?.strip_prefix(' ')?;
    Some(number.trim_end_matches('.').to_owned())
}
