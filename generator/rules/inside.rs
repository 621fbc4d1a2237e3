//! Names inside one entry: each used once, and each landmark drawn by the series.

use std::collections::BTreeMap;

use crate::corpus::{Corpus, checks_of, signs_of};
use crate::diagnostic::{Code, Report};
use crate::entry::{Body, LocalId, Place, Series, Statement};
use crate::source::Span;

/// `duplicate-id`: within an entry no two checks, diagnostics or photos share an id. Mints share no mark in the same years.
pub fn duplicate_ids(corpus: &Corpus, report: &mut Report) {
    for entry in corpus.entries() {
        once(checks_of(entry).iter().map(|check| (&check.id, check.id_span)), "check", report);
        once(signs_of(entry).iter().map(|sign| (&sign.id, sign.id_span)), "diagnostic", report);
        let photos = entry.common.iter().flat_map(|common| &common.photos);
        once(photos.map(|photo| (&photo.id, photo.id_span)), "photo", report);
    }
}

fn once<'e>(ids: impl Iterator<Item = (&'e LocalId, Span)>, what: &str, report: &mut Report) {
    let mut seen: BTreeMap<&LocalId, Span> = BTreeMap::new();
    for (id, span) in ids {
        if let Some(first) = seen.insert(id, span) {
            report
                .error(Code::DuplicateId, span, format!("`{id}` is already the id of another {what} here"))
                .hint("give this one another id")
                .related(first, "the first one");
        }
    }
}

/// `impossible-place`: a landmark named by a series or an issue is one that the series has. Inherited checks may name
/// landmarks that a series lacks: they then show no pin.
pub fn landmarks(corpus: &Corpus, report: &mut Report) {
    for entry in corpus.entries() {
        let series = match &entry.body {
            Body::Series(series) => Some(&**series),
            Body::Issue(issue) => corpus.series_of(issue).map(|(_, series)| series),
            _ => None,
        };
        let Some(series) = series else { continue };
        let statements: Vec<&Statement> = signs_of(entry).iter().map(|sign| &sign.statement).collect();
        let places = statements
            .iter()
            .filter_map(|statement| statement.place.as_ref())
            .chain(checks_of(entry).iter().filter_map(|check| check.place.as_ref()));
        for place in places {
            landmark(place, series, report);
        }
    }
}

fn landmark(place: &Place, series: &Series, report: &mut Report) {
    let Place::Landmark(name) = place else { return };
    // The date and the mark are known places even where the series does not draw them.
    let known = ["date", "mint-mark"].contains(&name.text.as_str())
        || series.landmarks.iter().any(|landmark| landmark.id.as_str() == name.text);
    if known {
        return;
    }
    let mut drawn: Vec<&str> = series.landmarks.iter().map(|landmark| landmark.id.as_str()).collect();
    drawn.extend(["date", "mint-mark"]);
    drawn.sort_unstable();
    drawn.dedup();
    let hint = match crate::diagnostic::closest(&name.text, drawn.iter().copied()) {
        Some(near) => format!("did you mean \"{near}\"?"),
        None => format!("the series has: {}", drawn.join(", ")),
    };
    report.error(Code::ImpossiblePlace, name.span, format!("the series has no landmark `{}`", name.text)).hint(hint);
}
