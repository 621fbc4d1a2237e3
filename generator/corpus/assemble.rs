//! Reads all files, in parallel but reported in order, and lays the collections over each other.

use std::collections::BTreeMap;

use rayon::prelude::*;

use super::{CollectionInfo, Corpus};
use crate::diagnostic::{Code, Report};
use crate::entry::{self, Collection, Content, Entry};
use crate::source::{FileId, Loaded, Sources, Span};

/// Everything read and laid over each other. What cannot be read is in the report, and missing here.
pub fn assemble(loaded: Loaded, report: &mut Report) -> Corpus {
    let Loaded { sources, problems } = loaded;
    for problem in &problems {
        let span = Span { file: FileId(problem.file as u32), start: 0, end: 0 };
        report.error(Code::UnreadableText, span, &problem.message).hint(&problem.hint);
    }
    let read: Vec<_> = sources
        .files
        .par_iter()
        .enumerate()
        .map(|(at, file)| match problems.iter().any(|problem| problem.file == at) {
            true => (Content::Nothing, Report::default()),
            false => entry::read(FileId(at as u32), file),
        })
        .collect();

    let mut stated: BTreeMap<usize, Collection> = BTreeMap::new();
    let mut published = BTreeMap::new();
    let mut kept: BTreeMap<_, Entry> = BTreeMap::new();
    for (at, (content, problems)) in read.into_iter().enumerate() {
        report.append(problems);
        let collection = sources.files[at].collection;
        match content {
            Content::Nothing => {}
            Content::Collection(read) => {
                if let Some(read) = read {
                    stated.insert(collection, read);
                }
            }
            Content::Sources(list) => {
                for source in list {
                    // A later collection may describe a source again; its own statements then cite its own description.
                    published.insert(source.key.as_str().to_string(), (collection, source));
                }
            }
            Content::Entry(entry) => add(*entry, &mut kept, report),
        }
    }
    let entries: Vec<Entry> = kept.into_values().collect();
    let collections = describe(&sources, stated);
    Corpus::new(sources, collections, entries, published)
}

fn add(entry: Entry, kept: &mut BTreeMap<crate::entry::EntryId, Entry>, report: &mut Report) {
    if let Some(earlier) = kept.get(&entry.id)
        && !entry.overrides
    {
        report
            .error(Code::DuplicateId, entry.span, format!("`{}` is already the id of another entry", entry.id))
            .hint("give the file another name, or write overrides = true to replace the earlier entry")
            .related(earlier.span, "the first one");
        return;
    }
    kept.insert(entry.id.clone(), entry);
}

fn describe(sources: &Sources, mut stated: BTreeMap<usize, Collection>) -> Vec<CollectionInfo> {
    sources
        .collections
        .iter()
        .enumerate()
        .map(|(at, root)| {
            let stated = stated.remove(&at);
            CollectionInfo {
                key: root.name.clone(),
                name: stated.as_ref().map_or_else(|| root.name.clone(), |c| c.name.clone()),
                real: stated.as_ref().is_none_or(|c| c.real),
                public: stated.as_ref().is_none_or(|c| c.public),
                about: stated.as_ref().and_then(|c| c.about.clone()),
                licence: stated.and_then(|c| c.licence),
            }
        })
        .collect()
}
