//! Names of substances in words: `copper(II) sulfate pentahydrate` from its formula.

use crate::chem::Element;
use crate::chem::Formula;
use crate::chem::formula::State;
use crate::chem::german;
use crate::words::Words;

/// The usual name of a formula in a language, where a simple rule or a short table gives one: `Kupfer(II)-sulfat-Pentahydrat`.
#[must_use]
pub fn in_language(formula: &Formula, words: &Words) -> Option<String> {
    let name = of(formula)?;
    if words.code() == "de" {
        german::of(&name, words)
    } else {
        Some(name)
    }
}

/// A name with the words for `n` waters of crystallisation behind it: `copper(II) sulfate pentahydrate`.
#[must_use]
pub fn with_waters(name: &str, waters: u32, words: &Words) -> String {
    let suffix = hydrate_suffix(waters);
    if words.code() != "de" {
        format!("{name} {suffix}")
    } else if suffix.is_empty() {
        name.to_owned()
    } else {
        format!("{name}-{}", german::hydrate_suffix(&suffix))
    }
}

/// The usual English name of a formula, where a simple rule or a short table gives one.
///
/// A formula that could mean several substances, or one that no rule covers, has none: no name is
/// better than a wrong one.
#[must_use]
pub fn of(formula: &Formula) -> Option<String> {
    let (dry, waters) = formula.waters();
    let name = if dry.charge() == 0 {
        neutral(&dry)?
    } else {
        ion(&dry)?
    };
    Some(if formula.open_waters() {
        format!("{name} hydrate")
    } else if waters == 0 {
        name
    } else {
        format!("{name} {}", hydrate_suffix(waters))
    })
}

/// The words for `n` waters of crystallisation: `pentahydrate`.
#[must_use]
pub fn hydrate_suffix(waters: u32) -> String {
    const PREFIXES: [&str; 13] = [
        "", "mono", "di", "tri", "tetra", "penta", "hexa", "hepta", "octa", "nona", "deca",
        "undeca", "dodeca",
    ];
    match usize::try_from(waters)
        .ok()
        .and_then(|number| PREFIXES.get(number))
    {
        Some(&"") => String::new(),
        Some(prefix) => format!("{prefix}hydrate"),
        None => format!("{waters}-hydrate"),
    }
}

/// Substances that have a name of their own, by their formula as written.
const OWN_NAMES: &[(&str, &str)] = &[
    ("H2O", "water"),
    ("H2O2", "hydrogen peroxide"),
    ("O3", "ozone"),
    ("P4", "phosphorus"),
    ("S8", "sulfur"),
    ("CO", "carbon monoxide"),
    ("CO2", "carbon dioxide"),
    ("CS2", "carbon disulfide"),
    ("CCl4", "tetrachloromethane"),
    ("NO", "nitrogen monoxide"),
    ("NO2", "nitrogen dioxide"),
    ("N2O", "dinitrogen monoxide"),
    ("N2O4", "dinitrogen tetraoxide"),
    ("N2O5", "dinitrogen pentaoxide"),
    ("NH3", "ammonia"),
    ("N2H4", "hydrazine"),
    ("SO2", "sulfur dioxide"),
    ("SO3", "sulfur trioxide"),
    ("SF6", "sulfur hexafluoride"),
    ("SiO2", "silicon dioxide"),
    ("SiCl4", "silicon tetrachloride"),
    ("PH3", "phosphane"),
    ("PCl3", "phosphorus trichloride"),
    ("PCl5", "phosphorus pentachloride"),
    ("P4O10", "tetraphosphorus decaoxide"),
    ("BF3", "boron trifluoride"),
    ("HF", "hydrogen fluoride"),
    ("HCl", "hydrogen chloride"),
    ("HBr", "hydrogen bromide"),
    ("HI", "hydrogen iodide"),
    ("HCN", "hydrogen cyanide"),
    ("H2S", "hydrogen sulfide"),
    ("HNO2", "nitrous acid"),
    ("HNO3", "nitric acid"),
    ("H2SO3", "sulfurous acid"),
    ("H2SO4", "sulfuric acid"),
    ("H3PO4", "phosphoric acid"),
    ("H3PO3", "phosphonic acid"),
    ("H2CO3", "carbonic acid"),
    ("H3BO3", "boric acid"),
    ("HClO", "hypochlorous acid"),
    ("HClO2", "chlorous acid"),
    ("HClO3", "chloric acid"),
    ("HClO4", "perchloric acid"),
    ("HIO3", "iodic acid"),
    ("HCOOH", "formic acid"),
    ("CH3COOH", "acetic acid"),
    ("CH3CO2H", "acetic acid"),
    ("HC2H3O2", "acetic acid"),
    ("HCH3COO", "acetic acid"),
    ("H2C2O4", "oxalic acid"),
    ("(COOH)2", "oxalic acid"),
    ("CH4", "methane"),
    ("C2H6", "ethane"),
    ("C3H8", "propane"),
    ("C2H4", "ethene"),
    ("C2H2", "ethyne"),
    ("CH3OH", "methanol"),
    ("C2H5OH", "ethanol"),
    ("CH3CH2OH", "ethanol"),
    ("CO(NH2)2", "urea"),
    ("(NH2)2CO", "urea"),
    ("Na2O2", "sodium peroxide"),
    ("BaO2", "barium peroxide"),
    ("Fe3O4", "iron(II,III) oxide"),
    ("Pb3O4", "lead(II,IV) oxide"),
    ("Mn3O4", "manganese(II,III) oxide"),
    ("Co3O4", "cobalt(II,III) oxide"),
    ("KAl(SO4)2", "aluminium potassium sulfate"),
    ("AlK(SO4)2", "aluminium potassium sulfate"),
    ("NH4Al(SO4)2", "aluminium ammonium sulfate"),
    ("KCr(SO4)2", "chromium(III) potassium sulfate"),
    ("(NH4)2Fe(SO4)2", "ammonium iron(II) sulfate"),
    ("Fe(NH4)2(SO4)2", "ammonium iron(II) sulfate"),
    ("NH4Fe(SO4)2", "ammonium iron(III) sulfate"),
    ("K4[Fe(CN)6]", "potassium hexacyanidoferrate(II)"),
    ("K4Fe(CN)6", "potassium hexacyanidoferrate(II)"),
    ("K3[Fe(CN)6]", "potassium hexacyanidoferrate(III)"),
    ("K3Fe(CN)6", "potassium hexacyanidoferrate(III)"),
];

/// Acids that take another name in water.
const IN_WATER: &[(&str, &str)] = &[
    ("HF", "hydrofluoric acid"),
    ("HCl", "hydrochloric acid"),
    ("HBr", "hydrobromic acid"),
    ("HI", "hydroiodic acid"),
    ("HCN", "hydrocyanic acid"),
];

/// Formulas with a name of their own, and acids in water.
#[cfg(test)]
pub(super) fn own_names() -> impl Iterator<Item = &'static (&'static str, &'static str)> {
    OWN_NAMES.iter().chain(IN_WATER)
}

/// Metals with the charges their ions have in school chemistry; one charge needs no numeral.
const METALS: &[(&str, &[i32])] = &[
    ("Li", &[1]),
    ("Na", &[1]),
    ("K", &[1]),
    ("Rb", &[1]),
    ("Cs", &[1]),
    ("Ag", &[1]),
    ("Be", &[2]),
    ("Mg", &[2]),
    ("Ca", &[2]),
    ("Sr", &[2]),
    ("Ba", &[2]),
    ("Zn", &[2]),
    ("Cd", &[2]),
    ("Al", &[3]),
    ("Ti", &[2, 3, 4]),
    ("V", &[2, 3, 4, 5]),
    ("Cr", &[2, 3, 6]),
    ("Mn", &[2, 3, 4, 7]),
    ("Fe", &[2, 3]),
    ("Co", &[2, 3]),
    ("Ni", &[2, 3]),
    ("Cu", &[1, 2]),
    ("Sn", &[2, 4]),
    ("Pb", &[2, 4]),
    ("Hg", &[2]),
    ("Pt", &[2, 4]),
    ("Au", &[1, 3]),
    ("Bi", &[3, 5]),
];

/// Metals named with a numeral although the table gives them one charge.
const ALWAYS_NUMBERED: &[&str] = &["Hg"];

/// Anions: formula, charge, name. One element with two charges or names: the usual one first.
const ANIONS: &[(&str, i32, &str)] = &[
    ("H", 1, "hydride"),
    ("F", 1, "fluoride"),
    ("Cl", 1, "chloride"),
    ("Br", 1, "bromide"),
    ("I", 1, "iodide"),
    ("O", 2, "oxide"),
    ("S", 2, "sulfide"),
    ("Se", 2, "selenide"),
    ("N", 3, "nitride"),
    ("P", 3, "phosphide"),
    ("N3", 1, "azide"),
    ("OH", 1, "hydroxide"),
    ("CN", 1, "cyanide"),
    ("SCN", 1, "thiocyanate"),
    ("NCS", 1, "thiocyanate"),
    ("OCN", 1, "cyanate"),
    ("NO2", 1, "nitrite"),
    ("NO3", 1, "nitrate"),
    ("ClO", 1, "hypochlorite"),
    ("OCl", 1, "hypochlorite"),
    ("ClO2", 1, "chlorite"),
    ("ClO3", 1, "chlorate"),
    ("ClO4", 1, "perchlorate"),
    ("BrO3", 1, "bromate"),
    ("IO3", 1, "iodate"),
    ("IO4", 1, "periodate"),
    ("MnO4", 1, "permanganate"),
    ("MnO4", 2, "manganate"),
    ("HCO3", 1, "hydrogencarbonate"),
    ("CO3", 2, "carbonate"),
    ("HSO3", 1, "hydrogensulfite"),
    ("SO3", 2, "sulfite"),
    ("HSO4", 1, "hydrogensulfate"),
    ("SO4", 2, "sulfate"),
    ("S2O3", 2, "thiosulfate"),
    ("S4O6", 2, "tetrathionate"),
    ("S2O8", 2, "peroxodisulfate"),
    ("HS", 1, "hydrogensulfide"),
    ("CrO4", 2, "chromate"),
    ("Cr2O7", 2, "dichromate"),
    ("C2O4", 2, "oxalate"),
    ("HC2O4", 1, "hydrogenoxalate"),
    ("SiO3", 2, "silicate"),
    ("H2PO4", 1, "dihydrogenphosphate"),
    ("HPO4", 2, "hydrogenphosphate"),
    ("PO4", 3, "phosphate"),
    ("AsO4", 3, "arsenate"),
    ("BO3", 3, "borate"),
    ("CH3COO", 1, "acetate"),
    ("CH3CO2", 1, "acetate"),
    ("C2H3O2", 1, "acetate"),
    ("HCOO", 1, "formate"),
];

/// The name of a substance without charge and waters.
fn neutral(formula: &Formula) -> Option<String> {
    let text = formula.plain();
    let look_up = |table: &[(&str, &str)]| {
        table
            .iter()
            .find(|(known, _)| *known == text)
            .map(|(_, name)| (*name).to_owned())
    };
    let dissolved = formula.state() == Some(State::Aqueous);
    let in_water = if dissolved { look_up(IN_WATER) } else { None };
    in_water
        .or_else(|| look_up(OWN_NAMES))
        .or_else(|| element(formula))
        .or_else(|| salt(text))
}

/// The name of an element as it occurs: copper, but oxygen only as O2.
fn element(formula: &Formula) -> Option<String> {
    let [(element, count)] = formula.atoms() else {
        return None;
    };
    let in_pairs = matches!(element.symbol(), "H" | "N" | "O" | "F" | "Cl" | "Br" | "I");
    (*count == if in_pairs { 2 } else { 1 }).then(|| element.name().to_owned())
}

/// The name of a cation with its anion, when their charges come out even.
fn salt(text: &str) -> Option<String> {
    for (anion, charge, name) in ANIONS {
        let Some((cation, number)) = split_anion(text, anion) else {
            continue;
        };
        if let Some(cation) = cation_name(cation, charge * number) {
            return Some(format!("{cation} {name}"));
        }
    }
    None
}

/// What stands before an anion at the end of a formula, and how many of it there are.
fn split_anion<'a>(text: &'a str, anion: &str) -> Option<(&'a str, i32)> {
    let single = anion.len() <= 2 && Element::from_symbol(anion).is_some();
    let before = text.trim_end_matches(|c: char| c.is_ascii_digit());
    let number = || {
        if before.len() < text.len() {
            text[before.len()..].parse().ok()
        } else {
            Some(1)
        }
    };
    if let Some(inner) = before.strip_suffix(')') {
        let cation = inner.strip_suffix(anion)?.strip_suffix('(')?;
        return Some((cation, number()?));
    }
    if single {
        return Some((before.strip_suffix(anion)?, number()?));
    }
    Some((text.strip_suffix(anion)?, 1))
}

/// The name of the cations that carry a total charge together.
fn cation_name(text: &str, total: i32) -> Option<String> {
    if matches!(text, "NH4" | "(NH4)") {
        return (total == 1).then(|| "ammonium".to_owned());
    }
    if let Some(number) = text.strip_prefix("(NH4)") {
        return (number.parse() == Ok(total)).then(|| "ammonium".to_owned());
    }
    if text == "Hg2" && total == 2 {
        return Some("mercury(I)".into());
    }
    let symbol = text.trim_end_matches(|c: char| c.is_ascii_digit());
    let number: i32 = if symbol.len() < text.len() {
        text[symbol.len()..].parse().ok()?
    } else {
        1
    };
    if number <= 0 || total % number != 0 {
        return None;
    }
    metal_ion(symbol, total / number)
}

/// `copper(II)`, `zinc`.
fn metal_ion(symbol: &str, charge: i32) -> Option<String> {
    let (_, charges) = METALS.iter().find(|(metal, _)| *metal == symbol)?;
    if !charges.contains(&charge) {
        return None;
    }
    let name = Element::from_symbol(symbol)?.name();
    if charges.len() == 1 && !ALWAYS_NUMBERED.contains(&symbol) {
        return Some(name.to_owned());
    }
    let numeral =
        ["I", "II", "III", "IV", "V", "VI", "VII"][usize::try_from(charge - 1).ok()?.min(6)];
    Some(format!("{name}({numeral})"))
}

/// The name of an ion: `copper(II) ion`, `sulfate ion`, `electron`.
fn ion(formula: &Formula) -> Option<String> {
    let (text, _) = formula.plain().split_once('^')?;
    let charge = formula.charge();
    let name = match (text, charge) {
        ("e", -1) => return Some("electron".into()),
        ("H", 1) => "hydrogen".to_owned(),
        ("H3O", 1) => "oxonium".to_owned(),
        _ if charge > 0 => cation_name(text, charge)?,
        _ => ANIONS
            .iter()
            .find(|(anion, size, _)| *anion == text && -size == charge)?
            .2
            .to_owned(),
    };
    Some(format!("{name} ion"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names() {
        for (formula, name) in [
            ("Zn", "zinc"),
            ("Al", "aluminium"),
            ("O2(g)", "oxygen"),
            ("H2O", "water"),
            ("HCl(g)", "hydrogen chloride"),
            ("HCl(aq)", "hydrochloric acid"),
            ("CuSO4", "copper(II) sulfate"),
            ("CuSO4.5H2O", "copper(II) sulfate pentahydrate"),
            ("CuCl2·2H2O", "copper(II) chloride dihydrate"),
            ("CuCl", "copper(I) chloride"),
            ("Cu2O", "copper(I) oxide"),
            ("ZnSO4", "zinc sulfate"),
            ("FeCl2", "iron(II) chloride"),
            ("Fe2(SO4)3", "iron(III) sulfate"),
            ("FeCl3·6H2O", "iron(III) chloride hexahydrate"),
            ("Fe3O4", "iron(II,III) oxide"),
            ("AlCl3", "aluminium chloride"),
            ("Al2(SO4)3", "aluminium sulfate"),
            ("NaHCO3", "sodium hydrogencarbonate"),
            ("Na2CO3·10H2O", "sodium carbonate decahydrate"),
            ("MgO", "magnesium oxide"),
            ("Mg3N2", "magnesium nitride"),
            ("Ca(OH)2", "calcium hydroxide"),
            ("Ca3(PO4)2", "calcium phosphate"),
            ("KMnO4", "potassium permanganate"),
            ("K2MnO4", "potassium manganate"),
            ("MnO2", "manganese(IV) oxide"),
            ("NH4Cl", "ammonium chloride"),
            ("(NH4)2SO4", "ammonium sulfate"),
            ("NH4NO3", "ammonium nitrate"),
            ("Pb(CH3COO)2·3H2O", "lead(II) acetate trihydrate"),
            ("NaC2H3O2", "sodium acetate"),
            ("HC2H3O2", "acetic acid"),
            ("NaN3", "sodium azide"),
            ("Hg2Cl2", "mercury(I) chloride"),
            ("HgO", "mercury(II) oxide"),
            ("AgNO3", "silver nitrate"),
            (
                "KAl(SO4)2·12H2O",
                "aluminium potassium sulfate dodecahydrate",
            ),
            ("Cu^2+", "copper(II) ion"),
            ("Na+", "sodium ion"),
            ("NH4+", "ammonium ion"),
            ("SO4^2-", "sulfate ion"),
            ("e-", "electron"),
        ] {
            assert_eq!(
                of(&Formula::parse(formula).unwrap()).as_deref(),
                Some(name),
                "{formula}"
            );
        }
    }

    #[test]
    fn no_name_rather_than_a_wrong_one() {
        for formula in [
            "O", "Cl", "Na2", "NaCl2", "CuCl3", "FeS2", "FeO2", "HgCl", "C9H8O4", "C2H4O2", "Xx2",
        ] {
            let Ok(formula) = Formula::parse(formula) else {
                continue;
            };
            assert_eq!(of(&formula), None, "{}", formula.plain());
        }
    }

    #[test]
    fn hydrate_words() {
        for (waters, words) in [
            (0, ""),
            (1, "monohydrate"),
            (2, "dihydrate"),
            (5, "pentahydrate"),
            (12, "dodecahydrate"),
            (18, "18-hydrate"),
        ] {
            assert_eq!(hydrate_suffix(waters), words);
        }
        assert_eq!(hydrate_suffix(u32::MAX), "4294967295-hydrate");
    }
}
