//! Which reactant a student names: by name or formula, with or without its water, and “in excess” turned round.

use crate::lab::Lab;

/// Words for all of them running out together.
const ALL: &[&str] = &["both", "neither", "together", "same"];

/// The reactants a text names, by index into [`Lab::substances`]; empty when it names none.
///
/// `choices` are the reactants that could run out. “zinc is in excess” names the others.
#[must_use]
pub(super) fn named(text: &str, lab: &Lab, choices: &[usize]) -> Vec<usize> {
    let typed = words(text);
    let whole = typed.join(" ");
    let mut found: Vec<usize> = Vec::new();
    let mut in_excess: Vec<usize> = Vec::new();
    let mut spans: Vec<(usize, usize, usize)> = Vec::new();
    for choice in choices {
        for name in names(lab, *choice) {
            let name = words(&name);
            if name.is_empty() {
                continue;
            }
            for start in 0..typed.len().saturating_sub(name.len() - 1) {
                if typed[start..start + name.len()] == name[..] {
                    spans.push((start, start + name.len(), *choice));
                }
            }
        }
    }
    // The longest name at a place counts: “copper sulfate” does not name copper.
    let longest: Vec<(usize, usize, usize)> = spans
        .iter()
        .filter(|(start, end, _)| {
            !spans
                .iter()
                .any(|(s, e, _)| s <= start && end <= e && (e - s) > (end - start))
        })
        .copied()
        .collect();
    for (start, end, choice) in longest {
        // Only the clause counts: in “zinc is in excess, so copper sulfate …” the salt is not the one in excess.
        let joins =
            |word: &&String| ["|", "so", "and", "but", "because", "then"].contains(&word.as_str());
        let before = typed[..start]
            .iter()
            .rev()
            .take_while(|word| !joins(word))
            .take(2);
        let behind = typed[end..].iter().take_while(|word| !joins(word)).take(4);
        let excess = before
            .into_iter()
            .any(|word| ["excess", "not"].contains(&word.as_str()))
            || behind.into_iter().any(|word| {
                ["excess", "left", "leftover", "remains", "not"].contains(&word.as_str())
            });
        let list = if excess { &mut in_excess } else { &mut found };
        if !list.contains(&choice) {
            list.push(choice);
        }
    }
    if found.is_empty() && !in_excess.is_empty() {
        found = choices
            .iter()
            .copied()
            .filter(|choice| !in_excess.contains(choice))
            .collect();
    }
    if found.is_empty()
        && ALL
            .iter()
            .any(|word| whole.split(' ').any(|typed| typed == *word))
    {
        found = choices.to_vec();
    }
    found.sort_unstable();
    found
}

/// Everything a reactant may be called.
fn names(lab: &Lab, index: usize) -> Vec<String> {
    let substance = &lab.substances[index];
    let mut names = vec![
        substance.name.clone(),
        substance.key.clone(),
        substance.formula.plain().to_owned(),
        substance.formula.pretty(),
    ];
    names.extend(substance.weighed_name.clone());
    let waters = substance.weighed_as.iter().chain([&substance.formula]);
    for formula in waters {
        names.push(formula.plain().to_owned());
        names.push(formula.pretty());
        names.push(formula.waters().0.plain().to_owned());
    }
    // Students leave the charge number out, and write sulphate.
    for name in names.clone() {
        if let Some((front, rest)) = name.split_once('(')
            && let Some((_, back)) = rest.split_once(')')
            && back.starts_with(' ')
        {
            names.push(format!("{front}{back}"));
        }
    }
    for name in names.clone() {
        if name.contains("sulf") {
            names.push(name.replace("sulf", "sulph"));
        }
        if name.contains("aluminium") {
            names.push(name.replace("aluminium", "aluminum"));
        }
    }
    names
}

/// A text as lower-case words of letters and digits, with `|` where a clause ends. Dots, stars and brackets inside a name part
/// words, in names and formulas alike.
fn words(text: &str) -> Vec<String> {
    let mut plain = String::new();
    let mut characters = text.chars().peekable();
    while let Some(c) = characters.next() {
        let ends = characters.peek().is_none_or(|next| next.is_whitespace());
        match c {
            '₀'..='₉' => plain.extend(char::from_digit(c as u32 - '₀' as u32, 10)),
            ',' | ';' | '–' | '—' | '>' | '<' => plain.push_str(" | "),
            '.' if ends => plain.push_str(" | "),
            '(' if plain.ends_with(' ') && !is_number(&characters) => plain.push_str("| "),
            c if c.is_alphanumeric() => plain.push(c),
            _ => plain.push(' '),
        }
    }
    let words = plain.to_lowercase();
    words.split_whitespace().map(str::to_owned).collect()
}

/// Whether a bracket just opened holds a Roman number: `copper (II) sulfate`.
fn is_number(behind: &std::iter::Peekable<std::str::Chars<'_>>) -> bool {
    let inner: String = behind.clone().take_while(|c| *c != ')').collect();
    !inner.is_empty()
        && inner
            .chars()
            .all(|c| matches!(c, 'I' | 'V' | 'X' | 'i' | 'v' | 'x'))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::problem::Source;

    fn zinc() -> Lab {
        let text = crate::lab::builtin::find("zinc-copper-sulfate").unwrap();
        let source = Source {
            name: "lab".into(),
            text: text.into(),
        };
        crate::lab::check::check(&source).0.unwrap()
    }

    #[test]
    fn a_reactant_is_known_by_name_formula_water_and_excess() {
        let lab = zinc();
        let index = |key: &str| lab.substances.iter().position(|s| s.key == key).unwrap();
        let (zinc, salt) = (index("zinc"), index("salt"));
        for (typed, expected) in [
            ("copper(II) sulfate", vec![salt]),
            ("copper (II) sulfate", vec![salt]),
            ("copper sulphate", vec![salt]),
            ("CuSO4", vec![salt]),
            ("CuSO₄", vec![salt]),
            ("cuso4", vec![salt]),
            ("CuSO4(aq)", vec![salt]),
            ("CuSO4·5H2O", vec![salt]),
            ("CuSO4.5H2O", vec![salt]),
            ("CuSO4*5H2O", vec![salt]),
            ("copper(II) sulfate pentahydrate", vec![salt]),
            ("the salt", vec![salt]),
            ("Zn", vec![zinc]),
            ("ZINC", vec![zinc]),
            ("zinc strip", vec![zinc]),
            ("zinc is in excess", vec![salt]),
            ("excess zinc", vec![salt]),
            ("zinc is in excess so copper sulfate runs out", vec![salt]),
            ("CuSO4, because zinc is left over", vec![salt]),
            ("both", vec![zinc, salt]),
            ("zinc and copper sulfate", vec![zinc, salt]),
            ("copper", vec![]),
            ("don't know", vec![]),
            ("CuSO4, Zn is in excess", vec![salt]),
            ("CuSO4 (zinc in excess)", vec![salt]),
            ("There is excess zinc, copper sulfate limits", vec![salt]),
            ("copper sulfate, zinc was left over", vec![salt]),
            ("Zn is excess, CuSO4 is limiting", vec![salt]),
            ("copper(II) sulfate ran out (zinc left over)", vec![salt]),
            ("zinc does not run out, copper sulfate does", vec![salt]),
            ("Zinc is not the limiting reactant", vec![salt]),
            ("CuSO4 limits; none left, zinc 2.78 g left", vec![salt]),
            ("none", vec![]),
        ] {
            let mut expected = expected;
            expected.sort_unstable();
            assert_eq!(named(typed, &lab, &[zinc, salt]), expected, "{typed}");
        }
    }
}
