//! The chemical elements: symbol, name, atomic number.

/// An element, by its atomic number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Element(u8);

impl Element {
    /// The element with a symbol, in its proper case.
    #[must_use]
    pub fn from_symbol(symbol: &str) -> Option<Self> {
        Self::all().find(|element| element.symbol() == symbol)
    }

    /// The element with an English name, in small letters: `copper`.
    #[must_use]
    pub fn from_name(name: &str) -> Option<Self> {
        let name = match name {
            "aluminum" => "aluminium",
            "sulphur" => "sulfur",
            "cesium" => "caesium",
            usual => usual,
        };
        Self::all().find(|element| element.name() == name)
    }

    /// All elements, by atomic number.
    pub fn all() -> impl Iterator<Item = Self> {
        (1..).map(Self).take(ELEMENTS.len())
    }

    /// `Cu`.
    #[must_use]
    pub fn symbol(self) -> &'static str {
        ELEMENTS[usize::from(self.0 - 1)].0
    }

    /// `copper`.
    #[must_use]
    pub fn name(self) -> &'static str {
        ELEMENTS[usize::from(self.0 - 1)].1
    }

    /// 29 for copper.
    #[must_use]
    pub const fn atomic_number(self) -> u8 {
        self.0
    }

    /// Whether it is a metal.
    ///
    /// Elements between metals and non-metals — boron, silicon, germanium, arsenic, antimony, tellurium and astatine — count
    /// as no metals, and so do tennessine and oganesson, below halogens and noble gases; polonium is a metal (common
    /// practice: there is no agreed list).
    #[must_use]
    pub fn is_metal(self) -> bool {
        !NO_METALS.contains(&self.symbol())
    }
}

/// Elements that are no metals, by symbol.
const NO_METALS: [&str; 26] = [
    "H", "He", "B", "C", "N", "O", "F", "Ne", "Si", "P", "S", "Cl", "Ar", "Ge", "As", "Se", "Br",
    "Kr", "Sb", "Te", "I", "Xe", "At", "Rn", "Ts", "Og",
];

/// Symbols and names as IUPAC spells them, in order of atomic number.
const ELEMENTS: [(&str, &str); 118] = [
    ("H", "hydrogen"),
    ("He", "helium"),
    ("Li", "lithium"),
    ("Be", "beryllium"),
    ("B", "boron"),
    ("C", "carbon"),
    ("N", "nitrogen"),
    ("O", "oxygen"),
    ("F", "fluorine"),
    ("Ne", "neon"),
    ("Na", "sodium"),
    ("Mg", "magnesium"),
    ("Al", "aluminium"),
    ("Si", "silicon"),
    ("P", "phosphorus"),
    ("S", "sulfur"),
    ("Cl", "chlorine"),
    ("Ar", "argon"),
    ("K", "potassium"),
    ("Ca", "calcium"),
    ("Sc", "scandium"),
    ("Ti", "titanium"),
    ("V", "vanadium"),
    ("Cr", "chromium"),
    ("Mn", "manganese"),
    ("Fe", "iron"),
    ("Co", "cobalt"),
    ("Ni", "nickel"),
    ("Cu", "copper"),
    ("Zn", "zinc"),
    ("Ga", "gallium"),
    ("Ge", "germanium"),
    ("As", "arsenic"),
    ("Se", "selenium"),
    ("Br", "bromine"),
    ("Kr", "krypton"),
    ("Rb", "rubidium"),
    ("Sr", "strontium"),
    ("Y", "yttrium"),
    ("Zr", "zirconium"),
    ("Nb", "niobium"),
    ("Mo", "molybdenum"),
    ("Tc", "technetium"),
    ("Ru", "ruthenium"),
    ("Rh", "rhodium"),
    ("Pd", "palladium"),
    ("Ag", "silver"),
    ("Cd", "cadmium"),
    ("In", "indium"),
    ("Sn", "tin"),
    ("Sb", "antimony"),
    ("Te", "tellurium"),
    ("I", "iodine"),
    ("Xe", "xenon"),
    ("Cs", "caesium"),
    ("Ba", "barium"),
    ("La", "lanthanum"),
    ("Ce", "cerium"),
    ("Pr", "praseodymium"),
    ("Nd", "neodymium"),
    ("Pm", "promethium"),
    ("Sm", "samarium"),
    ("Eu", "europium"),
    ("Gd", "gadolinium"),
    ("Tb", "terbium"),
    ("Dy", "dysprosium"),
    ("Ho", "holmium"),
    ("Er", "erbium"),
    ("Tm", "thulium"),
    ("Yb", "ytterbium"),
    ("Lu", "lutetium"),
    ("Hf", "hafnium"),
    ("Ta", "tantalum"),
    ("W", "tungsten"),
    ("Re", "rhenium"),
    ("Os", "osmium"),
    ("Ir", "iridium"),
    ("Pt", "platinum"),
    ("Au", "gold"),
    ("Hg", "mercury"),
    ("Tl", "thallium"),
    ("Pb", "lead"),
    ("Bi", "bismuth"),
    ("Po", "polonium"),
    ("At", "astatine"),
    ("Rn", "radon"),
    ("Fr", "francium"),
    ("Ra", "radium"),
    ("Ac", "actinium"),
    ("Th", "thorium"),
    ("Pa", "protactinium"),
    ("U", "uranium"),
    ("Np", "neptunium"),
    ("Pu", "plutonium"),
    ("Am", "americium"),
    ("Cm", "curium"),
    ("Bk", "berkelium"),
    ("Cf", "californium"),
    ("Es", "einsteinium"),
    ("Fm", "fermium"),
    ("Md", "mendelevium"),
    ("No", "nobelium"),
    ("Lr", "lawrencium"),
    ("Rf", "rutherfordium"),
    ("Db", "dubnium"),
    ("Sg", "seaborgium"),
    ("Bh", "bohrium"),
    ("Hs", "hassium"),
    ("Mt", "meitnerium"),
    ("Ds", "darmstadtium"),
    ("Rg", "roentgenium"),
    ("Cn", "copernicium"),
    ("Nh", "nihonium"),
    ("Fl", "flerovium"),
    ("Mc", "moscovium"),
    ("Lv", "livermorium"),
    ("Ts", "tennessine"),
    ("Og", "oganesson"),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_symbol_finds_its_own_element() {
        assert_eq!(Element::all().count(), 118);
        for element in Element::all() {
            assert_eq!(Element::from_symbol(element.symbol()), Some(element));
            assert_eq!(Element::from_name(element.name()), Some(element));
        }
    }

    #[test]
    fn numbers_and_names_agree_at_known_places() {
        for (symbol, name, number) in [
            ("H", "hydrogen", 1),
            ("Cu", "copper", 29),
            ("Pb", "lead", 82),
            ("Og", "oganesson", 118),
        ] {
            let element = Element::from_symbol(symbol).unwrap();
            assert_eq!((element.name(), element.atomic_number()), (name, number));
        }
        assert_eq!(Element::from_symbol("cu"), None);
        assert_eq!(Element::from_symbol("CU"), None);
        assert_eq!(Element::from_name("aluminum"), Element::from_symbol("Al"));
    }

    #[test]
    fn metals_are_told_from_what_is_between_and_from_non_metals() {
        let is_metal = |symbol: &str| Element::from_symbol(symbol).unwrap().is_metal();
        for symbol in [
            "Li", "Mg", "Al", "Fe", "Cu", "Zn", "Sn", "Pb", "Bi", "Po", "Lv", "U",
        ] {
            assert!(is_metal(symbol), "{symbol}");
        }
        for symbol in [
            "H", "C", "I", "B", "Si", "Ge", "As", "Sb", "Te", "At", "Ts", "Og",
        ] {
            assert!(!is_metal(symbol), "{symbol}");
        }
        assert_eq!(Element::all().filter(|one| !one.is_metal()).count(), 26);
    }
}
