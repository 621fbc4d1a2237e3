//! Tellmark: entry files → an offline site that answers "which coin is this, and where do I look?".
//!
//! One direction, each step a folder that depends only on those before it:
//!
//! | module | turns | into |
//! |---|---|---|
//! | [`source`] | folders of entries | texts with line numbers |
//! | [`picture`] | bytes of a picture | what it is, its flaws, its copies |
//! | [`diagnostic`] | anything wrong | text, JSON or SARIF, all at once |
//! | [`entry`] | one TOML text | a typed [`entry::Entry`] |
//! | [`corpus`] | all entries | one whole: names resolved, checks inherited |
//! | [`rules`] | the corpus | problems |
//! | [`reckon`] | the corpus | grams, densities, hosts, what no check separates, coverage |
//! | [`figure`] | numbers | SVG, as strings |
//! | [`search`] | the corpus | index shards, as strings; answers of `find` |
//! | [`render`] | the corpus | pages, as strings |
//! | [`mod@bench`] | the corpus | what the instruments in the pages know, as scripts |
//! | [`publish`] | files in memory | `public/`, all or nothing |
//! | [`preview`] | the same steps | a loopback server that recompiles on save |
//! | [`draft`] | the corpus and an id | a new entry file to fill in, as a string |
//! | [`schema`] | the format's tables | JSON Schema of each kind of entry |
//!
//! Only `source`, `publish` and `preview` touch the disk; only `main.rs` prints or exits; nothing asks for the clock
//! or for randomness, so the same entries give the same bytes.

#![deny(clippy::disallowed_methods)]

pub mod bench;
pub mod corpus;
pub mod diagnostic;
pub mod draft;
pub mod entry;
pub mod figure;
pub mod out_file;
pub mod picture;
pub mod preview;
pub mod publish;
pub mod reckon;
pub mod render;
pub mod rules;
pub mod schema;
pub mod search;
pub mod source;

use diagnostic::{Diagnostic, Report};
use entry::Day;

/// Entries → corpus and all its problems, sorted. Nothing is written.
pub fn check(loaded: source::Loaded, today: Option<Day>) -> (corpus::Corpus, Vec<Diagnostic>) {
    let mut report = Report::default();
    let corpus = corpus::assemble(loaded, &mut report);
    rules::apply(&corpus, today, &mut report);
    (corpus, report.finish())
}

/// Corpus without errors → every file of the site, complete and in order. Nothing is written.
///
/// # Errors
/// A template that does not fit its page, or a search index that cannot be made: a fault of the tool.
pub fn site(
    corpus: &corpus::Corpus,
    theme: &render::Theme,
    today: Option<Day>,
) -> Result<Vec<out_file::OutFile>, Box<dyn std::error::Error>> {
    let hosts = reckon::hosts::all(corpus);
    let (pages, rest) = rayon::join(
        || render::pages(corpus, theme, &hosts, today),
        || {
            let mut rest = theme.assets();
            rest.push(publish::knowledge(corpus, &hosts));
            rest.extend(bench::knowledge(corpus, &hosts));
            rest.extend(publish::pictures(corpus));
            rest.extend(render::albums(corpus));
            rest.extend(search::files(&search::Index::new(corpus)?)?);
            Ok::<_, search::SearchError>(rest)
        },
    );
    let mut files = pages?;
    files.extend(rest?);
    Ok(publish::complete(files))
}
