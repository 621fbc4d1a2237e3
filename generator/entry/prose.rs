//! CommonMark as an author wrote it, and where each byte of it stands in the file.

use pulldown_cmark::{Event, Parser, TagEnd};

use crate::source::Span;

/// Prose of an entry. Not yet checked for links and HTML: that is [`crate::rules`]' work; rendering is [`crate::render`]'s.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Prose {
    pub text: String,
    /// The whole value, quotes included.
    pub span: Span,
    /// Where `text` begins in the file, if it stands there letter for letter.
    content: Option<usize>,
}

impl Prose {
    pub fn new(text: String, span: Span, file_text: &str) -> Prose {
        let raw = file_text.get(span.start..span.end).unwrap_or("");
        let content = raw.find(text.as_str()).filter(|_| !text.is_empty()).map(|at| span.start + at);
        Prose { text, span, content }
    }

    /// The span of the bytes `from..to` of the text; the whole value where escapes moved them.
    pub fn span_of(&self, from: usize, to: usize) -> Span {
        match self.content {
            Some(start) => Span { file: self.span.file, start: start + from, end: start + to },
            None => self.span,
        }
    }

    /// Without the marks of CommonMark, on one line.
    pub fn plain(&self) -> String {
        let mut out = String::new();
        for event in Parser::new(&self.text) {
            match event {
                Event::Text(text) | Event::Code(text) => out.push_str(&text),
                Event::SoftBreak | Event::HardBreak | Event::End(TagEnd::Paragraph | TagEnd::Item) => out.push(' '),
                _ => {}
            }
        }
        out.split_whitespace().collect::<Vec<_>>().join(" ")
    }
}
