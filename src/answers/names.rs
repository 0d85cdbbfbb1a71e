//! Everything a substance may be called in an answer, and the ways in which students spell it.

use crate::answers::ions;
use crate::answers::reactant::words;
use crate::answers::vocabulary;
use crate::chem::name;
use crate::lab::Before;
use crate::lab::Lab;
use crate::lab::Substance;

/// The words of everything a reactant may be called, each name once; looked up once for the lab.
pub(super) fn called(lab: &Lab, index: usize) -> &[Vec<String>] {
    lab.substances[index].called.get_or_init(|| {
        let mut names = names_of(lab, index, true);
        if lab.substances[index].reactant {
            let formula = &lab.substances[index].formula;
            let reactants = lab
                .equation
                .reactants
                .iter()
                .map(|species| &species.formula);
            names.extend(ions::names(formula, reactants, lab));
        }
        in_words(&names)
    })
}

/// Names as words, each once.
pub(super) fn in_words(names: &[String]) -> Vec<Vec<String>> {
    let mut called: Vec<Vec<String>> = Vec::new();
    for name in names {
        let name = words(name);
        if !name.is_empty() && !called.contains(&name) {
            called.push(name);
        }
    }
    called
}

/// Everything a substance may be called, but for its ions; with its key or without.
pub(super) fn names_of(lab: &Lab, index: usize, with_key: bool) -> Vec<String> {
    let substance = &lab.substances[index];
    let mut names = vec![
        substance.name.clone(),
        substance.formula.plain().to_owned(),
        substance.formula.pretty(),
    ];
    names.extend(with_key.then(|| substance.key.clone()));
    names.extend(substance.weighed_name.clone());
    let waters = substance.weighed_as.iter().chain([&substance.formula]);
    for formula in waters {
        names.push(formula.plain().to_owned());
        names.push(formula.pretty());
        names.push(formula.waters().0.plain().to_owned());
        // A teacher's own name need not be the one that students know.
        if lab.words.code() != "en" {
            names.extend(name::in_language(formula, &lab.words));
            names.extend(name::of(formula));
        }
    }
    names.extend(on_the_form(lab, substance));
    other_spellings(names, lab)
}

/// What the form calls a reactant where it asks for its reading: “the same boat with blue crystals”.
fn on_the_form(lab: &Lab, substance: &Substance) -> Vec<String> {
    let Some(Before::Measured(written)) = &substance.before else {
        return Vec::new();
    };
    let vocabulary = vocabulary::of(&lab.words);
    let mut names = Vec::new();
    for (reading, _) in written.term.names() {
        let Some((_, asked)) = lab.readings().find(|(_, asked)| asked.name == reading) else {
            continue;
        };
        let label = asked
            .label
            .split([',', ';', '('])
            .next()
            .unwrap_or_default();
        let words: Vec<&str> = label.split_whitespace().collect();
        let of = |list: &[&str], word: &str| list.contains(&word.to_lowercase().as_str());
        let Some(with) = words.iter().rposition(|word| of(vocabulary.with, word)) else {
            continue;
        };
        let content: Vec<&str> = words[with + 1..]
            .iter()
            .copied()
            .skip_while(|word| of(vocabulary.articles, word))
            .collect();
        let bare = |word: &str| {
            let mut cases = vocabulary.cases.iter();
            cases
                .find_map(|case| word.strip_suffix(case))
                .unwrap_or(word)
                .to_owned()
        };
        let alone: Vec<String> = content.iter().map(|word| bare(word)).collect();
        names.push(content.join(" "));
        names.push(alone.join(" "));
        // “die blauen Kristalle”
        if let (Some((_, front)), Some(last)) = (content.split_last(), alone.last()) {
            names.push([front, &[last.as_str()]].concat().join(" "));
        }
    }
    names
}

/// Names, and the other ways in which students write them.
pub(super) fn other_spellings(mut names: Vec<String>, lab: &Lab) -> Vec<String> {
    // Students leave the charge number out, and write sulphate.
    for name in names.clone() {
        if let Some((front, rest)) = name.split_once('(')
            && let Some((_, back)) = rest.split_once(')')
        {
            if back.starts_with(' ') {
                names.push(format!("{front}{back}"));
            } else if let Some(back) = back.strip_prefix('-') {
                names.push(format!("{front}{back}"));
                // `Kupfer-Sulfat`.
                names.push(format!("{front}-{back}"));
            }
        }
    }
    // `Kupfersulfatpentahydrat`.
    for name in names.clone() {
        if let Some((dry, waters)) = name.rsplit_once('-')
            && waters.ends_with("hydrat")
        {
            names.push(format!("{dry}{waters}"));
        }
    }
    // `calciumchloride`.
    for name in names.clone() {
        if name.contains(' ') && name.chars().all(|c| c.is_alphabetic() || c == ' ') {
            names.push(name.replace(' ', ""));
        }
    }
    for (usual, other) in vocabulary::of(&lab.words).spellings {
        for name in names.clone() {
            let name = name.to_lowercase();
            if name.contains(usual) {
                names.push(name.replace(usual, other));
            }
        }
    }
    names
}
