//! The list of sources, and what stands on each.

use serde::Serialize;

use super::RenderError;
use super::site::{Head, Link, Page};
use crate::entry::SOURCE_KINDS;
use crate::out_file::OutFile;
use crate::reckon::coverage::Bases;

#[derive(Serialize)]
struct Sources {
    head: Head,
    groups: Vec<SourceGroup>,
    bases: Bases,
}

#[derive(Serialize)]
struct SourceGroup {
    name: String,
    sources: Vec<SourceLine>,
}

#[derive(Serialize)]
struct SourceLine {
    link: Link,
    author: String,
    year: String,
    statements: usize,
    demo: bool,
}

pub fn sources(page: &Page<'_>, bases: Bases) -> Result<OutFile, RenderError> {
    let corpus = page.corpus();
    let groups = SOURCE_KINDS
        .iter()
        .map(|(word, kind)| SourceGroup {
            name: (*word).to_string(),
            sources: corpus
                .published
                .iter()
                .filter(|(_, (_, source))| source.kind == *kind)
                .map(|(key, (collection, source))| SourceLine {
                    link: Link { text: source.title.clone(), href: page.to(&format!("sources/{key}.html")) },
                    author: source.author.clone().unwrap_or_default(),
                    year: source.year.map_or(String::new(), |year| year.to_string()),
                    statements: page.site.backlinks.cited.get(key).map_or(0, |by| by.values().sum()),
                    demo: !corpus.collections[*collection].real,
                })
                .collect(),
        })
        .filter(|group| !group.sources.is_empty())
        .collect();
    page.render("sources.html", &Sources { head: page.head("Sources", "sources", "sources", None), groups, bases })
}

#[derive(Serialize)]
struct SourcePage {
    head: Head,
    name: String,
    author: String,
    year: String,
    kind: &'static str,
    seen_in: String,
    address: String,
    note: String,
    uses: Vec<SourceUse>,
    total: usize,
}

#[derive(Serialize)]
struct SourceUse {
    link: Link,
    kind: &'static str,
    statements: usize,
}

pub fn source(page: &Page<'_>, key: &str) -> Result<OutFile, RenderError> {
    let corpus = page.corpus();
    let (collection, source) = &corpus.published[key];
    let mut head = page.head(&source.title, "source", "sources", None);
    head.demo = !corpus.collections[*collection].real;
    let cited = page.site.backlinks.cited.get(key);
    let uses: Vec<SourceUse> = cited
        .into_iter()
        .flatten()
        .filter_map(|(id, statements)| {
            let entry = corpus.get(id)?;
            Some(SourceUse { link: page.link(entry), kind: entry.kind().singular(), statements: *statements })
        })
        .collect();
    let view = SourcePage {
        head,
        name: source.title.clone(),
        author: source.author.clone().unwrap_or_default(),
        year: source.year.map_or(String::new(), |year| year.to_string()),
        kind: SOURCE_KINDS.iter().find(|(_, kind)| *kind == source.kind).map_or("", |(word, _)| word),
        seen_in: source.seen_in.clone().unwrap_or_default(),
        address: source.address.clone().unwrap_or_default(),
        note: source.note.clone().unwrap_or_default(),
        total: uses.iter().map(|one| one.statements).sum(),
        uses,
    };
    page.render("source.html", &view)
}
