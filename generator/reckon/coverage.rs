//! What is thin: for each entry, its statements by basis, and what it lacks.

use std::collections::BTreeMap;

use serde::Serialize;

use super::separation;
use crate::corpus::{Corpus, statements};
use crate::entry::{BasisKind, Body, Day, Entry, Kind};
use crate::rules::is_stale;

/// Statements by what they stand on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Bases {
    pub read: usize,
    pub memory: usize,
    pub common_practice: usize,
}

impl Bases {
    pub fn total(&self) -> usize {
        self.read + self.memory + self.common_practice
    }

    pub fn add(&mut self, kind: BasisKind) {
        match kind {
            BasisKind::Read => self.read += 1,
            BasisKind::Memory => self.memory += 1,
            BasisKind::CommonPractice => self.common_practice += 1,
        }
    }

    pub fn merge(&mut self, other: Bases) {
        self.read += other.read;
        self.memory += other.memory;
        self.common_practice += other.common_practice;
    }
}

/// One entry's state.
#[derive(Clone, Debug, Serialize)]
pub struct EntryCoverage {
    pub id: String,
    pub kind: &'static str,
    pub bases: Bases,
    /// For an issue: checks it states itself, and with those it inherits.
    pub own_checks: usize,
    pub checks: usize,
    pub pictures: usize,
    /// Pairs of hypotheses that no check tells apart and no note explains.
    pub unseparated: usize,
    /// Lines of `wanting`.
    pub wanting: usize,
    pub reviewed: Option<String>,
    pub stale: bool,
    /// In words, what is thin.
    pub thin: Vec<String>,
}

/// The whole corpus' state.
#[derive(Clone, Debug, Serialize)]
pub struct Coverage {
    pub bases: Bases,
    pub entries_by_kind: BTreeMap<&'static str, usize>,
    pub entries: Vec<EntryCoverage>,
}

/// An issue with fewer checks than this is thin (the bar the collection sets itself).
pub const FEW_CHECKS: usize = 5;

/// Fewer checks of its own than this make an issue thin.
pub const FEW_OWN: usize = 3;
/// Fewer diagnostics of its true dies than this make an issue thin.
pub const FEW_DIAGNOSTICS: usize = 2;

/// Counts everything. `today` decides which reviews are stale; without it none is.
pub fn coverage(corpus: &Corpus, today: Option<Day>) -> Coverage {
    let mut whole = Coverage { bases: Bases::default(), entries_by_kind: BTreeMap::new(), entries: Vec::new() };
    for entry in corpus.entries() {
        let one = of_entry(corpus, entry, today);
        whole.bases.merge(one.bases);
        *whole.entries_by_kind.entry(one.kind).or_default() += 1;
        whole.entries.push(one);
    }
    whole
}

/// Statements of one entry, by basis.
pub fn bases(entry: &Entry) -> Bases {
    let mut bases = Bases::default();
    for statement in statements(entry) {
        bases.add(statement.basis.kind());
    }
    bases
}

fn of_entry(corpus: &Corpus, entry: &Entry, today: Option<Day>) -> EntryCoverage {
    let bases = bases(entry);
    let common = entry.common.as_ref();
    let pictures =
        common.map_or(0, |common| common.photos.iter().filter(|photo| photo.file.is_some() && !photo.private).count());
    let wanting = common.map_or(0, |common| common.wanting.len());
    let reviewed = common.and_then(|common| common.reviewed);
    let stale = matches!((reviewed, today), (Some(reviewed), Some(today)) if is_stale(reviewed, today));
    let mut one = EntryCoverage {
        id: entry.id.to_string(),
        kind: entry.kind().folder(),
        bases,
        own_checks: crate::corpus::checks_of(entry).len(),
        checks: crate::corpus::checks_of(entry).len(),
        pictures,
        unseparated: 0,
        wanting,
        reviewed: reviewed.map(|day| day.to_string()),
        stale,
        thin: Vec::new(),
    };
    if let Some(view) = corpus.view(entry) {
        one.checks = view.checks.len();
        let notes = &view.issue.unseparated;
        one.unseparated = separation::unseparated(&view)
            .iter()
            .filter(|(a, b)| !notes.iter().any(|note| crate::rules::excuses(corpus, note, a, b)))
            .count();
        if one.checks < FEW_CHECKS {
            one.thin.push(format!("{} checks", one.checks));
        }
        if one.own_checks < FEW_OWN {
            one.thin.push(format!("{} checks of its own", one.own_checks));
        }
        if view.issue.genuine.len() < FEW_DIAGNOSTICS {
            one.thin.push(format!("{} diagnostics of the true dies", view.issue.genuine.len()));
        }
        if one.unseparated > 0 {
            one.thin.push(format!("{} pairs of hypotheses not told apart", one.unseparated));
        }
    }
    let wants_picture = matches!(entry.body, Body::Issue(_) | Body::Family(_));
    if wants_picture && pictures == 0 {
        one.thin.push("no picture".into());
    }
    if matches!(entry.kind(), Kind::Issue | Kind::Family) && bases.read + bases.memory == 0 {
        one.thin.push("nothing published".into());
    }
    if wanting > 0 {
        one.thin.push(format!("{wanting} things wanting"));
    }
    if stale {
        one.thin.push("review over two years old".into());
    }
    one
}
