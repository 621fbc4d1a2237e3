//! Citations: their sources exist, and counts were read.

use crate::corpus::{Corpus, checks_of, statements};
use crate::diagnostic::{Code, Report, closest};
use crate::entry::{BasisKind, CheckKind, Citation, Entry, Expectation};

/// `unknown-source`: each citation names a source of its own collection or of an earlier one.
pub fn unknown_source(corpus: &Corpus, report: &mut Report) {
    for entry in corpus.entries() {
        let in_statements =
            statements(entry).into_iter().flat_map(|statement| statement.basis.citations().collect::<Vec<_>>());
        let in_photos = entry.common.iter().flat_map(|common| &common.photos).filter_map(|photo| photo.see.as_ref());
        for citation in in_statements.chain(in_photos) {
            check(corpus, entry, citation, report);
        }
    }
}

fn check(corpus: &Corpus, entry: &Entry, citation: &Citation, report: &mut Report) {
    let key = &citation.source.text;
    if corpus.published.get(key).is_some_and(|(collection, _)| *collection <= entry.collection) {
        return;
    }
    let known = corpus.published.iter().filter(|(_, (collection, _))| *collection <= entry.collection);
    let hint = match closest(key, known.map(|(key, _)| key.as_str())) {
        Some(near) => format!("did you mean \"{near}\"?"),
        None => {
            format!("add [{key}] with title and kind to the collection's sources.toml, or cite a source that is there")
        }
    };
    report.error(Code::UnknownSource, citation.source.span, format!("no source is called `{key}`")).hint(hint);
}

/// `count-not-read`: in a real collection, a count `[k, n]` has a citation that was read.
pub fn count_not_read(corpus: &Corpus, report: &mut Report) {
    for entry in corpus.entries().iter().filter(|entry| corpus.collection(entry).real) {
        for check in checks_of(entry) {
            let CheckKind::Look { findings, .. } = &check.kind else { continue };
            for finding in findings {
                let counted =
                    finding.expect.iter().find(|(_, expectation)| matches!(expectation, Expectation::Count { .. }));
                if let Some((hypothesis, _)) = counted
                    && finding.basis.kind() != BasisKind::Read
                {
                    report
                        .error(Code::CountNotRead, hypothesis.span, "this finding is counted, but no publication of the count was read")
                        .hint("cite where the count is published with read = true, or use a word: always, usual, sometimes, seldom, never");
                }
            }
        }
    }
}
