//! How likely each finding of a check is under a hypothesis.

use crate::entry::{Expectation, Frequency};

/// The share a word stands for.
pub fn share(frequency: Frequency) -> f64 {
    match frequency {
        Frequency::Always => 0.98,
        Frequency::Usual => 0.85,
        Frequency::Sometimes => 0.40,
        Frequency::Seldom => 0.10,
        Frequency::Never => 0.01,
    }
}

/// The share an expectation stands for; a count by Jeffreys' rule, (k + ½) / (n + 1).
pub fn of(expectation: Expectation) -> f64 {
    match expectation {
        Expectation::Word(frequency) => share(frequency),
        Expectation::Count { k, n } => (f64::from(k) + 0.5) / (f64::from(n) + 1.0),
    }
}

/// One share for each finding, in order, adding up to 1. What is not written takes an equal part of what is left, but
/// not less than `never`; if nothing is written, all findings are equally likely.
pub fn spread(written: &[Option<Expectation>]) -> Vec<f64> {
    let known: Vec<Option<f64>> = written.iter().map(|expectation| expectation.map(of)).collect();
    let sum: f64 = known.iter().flatten().sum();
    let open = known.iter().filter(|share| share.is_none()).count();
    if open == known.len() {
        return vec![1.0 / known.len() as f64; known.len()];
    }
    let left = if open == 0 { 0.0 } else { ((1.0 - sum) / open as f64).max(share(Frequency::Never)) };
    let filled: Vec<f64> = known.into_iter().map(|share| share.unwrap_or(left)).collect();
    let total: f64 = filled.iter().sum();
    filled.into_iter().map(|share| share / total).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shares_add_up_and_silence_is_uniform() {
        assert_eq!(spread(&[None, None]), vec![0.5, 0.5]);
        let shares = spread(&[Some(Expectation::Word(Frequency::Usual)), None, None]);
        assert!((shares.iter().sum::<f64>() - 1.0).abs() < 1e-12);
        assert!((shares[0] - 0.85).abs() < 1e-12 && (shares[1] - 0.075).abs() < 1e-12);
        // Jeffreys (1946): 37 of 41 is 37.5 in 42.
        assert!((of(Expectation::Count { k: 37, n: 41 }) - 37.5 / 42.0).abs() < 1e-15);
    }
}
