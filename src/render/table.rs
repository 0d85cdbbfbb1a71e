//! Tables of the page: caption, headers with their scope, numbers under each other, a box that scrolls by itself.

use comrak::Node;
use comrak::nodes::NodeValue;
use comrak::nodes::TableAlignment;

use super::blocks::tail_width;
use super::escape::html;

/// Plain text of a node's descendants.
pub(super) fn text_of(node: Node<'_>) -> String {
    let mut out = String::new();
    for inner in node.descendants() {
        match &inner.data().value {
            NodeValue::Text(text) => out.push_str(text),
            NodeValue::Code(code) => out.push_str(&code.literal),
            NodeValue::SoftBreak | NodeValue::LineBreak => out.push(' '),
            _ => {}
        }
    }
    out
}

/// Whether a paragraph is the caption of the table that follows: it begins with a bold “Table N.”.
pub(super) fn is_caption(node: Node<'_>) -> bool {
    let Some(strong) = node
        .first_child()
        .filter(|child| matches!(child.data().value, NodeValue::Strong))
    else {
        return false;
    };
    text_of(strong).starts_with("Table ")
        && node
            .next_sibling()
            .is_some_and(|next| matches!(next.data().value, NodeValue::Table(_)))
}

/// What a table's columns need to know of all their cells.
pub(super) struct Columns {
    numeric: Vec<bool>,
    tails: Vec<usize>,
    points: Vec<bool>,
}

impl Columns {
    /// Looks over a table.
    pub(super) fn of(table: Node<'_>) -> Self {
        let alignments = match &table.data().value {
            NodeValue::Table(table) => table.alignments.clone(),
            _ => Vec::new(),
        };
        let numeric: Vec<bool> = alignments
            .iter()
            .map(|alignment| *alignment == TableAlignment::Right)
            .collect();
        let mut tails = vec![0; numeric.len()];
        let mut points = vec![false; numeric.len()];
        for row in table.children().skip(1) {
            for (place, cell) in row
                .children()
                .enumerate()
                .filter(|(place, _)| numeric.get(*place) == Some(&true))
            {
                let text = text_of(cell);
                if let Some(tail) = tail_width(text.trim()) {
                    tails[place] = tail.max(tails[place]);
                    points[place] |= text.contains('.');
                }
            }
        }
        Self {
            numeric,
            tails,
            points,
        }
    }

    /// Whether a column holds numbers.
    pub(super) fn is_numeric(&self, place: usize) -> bool {
        self.numeric.get(place) == Some(&true)
    }

    /// Invisible filling behind a number, so that decimal marks stand under each other: figure spaces for digits, a
    /// punctuation space for a missing point.
    pub(super) fn filling(&self, place: usize, text: &str) -> String {
        if !self.is_numeric(place) {
            return String::new();
        }
        let Some(tail) = tail_width(text.trim()) else {
            return String::new();
        };
        let missing = self.tails[place].saturating_sub(tail);
        let point = self.points[place] && !text.contains('.') && missing > 0;
        let mut filling = String::new();
        if point {
            filling.push('\u{2008}');
        }
        filling.extend(std::iter::repeat_n(
            '\u{2007}',
            missing - usize::from(point),
        ));
        filling
    }
}

/// Opens the box of a table, named by its caption.
pub(super) fn open(caption: &str) -> String {
    let name = if caption.is_empty() {
        "table".to_owned()
    } else {
        html(caption)
    };
    format!("<div class=\"scroll\" tabindex=\"0\" role=\"region\" aria-label=\"{name}\"><table>\n")
}
