//! Chemical formulas: groups, nested brackets, hydrate dots, states, charges.

use crate::chem::Element;
use crate::chem::ending;
use crate::chem::reader;
use crate::chem::spelling;
use crate::problem::Span;

/// A chemical formula.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Formula {
    /// as written, normalised: `CuSO4·5H2O`
    text: String,
    atoms: Vec<(Element, u32)>,
    charge: i32,
    state: Option<State>,
    /// Whether it ends in `·xH2O`, waters whose number is to be found; `atoms` are then those of the rest.
    open_waters: bool,
}

/// The state of a species, in brackets behind its formula.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum State {
    /// (s)
    Solid,
    /// (l)
    Liquid,
    /// (g)
    Gas,
    /// (aq)
    Aqueous,
}

/// Why a text is no formula.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FormulaError {
    /// One plain sentence, naming the offending symbol.
    pub message: String,
    /// Bytes of the text given.
    pub span: Span,
    /// A next step, such as a spelling that would do.
    pub help: Option<String>,
}

/// The longest text read as a formula, in bytes.
const LONGEST: usize = 500;

impl State {
    /// As written behind a formula: `(aq)`.
    #[must_use]
    pub const fn mark(self) -> &'static str {
        match self {
            Self::Solid => "(s)",
            Self::Liquid => "(l)",
            Self::Gas => "(g)",
            Self::Aqueous => "(aq)",
        }
    }
}

impl Formula {
    /// Reads `Zn`, `CuSO4·5H2O` (dot as `·`, `.`, `*`), `Ca3(PO4)2`, `[Cu(NH3)4]^2+`, `e-`, with Unicode subscripts too.
    ///
    /// # Errors
    /// When the text is no formula.
    pub fn parse(text: &str) -> Result<Self, FormulaError> {
        let body_start = text.len() - text.trim_start().len();
        let end = text.trim_end().len();
        if body_start >= end {
            let message = "There is no formula here.";
            return Err(
                FormulaError::new(message, 0..text.len()).help("Write one, such as `CuSO4`.")
            );
        }
        if end - body_start > LONGEST {
            let message = format!("This formula is longer than {LONGEST} characters.");
            return Err(FormulaError::new(message, body_start..end));
        }
        let (state_start, state) = ending::split_state(text, body_start..end)?;
        let (body_end, charge) = ending::split_charge(text, body_start..state_start)?;
        let body = body_start..body_start + text[body_start..body_end].trim_end().len();
        if &text[body.clone()] == "e" && charge == -1 {
            return Ok(Self {
                text: "e^-".into(),
                atoms: Vec::new(),
                charge,
                state,
                open_waters: false,
            });
        }
        let known = body.start..body.start + without_open_waters(&text[body.clone()]).len();
        let open_waters = known != body;
        let body = known;
        let read = reader::read_body(text, body.clone())
            .map_err(|error| spelling::advise(error, text, body.clone()))?;
        let open = if open_waters { OPEN_WATERS } else { "" };
        let place = body.start..body_end;
        let text = read.text + open + &charge_text(charge);
        let formula = Self {
            text,
            atoms: read.atoms,
            charge,
            state,
            open_waters,
        };
        if open_waters && formula.waters().1 > 0 {
            let message = "Its waters stand here twice, with a number and as x.";
            return Err(FormulaError::new(message, place)
                .help("Write all of them as `·xH2O`, or all with their number."));
        }
        Ok(formula)
    }

    /// Atoms in order of first appearance, counts summed over the whole formula.
    #[must_use]
    pub fn atoms(&self) -> &[(Element, u32)] {
        &self.atoms
    }

    /// How many atoms of an element the whole formula holds.
    #[must_use]
    pub fn count(&self, element: Element) -> u32 {
        self.atoms
            .iter()
            .find(|(own, _)| *own == element)
            .map_or(0, |(_, count)| *count)
    }

    /// Charge number.
    #[must_use]
    pub const fn charge(&self) -> i32 {
        self.charge
    }

    /// The state written, if any.
    #[must_use]
    pub const fn state(&self) -> Option<State> {
        self.state
    }

    /// Whether it holds waters of crystallisation whose number is to be found, `·xH2O`. It has no molar mass then.
    #[must_use]
    pub const fn open_waters(&self) -> bool {
        self.open_waters
    }

    /// The formula without its waters of crystallisation and their number: `CuSO4` and 5; 0 for an anhydrous one, and where the
    /// number is to be found.
    #[must_use]
    pub fn waters(&self) -> (Self, u32) {
        let charge = charge_text(self.charge);
        let mut body = self
            .text
            .strip_suffix(charge.as_str())
            .unwrap_or(&self.text);
        body = body.strip_suffix(OPEN_WATERS).unwrap_or(body);
        let mut waters = 0;
        while let Some((before, part)) = body.rsplit_once('·') {
            let Some(number) = part.strip_suffix("H2O") else {
                break;
            };
            let Ok(number) = (if number.is_empty() {
                Ok(1)
            } else {
                number.parse::<u32>()
            }) else {
                break;
            };
            waters += number;
            body = before;
        }
        let mut rest = self.clone();
        rest.text = format!("{body}{charge}");
        rest.open_waters = false;
        for (element, count) in &mut rest.atoms {
            *count -= match element.symbol() {
                "H" => 2 * waters,
                "O" => waters,
                _ => 0,
            };
        }
        rest.atoms.retain(|(_, count)| *count > 0);
        (rest, waters)
    }

    /// Same atoms and charge, whatever the state and the way of writing.
    #[must_use]
    pub fn same_substance(&self, other: &Self) -> bool {
        self.charge == other.charge
            && self.open_waters == other.open_waters
            && self.atoms.len() == other.atoms.len()
            && self
                .atoms
                .iter()
                .all(|(element, count)| other.count(*element) == *count)
    }

    /// Plain ASCII with `·`: `CuSO4·5H2O`; no state.
    #[must_use]
    pub fn plain(&self) -> &str {
        &self.text
    }

    /// [`Self::plain`] with the state behind it: `CuSO4(aq)`.
    #[must_use]
    pub fn plain_with_state(&self) -> String {
        format!("{}{}", self.text, self.state.map_or("", State::mark))
    }

    /// With Unicode subscripts and superscripts: `CuSO₄·5H₂O`, `SO₄²⁻`; no state.
    #[must_use]
    pub fn pretty(&self) -> String {
        let mut pretty = String::with_capacity(self.text.len() * 2);
        let mut raised = false;
        let mut part_start = false;
        for c in self.text.chars() {
            match c {
                '^' => raised = true,
                '0'..='9' if raised => pretty.push(superscript_digit(c)),
                '+' => pretty.push('⁺'),
                '-' => pretty.push('⁻'),
                '0'..='9' if part_start => pretty.push(c),
                '0'..='9' => pretty.push(subscript_digit(c)),
                other => pretty.push(other),
            }
            part_start = c == '·' || (part_start && c.is_ascii_digit());
        }
        pretty
    }

    /// [`Self::pretty`] with the state behind it: `CuSO₄(aq)`.
    #[must_use]
    pub fn pretty_with_state(&self) -> String {
        self.pretty() + self.state.map_or("", State::mark)
    }
}

impl FormulaError {
    /// A fault at a place, without a next step.
    pub(super) fn new(message: impl Into<String>, span: Span) -> Self {
        Self {
            message: message.into(),
            span,
            help: None,
        }
    }

    /// The fault with its next step.
    pub(super) fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }
}

/// Waters whose number is to be found.
const OPEN_WATERS: &str = "·xH2O";

/// The text before `·xH2O` or `·nH2O`, however the dot and the 2 are written; all of it where there is none.
fn without_open_waters(body: &str) -> &str {
    let water = ["H2O", "H₂O"]
        .iter()
        .find_map(|water| body.strip_suffix(water));
    let letter = water.and_then(|rest| rest.trim_end().strip_suffix(['x', 'n']));
    let dot = letter.and_then(|rest| rest.trim_end().strip_suffix(reader::is_dot));
    let salt = dot.map(str::trim_end).filter(|salt| !salt.is_empty());
    salt.unwrap_or(body)
}

/// `^2+`, `^-`; nothing for no charge.
fn charge_text(charge: i32) -> String {
    let sign = if charge < 0 { '-' } else { '+' };
    match charge.unsigned_abs() {
        0 => String::new(),
        1 => format!("^{sign}"),
        number => format!("^{number}{sign}"),
    }
}

/// `₄` for `4`.
fn subscript_digit(digit: char) -> char {
    char::from_u32(u32::from('₀') + digit.to_digit(10).unwrap_or(0)).unwrap_or(digit)
}

/// `⁴` for `4`.
fn superscript_digit(digit: char) -> char {
    match digit {
        '1' => '¹',
        '2' => '²',
        '3' => '³',
        _ => char::from_u32(u32::from('⁰') + digit.to_digit(10).unwrap_or(0)).unwrap_or(digit),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn parse(text: &str) -> Formula {
        Formula::parse(text).unwrap_or_else(|error| panic!("{text}: {error:?}"))
    }

    /// Atoms in one word: `Cu1 S1 O4`.
    fn atoms(formula: &Formula) -> String {
        let atoms: Vec<String> = formula
            .atoms()
            .iter()
            .map(|(element, count)| format!("{}{count}", element.symbol()))
            .collect();
        atoms.join(" ")
    }

    #[test]
    fn ways_of_writing() {
        for (typed, plain, pretty, counted, charge) in [
            ("Zn", "Zn", "Zn", "Zn1", 0),
            ("CuSO4.5H2O", "CuSO4·5H2O", "CuSO₄·5H₂O", "Cu1 S1 O9 H10", 0),
            ("CuSO4*5H2O", "CuSO4·5H2O", "CuSO₄·5H₂O", "Cu1 S1 O9 H10", 0),
            (
                "CuSO4 • 5 H2O",
                "CuSO4·5H2O",
                "CuSO₄·5H₂O",
                "Cu1 S1 O9 H10",
                0,
            ),
            ("CuSO₄⋅5H₂O", "CuSO4·5H2O", "CuSO₄·5H₂O", "Cu1 S1 O9 H10", 0),
            (
                "KAl(SO4)2∙12H2O",
                "KAl(SO4)2·12H2O",
                "KAl(SO₄)₂·12H₂O",
                "K1 Al1 S2 O20 H24",
                0,
            ),
            ("CuSO_4", "CuSO4", "CuSO₄", "Cu1 S1 O4", 0),
            (
                "C_{12}H_{22}O_{11}",
                "C12H22O11",
                "C₁₂H₂₂O₁₁",
                "C12 H22 O11",
                0,
            ),
            ("Ca3(PO4)2", "Ca3(PO4)2", "Ca₃(PO₄)₂", "Ca3 P2 O8", 0),
            (
                "K4[Fe(CN)6]·3H2O",
                "K4[Fe(CN)6]·3H2O",
                "K₄[Fe(CN)₆]·3H₂O",
                "K4 Fe1 C6 N6 H6 O3",
                0,
            ),
            (
                "[Cu(NH3)4]^2+",
                "[Cu(NH3)4]^2+",
                "[Cu(NH₃)₄]²⁺",
                "Cu1 N4 H12",
                2,
            ),
            (
                "[Cu(NH3)4]2+",
                "[Cu(NH3)4]^2+",
                "[Cu(NH₃)₄]²⁺",
                "Cu1 N4 H12",
                2,
            ),
            (
                "{[Cr(NH3)6]}Cl3",
                "{[Cr(NH3)6]}Cl3",
                "{[Cr(NH₃)₆]}Cl₃",
                "Cr1 N6 H18 Cl3",
                0,
            ),
            ("SO4^2-", "SO4^2-", "SO₄²⁻", "S1 O4", -2),
            ("SO4^{2-}", "SO4^2-", "SO₄²⁻", "S1 O4", -2),
            ("SO_4^(2−)", "SO4^2-", "SO₄²⁻", "S1 O4", -2),
            ("Cu²⁺", "Cu^2+", "Cu²⁺", "Cu1", 2),
            ("Cu²+", "Cu^2+", "Cu²⁺", "Cu1", 2),
            ("Cu^+2", "Cu^2+", "Cu²⁺", "Cu1", 2),
            ("Cu^++", "Cu^2+", "Cu²⁺", "Cu1", 2),
            ("Na+", "Na^+", "Na⁺", "Na1", 1),
            ("Cl−", "Cl^-", "Cl⁻", "Cl1", -1),
            ("NH4+", "NH4^+", "NH₄⁺", "N1 H4", 1),
            ("SO₄²⁻", "SO4^2-", "SO₄²⁻", "S1 O4", -2),
            ("N₃⁻", "N3^-", "N₃⁻", "N3", -1),
            ("e-", "e^-", "e⁻", "", -1),
            ("e^-", "e^-", "e⁻", "", -1),
            ("  MgO\u{a0}", "MgO", "MgO", "Mg1 O1", 0),
            ("NaCl1", "NaCl", "NaCl", "Na1 Cl1", 0),
        ] {
            let formula = parse(typed);
            assert_eq!(formula.plain(), plain, "{typed}");
            assert_eq!(formula.pretty(), pretty, "{typed}");
            assert_eq!(atoms(&formula), counted, "{typed}");
            assert_eq!(formula.charge(), charge, "{typed}");
            assert_eq!(parse(formula.plain()), formula, "{typed}");
            assert_eq!(parse(&formula.pretty()), formula, "{typed}");
        }
    }

    #[test]
    fn states() {
        for (typed, state, pretty) in [
            ("Zn(s)", Some(State::Solid), "Zn(s)"),
            ("H2O (l)", Some(State::Liquid), "H₂O(l)"),
            ("O2(g)", Some(State::Gas), "O₂(g)"),
            ("Cu^2+(aq)", Some(State::Aqueous), "Cu²⁺(aq)"),
            ("Na+ (AQ)", Some(State::Aqueous), "Na⁺(aq)"),
            ("K(S)", None, "K(S)"),
        ] {
            let formula = parse(typed);
            assert_eq!(formula.state(), state, "{typed}");
            assert_eq!(formula.pretty_with_state(), pretty, "{typed}");
            assert_eq!(parse(&formula.plain_with_state()), formula);
        }
    }

    #[test]
    fn waters_are_taken_off_the_end() {
        for (typed, rest, waters) in [
            ("CuSO4.5H2O", "CuSO4", 5),
            ("CuSO4.H2O", "CuSO4", 1),
            ("(CaSO4)2.H2O", "(CaSO4)2", 1),
            ("Ba(OH)2·8H2O", "Ba(OH)2", 8),
            ("CuSO4", "CuSO4", 0),
            ("H2O", "H2O", 0),
            ("CuCO3·Cu(OH)2", "CuCO3·Cu(OH)2", 0),
        ] {
            assert_eq!(parse(typed).waters(), (parse(rest), waters), "{typed}");
        }
    }

    #[test]
    fn the_same_substance_in_two_ways_of_writing() {
        assert!(parse("CH3COOH(aq)").same_substance(&parse("HC2H3O2")));
        assert!(!parse("Cu").same_substance(&parse("Cu^2+")));
        assert!(!parse("CuSO4").same_substance(&parse("CuSO4.5H2O")));
        assert!(!parse("CuSO4.5H2O").same_substance(&parse("CuSO4")));
    }

    /// typed text, what its message must hold, what its help must hold, the text its span must cover
    const FAULTS: &[(&str, &str, &str, &str)] = &[
        ("", "no formula", "CuSO4", ""),
        ("  ", "no formula", "", "  "),
        ("cuso4", "capital", "`CuSO4`", "c"),
        ("cuso4(aq)", "capital", "`CuSO4(aq)`", "c"),
        ("naoh", "capital", "`NaOH`", "n"),
        ("NaoH", "capital", "`NaOH`", "o"),
        ("co2", "capital", "`CO2`", "c"),
        ("na2co3", "capital", "`Na2CO3`", "n"),
        ("coso4", "capital", "`CoSO4`", "c"),
        ("NACL", "`A`", "`NaCl`", "A"),
        ("ZN", "`Z`", "`Zn`", "Z"),
        ("CU", "uranium", "`Cu`", "U"),
        ("CUSO4", "uranium", "`CuSO4`", "U"),
        ("CuS04", "digit 0", "`CuSO4`", "04"),
        ("H20", "digit 0", "`H2O`", "20"),
        ("Na20", "digit 0", "`Na2O`", "20"),
        ("Al203", "digit 0", "`Al2O3`", "203"),
        ("Cu(II)SO4", "Roman numeral", "`CuSO4`", "(II)"),
        ("CuSO4.5H20", "digit 0", "`CuSO4.5H2O`", "20"),
        ("Na0H", "digit 0", "`NaOH`", "0"),
        ("NaC1", "digit 1", "`NaCl`", "1"),
        ("AICl3", "`A`", "`AlCl3`", "A"),
        ("Zm", "`Zm`", "Zn, Zr", "Zm"),
        ("Jx", "`Jx`", "J", "Jx"),
        ("zinc", "name", "`Zn`", "zinc"),
        ("Ca(OH2", "never closed", "`)`", "("),
        ("CaOH)2", "never opened", "`(`", ")"),
        ("[Cu(NH3]4)", "`]`", "`)`", "]"),
        ("Ca()2", "empty", "", "()"),
        ("CuSO4.", "behind the dot", "H2O", "."),
        ("NiCl2.xNH3", "number of waters", "·xH2O", "x"),
        ("CaSO4.0.5H2O", "whole number", "(CaSO4)2·H2O", "0.5"),
        ("CaSO4·½H2O", "whole number", "(CaSO4)2·H2O", "½"),
        ("CaSO4·1/2H2O", "whole number", "", "1/2"),
        ("2H2O", "coefficient", "equation", "2"),
        ("Cu SO4", "space", "", " "),
        ("Cu2+", "two ways", "`Cu^2+`", "2+"),
        ("SO42-", "two ways", "`SO4^2-`", "42-"),
        ("Cu^2", "charge", "`^2+`", "^2"),
        ("Cu^x+", "charge", "", "^x+"),
        ("Cu^99+", "charge", "", "^99+"),
        ("Cu²", "charge", "", "²"),
        ("Na+Cl", "`+`", "", "+"),
        ("Na(ag)", "state", "(aq)", "(ag)"),
        ("NaCl(solid)", "state", "(s)", "(solid)"),
        ("H2Ö", "`Ö`", "", "Ö"),
        ("H1000000", "too large", "", "1000000"),
        ("(H99999)99999", "too large", "", "(H99999)99999"),
        (
            "H99999999999999999999999999",
            "too large",
            "",
            "99999999999999999999999999",
        ),
        ("e", "capital", "", "e"),
        ("(s)", "no formula", "", "(s)"),
    ];

    #[test]
    fn waters_to_be_found_are_kept_apart() {
        for typed in ["MgSO4·xH2O", "MgSO4.nH2O(s)", "MgSO₄ * x H₂O"] {
            let formula = parse(typed);
            assert_eq!(formula.plain(), "MgSO4·xH2O", "{typed}");
            assert_eq!(formula.pretty(), "MgSO₄·xH₂O", "{typed}");
            assert!(formula.open_waters() && !formula.same_substance(&parse("MgSO4")));
            let (dry, waters) = formula.waters();
            assert_eq!((dry.plain(), waters), ("MgSO4", 0));
            assert!(dry.same_substance(&parse("MgSO4")));
        }
    }

    #[test]
    fn faults_are_placed_and_answered() {
        for (typed, message, help, place) in FAULTS {
            let error = Formula::parse(typed).expect_err(typed);
            assert!(error.message.contains(message), "{typed}: {error:?}");
            assert!(
                error.help.as_deref().unwrap_or_default().contains(help),
                "{typed}: {error:?}"
            );
            assert_eq!(&typed[error.span.clone()], *place, "{typed}: {error:?}");
        }
    }

    #[test]
    fn deep_and_long_texts_are_refused() {
        let deep = format!("{}H{}", "(".repeat(100), ")".repeat(100));
        assert!(
            Formula::parse(&deep)
                .unwrap_err()
                .message
                .contains("nested")
        );
        assert!(
            Formula::parse(&"H".repeat(100_000))
                .unwrap_err()
                .message
                .contains("longer")
        );
        assert!(Formula::parse(&"(".repeat(100_000)).is_err());
    }
}
