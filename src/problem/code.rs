//! The closed list of problem codes.

/// What kind of problem.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "each code is described by `Code::about`")]
pub enum Code {
    Syntax,
    MissingKey,
    UnknownKey,
    WrongShape,
    UnknownName,
    UnknownStep,
    UnitMismatch,
    MissingBefore,
    CircularFind,
    SubstanceNotInEquation,
    OddResult,
    ImpossibleResult,
    Expression,
    Formula,
    Equation,
    SubstanceKey,
    WeighedAs,
    UnknownHazard,
    DuplicateName,
    InstrumentNeeded,
    UnknownInstrument,
    UnknownWord,
    NotANumber,
    NotALab,
    NotARecord,
    LabNotFound,
    Encoding,
    NotText,
    OddSpace,
    CurlyQuotes,
    MissingQuote,
    BareValue,
    BlankValue,
    QuoteInside,
    Backslash,
    MissingBracket,
    MissingComma,
    SpaceInName,
    TooManyProblems,
    MissingEquals,
    DoubledKey,
    UnknownSection,
    UnknownReading,
    UnknownSign,
    UnknownCause,
    Reading,
    WrongUnit,
    WrongDay,
    CommentedData,
    LighterThanEmpty,
    NegativeVolume,
    OddAmount,
    OddTemperature,
    DryingRises,
    NotConstant,
    OneDrying,
    LostWeighing,
    FewDecimals,
    UnevenDecimals,
    SameNumber,
    DatesOutOfOrder,
    LongPause,
    ReadingsOf,
    Answer,
    AnswerUnit,
}

impl Code {
    /// Every code.
    pub const ALL: &'static [Self] = &[
        Self::Syntax,
        Self::MissingKey,
        Self::UnknownKey,
        Self::WrongShape,
        Self::UnknownName,
        Self::UnknownStep,
        Self::UnitMismatch,
        Self::MissingBefore,
        Self::CircularFind,
        Self::SubstanceNotInEquation,
        Self::OddResult,
        Self::ImpossibleResult,
        Self::Expression,
        Self::Formula,
        Self::Equation,
        Self::SubstanceKey,
        Self::WeighedAs,
        Self::UnknownHazard,
        Self::DuplicateName,
        Self::InstrumentNeeded,
        Self::UnknownInstrument,
        Self::UnknownWord,
        Self::NotANumber,
        Self::NotALab,
        Self::NotARecord,
        Self::LabNotFound,
        Self::Encoding,
        Self::NotText,
        Self::OddSpace,
        Self::CurlyQuotes,
        Self::MissingQuote,
        Self::BareValue,
        Self::BlankValue,
        Self::QuoteInside,
        Self::Backslash,
        Self::MissingBracket,
        Self::MissingComma,
        Self::SpaceInName,
        Self::TooManyProblems,
        Self::MissingEquals,
        Self::DoubledKey,
        Self::UnknownSection,
        Self::UnknownReading,
        Self::UnknownSign,
        Self::UnknownCause,
        Self::Reading,
        Self::WrongUnit,
        Self::WrongDay,
        Self::CommentedData,
        Self::LighterThanEmpty,
        Self::NegativeVolume,
        Self::OddAmount,
        Self::OddTemperature,
        Self::DryingRises,
        Self::NotConstant,
        Self::OneDrying,
        Self::LostWeighing,
        Self::FewDecimals,
        Self::UnevenDecimals,
        Self::SameNumber,
        Self::DatesOutOfOrder,
        Self::LongPause,
        Self::ReadingsOf,
        Self::Answer,
        Self::AnswerUnit,
    ];

    /// The code as printed and in JSON (plain words in kebab case), and what it means.
    const fn entry(self) -> (&'static str, &'static str) {
        match self {
            Self::Syntax => ("syntax", "the file is not TOML where the caret points"),
            Self::MissingKey => ("missing-key", "a line that must be there is not"),
            Self::UnknownKey => ("unknown-key", "a name this place has no use for"),
            Self::WrongShape => ("wrong-shape", "a list where a text belongs, or the like"),
            Self::UnknownName => ("unknown-name", "an expression names nothing known"),
            Self::UnknownStep => ("unknown-step", "no such step in this lab"),
            Self::UnitMismatch => ("unit-mismatch", "units that do not go together"),
            Self::MissingBefore => ("missing-before", "a reactant without an amount"),
            Self::CircularFind => ("circular-find", "a quantity that needs its own value"),
            Self::SubstanceNotInEquation => (
                "substance-not-in-equation",
                "a substance the equation does not have",
            ),
            Self::OddResult => ("odd-result", "a result that few experiments give"),
            Self::ImpossibleResult => ("impossible-result", "a result that no experiment gives"),
            Self::Expression => ("expression", "an expression that cannot be read"),
            Self::Formula => ("formula", "a formula that cannot be read"),
            Self::Equation => ("equation", "an equation that cannot be read or balanced"),
            Self::SubstanceKey => (
                "substance-key",
                "a substance's name that is not lower-case letters and digits",
            ),
            Self::WeighedAs => (
                "weighed-as",
                "a form weighed that is not the formula plus water",
            ),
            Self::UnknownHazard => ("unknown-hazard", "a hazard code that does not exist"),
            Self::DuplicateName => ("duplicate-name", "one name for two things"),
            Self::InstrumentNeeded => (
                "instrument-needed",
                "two instruments read that unit, and none is named",
            ),
            Self::UnknownInstrument => ("unknown-instrument", "no such instrument"),
            Self::UnknownWord => (
                "unknown-word",
                "a word that is none of those this place knows",
            ),
            Self::NotANumber => ("not-a-number", "a value that cannot be read as a number"),
            Self::NotALab => ("not-a-lab", "the file is no lab description"),
            Self::NotARecord => ("not-a-record", "the file is no data file"),
            Self::LabNotFound => (
                "lab-not-found",
                "the lab of a data file is nowhere to be found",
            ),
            Self::Encoding => ("encoding", "bytes that are not UTF-8 text"),
            Self::NotText => ("not-text", "the file is a word processor's, not plain text"),
            Self::OddSpace => (
                "odd-space",
                "invisible or non-breaking spaces between the words of the form",
            ),
            Self::CurlyQuotes => (
                "curly-quotes",
                "curly quote marks where straight ones belong",
            ),
            Self::MissingQuote => ("missing-quote", "a quote mark is missing"),
            Self::BareValue => ("bare-value", "a value that stands outside quote marks"),
            Self::BlankValue => ("blank-value", "nothing behind an equals sign"),
            Self::QuoteInside => ("quote-inside", "text behind the closing quote mark"),
            Self::Backslash => ("backslash", "a backslash between double quote marks"),
            Self::MissingBracket => ("missing-bracket", "a bracket is missing"),
            Self::MissingComma => ("missing-comma", "a comma is missing in a list"),
            Self::SpaceInName => ("space-in-name", "a name with a space in it"),
            Self::TooManyProblems => (
                "too-many-problems",
                "more slips of typing than are worth listing",
            ),
            Self::MissingEquals => ("missing-equals", "an equals sign is missing"),
            Self::DoubledKey => ("doubled-key", "two lines of one name"),
            Self::UnknownSection => ("unknown-section", "no such section"),
            Self::UnknownReading => ("unknown-reading", "no such reading in this lab"),
            Self::UnknownSign => ("unknown-sign", "no such question in this lab"),
            Self::UnknownCause => ("unknown-cause", "no cause of that name"),
            Self::Reading => ("reading", "a reading that cannot be understood"),
            Self::WrongUnit => ("wrong-unit", "a unit of the wrong kind"),
            Self::WrongDay => ("wrong-day", "a reading under another day than the lab's"),
            Self::CommentedData => ("commented-data", "a comment that looks like data"),
            Self::LighterThanEmpty => (
                "lighter-than-empty",
                "a full vessel that weighs no more than the empty one",
            ),
            Self::NegativeVolume => ("negative-volume", "a volume below zero"),
            Self::OddAmount => ("odd-amount", "an unusually small or large amount"),
            Self::OddTemperature => ("odd-temperature", "a temperature that no school lab has"),
            Self::DryingRises => ("drying-rises", "a drying series that gains mass"),
            Self::NotConstant => (
                "not-constant",
                "the last drying still took off more than the limit",
            ),
            Self::LostWeighing => ("lost-weighing", "the last weighing of a series is lost"),
            Self::OneDrying => ("one-drying", "only one weighing of a drying series"),
            Self::FewDecimals => ("few-decimals", "fewer digits than the instrument shows"),
            Self::UnevenDecimals => (
                "uneven-decimals",
                "readings of one instrument with different numbers of decimals",
            ),
            Self::SameNumber => ("same-number", "two different objects with the same mass"),
            Self::DatesOutOfOrder => ("dates-out-of-order", "a later day with an earlier date"),
            Self::LongPause => ("long-pause", "more than a week between two days"),
            Self::ReadingsOf => ("readings-of", "the group's file cannot be used"),
            Self::Answer => ("answer", "an answer that cannot be understood"),
            Self::AnswerUnit => ("answer-unit", "an answer with a unit of another kind"),
        }
    }

    /// The code as printed and in JSON: plain words in kebab case.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        self.entry().0
    }

    /// What it means, in a few words.
    #[must_use]
    pub const fn about(self) -> &'static str {
        self.entry().1
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    #[test]
    fn names_are_unique_kebab_case_and_described() {
        let names: BTreeSet<&str> = Code::ALL.iter().map(|code| code.as_str()).collect();
        assert_eq!(names.len(), Code::ALL.len());
        for code in Code::ALL {
            assert!(
                code.as_str()
                    .bytes()
                    .all(|b| b.is_ascii_lowercase() || b == b'-'),
                "{code:?}"
            );
            assert!(!code.about().is_empty());
        }
    }
}
