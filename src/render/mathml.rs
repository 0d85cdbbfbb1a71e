//! Worked lines as MathML Core: upright units and substances, cancelled units struck out, the answer bold.

use super::escape::html;
use crate::report::math::Chain;
use crate::report::math::Math;

/// Chains as display formulas, each aligned at its equals signs.
pub(super) fn chains(chains: &[Chain]) -> String {
    let mut out = String::with_capacity(2048 * chains.len());
    for one in chains {
        chain(one, &mut out);
    }
    out
}

fn chain(chain: &Chain, out: &mut String) {
    out.push_str("<math display=\"block\"><mtable class=\"chain\" displaystyle=\"true\">");
    for (place, right) in chain.right.iter().enumerate() {
        out.push_str("<mtr><mtd>");
        if place == 0 {
            write(&chain.left, out);
        }
        out.push_str("</mtd><mtd><mo>=</mo></mtd><mtd>");
        write(right, out);
        out.push_str("</mtd></mtr>");
    }
    out.push_str("</mtable></math>");
}

fn write(math: &Math, out: &mut String) {
    match math {
        Math::Row(parts) => {
            out.push_str("<mrow>");
            for part in parts {
                write(part, out);
            }
            out.push_str("</mrow>");
        }
        Math::Symbol { letter, of, index } => {
            element("<mrow><mi>", letter, "</mi>", out);
            let mut between =
                "<mo form=\"prefix\" stretchy=\"false\">(</mo><mi mathvariant=\"normal\">";
            for inside in of.iter().chain(index) {
                out.push_str(between);
                out.push_str(&html(inside));
                between = ", ";
            }
            if of.is_some() || index.is_some() {
                out.push_str("</mi><mo form=\"postfix\" stretchy=\"false\">)</mo>");
            }
            out.push_str("</mrow>");
        }
        // A minus of its own keeps the sign close to the digits.
        Math::Number(number) => match number.strip_prefix('−') {
            Some(rest) => element(
                "<mrow><mo form=\"prefix\">−</mo><mn>",
                rest,
                "</mn></mrow>",
                out,
            ),
            None => element("<mn>", number, "</mn>", out),
        },
        Math::Answer(inner) => {
            out.push_str("<mrow class=\"answer\">");
            write(inner, out);
            out.push_str("</mrow>");
        }
        Math::Unit {
            unit,
            substance,
            struck,
        } => {
            out.push_str(if *struck {
                "<mtext>\u{a0}</mtext><mrow class=\"cx\"><mi mathvariant=\"normal\">"
            } else {
                "<mtext>\u{a0}</mtext><mrow><mi mathvariant=\"normal\">"
            });
            out.push_str(&html(unit));
            if !substance.is_empty() {
                element("\u{a0}", substance, "", out);
            }
            out.push_str("</mi></mrow>");
        }
        Math::Fraction(above, below) => {
            out.push_str("<mfrac><mrow>");
            write(above, out);
            out.push_str("</mrow><mrow>");
            write(below, out);
            out.push_str("</mrow></mfrac>");
        }
        Math::Operator("→") => out.push_str(
            "<mspace width=\"0.6em\"></mspace><mo>→</mo><mspace width=\"0.6em\"></mspace>",
        ),
        // The form is said, since text around an operator counts as space when the form is guessed.
        Math::Operator(sign) => element("<mo form=\"infix\">", sign, "</mo>", out),
        Math::Brackets(inner) => {
            // A fraction needs no bracket in two dimensions.
            if matches!(**inner, Math::Fraction(..)) {
                return write(inner, out);
            }
            out.push_str("<mrow><mo form=\"prefix\">(</mo>");
            write(inner, out);
            out.push_str("<mo form=\"postfix\">)</mo></mrow>");
        }
        Math::Words(words) => element("<mi mathvariant=\"normal\">", words, "</mi>", out),
    }
}

/// Text between its tags.
fn element(before: &str, text: &str, behind: &str, out: &mut String) {
    out.push_str(before);
    out.push_str(&html(text));
    out.push_str(behind);
}
