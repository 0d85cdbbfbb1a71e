//! What a German class is told about a box that cannot be read: every fault once, and what works in its place.

#![allow(clippy::unwrap_used, reason = "a test stops at what it cannot use")]

use std::fs;

use gramleaf::lab;
use gramleaf::measure::Typed;
use gramleaf::measure::Unit;
use gramleaf::measure::foreign;
use gramleaf::measure::typed;
use gramleaf::problem::Source;
use gramleaf::words::Words;

/// What is typed, the fault, and the next step. That `1,525` may be thousands is no fault where the comma is the decimal mark.
const FAULTS: &[(&str, &str, &str)] = &[
    (
        "inf g",
        "„inf g“ ist keine Zahl, die ein Gerät anzeigen kann",
        "schreibt den Messwert oder ein Wort wie verloren",
    ),
    (
        "schwer",
        "in „schwer“ steht keine Zahl",
        "schreibt den Messwert mit seiner Einheit oder eins davon: verloren, verschüttet, fehlt, ?",
    ),
    (
        "10.2.2026",
        "„10.2.2026“ sieht nach einem Datum aus, nicht nach einem Messwert",
        "schreibt, was das Gerät anzeigt, zum Beispiel 104,18 g",
    ),
    (
        "14:10",
        "„14:10“ sieht nach einer Uhrzeit aus, nicht nach einem Messwert",
        "schreibt zuerst den Messwert: 105,70 g um 14:10",
    ),
    (
        "g 104,18",
        "am Anfang muss eine Zahl stehen",
        "schreibt die Zahl, dann die Einheit; Bemerkungen kommen in Klammern dahinter",
    ),
    (
        "1O4,18 g",
        "zwischen den Ziffern steht der Buchstabe O",
        "schreibt dafür die Ziffer Null",
    ),
    (
        "1O,18 g",
        "zwischen den Ziffern steht der Buchstabe O",
        "schreibt dafür die Ziffer Null",
    ),
    (
        "1I,18 g",
        "zwischen den Ziffern steht der Buchstabe I",
        "schreibt dafür die Ziffer Eins",
    ),
    (
        "12,345,67",
        "„12,345,67“ lässt sich auf zwei Arten lesen",
        "schreibt nur ein Komma, vor die Nachkommastellen, und nichts zwischen die Tausender",
    ),
    (
        "1,2.3.4",
        "in „1,2.3.4“ steht mehr als ein Komma oder Punkt",
        "schreibt eine einzige Zahl, zum Beispiel 104,18 g",
    ),
    (
        "1 234 g",
        "„1 234“ lässt sich auf zwei Arten lesen",
        "schreibt eine einzige Zahl, ohne Leerzeichen, Punkte oder Kommas zwischen den Tausendern",
    ),
    (
        "105,70 g 105,68 g",
        "hier steht mehr als eine Zahl",
        "lasst einen Messwert stehen; was vorher dastand, kommt in Klammern: 105,68 g (war 106,58)",
    ),
    (
        "105,70 105,68",
        "hier steht mehr als eine Zahl",
        "lasst einen Messwert stehen; was vorher dastand, kommt in Klammern: 105,68 g (war 106,58)",
    ),
    (
        "8,47 - 2,45",
        "hier steht mehr als eine Zahl",
        "lasst einen Messwert stehen; was vorher dastand, kommt in Klammern: 105,68 g (war 106,58)",
    ),
    (
        "12,3 g (Tiegel) mL",
        "hier stehen zwei Einheiten",
        "lasst nur eine stehen",
    ),
    (
        "12,3 ± g",
        "hinter dem ± muss eine positive Zahl stehen",
        "schreibt es so: 12,270 ± 0,005 g",
    ),
    (
        "12,3(5) ± 1 g",
        "die Unsicherheit des Messwerts ist zweimal angegeben",
        "schreibt es so: 12,270 ± 0,005 g",
    ),
    (
        "12,3 g ± 1 %",
        "die Unsicherheit hat eine andere Einheit als der Messwert",
        "schreibt es so: 12,270 ± 0,005 g",
    ),
    (
        "2x10^",
        "die Zehnerpotenz ist nicht vollständig",
        "schreibt sie so: 2,41x10^-2 oder 2,41e-2",
    ),
    (
        "12(1.2.3) g",
        "das ist keine Zahl",
        "schreibt den Messwert, zum Beispiel 104,18 g",
    ),
    (
        "9999999999999999999999999",
        "die Zahl hat mehr Ziffern, als irgendein Gerät anzeigt",
        "schreibt die Ziffern, die das Gerät anzeigt",
    ),
    (
        "1e999",
        "die Zehnerpotenz ist größer als alles, was in einem Labor vorkommt",
        "seht euch die Zehnerpotenz noch einmal an",
    ),
    (
        "4,36 gramtz",
        "„gramtz“ ist keine Einheit",
        "meintet ihr `g`? Setzt Bemerkungen in Klammern",
    ),
    (
        "4,36 Unzen",
        "„Unzen“ ist keine Einheit",
        "schreibt eine Einheit wie g, mL, mol oder °C; setzt Bemerkungen in Klammern",
    ),
    (
        "14,7 psi",
        "„psi“ ist keine Einheit",
        "nehmt die Zahl mal 6,89476 und schreibt das Ergebnis in kPa",
    ),
];

/// What the next steps give as examples.
const EXAMPLES: &[&str] = &[
    "104,18 g",
    "105,70 g um 14:10",
    "105,68 g (war 106,58)",
    "12,270 ± 0,005 g",
    "2,41x10^-2",
    "2,41e-2",
    "verloren",
    "verschüttet",
    "fehlt",
    "?",
];

#[test]
fn every_fault_is_said_in_german() {
    let german = Words::of("de").unwrap();
    for (text, message, help) in FAULTS {
        let error = typed::parse_with(text, None, &german).unwrap_err();
        assert_eq!(error.message, *message, "{text}");
        assert_eq!(error.help, *help, "{text}");
        assert!(text.get(error.span).is_some(), "{text}");
    }
}

#[test]
fn what_a_next_step_shows_is_read() {
    let german = Words::of("de").unwrap();
    for example in EXAMPLES {
        assert!(
            FAULTS.iter().any(|(_, _, help)| help.contains(example)),
            "{example} is shown by none"
        );
        let read = typed::parse_with(example, None, &german);
        let number = example.contains(',');
        assert!(
            matches!(read, Ok(Typed::Value(_))) == number
                && matches!(read, Ok(Typed::Missing(_))) != number,
            "{example}: {read:?}"
        );
    }
}

#[test]
fn units_not_used_here_are_converted_as_in_english() {
    let german = Words::of("de").unwrap();
    let numbers = |text: &str| -> Vec<String> {
        let words = text.split_whitespace();
        let words = words.map(|word| word.trim_end_matches(','));
        let digits = words.filter(|word| word.starts_with(|c: char| c.is_ascii_digit()));
        digits.map(str::to_owned).collect()
    };
    for english in foreign::all() {
        let own = german.say(english);
        assert_eq!(numbers(own), numbers(&german.number(english)), "{own}");
        let unit = |text: &str| text.split_whitespace().find_map(Unit::parse);
        assert_eq!(unit(own), unit(english), "{own}");
    }
}

#[test]
fn a_plain_number_has_no_symbol_for_a_sentence() {
    let german = Words::of("de").unwrap();
    assert_eq!(Unit::One.said(&german), "eine reine Zahl");
    assert_eq!(Unit::Gram.said(&german), "g");
    assert_eq!(Unit::One.said(&Words::english()), Unit::One.in_words());
}

/// What a lab description gives is read as the readings of its language are, and a value that cannot be read is told once.
#[test]
fn a_comma_of_a_german_lab_is_a_decimal_mark() {
    let text = fs::read_to_string("samples/marble-and-acid/lab.toml").unwrap();
    let check = |from: &str, given: &str, german: bool| {
        let language = if german {
            "\nlanguage = \"de\"\nid "
        } else {
            "\nid "
        };
        let text = text.replacen("\nid ", language, 1);
        assert!(text.contains(from), "{from}");
        let text = text.replacen(from, given, 1);
        let name = "lab.toml".to_owned();
        lab::check::check(&Source { name, text })
    };
    let (lab, problems) = check("\"2.00 M\"", "\"1,000 ± 0,005 mol/L\"", true);
    assert!(problems.is_empty(), "{problems:?}");
    let given = &lab.unwrap().givens[0].value;
    assert_eq!(given.to_string(), "1.000 ± 0.005 mol/L");
    let (lab, problems) = check("\"0.01 g\"", "\"0,001 g\"", true);
    assert!(problems.is_empty(), "{problems:?}");
    let readability = lab.unwrap().instruments[0].readability.unwrap();
    assert_eq!(readability.to_string(), "0.001");
    for (given, german) in [("\"1,000 mol/L\"", false), ("\"strong\"", true)] {
        let (lab, problems) = check("\"2.00 M\"", given, german);
        assert!(
            lab.is_none() && problems.len() == 1,
            "{given}: {problems:?}"
        );
    }
}
