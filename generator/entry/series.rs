//! A series: one denomination under one design, with its standards, mint-mark places and date and mint list.

use std::collections::BTreeMap;

use super::basis::Basis;
use super::check::Check;
use super::fields::{Fields, integer_of};
use super::id::{LocalId, Reference};
use super::place::Face;
use super::quantity::{Deviation, Weight};
use super::statement::{Sign, Statement};
use crate::diagnostic::Code;
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

/// What the law asks of one piece, for the years `from..=to`.
#[derive(Clone, Debug)]
pub struct Standard {
    pub from: i32,
    pub to: i32,
    pub weight: Option<Weight>,
    pub deviation: Option<Deviation>,
    /// Parts per thousand by chemical symbol.
    pub alloy: Vec<(String, f64)>,
    /// mm
    pub diameter: Option<f64>,
    /// mm
    pub thickness: Option<f64>,
    pub edge: Option<String>,
    pub axis: Option<Axis>,
    pub text: Option<super::prose::Prose>,
    pub basis: Basis,
    /// Bases of single fields that stand on something else.
    pub basis_of: BTreeMap<String, Basis>,
    pub also: Vec<Also>,
    pub span: Span,
}

/// Another published figure that differs.
#[derive(Clone, Debug)]
pub struct Also {
    pub statement: Statement,
    pub weight: Option<Weight>,
}

/// How the two faces are turned to each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Axis {
    /// Reverse upside down when turned about the vertical: 180°.
    Coin,
    /// Both upright: 0°.
    Medal,
}

#[derive(Clone, Debug)]
pub struct MarkPlace {
    pub from: i32,
    pub to: i32,
    pub statement: Statement,
}

/// Rows of the date and mint list that stand on one basis.
#[derive(Clone, Debug)]
pub struct Struck {
    pub basis: Basis,
    pub rows: Vec<Row>,
}

/// One date, mint and variety.
#[derive(Clone, Debug)]
pub struct Row {
    pub label: RowLabel,
    /// Not known, or not counted apart, if `None`.
    pub pieces: Option<u64>,
    pub remark: Option<String>,
    pub span: Span,
}

/// Names a row within its series.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct RowLabel {
    pub year: i32,
    pub mint: String,
    pub variety: String,
}

impl RowLabel {
    /// Reads `1918-D 8 over 7`.
    pub fn parse(text: &str) -> Option<RowLabel> {
        let text = text.trim();
        let (date, variety) = text.split_once(' ').unwrap_or((text, ""));
        let (year, mint) = date.split_once('-').unwrap_or((date, ""));
        let valid = year.len() == 4 && year.bytes().all(|b| b.is_ascii_digit());
        Some(RowLabel { year: year.parse().ok().filter(|_| valid)?, mint: mint.into(), variety: variety.trim().into() })
    }

    /// `1918-D`, without the variety.
    pub fn date(&self) -> String {
        if self.mint.is_empty() { self.year.to_string() } else { format!("{}-{}", self.year, self.mint) }
    }
}

impl std::fmt::Display for RowLabel {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        out.write_str(&self.date())?;
        if self.variety.is_empty() { Ok(()) } else { write!(out, " {}", self.variety) }
    }
}

/// Something drawn faintly in the discs so that a pin is found on the coin.
#[derive(Clone, Debug)]
pub struct Landmark {
    pub id: LocalId,
    pub face: Face,
    pub shape: LandmarkShape,
}

/// Clock hours 0 to 12, reach and size in fractions of the radius.
#[derive(Clone, Debug)]
pub enum LandmarkShape {
    Text {
        text: String,
        clock: f64,
        reach: f64,
        size: f64,
    },
    Arc {
        text: String,
        from: f64,
        to: f64,
        reach: f64,
        size: f64,
    },
    /// SVG path, centre 0,0, radius 1; letters and numbers only.
    Path(String),
}

/// A change of design or making within the series.
#[derive(Clone, Debug)]
pub struct Change {
    pub year: i32,
    pub statement: Statement,
}

const AXES: &[(&str, Axis)] = &[("coin", Axis::Coin), ("medal", Axis::Medal)];
/// Fields of a standard that may have a basis of their own.
const FIELDS_OF_STANDARD: &[&str] = &["weight", "deviation", "alloy", "diameter", "thickness", "edge", "axis"];

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

impl Standard {
    fn read(mut fields: Fields<'_, '_>) -> Option<Standard> {
        let (from, to) = period(&mut fields);
        let weight = Weight::read(&mut fields, "weight");
        let deviation = Deviation::read(&mut fields, "deviation");
        let alloy = read_alloy(&mut fields);
        let diameter = fields.positive("diameter");
        let thickness = fields.positive("thickness");
        let edge = fields.text("edge").map(|(edge, _)| edge);
        let axis = fields.word("axis", AXES);
        let text = fields.prose("text");
        let basis = fields.basis("basis");
        let mut basis_of = BTreeMap::new();
        for (key, value) in fields.open_table("basis_of") {
            if !FIELDS_OF_STANDARD.contains(&key.text.as_str()) {
                let hint = format!("it can name: {}", FIELDS_OF_STANDARD.join(", "));
                fields.reader.error(Code::UnknownKey, key.span, format!("a standard has no `{}`", key.text), hint);
            } else if let Some(basis) = Basis::read(fields.reader, "basis_of", value) {
                basis_of.insert(key.text, basis);
            }
        }
        let mut also = Vec::new();
        for mut other in fields.tables("also", "this other figure") {
            let statement = Statement::read_keys(&mut other);
            let weight = Weight::read(&mut other, "weight");
            other.finish();
            also.extend(statement.map(|statement| Also { statement, weight }));
        }
        let span = fields.span;
        fields.finish();
        Some(Standard {
            from: from?,
            to: to?,
            weight,
            deviation,
            alloy,
            diameter,
            thickness,
            edge,
            axis,
            text,
            basis: basis?,
            basis_of,
            also,
            span,
        })
    }

    /// The basis of one field.
    pub fn basis_of(&self, field: &str) -> &Basis {
        self.basis_of.get(field).unwrap_or(&self.basis)
    }
}

/// Parts per thousand; they must come to a thousand.
fn read_alloy(fields: &mut Fields<'_, '_>) -> Vec<(String, f64)> {
    let mut alloy = Vec::new();
    for (symbol, value) in fields.open_table("alloy") {
        let known = crate::reckon::alloy::ELEMENTS.iter().any(|element| element.symbol == symbol.text);
        match super::fields::number_of(value.get_ref()) {
            Some(parts) if known && parts > 0.0 && parts <= 1000.0 => alloy.push((symbol.text, parts)),
            _ => {
                let message = format!("`{}` is no metal with a share in parts per thousand", symbol.text);
                fields.reader.error(Code::BadValue, symbol.span, message, "write alloy = { Ag = 900, Cu = 100 }");
                return Vec::new();
            }
        }
    }
    let sum: f64 = alloy.iter().map(|(_, parts)| parts).sum();
    if !alloy.is_empty() && (sum - 1000.0).abs() > 0.5 {
        fields.wrong(
            "alloy",
            format!("the parts of the alloy come to {sum}, not 1000"),
            "give parts per thousand of every metal",
        );
    }
    alloy
}

fn period(fields: &mut Fields<'_, '_>) -> (Option<i32>, Option<i32>) {
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

impl Struck {
    fn read(mut fields: Fields<'_, '_>) -> Option<Struck> {
        let basis = fields.basis("basis");
        let mut rows = Vec::new();
        if !fields.has("rows") {
            fields.missing("rows", "[[1916, \"D\", 264000]]");
        }
        for item in fields.array("rows").into_iter().flatten() {
            let span = fields.reader.span(item.span());
            match read_row(item.get_ref(), span) {
                Some(row) => rows.push(row),
                None => fields.reader.error(
                    Code::BadValue,
                    span,
                    "this row is not a year, a mint mark and a number of pieces",
                    "write [1916, \"D\", 264000], then a variety and a remark if there are any: [1942, \"D\", 0, \"2 over 1\", \"…\"]",
                ),
            }
        }
        fields.finish();
        Some(Struck { basis: basis?, rows })
    }
}

fn read_row(value: &toml::de::DeValue<'_>, span: Span) -> Option<Row> {
    let items: Vec<_> = value.as_array()?.iter().map(|item| item.get_ref()).collect();
    let (&[year, mint, pieces], rest) = items.split_first_chunk::<3>()?;
    let year = integer_of(year).filter(|year| (1000..=2100).contains(year))?;
    let pieces = u64::try_from(integer_of(pieces)?).ok()?;
    let words: Vec<String> = rest.iter().map(|item| item.as_str().map(str::to_string)).collect::<Option<_>>()?;
    if words.len() > 2 {
        return None;
    }
    let mut words = words.into_iter();
    Some(Row {
        label: RowLabel {
            year: year as i32,
            mint: mint.as_str()?.to_string(),
            variety: words.next().unwrap_or_default(),
        },
        pieces: (pieces > 0).then_some(pieces),
        remark: words.next().filter(|remark| !remark.is_empty()),
        span,
    })
}

impl Landmark {
    fn read(mut fields: Fields<'_, '_>) -> Option<Landmark> {
        let id = fields.local_id("id");
        let face = fields.word("face", &[("obverse", Face::Obverse), ("reverse", Face::Reverse)]);
        if !fields.has("face") {
            fields.missing("face", "\"obverse\"");
        }
        let kind = fields.word("kind", &[("text", 't'), ("arc", 'a'), ("path", 'p')]);
        if !fields.has("kind") {
            fields.missing("kind", "\"text\"");
        }
        let text = fields.text("text").map(|(text, _)| text);
        let mut off = false;
        let mut share = |key, most: f64| {
            let number = fields.number(key)?;
            if (0.0..=most).contains(&number) {
                return Some(number);
            }
            off = true;
            let message = format!("`{key}` is {number}, which is off the coin");
            fields.reader.error(
                Code::ImpossiblePlace,
                fields.span_of(key),
                message,
                format!("it runs from 0 to {most}"),
            );
            None
        };
        let (clock, to) = (share("clock", 12.0), share("to", 12.0));
        let (reach, size) = (share("reach", 1.0), share("size", 1.0).unwrap_or(0.12));
        let path = fields.text("d");
        let shape = match kind? {
            't' => text.zip(clock).zip(reach).map(|((text, clock), reach)| LandmarkShape::Text {
                text,
                clock,
                reach,
                size,
            }),
            'a' => text.zip(clock).zip(to).zip(reach).map(|(((text, from), to), reach)| LandmarkShape::Arc {
                text,
                from,
                to,
                reach,
                size,
            }),
            _ => path.as_ref().filter(|(d, _)| is_path(d)).map(|(d, _)| LandmarkShape::Path(d.clone())),
        };
        if shape.is_none() && !off {
            let hint = "text needs text, clock, reach; arc needs text, clock, to, reach; path needs d with SVG path letters and numbers";
            fields.reader.error(Code::BadValue, fields.span, "this landmark cannot be drawn", hint);
        }
        fields.finish();
        Some(Landmark { id: id?.0, face: face?, shape: shape? })
    }
}

fn is_path(d: &str) -> bool {
    d.trim_start().starts_with(['M', 'm']) && d.chars().all(|c| "MmLlHhVvCcSsQqTtAaZz0123456789.,- \n".contains(c))
}

#[cfg(test)]
mod tests {
    use super::RowLabel;

    #[test]
    fn a_row_label_reads_as_it_is_shown() {
        for text in ["1916", "1916-D", "1918-D 8 over 7", "1937-D three legs"] {
            assert_eq!(RowLabel::parse(text).unwrap().to_string(), text);
        }
        assert_eq!(RowLabel::parse("916-D"), None);
        assert_eq!(RowLabel::parse("dime"), None);
    }
}
