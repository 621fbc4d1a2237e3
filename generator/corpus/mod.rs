//! Entries → one checked whole: found by id, resolved to each other, each issue with the checks it inherits.
//! Holds no prose of its own and reports only what concerns names; the rest is [`crate::rules`]' work.

mod assemble;
mod backlinks;
mod inherit;
mod names;
mod pictures;
mod statements;
mod title;

pub use assemble::assemble;
pub use backlinks::Backlinks;
pub use inherit::{Hypo, IssueView, PlacedCheck, ResolvedPlace, place_anywhere, place_on};
pub use names::{Lost, host_row};
pub use pictures::{Shown, feeds_the_bench, photos_of};
pub use statements::{StatementRef, checks_of, prose_of, sentences, signs_of, statements};
pub use title::title;

use std::collections::BTreeMap;

use crate::entry::{
    Alteration, Body, Country, Entry, EntryId, Family, Issue, Kind, Method, Published, Reference, Series, Term,
};
use crate::source::Sources;

/// A collection and what its `collection.toml` says.
#[derive(Clone, Debug)]
pub struct CollectionInfo {
    /// Folder name, such as `reference`.
    pub key: String,
    pub name: String,
    pub real: bool,
    pub public: bool,
    pub about: Option<String>,
    pub licence: Option<String>,
}

/// Every entry of every collection.
pub struct Corpus {
    pub sources: Sources,
    pub collections: Vec<CollectionInfo>,
    /// By id.
    entries: Vec<Entry>,
    by_id: BTreeMap<EntryId, usize>,
    /// Every tail of every id, such as `dime/1916-d`, and the entries that end so.
    by_tail: BTreeMap<String, Vec<usize>>,
    /// For each series, its issues by row.
    by_series: BTreeMap<EntryId, Vec<usize>>,
    /// By key; the collection that states it beside it.
    pub published: BTreeMap<String, (usize, Published)>,
}

impl Corpus {
    /// In order of id.
    pub fn entries(&self) -> &[Entry] {
        &self.entries
    }

    pub fn of_kind(&self, kind: Kind) -> impl Iterator<Item = &Entry> {
        self.entries.iter().filter(move |entry| entry.kind() == kind)
    }

    pub fn get(&self, id: &EntryId) -> Option<&Entry> {
        self.by_id.get(id).map(|at| &self.entries[*at])
    }

    /// An entry by its whole id, as text.
    pub fn get_str(&self, id: &str) -> Option<&Entry> {
        EntryId::parse(id).and_then(|id| self.get(&id))
    }

    pub fn collection(&self, entry: &Entry) -> &CollectionInfo {
        &self.collections[entry.collection]
    }

    pub fn issues(&self) -> impl Iterator<Item = (&Entry, &Issue)> {
        self.entries.iter().filter_map(|entry| Some((entry, entry.issue()?)))
    }

    pub fn all_series(&self) -> impl Iterator<Item = (&Entry, &Series)> {
        self.entries.iter().filter_map(|entry| Some((entry, entry.series()?)))
    }

    /// The series of an issue, if it was found and read.
    pub fn series_of(&self, issue: &Issue) -> Option<(&Entry, &Series)> {
        let entry = self.find(Kind::Series, &issue.series).ok()?;
        Some((entry, entry.series()?))
    }

    pub fn country_of(&self, series: &Series) -> Option<(&Entry, &Country)> {
        let entry = self.find(Kind::Country, &series.country).ok()?;
        Some((entry, entry.country()?))
    }

    /// Issues of a series on file, by row.
    pub fn issues_of(&self, series: &EntryId) -> Vec<(&Entry, &Issue)> {
        let at = self.by_series.get(series).map_or(&[][..], Vec::as_slice);
        at.iter().filter_map(|at| Some((&self.entries[*at], self.entries[*at].issue()?))).collect()
    }

    /// Lays the entries out for finding. They come in order of id.
    fn new(
        sources: Sources,
        collections: Vec<CollectionInfo>,
        entries: Vec<Entry>,
        published: BTreeMap<String, (usize, Published)>,
    ) -> Corpus {
        let by_id = entries.iter().enumerate().map(|(at, entry)| (entry.id.clone(), at)).collect();
        let mut by_tail: BTreeMap<String, Vec<usize>> = BTreeMap::new();
        for (at, entry) in entries.iter().enumerate() {
            let mut tail = entry.id.as_str();
            while let Some((_, rest)) = tail.split_once('/') {
                by_tail.entry(rest.to_string()).or_default().push(at);
                tail = rest;
            }
        }
        let mut corpus =
            Corpus { sources, collections, entries, by_id, by_tail, by_series: BTreeMap::new(), published };
        let mut by_series: BTreeMap<EntryId, Vec<usize>> = BTreeMap::new();
        for (at, entry) in corpus.entries.iter().enumerate() {
            let series = entry.issue().and_then(|issue| corpus.series_of(issue));
            if let Some((series, _)) = series {
                by_series.entry(series.id.clone()).or_default().push(at);
            }
        }
        let row = |at: &usize| corpus.entries[*at].issue().map(|issue| &issue.row);
        by_series.values_mut().for_each(|list| list.sort_by(|a, b| row(a).cmp(&row(b))));
        corpus.by_series = by_series;
        corpus
    }

    /// Entries whose id ends in `tail`, in order of id.
    fn ending_in(&self, tail: &str) -> impl Iterator<Item = &Entry> {
        self.by_tail.get(tail).into_iter().flatten().map(|at| &self.entries[*at])
    }

    /// A reference to an entry of one kind, or why not.
    pub fn find(&self, kind: Kind, reference: &Reference) -> Result<&Entry, Lost> {
        names::find(self, Some(kind), &reference.text)
    }

    /// A reference to an entry of any kind.
    pub fn find_any(&self, reference: &str) -> Result<&Entry, Lost> {
        names::find(self, None, reference)
    }
}

impl Entry {
    pub fn series(&self) -> Option<&Series> {
        if let Body::Series(series) = &self.body { Some(series) } else { None }
    }

    pub fn issue(&self) -> Option<&Issue> {
        if let Body::Issue(issue) = &self.body { Some(issue) } else { None }
    }

    pub fn family(&self) -> Option<&Family> {
        if let Body::Family(family) = &self.body { Some(family) } else { None }
    }

    pub fn method(&self) -> Option<&Method> {
        if let Body::Method(method) = &self.body { Some(method) } else { None }
    }

    pub fn alteration(&self) -> Option<&Alteration> {
        if let Body::Alteration(alteration) = &self.body { Some(alteration) } else { None }
    }

    pub fn country(&self) -> Option<&Country> {
        if let Body::Country(country) = &self.body { Some(country) } else { None }
    }

    pub fn term(&self) -> Option<&Term> {
        if let Body::Term(term) = &self.body { Some(term) } else { None }
    }
}
