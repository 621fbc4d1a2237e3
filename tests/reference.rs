//! The shipped entries as a fixture: whole, linked, small, thick enough, and the same whatever order they are read in.

mod fixture;

use std::collections::{BTreeMap, BTreeSet};
use std::path::PathBuf;
use std::sync::OnceLock;

use fixture::{TODAY, reference};
use tellmark::corpus::{Corpus, assemble, prose_of, sentences};
use tellmark::diagnostic::{Diagnostic, Report, Severity, to_text};
use tellmark::entry::Kind;
use tellmark::out_file::OutFile;
use tellmark::reckon::coverage::{Coverage, coverage};
use tellmark::render::Theme;
use tellmark::rules::sentence_uses;
use tellmark::source::load;

fn shipped() -> &'static (Corpus, Vec<Diagnostic>) {
    static SHIPPED: OnceLock<(Corpus, Vec<Diagnostic>)> = OnceLock::new();
    SHIPPED.get_or_init(|| {
        tellmark::check(load(&[PathBuf::from("entries")]).expect("the entries can be read"), Some(TODAY))
    })
}

/// The site of everything that is shipped.
fn site() -> &'static [OutFile] {
    static SITE: OnceLock<Vec<OutFile>> = OnceLock::new();
    SITE.get_or_init(|| make(&shipped().0))
}

fn make(corpus: &Corpus) -> Vec<OutFile> {
    tellmark::site(corpus, &Theme::built_in().expect("the theme is whole"), Some(TODAY)).expect("pages fit")
}

/// The reference collection alone: what the counts are about.
fn counted() -> &'static (Corpus, Coverage) {
    static COUNTED: OnceLock<(Corpus, Coverage)> = OnceLock::new();
    COUNTED.get_or_init(|| {
        let (corpus, _) = reference();
        let counts = coverage(&corpus, Some(TODAY));
        (corpus, counts)
    })
}

#[test]
fn the_shipped_entries_have_no_errors() {
    let (corpus, problems) = shipped();
    let errors: Vec<Diagnostic> = problems.iter().filter(|p| p.severity == Severity::Error).cloned().collect();
    assert!(errors.is_empty(), "{}", to_text(&errors, &corpus.sources));
}

#[test]
fn the_reference_collection_stands_alone() {
    let (corpus, problems) = reference();
    assert!(problems.iter().all(|p| p.severity != Severity::Error), "{}", to_text(&problems, &corpus.sources));
    assert!(corpus.collections.iter().all(|collection| collection.real && collection.public));
}

#[test]
fn it_is_as_large_as_it_says() {
    let (corpus, counts) = counted();
    let of = |kind: Kind| counts.entries_by_kind.get(kind.folder()).copied().unwrap_or(0);
    assert!(of(Kind::Issue) >= 140, "{} issues", of(Kind::Issue));
    assert!(of(Kind::Series) >= 70, "{} series", of(Kind::Series));
    assert!(of(Kind::Family) >= 40, "{} families", of(Kind::Family));
    assert!(of(Kind::Term) >= 120, "{} terms", of(Kind::Term));
    assert!(corpus.published.len() >= 25, "{} sources", corpus.published.len());
}

#[test]
fn every_statement_stands_on_something() {
    // A statement without a basis has no type; this holds the counting to the entries.
    let (corpus, counts) = counted();
    let statements: usize = corpus.entries().iter().map(|entry| tellmark::corpus::statements(entry).len()).sum();
    assert!(corpus.entries().iter().all(|entry| !entry.broken));
    assert_eq!(counts.bases.total(), statements);
    assert!(counts.bases.read > 0 && counts.bases.memory > 0 && counts.bases.common_practice > 0);
}

#[test]
fn an_issue_has_five_checks_on_average() {
    let issues: Vec<_> = counted().1.entries.iter().filter(|one| one.kind == Kind::Issue.folder()).collect();
    let checks: usize = issues.iter().map(|issue| issue.checks).sum();
    assert!(checks >= 5 * issues.len(), "{checks} checks in {} issues", issues.len());
}

#[test]
fn no_two_hypotheses_of_an_issue_are_left_unseparated_without_a_note() {
    let left: Vec<_> = counted().1.entries.iter().filter(|one| one.unseparated > 0).map(|one| &one.id).collect();
    assert!(left.is_empty(), "{left:?}");
}

#[test]
fn under_two_sentences_in_a_hundred_are_repeated_between_entries() {
    let (corpus, _) = counted();
    let all: usize = corpus.entries().iter().flat_map(prose_of).map(|prose| sentences(&prose.text).len()).sum();
    let mut again = 0;
    for uses in sentence_uses(corpus).values() {
        let entries: BTreeSet<_> = uses.iter().map(|(id, _)| id.as_str()).collect();
        again += if entries.len() > 1 { uses.len() } else { 0 };
    }
    assert!(again * 50 < all, "{again} of {all} sentences stand in more than one entry");
}

#[test]
fn every_link_and_anchor_leads_somewhere_inside_the_site() {
    let pages: BTreeMap<&str, &OutFile> = site().iter().map(|file| (file.path.as_str(), file)).collect();
    let anchors: BTreeMap<&str, BTreeSet<String>> =
        pages.iter().filter(|(path, _)| path.ends_with(".html")).map(|(path, file)| (*path, ids(file))).collect();
    let mut wrong = BTreeSet::new();
    let mut links = 0;
    for (page, file) in &pages {
        if !page.ends_with(".html") {
            continue;
        }
        let copies = attributes(&text(file), &[" srcset=\""]);
        let copies = copies.iter().flat_map(|list| list.split(", ")).map(|one| one.split(' ').next().unwrap_or(""));
        let named = attributes(&text(file), &[" href=\"", " src=\"", " action=\""]);
        for link in named.into_iter().chain(copies.map(str::to_string)) {
            // A picture written into the page itself asks for nothing.
            if link.starts_with("data:image/") {
                continue;
            }
            links += 1;
            let (path, anchor) = link.split_once('#').map_or((link.as_str(), None), |(p, a)| (p, Some(a)));
            let target = resolve(page, path);
            let found = target.as_deref().is_some_and(|target| match anchor {
                // The bench is told by the anchor which entry to take down.
                Some(id) if target.starts_with("bench/") && id.contains('/') => {
                    pages.contains_key(target) && pages.contains_key(format!("{id}.html").as_str())
                }
                Some(anchor) if !anchor.is_empty() => anchors.get(target).is_some_and(|ids| ids.contains(anchor)),
                _ => pages.contains_key(target),
            });
            if !found {
                wrong.insert(format!("{page} → {link}"));
            }
        }
    }
    assert!(links > 10_000, "only {links} links were found");
    assert!(
        wrong.is_empty(),
        "{} links lead nowhere, such as {:?}",
        wrong.len(),
        wrong.iter().take(20).collect::<Vec<_>>()
    );
}

#[test]
fn every_id_on_a_page_is_its_only_one() {
    for file in site().iter().filter(|file| file.path.ends_with(".html")) {
        let all = attributes(&text(file), &[" id=\""]);
        assert_eq!(all.len(), ids(file).len(), "{} uses an id twice", file.path);
    }
}

#[test]
fn no_page_loads_anything_from_elsewhere() {
    for file in site().iter().filter(|file| file.path.ends_with(".html") || file.path.ends_with(".css")) {
        let text = text(file);
        for loader in
            ["@import", "url(http", "url(//", "url(\"http", "<base", "<iframe", "<object", "<embed", "http-equiv"]
        {
            assert!(!text.contains(loader), "{} has {loader}", file.path);
        }
    }
}

#[test]
fn every_page_is_at_most_sixty_kilobytes() {
    let pages = site().iter().filter(|file| file.path.ends_with(".html"));
    let heavy: Vec<&str> = pages.filter(|file| file.bytes().len() > 60_000).map(|file| file.path.as_str()).collect();
    assert!(heavy.is_empty(), "{heavy:?}");
}

#[test]
fn no_page_names_a_path_of_the_machine() {
    let here = std::env::current_dir().expect("a working folder").to_string_lossy().into_owned();
    for file in site() {
        assert!(!text(file).contains(&here), "{}", file.path);
    }
}

#[test]
fn the_order_in_which_files_are_read_changes_no_byte() {
    let shuffled = make(&reread(|files| {
        // Fisher and Yates' shuffle, with the generator of Park and Miller (1988).
        let mut state: u64 = 20_261_125;
        for at in (1..files.len()).rev() {
            state = state * 48_271 % 2_147_483_647;
            files.swap(at, (state % (at as u64 + 1)) as usize);
        }
    }));
    assert_same(&shuffled, site());
    assert_same(&make(&reread(|files| files.reverse())), site());
}

fn reread(reorder: impl Fn(&mut Vec<tellmark::source::SourceFile>)) -> Corpus {
    let mut loaded = load(&[PathBuf::from("entries")]).expect("the entries can be read");
    reorder(&mut loaded.sources.files);
    loaded.sources.assets.reverse();
    assemble(loaded, &mut Report::default())
}

fn assert_same(one: &[OutFile], other: &[OutFile]) {
    assert_eq!(one.len(), other.len());
    for (a, b) in one.iter().zip(other) {
        assert_eq!(a.path, b.path);
        assert!(a.content == b.content, "{} differs", a.path);
    }
}

fn text(file: &OutFile) -> String {
    String::from_utf8_lossy(file.bytes()).into_owned()
}

fn ids(file: &OutFile) -> BTreeSet<String> {
    attributes(&text(file), &[" id=\""]).into_iter().collect()
}

/// Values of attributes written in double quotes, as the templates write all of theirs.
fn attributes(html: &str, starts: &[&str]) -> Vec<String> {
    let mut out = Vec::new();
    for start in starts {
        for (at, _) in html.match_indices(start) {
            let value = html[at + start.len()..].split('"').next().unwrap_or("");
            out.push(value.replace("&amp;", "&").replace("&#x2F;", "/"));
        }
    }
    out
}

/// The file a relative link names, or `None` if it leaves the folder or has a scheme.
fn resolve(page: &str, link: &str) -> Option<String> {
    if link.starts_with('/') || link.contains(':') || link.contains('?') || link.ends_with('/') {
        return None;
    }
    if link.is_empty() {
        return Some(page.to_string());
    }
    let mut parts: Vec<&str> = page.split('/').collect();
    parts.pop();
    for part in link.split('/') {
        match part {
            ".." => {
                parts.pop()?;
            }
            "." => {}
            part => parts.push(part),
        }
    }
    Some(parts.join("/"))
}
