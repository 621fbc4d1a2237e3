//! Shares of a check's findings: the generator gives what exact fractions give, and so does the bench, which reads the
//! same cases in `tests/browser/evidence.test.mjs`.

use std::path::Path;

use serde_json::Value;
use tellmark::entry::{Expectation, Frequency};
use tellmark::reckon::likelihood::spread;

fn expectation(written: &Value) -> Option<Expectation> {
    match written {
        Value::Null => None,
        Value::String(word) => Some(Expectation::Word(match word.as_str() {
            "always" => Frequency::Always,
            "usual" => Frequency::Usual,
            "sometimes" => Frequency::Sometimes,
            "seldom" => Frequency::Seldom,
            "never" => Frequency::Never,
            other => panic!("no frequency is called {other}"),
        })),
        count => {
            let number = |at: usize| u32::try_from(count[at].as_u64().expect("a count")).expect("a count that fits");
            Some(Expectation::Count { k: number(0), n: number(1) })
        }
    }
}

#[test]
fn shares_are_those_of_exact_fractions() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/likelihood.json");
    let cases: Value = serde_json::from_str(&std::fs::read_to_string(path).expect("the cases")).expect("JSON");
    let cases = cases["cases"].as_array().expect("cases");
    assert!(cases.len() > 20);
    for case in cases {
        let written: Vec<_> = case["written"].as_array().expect("written").iter().map(expectation).collect();
        let wanted: Vec<f64> = case["shares"].as_array().expect("shares").iter().filter_map(Value::as_f64).collect();
        let shares = spread(&written);
        assert_eq!(shares.len(), wanted.len(), "{case}");
        for (share, wanted) in shares.iter().zip(&wanted) {
            assert!((share - wanted).abs() < 1e-15, "{case}: {shares:?}");
        }
    }
}
