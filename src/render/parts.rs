//! Parts of the page that are no plain Markdown: worked steps, charts, anchors.

use super::captions::FIGURE;
use super::captions::said;
use super::escape::html;
use super::svg;
use crate::report::model::Chart;
use crate::say;
use crate::words::Words;

/// An anchor made of a heading's words, unique on the page.
pub(super) fn anchor(words: &str, used: &mut Vec<String>) -> String {
    let mut id = String::with_capacity(words.len());
    for c in words.chars() {
        if c.is_ascii_alphanumeric() {
            id.push(c.to_ascii_lowercase());
        } else if !id.ends_with('-') {
            id.push('-');
        }
    }
    let id = id.trim_matches(['-', '0', '1', '2', '3', '4', '5', '6', '7', '8', '9']);
    let base = if id.is_empty() { "part" } else { id };
    let mut unique = base.to_owned();
    let mut number = 2;
    while used.contains(&unique) {
        unique = format!("{base}-{number}");
        number += 1;
    }
    used.push(unique.clone());
    unique
}

/// A worked step: its given, find and check lines, and its chains as MathML. Without chains the text stands as it is.
pub(super) fn working(chains: Option<&str>, id: &str, text: &str, words: &Words) -> String {
    let Some(chains) = chains else {
        return format!(
            "<pre class=\"working\" tabindex=\"0\"><code>{}</code></pre>\n",
            html(text)
        );
    };
    let mut out = String::with_capacity(chains.len() + 2 * text.len() + 256);
    for piece in ["<div class=\"working\" id=\"step-", &html(id), "\"><dl>"] {
        out.push_str(piece);
    }
    let mut behind = String::new();
    let mut in_chain = false;
    for line in text.lines() {
        let Some((word, rest)) = line.split_once(' ') else {
            continue;
        };
        // Words of any language stand apart from what they head; lines of the chain do not, and come between them.
        if word.is_empty() || !rest.starts_with(' ') {
            in_chain = true;
            continue;
        }
        let out = if in_chain { &mut behind } else { &mut out };
        let (word, rest) = (html(word), html(rest.trim()));
        for piece in ["<div><dt>", &word, "</dt><dd>", &rest, "</dd></div>"] {
            out.push_str(piece);
        }
    }
    let label = say!(words, "worked lines of {step}", step = id);
    for piece in [
        "</dl>\n<div class=\"scroll\" tabindex=\"0\" role=\"region\" aria-label=\"",
        &html(&label),
        "\">",
        chains,
        "</div>\n",
    ] {
        out.push_str(piece);
    }
    if !behind.is_empty() {
        for piece in ["<dl>", &behind, "</dl>\n"] {
            out.push_str(piece);
        }
    }
    out.push_str("</div>\n");
    out
}

/// A chart with its caption, up to the number that it gets where it is printed, and behind it. The style sheet shows the
/// narrow drawing on small screens, and hides the other.
pub(super) fn figure(chart: &Chart, words: &Words) -> [String; 2] {
    let word = said(FIGURE, words);
    let drawn = format!(
        "<figure id=\"figure-{}\"><div class=\"wide\">{}</div><div class=\"narrow\" hidden>{}</div><figcaption><b>{word} ",
        html(&chart.id),
        svg::chart(chart),
        svg::narrow(chart),
    );
    let caption = html(&chart.caption);
    [drawn, format!(".</b> {caption}</figcaption></figure>\n")]
}

/// Text as it stands.
pub(super) fn plain(text: &str) -> String {
    format!("<pre tabindex=\"0\"><code>{}</code></pre>\n", html(text))
}

/// MathML without `style` attributes, which the page's policy refuses.
pub(super) fn without_styles(mathml: &str) -> String {
    let mut out = String::with_capacity(mathml.len());
    let mut rest = mathml;
    while let Some((before, behind)) = rest.split_once(" style=\"") {
        out.push_str(before);
        rest = behind.split_once('"').map_or("", |(_, behind)| behind);
    }
    out.push_str(rest);
    out
}
