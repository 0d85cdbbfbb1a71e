//! Worked lines as MathML Core: upright units and substances, cancelled units struck out, the answer bold.

use super::escape::html;
use crate::report::math::Chain;
use crate::report::math::Math;

/// A chain as one display formula, aligned at the equals signs.
pub(super) fn chain(chain: &Chain) -> String {
    let mut out =
        String::from("<math display=\"block\"><mtable class=\"chain\" displaystyle=\"true\">");
    for (place, right) in chain.right.iter().enumerate() {
        out.push_str("<mtr><mtd>");
        if place == 0 {
            write(&chain.left, &mut out);
        }
        out.push_str("</mtd><mtd><mo>=</mo></mtd><mtd>");
        write(right, &mut out);
        out.push_str("</mtd></mtr>");
    }
    out.push_str("</mtable></math>");
    out
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
            out.push_str("<mrow><mi>");
            out.push_str(&html(letter));
            out.push_str("</mi>");
            let inside: Vec<&str> = of.iter().chain(index).map(String::as_str).collect();
            if !inside.is_empty() {
                out.push_str(&format!(
                    "<mo form=\"prefix\" stretchy=\"false\">(</mo><mi mathvariant=\"normal\">{}</mi><mo form=\"postfix\" stretchy=\"false\">)</mo>",
                    html(&inside.join(", "))
                ));
            }
            out.push_str("</mrow>");
        }
        Math::Number(number) => {
            let number = html(number);
            // A minus of its own keeps the sign close to the digits.
            match number.strip_prefix('−') {
                Some(rest) => out.push_str(&format!(
                    "<mrow><mo form=\"prefix\">−</mo><mn>{rest}</mn></mrow>"
                )),
                None => out.push_str(&format!("<mn>{number}</mn>")),
            }
        }
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
            let class = if *struck { " class=\"cx\"" } else { "" };
            let mut text = html(unit);
            if !substance.is_empty() {
                text.push('\u{a0}');
                text.push_str(&html(substance));
            }
            out.push_str(&format!(
                "<mtext>\u{a0}</mtext><mrow{class}><mi mathvariant=\"normal\">{text}</mi></mrow>"
            ));
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
        Math::Operator(sign) => {
            out.push_str(&format!("<mo form=\"infix\">{}</mo>", html(sign)));
        }
        Math::Brackets(inner) => {
            // A fraction needs no bracket in two dimensions.
            if matches!(**inner, Math::Fraction(..)) {
                return write(inner, out);
            }
            out.push_str("<mrow><mo form=\"prefix\">(</mo>");
            write(inner, out);
            out.push_str("<mo form=\"postfix\">)</mo></mrow>");
        }
        Math::Words(words) => {
            out.push_str(&format!("<mi mathvariant=\"normal\">{}</mi>", html(words)));
        }
    }
}
