//! References between entries lead somewhere, to one place, and never from public into private.

use crate::corpus::{Corpus, Lost, host_row};
use crate::diagnostic::{Code, Report};
use crate::entry::{Body, Entry, Kind, Reference};
use crate::source::Span;

/// `dangling-reference`, `ambiguous-reference`: each reference names one entry that exists.
pub fn dangling_or_ambiguous(corpus: &Corpus, report: &mut Report) {
    for entry in corpus.entries() {
        for (kind, reference) in references_of(entry) {
            let found = match kind {
                Some(kind) => corpus.find(kind, reference),
                None => corpus.find_any(&reference.text),
            };
            if let Err(lost) = found {
                let what = kind.map_or("entry", Kind::singular);
                lost_reference(lost, what, &reference.text, reference.span, report);
            }
        }
        for host in hosts_of(entry) {
            let Some((series, _)) = entry.issue().and_then(|issue| corpus.series_of(issue)) else { continue };
            if let Err(lost) = host_row(corpus, series, host) {
                lost_reference(lost, "host", &host.text, host.span, report);
            }
        }
    }
}

/// Says that a reference is dangling or ambiguous, with what could be meant.
pub fn lost_reference(lost: Lost, what: &str, text: &str, span: Span, report: &mut Report) {
    match lost {
        Lost::Dangling { closest } => {
            let hint = match closest {
                Some(near) => format!("did you mean \"{near}\"?"),
                None if what == "host" => {
                    "write a row of the series such as \"1916-S\", or the id of an issue on file".to_string()
                }
                None => format!("name {} {what} that has an entry, or add the entry", article(what)),
            };
            report.error(Code::DanglingReference, span, format!("no {what} is named `{text}`")).hint(hint);
        }
        Lost::Ambiguous { candidates } => {
            let message = format!("`{text}` could be any of {} entries", candidates.len());
            report
                .error(Code::AmbiguousReference, span, message)
                .hint(format!("write one of: {}", candidates.join(", ")));
        }
    }
}

/// `a` or `an`.
pub fn article(what: &str) -> &'static str {
    if what.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" }
}

/// Every reference of an entry to another, with the kind it must be.
fn references_of(entry: &Entry) -> Vec<(Option<Kind>, &Reference)> {
    let mut out: Vec<(Option<Kind>, &Reference)> = Vec::new();
    match &entry.body {
        Body::Series(series) => out.push((Some(Kind::Country), &series.country)),
        Body::Issue(issue) => {
            out.push((Some(Kind::Series), &issue.series));
            out.extend(issue.forgeries.iter().map(|forgery| (Some(Kind::Family), &forgery.family)));
            out.extend(issue.alterations.iter().map(|altered| (Some(Kind::Alteration), &altered.pattern)));
        }
        Body::Family(family) => {
            out.extend(family.methods.iter().map(|method| (Some(Kind::Method), method)));
            out.extend(family.series.iter().map(|series| (Some(Kind::Series), series)));
        }
        Body::Term(term) => out.extend(term.see.iter().map(|see| (Some(Kind::Term), see))),
        _ => {}
    }
    out.extend(entry.common.iter().flat_map(|common| &common.related).map(|related| (None, related)));
    out
}

fn hosts_of(entry: &Entry) -> impl Iterator<Item = &Reference> {
    entry.issue().into_iter().flat_map(|issue| &issue.alterations).flat_map(|altered| &altered.hosts)
}

/// `private-reference`: nothing public refers to an entry of a private collection.
pub fn private_reference(corpus: &Corpus, report: &mut Report) {
    for entry in corpus.entries().iter().filter(|entry| corpus.collection(entry).public) {
        for (kind, reference) in references_of(entry) {
            let found = match kind {
                Some(kind) => corpus.find(kind, reference),
                None => corpus.find_any(&reference.text),
            };
            if let Ok(target) = found
                && !corpus.collection(target).public
            {
                let owner = &corpus.collection(target).key;
                report
                    .error(
                        Code::PrivateReference,
                        reference.span,
                        format!("`{}` belongs to the private collection `{owner}`", target.id),
                    )
                    .hint("leave the reference out here, and make it from the private entry instead")
                    .related(target.span, "the private entry");
            }
        }
    }
}
