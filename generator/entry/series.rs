//! A series: one denomination under one design, with its standards, mint-mark places and date and mint list.

use super::basis::Basis;
use super::check::Check;
use super::fields::Fields;
use super::id::Reference;
use super::landmark::Landmark;
use super::standard::Standard;
use super::statement::{Sign, Statement};
use super::struck::{Row, RowLabel, Struck};
use crate::source::Span;

#[derive(Clone, Debug)]
pub struct Series {
    pub name: String,
    /// Stem of the country's entry.
    pub country: Reference,
    pub denomination: String,
    /// First and last year of the design.
    pub years: (i32, i32),
    pub years_span: Span,
    /// Why the list is not complete, if it is not.
    pub incomplete: Option<String>,
    pub digits: Digits,
    pub standards: Vec<Standard>,
    pub mark_places: Vec<MarkPlace>,
    pub struck: Vec<Struck>,
    pub landmarks: Vec<Landmark>,
    pub changes: Vec<Change>,
    pub genuine: Vec<Sign>,
    pub checks: Vec<Check>,
}

impl Series {
    pub(super) fn read(fields: &mut Fields<'_, '_>) -> Option<Series> {
        let name = fields.need_text("name", "\"Winged Head dime\"");
        let country = fields.need_text("country", "\"us\"");
        let denomination = fields.need_text("denomination", "\"dime\"");
        if !fields.has("years") {
            fields.missing("years", "[1916, 1945]");
        }
        let years = fields.year_range("years");
        let years_span = fields.span_of("years");
        let incomplete = fields.text("incomplete").map(|(why, _)| why);
        let digits = Digits::read(fields);
        let standards = fields.tables("standard", "this standard").into_iter().filter_map(Standard::read).collect();
        let mark_places = read_mark_places(fields);
        let struck: Vec<Struck> = fields.tables("struck", "this list").into_iter().filter_map(Struck::read).collect();
        if !fields.has("struck") {
            fields.missing("struck", "a list of tables: [[struck]] with basis and rows");
        }
        let landmarks = fields.tables("landmark", "this landmark").into_iter().filter_map(Landmark::read).collect();
        let changes = read_changes(fields);
        let genuine = Sign::list(fields, "genuine", "this diagnostic");
        let checks = Check::list(fields);
        let (country, span) = country?;
        Some(Series {
            name: name?.0,
            country: Reference { text: country, span },
            denomination: denomination?.0,
            years: years?,
            years_span,
            incomplete,
            digits: digits?,
            standards,
            mark_places,
            struck,
            landmarks,
            changes,
            genuine,
            checks,
        })
    }

    /// All rows, by year, mint and variety, each with the basis of its block.
    pub fn rows(&self) -> Vec<(&Row, &Basis)> {
        let mut rows: Vec<_> =
            self.struck.iter().flat_map(|block| block.rows.iter().map(move |row| (row, &block.basis))).collect();
        rows.sort_by(|a, b| a.0.label.cmp(&b.0.label));
        rows
    }

    pub fn row(&self, label: &RowLabel) -> Option<(&Row, &Basis)> {
        self.struck
            .iter()
            .flat_map(|block| block.rows.iter().map(move |row| (row, &block.basis)))
            .find(|(row, _)| row.label == *label)
    }

    /// The standard in force in a year; the last that begins by it where two overlap.
    pub fn standard(&self, year: i32) -> Option<&Standard> {
        self.standards.iter().filter(|s| (s.from..=s.to).contains(&year)).max_by_key(|s| s.from)
    }

    pub fn mark_place(&self, year: i32) -> Option<&MarkPlace> {
        self.mark_places.iter().find(|place| (place.from..=place.to).contains(&year))
    }
}

/// How the date is written on the coin, and how it got there.
#[derive(Clone, Debug)]
pub struct Digits {
    /// Dates in western digits that stand for the year; otherwise no digit changes are worked out.
    pub western: bool,
    pub style: DigitStyle,
    pub entry: DateEntry,
    pub basis: Basis,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DigitStyle {
    Modern,
    /// Numerals of unequal height.
    OldStyle,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DateEntry {
    /// In the hub: the same on every die of the year.
    Hub,
    /// One punch for the whole date, set by hand into each die.
    Logotype,
    /// Digit by digit into each die.
    Punches,
    Unknown,
}

#[derive(Clone, Debug)]
pub struct MarkPlace {
    pub from: i32,
    pub to: i32,
    pub statement: Statement,
}

/// A change of design or making within the series.
#[derive(Clone, Debug)]
pub struct Change {
    pub year: i32,
    pub statement: Statement,
}

impl Digits {
    fn read(fields: &mut Fields<'_, '_>) -> Option<Digits> {
        if !fields.has("digits") {
            fields.missing("digits", "a table: [digits] with shown, style, entry and basis");
        }
        let mut digits = fields.table("digits", "this account of the date")?;
        let shown = digits.word("shown", &[("western", true), ("none", false)]);
        let style = digits.word("style", &[("modern", DigitStyle::Modern), ("old-style", DigitStyle::OldStyle)]);
        let entry = digits.word(
            "entry",
            &[
                ("hub", DateEntry::Hub),
                ("logotype", DateEntry::Logotype),
                ("punches", DateEntry::Punches),
                ("unknown", DateEntry::Unknown),
            ],
        );
        let basis = digits.basis("basis");
        digits.finish();
        Some(Digits {
            western: shown.unwrap_or(true),
            style: style.unwrap_or(DigitStyle::Modern),
            entry: entry.unwrap_or(DateEntry::Unknown),
            basis: basis?,
        })
    }
}

fn read_mark_places(fields: &mut Fields<'_, '_>) -> Vec<MarkPlace> {
    let mut out = Vec::new();
    for mut table in fields.tables("mark_place", "this mint-mark place") {
        let (from, to) = period(&mut table);
        let statement = Statement::read_keys(&mut table);
        table.finish();
        if let (Some(from), Some(to), Some(statement)) = (from, to, statement) {
            out.push(MarkPlace { from, to, statement });
        }
    }
    out
}

fn read_changes(fields: &mut Fields<'_, '_>) -> Vec<Change> {
    let mut out = Vec::new();
    for mut table in fields.tables("change", "this change") {
        if !table.has("year") {
            table.missing("year", "1913");
        }
        let year = table.year("year");
        let statement = Statement::read_keys(&mut table);
        table.finish();
        if let (Some(year), Some(statement)) = (year, statement) {
            out.push(Change { year, statement });
        }
    }
    out
}

pub(super) fn period(fields: &mut Fields<'_, '_>) -> (Option<i32>, Option<i32>) {
    for key in ["from", "to"] {
        if !fields.has(key) {
            fields.missing(key, "1904");
        }
    }
    let (from, to) = (fields.year("from"), fields.year("to"));
    if let (Some(first), Some(last)) = (from, to)
        && first > last
    {
        fields.wrong("to", format!("this period ends in {last}, before it begins in {first}"), "swap the two years");
    }
    (from, to)
}
