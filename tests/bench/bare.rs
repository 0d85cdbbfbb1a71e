//! What anybody's converter of Markdown takes: a report's Markdown, its worked lines as formulas, to HTML with MathML, and nothing else.

use std::fmt::Write;

use comrak::Arena;
use comrak::create_formatter;
use comrak::html::ChildRendering;
use comrak::nodes::NodeValue;
use comrak::parse_document;
use math_core::LatexToMathML;
use math_core::MathCoreConfig;
use math_core::MathDisplay;

/// A report's Markdown as somebody would write it for such a converter: each worked line is a formula in LaTeX.
pub fn with_formulas(markdown: &str) -> String {
    let mut out = String::with_capacity(2 * markdown.len());
    let mut worked = false;
    for line in markdown.lines() {
        if line.starts_with("```") {
            worked = line.starts_with("```working");
            out.push_str(if worked { "" } else { line });
        } else if worked && line.contains("= ") {
            out.push_str(&format!("$${}$$\n", latex(line)));
        } else {
            out.push_str(line);
        }
        out.push('\n');
    }
    out
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
            Some((_, sign)) => out += &format!("{} {sign} ", quantity(&operand)),
            None => operand.push(word),
        }
        if signs.iter().any(|(sign, _)| *sign == word) {
            operand.clear();
        }
    }
    out + &quantity(&operand)
}

/// A number with its unit and substance, a name, or one over the other.
fn quantity(words: &[&str]) -> String {
    if let Some(bar) = words.iter().position(|word| *word == "/") {
        let (above, below) = (quantity(&words[..bar]), quantity(&words[bar + 1..]));
        return format!("\\frac{{{above}}}{{{below}}}");
    }
    let word = |word: &&str| {
        let text = word.trim_matches(['(', ')']).replace('%', "\\%");
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

/// HTML with tables and MathML, and nothing else done to it.
pub fn html(markdown: &str) -> String {
    let mut options = comrak::Options::default();
    options.extension.table = true;
    options.extension.math_dollars = true;
    let arena = Arena::new();
    let root = parse_document(&arena, markdown, &options);
    let mut out = String::with_capacity(4 * markdown.len());
    Page::format_document(root, &options, &mut out, Formulas::default()).unwrap();
    out
}
