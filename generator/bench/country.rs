//! One country's series, checks and issues, each sentence once.

use std::collections::BTreeMap;

use serde::Serialize;

use super::issue::{Issue, issue};
use super::{Sums, basis_words};
use crate::corpus::{Corpus, PlacedCheck, title};
use crate::entry::{Against, Axis, Basis, CheckKind, Entry, EntryId, Standard};
use crate::reckon::hosts::AllHosts;
use crate::reckon::{alloy, standard, units};
use crate::render;

#[derive(Serialize)]
pub struct Country {
    key: String,
    title: String,
    bases: Vec<String>,
    entries: BTreeMap<String, Known>,
    series: BTreeMap<String, Series>,
    checks: Vec<Check>,
    issues: BTreeMap<String, Issue>,
}

#[derive(Serialize)]
struct Known {
    title: String,
    page: String,
    sha256: String,
    reviewed: String,
    demo: bool,
}

#[derive(Serialize)]
struct Series {
    title: String,
    denomination: String,
    standards: Vec<Law>,
}

#[derive(Serialize)]
struct Law {
    from: i32,
    to: i32,
    weight: Option<Weight>,
    alloy: Option<Alloy>,
    diameter: Option<f64>,
    thickness: Option<f64>,
    edge: String,
    axis: &'static str,
    basis: usize,
}

#[derive(Serialize)]
struct Weight {
    grams: f64,
    deviation: f64,
    stated: bool,
    worn: f64,
    words: String,
    basis: usize,
}

#[derive(Serialize)]
struct Alloy {
    words: String,
    parts: BTreeMap<String, f64>,
    density: Option<f64>,
    give: Option<f64>,
}

#[derive(Serialize)]
struct Check {
    id: String,
    from: String,
    ask: String,
    cause: String,
    decisive: bool,
    magnification: Option<f64>,
    light: String,
    tool: String,
    quantity: &'static str,
    against: &'static str,
    unit: &'static str,
    findings: Vec<Finding>,
    basis: Option<usize>,
}

#[derive(Serialize)]
struct Finding {
    say: String,
    basis: usize,
}

/// A shard being filled: what is shared between issues is kept once and told by its place.
pub struct Shelf<'c> {
    pub corpus: &'c Corpus,
    pub hosts: &'c AllHosts<'c>,
    sums: &'c Sums,
    bases: Vec<String>,
    checks: Vec<Check>,
    /// By the entry that states it and its own id.
    checked: BTreeMap<(EntryId, String), usize>,
    entries: BTreeMap<String, Known>,
}

pub fn country<'c>(corpus: &'c Corpus, entry: &Entry, hosts: &'c AllHosts<'c>, sums: &'c Sums) -> Country {
    let mut shelf = Shelf {
        corpus,
        hosts,
        sums,
        bases: Vec::new(),
        checks: Vec::new(),
        checked: BTreeMap::new(),
        entries: BTreeMap::new(),
    };
    let ours = corpus
        .all_series()
        .filter(|(_, series)| corpus.country_of(series).is_some_and(|(country, _)| country.id == entry.id));
    let (mut series, mut issues) = (BTreeMap::new(), BTreeMap::new());
    for (owner, one) in ours {
        shelf.know(owner);
        let standards = one.standards.iter().map(|standard| shelf.law(standard)).collect();
        let denomination = one.denomination.clone();
        series.insert(owner.id.to_string(), Series { title: title(corpus, owner), denomination, standards });
        for (entry, _) in corpus.issues_of(&owner.id) {
            if let Some(issue) = issue(&mut shelf, entry) {
                issues.insert(entry.id.to_string(), issue);
            }
        }
    }
    Country {
        key: entry.id.stem().to_string(),
        title: title(corpus, entry),
        bases: shelf.bases,
        entries: shelf.entries,
        series,
        checks: shelf.checks,
        issues,
    }
}

impl Shelf<'_> {
    /// Takes an entry down; returns its id.
    pub fn know(&mut self, entry: &Entry) -> String {
        let id = entry.id.to_string();
        if !self.entries.contains_key(&id) {
            let reviewed = entry.common.as_ref().and_then(|common| common.reviewed);
            let known = Known {
                title: title(self.corpus, entry),
                page: render::page_of(entry),
                sha256: self.sums.get(&entry.id).cloned().unwrap_or_default(),
                reviewed: reviewed.map_or(String::new(), |day| day.to_string()),
                demo: !self.corpus.collection(entry).real,
            };
            self.entries.insert(id.clone(), known);
        }
        id
    }

    /// The place of a basis among the words of all.
    pub fn basis(&mut self, basis: &Basis) -> usize {
        let words = basis_words(self.corpus, basis);
        self.bases.iter().position(|known| *known == words).unwrap_or_else(|| {
            self.bases.push(words);
            self.bases.len() - 1
        })
    }

    /// The place of a check among all.
    pub fn check(&mut self, placed: &PlacedCheck<'_>) -> usize {
        let key = (placed.from.id.clone(), placed.check.id.to_string());
        if let Some(at) = self.checked.get(&key) {
            return *at;
        }
        let check = self.new_check(placed);
        self.checks.push(check);
        self.checked.insert(key, self.checks.len() - 1);
        self.checks.len() - 1
    }

    fn new_check(&mut self, placed: &PlacedCheck<'_>) -> Check {
        let check = placed.check;
        let from = self.know(placed.from);
        let (ask, quantity, against, unit, findings, basis) = match &check.kind {
            CheckKind::Look { ask, findings } => {
                let said = findings
                    .iter()
                    .map(|finding| Finding { say: finding.say.plain(), basis: self.basis(&finding.basis) })
                    .collect();
                (ask.plain(), "", "", "", said, None)
            }
            CheckKind::Measure { quantity, against, ask, basis, .. } => {
                let ask =
                    ask.as_ref().map_or_else(|| render::question(*quantity, *against).to_string(), |ask| ask.plain());
                let against = against.map_or("", Against::word);
                (ask, quantity.word(), against, quantity.unit(), Vec::new(), Some(self.basis(basis)))
            }
        };
        Check {
            id: check.id.to_string(),
            from,
            ask,
            cause: check.cause().to_string(),
            decisive: check.decisive,
            magnification: check.aid.magnification,
            light: check.aid.light.clone().unwrap_or_default(),
            tool: check.aid.tool.clone().unwrap_or_default(),
            quantity,
            against,
            unit,
            findings,
            basis,
        }
    }

    fn law(&mut self, one: &Standard) -> Law {
        let weight = one.weight.zip(standard::weight(one)).map(|(written, weight)| Weight {
            grams: weight.grams,
            deviation: weight.deviation,
            stated: weight.stated,
            worn: weight.worn(),
            words: units::in_words(written),
            basis: self.basis(one.basis_of("weight")),
        });
        let density = alloy::density(&one.alloy);
        Law {
            from: one.from,
            to: one.to,
            weight,
            alloy: (!one.alloy.is_empty()).then(|| Alloy {
                words: alloy::in_words(&one.alloy),
                parts: one.alloy.iter().cloned().collect(),
                density: density.map(|density| density.value),
                give: density.map(|density| density.give),
            }),
            diameter: one.diameter,
            thickness: one.thickness,
            edge: one.edge.clone().unwrap_or_default(),
            axis: match one.axis {
                Some(Axis::Coin) => "coin",
                Some(Axis::Medal) => "medal",
                None => "",
            },
            basis: self.basis(&one.basis),
        }
    }
}
