//! Who refers to whom: every link both ways, worked out once.

use std::collections::{BTreeMap, BTreeSet};

use super::{Corpus, statements};
use crate::entry::{Body, EntryId, Kind};

/// Derived once, before pages are made.
#[derive(Default)]
pub struct Backlinks {
    /// Entry → entries that refer to it, other than by glossary links.
    pub to: BTreeMap<EntryId, BTreeSet<EntryId>>,
    /// Source key → entries with a statement that cites it, and how many statements.
    pub cited: BTreeMap<String, BTreeMap<EntryId, usize>>,
}

impl Backlinks {
    pub fn new(corpus: &Corpus) -> Backlinks {
        let mut links = Backlinks::default();
        for entry in corpus.entries() {
            for target in targets(corpus, entry) {
                links.to.entry(target).or_default().insert(entry.id.clone());
            }
            for statement in statements(entry) {
                for citation in statement.basis.citations() {
                    let by = links.cited.entry(citation.source.text.clone()).or_default();
                    *by.entry(entry.id.clone()).or_default() += 1;
                }
            }
        }
        links
    }

    /// Entries of one kind that refer to `id`, in order of id.
    pub fn of_kind<'c>(&self, corpus: &'c Corpus, id: &EntryId, kind: Kind) -> Vec<&'c crate::entry::Entry> {
        let from = self.to.get(id).into_iter().flatten();
        from.filter_map(|id| corpus.get(id)).filter(|entry| entry.kind() == kind).collect()
    }
}

fn targets(corpus: &Corpus, entry: &crate::entry::Entry) -> BTreeSet<EntryId> {
    let mut out = BTreeSet::new();
    let mut add = |kind, reference| {
        if let Ok(target) = corpus.find(kind, reference) {
            out.insert(target.id.clone());
        }
    };
    match &entry.body {
        Body::Series(series) => add(Kind::Country, &series.country),
        Body::Issue(issue) => {
            add(Kind::Series, &issue.series);
            issue.forgeries.iter().for_each(|forgery| add(Kind::Family, &forgery.family));
            issue.alterations.iter().for_each(|altered| add(Kind::Alteration, &altered.pattern));
        }
        Body::Family(family) => {
            family.methods.iter().for_each(|method| add(Kind::Method, method));
            family.series.iter().for_each(|series| add(Kind::Series, series));
        }
        Body::Term(term) => term.see.iter().for_each(|see| add(Kind::Term, see)),
        _ => {}
    }
    for related in entry.common.iter().flat_map(|common| &common.related) {
        if let Ok(target) = corpus.find_any(&related.text) {
            out.insert(target.id.clone());
        }
    }
    out.remove(&entry.id);
    out
}
