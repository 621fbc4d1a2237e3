//! Figures that entries ask for: what is drawn, its true and its false form, and the numbers it is drawn from. Numbers
//! that cannot be drawn are refused here; a figure without numbers is drawn by its forms alone, and says so.

use super::fields::Fields;
use super::quantity::{Against, TILT_AGAINST};
use crate::diagnostic::Code;

/// A small drawing: the true and the false form side by side.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    pub kind: DrawingKind,
    pub of: Subject,
    pub genuine: Form,
    pub not_genuine: Form,
}

/// What both forms of a figure share.
#[derive(Clone, Debug, PartialEq)]
pub enum Subject {
    Nothing,
    /// Of a profile with numbers.
    Lengths(LengthUnit),
    /// Of an alignment: beside a letter, or against the line to the centre, where there is no letter. `stroke` is the
    /// angle of the mark's stroke against its own foot, clockwise.
    Letters {
        mark: String,
        letter: Option<String>,
        stroke: f64,
        against: Against,
    },
    /// Of a digit over a digit.
    Digits {
        upper: u8,
        under: u8,
    },
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LengthUnit {
    Millimetre,
    /// Parts of the height of the true relief.
    Relative,
}

pub const LENGTH_UNITS: &[(&str, LengthUnit)] = &[("mm", LengthUnit::Millimetre), ("relative", LengthUnit::Relative)];

/// One side of a figure: a named form, and numbers within the ranges of [`DrawingKind::numbers`].
#[derive(Clone, Debug, PartialEq)]
pub struct Form {
    pub word: &'static str,
    numbers: Vec<(&'static str, f64)>,
}

impl Form {
    pub fn get(&self, key: &str) -> Option<f64> {
        self.numbers.iter().find(|(known, _)| *known == key).map(|(_, number)| *number)
    }

    /// A form by its name alone.
    pub fn named(word: &'static str) -> Form {
        Form { word, numbers: Vec::new() }
    }

    pub fn with(mut self, key: &'static str, number: f64) -> Form {
        self.numbers.push((key, number));
        self
    }

    pub fn is_measured(&self) -> bool {
        !self.numbers.is_empty()
    }

    /// The digit that names the form.
    pub fn digit(&self) -> u8 {
        self.word.parse().unwrap_or(0)
    }
}

/// A number that a form may have.
pub struct NumberRule {
    pub key: &'static str,
    pub low: f64,
    pub high: f64,
    pub whole: bool,
    /// Given for one side, it is wanted for the other if that can have it: else nothing is compared.
    pub both: bool,
    /// The forms that can have it.
    pub forms: &'static [&'static str],
    pub about: &'static str,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DrawingKind {
    Profile,
    Reshaped,
    Overdate,
    Edge,
    Surface,
    Axis,
    Alignment,
}

pub const DRAWINGS: &[(&str, DrawingKind)] = &[
    ("profile", DrawingKind::Profile),
    ("reshaped", DrawingKind::Reshaped),
    ("overdate", DrawingKind::Overdate),
    ("edge", DrawingKind::Edge),
    ("surface", DrawingKind::Surface),
    ("axis", DrawingKind::Axis),
    ("alignment", DrawingKind::Alignment),
];

/// The digits, as forms and as words of an overdate.
pub const DIGITS: &[&str] = &["0", "1", "2", "3", "4", "5", "6", "7", "8", "9"];
const RELIEF: &[&str] = &["raised", "line", "sunk", "proud", "seam", "tooled"];
const REEDS: &[&str] = &["reeded", "seam", "filed", "soft", "doubled", "overlap"];

const fn rule(
    key: &'static str,
    (low, high): (f64, f64),
    forms: &'static [&'static str],
    about: &'static str,
) -> NumberRule {
    NumberRule { key, low, high, whole: false, both: false, forms, about }
}

const PROFILE: &[NumberRule] = &[
    NumberRule { both: true, ..rule("height", (0.001, 10.0), RELIEF, "height of the relief over the field") },
    rule("dip", (0.001, 10.0), &["sunk", "tooled"], "depth below the field"),
    rule("seam", (0.001, 10.0), &["proud", "seam"], "gap between the mark and the field"),
];
const RESHAPED: &[NumberRule] =
    &[rule("drop", (-0.5, 0.5), DIGITS, "how far the digit hangs below the line, in parts of its height")];
const OVERDATE: &[NumberRule] =
    &[rule("rise", (0.05, 0.95), &["low"], "height of the digit below, in parts of that of the digit above")];
const EDGE: &[NumberRule] = &[
    NumberRule { whole: true, both: true, ..rule("reeds", (10.0, 400.0), REEDS, "reeds counted once round") },
    rule("lean", (-60.0, 60.0), REEDS, "degrees by which the reeds lean to the right"),
    rule("seam", (0.0, 1.0), &["seam"], "where it runs, in parts of the thickness from the lower rim"),
];
const AXIS: &[NumberRule] = &[NumberRule {
    both: true,
    ..rule("turn", (-180.0, 180.0), &["turned"], "degrees clockwise by which the reverse is turned from upright")
}];
const ALIGNMENT: &[NumberRule] = &[
    rule(
        "tilt",
        (-45.0, 45.0),
        &[""],
        "degrees by which the mark is tilted clockwise against the line that `against` names",
    ),
    rule(
        "meets",
        (0.0, 1.0),
        &[""],
        "where the line of its stroke meets the letter, in parts of the letter's height from the foot",
    ),
    rule("offset", (-0.5, 0.5), &[""], "how far its foot stands above the base line, in parts of the letter's height"),
];

impl DrawingKind {
    pub fn word(self) -> &'static str {
        DRAWINGS.iter().find(|(_, kind)| *kind == self).map_or("", |(word, _)| word)
    }

    /// The forms that can be drawn; none where numbers say all.
    pub fn forms(self) -> &'static [&'static str] {
        match self {
            DrawingKind::Profile => &["raised", "line", "sunk", "proud", "seam", "tooled", "pitted", "lump", "flat"],
            DrawingKind::Reshaped => DIGITS,
            DrawingKind::Overdate => &["level", "low", "on-top", "carved"],
            DrawingKind::Edge => &["reeded", "plain", "lettered", "seam", "filed", "soft", "doubled", "overlap"],
            DrawingKind::Surface => &["flow-lines", "granular", "pits", "lumps", "scratches", "smooth"],
            DrawingKind::Axis => &["coin", "medal", "turned"],
            DrawingKind::Alignment => &[],
        }
    }

    /// The numbers a form of this kind may have.
    pub fn numbers(self) -> &'static [NumberRule] {
        match self {
            DrawingKind::Profile => PROFILE,
            DrawingKind::Reshaped => RESHAPED,
            DrawingKind::Overdate => OVERDATE,
            DrawingKind::Edge => EDGE,
            DrawingKind::Axis => AXIS,
            DrawingKind::Alignment => ALIGNMENT,
            DrawingKind::Surface => &[],
        }
    }

    /// The keys beside `genuine` and `false`, and whether the kind cannot do without them.
    pub fn keys(self) -> &'static [(&'static str, bool)] {
        match self {
            DrawingKind::Profile => &[("unit", false)],
            DrawingKind::Overdate => &[("upper", true), ("under", true)],
            DrawingKind::Alignment => &[("mark", true), ("against", true), ("letter", false), ("stroke", false)],
            _ => &[],
        }
    }

    /// What to write for a form, as an example.
    fn example(self) -> String {
        match self.forms().first() {
            Some(form) => format!("\"{form}\""),
            None => "{ tilt = 1.5 }".into(),
        }
    }
}

impl Drawing {
    pub(super) fn read(fields: &mut Fields<'_, '_>) -> Option<Drawing> {
        let mut figure = fields.table("figure", "this figure")?;
        if !figure.has("kind") {
            figure.missing("kind", "\"profile\"");
        }
        let kind = figure.word("kind", DRAWINGS);
        figure.know("genuine");
        figure.know("false");
        let unit = figure.word("unit", LENGTH_UNITS);
        let digits: Vec<(&'static str, u8)> = (0..).zip(DIGITS).map(|(digit, word)| (*word, digit)).collect();
        let (upper, under) = (figure.word("upper", &digits), figure.word("under", &digits));
        let (mark, letter) = (letters(&mut figure, "mark"), letters(&mut figure, "letter"));
        let against = figure.word("against", TILT_AGAINST);
        let stroke = figure.number("stroke");
        let sides = kind.map(|kind| {
            own_keys(&mut figure, kind);
            (Form::read(&mut figure, "genuine", kind), Form::read(&mut figure, "false", kind))
        });
        let sides = sides.and_then(|(genuine, not_genuine)| genuine.zip(not_genuine));
        let read = kind.zip(sides).and_then(|(kind, (genuine, not_genuine))| {
            let of = match kind {
                DrawingKind::Profile if genuine.is_measured() || not_genuine.is_measured() => {
                    if !figure.has("unit") {
                        figure.missing("unit", "\"mm\", or \"relative\" for parts of the height of the true relief");
                    }
                    Subject::Lengths(unit?)
                }
                DrawingKind::Overdate => Subject::Digits { upper: upper?, under: under? },
                DrawingKind::Alignment => {
                    let against = against?;
                    letter_where_meant(&figure, against, &[&genuine, &not_genuine])?;
                    let stroke = slant(&figure, stroke.unwrap_or(0.0), &[&genuine, &not_genuine])?;
                    Subject::Letters { mark: mark?, letter, stroke, against }
                }
                _ => Subject::Nothing,
            };
            let drawing = Drawing { kind, of, genuine, not_genuine };
            drawing.compares(&figure).then_some(drawing)
        });
        figure.finish();
        read
    }

    /// Whether both sides give the numbers that only a pair of them can compare.
    fn compares(&self, figure: &Fields<'_, '_>) -> bool {
        let mut whole = true;
        for rule in self.kind.numbers().iter().filter(|rule| rule.both) {
            for (key, form, other) in
                [("genuine", &self.genuine, &self.not_genuine), ("false", &self.not_genuine, &self.genuine)]
            {
                if other.is_measured() && form.get(rule.key).is_none() && rule.forms.contains(&form.word) {
                    let message = format!("`{key}` has no `{}`, and the other side is drawn by numbers", rule.key);
                    let hint = format!("add {}: {}", rule.key, rule.about);
                    figure.reader.error(Code::MissingKey, figure.span_of(key), message, hint);
                    whole = false;
                }
            }
        }
        if self.kind == DrawingKind::Reshaped && self.genuine.word == self.not_genuine.word {
            figure.wrong("false", "a digit is not reshaped into itself", "write the digit that it was before");
            whole = false;
        }
        whole
    }
}

/// One to three letters of a coin.
fn letters(figure: &mut Fields<'_, '_>, key: &'static str) -> Option<String> {
    let (text, _) = figure.text(key)?;
    if (1..=3).contains(&text.trim().chars().count()) {
        return Some(text.trim().to_string());
    }
    figure.wrong(key, format!("`{key}` is not one to three letters"), format!("write {key} = \"K\""));
    None
}

/// A base line is a letter's; on the line to the centre stands none, and nothing is met or measured from its foot.
fn letter_where_meant(figure: &Fields<'_, '_>, against: Against, forms: &[&Form]) -> Option<()> {
    if against == Against::BaseLine {
        if !figure.has("letter") {
            figure.missing("letter", "\"F\", whose base line is meant");
            return None;
        }
        return Some(());
    }
    let beside = ["letter", "stroke"].into_iter().find(|key| figure.has(key));
    let met = ["meets", "offset"].into_iter().find(|key| forms.iter().any(|form| form.get(key).is_some()));
    let Some(key) = beside.or(met) else { return Some(()) };
    let hint = "leave it out, or write against = \"base-line\" if the degrees are against the letter's base line";
    let at = if beside.is_some() { key } else { "against" };
    figure.wrong(at, format!("a mark drawn against the line to the centre has no `{key}`"), hint);
    None
}

/// The angle of the stroke, if its line can meet a letter that stands beside the mark.
fn slant(figure: &Fields<'_, '_>, stroke: f64, forms: &[&Form]) -> Option<f64> {
    let steep = |form: &&&Form| form.get("meets").is_some() && (stroke + form.get("tilt").unwrap_or(0.0)).abs() > 60.0;
    if stroke.abs() <= 60.0 && !forms.iter().any(|form| steep(&form)) {
        return Some(stroke);
    }
    figure.wrong(
        "stroke",
        format!("a stroke at {stroke}° is too steep to meet a letter beside the mark"),
        "with its tilt it runs from -60 to 60; leave out `meets` to draw the tilt alone",
    );
    None
}

/// Reports keys of other kinds, and those the kind cannot do without.
fn own_keys(figure: &mut Fields<'_, '_>, kind: DrawingKind) {
    for key in ["unit", "upper", "under", "mark", "letter", "against", "stroke"] {
        match kind.keys().iter().find(|(own, _)| *own == key) {
            None if figure.has(key) => {
                let message = format!("a figure of kind \"{}\" has no `{key}`", kind.word());
                figure.wrong(key, message, "leave it out");
            }
            Some((_, true)) if !figure.has(key) => {
                figure.missing(
                    key,
                    match key {
                        "upper" | "under" => "\"7\"",
                        "against" => "\"base-line\", that of the letter, or \"centre\", the line to the centre",
                        _ => "\"K\"",
                    },
                );
            }
            _ => {}
        }
    }
}

impl Form {
    /// A word, or a table of a `form` and its numbers.
    fn read(figure: &mut Fields<'_, '_>, key: &'static str, kind: DrawingKind) -> Option<Form> {
        let words: Vec<(&'static str, &'static str)> = kind.forms().iter().map(|form| (*form, *form)).collect();
        if !figure.has(key) {
            figure.missing(key, &kind.example());
            return None;
        }
        if !figure.is_table(key) && !words.is_empty() {
            return figure.word(key, &words).map(Form::named);
        }
        let mut side = figure.table(key, "this form")?;
        let word = match kind {
            DrawingKind::Alignment => Some(""),
            // A turn says by itself that the die is turned.
            DrawingKind::Axis if !side.has("form") && side.has("turn") => {
                side.know("form");
                Some("turned")
            }
            _ => {
                if !side.has("form") {
                    side.missing("form", &kind.example());
                }
                side.word("form", &words)
            }
        };
        let numbers: Vec<Option<(&'static str, f64)>> = kind
            .numbers()
            .iter()
            .filter_map(|rule| {
                let number = side.number(rule.key);
                side.has(rule.key).then(|| number.and_then(|number| rule.allows(&side, number, word)))
            })
            .collect();
        if kind == DrawingKind::Alignment && !side.has("tilt") {
            side.missing("tilt", "1.5");
        }
        let tilted = kind != DrawingKind::Alignment || side.has("tilt");
        side.finish();
        let numbers: Option<Vec<(&'static str, f64)>> = numbers.into_iter().collect();
        Some(Form { word: word?, numbers: numbers? }).filter(|_| tilted)
    }
}

impl NumberRule {
    /// The number with its key, if a form of this name can have it.
    fn allows(&self, side: &Fields<'_, '_>, number: f64, word: Option<&str>) -> Option<(&'static str, f64)> {
        let NumberRule { key, low, high, about, .. } = self;
        if let Some(word) = word.filter(|word| !self.forms.contains(word)) {
            let message = format!("the form \"{word}\" has no `{key}`");
            side.wrong(key, message, format!("`{key}` goes with: {}", self.forms.join(", ")));
            return None;
        }
        if !(*low..=*high).contains(&number) || (self.whole && number.fract() != 0.0) {
            let what = if self.whole { "a whole number " } else { "" };
            let message = format!("a `{key}` of {number} cannot be drawn");
            side.wrong(key, message, format!("it is {what}from {low} to {high}: {about}"));
            return None;
        }
        Some((key, number))
    }
}
