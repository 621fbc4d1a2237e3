//! What the look-up finds, and that the published shards say what tantivy holds.

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::OnceLock;

use proptest::prelude::*;
use serde::Deserialize;
use tellmark::search::{Answers, Index, Posting, answers, decode, encode, files, find, terms};
use tellmark::{check, source};

/// The project's own entries.
fn index() -> &'static Index {
    static INDEX: OnceLock<Index> = OnceLock::new();
    INDEX.get_or_init(|| {
        let root = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("entries");
        let (corpus, _) = check(source::load(&[root]).unwrap(), None);
        Index::new(&corpus).unwrap()
    })
}

fn first(query: &str) -> &'static str {
    find(index(), query, 1).unwrap().first().map_or("", |hit| hit.url)
}

#[test]
fn an_issue_named_by_date_mint_and_denomination_comes_first() {
    for (query, stem) in [
        ("16d dime", "us/dime/1916-d"),
        ("16-D dime", "us/dime/1916-d"),
        ("1916d 10c", "us/dime/1916-d"),
        ("1916-D 10¢", "us/dime/1916-d"),
        ("'16 D 10c", "us/dime/1916-d"),
        ("’16 d ten cents", "us/dime/1916-d"),
        ("dime 1916 denver", "us/dime/1916-d"),
        ("denver dime 16", "us/dime/1916-d"),
        ("1918/7 nickel", "us/five-cents/1918-d-8-over-7"),
        ("1918 over 1917 nickel", "us/five-cents/1918-d-8-over-7"),
        ("1918 overdate buffalo", "us/five-cents/1918-d-8-over-7"),
        ("18 over 17 quarter", "us/quarter/1918-s-8-over-7"),
        ("18/17 s quarter", "us/quarter/1918-s-8-over-7"),
        ("42/1 dime", "us/dime/1942-2-over-1"),
        ("1942/1-D dime", "us/dime/1942-d-2-over-1"),
        ("3 legs 37", "us/five-cents/1937-d-three-legs"),
        ("three legs nickel", "us/five-cents/1937-d-three-legs"),
        ("3 legged buffalo", "us/five-cents/1937-d-three-legs"),
        ("1893s morgan", "us/dollar/1893-s"),
        ("1893-S $1", "us/dollar/1893-s"),
        ("93s dollar", "us/dollar/1893-s"),
        ("1889 cc dollar", "us/dollar/1889-cc"),
        ("89cc morgan", "us/dollar/1889-cc"),
        ("1889 carson city dollar", "us/dollar/1889-cc"),
        ("1901 s 25c", "us/quarter/1901-s"),
        ("01s quarter", "us/quarter/1901-s"),
        ("1921p dime", "us/dime/1921"),
        ("1921 dime", "us/dime/1921"),
        ("no cents 1883", "us/five-cents/1883-no-cents"),
        ("1838 new orleans half", "us/half-dollar/1838-o"),
        ("1905 half crown", "gb/halfcrown/1905"),
        ("1905 2/6", "gb/halfcrown/1905"),
        ("1943 threepence", "gb/threepence/1943"),
        ("meiji 3 yen", "jp/yen/1870"),
        ("1936 dot dime", "ca/10-cents/1936-dot"),
        ("1898 rijksdaalder", "nl/2-5-gulden/1898"),
        ("1898 2½ gulden", "nl/2-5-gulden/1898"),
        ("1932 nike 5 zł", "pl/5-zlotych/1932-mark"),
        ("głęboki sztandar", "pl/5-zlotych/1930-mark-deep-die"),
    ] {
        assert_eq!(first(query), format!("issues/{stem}.html"), "{query}");
    }
}

#[test]
fn it_answers_while_it_is_typed() {
    for typed in ["16d d", "16d di", "16d dim", "16d dime", "1916-d di", "16-D dime, wing"] {
        assert_eq!(first(typed), "issues/us/dime/1916-d.html", "{typed}");
    }
}

#[test]
fn one_slip_of_the_keys_is_forgiven() {
    for slipped in ["1916-D dmie", "1916-d dine", "16d dimee", "1916 D diem"] {
        assert_eq!(first(slipped), "issues/us/dime/1916-d.html", "{slipped}");
    }
    assert_eq!(first("1893s morgann"), "issues/us/dollar/1893-s.html");
    // Digits are never guessed: another year is another coin.
    assert!(find(index(), "1016", 10).unwrap().is_empty());
}

#[test]
fn a_date_that_is_not_on_file_leads_to_its_series() {
    assert_eq!(first("1917 nickel"), "series/us/five-cents-indian-bison-1913-1938.html");
    // The 1918-D cut over 1917 shows both years, and comes before the series that has a 1917-D in its list.
    let hits = find(index(), "1917-D nickel", 2).unwrap();
    assert_eq!(hits[1].url, "series/us/five-cents-indian-bison-1913-1938.html");
}

#[test]
fn other_pages_are_found_by_their_names() {
    assert_eq!(first("seam"), "glossary/seam.html");
    assert_eq!(first("mint mark added"), "alterations/mark-added.html");
    assert_eq!(first("electrotype shell"), "methods/electrotype-shell.html");
    assert_eq!(first("united states"), "countries/us.html");
    let checks = find(index(), "1916-D dime foot of the D", 5).unwrap();
    assert!(checks.iter().any(|hit| hit.url == "issues/us/dime/1916-d.html#d-meets-field" && hit.kind == "check"));
}

#[test]
fn nothing_is_found_for_nothing() {
    for nothing in ["", "   ", "?!", "🪙", "zzzzqqq", "\u{301}", "/"] {
        assert!(find(index(), nothing, 10).unwrap().is_empty(), "{nothing:?}");
    }
}

#[test]
fn answers_are_one_line_of_json_for_each_query() {
    let text = answers(index(), ["16d dime", "", "seam"], 2, Answers::Json).unwrap();
    let lines: Vec<Vec<serde_json::Value>> = text.lines().map(|line| serde_json::from_str(line).unwrap()).collect();
    assert_eq!(lines.iter().map(Vec::len).collect::<Vec<_>>(), [2, 0, 2]);
    let keys: Vec<&String> = lines[0][0].as_object().unwrap().keys().collect();
    assert_eq!(keys, ["url", "title", "note", "kind", "demo", "score"]);
    let text = answers(index(), ["16d dime", "zzzzqqq"], 1, Answers::Text).unwrap();
    assert_eq!(
        text,
        " 1  1916-D dime (issue) · Winged Head dime, United States\n    issues/us/dime/1916-d.html\nnothing found for zzzzqqq\n"
    );
}

#[derive(Deserialize)]
struct Vector {
    text: String,
    terms: Vec<String>,
}

#[test]
fn tokens_are_those_of_the_vectors() {
    let vectors: Vec<Vector> = serde_json::from_str(include_str!("terms.json")).unwrap();
    assert!(vectors.len() >= 120);
    for vector in vectors {
        assert_eq!(terms(&vector.text), vector.terms, "{:?}", vector.text);
    }
}

/// The data inside a script of the index.
fn data(text: &str) -> serde_json::Value {
    let (_, rest) = text.split_once("JSON.parse('").unwrap();
    let inside = rest.strip_suffix("'));\n").unwrap();
    let mut json = String::new();
    let mut chars = inside.chars();
    while let Some(c) = chars.next() {
        match (c, c == '\\') {
            (_, true) => match chars.next().unwrap() {
                'x' => assert_eq!((chars.next(), chars.next(), json.push('<')), (Some('3'), Some('c'), ())),
                c @ ('\\' | '\'') => json.push(c),
                other => panic!("an escape that is not expected here: {other}"),
            },
            (c, false) => json.push(c),
        }
    }
    serde_json::from_str(&json).unwrap()
}

#[test]
fn shards_hold_what_tantivy_holds() {
    let index = index();
    let mut found: [BTreeMap<String, Vec<Posting>>; 4] = Default::default();
    for file in files(index).unwrap() {
        let name = file.path.strip_prefix("search/").unwrap();
        let shift = match &name[..2] {
            "t-" => 0,
            "b-" => 3,
            _ => continue,
        };
        for line in data(std::str::from_utf8(file.bytes()).unwrap()).as_array().unwrap() {
            let mut parts = line.as_str().unwrap().split(' ');
            let term = parts.next().unwrap();
            for (at, list) in parts.enumerate().filter(|(_, list)| !list.is_empty()) {
                found[at + shift].insert(term.to_string(), decode(list).unwrap());
            }
        }
    }
    for (at, found) in found.iter().enumerate() {
        let terms = index.terms_of(at);
        assert_eq!(found.keys().map(String::as_str).collect::<Vec<_>>(), terms);
        for term in terms {
            assert_eq!(found[term], index.postings(at, term).unwrap(), "field {at}, {term}");
        }
    }
}

#[test]
fn scripts_are_small_and_the_same_every_time() {
    let once = files(index()).unwrap();
    assert_eq!(once, files(index()).unwrap());
    for file in &once {
        assert!(
            file.path == "search/manifest.js" || file.bytes().len() < 12_000,
            "{} has {} bytes",
            file.path,
            file.bytes().len()
        );
        let text = std::str::from_utf8(file.bytes()).unwrap();
        assert!(!text.contains('<') && text.lines().count() == 1, "{}", file.path);
    }
}

#[test]
fn every_document_has_a_title_and_an_address_of_its_own() {
    let mut seen = BTreeMap::new();
    for document in &index().documents {
        assert!(!document.title.trim().is_empty(), "{}", document.url);
        assert_eq!(seen.insert(&document.url, ()), None, "{}", document.url);
    }
    // Pages first, then checks; issues before all.
    let checks = index().documents.iter().position(|document| document.url.contains('#')).unwrap();
    assert!(index().documents[checks..].iter().all(|document| document.url.contains('#')));
    assert!(index().documents[0].url.starts_with("issues/"));
}

fn postings() -> impl Strategy<Value = Vec<Posting>> {
    let one = (0_u32..100_000, prop_oneof![4 => Just(1_u32), 1 => 2_u32..3000], any::<u8>());
    prop::collection::vec(one, 0..200).prop_map(|steps| {
        let mut next = 0;
        let place = |(gap, count, norm)| {
            let doc = next + gap;
            next = doc + 1;
            Posting { doc, count, norm }
        };
        steps.into_iter().map(place).collect()
    })
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn postings_come_back_as_they_went(list in postings()) {
        prop_assert_eq!(decode(&encode(&list)), Some(list));
    }

    #[test]
    fn any_text_is_read_or_refused(text in ".{0,40}") {
        let _ = decode(&text);
    }

    #[test]
    fn any_text_has_tokens_that_stay_as_they_are(text in "\\PC{0,60}") {
        for token in terms(&text) {
            prop_assert!(!token.is_empty());
            prop_assert_eq!(terms(&token), vec![token.clone()]);
        }
    }

    #[test]
    fn any_query_is_answered(query in "\\PC{0,24}") {
        find(index(), &query, 3).unwrap();
    }
}
