//! From the report model to Markdown, and from Markdown to one self-contained HTML page.
//!
//! | file | holds |
//! |---|---|
//! | `builtin` | the templates built in |
//! | `templates` | built-in templates, a user's folder laid over them, Markdown made from them |
//! | `calls` | what templates can call |
//! | `fields` | names in templates held against the model |
//! | `specimen`, `class` | documents with everything filled in, to read the model's names from |
//! | `escape` | typed text made safe for Markdown |
//! | `prose` | students' Markdown made safe |
//! | `addresses` | where links and pictures may lead |
//! | `signs` | stars that mean times and tildes that mean about |
//! | `nesting` | how deep prose may nest |
//! | `paper` | boxes and lines to write on, sheets bound together |
//! | `blocks` | tables, worked steps and charts as Markdown |
//! | `markdown` | Markdown with its tables as the page has them |
//! | `page` | Markdown to HTML |
//! | `table` | tables of the page |
//! | `numbers` | where a number's decimal mark and unit stand |
//! | `mathml` | worked lines as MathML |
//! | `svg`, `drawings` | charts as SVG |

mod addresses;
mod blocks;
mod builtin;
mod calls;
mod captions;
mod class;
mod drawings;
mod escape;
mod fields;
mod frame;
mod markdown;
mod mathml;
mod nesting;
mod numbers;
mod page;
mod paper;
mod parts;
mod prose;
mod signs;
mod specimen;
mod svg;
mod table;
pub mod templates;
mod tidy;

#[cfg(test)]
mod hostile;
#[cfg(test)]
mod soup;

pub use builtin::mentions;
pub use escape::markdown as escaped;
pub use markdown::Markdown;
pub use paper::bound;
pub use prose::safe as safe_prose;
pub use templates::TemplateError;
pub use templates::Templates;
