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
    /// The edition of the published table, for the provenance section.
    pub const EDITION: &'static str = "";

    /// Lays a class's own value over the published one; the ± stays.
    pub fn set(&mut self, element: Element, value: Decimal) {
        self.own.insert(element, value);
    }

    /// The weight of an element; `None` where no standard atomic weight exists (technetium …).
    #[must_use]
    pub fn get(&self, element: Element) -> Option<AtomicWeight> {
        let _ = element;
        unimplemented!()
    }

    /// The exact molar mass of a formula in g/mol; `Err` names an element without a standard atomic weight.
    ///
    /// # Errors
    /// When an element of the formula has no standard atomic weight.
    pub fn molar_mass(&self, formula: &Formula) -> Result<Exact, Element> {
        let _ = formula;
        unimplemented!()
    }
}
