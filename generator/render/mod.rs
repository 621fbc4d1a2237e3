//! Corpus → pages, as strings. No paths to open, nothing printed; the same corpus gives the same bytes.

mod bench;
mod checks;
mod comparison;
mod coverage;
mod drawings;
mod faces;
mod family;
mod front;
mod hosts;
mod href;
mod issue;
mod lists;
mod parts;
mod photos;
mod prose;
mod script;
mod series;
mod site;
mod sources;
mod theme;
pub(crate) mod words;
mod written;

use std::fmt;

use rayon::prelude::*;
use serde::Serialize;

pub(crate) use checks::question;
pub use href::href;
pub(crate) use issue::numbers;
pub use photos::albums;
pub use site::page_of;
pub use theme::Theme;
pub use words::thousands;

use crate::corpus::Corpus;
use crate::entry::{Day, Entry, Kind};
use crate::out_file::OutFile;
use crate::reckon::{coverage::coverage as count, hosts::AllHosts};
use site::{Head, Page, Site};

/// A template could not be filled: a fault of the tool, not of an entry.
#[derive(Debug)]
pub struct RenderError {
    pub template: String,
    pub page: String,
    pub cause: String,
}

impl fmt::Display for RenderError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "the template {} cannot make {}: {}", self.template, self.page, self.cause)
    }
}

impl std::error::Error for RenderError {}

/// A page to be made.
enum Job<'a> {
    Front,
    Entry(&'a Entry),
    Written(&'a Entry),
    Families,
    Practices(Kind),
    Glossary,
    Sources,
    Source(&'a str),
    Coverage,
    CountryCoverage(&'a Entry),
    Reading,
    /// A page of the bench, by its name.
    Bench(&'static str),
}

/// Every page of the site, in a fixed order, made in parallel. `today` decides which reviews the coverage map calls stale.
///
/// # Errors
/// A template that does not fit its page.
pub fn pages(
    corpus: &Corpus,
    theme: &Theme,
    hosts: &AllHosts<'_>,
    today: Option<Day>,
) -> Result<Vec<OutFile>, RenderError> {
    let site = Site::new(corpus, theme, hosts);
    let counted = count(corpus, today);
    let mut jobs = vec![Job::Front, Job::Families, Job::Practices(Kind::Method), Job::Practices(Kind::Alteration)];
    jobs.extend([Job::Glossary, Job::Sources, Job::Coverage, Job::Reading]);
    jobs.extend(bench::PAGES.iter().map(|(name, _)| Job::Bench(name)));
    jobs.extend(corpus.published.keys().map(|key| Job::Source(key)));
    jobs.extend(corpus.of_kind(Kind::Country).map(Job::CountryCoverage));
    for entry in corpus.entries() {
        jobs.push(Job::Entry(entry));
        jobs.push(Job::Written(entry));
    }
    jobs.par_iter()
        .map(|job| {
            let page = Page::new(&site, path(job));
            match job {
                Job::Front => front::front(&page, counted.bases),
                Job::Families => lists::families(&page),
                Job::Practices(kind) => lists::practices(&page, *kind),
                Job::Glossary => lists::glossary(&page),
                Job::Sources => sources::sources(&page, counted.bases),
                Job::Source(key) => sources::source(&page, key),
                Job::Coverage => coverage::page(&page, &counted),
                Job::CountryCoverage(entry) => coverage::country(&page, entry, &counted),
                Job::Reading => reading(&page),
                Job::Bench(name) => bench::page(&page, name),
                Job::Written(entry) => written::page(&page, entry),
                Job::Entry(entry) => of_entry(&page, entry),
            }
        })
        .collect()
}

fn path(job: &Job<'_>) -> String {
    match job {
        Job::Front => "index.html".into(),
        Job::Families => "families/index.html".into(),
        Job::Practices(kind) => format!("{}/index.html", kind.folder()),
        Job::Glossary => "glossary/index.html".into(),
        Job::Sources => "sources/index.html".into(),
        Job::Source(key) => format!("sources/{key}.html"),
        Job::Coverage => "coverage.html".into(),
        Job::CountryCoverage(entry) => coverage::path_of(entry),
        Job::Reading => "reading.html".into(),
        Job::Bench(name) => format!("bench/{name}.html"),
        Job::Entry(entry) => page_of(entry),
        Job::Written(entry) => site::written_of(entry),
    }
}

fn of_entry(page: &Page<'_>, entry: &Entry) -> Result<OutFile, RenderError> {
    match entry.kind() {
        Kind::Country => front::country(page, entry),
        Kind::Series => series::page(page, entry),
        Kind::Issue => issue::page(page, entry),
        Kind::Family => family::family(page, entry),
        Kind::Method | Kind::Alteration => family::practice(page, entry),
        Kind::Term => family::term(page, entry),
    }
}

#[derive(Serialize)]
struct Reading {
    head: Head,
}

/// How to read the pages: bases, words for frequency, places, cautions.
fn reading(page: &Page<'_>) -> Result<OutFile, RenderError> {
    page.render("reading.html", &Reading { head: page.head("How to read these pages", "reading", "", None) })
}

#[derive(Serialize)]
struct Missing {
    head: Head,
    name: String,
    written: String,
}

impl Page<'_> {
    /// In place of a page whose entry could not be read whole. Publishing stops before it; preview shows it.
    fn missing(&self, entry: &Entry) -> Result<OutFile, RenderError> {
        let name = entry.id.to_string();
        let view = Missing {
            head: self.head(&name, "missing", "", Some(entry)),
            written: self.to(&site::written_of(entry)),
            name,
        };
        self.render("missing.html", &view)
    }
}
