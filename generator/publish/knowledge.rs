//! `knowledge.json`: every entry as data, for other software.

use serde_json::{Map, Value, json};

use crate::corpus::{Corpus, title};
use crate::entry::Kind;
use crate::out_file::OutFile;
use crate::reckon::hosts::{self, AllHosts};

/// Every entry as it is written, with its title and page, and for issues the checks it has and the hosts worked out.
pub fn knowledge(corpus: &Corpus, all: &AllHosts<'_>) -> OutFile {
    let mut entries = Map::new();
    for entry in corpus.entries() {
        let written: Value = toml::from_str::<toml::Table>(&corpus.text_of(entry))
            .ok()
            .and_then(|table| serde_json::to_value(table).ok())
            .map_or(Value::Null, plain_dates);
        let mut record = json!({
            "kind": entry.kind().folder(),
            "collection": corpus.collection(entry).key,
            "title": title(corpus, entry),
            "page": crate::render::page_of(entry),
            "written": written,
        });
        if entry.kind() == Kind::Issue
            && let Some(view) = corpus.view(entry)
        {
            record["checks"] = view
                .checks
                .iter()
                .map(|placed| json!({ "id": placed.check.id.as_str(), "from": placed.from.id.as_str() }))
                .collect();
            record["hosts"] = all
                .get(&entry.id)
                .into_iter()
                .flatten()
                .map(|host| json!({ "row": host.label.to_string(), "changes": host.changes.iter().map(hosts::in_words).collect::<Vec<_>>() }))
                .collect();
        }
        entries.insert(entry.id.to_string(), record);
    }
    let collections: Vec<Value> = corpus
        .collections
        .iter()
        .map(|c| json!({ "key": c.key, "name": c.name, "real": c.real, "public": c.public, "licence": c.licence }))
        .collect();
    let whole = json!({ "made_by": "tellmark", "format": 1, "collections": collections, "entries": entries });
    OutFile::text("knowledge.json", format!("{whole}\n"))
}

/// The TOML reader wraps dates in a table of one private key; other software wants the date itself.
fn plain_dates(value: Value) -> Value {
    match value {
        Value::Object(map) if map.len() == 1 && map.keys().next().is_some_and(|key| key.starts_with("$__toml")) => {
            map.into_iter().next().map_or(Value::Null, |(_, date)| date)
        }
        Value::Object(map) => Value::Object(map.into_iter().map(|(key, value)| (key, plain_dates(value))).collect()),
        Value::Array(list) => Value::Array(list.into_iter().map(plain_dates).collect()),
        other => other,
    }
}
