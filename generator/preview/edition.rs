//! Entries → what the server shows: the pages of the last build without errors, and the problems of the latest.

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::Arc;

use axum::body::Bytes;

use crate::diagnostic::{Diagnostic, Severity, to_text};
use crate::entry::Day;
use crate::out_file::{Content, Picture};
use crate::picture::Part;
use crate::render::Theme;
use crate::source::{self, Sources};
use crate::{check, site};

/// Folders that are read.
#[derive(Clone, Debug)]
pub struct Roots {
    pub entries: Vec<PathBuf>,
    /// Of pictures that may not be published.
    pub photos: Vec<PathBuf>,
}

/// One state of the entries. Replaced as a whole, never changed.
pub struct Edition {
    /// From 1; pages of an older number reload.
    pub number: u64,
    /// The last build without errors, by path. Empty if there was none yet.
    pub files: Arc<BTreeMap<String, Served>>,
    /// Whether `files` are of this edition.
    pub is_good: bool,
    /// All problems as `validate` prints them.
    pub problems: String,
    /// The problems of single entries, by the page that shows the entry.
    pub by_page: BTreeMap<String, String>,
    pub tally: Tally,
}

/// A file as it is served.
#[derive(Clone, PartialEq, Eq)]
pub enum Served {
    Bytes(Bytes),
    /// Made when it is asked for.
    Made(Arc<Picture>, Part),
}

/// An edition in numbers.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Tally {
    pub entries: usize,
    pub errors: usize,
    pub warnings: usize,
    /// The tool or the disk failed: why.
    pub failure: Option<String>,
}

impl Edition {
    pub fn first(roots: &Roots, theme: &Theme, today: Option<Day>) -> Edition {
        Edition { number: 1, ..build(roots, theme, today) }
    }

    /// The edition after this one, or `None` if a save changed nothing that is shown.
    pub fn next(&self, roots: &Roots, theme: &Theme, today: Option<Day>) -> Option<Edition> {
        let mut next = build(roots, theme, today);
        if !next.is_good {
            next.files = Arc::clone(&self.files);
        }
        let same = next.is_good == self.is_good
            && next.problems == self.problems
            && next.tally == self.tally
            && (Arc::ptr_eq(&next.files, &self.files) || next.files == self.files);
        (!same).then_some(Edition { number: self.number + 1, ..next })
    }
}

fn build(roots: &Roots, theme: &Theme, today: Option<Day>) -> Edition {
    let loaded = match source::load_with(&roots.entries, &roots.photos) {
        Ok(loaded) => loaded,
        Err(error) => return failed(error.to_string()),
    };
    let (corpus, problems) = check(loaded, today);
    let errors = problems.iter().filter(|problem| problem.severity == Severity::Error).count();
    let mut edition = Edition {
        number: 0,
        files: Arc::default(),
        is_good: errors == 0,
        problems: to_text(&problems, &corpus.sources),
        by_page: by_page(&problems, &corpus.sources),
        tally: Tally { entries: corpus.entries().len(), errors, warnings: problems.len() - errors, failure: None },
    };
    if edition.is_good {
        match site(&corpus, theme, today) {
            Ok(files) => {
                let files = files.into_iter().filter_map(|file| match file.content {
                    Content::Bytes(bytes) => Some((file.path, Served::Bytes(Bytes::from(bytes)))),
                    Content::Made { picture, part } => Some((file.path, Served::Made(picture, part))),
                    // Nothing is written, so there is nothing to vouch for.
                    Content::Sums => None,
                });
                edition.files = Arc::new(files.collect());
            }
            Err(error) => return failed(error.to_string()),
        }
    }
    edition
}

fn failed(why: String) -> Edition {
    Edition {
        number: 0,
        files: Arc::default(),
        is_good: false,
        problems: format!("{why}\n"),
        by_page: BTreeMap::new(),
        tally: Tally { failure: Some(why), ..Tally::default() },
    }
}

/// A problem belongs to the page of the entry it is in, and to the page that shows that entry's file.
fn by_page(problems: &[Diagnostic], sources: &Sources) -> BTreeMap<String, String> {
    let mut by_file: BTreeMap<&str, Vec<Diagnostic>> = BTreeMap::new();
    for problem in problems {
        by_file.entry(&sources.file(problem.primary.file).stem).or_default().push(problem.clone());
    }
    let mut out = BTreeMap::new();
    for (stem, problems) in by_file {
        let text = to_text(&problems, sources);
        match stem {
            "collection" => out.insert("index.html".to_string(), text),
            "sources" => out.insert("sources/index.html".to_string(), text),
            entry => {
                out.insert(format!("written/{entry}.html"), text.clone());
                out.insert(format!("{entry}.html"), text)
            }
        };
    }
    out
}
