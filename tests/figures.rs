//! What is drawn on the pages of the shipped entries is drawn of the coin that the page is about.

use std::collections::BTreeSet;
use std::sync::OnceLock;

use tellmark::entry::{Body, Entry};
use tellmark::out_file::OutFile;
use tellmark::render::Theme;

struct Site {
    corpus: tellmark::corpus::Corpus,
    files: Vec<OutFile>,
}

fn site() -> &'static Site {
    static SITE: OnceLock<Site> = OnceLock::new();
    SITE.get_or_init(|| {
        let corpus = tellmark::check(tellmark::source::load(&["entries".into()]).unwrap(), None).0;
        let files = tellmark::site(&corpus, &Theme::built_in().unwrap(), None).unwrap();
        Site { corpus, files }
    })
}

fn page(path: &str) -> String {
    let file = site().files.iter().find(|file| file.path == path).unwrap_or_else(|| panic!("no page {path}"));
    String::from_utf8(file.bytes().to_vec()).unwrap()
}

fn issues() -> impl Iterator<Item = (&'static Entry, String)> {
    let issue = |entry: &&Entry| matches!(entry.body, Body::Issue(_));
    site().corpus.entries().iter().filter(issue).map(|entry| (entry, page(&format!("{}.html", entry.id))))
}

/// The figures of a page, each whole.
fn figures(page: &str) -> Vec<&str> {
    page.split("<svg class=\"pair-drawing").skip(1).map(|rest| rest.split("</svg>").next().unwrap()).collect()
}

#[test]
fn a_disc_shows_the_date_of_its_own_coin() {
    for (path, year, of_series) in [
        ("issues/us/dollar/1893-s.html", "1893", "1878"),
        ("issues/us/five-cents/1937-d-three-legs.html", "1937", "1913"),
        ("issues/us/quarter/1918-s-8-over-7.html", "1918", "1916"),
        ("issues/orrin/half-mark/1911-k.html", "1911", "19··"),
        // A numeral of another kind, and a date in two halves.
        ("issues/gb/crown/1847-gothic.html", "mdcccxlvii", "1847"),
        ("issues/gb/threepence/1942.html", "42", "37"),
    ] {
        let page = page(path);
        assert!(page.contains(&format!(">{year}</text>")), "{path} shows no {year}");
        assert!(!page.contains(&format!(">{of_series}</text>")), "{path} shows {of_series}");
    }
    assert!(page("series/us/dollar-morgan-1878-1921.html").contains(">1···</text>"));
    assert!(page("series/orrin/half-mark-harbour.html").contains(">19··</text>"));
}

#[test]
fn a_figure_of_digits_shows_digits_of_the_coin() {
    let mut seen = 0;
    for (entry, page) in issues() {
        let Body::Issue(issue) = &entry.body else { continue };
        for figure in figures(&page).into_iter().filter(|figure| figure.starts_with(" reshaped")) {
            let (_, said) = figure.split_once("True: a").unwrap();
            let digit = said.trim_start_matches('n').trim_start().chars().next().unwrap();
            assert!(issue.row.year.to_string().contains(digit), "{} shows a {digit}: {said}", entry.id);
            seen += 1;
        }
    }
    assert!(seen > 100, "{seen} figures of digits");
}

#[test]
fn no_page_draws_the_same_figure_twice() {
    for (entry, page) in issues() {
        let all = figures(&page);
        let different: BTreeSet<&&str> = all.iter().collect();
        assert_eq!(different.len(), all.len(), "{}", entry.id);
    }
}

#[test]
fn what_a_tilt_is_against_is_said_on_the_page_in_its_figure_and_at_the_bench() {
    let page = page("issues/orrin/half-mark/1911-k.html");
    assert!(page.contains("tilt against the line to the centre"));
    assert!(page.contains("K against the line to the centre, to scale. True: tilted 1.5° to the right."));
    assert!(page.contains("offset between two points"));
    let shard = site().files.iter().find(|file| file.path == "bench/know/orrin.js").unwrap();
    let shard = String::from_utf8(shard.bytes().to_vec()).unwrap();
    assert!(shard.contains("\"quantity\":\"tilt\",\"against\":\"centre\""));
    assert!(shard.contains("\"quantity\":\"offset\",\"against\":\"points\""));
    assert!(shard.contains("\"quantity\":\"weight\",\"against\":\"\""));
}
