//! The published schema of an examiner's record: its examples in `tests/records/` validate, and the bad ones fail where
//! they are bad. `tests/browser/record.test.mjs` holds the script that reads records to the same files.

use std::collections::BTreeSet;
use std::fs;

use serde_json::Value;

const SCHEMA: &str = include_str!("../theme/bench/record.schema.json");

/// The bad examples, and where in the record each is bad. An empty place is the record as a whole.
const BAD: &[(&str, &[&str])] = &[
    ("answer-unknown", &["/findings/0/answer"]),
    ("earlier-misshapen", &["/earlier/0/was"]),
    ("earlier-of-no-kind", &["/earlier/0/what"]),
    ("earlier-two-keys", &["/earlier/0/was"]),
    ("findings-no-list", &["/findings"]),
    ("id-no-uuid", &["/id"]),
    ("issue-outside", &["/coin/issue"]),
    ("later-version", &["/version"]),
    ("list-of-notes", &[""]),
    ("number-in-quotes", &["/measurements/0/value"]),
    ("number-too-large", &["/measurements/0/value"]),
    ("opinion-missing", &[""]),
    ("opinion-not-of-the-four", &["/opinion"]),
    ("other-format", &["/format"]),
    ("page-is-a-script", &["/coin/page"]),
    ("quantity-unknown", &["/measurements/0/quantity"]),
    ("reading-no-text", &["/measurements/0/readings/0/typed"]),
    ("sum-too-short", &["/knowledge/entries/0/sha256"]),
    ("text-too-long", &["/coin/reference"]),
    ("time-without-zone", &["/changed"]),
    ("uncertainty-negative", &["/measurements/0/uncertainty"]),
];

fn schema() -> jsonschema::Validator {
    let schema: Value = serde_json::from_str(SCHEMA).unwrap();
    assert!(jsonschema::meta::is_valid(&schema), "the schema itself is no valid schema");
    jsonschema::validator_for(&schema).unwrap()
}

/// The examples whose name begins with `kind-`, by the rest of their name.
fn examples(kind: &str) -> Vec<(String, Value)> {
    let mut found: Vec<(String, Value)> = fs::read_dir("tests/records")
        .unwrap()
        .filter_map(|file| {
            let path = file.unwrap().path();
            let name = path.file_stem()?.to_str()?.strip_prefix(kind)?.strip_prefix('-')?.to_string();
            Some((name, serde_json::from_str(&fs::read_to_string(&path).unwrap()).unwrap()))
        })
        .collect();
    found.sort_by(|one, other| one.0.cmp(&other.0));
    found
}

fn problems(schema: &jsonschema::Validator, record: &Value) -> BTreeSet<String> {
    schema.iter_errors(record).map(|error| error.instance_path().to_string()).collect()
}

#[test]
fn good_records_validate() {
    let schema = schema();
    let good = examples("good");
    assert_eq!(good.len(), 4);
    for (name, record) in good {
        let wrong: Vec<String> =
            schema.iter_errors(&record).map(|error| format!("{}: {error}", error.instance_path())).collect();
        assert_eq!(wrong, Vec::<String>::new(), "{name}");
    }
}

#[test]
fn bad_records_fail_where_they_are_bad() {
    let schema = schema();
    let bad = examples("bad");
    let names: Vec<&str> = bad.iter().map(|(name, _)| name.as_str()).collect();
    let listed: Vec<&str> = BAD.iter().map(|(name, _)| *name).collect();
    assert_eq!(names, listed);
    for ((name, record), (_, places)) in bad.iter().zip(BAD) {
        let expected: BTreeSet<String> = places.iter().map(|place| (*place).to_string()).collect();
        assert_eq!(problems(&schema, record), expected, "{name}");
    }
}

/// A key that the schema does not name passes; a named one taken away does not.
#[test]
fn every_required_key_is_asked_for() {
    let schema = schema();
    let (_, full) = examples("good").into_iter().find(|(name, _)| name == "full").unwrap();
    let keys: Vec<String> = full.as_object().unwrap().keys().cloned().collect();
    assert!(keys.len() >= 15);
    for key in keys {
        let mut less = full.clone();
        less.as_object_mut().unwrap().remove(&key);
        assert_eq!(problems(&schema, &less), BTreeSet::from([String::new()]), "without {key}");
    }
}
