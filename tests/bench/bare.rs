//! What the conversion alone takes: a report's Markdown with formulas and drawings in it, by libraries to HTML with MathML, in the page's frame.

use std::fmt::Write;

use comrak::Arena;
use comrak::create_formatter;
use comrak::html::ChildRendering;
use comrak::nodes::NodeValue;
use comrak::parse_document;
use math_core::LatexToMathML;
use math_core::MathCoreConfig;
use math_core::MathDisplay;

/// A report's Markdown as somebody would write it for such a converter: each worked line is a formula in LaTeX, each
/// drawing the SVG that the report's `page` has.
pub fn written_out(markdown: &str, page: &str) -> String {
    let mut drawings = page.split("<figure").skip(1).map(|rest| {
        let (drawing, _) = rest.split_once("</figure>").unwrap();
        format!("<figure{drawing}</figure>\n")
    });
    let mut out = String::with_capacity(2 * markdown.len());
    let (mut worked, mut drawn) = (false, false);
    for line in markdown.lines() {
        let fence = line.starts_with("```");
        if fence {
            (worked, drawn) = (
                line.starts_with("```working"),
                line.starts_with("```chart") && !drawn,
            );
            if drawn {
                out.push_str(&drawings.next().unwrap());
            }
        } else if drawn {
            continue;
        } else if worked && is_of_a_chain(line) {
            out.push_str(&format!("\n$${}$$\n", latex(line)));
        } else {
            out.push_str(line);
        }
        out.push('\n');
    }
    out
}

/// Whether a line of a worked step is one with an equals sign, and not what is given or found.
fn is_of_a_chain(line: &str) -> bool {
    let heads = ["given ", "find ", "so ", "check "];
    line.contains("= ") && !heads.iter().any(|head| line.starts_with(head))
}

/// A worked line in LaTeX.
fn latex(line: &str) -> String {
    let signs = [
        ("=", "="),
        ("×", "\\times"),
        ("−", "-"),
        ("+", "+"),
        ("→", "\\rightarrow"),
    ];
    let mut out = String::new();
    let mut operand = Vec::new();
    for word in line.split_whitespace() {
        match signs.iter().find(|(sign, _)| *sign == word) {
            Some((_, sign)) => {
                out += &format!("{} {sign} ", quantity(&operand));
                operand.clear();
            }
            None => operand.push(word),
        }
    }
    out += &quantity(&operand);
    out.trim().to_owned()
}

/// A number with its unit and substance, a name, or one over the other.
fn quantity(words: &[&str]) -> String {
    if let ([first, .., last], true) = (words, words.contains(&"/"))
        && let (Some(opened), Some(closed)) = (first.strip_prefix('('), last.strip_suffix(')'))
    {
        let inside = [&[opened], &words[1..words.len() - 1], &[closed]].concat();
        return format!("\\left({}\\right)", quantity(&inside));
    }
    if let Some(bar) = words.iter().position(|word| *word == "/") {
        let (above, below) = (quantity(&words[..bar]), quantity(&words[bar + 1..]));
        return format!("\\frac{{{above}}}{{{below}}}");
    }
    let word = |word: &&str| {
        let text = word.replace('%', "\\%");
        if text.starts_with(|c: char| c.is_ascii_digit()) {
            text
        } else {
            format!("\\mathrm{{{text}}}")
        }
    };
    words.iter().map(word).collect::<Vec<_>>().join("\\,")
}

/// What turns formulas into MathML, made when the first one is met.
#[derive(Default)]
struct Formulas(Option<LatexToMathML>);

create_formatter!(Page<Formulas>, {
    NodeValue::Math(ref math) => |context, entering| {
        if entering {
            let display = if math.display_math { MathDisplay::Block } else { MathDisplay::Inline };
            let formulas = context.user.0.get_or_insert_with(|| LatexToMathML::new(MathCoreConfig::default()).unwrap());
            let formula = formulas.convert_with_local_state(&math.literal, display);
            let formula = formula.unwrap_or_else(|wrong| panic!("{}: {wrong:?}", math.literal));
            context.write_str(&formula.mathml)?;
        }
        return Ok(ChildRendering::Skip);
    },
});

/// What stands before and behind what is converted on a page.
pub fn frame(page: &str) -> (String, String) {
    let start = page.find("<main").unwrap();
    let end = page.rfind("</main>").unwrap();
    (page[..start].to_owned(), page[end..].to_owned())
}

/// HTML with tables, MathML and whatever HTML stands in the Markdown, and nothing else done to it.
pub fn html(markdown: &str, (before, behind): &(String, String)) -> String {
    let mut options = comrak::Options::default();
    options.render.r#unsafe = true;
    options.extension.table = true;
    options.extension.math_dollars = true;
    let arena = Arena::new();
    let root = parse_document(&arena, markdown, &options);
    let mut out = String::with_capacity(4 * markdown.len());
    out.push_str(before);
    Page::format_document(root, &options, &mut out, Formulas::default()).unwrap();
    out.push_str(behind);
    out
}
