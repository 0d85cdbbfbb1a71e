//! What a lab is asked for again and again, worked out once: molar masses, and names of products.

use std::collections::BTreeMap;
use std::sync::Mutex;
use std::sync::PoisonError;

use crate::chem::Formula;
use crate::lab::Lab;

/// Molar masses by formula as written, g/mol; `None` for what is no formula. A copy starts empty.
#[derive(Debug, Default)]
pub struct MolarMasses(Mutex<BTreeMap<String, Option<f64>>>);

/// What a product may be called.
#[derive(Debug, Clone)]
pub struct ProductNames {
    /// For people.
    pub shown: String,
    /// The words of every name that students may have for it.
    pub names: Vec<Vec<String>>,
}

impl Clone for MolarMasses {
    fn clone(&self) -> Self {
        Self::default()
    }
}

impl Lab {
    /// A molar mass by the lab's atomic weights, g/mol.
    #[must_use]
    pub fn molar_mass(&self, formula: &str) -> Option<f64> {
        let known = self.molar_masses.0.lock();
        // A poisoned lock only means that another thread stopped between two formulas; the map is whole.
        let mut known = known.unwrap_or_else(PoisonError::into_inner);
        if let Some(mass) = known.get(formula) {
            return *mass;
        }
        let mass = Formula::parse(formula)
            .ok()
            .and_then(|formula| self.atomic_weights.molar_mass(&formula).ok())
            .map(|mass| mass.to_f64());
        known.insert(formula.to_owned(), mass);
        mass
    }
}
