//! Index → scripts of a few kilobytes, which a page adds one by one as a query needs them.
//!
//! | file | holds |
//! |---|---|
//! | `search/manifest.js` | the first term of each shard, the numbers to score with, where each block begins |
//! | `search/t-….js` | terms of identity, aliases and names, with their documents in each |
//! | `search/b-….js` | terms of the body, with their documents |
//! | `search/w-….js` | all terms of one length, for slips of the keys |
//! | `search/d-….js` | title, address, note and kind of documents |

use serde_json::{Value, json};

use super::documents::{DocKind, Document};
use super::find::STEPS;
use super::index::{BODY, FIELDS, Index, SearchError};
use super::plan::{BEGUN, MOST_TOKENS, SLIPPED, STOP_WORDS, WEIGHTS, is_word};
use super::postings::encode;
use crate::out_file::OutFile;

/// Bytes after which a shard of terms is closed. A term with many documents can make a longer one.
const SHARD: usize = 3600;
/// Bytes after which a block of documents is closed.
const BLOCK: usize = 3000;

/// Every script of the index, in a fixed order.
///
/// # Errors
/// The index library refuses: a fault of the tool.
pub fn files(index: &Index) -> Result<Vec<OutFile>, SearchError> {
    let names = name_terms(index)?;
    let body = body_terms(index)?;
    let mut files = Vec::new();
    let (names_first, body_first) = (cut(&names, 't', &mut files), cut(&body, 'b', &mut files));
    let lengths = by_length(index, &mut files);
    let blocks = blocks(&index.documents, &mut files);
    let mut average = Vec::new();
    for at in 0..FIELDS.len() {
        average.push(f64::from(index.average_length(at)?));
    }
    let manifest = json!({
        "documents": index.documents.len(),
        "issues": index.documents.iter().filter(|document| document.kind == DocKind::Issue).count(),
        "average": average,
        "weights": WEIGHTS.map(f64::from),
        "begun": f64::from(BEGUN),
        "slipped": f64::from(SLIPPED),
        "tokens": MOST_TOKENS,
        "steps": STEPS,
        "odd": odd_logarithms(index.documents.len()),
        "stop": STOP_WORDS.join(" "),
        "kinds": DocKind::ALL.map(DocKind::word),
        "t": names_first.join(" "),
        "b": body_first.join(" "),
        "w": lengths,
        "d": blocks,
    });
    files.push(script("manifest", &manifest));
    Ok(files)
}

/// A term, and what stands after it on its line of a shard.
type Line = (String, String);

fn name_terms(index: &Index) -> Result<Vec<Line>, SearchError> {
    let mut lines = Vec::new();
    for (term, fields) in &index.names {
        let mut lists = Vec::new();
        for (at, held) in fields.iter().enumerate() {
            lists.push(if *held { encode(&index.postings(at, term)?) } else { String::new() });
        }
        lines.push((term.clone(), lists.join(" ").trim_end().to_string()));
    }
    Ok(sorted(lines))
}

fn body_terms(index: &Index) -> Result<Vec<Line>, SearchError> {
    let lines: Result<Vec<Line>, SearchError> =
        index.body.keys().map(|term| Ok((term.clone(), encode(&index.postings(BODY, term)?)))).collect();
    Ok(sorted(lines?))
}

/// In the order of scripts, which compare strings by UTF-16 units.
fn sorted(mut lines: Vec<Line>) -> Vec<Line> {
    lines.sort_by(|a, b| a.0.encode_utf16().cmp(b.0.encode_utf16()));
    lines
}

/// Cuts lines into shards; returns the first term of each.
fn cut(lines: &[Line], letter: char, files: &mut Vec<OutFile>) -> Vec<String> {
    let mut firsts = Vec::new();
    for run in runs(lines, SHARD, |(term, rest)| term.len() + rest.len() + 4) {
        let text: Vec<String> = run.iter().map(|(term, rest)| format!("{term} {rest}")).collect();
        files.push(script(&format!("{letter}-{}", firsts.len()), &json!(text)));
        firsts.push(run[0].0.clone());
    }
    firsts
}

/// Runs of items of about so many bytes. An item that would carry a run far beyond begins the next one.
fn runs<T>(items: &[T], bytes: usize, size: impl Fn(&T) -> usize) -> Vec<&[T]> {
    let mut out = Vec::new();
    let (mut start, mut held) = (0, 0);
    for (at, item) in items.iter().enumerate() {
        let more = size(item);
        if at > start && held + more > bytes {
            out.push(&items[start..at]);
            (start, held) = (at, 0);
        }
        held += more;
    }
    if start < items.len() {
        out.push(&items[start..]);
    }
    out
}

/// Words by length in characters: those of the short fields, and those found in prose only. Returns the lengths there are.
fn by_length(index: &Index, files: &mut Vec<OutFile>) -> Vec<usize> {
    let names: Vec<&String> = index.names.keys().collect();
    let body: Vec<&String> = index.body.keys().filter(|term| !index.names.contains_key(*term)).collect();
    let length = |term: &str| term.chars().count();
    let longest = names.iter().chain(&body).map(|term| length(term)).max().unwrap_or(0);
    let mut lengths = Vec::new();
    for n in 3..=longest {
        let of = |list: &[&String]| -> String {
            let fit = list.iter().filter(|term| is_word(term) && length(term) == n);
            fit.map(|term| term.as_str()).collect::<Vec<_>>().join(" ")
        };
        let both = [of(&names), of(&body)];
        if both.iter().any(|words| !words.is_empty()) {
            files.push(script(&format!("w-{n}"), &json!(both)));
            lengths.push(n);
        }
    }
    lengths
}

/// Documents in blocks: runs that share folder, note, kind and collection name them once. Returns the first document of each.
fn blocks(documents: &[Document], files: &mut Vec<OutFile>) -> Vec<usize> {
    let mut firsts = Vec::new();
    let mut first = 0;
    for run in runs(documents, BLOCK, |document| document.title.len() + document.note.len() / 2 + 24) {
        let mut groups: Vec<(Shared<'_>, Vec<&str>)> = Vec::new();
        for document in run {
            let (folder, tail) = split(document);
            let shared = (folder, document.note.as_str(), document.kind as usize, usize::from(document.demo));
            match groups.last_mut() {
                Some((last, items)) if *last == shared => items.extend([tail, document.title.as_str()]),
                _ => groups.push((shared, vec![tail, document.title.as_str()])),
            }
        }
        let groups: Vec<Value> = groups.into_iter().map(|((a, b, c, d), items)| json!([a, b, c, d, items])).collect();
        files.push(script(&format!("d-{}", firsts.len()), &json!(groups)));
        firsts.push(first);
        first += run.len();
    }
    firsts
}

/// Folder or page, note, kind, and whether it is invented.
type Shared<'d> = (&'d str, &'d str, usize, usize);

/// `issues/us/dime/` and `1916-d`; of a check the page and the anchor.
fn split(document: &Document) -> (&str, &str) {
    match document.url.split_once('#') {
        Some(parts) => parts,
        None => {
            let stem = document.url.strip_suffix(".html").unwrap_or(&document.url);
            stem.split_at(stem.rfind('/').map_or(0, |at| at + 1))
        }
    }
}

/// The logarithms of tantivy's weights that a script, which reckons in double precision and rounds, would get wrong:
/// number of documents of a term, and the right value.
fn odd_logarithms(documents: usize) -> Vec<(usize, f64)> {
    let odd = |n: &usize| {
        let ratio = ((documents - n) as f32 + 0.5) / (*n as f32 + 0.5);
        let (single, double) = ((1.0 + ratio).ln(), f64::from(1.0 + ratio).ln() as f32);
        (single != double).then_some((*n, f64::from(single)))
    };
    (1..=documents).filter_map(|n| odd(&n)).collect()
}

fn script(name: &str, data: &Value) -> OutFile {
    OutFile::script(&format!("search/{name}.js"), "shard", name, data)
}

#[cfg(test)]
mod tests {
    use super::runs;

    /// The reader in the page reckons lengths in this way instead of carrying tantivy's table.
    #[test]
    fn lengths_grow_as_the_reader_reckons_them() {
        for step in 0..=u8::MAX {
            let (octave, rest) = (u32::from(step.saturating_sub(40)) >> 3, u32::from(step.saturating_sub(40)) & 7);
            let length = if step < 40 { u32::from(step) } else { 24 + ((8 + rest) << (octave + 1)) };
            assert_eq!(length, tantivy::fieldnorm::FieldNormReader::id_to_fieldnorm(step), "step {step}");
        }
    }

    #[test]
    fn runs_keep_every_item_once() {
        let items = [5, 5, 20, 1, 1];
        let cut = runs(&items, 10, |n| *n);
        assert_eq!(cut, [&[5, 5][..], &[20], &[1, 1]]);
        assert!(runs(&[] as &[usize], 10, |n| *n).is_empty());
    }
}
