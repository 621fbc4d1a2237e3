//! Corpus → what the bench's instruments know of it, as classic scripts: a shard for each country, and one for the whole
//! site. `theme/bench/bench.d.ts` declares their shape to the scripts that read them. Prose is plain text here; nothing of
//! the page's look.

mod country;
mod issue;
mod site;

use std::collections::BTreeMap;

use rayon::prelude::*;
use sha2::{Digest, Sha256};

use crate::corpus::Corpus;
use crate::entry::{Basis, Entry, EntryId, Kind};
use crate::out_file::OutFile;
use crate::reckon::hosts::AllHosts;

/// `bench/know/site.js` and one script for each country.
pub fn knowledge(corpus: &Corpus, hosts: &AllHosts<'_>) -> Vec<OutFile> {
    let sums = sums(corpus);
    let countries: Vec<&Entry> = corpus.of_kind(Kind::Country).collect();
    let mut files: Vec<OutFile> = countries
        .par_iter()
        .map(|entry| {
            let shard = country::country(corpus, entry, hosts, &sums);
            shelved(entry.id.stem(), &shard)
        })
        .collect();
    files.push(shelved("site", &site::site(corpus, &countries, &sums)));
    files
}

fn shelved(key: &str, data: &impl serde::Serialize) -> OutFile {
    OutFile::script(&format!("bench/know/{key}.js"), "shelve", key, data)
}

/// The sha256 of each entry's file, lower-case hex.
type Sums = BTreeMap<EntryId, String>;

fn sums(corpus: &Corpus) -> Sums {
    let entries = corpus.entries().par_iter();
    entries.map(|entry| (entry.id.clone(), hex(corpus.sources.file(entry.file).text.as_bytes()))).collect()
}

fn hex(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect()
}

/// What a statement stands on, in words.
fn basis_words(corpus: &Corpus, basis: &Basis) -> String {
    let cited: Vec<String> = basis
        .citations()
        .map(|citation| {
            let key = &citation.source.text;
            let title = corpus.published.get(key).map_or(key.as_str(), |(_, source)| source.title.as_str());
            let how = if citation.read { "read" } else { "cited from memory" };
            format!("{title}, {} ({how})", citation.at)
        })
        .collect();
    if cited.is_empty() { "Common practice".into() } else { cited.join("; ") }
}
