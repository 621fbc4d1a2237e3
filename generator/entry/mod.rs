//! Spanned TOML → [`Entry`]: text becomes types that cannot be wrong, once. Looks at one file at a time;
//! what needs the whole corpus is [`crate::rules`]' work.

mod basis;
mod check;
mod common;
mod day;
mod drawing;
mod family;
mod fields;
mod id;
mod issue;
mod landmark;
mod lists;
mod photo;
mod place;
mod practice;
mod prose;
mod quantity;
mod series;
mod standard;
mod statement;
mod struck;
mod syntax;

pub use basis::{Basis, BasisKind, Citation};
pub use check::{Aid, Check, CheckKind, Expectation, Finding, Frequency, Hypothesis, HypothesisKind, Range};
pub use common::Common;
pub use day::Day;
pub use drawing::{DIGITS, DRAWINGS, Drawing, DrawingKind, Form, LENGTH_UNITS, LengthUnit, NumberRule, Subject};
pub use family::{Family, TRAITS, Trait, TraitKind};
pub use id::{EntryId, ID_RULE, LocalId, Reference};
pub use issue::{Altered, Forgery, Issue, Mintage, Unseparated};
pub use landmark::{Landmark, LandmarkShape};
pub use lists::{Collection, Country, Mint, Published, SOURCE_KINDS, SourceKind, Term};
pub use photo::{Photo, SIDES, Side};
pub use place::{Face, MOST_POINTS, Place};
pub use practice::{Alteration, METHOD_GROUPS, Method, MethodGroup, OPERATIONS, Operation, Practice};
pub use prose::Prose;
pub use quantity::{
    Against, Deviation, OFFSET_AGAINST, QUANTITIES, Quantity, TILT_AGAINST, WEIGHT_UNITS, Weight, WeightUnit,
};
pub use series::{Change, DateEntry, DigitStyle, Digits, MarkPlace, Series};
pub use standard::{Also, Axis, Standard};
pub use statement::{Sign, Statement};
pub use struck::{Row, RowLabel, Struck};

use fields::{Fields, Reader};
use toml::de::DeTable;

use crate::diagnostic::{Code, Report, closest};
use crate::source::{FileId, SourceFile, Span};

/// The kind of an entry: the first folder of its id.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    Country,
    Series,
    Issue,
    Family,
    Method,
    Alteration,
    Term,
}

impl Kind {
    pub const ALL: &'static [Kind] =
        &[Kind::Country, Kind::Series, Kind::Issue, Kind::Family, Kind::Method, Kind::Alteration, Kind::Term];

    /// The folder its entries stand in.
    pub fn folder(self) -> &'static str {
        match self {
            Kind::Country => "countries",
            Kind::Series => "series",
            Kind::Issue => "issues",
            Kind::Family => "families",
            Kind::Method => "methods",
            Kind::Alteration => "alterations",
            Kind::Term => "glossary",
        }
    }

    /// One of it, in words.
    pub fn singular(self) -> &'static str {
        match self {
            Kind::Country => "country",
            Kind::Series => "series",
            Kind::Issue => "issue",
            Kind::Family => "forgery family",
            Kind::Method => "method",
            Kind::Alteration => "alteration",
            Kind::Term => "glossary term",
        }
    }

    /// The word a person types for it.
    pub fn word(self) -> &'static str {
        match self {
            Kind::Country => "country",
            Kind::Series => "series",
            Kind::Issue => "issue",
            Kind::Family => "family",
            Kind::Method => "method",
            Kind::Alteration => "alteration",
            Kind::Term => "term",
        }
    }

    /// A kind by its word or its folder.
    pub fn named(word: &str) -> Option<Kind> {
        Kind::ALL.iter().copied().find(|kind| kind.word() == word || kind.folder() == word)
    }

    fn of_folder(folder: &str) -> Option<Kind> {
        Kind::ALL.iter().copied().find(|kind| kind.folder() == folder)
    }
}

/// One entry file, read.
#[derive(Clone, Debug)]
pub struct Entry {
    pub id: EntryId,
    pub collection: usize,
    pub file: FileId,
    /// Points at the file as a whole, for problems with no span of their own: its first line that says something.
    pub span: Span,
    /// The file had errors: what it lacks may only be unread.
    pub broken: bool,
    /// It takes the place of an entry of the same id in an earlier collection.
    pub overrides: bool,
    pub common: Option<Common>,
    pub body: Body,
}

#[derive(Clone, Debug)]
pub enum Body {
    Country(Country),
    Series(Box<Series>),
    Issue(Box<Issue>),
    Family(Box<Family>),
    Method(Box<Method>),
    Alteration(Box<Alteration>),
    Term(Box<Term>),
    /// Too broken to have a body; still known by its id.
    Unread(Kind),
}

impl Entry {
    pub fn kind(&self) -> Kind {
        match &self.body {
            Body::Country(_) => Kind::Country,
            Body::Series(_) => Kind::Series,
            Body::Issue(_) => Kind::Issue,
            Body::Family(_) => Kind::Family,
            Body::Method(_) => Kind::Method,
            Body::Alteration(_) => Kind::Alteration,
            Body::Term(_) => Kind::Term,
            Body::Unread(kind) => *kind,
        }
    }
}

/// What one file holds.
pub enum Content {
    Entry(Box<Entry>),
    Sources(Vec<Published>),
    Collection(Option<Collection>),
    /// Nothing usable; its problems are in the report.
    Nothing,
}

/// Reads one file. Problems go into the report; what could be read is returned all the same.
pub fn read(file: FileId, source: &SourceFile) -> (Content, Report) {
    let reader = Reader::new(file, &source.text);
    let (table, syntax) = DeTable::parse_recoverable(&source.text);
    let mut unread = Vec::new();
    for error in &syntax {
        let problem = syntax::plain(error.message(), error.span().unwrap_or(0..0), &source.text);
        unread.push(problem.range.start);
        reader.error(Code::Syntax, reader.span(problem.range), problem.message, problem.hint);
    }
    let start = table.get_ref().keys().next().map_or(0..0, |key| key.span());
    let span = reader.span(start);
    let what = if source.stem == "collection" { "this collection" } else { "this entry" };
    let mut fields = Fields::new(&reader, what, table.get_ref(), span);
    let content = match source.stem.as_str() {
        "collection" => {
            let read = Collection::read(&mut fields);
            fields.finish();
            Content::Collection(read)
        }
        "sources" => Content::Sources(read_sources(&reader, table.get_ref())),
        _ => read_entry(file, source, fields),
    };
    let mut report = reader.into_report();
    if !unread.is_empty() {
        // What a syntax error swallowed only looks as if it were missing or strange.
        report.retain(|problem| {
            let follows = matches!(problem.code, Code::MissingKey | Code::BasisMissing | Code::UnknownKey);
            problem.code == Code::Syntax || !(follows || unread.contains(&problem.primary.start))
        });
    }
    let content = match content {
        Content::Entry(mut entry) => {
            entry.broken = report.has_errors();
            Content::Entry(entry)
        }
        other => other,
    };
    (content, report)
}

fn read_entry(file: FileId, source: &SourceFile, mut fields: Fields<'_, '_>) -> Content {
    let span = fields.span;
    let (folder, rest) = source.stem.split_once('/').unwrap_or(("", &source.stem));
    let Some(kind) = Kind::of_folder(folder) else {
        let folders: Vec<&str> = Kind::ALL.iter().map(|kind| kind.folder()).collect();
        let hint = match closest(folder, folders.iter().copied()) {
            Some(near) => format!("did you mean the folder `{near}`?"),
            None => format!("put it in one of: {}; or name it sources.toml or collection.toml", folders.join(", ")),
        };
        let message = if folder.is_empty() {
            format!("`{rest}.toml` is in no kind's folder")
        } else {
            format!("`{folder}` is no kind of entry")
        };
        fields.reader.error(Code::UnknownKind, span, message, hint);
        return Content::Nothing;
    };
    let Some(id) = EntryId::parse(&source.stem) else {
        let message = format!("`{}` cannot be the id of an entry", source.stem);
        fields.reader.error(Code::BadId, span, message, format!("rename the file: {ID_RULE}"));
        return Content::Nothing;
    };
    let overrides = fields.boolean("overrides").unwrap_or(false);
    let has_common = !matches!(kind, Kind::Country | Kind::Term);
    let common = has_common.then(|| Common::read(&mut fields));
    let body = match kind {
        Kind::Country => Country::read(&mut fields).map(Body::Country),
        Kind::Series => Series::read(&mut fields).map(|b| Body::Series(Box::new(b))),
        Kind::Issue => Issue::read(&mut fields).map(|b| Body::Issue(Box::new(b))),
        Kind::Family => Family::read(&mut fields).map(|b| Body::Family(Box::new(b))),
        Kind::Method => Practice::read(&mut fields, "group", METHOD_GROUPS).map(|b| Body::Method(Box::new(b))),
        Kind::Alteration => Practice::read(&mut fields, "operation", OPERATIONS).map(|b| Body::Alteration(Box::new(b))),
        Kind::Term => Term::read(&mut fields).map(|b| Body::Term(Box::new(b))),
    };
    fields.finish();
    let body = body.unwrap_or(Body::Unread(kind));
    Content::Entry(Box::new(Entry {
        id,
        collection: source.collection,
        file,
        span,
        broken: false,
        overrides,
        common,
        body,
    }))
}

fn read_sources(reader: &Reader<'_>, table: &DeTable<'_>) -> Vec<Published> {
    let mut out = Vec::new();
    for (key, value) in table.iter() {
        let name = Reference { text: key.get_ref().to_string(), span: reader.span(key.span()) };
        match value.get_ref().as_table() {
            Some(table) => {
                out.extend(Published::read(name.clone(), Fields::new(reader, "this source", table, name.span)))
            }
            None => {
                let hint = "write a table for each source: [coinage-act-1873] with title and kind";
                reader.error(Code::WrongType, name.span, format!("`{}` is not a source", name.text), hint);
            }
        }
    }
    out
}
