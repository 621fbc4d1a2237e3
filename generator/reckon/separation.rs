//! Which hypotheses a check can tell apart.

use super::standard;
use crate::corpus::{Hypo, IssueView, PlacedCheck};
use crate::entry::CheckKind;

/// A check tells two hypotheses apart if some finding is at least this many times as likely under one as under the other.
pub const RATIO: f64 = 2.0;

/// Whether a check of an issue tells two of its hypotheses apart.
pub fn separates(check: &PlacedCheck<'_>, one: &Hypo, other: &Hypo) -> bool {
    match &check.check.kind {
        CheckKind::Look { .. } => {
            let (a, b) = (check.shares(one), check.shares(other));
            a.iter().zip(&b).any(|(a, b)| a / b >= RATIO || b / a >= RATIO)
        }
        CheckKind::Measure { .. } => match (check.range(one), check.range(other)) {
            (Some(a), Some(b)) => {
                let ((a_low, a_high), (b_low, b_high)) = (standard::ends(a), standard::ends(b));
                let shared = (a_high.min(b_high) - a_low.max(b_low)).max(0.0);
                // Half of the narrower range outside the other is a finding twice as likely under one of the two.
                shared < 0.5 * (a_high - a_low).min(b_high - b_low)
            }
            _ => false,
        },
    }
}

/// Whether a look check tells any two hypotheses apart, "another false piece", which expects all findings equally, among them.
/// A measured check does so whenever a genuine piece has a range.
pub fn separates_anything(check: &PlacedCheck<'_>, view: &IssueView<'_>) -> bool {
    if !check.ranges.is_empty() {
        return true;
    }
    if matches!(check.check.kind, CheckKind::Measure { .. }) {
        return false;
    }
    let even = 1.0 / check.expects.len() as f64;
    view.hypotheses
        .iter()
        .any(|hypo| check.shares(hypo).iter().any(|share| share / even >= RATIO || even / share >= RATIO))
}

/// Pairs of an issue's hypotheses that none of its checks tells apart, in order.
pub fn unseparated(view: &IssueView<'_>) -> Vec<(Hypo, Hypo)> {
    let mut out = Vec::new();
    for (at, one) in view.hypotheses.iter().enumerate() {
        for other in &view.hypotheses[at + 1..] {
            if !view.checks.iter().any(|check| separates(check, one, other)) {
                out.push((one.clone(), other.clone()));
            }
        }
    }
    out
}
