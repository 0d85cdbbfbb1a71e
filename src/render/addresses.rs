//! Where links and pictures in prose may lead.

/// Whether a link may lead there: the web, mail, or a place relative to the page.
#[must_use]
pub(super) fn may_lead_to(address: &str) -> bool {
    scheme(address).is_none_or(|scheme| matches!(scheme.as_str(), "http" | "https" | "mailto"))
}

/// Whether a picture would have to be fetched from elsewhere.
pub(super) fn is_remote(address: &str) -> bool {
    let start = address.trim_start();
    scheme(address).is_some() || start.starts_with("//") || start.starts_with('\\')
}

/// The scheme of an address as a browser sees it, which skips blanks and control characters.
fn scheme(address: &str) -> Option<String> {
    let seen: String = address
        .chars()
        .filter(|c| !c.is_control() && !c.is_whitespace())
        .collect();
    let (scheme, _) = seen.split_once(':')?;
    (!scheme.contains(['/', '?', '#'])).then(|| scheme.to_ascii_lowercase())
}
