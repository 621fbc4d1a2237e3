//! What the bench's scripts are told of the small collection: complete, pointing only at what is there, and vouched for.

mod fixture;

use std::collections::BTreeMap;
use std::path::Path;

use fixture::{ORRIN, TODAY};
use serde_json::Value;
use sha2::{Digest, Sha256};
use tellmark::corpus::{Corpus, Hypo};
use tellmark::reckon;

/// The larger collection of the same invented country, which measures every quantity.
const DEMO: &str = "entries/demo";

fn corpus() -> Corpus {
    read(ORRIN)
}

fn read(collection: &str) -> Corpus {
    let loaded = tellmark::source::load(&[collection.into()]).expect("the collection can be read");
    let (corpus, problems) = tellmark::check(loaded, Some(TODAY));
    assert!(problems.is_empty(), "{problems:?}");
    corpus
}

/// The scripts by key, their data parsed back as a browser would.
fn shelved(corpus: &Corpus) -> BTreeMap<String, Value> {
    let hosts = reckon::hosts::all(corpus);
    let files = tellmark::bench::knowledge(corpus, &hosts);
    let read = files.iter().map(|file| {
        let text = String::from_utf8(file.bytes().to_vec()).expect("scripts are UTF-8");
        let key = file.path.trim_start_matches("bench/know/").trim_end_matches(".js").to_string();
        let inside = text
            .strip_prefix(&format!("Tellmark.shelve(\"{key}\",JSON.parse('"))
            .and_then(|rest| rest.strip_suffix("'));\n"))
            .unwrap_or_else(|| panic!("{} is no call of shelve", file.path));
        let json = inside.replace("\\x3c", "<").replace("\\'", "'").replace("\\\\", "\\");
        (key, serde_json::from_str(&json).expect("the data is JSON"))
    });
    read.collect()
}

fn index(value: &Value) -> usize {
    value.as_u64().expect("a place is a whole number") as usize
}

#[test]
fn every_issue_is_told_with_its_hypotheses_and_its_checks() {
    let corpus = corpus();
    let shelves = shelved(&corpus);
    for (entry, _) in corpus.issues() {
        let view = corpus.view(entry).expect("the fixture is whole");
        let told = &shelves["orrin"]["issues"][entry.id.as_str()];
        let keys: Vec<&str> =
            told["hypotheses"].as_array().expect("hypotheses").iter().filter_map(|one| one["key"].as_str()).collect();
        assert_eq!(keys, view.hypotheses.iter().map(Hypo::key).collect::<Vec<_>>(), "{}", entry.id);
        assert_eq!(told["checks"].as_array().map(Vec::len), Some(view.checks.len()), "{}", entry.id);
    }
    assert!(corpus.issues().count() > 1);
}

#[test]
fn every_place_that_is_named_is_there() {
    let corpus = corpus();
    let shelves = shelved(&corpus);
    let shard = &shelves["orrin"];
    let bases = shard["bases"].as_array().expect("bases").len();
    let checks = shard["checks"].as_array().expect("checks");
    for check in checks {
        assert!(shard["entries"][check["from"].as_str().expect("from")].is_object(), "{check}");
        for finding in check["findings"].as_array().expect("findings") {
            assert!(index(&finding["basis"]) < bases);
        }
    }
    for issue in shard["issues"].as_object().expect("issues").values() {
        let hypotheses = issue["hypotheses"].as_array().expect("hypotheses").len();
        let mut numbers = Vec::new();
        for placed in issue["checks"].as_array().expect("checks") {
            let check = &checks[index(&placed["check"])];
            let findings = check["findings"].as_array().map_or(0, Vec::len);
            assert_eq!(placed["expect"].as_array().map_or(0, Vec::len), findings, "{check}");
            for (who, _) in placed["expect"].as_array().into_iter().flatten().flat_map(pairs) {
                assert!(who < hypotheses);
            }
            assert!(pairs(&placed["ranges"]).iter().all(|(who, _)| *who < hypotheses));
            numbers.extend(placed["number"].as_u64());
        }
        assert_eq!(numbers, (1..=numbers.len() as u64).collect::<Vec<_>>(), "looks are numbered as on the page");
        for id in issue["entries"].as_array().expect("entries") {
            assert!(shard["entries"][id.as_str().expect("an id")].is_object());
        }
    }
}

fn pairs(list: &Value) -> Vec<(usize, Value)> {
    list.as_array().into_iter().flatten().map(|pair| (index(&pair[0]), pair[1].clone())).collect()
}

#[test]
fn sums_are_those_of_the_files_and_the_revision_changes_with_any_of_them() {
    let corpus = corpus();
    let shelves = shelved(&corpus);
    let known = shelves["orrin"]["entries"].as_object().expect("entries");
    assert!(!known.is_empty());
    for (id, told) in known {
        let path = format!("{ORRIN}/{id}.toml");
        let bytes = std::fs::read(&path).unwrap_or_else(|error| panic!("{path}: {error}"));
        let sum: String = Sha256::digest(&bytes).iter().map(|byte| format!("{byte:02x}")).collect();
        assert_eq!(told["sha256"], Value::String(sum), "{id}");
    }
    let revision = shelves["site"]["revision"].as_str().expect("a revision");
    assert_eq!(revision.len(), 16);
    let folder = fixture::lay(Path::new("no case"));
    let term = folder.path().join("orrin/glossary/die-polish.toml");
    let text = std::fs::read_to_string(&term).expect("the copy can be read");
    std::fs::write(&term, format!("{text}\n# one line more\n")).expect("the copy can be changed");
    let (changed, _) = fixture::check(folder.path());
    assert_ne!(shelved(&changed)["site"]["revision"], Value::String(revision.to_string()));
}

#[test]
fn coin_silver_is_among_the_metals_to_compare_with() {
    let alloys = &shelved(&corpus())["site"]["alloys"];
    let silver = alloys.as_array().into_iter().flatten().find(|alloy| alloy["words"] == "silver").expect("silver");
    // Printed tables of the elements: 10.49 g/cm³ at 20 °C (CRC Handbook of Chemistry and Physics).
    assert_eq!(silver["density"], 10.49);
}

#[test]
fn a_measurement_has_its_quantity_as_its_cause_unless_it_names_another() {
    let shelves = shelved(&read(DEMO));
    let checks = shelves["orrin"]["checks"].as_array().expect("checks");
    let mut causes: Vec<(&str, &str)> = checks
        .iter()
        .filter_map(|check| Some((check["quantity"].as_str()?, check["cause"].as_str()?)))
        .filter(|(quantity, _)| !quantity.is_empty())
        .collect();
    causes.sort_unstable();
    causes.dedup();
    let wanted = [
        ("density", "density"),
        ("diameter", "diameter"),
        ("die-axis", "die axis"),
        ("offset", "mint mark place"),
        ("thickness", "thickness"),
        ("tilt", "mint mark place"),
        ("weight", "weight"),
    ];
    assert_eq!(causes, wanted);
    // A look has the cause it writes, and no other.
    let ridges = checks.iter().find(|check| check["id"] == "harbour-ridges").expect("the look at the ridges");
    assert_eq!(ridges["cause"], "edge");
}

/// 1911-K half mark: 6.25 g by its law. A weight's range for genuine pieces, and for altered ones, which are genuine pieces,
/// has a tail 8 % down (common practice, no source) less the deviation; ranges that an entry writes, and other quantities, have none.
#[test]
fn a_genuine_weight_has_a_tail_for_pieces_worn_nearly_smooth() {
    let corpus = read(DEMO);
    let shelves = shelved(&corpus);
    let country = &shelves["orrin"];
    let issue = &country["issues"]["issues/orrin/half-mark/1911-k"];
    let kinds: Vec<&str> =
        issue["hypotheses"].as_array().unwrap().iter().map(|one| one["kind"].as_str().unwrap()).collect();
    let mut tails = Vec::new();
    for placed in issue["checks"].as_array().unwrap() {
        let quantity = country["checks"][index(&placed["check"])]["quantity"].as_str().unwrap();
        for (who, range) in pairs(&placed["ranges"]) {
            if let Some(tail) = range["tail"].as_f64() {
                assert_eq!(quantity, "weight");
                let deviation = range["high"].as_f64().unwrap() - 6.25;
                assert!((tail - (6.25 * 0.92 - deviation)).abs() < 1e-9 && tail < range["low"].as_f64().unwrap());
                tails.push(kinds[who]);
            } else {
                assert!(quantity != "weight" || kinds[who] != "genuine", "the genuine weight lacks its tail");
            }
        }
    }
    assert!(tails.contains(&"genuine") && tails.contains(&"alteration") && !tails.contains(&"family"), "{tails:?}");
}
