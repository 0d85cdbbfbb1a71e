//! What columns of a table are called besides the names of their boxes: by web forms, and by people in several languages.

/// Columns that web forms add: usual headings, common practice, no source.
pub(super) const SENDING: &[&str] = &[
    "timestamp",
    "time stamp",
    "submitted",
    "submitted at",
    "submission date",
    "submission time",
    "start time",
    "completion time",
    "last modified time",
    "email",
    "e mail",
    "email address",
    "e mail address",
    "username",
    "user name",
    "ip address",
    "response id",
    "id",
    "zeitstempel",
    "startzeit",
    "fertigstellungszeit",
    "benutzername",
    "horodateur",
    "marca temporal",
];

/// Words of which one in a heading says that the column holds an address, in whatever language the rest is.
pub(super) const ADDRESS: &[&str] = &[
    "mail",
    "email",
    "mails",
    "emailadresse",
    "mailadresse",
    "courriel",
    "correo",
];

/// Further words for the names of a group.
pub(super) const WHOSE: &[&str] = &[
    "names of the group",
    "names of group members",
    "members of the group",
    "group members",
    "student names",
    "namen der gruppe",
    "gruppenmitglieder",
];

/// The words for what a day has beside its readings, in one language.
pub(super) struct DayWords {
    /// The day.
    pub day: &'static str,
    /// Its date.
    pub date: &'static [&'static str],
    /// What was seen.
    pub seen: &'static [&'static str],
    /// The question about it, which what there is to notice may follow.
    pub asks: &'static str,
}

/// Every language's.
pub(super) const DAYS: &[DayWords] = &[
    DayWords {
        day: "day",
        date: &["date"],
        seen: &["seen", "what did you see", "observations", "observed"],
        asks: "what did you see",
    },
    DayWords {
        day: "tag",
        date: &["datum"],
        seen: &[
            "gesehen",
            "was habt ihr gesehen",
            "beobachtungen",
            "beobachtung",
        ],
        asks: "was habt ihr gesehen",
    },
];
