//! `tellmark schema`: the schemas know the keys and the words that the readers know, no more and no fewer, and every
//! shipped entry validates. The readers are asked through what they tell an author.

use std::collections::{BTreeMap, BTreeSet};
use std::path::PathBuf;

use serde_json::Value;
use tellmark::diagnostic::{Diagnostic, Severity};
use tellmark::entry::{self, Kind};
use tellmark::source::{FileId, LineIndex, SourceFile};
use tellmark::{schema, source};

/// What the reader of a file says of it.
fn read(kind: &str, text: &str) -> Vec<Diagnostic> {
    let file = SourceFile {
        shown: "an entry".into(),
        stem: stem(kind),
        collection: 0,
        lines: LineIndex::new(text),
        text: text.to_string(),
    };
    entry::read(FileId(0), &file).1.finish()
}

fn stem(kind: &str) -> String {
    Kind::named(kind).map_or(kind.to_string(), |kind| format!("{}/a/b", kind.folder()))
}

/// The words after `before` in the hint of the problem with the made-up key or value `zzzz`.
fn told(kind: &str, text: &str, before: &str) -> BTreeSet<String> {
    let problems = read(kind, text);
    let hints = problems.iter().filter(|problem| problem.message.contains("zzzz"));
    let lists = hints.filter_map(|problem| problem.hint.as_deref()?.split_once(before));
    lists.flat_map(|(_, list)| list.split(", ").map(str::to_string)).collect()
}

/// A table of a schema: the header lines that lead to it, and its own schema.
struct Found {
    header: String,
    schema: Value,
}

fn resolve(whole: &Value, part: &Value) -> Value {
    match part.get("$ref").and_then(Value::as_str) {
        Some(path) => whole.pointer(path.trim_start_matches('#')).unwrap().clone(),
        None => part.clone(),
    }
}

/// Every table that an entry of a kind can hold, itself first.
fn tables(kind: &str) -> Vec<Found> {
    let whole = schema::of(kind).unwrap();
    let mut out = Vec::new();
    if kind == "sources" {
        let schema = resolve(&whole, &whole["additionalProperties"]);
        out.push(Found { header: "[a-source]\n".into(), schema });
    } else {
        walk(&whole, &whole, "", "", &mut out);
    }
    out
}

fn walk(whole: &Value, table: &Value, path: &str, header: &str, out: &mut Vec<Found>) {
    out.push(Found { header: header.to_string(), schema: table.clone() });
    for (key, value) in table["properties"].as_object().unwrap() {
        let value = resolve(whole, value);
        let below = format!("{path}{key}");
        if value["properties"].is_object() {
            walk(whole, &value, &format!("{below}."), &format!("{header}[{below}]\n"), out);
        } else if value["type"] == "array" {
            let item = resolve(whole, &value["items"]);
            if item["properties"].is_object() {
                walk(whole, &item, &format!("{below}."), &format!("{header}[[{below}]]\n"), out);
            }
        }
    }
}

/// The keys of a table that take one of a few words.
fn word_keys(table: &Value) -> BTreeMap<String, BTreeSet<String>> {
    let keys = table["properties"].as_object().unwrap().iter();
    keys.filter_map(|(key, value)| {
        let list = value["enum"].as_array()?.iter().map(|word| word.as_str().unwrap().to_string());
        Some((key.clone(), list.collect()))
    })
    .collect()
}

#[test]
fn each_kind_of_entry_has_a_schema() {
    for kind in Kind::ALL {
        assert!(schema::KINDS.contains(&kind.word()));
        assert_eq!(schema::of(kind.word()), schema::of(kind.folder()));
    }
    let all = schema::all();
    assert!(all.as_object().unwrap().keys().eq(schema::KINDS.iter()));
    assert_eq!(schema::of("coin"), None);
    for (kind, one) in all.as_object().unwrap() {
        assert!(jsonschema::meta::is_valid(one), "{kind} is no valid schema");
    }
}

#[test]
fn schemas_and_readers_know_the_same_keys() {
    for kind in schema::KINDS {
        for Found { header, schema } in tables(kind) {
            let known: BTreeSet<String> = schema["properties"].as_object().unwrap().keys().cloned().collect();
            // Some keys are asked for only beside others: once without them, once with a word for each that takes one.
            let words: String = word_keys(&schema)
                .iter()
                .map(|(key, words)| format!("{key} = \"{}\"\n", words.first().unwrap()))
                .collect();
            let mut asked = told(kind, &format!("{header}zzzz = 1\n"), "can have: ");
            asked.extend(told(kind, &format!("{header}zzzz = 1\n{words}"), "can have: "));
            assert_eq!(known, asked, "{kind}: {header}");
        }
    }
}

#[test]
fn schemas_and_readers_know_the_same_words() {
    let mut checked = 0;
    for kind in schema::KINDS {
        for Found { header, schema } in tables(kind) {
            for (key, words) in word_keys(&schema) {
                assert_eq!(
                    words,
                    told(kind, &format!("{header}{key} = \"zzzz\"\n"), "it can be: "),
                    "{kind}: {header}{key}"
                );
                checked += 1;
            }
            for form in schema["allOf"].as_array().into_iter().flatten() {
                let drawn = form["if"]["properties"]["kind"]["const"].as_str().unwrap();
                for key in ["genuine", "false"] {
                    let Some(side) = form["then"]["properties"].get(key) else { continue };
                    checked += 1;
                    let table = side["oneOf"].get(1).unwrap_or(side);
                    let keys: BTreeSet<String> = table["properties"].as_object().unwrap().keys().cloned().collect();
                    let text = format!("{header}kind = \"{drawn}\"\n{key} = {{ turn = 1, zzzz = 1 }}\n");
                    assert_eq!(keys, told(kind, &text, "can have: "), "{kind}: {header}{drawn}.{key}");
                    let Some(forms) = side["oneOf"][0]["enum"].as_array() else { continue };
                    let forms: BTreeSet<String> = forms.iter().map(|form| form.as_str().unwrap().to_string()).collect();
                    let text = format!("{header}kind = \"{drawn}\"\n{key} = \"zzzz\"\n");
                    assert_eq!(forms, told(kind, &text, "it can be: "), "{kind}: {header}{drawn}");
                    checked += 1;
                }
            }
        }
    }
    assert!(checked > 50);
}

/// TOML as an editor hands it to a schema: dates are strings.
fn as_json(text: &str) -> Value {
    fn plain(value: toml::Value) -> Value {
        match value {
            toml::Value::String(text) => text.into(),
            toml::Value::Integer(number) => number.into(),
            toml::Value::Float(number) => number.into(),
            toml::Value::Boolean(yes) => yes.into(),
            toml::Value::Datetime(day) => day.to_string().into(),
            toml::Value::Array(list) => list.into_iter().map(plain).collect(),
            toml::Value::Table(table) => table.into_iter().map(|(key, value)| (key, plain(value))).collect(),
        }
    }
    plain(toml::Value::Table(toml::from_str(text).unwrap()))
}

fn validator(kind: &str) -> jsonschema::Validator {
    jsonschema::options().should_validate_formats(true).build(&schema::of(kind).unwrap()).unwrap()
}

#[test]
fn every_shipped_entry_validates() {
    let validators: BTreeMap<&str, _> = schema::KINDS.iter().map(|kind| (*kind, validator(kind))).collect();
    let loaded = source::load(&[PathBuf::from("entries")]).unwrap();
    let mut seen = BTreeSet::new();
    for file in &loaded.sources.files {
        let folder = file.stem.split('/').next().unwrap();
        let word = Kind::named(folder).map_or(folder, |kind| kind.word());
        let kind = *schema::KINDS.iter().find(|kind| **kind == word).unwrap();
        let problems: Vec<String> = validators[kind]
            .iter_errors(&as_json(&file.text))
            .map(|error| format!("{}: {error}", error.instance_path()))
            .collect();
        assert!(problems.is_empty(), "{}:\n{}", file.shown, problems.join("\n"));
        seen.insert(kind);
    }
    assert_eq!(seen, schema::KINDS.iter().copied().collect());
}

const ISSUE: &str = r#"series = "us/dime"
year = 1916
reviewed = 2026-11-25
summary = { text = "A target.", basis = "common-practice" }
"#;

const FINDINGS: &str = "[[check]]\nid = \"a\"\nask = \"How?\"\n\
    [[check.finding]]\nsay = \"so\"\nbasis = \"common-practice\"\nexpect = { genuine = \"usual\", \"family:x\" = [1, 2] }\n";

/// Entries that both accept, and the slips in them that both refuse.
#[test]
fn schemas_and_readers_refuse_the_same_slips() {
    let check = format!(
        "{ISSUE}{FINDINGS}[[check.finding]]\nsay = \"not so\"\nbasis = [{{ source = \"s\", at = \"p. 1\", read = true }}]\n"
    );
    let place = format!(
        "{ISSUE}[[genuine]]\nid = \"a\"\ntext = \"A crack.\"\nbasis = \"common-practice\"\nwhere = {{ face = \"reverse\", clock = 4.5, reach = 0.8 }}\n"
    );
    let weight = format!(
        "{ISSUE}[[check]]\nid = \"w\"\nmeasure = \"weight\"\nbasis = \"common-practice\"\nexpect = {{ \"family:x\" = {{ low = 1.0, high = 2.0 }} }}\n"
    );
    let line = place.replace("clock = 4.5, reach = 0.8", "path = [[4.2, 0.6], [4.5, 0.8]]");
    let pair = |figure: &str| format!("{place}figure = {{ {figure} }}\n");
    let cut = pair("kind = \"profile\", unit = \"mm\", genuine = { form = \"sunk\", height = 0.12 }, false = \"flat\"");
    let turn = pair("kind = \"axis\", genuine = \"coin\", false = { turn = 10 }");
    let over = pair(
        "kind = \"overdate\", upper = \"7\", under = \"4\", genuine = { form = \"low\", rise = 0.5 }, false = \"level\"",
    );
    let tilt = pair(
        "kind = \"alignment\", mark = \"K\", against = \"base-line\", letter = \"F\", genuine = { tilt = 1.5 }, false = { tilt = -6, meets = 0.5 }",
    );
    let photo = format!("{ISSUE}[[photo]]\nid = \"a\"\nsee = {{ source = \"s\", at = \"plate 3\", read = false }}\n");
    let slips: &[(&str, &[(&str, &str)])] = &[
        (
            ISSUE,
            &[
                ("series = \"us/dime\"\n", ""),
                ("\"us/dime\"", "\" \""),
                ("1916", "\"1916\""),
                ("1916", "916"),
                ("2026-11-25", "\"autumn\""),
                ("reviewed = 2026-11-25\n", ""),
                (", basis = \"common-practice\"", ""),
                ("common-practice", "hearsay"),
                ("\"common-practice\"", "[]"),
                ("year", "yaer"),
            ],
        ),
        (
            &check,
            &[
                ("\"a\"", "\"A b\""),
                ("ask = \"How?\"\n", ""),
                ("\"usual\"", "\"often\""),
                ("[1, 2]", "[1, 2, 3]"),
                ("[1, 2]", "[-1, 2]"),
                ("\"family:x\"", "\"kin:x\""),
                (", at = \"p. 1\"", ""),
                (", read = true", ""),
                ("[[check.finding]]\nsay = \"so\"", "[[check.findings]]\nsay = \"so\""),
            ],
        ),
        (
            &place,
            &[
                ("4.5", "12.5"),
                ("0.8", "1.1"),
                (", reach = 0.8", ""),
                ("face = \"reverse\", ", ""),
                ("\"reverse\"", "\"back\""),
            ],
        ),
        (
            &weight,
            &[
                ("\"weight\"", "\"mass\""),
                ("basis = \"common-practice\"\nexpect", "expect"),
                (", high = 2.0", ""),
                ("high", "heigh"),
                ("measure = \"weight\"\n", ""),
                ("\"weight\"", "\"tilt\""),
                ("measure = \"weight\"", "measure = \"weight\"\nagainst = \"line\""),
                ("measure = \"weight\"", "measure = \"offset\"\nagainst = \"centre\""),
            ],
        ),
        (
            &line,
            &[
                ("[[4.2, 0.6], ", "["),
                ("4.2", "-1"),
                ("0.6", "1.6"),
                ("path", "area"),
                ("path", "clock = 4, reach = 0.5, path"),
                ("\"reverse\"", "\"edge\""),
                ("[4.2, 0.6]", "[4.2]"),
            ],
        ),
        (
            &cut,
            &[
                ("height = 0.12", "height = -0.12"),
                ("height = 0.12", "hight = 0.12"),
                ("\"flat\"", "{ form = \"flat\", dip = 0.1 }"),
                ("form = \"sunk\", ", ""),
                ("\"mm\"", "\"inch\""),
                ("unit =", "upper = \"7\", unit ="),
            ],
        ),
        (&turn, &[("turn = 10", "turn = 190"), ("{ turn = 10 }", "{ form = \"coin\", turn = 10 }"), ("turn = 10", "")]),
        (&over, &[("upper = \"7\", ", ""), ("rise = 0.5", "rise = 1.5"), ("\"low\"", "\"carved\"")]),
        (
            &tilt,
            &[
                ("tilt = 1.5", "tilt = 50"),
                ("tilt = 1.5", "offset = 0"),
                ("meets = 0.5", "meets = 1.5"),
                ("\"K\"", "\"Kell\""),
                ("mark = \"K\", ", ""),
                ("{ tilt = 1.5 }", "\"straight\""),
                ("against = \"base-line\", ", ""),
                ("\"base-line\"", "\"centre\""),
                ("letter = \"F\", ", ""),
            ],
        ),
        (&photo, &[("see = ", "file = \"a.png\"\n#"), ("plate 3", " "), ("see = ", "#")]),
    ];
    let schema = validator("issue");
    let refused = |text: &str| read("issue", text).iter().any(|problem| problem.severity == Severity::Error);
    for (good, slips) in slips {
        assert!(schema.is_valid(&as_json(good)) && !refused(good), "{good}\n{:?}", read("issue", good));
        for (from, to) in *slips {
            let bad = good.replacen(from, to, if from.starts_with(", basis") { 1 } else { 9 });
            assert_ne!(bad, *good);
            assert!(refused(&bad), "the reader accepts\n{bad}");
            assert!(!schema.is_valid(&as_json(&bad)), "the schema accepts\n{bad}");
        }
    }
}

#[test]
fn the_entry_in_the_readme_is_one() {
    let readme = include_str!("../README.md");
    let (_, rest) = readme.split_once("```toml\n").unwrap();
    let (entry, _) = rest.split_once("```").unwrap();
    assert!(read("issue", entry).is_empty(), "{:?}", read("issue", entry));
    assert!(validator("issue").is_valid(&as_json(entry)));
}
