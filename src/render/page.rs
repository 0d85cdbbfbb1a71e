//! Markdown to one self-contained HTML page: no script, nothing loaded, and a policy that says so.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::fmt::Write;

use comrak::Arena;
use comrak::Node;
use comrak::Options;
use comrak::create_formatter;
use comrak::html::ChildRendering;
use comrak::nodes::AstNode;
use comrak::nodes::NodeValue;
use comrak::parse_document;
use math_core::LatexToMathML;
use math_core::MathDisplay;

use super::addresses::may_lead_to;
use super::captions;
use super::escape::html;
use super::markdown::Markdown;
use super::markdown::place_of;
use super::mathml;
use super::paper;
use super::parts::anchor;
use super::parts::figure;
use super::parts::plain;
use super::parts::without_styles;
use super::parts::working;
use super::table;
use super::table::Cell;
use crate::report::Document;
use crate::words::Words;

/// What the formatter knows of the report, and where it is.
#[derive(Default)]
struct Scene {
    /// Worked chains by step id, as MathML.
    chains: BTreeMap<String, String>,
    /// Figures by chart id, up to their number and behind it.
    figures: BTreeMap<String, [String; 2]>,
    /// Rows of the tables whose places the text keeps.
    aside: Vec<String>,
    columns: Vec<table::Columns>,
    in_words: bool,
    /// Whether the document is written on by hand.
    on_paper: bool,
    /// Whether a [part](paper::part) has begun and not ended.
    in_part: bool,
    headings: Vec<String>,
    /// Names of tables so far.
    tables: Vec<String>,
    latex: Option<LatexToMathML>,
    words: Words,
}

/// How the page reads Markdown.
pub(super) fn options() -> Options<'static> {
    let mut options = Options::default();
    options.extension.table = true;
    options.extension.footnotes = false;
    options.extension.math_dollars = true;
    options.extension.subscript = true;
    options.extension.superscript = false;
    options.extension.autolink = false;
    options.render.r#unsafe = false;
    options
}

/// Writes the body of a document's page behind what is there.
pub(super) fn body(markdown: &Markdown, document: &impl Document, out: &mut String) {
    let words = document.words();
    let arena = Arena::new();
    let options = options();
    // Cells of sheets have room to write, which tables put aside know nothing of.
    let (text, aside) = if document.on_paper() {
        (Cow::Borrowed(markdown.text.as_str()), Vec::new())
    } else {
        markdown.apart()
    };
    let root = parse_document(&arena, &text, &options);
    let chains = document
        .chains()
        .into_iter()
        .flatten()
        .map(|(id, chains)| (id.clone(), mathml::chains(chains)));
    let scene = Scene {
        chains: chains.collect(),
        figures: document
            .charts()
            .into_iter()
            .map(|chart| (chart.id.clone(), figure(chart, words)))
            .collect(),
        aside,
        on_paper: document.on_paper(),
        words: words.clone(),
        ..Scene::default()
    };
    if scene.on_paper {
        out.push_str("<div class=\"paper\">\n");
    }
    // Writing to a String cannot fail.
    if let Ok(scene) = Page::format_document(root, &options, out, scene) {
        for open in [scene.in_words, scene.in_part, scene.on_paper] {
            out.push_str(if open { "</div>\n" } else { "" });
        }
    }
}

/// The box, the element and the caption of a table, up to its rows.
fn opened(node: Node<'_>, scene: &mut Scene) -> String {
    let caption = node
        .previous_sibling()
        .filter(|before| !scene.in_words && captions::of_a_table(before, &scene.words));
    let words = caption.map_or_else(String::new, table::text_of);
    let name = table::name(&words, &mut scene.tables);
    let mut out = table::open(&name);
    if let Some((number, rest)) = words.split_once(". ") {
        out.push_str(&format!(
            "<caption><span><b>{}.</b> {}</span></caption>\n",
            html(number),
            html(rest)
        ));
    }
    out
}

/// The element of a heading.
fn tag(level: u8) -> &'static str {
    ["h1", "h2", "h3", "h4", "h5", "h6"][usize::from(level.clamp(1, 6)) - 1]
}

/// What a cell is, and its place in the row.
fn cell_of<'a>(node: &'a AstNode<'a>, in_words: bool) -> (usize, bool, Cell) {
    let header = node
        .parent()
        .is_some_and(|row| matches!(row.data().value, NodeValue::TableRow(true)));
    let place =
        std::iter::successors(node.previous_sibling(), |cell| cell.previous_sibling()).count();
    let empty = node.first_child().is_none();
    (place, header, Cell::of(place, header, empty, in_words))
}

create_formatter!(Page<Scene>, {
    NodeValue::HtmlBlock(ref block) => |context, node, entering| {
        if entering && let Some(rows) = place_of(&block.literal).and_then(|place| context.user.aside.get_mut(place)).map(std::mem::take) {
            let opening = opened(node, &mut context.user);
            context.write_str(&opening)?;
            context.write_str(&rows)?;
        } else if entering {
            match block.literal.trim() {
                "<!-- words -->" if !context.user.in_words => {
                    context.user.in_words = true;
                    context.write_str("<div class=\"words\">\n")?;
                }
                "<!-- /words -->" if context.user.in_words => {
                    context.user.in_words = false;
                    context.write_str("</div>\n")?;
                }
                "<!-- words -->" | "<!-- /words -->" => {}
                text if context.user.on_paper && paper::part(text).is_some() => {
                    // A part that begins ends the one before it.
                    if std::mem::take(&mut context.user.in_part) {
                        context.write_str("</div>\n")?;
                    }
                    if let Some(paper::Edge::Start(name)) = paper::part(text) {
                        writeln!(context, "<div class=\"{name}\">")?;
                        context.user.in_part = true;
                    }
                }
                text => {
                    context.write_str("<p>")?;
                    context.write_str(&html(text))?;
                    context.write_str("</p>\n")?;
                }
            }
        }
        return Ok(ChildRendering::Skip);
    },
    NodeValue::Text(ref text) => |context, node, entering| {
        if !context.user.on_paper || context.user.in_words {
            return comrak::html::format_node_default(context, node, entering);
        }
        if entering {
            context.write_str(&paper::marks(text, &context.user.words))?;
        }
        return Ok(ChildRendering::Skip);
    },
    NodeValue::HtmlInline(ref text) => |context, entering| {
        if entering {
            context.write_str(&html(text))?;
        }
        return Ok(ChildRendering::Skip);
    },
    NodeValue::Heading(ref heading) => |context, node, entering| {
        if entering {
            let id = anchor(&table::text_of(node), &mut context.user.headings);
            for piece in ["<", tag(heading.level), " id=\"", &id, "\">"] {
                context.write_str(piece)?;
            }
        } else {
            for piece in ["</", tag(heading.level), ">\n"] {
                context.write_str(piece)?;
            }
        }
        return Ok(ChildRendering::HTML);
    },
    NodeValue::ThematicBreak => |context, entering| {
        if entering {
            context.write_str("<hr>\n")?;
        }
        return Ok(ChildRendering::HTML);
    },
    NodeValue::Paragraph => |context, node, entering| {
        if !context.user.in_words && (captions::of_a_table(node, &context.user.words) || captions::of_a_figure(node, &context.user.words).is_some()) {
            return Ok(ChildRendering::Skip);
        }
        return comrak::html::format_node_default(context, node, entering);
    },
    NodeValue::BlockQuote => |context, node, entering| {
        if context.user.in_words {
            // Students' own quotation, not a remark of the program.
            return comrak::html::format_node_default(context, node, entering);
        }
        context.write_str(if entering { "<div class=\"remark\" role=\"note\">\n" } else { "</div>\n" })?;
        return Ok(ChildRendering::HTML);
    },
    NodeValue::CodeBlock(ref block) => |context, node, entering| {
        let (kind, id) = block.info.split_once(' ').unwrap_or((&block.info, ""));
        match kind {
            "working" => {
                if entering {
                    let text = working(context.user.chains.get(id).map(String::as_str), id, &block.literal, &context.user.words);
                    context.write_str(&text)?;
                }
                return Ok(ChildRendering::Skip);
            }
            "chart" => {
                if entering {
                    let caption = node.next_sibling();
                    let number = caption.and_then(|caption| captions::of_a_figure(caption, &context.user.words)).unwrap_or_default();
                    if let Some([drawn, behind]) = context.user.figures.get(id).cloned() {
                        context.write_str(&drawn)?;
                        context.write_str(&html(&number))?;
                        context.write_str(&behind)?;
                    } else {
                        context.write_str(&plain(&block.literal))?;
                    }
                }
                return Ok(ChildRendering::Skip);
            }
            "room" if context.user.on_paper => {
                if entering {
                    context.write_str(&paper::ruled(block.literal.lines().count(), &context.user.words))?;
                }
                return Ok(ChildRendering::Skip);
            }
            _ => {
                if entering {
                    context.write_str(&plain(&block.literal))?;
                }
                return Ok(ChildRendering::Skip);
            }
        }
    },
    NodeValue::Math(ref math) => |context, entering| {
        if entering {
            let latex = context.user.latex.get_or_insert_with(|| {
                LatexToMathML::new(math_core::MathCoreConfig::default()).unwrap_or_else(|_| unreachable!("the default settings hold no macros"))
            });
            let display = if math.display_math { MathDisplay::Block } else { MathDisplay::Inline };
            let converted = latex.convert_with_local_state(&math.literal, display).map(|found| found.mathml);
            if let Ok(text) = converted { context.write_str(&without_styles(&text))? } else {
                context.write_str("<code>")?;
                context.write_str(&html(&math.literal))?;
                context.write_str("</code>")?;
            }
        }
        return Ok(ChildRendering::Skip);
    },
    NodeValue::Link(ref link) => |context, entering| {
        // A link that leads nowhere safe is its words.
        if may_lead_to(&link.url) {
            if entering {
                context.write_str("<a rel=\"noreferrer\" href=\"")?;
                context.escape_href(&link.url)?;
                context.write_str("\">")?;
            } else {
                context.write_str("</a>")?;
            }
        }
        return Ok(ChildRendering::HTML);
    },
    NodeValue::Image(_) => |context, node, entering| {
        if entering {
            let words = table::text_of(node);
            context.write_str(&html(&words))?;
        }
        return Ok(ChildRendering::Skip);
    },
    NodeValue::Table(_) => |context, node, entering| {
        if entering {
            let opening = opened(node, &mut context.user);
            context.write_str(&opening)?;
            context.user.columns.push(table::Columns::of_node(node));
        } else {
            context.user.columns.pop();
            context.write_str(table::END)?;
        }
        return Ok(ChildRendering::HTML);
    },
    NodeValue::TableRow(header) => |context, entering| {
        context.write_str(if entering { table::row(header) } else { table::row_end(header) })?;
        return Ok(ChildRendering::HTML);
    },
    NodeValue::TableCell => |context, node, entering| {
        let (place, header, cell) = cell_of(node, context.user.in_words);
        if entering {
            let mut out = String::new();
            let mut is_number = false;
            if let Some(columns) = context.user.columns.last() {
                let plain = !header && node.children().all(|inner| matches!(inner.data().value, NodeValue::Text(_)));
                let text = if plain { table::text_of(node) } else { String::new() };
                is_number = columns.begin(place, cell, &text, &mut out);
            }
            context.write_str(&out)?;
            if is_number {
                return Ok(ChildRendering::Skip);
            }
        } else {
            context.write_str(cell.closing())?;
        }
        return Ok(ChildRendering::HTML);
    },
});
