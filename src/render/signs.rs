//! Stars that mean times and tildes that mean about, told from those that Markdown would read.

/// The longest subscript, in characters.
const LONGEST: usize = 10;

/// The places of all stars that are signs of products.
pub(super) fn products(source: &str) -> Vec<usize> {
    let stars = source.match_indices('*').map(|(at, _)| at);
    stars.filter(|at| is_product(source, *at)).collect()
}

/// Whether the star at a place means times, alone or in a run (`10**3`): what can be multiplied stands directly on both of its
/// sides, or, with a blank on one side, a number on both.
pub(super) fn is_product(source: &str, at: usize) -> bool {
    if source.as_bytes().get(at) != Some(&b'*') {
        return false;
    }
    // A run is judged as one, also where some of it is escaped already.
    let before = source[..at].trim_end_matches(['*', '\\']);
    let behind = source[at..].trim_start_matches(['*', '\\']);
    if ends_factor(before) && begins_factor(behind) {
        return true;
    }
    let (left, right) = (
        before.trim_end_matches([' ', '\t']),
        behind.trim_start_matches([' ', '\t']),
    );
    // With blanks on both sides it is never read as anything else.
    let one_side = (left.len() < before.len()) != (right.len() < behind.len());
    one_side && left.ends_with(char::is_numeric) && right.starts_with(char::is_numeric)
}

fn ends_factor(before: &str) -> bool {
    before.ends_with(|c: char| c.is_alphanumeric() || matches!(c, ')' | ']' | '%' | '°'))
}

fn begins_factor(behind: &str) -> bool {
    let mut rest = behind.chars();
    match rest.next() {
        Some('(' | '[') => true,
        Some('.' | ',' | '-' | '+' | '−') => rest.next().is_some_and(char::is_numeric),
        Some(c) => c.is_alphanumeric(),
        None => false,
    }
}

/// Of the tildes of a text that would be read, those that are not part of a subscript as `H~2~O` has one: a short run of
/// letters and digits right behind a letter or a bracket. A single tilde is read as nothing.
pub(super) fn not_of_subscripts(source: &str, tildes: &[usize]) -> Vec<usize> {
    if tildes.len() < 2 {
        return Vec::new();
    }
    let mut others = Vec::new();
    let mut place = 0;
    while let Some(at) = tildes.get(place) {
        let closes = tildes.get(place + 1).filter(|end| {
            let below = &source[at + 1..**end];
            let follows_a_symbol =
                source[..*at].ends_with(|c: char| c.is_alphabetic() || matches!(c, ')' | ']'));
            follows_a_symbol
                && !below.is_empty()
                && below.chars().count() <= LONGEST
                && below.chars().all(char::is_alphanumeric)
        });
        if closes.is_some() {
            place += 2;
        } else {
            others.push(*at);
            place += 1;
        }
    }
    others
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::render::page;
    use crate::render::prose;

    proptest! {
        #[test]
        fn calculations_come_out_as_typed(pieces in prop::collection::vec(
            prop::sample::select(vec![
                "1.5", "2", "m", "(3+4)", "(m)", "%", "*", "*", "**", "_", "~5", "~", "/", " + ", " = ", " ", "a b", "\\",
            ]),
            1..16,
        )) {
            // Each piece behind a number or a symbol, so that no star stands where only emphasis can.
            let typed: String = pieces.iter().map(|piece| format!("x{piece}2")).collect();
            let safe = prose::safe(&typed);
            let page = comrak::markdown_to_html(&safe, &page::options());
            let bare = page.trim().trim_start_matches("<p>").trim_end_matches("</p>");
            let typed = typed.replace("\\*", "*").replace("\\~", "~").replace("\\_", "_");
            let subscripts = bare.matches("<sub>").count();
            let shown = bare.replace("<sub>", "~").replace("</sub>", "~");
            prop_assert_eq!(&shown, &typed);
            for below in bare.split("<sub>").skip(1) {
                let below = below.split("</sub>").next().unwrap_or_default();
                prop_assert!(below.chars().all(char::is_alphanumeric), "{} {}", subscripts, page);
            }
        }
    }

    #[test]
    fn a_star_between_factors_means_times() {
        for (text, expected) in [
            ("2*3", true),
            ("m*g", true),
            ("2**3", true),
            ("(3)*(4)", true),
            ("50%*.5", true),
            ("2*−3", true),
            ("3 *4", true),
            ("3* 4", true),
            ("3 * 4", false),
            ("3\n*4", false),
            ("a *b", false),
            ("was* 3", false),
            ("(*b", false),
            ("b*.", false),
            ("b*-", false),
            ("*b", false),
        ] {
            let at = text.find('*').unwrap_or_default();
            assert_eq!(is_product(text, at), expected, "{text:?}");
            assert_eq!(!products(text).is_empty(), expected, "{text:?}");
        }
        assert!(!is_product("a", 0));
        assert!(!is_product("a", 7));
    }

    #[test]
    fn a_tilde_belongs_to_a_subscript_only_behind_a_symbol() {
        for (text, expected) in [
            ("H~2~O", vec![]),
            ("Fe~2~O~3~", vec![]),
            ("Cu(OH)~2~", vec![]),
            ("~5 g", vec![]),
            ("~5 g H~2~O", vec![0]),
            ("5~6~7", vec![1, 3]),
            ("a~b c~d", vec![1, 5]),
            ("a~~b", vec![1, 2]),
            ("a~muchtoolongforit~", vec![1, 18]),
        ] {
            let tildes: Vec<usize> = text.match_indices('~').map(|(at, _)| at).collect();
            assert_eq!(not_of_subscripts(text, &tildes), expected, "{text}");
        }
    }
}
