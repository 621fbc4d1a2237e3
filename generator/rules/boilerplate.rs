//! The same sentence in many entries belongs on a method, alteration or series page.

use std::collections::BTreeMap;

use crate::corpus::{Corpus, prose_of, sentences};
use crate::diagnostic::{Code, Report};
use crate::entry::EntryId;
use crate::source::Span;

/// A sentence may stand in this many entries.
pub const MOST_ENTRIES: usize = 5;

/// `repeated-sentence` (warning): a sentence of five words or more stands in at most five entries.
pub fn repeated_sentence(corpus: &Corpus, report: &mut Report) {
    for (_, uses) in uses(corpus) {
        let mut entries: Vec<&EntryId> = uses.iter().map(|(id, _)| *id).collect();
        entries.dedup();
        if entries.len() <= MOST_ENTRIES {
            continue;
        }
        let message = format!("this sentence stands in {} entries", entries.len());
        let problem = report.warning(Code::RepeatedSentence, uses[0].1, message);
        problem.hint("say it once, in the method, alteration or series it is true of; entries inherit those checks");
        for (_, span) in uses.iter().skip(1).take(2) {
            problem.related(*span, "again");
        }
    }
}

/// Every sentence, in plain words, with the entries it stands in, in order.
pub fn uses(corpus: &Corpus) -> BTreeMap<String, Vec<(&EntryId, Span)>> {
    let mut uses: BTreeMap<String, Vec<(&EntryId, Span)>> = BTreeMap::new();
    for entry in corpus.entries() {
        for prose in prose_of(entry) {
            for (sentence, range) in sentences(&prose.text) {
                uses.entry(sentence).or_default().push((&entry.id, prose.span_of(range.start, range.end)));
            }
        }
    }
    uses
}
