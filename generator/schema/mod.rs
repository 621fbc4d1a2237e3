//! The entry format as tables → JSON Schema (2020-12), for editors. A second account of what `entry` reads: a test holds
//! the two to the same keys and words. Checks one file's shape only; what needs other entries stays with the rules.

mod kinds;
mod parts;

use std::collections::BTreeMap;

use serde_json::{Map, Value, json};

/// What has a schema: each kind of entry, then the two other files of a collection.
pub const KINDS: &[&str] =
    &["country", "series", "issue", "family", "method", "alteration", "term", "sources", "collection"];

/// A table of the format.
struct Table {
    /// Name among the definitions of a schema.
    name: &'static str,
    keys: &'static [Key],
    /// What the keys ask of each other: merged into the table's schema.
    also: fn() -> Value,
}

/// A key of a table.
struct Key {
    name: &'static str,
    is: Is,
    needed: bool,
    about: &'static str,
}

/// What a key's value is.
enum Is {
    /// A string that is not blank.
    Text,
    /// A string that may be empty.
    Blank,
    /// Strings that are not blank.
    Texts,
    /// One word of an id.
    Name,
    Yes,
    Whole,
    /// Above zero.
    Positive,
    /// From zero to this.
    UpTo(f64),
    Year,
    /// A first and a last year.
    Years,
    Day,
    Word(fn() -> Vec<&'static str>),
    Basis,
    One(&'static Table),
    Many(&'static Table),
    /// What no other says.
    Shape(fn() -> Value),
}

const fn key(name: &'static str, is: Is, about: &'static str) -> Key {
    Key { name, is, needed: false, about }
}

const fn needed(name: &'static str, is: Is, about: &'static str) -> Key {
    Key { name, is, needed: true, about }
}

fn nothing() -> Value {
    json!({})
}

/// The words of one of the reader's lists.
fn words<T>(list: &'static [(&'static str, T)]) -> Vec<&'static str> {
    list.iter().map(|(word, _)| *word).collect()
}

/// Every schema by its kind, in the order of [`KINDS`].
pub fn all() -> Value {
    Value::Object(KINDS.iter().filter_map(|kind| Some((kind.to_string(), of(kind)?))).collect())
}

/// The schema of one kind, by its word or, for entries, its folder.
pub fn of(kind: &str) -> Option<Value> {
    let word = crate::entry::Kind::named(kind).map_or(kind, |kind| kind.word());
    let (title, groups) = kinds::of(word)?;
    let mut definitions = BTreeMap::new();
    let mut schema = Map::new();
    schema.insert("$schema".into(), json!("https://json-schema.org/draft/2020-12/schema"));
    schema.insert("title".into(), json!(title));
    if word == "sources" {
        define(&kinds::PUBLISHED, &mut definitions);
        schema.insert("type".into(), json!("object"));
        schema.insert("propertyNames".into(), json!({ "pattern": NAME }));
        schema.insert("additionalProperties".into(), reference(&kinds::PUBLISHED));
    } else {
        let keys: Vec<&Key> = groups.iter().flat_map(|group| group.iter()).collect();
        schema.extend(object(&keys, nothing(), &mut definitions));
    }
    if !definitions.is_empty() {
        schema.insert("$defs".into(), Value::Object(definitions.into_iter().collect()));
    }
    Some(Value::Object(schema))
}

type Definitions = BTreeMap<String, Value>;

const NAME: &str = "^(?=.{1,64}$)[a-z0-9]+(-[a-z0-9]+)*$";

fn object(keys: &[&Key], also: Value, definitions: &mut Definitions) -> Map<String, Value> {
    let mut properties = Map::new();
    for key in keys {
        let mut value = value(&key.is, definitions);
        if let Value::Object(map) = &mut value {
            map.insert("description".into(), json!(key.about));
        }
        properties.insert(key.name.into(), value);
    }
    let needed: Vec<&str> = keys.iter().filter(|key| key.needed).map(|key| key.name).collect();
    let mut out = Map::new();
    out.insert("type".into(), json!("object"));
    out.insert("properties".into(), Value::Object(properties));
    out.insert("required".into(), json!(needed));
    out.insert("additionalProperties".into(), json!(false));
    if let Value::Object(also) = also {
        out.extend(also);
    }
    out
}

/// Adds a table and all it holds to the definitions, once.
fn define(table: &Table, definitions: &mut Definitions) {
    if definitions.contains_key(table.name) {
        return;
    }
    // Its place is taken first: no table holds itself, but several hold the same one.
    definitions.insert(table.name.into(), Value::Null);
    let keys: Vec<&Key> = table.keys.iter().collect();
    let schema = object(&keys, (table.also)(), definitions);
    definitions.insert(table.name.into(), Value::Object(schema));
}

fn reference(table: &Table) -> Value {
    json!({ "$ref": format!("#/$defs/{}", table.name) })
}

fn value(is: &Is, definitions: &mut Definitions) -> Value {
    let text = || json!({ "type": "string", "pattern": "\\S" });
    let year = || json!({ "type": "integer", "minimum": 1000, "maximum": 2100 });
    match is {
        Is::Text => text(),
        Is::Blank => json!({ "type": "string" }),
        Is::Texts => json!({ "type": "array", "items": text() }),
        Is::Name => json!({ "type": "string", "pattern": NAME }),
        Is::Yes => json!({ "type": "boolean" }),
        Is::Whole => json!({ "type": "integer" }),
        Is::Positive => json!({ "type": "number", "exclusiveMinimum": 0 }),
        Is::UpTo(most) => json!({ "type": "number", "minimum": 0, "maximum": most }),
        Is::Year => year(),
        Is::Years => json!({ "type": "array", "items": year(), "minItems": 2, "maxItems": 2 }),
        Is::Day => json!({ "type": "string", "format": "date" }),
        Is::Word(list) => json!({ "enum": list() }),
        Is::Basis => {
            define(&parts::CITATION, definitions);
            definitions.entry("basis".into()).or_insert_with(parts::basis);
            json!({ "$ref": "#/$defs/basis" })
        }
        Is::One(table) => {
            define(table, definitions);
            reference(table)
        }
        Is::Many(table) => {
            define(table, definitions);
            json!({ "type": "array", "items": reference(table) })
        }
        Is::Shape(shape) => shape(),
    }
}
