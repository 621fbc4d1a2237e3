//! Reviews go stale.

use crate::corpus::Corpus;
use crate::diagnostic::{Code, Report};
use crate::entry::Day;

/// `stale-review` (warning): an entry was reviewed within the two years before `today`, and not after it.
pub fn stale_review(corpus: &Corpus, today: Day, report: &mut Report) {
    for entry in corpus.entries() {
        let Some(common) = &entry.common else { continue };
        let Some(reviewed) = common.reviewed else { continue };
        if is_stale(reviewed, today) {
            report
                .warning(
                    Code::StaleReview,
                    common.reviewed_span,
                    format!("this entry was last reviewed on {reviewed}, over two years before {today}"),
                )
                .hint("read it against its sources again, and change `reviewed`");
        } else if reviewed > today {
            report
                .warning(
                    Code::StaleReview,
                    common.reviewed_span,
                    format!("this entry says it was reviewed on {reviewed}, after {today}"),
                )
                .hint("correct `reviewed`, or the date on the command line");
        }
    }
}

/// Whether more than two years lie between.
pub fn is_stale(reviewed: Day, today: Day) -> bool {
    Day { year: reviewed.year + 2, ..reviewed } < today
}
