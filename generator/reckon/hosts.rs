//! Which coins of a series could have been made into an issue by one or two changes: a mint mark added, removed or
//! changed, one digit reshaped, a variety's feature made. Ranked by effort, then by how common the host is.

use std::collections::BTreeMap;

use rayon::prelude::*;

use super::strokes::{Reshaping, one_digit};
use super::{standard, units};
use crate::corpus::Corpus;
use crate::entry::{Basis, DateEntry, Entry, EntryId, MarkPlace, Operation, RowLabel, Series};

/// One change to a genuine coin.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Change {
    MarkAdded {
        to: String,
    },
    MarkRemoved {
        from: String,
    },
    MarkChanged {
        from: String,
        to: String,
    },
    Digit(Reshaping),
    /// The feature that makes the variety.
    Feature {
        from: String,
        to: String,
    },
}

impl Change {
    /// Only the order of these numbers means anything (common practice, no source: marks come off more easily than they go on).
    fn effort(&self) -> f64 {
        match self {
            Change::MarkRemoved { .. } => 1.0,
            Change::MarkChanged { .. } => 2.5,
            Change::MarkAdded { .. } => 2.0,
            Change::Digit(reshaping) => 1.5 + reshaping.effort(),
            Change::Feature { to, .. } if to.is_empty() => 1.5,
            Change::Feature { .. } => 2.5,
        }
    }
}

/// What still tells the host when the change itself is well made.
#[derive(Clone, Debug)]
pub struct Betrayal<'c> {
    pub text: String,
    /// The statement it rests on, if it is an entry's and not arithmetic.
    pub basis: Option<&'c Basis>,
}

/// A genuine coin that could have been made into the issue.
#[derive(Clone, Debug)]
pub struct Host<'c> {
    pub label: RowLabel,
    pub pieces: Option<u64>,
    pub changes: Vec<Change>,
    pub effort: f64,
    pub betrayals: Vec<Betrayal<'c>>,
    /// A curator recorded it.
    pub recorded: bool,
}

/// Hosts above this effort are left to the imagination.
const MOST_EFFORT: f64 = 8.0;
/// A second change makes a piece this much less likely.
const SECOND_CHANGE: f64 = 1.5;

/// The hosts of an issue within its series, easiest first, then commonest. Empty while its series or row is missing.
pub fn hosts<'c>(corpus: &'c Corpus, entry: &'c Entry) -> Vec<Host<'c>> {
    let Some(issue) = entry.issue() else { return Vec::new() };
    let Some((own, series)) = corpus.series_of(issue) else { return Vec::new() };
    let Some((target, _)) = series.row(&issue.row) else { return Vec::new() };
    let recorded = recorded(corpus, entry, own);
    let mut out = Vec::new();
    for (row, _) in series.rows() {
        let is_recorded = recorded.contains(&row.label);
        let scarcer = matches!((row.pieces, target.pieces), (Some(host), Some(target)) if host < target);
        // A variety is a host only where its date has no plain row, or where a curator says so.
        let odd = !row.label.variety.is_empty()
            && series.row(&RowLabel { variety: String::new(), ..row.label.clone() }).is_some();
        if row.label == issue.row || ((scarcer || odd) && !is_recorded) {
            continue;
        }
        let Some(changes) = changes(series, &row.label, &issue.row) else { continue };
        let effort = effort(&changes);
        if effort <= MOST_EFFORT || is_recorded {
            let betrayals = betrayals(series, &row.label, &issue.row, &changes);
            out.push(Host {
                label: row.label.clone(),
                pieces: row.pieces,
                changes,
                effort,
                betrayals,
                recorded: is_recorded,
            });
        }
    }
    out.sort_by(|a, b| {
        a.effort
            .total_cmp(&b.effort)
            .then(b.pieces.unwrap_or(0).cmp(&a.pieces.unwrap_or(0)))
            .then_with(|| a.label.cmp(&b.label))
    });
    out
}

fn effort(changes: &[Change]) -> f64 {
    changes.iter().map(Change::effort).sum::<f64>() + SECOND_CHANGE * (changes.len() as f64 - 1.0)
}

/// Rows of the issue's own series that its entry records as hosts.
fn recorded(corpus: &Corpus, entry: &Entry, own: &Entry) -> Vec<RowLabel> {
    let altered = entry.issue().into_iter().flat_map(|issue| &issue.alterations);
    altered
        .flat_map(|altered| &altered.hosts)
        .filter_map(|host| crate::corpus::host_row(corpus, own, host).ok())
        .filter(|(series, _)| series.id == own.id)
        .map(|(_, label)| label)
        .collect()
}

/// The changes that turn one row into another: one or two, or `None`.
pub fn changes(series: &Series, from: &RowLabel, to: &RowLabel) -> Option<Vec<Change>> {
    let mut out = Vec::new();
    if from.year != to.year {
        if !series.digits.western {
            return None;
        }
        out.push(Change::Digit(one_digit(from.year, to.year, series.digits.style)?));
    }
    if from.mint != to.mint {
        out.push(match (from.mint.as_str(), to.mint.as_str()) {
            ("", to) => Change::MarkAdded { to: to.into() },
            (from, "") => Change::MarkRemoved { from: from.into() },
            (from, to) => Change::MarkChanged { from: from.into(), to: to.into() },
        });
    }
    if from.variety != to.variety && (!to.variety.is_empty() || from.year == to.year) {
        out.push(Change::Feature { from: from.variety.clone(), to: to.variety.clone() });
    }
    (1..=2).contains(&out.len()).then_some(out)
}

/// Whether a pattern of this operation starts from another date, mint or variety.
pub fn needs_host(operation: Operation) -> bool {
    !matches!(operation, Operation::Surface | Operation::Edge | Operation::Metal | Operation::Legend)
}

/// Whether a recorded host can become the issue by this operation, with at most one further change.
pub fn found(corpus: &Corpus, entry: &Entry, operation: Operation, host: &RowLabel) -> bool {
    let Some(issue) = entry.issue() else { return true };
    let Some((_, series)) = corpus.series_of(issue) else { return true };
    if !needs_host(operation) {
        return true;
    }
    if !series.digits.western && host.year != issue.row.year {
        // Numerals that are not worked out cannot be checked either.
        return true;
    }
    let Some(changes) = changes(series, host, &issue.row) else { return false };
    changes.iter().any(|change| match change {
        Change::MarkAdded { .. } => operation == Operation::MarkAdded,
        Change::MarkRemoved { .. } => operation == Operation::MarkRemoved,
        Change::MarkChanged { .. } => matches!(operation, Operation::MarkChanged | Operation::MarkAdded),
        Change::Digit(_) => operation == Operation::DigitChanged,
        // An overdate is simulated on the digits, other features are cut in or taken off.
        Change::Feature { .. } => {
            matches!(operation, Operation::FeatureRemoved | Operation::FeatureAdded | Operation::DigitChanged)
        }
    })
}

fn betrayals<'c>(series: &'c Series, host: &RowLabel, target: &RowLabel, changes: &[Change]) -> Vec<Betrayal<'c>> {
    let mut out = Vec::new();
    if let (Some(a), Some(b)) = (series.standard(host.year), series.standard(target.year)) {
        if let (Some(a_weight), Some(b_weight)) = (standard::weight(a), standard::weight(b))
            && (a_weight.grams - b_weight.grams).abs() > b_weight.deviation.min(a_weight.deviation)
        {
            let text = format!(
                "It was struck to {} g; a true piece to {} g.",
                units::tidy(round3(a_weight.grams)),
                units::tidy(round3(b_weight.grams))
            );
            out.push(Betrayal { text, basis: Some(a.basis_of("weight")) });
        }
        if !a.alloy.is_empty() && !b.alloy.is_empty() && a.alloy != b.alloy {
            let text = format!(
                "Its metal is {}; a true piece is {}.",
                super::alloy::in_words(&a.alloy),
                super::alloy::in_words(&b.alloy)
            );
            out.push(Betrayal { text, basis: Some(a.basis_of("alloy")) });
        }
    }
    if changes.iter().any(|change| matches!(change, Change::MarkChanged { .. } | Change::MarkRemoved { .. })) {
        let (a, b) = (series.mark_place(host.year), series.mark_place(target.year));
        if let (Some(a), Some(b)) = (a, b)
            && !std::ptr::eq::<MarkPlace>(a, b)
        {
            let text = format!("Its mark stood elsewhere: {}", a.statement.text.text.trim());
            out.push(Betrayal { text, basis: Some(&a.statement.basis) });
        }
    }
    let (first, last) = (host.year.min(target.year), host.year.max(target.year));
    for change in series.changes.iter().filter(|change| first < change.year && change.year <= last) {
        let text = format!("Changed in {}: {}", change.year, change.statement.text.text.trim());
        out.push(Betrayal { text, basis: Some(&change.statement.basis) });
    }
    for change in changes {
        let Change::Digit(reshaping) = change else { continue };
        if reshaping.height_differs {
            let text = format!(
                "The numerals are of unequal height: a {} does not stand on the line as a {} does.",
                reshaping.from, reshaping.to
            );
            out.push(Betrayal { text, basis: Some(&series.digits.basis) });
        }
    }
    out
}

/// What the making of the date betrays of any changed digit; `None` where it is not known.
pub fn date_entry_betrays(entry: DateEntry) -> Option<&'static str> {
    match entry {
        DateEntry::Hub => Some("The date is in the hub: every true digit of the year has one shape and place."),
        DateEntry::Logotype => {
            Some("The whole date was set with one punch: a true digit keeps its distance and tilt to the others.")
        }
        DateEntry::Punches => {
            Some("Digits were punched one by one: compare the shape of the digit's own punch, not its place.")
        }
        DateEntry::Unknown => None,
    }
}

fn round3(number: f64) -> f64 {
    (number * 1000.0).round() / 1000.0
}

/// The hosts of every issue on file.
pub type AllHosts<'c> = BTreeMap<EntryId, Vec<Host<'c>>>;

/// Worked out once for a whole build.
pub fn all(corpus: &Corpus) -> AllHosts<'_> {
    let issues: Vec<&Entry> = corpus.issues().map(|(entry, _)| entry).collect();
    issues.par_iter().map(|entry| (entry.id.clone(), hosts(corpus, entry))).collect()
}

/// For each row of a series, the issues on file it could be altered into, easiest first.
pub fn targets<'c>(corpus: &'c Corpus, all: &AllHosts<'_>, series: &EntryId) -> BTreeMap<RowLabel, Vec<&'c Entry>> {
    let mut found: BTreeMap<RowLabel, Vec<(f64, &Entry)>> = BTreeMap::new();
    for (entry, _) in corpus.issues_of(series) {
        for host in all.get(&entry.id).into_iter().flatten() {
            found.entry(host.label.clone()).or_default().push((host.effort, entry));
        }
    }
    found
        .into_iter()
        .map(|(label, mut list)| {
            list.sort_by(|a, b| a.0.total_cmp(&b.0).then_with(|| a.1.id.cmp(&b.1.id)));
            (label, list.into_iter().map(|(_, entry)| entry).collect())
        })
        .collect()
}

/// A change in a few words, for lists.
pub fn in_words(change: &Change) -> String {
    match change {
        Change::MarkAdded { to } => format!("{to} added"),
        Change::MarkRemoved { from } => format!("{from} removed"),
        Change::MarkChanged { from, to } => format!("{from} changed to {to}"),
        Change::Digit(reshaping) => {
            let list =
                |strokes: &[super::strokes::Stroke]| strokes.iter().map(|s| s.words()).collect::<Vec<_>>().join(", ");
            let mut parts = Vec::new();
            if !reshaping.removed.is_empty() {
                parts.push(format!("{} removed", list(&reshaping.removed)));
            }
            if !reshaping.added.is_empty() {
                parts.push(format!("{} added", list(&reshaping.added)));
            }
            format!("{} into {} ({})", reshaping.from, reshaping.to, parts.join("; "))
        }
        Change::Feature { from, to } if to.is_empty() => format!("{from} taken off"),
        Change::Feature { to, .. } => format!("{to} made"),
    }
}
