//! Finding the entry, or the row of a series, that a reference means.

use super::Corpus;
use crate::entry::{Entry, Kind, Reference, RowLabel, Series};

/// Why a reference leads nowhere.
#[derive(Debug)]
pub enum Lost {
    /// No such entry; the nearest id that exists, if one is near.
    Dangling { closest: Option<String> },
    /// Several entries end that way.
    Ambiguous { candidates: Vec<String> },
}

/// The whole id first, then the id below its kind, then any tail that only one entry has.
pub(super) fn find<'c>(corpus: &'c Corpus, kind: Option<Kind>, text: &str) -> Result<&'c Entry, Lost> {
    let of_kind = |entry: &&Entry| kind.is_none_or(|kind| entry.kind() == kind);
    if let Some(entry) = corpus.get_str(text).filter(of_kind) {
        return Ok(entry);
    }
    if let Some(kind) = kind
        && let Some(entry) = corpus.get_str(&format!("{}/{text}", kind.folder()))
    {
        return Ok(entry);
    }
    let matches: Vec<&Entry> = corpus.ending_in(text).filter(of_kind).collect();
    match matches[..] {
        [one] => Ok(one),
        [] => {
            let ids = corpus.entries().iter().filter(of_kind).map(|entry| match kind {
                // Closest among the short forms, which is how authors write them.
                Some(_) => entry.id.below_kind(),
                None => entry.id.as_str(),
            });
            let closest = crate::diagnostic::closest(text, ids).map(str::to_string);
            Err(Lost::Dangling { closest })
        }
        _ => Err(Lost::Ambiguous { candidates: matches.iter().map(|entry| entry.id.to_string()).collect() }),
    }
}

/// A host as written: a row of the issue's own series (`1916-S`), an issue on file (`issues/…`), or a row of another
/// series (`series/us/dime-barber 1916-S`). Returns the series entry and the row's label; the row may not exist.
pub fn host_row<'c>(corpus: &'c Corpus, own: &'c Entry, host: &Reference) -> Result<(&'c Entry, RowLabel), Lost> {
    let text = host.text.trim();
    if text.starts_with("issues/") {
        let entry = find(corpus, Some(Kind::Issue), text)?;
        let issue = entry.issue().ok_or(Lost::Dangling { closest: None })?;
        return Ok((find(corpus, Some(Kind::Series), &issue.series.text)?, issue.row.clone()));
    }
    if text.starts_with("series/") {
        let (series, label) = text.split_once(' ').ok_or(Lost::Dangling { closest: None })?;
        let label = RowLabel::parse(label).ok_or(Lost::Dangling { closest: None })?;
        return Ok((find(corpus, Some(Kind::Series), series)?, label));
    }
    match RowLabel::parse(text) {
        Some(label) => Ok((own, label)),
        None => Err(Lost::Dangling { closest: closest_row(own.series(), text) }),
    }
}

fn closest_row(series: Option<&Series>, text: &str) -> Option<String> {
    let labels: Vec<String> = series?.rows().iter().map(|(row, _)| row.label.to_string()).collect();
    crate::diagnostic::closest(text, labels.iter().map(String::as_str)).map(str::to_string)
}
