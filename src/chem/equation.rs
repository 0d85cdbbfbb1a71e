//! Chemical equations: parsed with or without coefficients, balanced exactly.

use crate::chem::Formula;
use crate::chem::balance;
use crate::chem::balance::Fault;
use crate::chem::balance::Place;
use crate::chem::balance::signed;
use crate::chem::terms;
use crate::chem::terms::Term;
use crate::problem::Span;

/// A balanced equation.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Equation {
    /// In the order written.
    pub reactants: Vec<Species>,
    /// In the order written.
    pub products: Vec<Species>,
}

/// A formula with its coefficient.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Species {
    /// Stoichiometric coefficient, at least 1.
    pub coefficient: u32,
    /// Whether the coefficient is not known but to be found: the x waters of a hydrate. `coefficient` is 1 then.
    pub open: bool,
    /// The formula with its state.
    pub formula: Formula,
}

/// Why a text is no balanced equation.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct EquationError {
    /// One plain sentence; names the element where one is at fault.
    pub message: String,
    /// Bytes of the text given.
    pub span: Span,
    /// A next step.
    pub help: Option<String>,
}

/// The most substances an equation may have.
const MOST_SPECIES: usize = 40;
impl Species {
    /// Whether neither its mass nor its moles follow from the amounts of the others before x is known: it is the x waters of a
    /// hydrate, or the hydrate that holds them.
    #[must_use]
    pub const fn waits_for_x(&self) -> bool {
        self.open || self.formula.open_waters()
    }
}

impl Equation {
    /// Reads `Zn(s) + CuSO4(aq) -> ZnSO4(aq) + Cu(s)`; arrows `->`, `→`, `=`, `⟶`, `=>`.
    ///
    /// Without coefficients the equation is balanced; with them it is verified. One coefficient
    /// given means that all are given, and that the others are 1.
    ///
    /// # Errors
    /// When a formula cannot be read, when no balance exists (naming the element),
    /// when more than one does and no coefficients are given, or when the coefficients given do not balance.
    pub fn parse(text: &str) -> Result<Self, EquationError> {
        // Arrows for a gas or a precipitate say nothing new; spaces of the same length keep all places.
        let spaced = text.replace(['↑', '↓'], "   ");
        Self::read_any_arrow(&spaced).map_err(|error| EquationError {
            span: terms::widen(text, error.span),
            ..error
        })
    }

    /// `Zn(s) + CuSO₄(aq) → ZnSO₄(aq) + Cu(s)`, coefficients of 1 left out.
    #[must_use]
    pub fn pretty(&self) -> String {
        self.write(" → ", Formula::pretty_with_state)
    }

    /// As it could be typed: `2 Al + 3 CuCl2 -> 2 AlCl3 + 3 Cu`, coefficients of 1 left out.
    #[must_use]
    pub fn plain(&self) -> String {
        self.write(" -> ", Formula::plain_with_state)
    }

    /// The species of a substance with the side it stands on: `true` for a reactant.
    ///
    /// Where several have the same atoms, the one written the same way comes first, then the one
    /// in the same state.
    #[must_use]
    pub fn find(&self, formula: &Formula) -> Option<(&Species, bool)> {
        let reactants = self.reactants.iter().map(|species| (species, true));
        let all = reactants.chain(self.products.iter().map(|species| (species, false)));
        let mut best: Option<(u8, (&Species, bool))> = None;
        for found in all {
            let known = &found.0.formula;
            let alike = known.plain() == formula.plain();
            // What is written the same way has the same atoms.
            if !alike && !known.same_substance(formula) {
                continue;
            }
            let apart = 2 * u8::from(!alike) + u8::from(known.state() != formula.state());
            if apart == 0 {
                return Some(found);
            }
            if best.is_none_or(|(nearest, _)| apart < nearest) {
                best = Some((apart, found));
            }
        }
        best.map(|(_, found)| found)
    }

    /// Reads an equation without arrows for gases and precipitates.
    fn read_any_arrow(text: &str) -> Result<Self, EquationError> {
        let arrow = terms::find_arrow(text)?;
        let read = Self::read(text, arrow.clone());
        // In `Cl-->NaCl` the first stroke may be the charge of the ion that it touches.
        let touches =
            &text[arrow.clone()] == "-->" && !text[..arrow.start].ends_with(char::is_whitespace);
        if read.is_err() && touches {
            return Self::read(text, arrow.start + 1..arrow.end).or(read);
        }
        read
    }

    /// Reads an equation whose arrow is known.
    fn read(text: &str, arrow: Span) -> Result<Self, EquationError> {
        let mut terms = terms::side(text, 0..arrow.start, true)?;
        terms.extend(terms::side(text, arrow.end..text.len(), false)?);
        if terms.len() > MOST_SPECIES {
            let message = format!("This equation has more than {MOST_SPECIES} substances.");
            return Err(EquationError::new(message, 0..text.len()));
        }
        refuse_repeats(&terms)?;
        let open = open_water(&terms, 0..text.trim_end().len())?;
        // x waters balance those of the hydrate, whatever x is: the rest has to balance without them.
        let water = open.map(|at| (at, terms.remove(at)));
        let mut coefficients = if terms.iter().any(|term| term.given.is_some()) {
            verify(&terms, 0..text.trim_end().len())?
        } else {
            let balanced = balance::balance(&places(&terms));
            balanced.map_err(|fault| EquationError::from_fault(fault, &terms, text))?
        };
        if let Some((at, water)) = water {
            let hydrates = terms.iter().zip(&coefficients);
            if let Some((hydrate, _)) = hydrates
                .filter(|(term, _)| term.formula.open_waters())
                .find(|(_, coefficient)| **coefficient != 1)
            {
                let message = "One formula unit of the hydrate must react, so that x is its own number of waters.";
                return Err(EquationError::new(message, hydrate.span.clone())
                    .help("Divide the equation until the hydrate has no coefficient."));
            }
            terms.insert(at, water);
            coefficients.insert(at, 1);
        }
        Ok(assemble(terms, &coefficients))
    }

    /// Both sides in words of `formula`, joined by `arrow`.
    fn write(&self, arrow: &str, formula: impl Fn(&Formula) -> String) -> String {
        let side = |species: &[Species]| {
            let terms: Vec<String> = species
                .iter()
                .map(|species| match species.coefficient {
                    _ if species.open => format!("x {}", formula(&species.formula)),
                    1 => formula(&species.formula),
                    number => format!("{number} {}", formula(&species.formula)),
                })
                .collect();
            terms.join(" + ")
        };
        format!("{}{arrow}{}", side(&self.reactants), side(&self.products))
    }
}

impl EquationError {
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

    /// A fault of balancing, at its substance or the whole equation.
    fn from_fault(fault: Fault, terms: &[Term], text: &str) -> Self {
        let span = fault
            .at
            .map_or(0..text.trim_end().len(), |at| terms[at].span.clone());
        Self::new(fault.message, span).help(fault.help)
    }
}

/// The term with the waters of a hydrate whose number is to be found.
fn open_water(terms: &[Term], whole: Span) -> Result<Option<usize>, EquationError> {
    let hydrates: Vec<&Term> = terms
        .iter()
        .filter(|term| term.formula.open_waters())
        .collect();
    let waters: Vec<usize> = (0..terms.len()).filter(|at| terms[*at].open).collect();
    match (&hydrates[..], &waters[..]) {
        ([], []) => Ok(None),
        ([hydrate], [water]) if hydrate.reactant != terms[*water].reactant => Ok(Some(*water)),
        ([_, second, ..], _) => Err(EquationError::new(
            "Only one hydrate may have a number of waters that is to be found.",
            second.span.clone(),
        )
        .help("Write the number of the others, such as `·5H2O`.")),
        _ => Err(EquationError::new(
            "The waters of a hydrate `·xH2O` must stand as `x H2O` on the other side.",
            whole,
        )
        .help("Write it as `MgSO4·xH2O -> MgSO4 + x H2O`.")),
    }
}

/// The coefficients given, once they balance.
fn verify(terms: &[Term], whole: Span) -> Result<Vec<u32>, EquationError> {
    let places = places(terms);
    let given: Vec<u32> = terms.iter().map(|term| term.given.unwrap_or(1)).collect();
    let Some(wrong) = balance::imbalance(&places, &given) else {
        return Ok(given);
    };
    let words = format!(
        "{} does not balance with the coefficients given: {} on the left, {} on the right",
        wrong.kept.name(),
        signed(wrong.left),
        signed(wrong.right)
    );
    let error = EquationError::new(balance::sentence(&words), whole);
    match balance::balance(&places) {
        Ok(right) => {
            let copies = terms.iter().map(|term| Term {
                formula: term.formula.clone(),
                span: 0..0,
                ..*term
            });
            let balanced = assemble(copies.collect(), &right);
            Err(error.help(format!("It balances as `{}`.", balanced.plain())))
        }
        Err(fault) if fault.open => {
            Err(error.help("Check each coefficient; this equation needs all of them given."))
        }
        Err(fault) => {
            let span = fault.at.map_or(error.span, |at| terms[at].span.clone());
            Err(EquationError::new(fault.message, span).help(fault.help))
        }
    }
}

/// The formulas with their sides.
fn places(terms: &[Term]) -> Vec<Place<'_>> {
    terms
        .iter()
        .map(|term| Place {
            formula: &term.formula,
            reactant: term.reactant,
        })
        .collect()
}

/// The terms with their coefficients as an equation.
fn assemble(terms: Vec<Term>, coefficients: &[u32]) -> Equation {
    let mut equation = Equation {
        reactants: Vec::new(),
        products: Vec::new(),
    };
    for (term, &coefficient) in terms.into_iter().zip(coefficients) {
        let side = if term.reactant {
            &mut equation.reactants
        } else {
            &mut equation.products
        };
        side.push(Species {
            coefficient,
            open: term.open,
            formula: term.formula,
        });
    }
    equation
}

/// The same formula in the same state may stand in an equation once.
fn refuse_repeats(terms: &[Term]) -> Result<(), EquationError> {
    for (at, term) in terms.iter().enumerate() {
        let Some(first) = terms[..at]
            .iter()
            .find(|first| first.formula == term.formula)
        else {
            continue;
        };
        let formula = term.formula.pretty_with_state();
        let (message, help) = if first.reactant == term.reactant {
            (
                format!("{formula} stands twice on the same side."),
                "Write it once, with one coefficient.",
            )
        } else {
            (
                format!("{formula} stands on both sides."),
                "Keep it on one side only, or write the states if they differ, such as (l) and (g).",
            )
        };
        return Err(EquationError::new(message, term.span.clone()).help(help));
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn parse(text: &str) -> Equation {
        Equation::parse(text).unwrap_or_else(|error| panic!("{text}: {error:?}"))
    }

    #[test]
    fn ways_of_writing() {
        for (typed, plain) in [
            (
                "Zn(s) + CuSO4(aq) -> ZnSO4(aq) + Cu(s)",
                "Zn(s) + CuSO4(aq) -> ZnSO4(aq) + Cu(s)",
            ),
            ("Zn+CuSO4=ZnSO4+Cu", "Zn + CuSO4 -> ZnSO4 + Cu"),
            ("Zn + CuSO4-->ZnSO4 + Cu", "Zn + CuSO4 -> ZnSO4 + Cu"),
            ("Zn+ CuSO4 ⟶ ZnSO4 +Cu", "Zn + CuSO4 -> ZnSO4 + Cu"),
            ("H2 + O2 → H2O", "2 H2 + O2 -> 2 H2O"),
            ("2H2+O2=>2H2O", "2 H2 + O2 -> 2 H2O"),
            ("4 H2 + 2 O2 -> 4 H2O", "4 H2 + 2 O2 -> 4 H2O"),
            ("Na+ + Cl- -> NaCl", "Na^+ + Cl^- -> NaCl"),
            ("Na++Cl-->NaCl", "Na^+ + Cl^- -> NaCl"),
            ("Ag+(aq)+Cl-(aq)->AgCl(s)", "Ag^+(aq) + Cl^-(aq) -> AgCl(s)"),
            ("Ag+(aq) + Cl-(aq) -> AgCl↓", "Ag^+(aq) + Cl^-(aq) -> AgCl"),
            ("CaCO3 → CaO + CO2↑", "CaCO3 -> CaO + CO2"),
            ("Fe^2++Zn->Fe+Zn^2+", "Fe^2+ + Zn -> Fe + Zn^2+"),
            ("Cu²⁺ + 2e⁻ ⇌ Cu", "Cu^2+ + 2 e^- -> Cu"),
            (
                "MnO4- + 8H+ + 5e- -> Mn^2+ + 4H2O",
                "MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O",
            ),
            (
                "2Al + 3CuCl2.2H2O -> 2AlCl3 + 3Cu + 6H2O",
                "2 Al + 3 CuCl2·2H2O -> 2 AlCl3 + 3 Cu + 6 H2O",
            ),
            (
                "Zn+(NH4)2SO4->(NH4)2SO3+ZnO",
                "Zn + (NH4)2SO4 -> (NH4)2SO3 + ZnO",
            ),
            ("H2O(l) -> H2O(g)", "H2O(l) -> H2O(g)"),
            (
                "MgSO4.nH2O(s) -> MgSO4(s) + nH2O(g)",
                "MgSO4·xH2O(s) -> MgSO4(s) + x H2O(g)",
            ),
            ("NH4OCN -> CO(NH2)2", "NH4OCN -> CO(NH2)2"),
        ] {
            let equation = parse(typed);
            assert_eq!(equation.plain(), plain, "{typed}");
            assert_eq!(parse(plain), equation, "{typed}");
        }
        let pretty = parse("Al + CuSO4(aq) -> Al2(SO4)3(aq) + Cu").pretty();
        assert_eq!(pretty, "2 Al + 3 CuSO₄(aq) → Al₂(SO₄)₃(aq) + 3 Cu");
    }

    #[test]
    fn species_are_found_by_substance_then_by_writing() {
        let formula = |text: &str| Formula::parse(text).unwrap();
        let equation = parse("2 H2O(l) + 2 Na -> 2 NaOH + H2");
        let (water, reactant) = equation.find(&formula("H2O")).unwrap();
        assert_eq!((water.coefficient, reactant), (2, true));
        assert!(!equation.find(&formula("H2")).unwrap().1);
        assert!(equation.find(&formula("Na+")).is_none());
        let isomers = parse("NH4OCN -> CO(NH2)2");
        assert!(!isomers.find(&formula("CO(NH2)2")).unwrap().1);
        let boiling = parse("H2O(l) -> H2O(g)");
        assert!(!boiling.find(&formula("H2O(g)")).unwrap().1);
    }

    /// typed text, what its message must hold, what its help must hold, the text its span must cover
    const FAULTS: &[(&str, &str, &str, &str)] = &[
        (
            "MgSO4·xH2O -> MgSO4 + 7 H2O",
            "must stand as `x H2O`",
            "MgSO4·xH2O -> MgSO4 + x H2O",
            "MgSO4·xH2O -> MgSO4 + 7 H2O",
        ),
        (
            "MgSO4·xH2O + CaSO4·nH2O -> MgSO4 + CaSO4 + x H2O",
            "Only one hydrate",
            "`·5H2O`",
            "CaSO4·nH2O",
        ),
        (
            "2 MgSO4·xH2O -> 2 MgSO4 + x H2O",
            "One formula unit",
            "no coefficient",
            "2 MgSO4·xH2O",
        ),
        (
            "H2 + O2 -> 2 H2O",
            "Hydrogen does not balance",
            "`2 H2 + O2 -> 2 H2O`",
            "H2 + O2 -> 2 H2O",
        ),
        (
            "2 H2 + 2 O2 -> 2 H2O",
            "4 on the left, 2 on the right",
            "`2 H2",
            "2 H2 + 2 O2 -> 2 H2O",
        ),
        (
            "2 Al + Zr^4+ -> 2 Al^3+ + Zr",
            "Charge does not",
            "`4 Al + 3 Zr^4+",
            "2 Al + Zr^4+ -> 2 Al^3+ + Zr",
        ),
        (
            "Zn + CuCl2 -> ZnSO4 + Cu",
            "Chlorine stands on the left only",
            "",
            "CuCl2",
        ),
        (
            "2 Zn + CuCl2 -> ZnSO4 + Cu",
            "Chlorine stands on the left only",
            "",
            "CuCl2",
        ),
        (
            "MgC12 -> Mg + Cl2",
            "Carbon stands on the left only",
            "`MgC12`",
            "MgC12",
        ),
        (
            "NaCI -> Na + Cl2",
            "Carbon stands on the left only",
            "capital I",
            "NaCI",
        ),
        (
            "CO -> CO2",
            "Oxygen cannot balance: 1 on the left, 2 on the right",
            "",
            "CO -> CO2",
        ),
        (
            "Fe^2+ -> Fe^3+",
            "Charge cannot balance: 2 on the left, 3",
            "e^-",
            "Fe^2+ -> Fe^3+",
        ),
        ("Na -> Na^+", "charges", "e^-", "Na -> Na^+"),
        ("C + CO -> CO2", "C stands on the left", "Move", "C"),
        ("CH4 + O2 + N2 -> CO2 + H2O", "N₂", "Leave", "N2"),
        ("KCl + O2 -> KClO3 + K", "K takes no part", "", "K"),
        (
            "C + O2 -> CO + CO2",
            "more than one way",
            "coefficient",
            "C + O2 -> CO + CO2",
        ),
        (
            "2 C + O2 -> CO + CO2",
            "Oxygen does not balance",
            "all of them",
            "2 C + O2 -> CO + CO2",
        ),
        ("Zn CuSO4 -> ZnSO4 + Cu", "space", "+", " "),
        ("Zn + CuSO4", "no arrow", "->", "Zn + CuSO4"),
        ("Zn -> Cu -> Ag", "more than one arrow", "", "->"),
        ("-> Cu", "left", "", "-> Cu"),
        ("Zn ->", "right", "", "Zn ->"),
        ("", "no arrow", "", ""),
        ("Zn + + Cu -> Zn", "missing", "", ""),
        ("Zn + Zn -> Cu", "twice", "", "Zn"),
        ("Zn + Cu -> Zn", "both sides", "", "Zn"),
        ("H2 + 1/2 O2 -> H2O", "`1/2`", "by 2", "1/2"),
        ("H2 + 0.5O2 -> H2O", "`0.5`", "by 2", "0.5"),
        ("H2 + ½ O2 -> H2O", "`½`", "by 2", "½"),
        ("H2 + (1/2)O2 -> H2O", "`(1/2)`", "by 2", "(1/2)"),
        ("0 H2 + O2 -> H2O", "coefficient of 0", "", "0"),
        ("99999999999 H2 + O2 -> H2O", "too large", "", "99999999999"),
        ("2 + O2 -> H2O", "No formula", "", "2"),
        ("Zn + cuso4 -> ZnSO4 + Cu", "capital", "`CuSO4`", "c"),
        ("Zn + Cu2+ -> Zn^2+ + Cu", "two ways", "`Cu^2+`", "2+"),
        ("Mg + O2 -> MgO + heat", "`heat`", "Leave it out", "heat"),
    ];

    #[test]
    fn faults_are_placed_and_answered() {
        for (typed, message, help, place) in FAULTS {
            let error = Equation::parse(typed).expect_err(typed);
            assert!(error.message.contains(message), "{typed}: {error:?}");
            assert!(
                error.help.as_deref().unwrap_or_default().contains(help),
                "{typed}: {error:?}"
            );
            let marked = &typed[error.span.clone()];
            assert!(
                place.is_empty() || marked == *place,
                "{typed}: {marked}: {error:?}"
            );
        }
    }

    #[test]
    fn several_balances_are_settled_by_coefficients() {
        let typed = "2 KMnO4 + 5 H2O2 + 3 H2SO4 -> K2SO4 + 2 MnSO4 + 8 H2O + 5 O2";
        assert_eq!(parse(typed).plain(), typed);
        assert!(Equation::parse("1 C7H6O3 + C4H6O3 -> C9H8O4 + C2H4O2").is_ok());
    }
}
