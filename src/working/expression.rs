//! A step as a small expression, written once; value, unit, figures, uncertainty and text are ways of reading it.

use crate::chem::Formula;
use crate::measure::Decimal;

/// What a step computes, in terms of readings, constants and earlier steps.
#[derive(Debug, Clone, PartialEq)]
pub enum Expression {
    /// A reading of the lab, by its number in [`Lab::readings`](crate::lab::Lab::readings).
    Reading(usize),
    /// A given of the graph, by its number in [`Graph::givens`](crate::working::Graph).
    Given(usize),
    /// A value that no reading changes.
    Constant(Constant),
    /// An earlier step.
    Step(StepId),
    /// Terms added up.
    Sum(Vec<Expression>),
    /// The second taken from the first.
    Difference(Box<Expression>, Box<Expression>),
    /// Factors multiplied.
    Product(Vec<Expression>),
    /// The first divided by the second.
    Quotient(Box<Expression>, Box<Expression>),
    /// A temperature in °C on the absolute scale.
    Absolute(Box<Expression>),
    /// The vapour pressure of water at a temperature in °C, from a table.
    VapourPressure(Box<Expression>),
    /// The least of several: the extent of reaction, moles ÷ coefficient, and whose it is.
    Smallest(Vec<Candidate>),
}

/// The molar gas constant in kPa·L/(mol·K): CODATA 2022, 8.314 462 618… J/(mol·K), to the ten figures printed there.
pub const GAS_CONSTANT: Decimal = Decimal::new(8_314_462_618, 9);

/// 0 °C on the absolute scale, in K; exact by definition of the Celsius scale.
pub const ZERO_CELSIUS: Decimal = Decimal::new(27_315, 2);

/// One reactant's moles ÷ coefficient.
#[derive(Debug, Clone, PartialEq)]
pub struct Candidate {
    /// Index into [`Lab::substances`](crate::lab::Lab::substances).
    pub substance: usize,
    /// Moles ÷ coefficient.
    pub share: Expression,
}

/// A value that no reading changes.
#[derive(Debug, Clone, PartialEq)]
pub enum Constant {
    /// A plain number, exact.
    Number(Decimal),
    /// 100 %, with its unit: what turns a fraction into a percentage.
    Hundred,
    /// The molar mass of a formula (g/mol).
    MolarMass(Formula),
    /// The molar gas constant R (kPa·L/(mol·K)).
    Gas,
    /// A stoichiometric coefficient, exact.
    Coefficient {
        /// The coefficient.
        count: u32,
        /// The formula it stands before, pretty.
        of: String,
    },
}

/// An earlier step. Only [`Graph::add`](crate::working::Graph::add) makes one, so no graph holds a cycle.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct StepId(pub(in crate::working) usize);

impl StepId {
    /// The step's place in the graph.
    #[must_use]
    pub const fn index(self) -> usize {
        self.0
    }
}

impl Expression {
    /// An earlier step's share of a quotient.
    #[must_use]
    pub fn over(self, other: Self) -> Self {
        Self::Quotient(Box::new(self), Box::new(other))
    }

    /// The difference from another.
    #[must_use]
    pub fn minus(self, other: Self) -> Self {
        Self::Difference(Box::new(self), Box::new(other))
    }

    /// The product with another.
    #[must_use]
    pub fn times(self, other: Self) -> Self {
        match self {
            Self::Product(mut factors) => {
                factors.push(other);
                Self::Product(factors)
            }
            first => Self::Product(vec![first, other]),
        }
    }

    /// A coefficient.
    #[must_use]
    pub fn coefficient(count: u32, of: String) -> Self {
        Self::Constant(Constant::Coefficient { count, of })
    }

    /// Moles of a gas by the ideal gas law, n = pV / RT, from its volume, temperature (°C) and pressure.
    #[must_use]
    pub fn moles_of_gas(volume: Self, celsius: Self, pressure: Self) -> Self {
        let below = Self::Constant(Constant::Gas).times(Self::Absolute(Box::new(celsius)));
        Self::Product(vec![pressure, volume]).over(below)
    }

    /// 100 %.
    #[must_use]
    pub const fn hundred() -> Self {
        Self::Constant(Constant::Hundred)
    }

    /// Whether both say the same, in whatever state a substance is written.
    #[must_use]
    pub fn is_like(&self, other: &Self) -> bool {
        if let (Self::Constant(Constant::MolarMass(own)), Self::Constant(Constant::MolarMass(of))) =
            (self, other)
        {
            return own.same_substance(of);
        }
        if std::mem::discriminant(self) != std::mem::discriminant(other) {
            return false;
        }
        let (own, others) = (self.parts(), other.parts());
        if own.is_empty() {
            return self == other;
        }
        let mut pairs = own.iter().zip(&others);
        own.len() == others.len() && pairs.all(|(own, other)| own.is_like(other))
    }

    /// The parts directly inside.
    #[must_use]
    pub fn parts(&self) -> Vec<&Self> {
        let mut parts = Vec::new();
        self.each_part(|part| parts.push(part));
        parts
    }

    fn each_part<'e>(&'e self, mut see: impl FnMut(&'e Self)) {
        match self {
            Self::Reading(_) | Self::Given(_) | Self::Constant(_) | Self::Step(_) => {}
            Self::Sum(parts) | Self::Product(parts) => parts.iter().for_each(see),
            Self::Difference(a, b) | Self::Quotient(a, b) => {
                see(a);
                see(b);
            }
            Self::Absolute(of) | Self::VapourPressure(of) => see(of),
            Self::Smallest(candidates) => {
                let shares = candidates.iter().map(|candidate| &candidate.share);
                shares.for_each(see);
            }
        }
    }

    /// Every reading used directly, each once, in order of appearance.
    #[must_use]
    pub fn readings(&self) -> Vec<usize> {
        let mut found = Vec::new();
        self.visit(&mut |part| {
            if let Self::Reading(reading) = part
                && !found.contains(reading)
            {
                found.push(*reading);
            }
        });
        found
    }

    /// Every step used directly, each once, in order of appearance.
    #[must_use]
    pub fn steps(&self) -> Vec<StepId> {
        let mut found = Vec::new();
        self.visit(&mut |part| {
            if let Self::Step(step) = part
                && !found.contains(step)
            {
                found.push(*step);
            }
        });
        found
    }

    /// Calls `see` on this and everything inside, outermost first.
    pub fn visit<'e>(&'e self, see: &mut impl FnMut(&'e Self)) {
        see(self);
        self.each_part(|part| part.visit(see));
    }
}
