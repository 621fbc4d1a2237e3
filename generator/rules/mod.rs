//! What needs the whole corpus: a file per family of rules, one function per rule. No rule stops the others.

mod boilerplate;
mod citations;
mod hypotheses;
mod inside;
mod photos;
mod prose;
mod references;
mod reviews;
mod series;

pub use boilerplate::{MOST_ENTRIES, uses as sentence_uses};
pub use hypotheses::excuses;
pub use photos::undecodable;
pub use reviews::is_stale;

use crate::corpus::Corpus;
use crate::diagnostic::Report;
use crate::entry::Day;

/// Applies every rule. `today` is stated by whoever runs the tool; without it no review is called stale.
pub fn apply(corpus: &Corpus, today: Option<Day>, report: &mut Report) {
    citations::unknown_source(corpus, report);
    citations::count_not_read(corpus, report);
    references::dangling_or_ambiguous(corpus, report);
    references::private_reference(corpus, report);
    inside::duplicate_ids(corpus, report);
    inside::landmarks(corpus, report);
    series::outside_series(corpus, report);
    series::mint_not_open(corpus, report);
    series::standard_gap(corpus, report);
    series::rows(corpus, report);
    series::host_impossible(corpus, report);
    hypotheses::unknown_hypothesis(corpus, report);
    hypotheses::separates_nothing(corpus, report);
    hypotheses::not_separated(corpus, report);
    photos::photos(corpus, report);
    prose::links_and_html(corpus, report);
    boilerplate::repeated_sentence(corpus, report);
    if let Some(today) = today {
        reviews::stale_review(corpus, today, report);
    }
}
