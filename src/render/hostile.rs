//! Hostile text in every field, and random Markdown in students' prose: it comes out as text, and the report keeps its shape.

use std::collections::BTreeMap;

use proptest::prelude::*;
use pulldown_cmark::Event;
use pulldown_cmark::Parser;
use pulldown_cmark::Tag;

use super::addresses;
use super::markdown::Markdown;
use super::prose;
use super::specimen;
use super::templates::Templates;
use crate::report::Report;

/// Elements that a page may have inside its `<main>`.
const ELEMENTS: &str = "a b blockquote br caption circle code dd desc div dl dt em figcaption figure h1 h2 h3 hr li \
    maction math merror mfenced mfrac mi mmultiscripts mn mo mover mpadded mphantom mprescripts mroot mrow ms mspace \
    msqrt mstyle msub msubsup msup mtable mtd mtext mtr munder munderover none ol p path pre span strong sub sup svg \
    table tbody td text th thead title tr ul";

/// Attributes that a page may have inside its `<main>`.
const ATTRIBUTES: &str = "accent accentunder aria-label aria-labelledby class cx cy d data-pad display displaystyle form height \
    hidden href id linethickness lspace mathvariant maxsize minsize movablelimits notation r rel role rspace scope scriptlevel \
    start stretchy symmetric tabindex text-anchor viewBox width x y";

fn templates() -> Templates {
    Templates::new(&BTreeMap::new())
        .expect("the built-in templates")
        .0
}

/// The report in both forms. Tables put aside for the page are what it makes of their Markdown.
fn made(templates: &Templates, document: &str, report: &Report) -> (String, String) {
    let markdown = templates.markdown(document, report).expect("a report");
    let page = templates.page(&markdown, report);
    assert!(!markdown.tables.is_empty(), "{document} has no table");
    let whole = Markdown::from(markdown.text);
    assert_eq!(templates.page(&whole, report), page, "{document}");
    (whole.text, page)
}

/// Start tags inside `<main>`: name and attributes' names.
fn tags(page: &str) -> Vec<(String, Vec<String>)> {
    let main = page
        .split_once("<main")
        .and_then(|(_, rest)| rest.split_once('>'))
        .expect("a main part")
        .1;
    let main = main.rsplit_once("</main>").expect("an end").0;
    let mut found = Vec::new();
    for piece in main.split('<').skip(1) {
        // Everywhere else `<` is escaped, so each one begins a tag; quoted values hold no `>` either.
        let inside = piece
            .split_once('>')
            .expect("a whole tag")
            .0
            .trim_end_matches('/');
        if inside.starts_with('/') {
            continue;
        }
        let (name, rest) = inside.split_once(' ').unwrap_or((inside, ""));
        let attributes = rest
            .split('"')
            .step_by(2)
            .map(|part| part.trim().trim_end_matches('=').to_owned());
        found.push((
            name.to_owned(),
            attributes.filter(|name| !name.is_empty()).collect(),
        ));
    }
    found
}

fn assert_harmless(page: &str) {
    let (elements, attributes): (Vec<&str>, Vec<&str>) = (
        ELEMENTS.split_whitespace().collect(),
        ATTRIBUTES.split_whitespace().collect(),
    );
    for (element, found) in tags(page) {
        assert!(
            elements.contains(&element.as_str()),
            "<{element}> in {page}"
        );
        for attribute in found {
            assert!(
                attributes.contains(&attribute.as_str()),
                "<{element} {attribute}=…> in {page}"
            );
        }
    }
    for address in page.split("href=\"").skip(1) {
        let address = address.split('"').next().unwrap_or_default();
        assert!(addresses::may_lead_to(address), "href={address}");
    }
}

/// Headings as the page has them: level and id.
fn page_levels(page: &str) -> Vec<u8> {
    let levels = tags(page)
        .into_iter()
        .filter_map(|(name, _)| name.strip_prefix('h')?.parse().ok());
    levels.collect()
}

/// Headings and the number of tables as the other Markdown reader sees them.
fn outline(markdown: &str) -> (Vec<u8>, usize) {
    let (mut levels, mut tables) = (Vec::new(), 0);
    for event in Parser::new_ext(markdown, prose::options()) {
        match event {
            Event::Start(Tag::Heading { level, .. }) => levels.push(level as u8),
            Event::Start(Tag::Table(_)) => tables += 1,
            _ => {}
        }
    }
    (levels, tables)
}

#[test]
fn hostile_text_in_every_field_comes_out_as_text() {
    let templates = templates();
    for hostile in [
        "</title><script>alert(1)</script>",
        "<img src=x onerror=alert(1)>",
        "\"><svg onload=alert(1)>",
        "' onfocus=alert(1) x='",
        "a|b`c``d```alert(1)",
        "```\nalert(1)\n<b>",
        "$\\text{</math><script>alert(1)</script>}$",
        "$$alert(1)",
        "{{title}} {{{title}}} alert(1)",
        "# alert(1)\n===\n## more",
        "- alert(1)\n\n    code\n\n> quote",
        "[alert(1)](javascript:alert(1)) <javascript:alert(1)> [x]: javascript:alert(1)",
        "![alert(1)](http://example.org/a.png) ![](//example.org/b.png)",
        "<!-- /words --> alert(1) <!-- words -->",
        "\u{202e}alert(1)\u{2066}\u{200f}\0\u{feff}",
        "**Table 1.** alert(1)\n\n| a |\n| - |\n| b |",
        "&lt;script&gt;alert(1)&lt;/script&gt; &#60;b&#62;",
        "<![CDATA[alert(1)]]> <?x alert(1)?> <!DOCTYPE x>",
        "</style></main></body>alert(1)",
        "\u{2}<script>alert(1)</script>\u{3}| a |\n| - |\n| b |",
        "x\n\n<!-- \u{2}0 -->\n\n\u{1} alert(1)",
    ] {
        let report = specimen::report(hostile);
        for document in Templates::of_a_group() {
            let (markdown, page) = made(&templates, document, &report);
            assert_harmless(&page);
            assert!(page.contains("alert"), "{hostile:?} is gone");
            let turning = |c: char| super::escape::turns_direction(c) || c == '\0';
            assert!(
                !page.contains(turning) && !markdown.contains(turning),
                "{hostile:?}"
            );
            let (levels, tables) = outline(&markdown);
            assert_eq!(levels, page_levels(&page), "{hostile:?}");
            assert_eq!(tables, page.matches("<table>").count(), "{hostile:?}");
            let plain = outline(
                &templates
                    .markdown(document, &specimen::report("text"))
                    .expect("plain")
                    .text,
            )
            .0;
            assert_eq!(levels, plain, "{hostile:?} in {markdown}");
            assert_eq!(
                made(&templates, document, &report),
                (markdown, page),
                "not the same bytes"
            );
        }
    }
}

#[test]
fn headings_skip_no_level() {
    let templates = templates();
    for document in Templates::of_a_group() {
        let (levels, _) = outline(
            &templates
                .markdown(document, &specimen::report("text"))
                .expect("a report")
                .text,
        );
        assert_eq!(levels.first(), Some(&1), "{document}");
        assert!(
            levels.windows(2).all(|two| two[1] <= two[0] + 1),
            "{document}: {levels:?}"
        );
    }
}

#[test]
fn students_quotations_and_tables_stay_theirs() {
    let templates = templates();
    let mut report = specimen::report("text");
    report.discussion.written = Some(
        "> they said  \n> it\n\n| a | b |\n| --- | --- |\n| c | d |\n\nend  \nline".to_owned(),
    );
    let (markdown, page) = made(&templates, "report", &report);
    assert!(
        markdown.contains(report.discussion.written.as_deref().expect("prose")),
        "{markdown}"
    );
    assert!(page.contains("<blockquote>"), "{page}");
    assert!(page.contains("<td>c</td>"), "{page}");
}

#[test]
fn prose_with_the_marks_around_prose_ends_nothing_early() {
    let templates = templates();
    let mut report = specimen::report("text");
    let before = made(&templates, "report", &report).0;
    report.purpose = Some("-->\n```\\\n<!-- /words -->".to_owned());
    let after = made(&templates, "report", &report).0;
    let tail = |text: &str| {
        text.rsplit_once("<!-- /words -->")
            .map(|(_, tail)| tail.to_owned())
    };
    assert_eq!(tail(&after), tail(&before));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]
    #[test]
    fn soup_in_prose_changes_nothing_around_it(text in crate::render::soup::soup()) {
        let templates = templates();
        let mut report = specimen::report("text");
        let before = made(&templates, "report", &report);
        report.purpose = Some(text.clone());
        report.discussion.written = Some(text);
        let (markdown, page) = made(&templates, "report", &report);
        assert_harmless(&page);
        prop_assert_eq!(page_levels(&page), page_levels(&before.1));
        prop_assert_eq!(outline(&markdown).0, outline(&before.0).0);
        // What follows the prose is as it was.
        let tail = |text: &str| text.rsplit_once("<!-- /words -->").map(|(_, tail)| tail.to_owned());
        prop_assert_eq!(tail(&markdown), tail(&before.0));
        let end = |page: &str| page[page.rfind("<h2").unwrap_or(0)..].to_owned();
        prop_assert_eq!(end(&page), end(&before.1));
    }
}
