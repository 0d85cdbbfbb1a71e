//! Standard atomic weights, abridged to five figures, with the ± printed beside them.

use crate::chem::Element;
use crate::chem::Formula;
use crate::measure::Decimal;
use crate::measure::Exact;

/// An abridged standard atomic weight: value ± half-width, both as printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct AtomicWeight {
    /// The value, digits as printed (g/mol).
    pub value: Decimal,
    /// The ± of the abridged table, a half-width (g/mol).
    pub half_width: Decimal,
}

/// The table in use: the published one, with a class's own values laid over it.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct AtomicWeights {
    own: std::collections::BTreeMap<Element, Decimal>,
}

impl AtomicWeights {
    /// The edition of the published table, for the provenance section, which adds the CIAAW changes of 2024.
    pub const EDITION: &'static str = "IUPAC abridged standard atomic weights 2021 (Prohaska et al., Pure Appl. Chem. 94 (2022) 573)";

    /// Lays a class's own value over the published one; the ± stays.
    pub fn set(&mut self, element: Element, value: Decimal) {
        self.own.insert(element, value);
    }

    /// The weight of an element; `None` where no standard atomic weight exists (technetium …).
    ///
    /// A class's own value for an element without a published one has a ± of zero.
    #[must_use]
    pub fn get(&self, element: Element) -> Option<AtomicWeight> {
        let published = published(element);
        match self.own.get(&element) {
            None => published,
            Some(&value) => {
                let half_width = published.map_or(Decimal::new(0, 0), |weight| weight.half_width);
                Some(AtomicWeight { value, half_width })
            }
        }
    }

    /// The exact molar mass of a formula in g/mol; `Err` names an element without a standard atomic weight.
    ///
    /// # Errors
    /// When an element of the formula has no standard atomic weight.
    pub fn molar_mass(&self, formula: &Formula) -> Result<Exact, Element> {
        self.sum(formula, |weight| weight.value)
    }

    /// The ± of a molar mass when every atomic weight errs the same way: the half-widths, each
    /// times its number of atoms, added up (g/mol).
    ///
    /// # Errors
    /// When an element of the formula has no standard atomic weight.
    pub fn half_width_linear(&self, formula: &Formula) -> Result<Exact, Element> {
        self.sum(formula, |weight| weight.half_width)
    }

    /// The ± of a molar mass when the atomic weights err independently: the half-widths, each
    /// times its number of atoms, as the root of the sum of their squares (g/mol).
    ///
    /// # Errors
    /// When an element of the formula has no standard atomic weight.
    pub fn half_width_quadrature(&self, formula: &Formula) -> Result<f64, Element> {
        let mut squares = 0.0;
        for &(element, count) in formula.atoms() {
            let part = f64::from(count) * self.get(element).ok_or(element)?.half_width.to_f64();
            squares += part * part;
        }
        Ok(squares.sqrt())
    }

    /// A number of each element's weight, times its atoms, summed over a formula.
    fn sum(
        &self,
        formula: &Formula,
        number: impl Fn(AtomicWeight) -> Decimal,
    ) -> Result<Exact, Element> {
        let parts = formula.atoms().iter().map(|&(element, count)| {
            let weight = number(self.get(element).ok_or(element)?);
            Ok(weight.to_exact() * Exact::from_integer(count.into()))
        });
        parts.sum()
    }
}

/// The published weight of an element.
fn published(element: Element) -> Option<AtomicWeight> {
    let at = TABLE
        .binary_search_by_key(&element.atomic_number(), |row| row.0)
        .ok()?;
    Some(TABLE[at].1)
}

/// One row of the table: atomic number, value and ± as printed.
///
/// Runs only while the program is compiled: the text is what a reader holds against the published
/// table, the numbers are what the program carries.
const fn row(atomic_number: u8, value: &str, half_width: &str) -> (u8, AtomicWeight) {
    (
        atomic_number,
        AtomicWeight {
            value: decimal(value),
            half_width: decimal(half_width),
        },
    )
}

/// Digits with a decimal point as a number.
const fn decimal(text: &str) -> Decimal {
    let bytes = text.as_bytes();
    let mut coefficient: i128 = 0;
    let mut places = 0;
    let mut behind_point = false;
    let mut at = 0;
    while at < bytes.len() {
        if bytes[at] == b'.' {
            behind_point = true;
        } else {
            coefficient = coefficient * 10 + (bytes[at] - b'0') as i128;
            places += behind_point as i32;
        }
        at += 1;
    }
    Decimal::new(coefficient, places)
}

/// The abridged standard atomic weights, in order of atomic number; see [`AtomicWeights::EDITION`].
///
/// Elements without a standard atomic weight (technetium, promethium, most of the heaviest) have no row.
static TABLE: [(u8, AtomicWeight); 84] = [
    row(1, "1.0080", "0.0002"), // H
    row(2, "4.0026", "0.0001"), // He
    row(3, "6.94", "0.06"),     // Li
    row(4, "9.0122", "0.0001"), // Be
    row(5, "10.81", "0.02"),    // B
    row(6, "12.011", "0.002"),  // C
    row(7, "14.007", "0.001"),  // N
    row(8, "15.999", "0.001"),  // O
    row(9, "18.998", "0.001"),  // F
    row(10, "20.180", "0.001"), // Ne
    row(11, "22.990", "0.001"), // Na
    row(12, "24.305", "0.002"), // Mg
    row(13, "26.982", "0.001"), // Al
    row(14, "28.085", "0.001"), // Si
    row(15, "30.974", "0.001"), // P
    row(16, "32.06", "0.02"),   // S
    row(17, "35.45", "0.01"),   // Cl
    row(18, "39.95", "0.16"),   // Ar
    row(19, "39.098", "0.001"), // K
    row(20, "40.078", "0.004"), // Ca
    row(21, "44.956", "0.001"), // Sc
    row(22, "47.867", "0.001"), // Ti
    row(23, "50.942", "0.001"), // V
    row(24, "51.996", "0.001"), // Cr
    row(25, "54.938", "0.001"), // Mn
    row(26, "55.845", "0.002"), // Fe
    row(27, "58.933", "0.001"), // Co
    row(28, "58.693", "0.001"), // Ni
    row(29, "63.546", "0.003"), // Cu
    row(30, "65.38", "0.02"),   // Zn
    row(31, "69.723", "0.001"), // Ga
    row(32, "72.630", "0.008"), // Ge
    row(33, "74.922", "0.001"), // As
    row(34, "78.971", "0.008"), // Se
    row(35, "79.904", "0.003"), // Br
    row(36, "83.798", "0.002"), // Kr
    row(37, "85.468", "0.001"), // Rb
    row(38, "87.62", "0.01"),   // Sr
    row(39, "88.906", "0.001"), // Y
    row(40, "91.222", "0.003"), // Zr
    row(41, "92.906", "0.001"), // Nb
    row(42, "95.95", "0.01"),   // Mo
    row(44, "101.07", "0.02"),  // Ru
    row(45, "102.91", "0.01"),  // Rh
    row(46, "106.42", "0.01"),  // Pd
    row(47, "107.87", "0.01"),  // Ag
    row(48, "112.41", "0.01"),  // Cd
    row(49, "114.82", "0.01"),  // In
    row(50, "118.71", "0.01"),  // Sn
    row(51, "121.76", "0.01"),  // Sb
    row(52, "127.60", "0.03"),  // Te
    row(53, "126.90", "0.01"),  // I
    row(54, "131.29", "0.01"),  // Xe
    row(55, "132.91", "0.01"),  // Cs
    row(56, "137.33", "0.01"),  // Ba
    row(57, "138.91", "0.01"),  // La
    row(58, "140.12", "0.01"),  // Ce
    row(59, "140.91", "0.01"),  // Pr
    row(60, "144.24", "0.01"),  // Nd
    row(62, "150.36", "0.02"),  // Sm
    row(63, "151.96", "0.01"),  // Eu
    row(64, "157.25", "0.01"),  // Gd
    row(65, "158.93", "0.01"),  // Tb
    row(66, "162.50", "0.01"),  // Dy
    row(67, "164.93", "0.01"),  // Ho
    row(68, "167.26", "0.01"),  // Er
    row(69, "168.93", "0.01"),  // Tm
    row(70, "173.05", "0.02"),  // Yb
    row(71, "174.97", "0.01"),  // Lu
    row(72, "178.49", "0.01"),  // Hf
    row(73, "180.95", "0.01"),  // Ta
    row(74, "183.84", "0.01"),  // W
    row(75, "186.21", "0.01"),  // Re
    row(76, "190.23", "0.03"),  // Os
    row(77, "192.22", "0.01"),  // Ir
    row(78, "195.08", "0.02"),  // Pt
    row(79, "196.97", "0.01"),  // Au
    row(80, "200.59", "0.01"),  // Hg
    row(81, "204.38", "0.01"),  // Tl
    row(82, "207.2", "1.1"),    // Pb
    row(83, "208.98", "0.01"),  // Bi
    row(90, "232.04", "0.01"),  // Th
    row(91, "231.04", "0.01"),  // Pa
    row(92, "238.03", "0.01"),  // U
];

#[cfg(test)]
mod tests {
    use super::*;

    fn element(symbol: &str) -> Element {
        Element::from_symbol(symbol).unwrap()
    }

    #[test]
    fn digits_are_as_printed() {
        let weights = AtomicWeights::default();
        for (symbol, value, half_width) in [
            ("H", "1.0080", "0.0002"),
            ("Cu", "63.546", "0.003"),
            ("Pb", "207.2", "1.1"),
            ("Ne", "20.180", "0.001"),
        ] {
            let weight = weights.get(element(symbol)).unwrap();
            assert_eq!(weight.value.to_string(), value, "{symbol}");
            assert_eq!(weight.half_width.to_string(), half_width, "{symbol}");
        }
    }

    #[test]
    fn rows_stand_in_order() {
        assert!(TABLE.is_sorted_by(|one, next| one.0 < next.0));
    }

    #[test]
    fn an_element_without_a_weight_is_named() {
        let weights = AtomicWeights::default();
        assert_eq!(weights.get(element("Tc")), None);
        let formula = Formula::parse("NaTcO4").unwrap();
        assert_eq!(weights.molar_mass(&formula), Err(element("Tc")));
        assert_eq!(weights.half_width_linear(&formula), Err(element("Tc")));
        assert_eq!(weights.half_width_quadrature(&formula), Err(element("Tc")));
    }

    #[test]
    fn a_class_uses_its_own_value() {
        let mut weights = AtomicWeights::default();
        weights.set(element("Cu"), Decimal::parse("63.55").unwrap());
        weights.set(element("Tc"), Decimal::parse("98").unwrap());
        let copper = weights.get(element("Cu")).unwrap();
        assert_eq!(
            (
                copper.value.to_string().as_str(),
                copper.half_width.to_string().as_str()
            ),
            ("63.55", "0.003")
        );
        let oxide = weights.molar_mass(&Formula::parse("CuO").unwrap()).unwrap();
        assert_eq!(oxide, Decimal::parse("79.549").unwrap().to_exact());
        let technetium = weights.get(element("Tc")).unwrap();
        assert!(technetium.half_width.is_zero());
        weights.set(element("Cu"), Decimal::parse("6e1").unwrap());
        let rounded = weights.molar_mass(&Formula::parse("Cu").unwrap()).unwrap();
        assert_eq!(rounded, Exact::from_integer(60.into()));
    }

    #[test]
    fn nothing_weighs_nothing() {
        let electron = Formula::parse("e^-").unwrap();
        assert_eq!(
            AtomicWeights::default().molar_mass(&electron),
            Ok(Exact::from_integer(0.into()))
        );
    }
}
