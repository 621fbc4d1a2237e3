//! The small kinds: countries with their mints, glossary terms, sources, and the collection itself.

use super::basis::Basis;
use super::fields::{Fields, integer_of};
use super::id::{LocalId, Reference};
use super::statement::Statement;
use crate::diagnostic::Code;
use crate::source::Span;

#[derive(Clone, Debug)]
pub struct Country {
    pub name: String,
    /// Place on the front page.
    pub order: i64,
    pub mints: Vec<Mint>,
}

/// A mint, by the mark it put on coins.
#[derive(Clone, Debug)]
pub struct Mint {
    /// As struck; empty for the mint that used none.
    pub mark: String,
    pub city: String,
    /// Periods of coining; an open one has no end.
    pub years: Vec<(i32, Option<i32>)>,
    pub basis: Basis,
    pub span: Span,
}

impl Mint {
    pub fn open_in(&self, year: i32) -> bool {
        self.years.iter().any(|(from, to)| *from <= year && to.is_none_or(|to| year <= to))
    }
}

impl Country {
    pub(super) fn read(fields: &mut Fields<'_, '_>) -> Option<Country> {
        let name = fields.need_text("name", "\"United States\"");
        let order = fields.integer("order").unwrap_or(1000);
        let mints = fields.tables("mint", "this mint").into_iter().filter_map(Mint::read).collect();
        Some(Country { name: name?.0, order, mints })
    }
}

impl Mint {
    fn read(mut fields: Fields<'_, '_>) -> Option<Mint> {
        if !fields.has("mark") {
            fields.missing("mark", "\"D\", or \"\" for the mint that used none");
        }
        let mark = fields.text("mark").map(|(mark, _)| mark);
        let city = fields.need_text("city", "\"Denver\"");
        let mut years = Vec::new();
        for item in fields.array("years").into_iter().flatten() {
            let period: Option<Vec<i64>> = item
                .get_ref()
                .as_array()
                .map(|list| list.iter().filter_map(|year| integer_of(year.get_ref())).collect());
            match period.as_deref() {
                Some([from]) => years.push((*from as i32, None)),
                Some([from, to]) if from <= to => years.push((*from as i32, Some(*to as i32))),
                _ => fields.wrong(
                    "years",
                    "a period is a first year, and a last one unless it is open",
                    "write years = [[1870, 1885], [1889, 1893]]",
                ),
            }
        }
        if !fields.has("years") {
            fields.missing("years", "[[1906]]");
        }
        let basis = fields.basis("basis");
        let span = fields.span;
        fields.finish();
        Some(Mint { mark: mark?, city: city?.0, years, basis: basis?, span })
    }
}

#[derive(Clone, Debug)]
pub struct Term {
    pub term: String,
    /// Plurals and other spellings that are linked too.
    pub forms: Vec<String>,
    pub see: Vec<Reference>,
    pub meaning: Statement,
}

impl Term {
    pub(super) fn read(fields: &mut Fields<'_, '_>) -> Option<Term> {
        let term = fields.need_text("term", "\"die polish\"");
        let forms = fields.texts("forms").into_iter().map(|(form, _)| form).collect();
        let see = fields.references("see");
        if !fields.has("meaning") {
            fields.missing("meaning", "a table: [meaning] with text and basis");
        }
        let meaning = fields.table("meaning", "this meaning").and_then(Statement::read);
        Some(Term { term: term?.0, forms, see, meaning: meaning? })
    }
}

/// A published source.
#[derive(Clone, Debug)]
pub struct Published {
    pub key: LocalId,
    pub key_span: Span,
    pub title: String,
    pub author: Option<String>,
    pub year: Option<i32>,
    pub kind: SourceKind,
    /// The reprint or transcription in which it was read.
    pub seen_in: Option<String>,
    /// Printed, never followed.
    pub address: Option<String>,
    pub note: Option<String>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum SourceKind {
    Law,
    Report,
    Book,
    Paper,
    Encyclopaedia,
    Museum,
    Data,
}

pub const SOURCE_KINDS: &[(&str, SourceKind)] = &[
    ("law", SourceKind::Law),
    ("report", SourceKind::Report),
    ("book", SourceKind::Book),
    ("paper", SourceKind::Paper),
    ("encyclopaedia", SourceKind::Encyclopaedia),
    ("museum", SourceKind::Museum),
    ("data", SourceKind::Data),
];

impl Published {
    pub(super) fn read(key: Reference, mut fields: Fields<'_, '_>) -> Option<Published> {
        let id = LocalId::parse(&key.text);
        if id.is_none() {
            let hint = format!("use {}", super::id::ID_RULE);
            fields.reader.error(Code::BadId, key.span, format!("`{}` cannot be an id", key.text), hint);
        }
        let title = fields.need_text("title", "\"Act of 12 February 1873\"");
        let author = fields.text("author").map(|(text, _)| text);
        let year = fields.integer("year").map(|year| year as i32);
        if !fields.has("kind") {
            fields.missing("kind", "\"law\"");
        }
        let kind = fields.word("kind", SOURCE_KINDS);
        let seen_in = fields.text("seen_in").map(|(text, _)| text);
        let address = fields.text("address").map(|(text, _)| text);
        let note = fields.text("note").map(|(text, _)| text);
        fields.finish();
        Some(Published {
            key: id?,
            key_span: key.span,
            title: title?.0,
            author,
            year,
            kind: kind?,
            seen_in,
            address,
            note,
        })
    }
}

/// What `collection.toml` says of its folder.
#[derive(Clone, Debug)]
pub struct Collection {
    pub name: String,
    /// False for invented entries: every page of theirs is stamped.
    pub real: bool,
    /// False for a house's own: nothing public may refer to it.
    pub public: bool,
    pub about: Option<String>,
    pub licence: Option<String>,
}

impl Collection {
    pub(super) fn read(fields: &mut Fields<'_, '_>) -> Option<Collection> {
        let name = fields.need_text("name", "\"Reference\"");
        for key in ["real", "public"] {
            if !fields.has(key) {
                fields.missing(key, "true or false");
            }
        }
        let (real, public) = (fields.boolean("real"), fields.boolean("public"));
        let about = fields.text("about").map(|(text, _)| text);
        let licence = fields.text("licence").map(|(text, _)| text);
        Some(Collection { name: name?.0, real: real?, public: public?, about, licence })
    }
}
