//! Pages of the small collection, whole, as they are published.
//!
//! `TELLMARK_UPDATE=1 cargo test --test pages` writes `tests/good/expected/` anew: read the diff.

mod fixture;

use std::collections::BTreeSet;
use std::path::Path;
use std::sync::OnceLock;

use fixture::{TODAY, assert_golden, files_under};
use tellmark::out_file::OutFile;
use tellmark::render::Theme;

macro_rules! pages {
    ($($page:literal $name:ident)*) => {
        const PAGES: &[&str] = &[$($page),*];
        $(#[test] fn $name() { check_page($page) })*
    };
}

pages! {
    "issues/orrin/half-mark/1911-k.html" an_issue_shows_where_to_look_and_what_every_statement_stands_on
    "series/orrin/half-mark-harbour.html" a_series_shows_its_standards_and_its_dates
    "families/orrin/harbour-transfer-dies.html" a_family_shows_its_tell_tales
    "alterations/mark-added.html" an_alteration_shows_how_it_is_made_and_what_mimics_it
    "glossary/die-polish.html" a_term_shows_its_meaning_and_where_it_is_used
}

#[test]
fn every_golden_page_is_read_by_a_test() {
    let golden: BTreeSet<String> = files_under(Path::new("tests/good/expected")).into_iter().collect();
    assert_eq!(golden, PAGES.iter().map(|page| flat(page)).collect());
}

#[test]
fn every_page_of_an_invented_collection_says_so() {
    for file in site().iter().filter(|file| PAGES.contains(&file.path.as_str())) {
        assert!(String::from_utf8_lossy(file.bytes()).contains("nvented"), "{} is not stamped", file.path);
    }
}

fn check_page(page: &str) {
    let file = site().iter().find(|file| file.path == page).unwrap_or_else(|| panic!("the site has no {page}"));
    let text = String::from_utf8(file.bytes().to_vec()).expect("pages are UTF-8");
    assert_golden(&Path::new("tests/good/expected").join(flat(page)), &text);
}

/// One flat folder of golden pages: `issues/orrin/1911-k.html` is `issues-orrin-1911-k.html`.
fn flat(page: &str) -> String {
    page.replace('/', "-")
}

fn site() -> &'static [OutFile] {
    static SITE: OnceLock<Vec<OutFile>> = OnceLock::new();
    SITE.get_or_init(|| {
        let loaded = tellmark::source::load(&[fixture::ORRIN.into()]).expect("the fixture can be read");
        let (corpus, problems) = tellmark::check(loaded, Some(TODAY));
        assert!(problems.is_empty(), "{problems:?}");
        tellmark::site(&corpus, &Theme::built_in().expect("the theme is whole"), Some(TODAY)).expect("pages fit")
    })
}
