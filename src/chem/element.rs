//! The chemical elements: symbol, name, atomic number.

/// An element, by its atomic number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Element(u8);

impl Element {
    /// The element with a symbol, in its proper case.
    #[must_use]
    pub fn from_symbol(symbol: &str) -> Option<Self> {
        let _ = symbol;
        unimplemented!()
    }

    /// `Cu`.
    #[must_use]
    pub fn symbol(self) -> &'static str {
        unimplemented!()
    }

    /// `copper`.
    #[must_use]
    pub fn name(self) -> &'static str {
        unimplemented!()
    }

    /// 29 for copper.
    #[must_use]
    pub const fn atomic_number(self) -> u8 {
        self.0
    }
}
