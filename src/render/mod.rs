//! From the report model to Markdown, and from Markdown to one self-contained HTML page.
