//! Checks: one thing to look at or measure, with its possible findings and what each hypothesis expects.

use toml::Spanned;
use toml::de::DeValue;

use super::basis::Basis;
use super::drawing::{Drawing, Subject};
use super::fields::{Fields, integer_of, number_of};
use super::id::{LocalId, Reference};
use super::place::Place;
use super::prose::Prose;
use super::quantity::{Against, QUANTITIES, Quantity};
use crate::diagnostic::Code;
use crate::source::Span;

/// One thing to look at or measure.
#[derive(Clone, Debug)]
pub struct Check {
    pub id: LocalId,
    pub id_span: Span,
    pub span: Span,
    pub place: Option<Place>,
    pub aid: Aid,
    /// As written; what counts is [`Check::cause`].
    written_cause: Option<String>,
    pub drawing: Option<Drawing>,
    /// An opinion should not be given without it.
    pub decisive: bool,
    /// In a series: only issues of these years.
    pub years: Option<(i32, i32)>,
    /// In a series: only issues of these mints.
    pub mints: Vec<String>,
    pub kind: CheckKind,
}

#[derive(Clone, Debug)]
pub enum CheckKind {
    Look {
        ask: Prose,
        findings: Vec<Finding>,
    },
    /// The genuine range comes from the standard of the series, unless `expect` states it.
    Measure {
        quantity: Quantity,
        /// Of a tilt and an offset.
        against: Option<Against>,
        ask: Option<Prose>,
        expect: Vec<(Hypothesis, Range)>,
        basis: Basis,
    },
}

/// An answer to a check.
#[derive(Clone, Debug)]
pub struct Finding {
    pub say: Prose,
    pub expect: Vec<(Hypothesis, Expectation)>,
    pub basis: Basis,
    pub span: Span,
}

/// Whom an expectation is about, as written: `genuine`, `self`, `family:ID`, `alteration:ID`.
#[derive(Clone, Debug)]
pub struct Hypothesis {
    pub kind: HypothesisKind,
    pub span: Span,
}

#[derive(Clone, Debug)]
pub enum HypothesisKind {
    Genuine,
    /// In a family, method or alteration: the pieces this entry is about.
    This,
    Family(Reference),
    Alteration(Reference),
}

/// How often a finding is met under a hypothesis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Expectation {
    Word(Frequency),
    /// Counted: `k` of `n`, with 0 ≤ k ≤ n and n > 0.
    Count {
        k: u32,
        n: u32,
    },
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Frequency {
    Always,
    Usual,
    Sometimes,
    Seldom,
    Never,
}

const FREQUENCIES: &[(&str, Frequency)] = &[
    ("always", Frequency::Always),
    ("usual", Frequency::Usual),
    ("sometimes", Frequency::Sometimes),
    ("seldom", Frequency::Seldom),
    ("never", Frequency::Never),
];

impl Frequency {
    pub fn word(self) -> &'static str {
        FREQUENCIES.iter().find(|(_, frequency)| *frequency == self).map_or("", |(word, _)| word)
    }
}

/// What a measurement gives under a hypothesis, in the unit of the quantity.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Range {
    Between { low: f64, high: f64 },
    Around { mean: f64, sd: f64 },
}

/// How to look.
#[derive(Clone, Debug, Default)]
pub struct Aid {
    pub magnification: Option<f64>,
    pub light: Option<String>,
    pub tool: Option<String>,
}

impl Check {
    pub(super) fn list(parent: &mut Fields<'_, '_>) -> Vec<Check> {
        parent.tables("check", "this check").into_iter().filter_map(Check::read).collect()
    }

    fn read(mut fields: Fields<'_, '_>) -> Option<Check> {
        let id = fields.local_id("id");
        let kind = CheckKind::read(&mut fields);
        let place = Place::read(&mut fields);
        let aid = Aid::read(&mut fields);
        let written_cause = fields.text("cause").map(|(cause, _)| cause);
        let drawing = Drawing::read(&mut fields);
        same_reference(&fields, kind.as_ref(), drawing.as_ref());
        let decisive = fields.boolean("decisive").unwrap_or(false);
        let years = fields.year_range("years");
        let mints = fields.texts("mints").into_iter().map(|(mint, _)| mint).collect();
        let span = fields.span;
        fields.finish();
        let (id, id_span) = id?;
        Some(Check { id, id_span, span, place, aid, written_cause, drawing, decisive, years, mints, kind: kind? })
    }

    /// Findings of checks with one cause are not independent: together they count once. A measurement without a written
    /// cause has its quantity as one, so that a look at the same fact can share it. Empty: independent of all others.
    pub fn cause(&self) -> &str {
        match (&self.written_cause, &self.kind) {
            (Some(written), _) => written,
            (None, CheckKind::Measure { quantity, .. }) => quantity.plain(),
            (None, CheckKind::Look { .. }) => "",
        }
    }
}

/// A figure beside a tilt draws what that tilt is against.
fn same_reference(fields: &Fields<'_, '_>, kind: Option<&CheckKind>, drawing: Option<&Drawing>) {
    let Some(CheckKind::Measure { against: Some(of_check), quantity: Quantity::Tilt, .. }) = kind else { return };
    let Some(Drawing { of: Subject::Letters { against, .. }, .. }) = drawing else { return };
    if against != of_check {
        let message = format!("the figure is {}, the check {}", against.words(), of_check.words());
        let hint = format!(
            "the same turn has other degrees there: write against = \"{}\" in both, with the degrees of that",
            of_check.word()
        );
        fields.wrong("figure", message, hint);
    }
}

impl CheckKind {
    fn read(fields: &mut Fields<'_, '_>) -> Option<CheckKind> {
        if fields.has("measure") {
            let quantity = fields.word("measure", QUANTITIES);
            let against = Against::read(fields, quantity);
            let ask = fields.prose("ask");
            let expect = read_expect(fields, Range::read);
            let basis = fields.basis("basis");
            let quantity = quantity?;
            if against.is_none() && !quantity.against().is_empty() {
                return None;
            }
            return Some(CheckKind::Measure { quantity, against, ask, expect, basis: basis? });
        }
        if !fields.has("ask") {
            fields.missing("ask", "'''a question to look at''', or measure = \"weight\"");
        }
        let ask = fields.prose("ask");
        // A look check has one only by mistake; the key is named so that the message can say so.
        fields.know("measure");
        Against::read(fields, None);
        let tables = fields.tables("finding", "this finding");
        let had = tables.len();
        let findings: Vec<Finding> = tables.into_iter().filter_map(Finding::read).collect();
        if had < 2 {
            fields.reader.error(
                Code::MissingKey,
                fields.span,
                format!(
                    "this check has {had} finding{}; two or more are needed to tell anything apart",
                    if had == 1 { "" } else { "s" }
                ),
                "add [[check.finding]] tables, one for each answer an examiner can give",
            );
            return None;
        }
        if findings.len() < had {
            return None;
        }
        Some(CheckKind::Look { ask: ask?, findings })
    }
}

impl Finding {
    fn read(mut fields: Fields<'_, '_>) -> Option<Finding> {
        let say = fields.need_prose("say");
        let expect = read_expect(&mut fields, Expectation::read);
        let basis = fields.basis("basis");
        let span = fields.span;
        fields.finish();
        Some(Finding { say: say?, expect, basis: basis?, span })
    }
}

fn read_expect<T>(
    fields: &mut Fields<'_, '_>,
    read: impl Fn(&Fields<'_, '_>, &Spanned<DeValue<'_>>) -> Option<T>,
) -> Vec<(Hypothesis, T)> {
    let mut out = Vec::new();
    for (key, value) in fields.open_table("expect") {
        let hypothesis = Hypothesis::read(fields, key);
        let expectation = read(fields, value);
        if let (Some(hypothesis), Some(expectation)) = (hypothesis, expectation) {
            out.push((hypothesis, expectation));
        }
    }
    out
}

impl Hypothesis {
    pub(super) fn read(fields: &Fields<'_, '_>, key: Reference) -> Option<Hypothesis> {
        let named = |name: &str| Reference { text: name.to_string(), span: key.span };
        let kind = match key.text.split_once(':') {
            None if key.text == "genuine" => HypothesisKind::Genuine,
            None if key.text == "self" => HypothesisKind::This,
            Some(("family", name)) => HypothesisKind::Family(named(name)),
            Some(("alteration", name)) => HypothesisKind::Alteration(named(name)),
            _ => {
                fields.reader.error(
                    Code::UnknownHypothesis,
                    key.span,
                    format!("`{}` is no hypothesis", key.text),
                    "use genuine, \"family:ID\", \"alteration:ID\", or self in a family, method or alteration",
                );
                return None;
            }
        };
        Some(Hypothesis { kind, span: key.span })
    }
}

impl Expectation {
    fn read(fields: &Fields<'_, '_>, value: &Spanned<DeValue<'_>>) -> Option<Expectation> {
        let span = fields.reader.span(value.span());
        if let Some(word) = value.get_ref().as_str() {
            if let Some((_, frequency)) = FREQUENCIES.iter().find(|(known, _)| *known == word) {
                return Some(Expectation::Word(*frequency));
            }
        } else if let Some(list) = value.get_ref().as_array() {
            let numbers: Vec<i64> = list.iter().filter_map(|item| integer_of(item.get_ref())).collect();
            if let ([k, n], 2) = (&numbers[..], list.len()) {
                if (1..=1_000_000).contains(n) && (0..=*n).contains(k) {
                    return Some(Expectation::Count { k: *k as u32, n: *n as u32 });
                }
                fields.reader.error(
                    Code::ImpossibleCount,
                    span,
                    format!("{k} of {n} cannot be counted"),
                    "write [k, n]: seen on k of n pieces, n above 0, k from 0 to n",
                );
                return None;
            }
        }
        fields.reader.error(
            Code::BadValue,
            span,
            "this expectation is neither a word nor a count",
            "write always, usual, sometimes, seldom or never, in quotes, or a count [37, 41]",
        );
        None
    }
}

impl Range {
    fn read(fields: &Fields<'_, '_>, value: &Spanned<DeValue<'_>>) -> Option<Range> {
        let span = fields.reader.span(value.span());
        let hint = "write { low = 6.05, high = 6.18 } or { mean = 6.1, sd = 0.03 }";
        let number = |key: &str| value.get_ref().as_table()?.get(key).and_then(|v| number_of(v.get_ref()));
        let keys = value.get_ref().as_table().map_or(0, |table| table.len());
        match (number("low"), number("high"), number("mean"), number("sd"), keys) {
            (Some(low), Some(high), None, None, 2) if low < high => Some(Range::Between { low, high }),
            (None, None, Some(mean), Some(sd), 2) if sd > 0.0 => Some(Range::Around { mean, sd }),
            (Some(_), Some(_), None, None, 2) => {
                fields.reader.error(Code::BadValue, span, "the low end is not below the high end", hint);
                None
            }
            _ => {
                fields.reader.error(
                    Code::BadValue,
                    span,
                    "this is neither a range nor a mean with its deviation",
                    hint,
                );
                None
            }
        }
    }
}

impl Aid {
    pub(super) fn read(fields: &mut Fields<'_, '_>) -> Aid {
        let Some(mut aid) = fields.table("aid", "this aid") else { return Aid::default() };
        let read = Aid {
            magnification: aid.positive("magnification"),
            light: aid.text("light").map(|(light, _)| light),
            tool: aid.text("tool").map(|(tool, _)| tool),
        };
        aid.finish();
        read
    }
}
