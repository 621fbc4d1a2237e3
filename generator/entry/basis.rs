//! What a statement stands on.

use toml::Spanned;
use toml::de::DeValue;

use super::fields::{Fields, Reader};
use super::id::Reference;
use crate::diagnostic::Code;

/// What a statement stands on. A statement without a basis has no value of this type.
#[derive(Clone, Debug)]
pub enum Basis {
    /// Published: at least one citation.
    Published { first: Citation, rest: Vec<Citation> },
    /// Known in the trade, no source; shown to readers as such.
    CommonPractice,
}

/// A place in a source.
#[derive(Clone, Debug)]
pub struct Citation {
    /// Key in the sources list.
    pub source: Reference,
    /// Where in it: "p. 12", "sec. 15".
    pub at: String,
    /// Whether whoever wrote the statement read the place, or cites from memory.
    pub read: bool,
}

/// The three kinds of basis that pages and the coverage map tell apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum BasisKind {
    Read,
    Memory,
    CommonPractice,
}

impl Basis {
    pub fn citations(&self) -> impl Iterator<Item = &Citation> {
        let (first, rest) = match self {
            Basis::Published { first, rest } => (Some(first), rest.as_slice()),
            Basis::CommonPractice => (None, [].as_slice()),
        };
        first.into_iter().chain(rest)
    }

    /// `Read` if at least one citation was read.
    pub fn kind(&self) -> BasisKind {
        match self {
            Basis::CommonPractice => BasisKind::CommonPractice,
            published if published.citations().any(|citation| citation.read) => BasisKind::Read,
            Basis::Published { .. } => BasisKind::Memory,
        }
    }

    pub(super) fn read(reader: &Reader<'_>, key: &str, value: &Spanned<DeValue<'_>>) -> Option<Basis> {
        let span = reader.span(value.span());
        if let Some(word) = value.get_ref().as_str() {
            if word == "common-practice" {
                return Some(Basis::CommonPractice);
            }
            reader.error(
                Code::BadValue,
                span,
                format!("`{key}` cannot be \"{word}\""),
                "write \"common-practice\" for what the trade knows without a source, or a list of citations",
            );
            return None;
        }
        let Some(list) = value.get_ref().as_array() else {
            reader.error(
                Code::WrongType,
                span,
                format!("`{key}` is neither \"common-practice\" nor a list of citations"),
                format!("write {key} = [{{ source = \"…\", at = \"p. …\", read = true }}]"),
            );
            return None;
        };
        if list.is_empty() {
            reader.error(
                Code::BasisMissing,
                span,
                format!("`{key}` is an empty list: the statement stands on nothing"),
                format!("cite a source, or write {key} = \"common-practice\""),
            );
        }
        let mut citations: Vec<Citation> = list.iter().filter_map(|item| Citation::read(reader, item)).collect();
        if citations.is_empty() {
            return None;
        }
        let first = citations.remove(0);
        Some(Basis::Published { first, rest: citations })
    }
}

impl Citation {
    fn read(reader: &Reader<'_>, item: &Spanned<DeValue<'_>>) -> Option<Citation> {
        let span = reader.span(item.span());
        let Some(table) = item.get_ref().as_table() else {
            reader.error(
                Code::WrongType,
                span,
                "a citation is a table",
                "write { source = \"…\", at = \"p. …\", read = true }",
            );
            return None;
        };
        Citation::read_table(Fields::new(reader, "this citation", table, span))
    }

    /// Reads `source`, `at` and `read`, and closes the table.
    pub(super) fn read_table(mut fields: Fields<'_, '_>) -> Option<Citation> {
        let reader = fields.reader;
        let span = fields.span;
        let source = fields.need_text("source", "\"a key in sources.toml\"");
        let at = fields.text("at").map(|(at, _)| at).filter(|at| !at.trim().is_empty());
        if at.is_none() {
            reader.error(
                Code::CitationWithoutPlace,
                span,
                "this citation does not say where in the source",
                "add at = \"p. …\": a page, section, table or plate",
            );
        }
        if !fields.has("read") {
            fields.missing("read", "true if you read that place, false if you cite from memory");
        }
        let read = fields.boolean("read");
        fields.finish();
        let (text, span) = source?;
        Some(Citation { source: Reference { text, span }, at: at?, read: read? })
    }
}
