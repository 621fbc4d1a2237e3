//! What an entry is called on pages and in answers.

use super::Corpus;
use crate::entry::{Body, Entry};

/// `1916-D dime`, `1918-D five cents, 8 over 7`; the name of anything else.
pub fn title(corpus: &Corpus, entry: &Entry) -> String {
    match &entry.body {
        Body::Issue(issue) => {
            let denomination = corpus.series_of(issue).map(|(_, series)| series.denomination.to_lowercase());
            let denomination = denomination.unwrap_or_else(|| "piece".into());
            let date = issue.row.date();
            match issue.row.variety.as_str() {
                "" => format!("{date} {denomination}"),
                variety => format!("{date} {denomination}, {variety}"),
            }
        }
        Body::Country(country) => country.name.clone(),
        Body::Series(series) => series.name.clone(),
        Body::Family(family) => family.name.clone(),
        Body::Method(method) => method.name.clone(),
        Body::Alteration(alteration) => alteration.name.clone(),
        Body::Term(term) => term.term.clone(),
        Body::Unread(_) => entry.id.to_string(),
    }
}
