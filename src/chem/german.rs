//! German names of substances, made from the English ones: `Kupfer(II)-sulfat-Pentahydrat`.

use crate::chem::Element;
use crate::words::Words;

/// The German name of a substance by the English one that its formula has; `None` where no rule covers it.
pub(super) fn of(english: &str, words: &Words) -> Option<String> {
    if let Some((_, own)) = OWN_NAMES.iter().find(|(known, _)| *known == english) {
        return Some((*own).to_owned());
    }
    if let Some(ion) = english.strip_suffix(" ion") {
        return Some(format!("{}-Ion", one_ion(ion, words)?));
    }
    if let Some((dry, hydrate)) = english.rsplit_once(' ')
        && hydrate.ends_with("hydrate")
    {
        return Some(format!("{}-{}", of(dry, words)?, hydrate_suffix(hydrate)));
    }
    match english.split_once(' ') {
        None => one_ion(english, words),
        // Behind a numeral stands a hyphen, otherwise nothing.
        Some((cation, anion)) => {
            let hyphen = if cation.ends_with(')') { "-" } else { "" };
            Some(format!(
                "{}{hyphen}{}",
                cation_name(cation, words)?,
                anion_name(anion)
            ))
        }
    }
}

/// `Pentahydrat` for `pentahydrate`.
pub(super) fn hydrate_suffix(english: &str) -> String {
    if let Some(number) = english.strip_suffix("-hydrate") {
        return format!("{number}-Hydrat");
    }
    capital(english.trim_end_matches('e'))
}

/// The name of an element, or of one ion by itself.
fn one_ion(english: &str, words: &Words) -> Option<String> {
    cation_name(english, words)
        .or_else(|| (!english.contains(' ')).then(|| capital(&anion_name(english))))
}

/// `Kupfer(II)` for `copper(II)`.
fn cation_name(english: &str, words: &Words) -> Option<String> {
    if matches!(english, "ammonium" | "oxonium") {
        return Some(capital(english));
    }
    let (element, numeral) = match english.find('(') {
        Some(at) => english.split_at(at),
        None => (english, ""),
    };
    Element::from_name(element)?;
    Some(format!("{}{numeral}", words.say(element)))
}

/// German anions lack the last letter of the English ones, but for one.
fn anion_name(english: &str) -> String {
    match english {
        "formate" => "formiat".to_owned(),
        usual => usual.trim_end_matches('e').to_owned(),
    }
}

fn capital(text: &str) -> String {
    let mut characters = text.chars();
    let first = characters.next().map(|first| first.to_ascii_uppercase());
    first.into_iter().chain(characters).collect()
}

/// Substances whose name follows no rule of cation and anion: English, German.
const OWN_NAMES: &[(&str, &str)] = &[
    ("water", "Wasser"),
    ("hydrogen peroxide", "Wasserstoffperoxid"),
    ("ozone", "Ozon"),
    ("carbon monoxide", "Kohlenstoffmonoxid"),
    ("carbon dioxide", "Kohlenstoffdioxid"),
    ("carbon disulfide", "Kohlenstoffdisulfid"),
    ("tetrachloromethane", "Tetrachlormethan"),
    ("nitrogen monoxide", "Stickstoffmonoxid"),
    ("nitrogen dioxide", "Stickstoffdioxid"),
    ("dinitrogen monoxide", "Distickstoffmonoxid"),
    ("dinitrogen tetraoxide", "Distickstofftetraoxid"),
    ("dinitrogen pentaoxide", "Distickstoffpentaoxid"),
    ("ammonia", "Ammoniak"),
    ("hydrazine", "Hydrazin"),
    ("sulfur dioxide", "Schwefeldioxid"),
    ("sulfur trioxide", "Schwefeltrioxid"),
    ("sulfur hexafluoride", "Schwefelhexafluorid"),
    ("silicon dioxide", "Siliciumdioxid"),
    ("silicon tetrachloride", "Siliciumtetrachlorid"),
    ("phosphane", "Phosphan"),
    ("phosphorus trichloride", "Phosphortrichlorid"),
    ("phosphorus pentachloride", "Phosphorpentachlorid"),
    ("tetraphosphorus decaoxide", "Tetraphosphordecaoxid"),
    ("boron trifluoride", "Bortrifluorid"),
    ("hydrogen fluoride", "Fluorwasserstoff"),
    ("hydrogen chloride", "Chlorwasserstoff"),
    ("hydrogen bromide", "Bromwasserstoff"),
    ("hydrogen iodide", "Iodwasserstoff"),
    ("hydrogen cyanide", "Cyanwasserstoff"),
    ("hydrogen sulfide", "Schwefelwasserstoff"),
    ("nitrous acid", "Salpetrige Säure"),
    ("nitric acid", "Salpetersäure"),
    ("sulfurous acid", "Schweflige Säure"),
    ("sulfuric acid", "Schwefelsäure"),
    ("phosphoric acid", "Phosphorsäure"),
    ("phosphonic acid", "Phosphonsäure"),
    ("carbonic acid", "Kohlensäure"),
    ("boric acid", "Borsäure"),
    ("hypochlorous acid", "Hypochlorige Säure"),
    ("chlorous acid", "Chlorige Säure"),
    ("chloric acid", "Chlorsäure"),
    ("perchloric acid", "Perchlorsäure"),
    ("iodic acid", "Iodsäure"),
    ("formic acid", "Ameisensäure"),
    ("acetic acid", "Essigsäure"),
    ("oxalic acid", "Oxalsäure"),
    ("methane", "Methan"),
    ("ethane", "Ethan"),
    ("propane", "Propan"),
    ("ethene", "Ethen"),
    ("ethyne", "Ethin"),
    ("methanol", "Methanol"),
    ("ethanol", "Ethanol"),
    ("urea", "Harnstoff"),
    ("aluminium potassium sulfate", "Aluminiumkaliumsulfat"),
    ("aluminium ammonium sulfate", "Aluminiumammoniumsulfat"),
    ("chromium(III) potassium sulfate", "Chrom(III)-kaliumsulfat"),
    ("ammonium iron(II) sulfate", "Ammoniumeisen(II)-sulfat"),
    ("ammonium iron(III) sulfate", "Ammoniumeisen(III)-sulfat"),
    (
        "potassium hexacyanidoferrate(II)",
        "Kaliumhexacyanidoferrat(II)",
    ),
    (
        "potassium hexacyanidoferrate(III)",
        "Kaliumhexacyanidoferrat(III)",
    ),
    ("hydrofluoric acid", "Flusssäure"),
    ("hydrochloric acid", "Salzsäure"),
    ("hydrobromic acid", "Bromwasserstoffsäure"),
    ("hydroiodic acid", "Iodwasserstoffsäure"),
    ("hydrocyanic acid", "Blausäure"),
    ("electron", "Elektron"),
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::chem::Formula;
    use crate::chem::name;

    /// Worked by hand from the rules of German school books: every formula of the samples, and one of each kind besides.
    #[test]
    fn names() {
        let words = Words::of("de").unwrap();
        for (formula, expected) in [
            ("Zn", "Zink"),
            ("Cu", "Kupfer"),
            ("Fe", "Eisen"),
            ("Mg", "Magnesium"),
            ("Al", "Aluminium"),
            ("Ag", "Silber"),
            ("O2", "Sauerstoff"),
            ("H2(g)", "Wasserstoff"),
            ("I2", "Iod"),
            ("H2O", "Wasser"),
            ("CO2(g)", "Kohlenstoffdioxid"),
            ("HCl(aq)", "Salzsäure"),
            ("HCl(g)", "Chlorwasserstoff"),
            ("H2SO4(aq)", "Schwefelsäure"),
            ("CuSO4", "Kupfer(II)-sulfat"),
            ("CuSO4·5H2O", "Kupfer(II)-sulfat-Pentahydrat"),
            ("CuCl2", "Kupfer(II)-chlorid"),
            ("CuCl2·2H2O", "Kupfer(II)-chlorid-Dihydrat"),
            ("CuO", "Kupfer(II)-oxid"),
            ("Cu(OH)2", "Kupfer(II)-hydroxid"),
            ("Cu(NO3)2", "Kupfer(II)-nitrat"),
            ("ZnSO4", "Zinksulfat"),
            ("ZnI2", "Zinkiodid"),
            ("FeSO4", "Eisen(II)-sulfat"),
            ("Fe2(SO4)3", "Eisen(III)-sulfat"),
            ("FeCl2", "Eisen(II)-chlorid"),
            ("FeCl3", "Eisen(III)-chlorid"),
            ("AlCl3", "Aluminiumchlorid"),
            ("AgNO3", "Silbernitrat"),
            ("MgO", "Magnesiumoxid"),
            ("MgCl2", "Magnesiumchlorid"),
            ("MgSO4", "Magnesiumsulfat"),
            ("MgSO4·xH2O", "Magnesiumsulfat-Hydrat"),
            ("NaCl", "Natriumchlorid"),
            ("NaHCO3", "Natriumhydrogencarbonat"),
            ("Na2CO3", "Natriumcarbonat"),
            ("Na2SO4", "Natriumsulfat"),
            ("Na3PO4", "Natriumphosphat"),
            ("Na3PO4·12H2O", "Natriumphosphat-Dodecahydrat"),
            ("CaCl2", "Calciumchlorid"),
            ("CaCl2·2H2O", "Calciumchlorid-Dihydrat"),
            ("CaCO3", "Calciumcarbonat"),
            ("Ca3(PO4)2", "Calciumphosphat"),
            ("Fe3O4", "Eisen(II,III)-oxid"),
            ("(NH4)2SO4", "Ammoniumsulfat"),
            ("Na2O2", "Natriumperoxid"),
            ("NaHCOO", "Natriumformiat"),
            ("KMnO4", "Kaliumpermanganat"),
            ("S8", "Schwefel"),
            ("Hg2Cl2", "Quecksilber(I)-chlorid"),
            ("KAl(SO4)2·12H2O", "Aluminiumkaliumsulfat-Dodecahydrat"),
            ("Al2(SO4)3·18H2O", "Aluminiumsulfat-18-Hydrat"),
            ("Cu^2+", "Kupfer(II)-Ion"),
            ("SO4^2-", "Sulfat-Ion"),
            ("NH4+", "Ammonium-Ion"),
            ("C9H8O4", ""),
        ] {
            let name = name::in_language(&Formula::parse(formula).unwrap(), &words);
            assert_eq!(name.unwrap_or_default(), expected, "{formula}");
        }
    }

    #[test]
    fn every_name_of_its_own_is_said_in_german() {
        let words = Words::of("de").unwrap();
        for (formula, english) in name::own_names() {
            let german = of(english, &words).unwrap_or_else(|| panic!("{formula}"));
            assert!(german.starts_with(char::is_uppercase), "{german}");
        }
        for (english, german) in OWN_NAMES {
            let known = name::own_names().any(|(_, own)| own == english);
            assert!(
                known || *english == "electron",
                "no formula is called {english}: {german}"
            );
        }
    }

    #[test]
    fn waters_stand_behind_a_hyphen() {
        let words = Words::of("de").unwrap();
        for (name, waters, expected) in [
            ("Kupfervitriol", 5, "Kupfervitriol-Pentahydrat"),
            ("Salz", 18, "Salz-18-Hydrat"),
            ("Salz", 1, "Salz-Monohydrat"),
            ("Salz", 0, "Salz"),
        ] {
            assert_eq!(name::with_waters(name, waters, &words), expected);
        }
    }
}
