//! Checks as pages show them: what each finding speaks for, and what each hypothesis expects.

use serde::Serialize;

use super::site::{Link, Page};
use super::{drawings, words};
use crate::corpus::{Hypo, IssueView, PlacedCheck, ResolvedPlace, place_anywhere, place_on, title};
use crate::entry::{
    Against, Basis, Check, CheckKind, Entry, Expectation, Finding, Frequency, HypothesisKind, Kind, Quantity, Range,
};
use crate::figure::{self, Bar, NumberLine};
use crate::reckon::{likelihood, separation, standard};

/// One check of a page.
#[derive(Serialize)]
pub struct CheckView {
    pub number: usize,
    pub id: String,
    pub ask_html: String,
    /// Place and aid, in words.
    pub how: Vec<String>,
    pub decisive: bool,
    pub drawing_html: String,
    pub findings: Vec<FindingView>,
    /// Stated once where all findings stand on the same.
    pub basis_html: String,
    /// The entry it is inherited from.
    pub from: Option<Link>,
    /// The one range of a measurement that has no other to be compared with.
    pub measured: Vec<String>,
    pub scale_html: String,
    pub pictures: Vec<Link>,
}

#[derive(Serialize)]
pub struct FindingView {
    /// `true`, `false` or `even`: which side the finding speaks for.
    pub lean: &'static str,
    pub lean_words: &'static str,
    pub say_html: String,
    pub expects: Vec<String>,
    pub basis_html: String,
}

impl<'a> Page<'a> {
    /// A check of an issue.
    pub fn check_of_issue(&self, number: usize, placed: &PlacedCheck<'_>, view: &IssueView<'_>) -> CheckView {
        let names: Vec<(Hypo, String)> = view.hypotheses.iter().map(|hypo| (hypo.clone(), self.name(hypo))).collect();
        let from = (placed.from.id != view.entry.id).then(|| self.link(placed.from));
        let mut pictures = self.pictures_of(view.entry, placed.check.id.as_str());
        // A look in short leads to its entry's own page, and with it to what is pictured there.
        if from.is_some() && number > 0 {
            pictures.extend(self.pictures_of(placed.from, placed.check.id.as_str()));
        }
        let made = match &placed.check.kind {
            CheckKind::Look { findings, .. } => {
                let rows: Vec<Row> = names
                    .iter()
                    .map(|(hypo, name)| Row {
                        name: name.clone(),
                        genuine: *hypo == Hypo::Genuine,
                        shares: placed.shares(hypo),
                        written: placed
                            .expects
                            .iter()
                            .map(|finding| {
                                finding.iter().find(|(who, _)| who == hypo).map(|(_, expectation)| *expectation)
                            })
                            .collect(),
                    })
                    .collect();
                self.look(number, placed.check, findings, &rows, &placed.place, from)
            }
            CheckKind::Measure { quantity, .. } => {
                let bars = names
                    .iter()
                    .filter_map(|(hypo, name)| Some((hypo, name, placed.range(hypo)?)))
                    // An altered genuine piece measures as a genuine one: one bar says it.
                    .filter(|(hypo, _, range)| {
                        !matches!(hypo, Hypo::Alteration(_)) || placed.range(&Hypo::Genuine) != Some(*range)
                    })
                    .map(|(hypo, name, range)| {
                        bar(*quantity, if *hypo == Hypo::Genuine { "law" } else { "false" }, name, range)
                    })
                    .collect();
                self.measured(number, placed.check, *quantity, bars, &placed.place, from)
            }
        };
        let drawing = drawings::on_issue(self.corpus(), placed, view);
        let drawing_html = drawing.map_or(String::new(), |drawing| figure::drawing(&drawing));
        CheckView { pictures, drawing_html, ..made }
    }

    /// A check on the page of a family, method or alteration, where `self` is the entry's own pieces.
    pub fn check_of_entry(&self, number: usize, check: &Check, owner: &Entry) -> CheckView {
        let place = loose_place(check, owner);
        let made = match &check.kind {
            CheckKind::Look { findings, .. } => {
                let mut rows =
                    vec![Row::written("true piece", true, findings, |kind| matches!(kind, HypothesisKind::Genuine))];
                if owner.series().is_none() {
                    let name = title(self.corpus(), owner);
                    rows.push(Row::written(&name, false, findings, |kind| matches!(kind, HypothesisKind::This)));
                }
                self.look(number, check, findings, &rows, &place, None)
            }
            CheckKind::Measure { quantity, expect, .. } => {
                let bars = expect
                    .iter()
                    .map(|(hypothesis, range)| match &hypothesis.kind {
                        HypothesisKind::Genuine => bar(*quantity, "law", "true piece", *range),
                        kind => bar(*quantity, "false", &self.name_as_written(kind, owner), *range),
                    })
                    .collect();
                self.measured(number, check, *quantity, bars, &place, None)
            }
        };
        CheckView { pictures: self.pictures_of(owner, check.id.as_str()), ..made }
    }

    /// A hypothesis as an entry writes it, by name.
    pub fn name_as_written(&self, kind: &HypothesisKind, owner: &Entry) -> String {
        let entry = match kind {
            HypothesisKind::Genuine => return "true piece".into(),
            HypothesisKind::This => Some(owner),
            HypothesisKind::Family(name) => self.corpus().find(Kind::Family, name).ok(),
            HypothesisKind::Alteration(name) => self.corpus().find(Kind::Alteration, name).ok(),
        };
        entry.map_or(String::new(), |entry| title(self.corpus(), entry))
    }

    /// A hypothesis by name, as chips and bars say it.
    pub fn name(&self, hypo: &Hypo) -> String {
        match hypo.entry().and_then(|id| self.corpus().get(id)) {
            None => "true piece".into(),
            Some(entry) => title(self.corpus(), entry),
        }
    }

    fn look(
        &self,
        number: usize,
        check: &Check,
        findings: &[Finding],
        rows: &[Row],
        place: &ResolvedPlace,
        from: Option<Link>,
    ) -> CheckView {
        let shared = shared_basis(findings);
        let basis_html = shared.map_or(String::new(), |basis| self.basis_html(basis));
        let views = findings
            .iter()
            .enumerate()
            .map(|(at, finding)| {
                let (lean, lean_words) = lean(at, rows, findings.len());
                FindingView {
                    lean,
                    lean_words,
                    say_html: self.prose.inline(finding.say.text.as_str()),
                    expects: expectations(at, rows),
                    basis_html: if shared.is_some() { String::new() } else { self.basis_html(&finding.basis) },
                }
            })
            .collect();
        let CheckKind::Look { ask, .. } = &check.kind else { unreachable!("look checks only") };
        CheckView {
            number,
            id: check.id.to_string(),
            ask_html: self.prose.inline(&ask.text),
            how: how(check, place),
            decisive: check.decisive,
            drawing_html: check.drawing.as_ref().map_or(String::new(), figure::drawing),
            findings: views,
            basis_html,
            from,
            measured: Vec::new(),
            scale_html: String::new(),
            pictures: Vec::new(),
        }
    }

    fn measured(
        &self,
        number: usize,
        check: &Check,
        quantity: Quantity,
        bars: Vec<Bar>,
        place: &ResolvedPlace,
        from: Option<Link>,
    ) -> CheckView {
        let CheckKind::Measure { ask, against, basis, .. } = &check.kind else { unreachable!("measured checks only") };
        let ask_html = match ask {
            Some(ask) => self.prose.inline(&ask.text),
            None => question(quantity, *against).to_string(),
        };
        let against = against.map(|against| format!("{} {}", quantity.word(), against.words()));
        CheckView {
            number,
            id: check.id.to_string(),
            ask_html,
            how: against.into_iter().chain(how(check, place)).collect(),
            decisive: check.decisive,
            drawing_html: check.drawing.as_ref().map_or(String::new(), figure::drawing),
            findings: Vec::new(),
            basis_html: self.basis_html(basis),
            from,
            measured: if bars.len() < 2 {
                bars.iter().map(|bar| format!("{}: {}", bar.label, bar.words)).collect()
            } else {
                Vec::new()
            },
            // A scale is for comparing: one range alone is said in words.
            scale_html: if bars.len() < 2 {
                String::new()
            } else {
                figure::number_line(&NumberLine { unit: quantity.unit(), bars })
            },
            pictures: Vec::new(),
        }
    }
}

/// What one hypothesis expects of a check's findings.
struct Row {
    name: String,
    genuine: bool,
    shares: Vec<f64>,
    written: Vec<Option<Expectation>>,
}

impl Row {
    fn written(name: &str, genuine: bool, findings: &[Finding], is: impl Fn(&HypothesisKind) -> bool) -> Row {
        let written: Vec<Option<Expectation>> = findings
            .iter()
            .map(|finding| {
                finding.expect.iter().find(|(hypothesis, _)| is(&hypothesis.kind)).map(|(_, expectation)| *expectation)
            })
            .collect();
        Row { name: name.to_string(), genuine, shares: likelihood::spread(&written), written }
    }
}

/// Which side a finding speaks for. It is a false piece's if some false hypothesis shows it far more often than a true
/// piece does; a true piece's if it shows it far more often than some false hypothesis does; else either's.
fn lean(finding: usize, rows: &[Row], findings: usize) -> (&'static str, &'static str) {
    let even = 1.0 / findings as f64;
    let genuine = rows.iter().find(|row| row.genuine).map_or(even, |row| row.shares[finding]);
    let mut others: Vec<f64> = rows
        .iter()
        .filter(|row| !row.genuine && row.written.iter().any(Option::is_some))
        .map(|row| row.shares[finding])
        .collect();
    if others.is_empty() {
        // Only "another false piece" is left, which shows every finding alike.
        others.push(even);
    }
    let most = others.iter().copied().fold(0.0, f64::max);
    let least = others.iter().copied().fold(1.0, f64::min);
    if most / genuine >= separation::RATIO {
        ("false", "As on a false piece")
    } else if genuine / least >= separation::RATIO {
        ("true", "As on a true piece")
    } else {
        ("even", "On either")
    }
}

/// Who expects a finding how, gathered by how: `always: true piece, digit cut down`.
fn expectations(finding: usize, rows: &[Row]) -> Vec<String> {
    let mut by_word: Vec<(f64, String, Vec<&str>)> = Vec::new();
    for row in rows {
        let Some(expectation) = row.written[finding] else { continue };
        let unlikely = matches!(expectation, Expectation::Word(Frequency::Seldom | Frequency::Never));
        // Where a false piece does not show a finding need not be said: its own finding says it.
        if unlikely && !row.genuine {
            continue;
        }
        let word = match expectation {
            Expectation::Word(frequency) => frequency.word().to_string(),
            Expectation::Count { k, n } => format!("{k} of {n}"),
        };
        match by_word.iter_mut().find(|(_, known, _)| *known == word) {
            Some((_, _, names)) => names.push(&row.name),
            None => by_word.push((likelihood::of(expectation), word, vec![&row.name])),
        }
    }
    by_word.sort_by(|a, b| b.0.total_cmp(&a.0));
    by_word.into_iter().map(|(_, word, names)| format!("{word}: {}", names.join(", "))).collect()
}

fn shared_basis(findings: &[Finding]) -> Option<&Basis> {
    let first = &findings.first()?.basis;
    let same = findings.iter().all(|finding| match (&finding.basis, first) {
        (Basis::CommonPractice, Basis::CommonPractice) => true,
        (a, b) => {
            let key = |basis: &Basis| {
                basis.citations().map(|c| (c.source.text.clone(), c.at.clone(), c.read)).collect::<Vec<_>>()
            };
            !matches!((a, b), (Basis::CommonPractice, _) | (_, Basis::CommonPractice)) && key(a) == key(b)
        }
    });
    same.then_some(first)
}

fn how(check: &Check, place: &ResolvedPlace) -> Vec<String> {
    let mut parts = Vec::new();
    let place = words::place(place);
    if !place.is_empty() {
        parts.push(place);
    }
    parts.extend(words::aid(&check.aid));
    parts
}

/// The place of a check outside any issue: landmarks keep their names.
fn loose_place(check: &Check, owner: &Entry) -> ResolvedPlace {
    match owner.series() {
        Some(series) => place_on(check.place.as_ref(), series, series.years.0),
        None => place_anywhere(check.place.as_ref()),
    }
}

/// A range as a bar, with its numbers in words.
pub fn bar(quantity: Quantity, class: &'static str, label: &str, range: Range) -> Bar {
    let (low, high) = standard::ends(range);
    let least = if quantity.unit() == "°" { 0 } else { 2 };
    // A wide range is not known to the thousandth.
    let most = if high - low > 0.1 && matches!(range, Range::Between { .. }) { 2 } else { 3 };
    let number = |value: f64| words::decimals(value, most, least);
    let unit = if quantity.unit() == "°" { "°".to_string() } else { format!(" {}", quantity.unit()) };
    let words = match range {
        Range::Between { .. } if quantity == Quantity::DieAxis => {
            format!("{} ± {}°", number((low + high) / 2.0), number((high - low) / 2.0))
        }
        Range::Between { .. } => format!("{} to {}{unit}", number(low), number(high)),
        Range::Around { mean, sd } => format!("{} ± {}{unit}", number(mean), number(sd)),
    };
    let at = if let Range::Around { mean, .. } = range { Some(mean) } else { None };
    Bar { class, label: figure::escape(label), low, high, at, words }
}

/// What a measured check asks where its entry says nothing else.
pub(crate) fn question(quantity: Quantity, against: Option<Against>) -> &'static str {
    match quantity {
        Quantity::Weight => "What does it weigh?",
        Quantity::Diameter => "How wide is it, across several diameters?",
        Quantity::Thickness => "How thick is it at the rim?",
        Quantity::Density => "What is its density?",
        Quantity::Tilt if against == Some(Against::Centre) => "How far is it tilted against the line to the centre?",
        Quantity::Tilt => "How far is it tilted against the base line of the letters?",
        Quantity::Offset if against == Some(Against::Points) => "How far apart are the two points?",
        Quantity::Offset => "How far does the point stand off the line?",
        Quantity::DieAxis => "How are the faces turned to each other?",
    }
}
