//! Coins that the trade knows to be altered into rarer ones are found, with what betrays them.
//! The pairs are common practice, no source; every step is worked out from the lists, marks and numerals of the series.

mod fixture;

use std::sync::OnceLock;

use fixture::reference;
use tellmark::corpus::Corpus;
use tellmark::reckon::hosts::{Host, hosts, in_words};

fn corpus() -> &'static Corpus {
    static CORPUS: OnceLock<Corpus> = OnceLock::new();
    CORPUS.get_or_init(|| reference().0)
}

fn host(target: &str, from: &str) -> Host<'static> {
    let entry = corpus().get_str(&format!("issues/{target}")).unwrap_or_else(|| panic!("{target} is not on file"));
    let found = hosts(corpus(), entry);
    let labels: Vec<String> = found.iter().map(|host| host.label.to_string()).collect();
    let at = labels.iter().position(|label| label == from);
    found.into_iter().nth(at.unwrap_or_else(|| panic!("{target} ← {from} is not among {labels:?}"))).unwrap()
}

/// Target, host, what is done to it.
const PAIRS: &[(&str, &str, &str)] = &[
    ("us/dime/1916-d", "1916", "D added"),
    ("us/dime/1916-d", "1916-S", "S changed to D"),
    ("us/dime/1894-s", "1894", "S added"),
    ("us/dime/1895-o", "1895", "O added"),
    ("us/dime/1942-2-over-1", "1942", "2 over 1 made"),
    ("us/dime/1942-d-2-over-1", "1942-D", "2 over 1 made"),
    ("us/dime/1871-cc", "1871", "CC added"),
    ("us/dime/1804", "1801", "1 into 4 (upper left stroke, middle bar added)"),
    ("us/dollar/1893-s", "1893", "S added"),
    ("us/dollar/1893-s", "1898-S", "8 into 3 (upper left stroke, lower left stroke removed)"),
    ("us/dollar/1889-cc", "1889", "CC added"),
    ("us/dollar/1895", "1895-O", "O removed"),
    ("us/dollar/1894", "1894-O", "O removed"),
    ("us/dollar/1903-o", "1903", "O added"),
    ("us/dollar/1928", "1923", "3 into 8 (upper left stroke, lower left stroke added)"),
    ("us/dollar/1928", "1928-S", "S removed"),
    ("us/dollar/1934-s", "1934", "S added"),
    ("us/five-cents/1937-d-three-legs", "1937-D", "three legs made"),
    ("us/five-cents/1913-s-type-2", "1913 type 2", "S added"),
    ("us/five-cents/1918-d-8-over-7", "1918-D", "8 over 7 made"),
    ("us/five-cents/1921-s", "1921", "S added"),
    ("us/five-cents/1926-s", "1926-D", "D changed to S"),
    ("us/five-cents/1950-d", "1950", "D added"),
    ("us/five-cents/1939-d", "1939", "D added"),
    ("us/five-cents/1885", "1886", "6 into 5 (lower left stroke removed)"),
    ("us/five-cents/1913-liberty-head", "1912", "2 into 3 (lower left stroke removed; lower right stroke added)"),
    (
        "us/five-cents/1913-liberty-head",
        "1910",
        "0 into 3 (upper left stroke, lower left stroke removed; middle bar added)",
    ),
    (
        "us/five-cents/1913-liberty-head",
        "1903",
        "0 into 1 (top bar, upper left stroke, lower left stroke, bottom bar removed)",
    ),
    ("us/quarter/1901-s", "1901", "S added"),
    ("us/quarter/1896-s", "1896", "S added"),
    (
        "us/quarter/1916",
        "1917 type 1",
        "7 into 6 (upper right stroke removed; upper left stroke, middle bar, lower left stroke, bottom bar added)",
    ),
    ("us/quarter/1923-s", "1928-S", "8 into 3 (upper left stroke, lower left stroke removed)"),
    ("us/quarter/1927-s", "1927", "S added"),
    ("us/quarter/1932-d", "1932", "D added"),
    ("us/quarter/1932-s", "1932", "S added"),
    ("us/half-dollar/1938-d", "1938", "D added"),
    ("us/cent/1856", "1858", "8 into 6 (upper right stroke removed)"),
    ("gb/halfcrown/1905", "1906", "6 into 5 (lower left stroke removed)"),
    ("gb/halfcrown/1905", "1908", "8 into 5 (upper right stroke, lower left stroke removed)"),
    ("ca/5-cents/1921", "1920", "0 into 1 (top bar, upper left stroke, lower left stroke, bottom bar removed)"),
    ("ca/50-cents/1921", "1920", "0 into 1 (top bar, upper left stroke, lower left stroke, bottom bar removed)"),
];

#[test]
fn known_hosts_are_found_with_what_is_done_to_them() {
    for (target, from, done) in PAIRS {
        let host = host(target, from);
        let changes: Vec<String> = host.changes.iter().map(in_words).collect();
        assert_eq!(changes, [*done], "{target} ← {from}");
    }
}

#[test]
fn what_betrays_a_host_is_said() {
    for (target, from, said) in [
        ("us/quarter/1916", "1917 type 1", "Changed in 1917"),
        ("us/quarter/1923-s", "1928-S", "Changed in 1925: The date is set in a recess"),
        ("us/cent/1856", "1858", "Changed in 1858"),
        ("us/dime/1844", "1874-S", "It was struck to 2.5 g; a true piece to 2.673 g."),
        ("us/dime/1844", "1874-S", "Its mark stood elsewhere"),
        (
            "us/dollar/1836",
            "1838",
            "Its metal is silver 900, copper 100; a true piece is silver 892.43, copper 107.57.",
        ),
        ("ca/50-cents/1921", "1911", "Its metal is silver 925, copper 75; a true piece is silver 800, copper 200."),
        ("au/florin/1914-h", "1919-M", "Its mark stood elsewhere"),
        ("bo/8-soles/1859-pts", "1858-PTS", "It was struck to 27.07 g; a true piece to 20 g."),
    ] {
        let betrayals: Vec<String> = host(target, from).betrayals.iter().map(|one| one.text.clone()).collect();
        assert!(betrayals.iter().any(|text| text.starts_with(said)), "{target} ← {from}: {betrayals:?}");
    }
}

#[test]
fn the_easiest_way_comes_first() {
    for (target, first) in [("us/dollar/1895", "1895-O"), ("us/dollar/1889-cc", "1889"), ("us/dollar/1928", "1928-S")] {
        let entry = corpus().get_str(&format!("issues/{target}")).unwrap();
        assert_eq!(hosts(corpus(), entry)[0].label.to_string(), first, "{target}");
    }
}

#[test]
fn no_host_is_scarcer_than_its_target_unless_recorded_and_none_needs_three_changes() {
    for (entry, issue) in corpus().issues() {
        let Some((_, series)) = corpus().series_of(issue) else { continue };
        let target = series.row(&issue.row).and_then(|(row, _)| row.pieces);
        for host in hosts(corpus(), entry) {
            assert!((1..=2).contains(&host.changes.len()), "{} ← {}", entry.id, host.label);
            let scarcer = matches!((host.pieces, target), (Some(host), Some(target)) if host < target);
            assert!(!scarcer || host.recorded, "{} ← {}", entry.id, host.label);
            assert!(host.label != issue.row, "{}", entry.id);
        }
    }
}

#[test]
fn a_frozen_or_other_date_has_no_digit_changes() {
    for (entry, _) in corpus().issues() {
        let series = entry.issue().and_then(|issue| corpus().series_of(issue)).map(|(_, series)| series);
        if series.is_some_and(|series| !series.digits.western) {
            assert!(
                hosts(corpus(), entry).iter().all(|host| host.changes.iter().all(|c| !in_words(c).contains("into")))
            );
        }
    }
}
