//! The page around a document: the frame's places, the style and the policy that allows it, the language.

use sha2::Digest;
use sha2::Sha256;

use super::escape::html;
use super::markdown::Markdown;
use super::page::body;
use super::templates::TemplateError;
use crate::report::Document;

/// Places in the frame that are filled in, each once.
const PLACES: [&str; 4] = ["{{title}}", "{{policy}}", "{{style}}", "{{body}}"];

/// Places that a frame may leave out: the language's code, and the words of the link to the report.
const FURTHER_PLACES: [&str; 2] = ["{{language}}", "{{say \"Skip to the report\"}}"];

/// The page around the document: frame, style and policy, made once a run.
pub(super) struct Frame {
    /// The text before, between and behind the places, which name what fills them.
    parts: Vec<(String, Option<&'static str>)>,
    style: String,
    policy: String,
}

impl Frame {
    /// A frame with its style.
    ///
    /// # Errors
    /// When the frame lacks one of its places.
    pub(super) fn new(frame: &str, style: &str) -> Result<Self, TemplateError> {
        let wrong = |message: String| TemplateError {
            template: "page.html.hbs".to_owned(),
            line: 1,
            column: 1,
            message,
        };
        if style.contains("</") {
            return Err(TemplateError {
                template: "page.css".to_owned(),
                line: 1,
                column: 1,
                message: "a style sheet cannot hold `</`".to_owned(),
            });
        }
        let frame = frame
            .split_once("--}}")
            .map_or(frame, |(_, behind)| behind)
            .trim_start();
        let mut found: Vec<(usize, &'static str)> = Vec::new();
        for place in PLACES {
            let at = frame
                .find(place)
                .ok_or_else(|| wrong(format!("the page has no {place}")))?;
            found.push((at, place));
        }
        for place in FURTHER_PLACES {
            found.extend(frame.find(place).map(|at| (at, place)));
        }
        found.sort_unstable();
        let mut parts = Vec::new();
        let mut from = 0;
        for (at, place) in found {
            parts.push((frame[from..at].to_owned(), Some(place)));
            from = at + place.len();
        }
        parts.push((frame[from..].to_owned(), None));
        // The policy allows exactly this style sheet, by its hash.
        let policy = format!(
            "default-src 'none'; style-src 'sha256-{}'; base-uri 'none'; form-action 'none'",
            base64(&Sha256::digest(style.as_bytes()))
        );
        Ok(Self {
            parts,
            style: style.to_owned(),
            policy,
        })
    }

    /// The page of a report's Markdown.
    pub(super) fn page(&self, markdown: &Markdown, document: &impl Document) -> String {
        let words = document.words();
        let title = document.title().replace(['\n', '\r'], " ");
        let title = html(&title);
        let language = html(words.code());
        let skip = html(words.say("Skip to the report"));
        let mut page = String::with_capacity(4 * markdown.text.len() + self.style.len() + 2000);
        for (text, place) in &self.parts {
            page.push_str(text);
            match *place {
                Some("{{title}}") => page.push_str(&title),
                Some("{{policy}}") => page.push_str(&self.policy),
                Some("{{style}}") => page.push_str(&self.style),
                Some("{{body}}") => body(markdown, document, &mut page),
                Some("{{language}}") => page.push_str(&language),
                Some(place) if place == FURTHER_PLACES[1] => page.push_str(&skip),
                _ => {}
            }
        }
        page
    }
}

/// Bytes in base 64.
fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut out = String::new();
    for chunk in bytes.chunks(3) {
        let group = (u32::from(chunk[0]) << 16)
            | (chunk.get(1).map_or(0, |b| u32::from(*b)) << 8)
            | chunk.get(2).map_or(0, |b| u32::from(*b));
        for place in 0..4 {
            if place <= chunk.len() {
                out.push(char::from(
                    LETTERS[(group >> (18 - 6 * place)) as usize & 63],
                ));
            } else {
                out.push('=');
            }
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: RFC 4648, section 10.
    #[test]
    fn base_64_is_as_published() {
        for (text, expected) in [
            ("", ""),
            ("f", "Zg=="),
            ("fo", "Zm8="),
            ("foo", "Zm9v"),
            ("foob", "Zm9vYg=="),
            ("foobar", "Zm9vYmFy"),
        ] {
            assert_eq!(base64(text.as_bytes()), expected);
        }
    }
}
