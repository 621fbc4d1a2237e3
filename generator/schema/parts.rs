//! Tables that several kinds of entry share.

use serde_json::{Value, json};

use super::{Is, Key, Table, key, needed, nothing, reference, words};
use crate::entry::{
    DIGITS, DRAWINGS, DrawingKind, LENGTH_UNITS, MOST_POINTS, NumberRule, OFFSET_AGAINST, QUANTITIES, Quantity, SIDES,
    TILT_AGAINST,
};

pub const CITATION: Table = Table {
    name: "citation",
    keys: &[
        needed("source", Is::Text, "A key of the collection's sources.toml."),
        needed("at", Is::Text, "Where in the source: a page, section, table or plate."),
        needed("read", Is::Yes, "Whether whoever wrote the statement read that place, or cites from memory."),
    ],
    also: nothing,
};

/// `"common-practice"`, or citations.
pub fn basis() -> Value {
    json!({ "oneOf": [
        { "const": "common-practice" },
        { "type": "array", "minItems": 1, "items": reference(&CITATION) },
    ] })
}

const TEXT: Key = needed("text", Is::Text, "The statement, as CommonMark without HTML.");
const WHERE: Key = key("where", Is::One(&PLACE), "Where on the coin.");
const BASIS: Key = needed("basis", Is::Basis, "What the statement stands on.");
const ID: Key = needed("id", Is::Name, "A name within the entry: lower-case words joined by hyphens.");
const AID: Key = key("aid", Is::One(&AID_TABLE), "How to look.");
const FIGURE: Key = key("figure", Is::One(&FIGURE_TABLE), "A small drawing of the true and the false form.");

/// A sentence and its basis.
pub const STATEMENT: Table = Table { name: "statement", keys: &[TEXT, WHERE, BASIS], also: nothing };

/// A statement with a name.
pub const SIGN: Table = Table { name: "sign", keys: &[ID, TEXT, WHERE, BASIS, AID, FIGURE], also: nothing };

pub const PLACE: Table = Table {
    name: "place",
    keys: &[
        key("landmark", Is::Text, "date, mint-mark, or a landmark that the series draws."),
        key("face", Is::Word(|| vec!["obverse", "reverse", "edge"]), "A face, or the edge."),
        key("clock", Is::UpTo(12.0), "Hour on the dial, 12 at the top; of an arc, where it begins."),
        key("to", Is::UpTo(12.0), "Where an arc ends, clockwise."),
        key("reach", Is::UpTo(1.0), "From 0, the centre, to 1, the rim."),
        key("about", Is::Yes, "The place is only roughly known."),
        key("path", Is::Shape(|| points(2)), "A line, such as a crack: clock and reach of its points."),
        key("area", Is::Shape(|| points(3)), "A patch within a line: clock and reach of its corners."),
    ],
    also: || {
        let alone = |other: &str| {
            json!({
                "required": ["face"],
                "properties": {
                    "face": { "not": { "const": "edge" } }, "clock": false, "to": false, "reach": false, other: false,
                },
            })
        };
        json!({
            "oneOf": [{ "required": ["face"] }, { "required": ["landmark"] }],
            "dependentRequired": { "clock": ["face", "reach"], "reach": ["face", "clock"], "to": ["clock"] },
            "dependentSchemas": { "path": alone("area"), "area": alone("path") },
        })
    },
};

/// So many points or more, each a clock hour and a reach.
fn points(least: usize) -> Value {
    json!({
        "type": "array", "minItems": least, "maxItems": MOST_POINTS,
        "items": {
            "type": "array", "minItems": 2, "items": false,
            "prefixItems": [
                { "type": "number", "minimum": 0, "maximum": 12 }, { "type": "number", "minimum": 0, "maximum": 1 },
            ],
        },
    })
}

const AID_TABLE: Table = Table {
    name: "aid",
    keys: &[
        key("magnification", Is::Positive, "How many times."),
        key("light", Is::Text, "Such as: low, from the side."),
        key("tool", Is::Text, "Such as: calliper."),
    ],
    also: nothing,
};

const FIGURE_TABLE: Table = Table {
    name: "figure",
    keys: &[
        needed("kind", Is::Word(|| words(DRAWINGS)), "What is drawn."),
        needed("genuine", Is::Shape(nothing), "The form a true piece shows, or a table of its form and its numbers."),
        needed("false", Is::Shape(nothing), "The form a false piece shows, or a table of its form and its numbers."),
        key("unit", Is::Word(|| words(LENGTH_UNITS)), "Of a profile: millimetres, or parts of the true height."),
        key("upper", Is::Word(|| DIGITS.to_vec()), "Of an overdate: the digit above."),
        key("under", Is::Word(|| DIGITS.to_vec()), "Of an overdate: the digit below."),
        key("mark", Is::Shape(letters), "Of an alignment: the mark."),
        key("against", Is::Word(|| words(TILT_AGAINST)), "Of an alignment: what the mark's tilt is against."),
        key("letter", Is::Shape(letters), "Of an alignment against a base line: the letter beside it."),
        key("stroke", Is::Shape(slant), "Of an alignment: angle of the mark's stroke against its foot, clockwise."),
    ],
    also: || {
        let all: Vec<Value> = DRAWINGS.iter().map(|(word, kind)| of_kind(word, *kind)).collect();
        let alone = json!({ "properties": { "meets": false, "offset": false } });
        json!({
            "allOf": all,
            "if": { "properties": { "against": { "const": "base-line" } }, "required": ["against"] },
            "then": { "required": ["letter"] },
            "else": { "if": { "required": ["against"] }, "then": {
                "properties": { "letter": false, "stroke": false, "genuine": alone, "false": alone },
            } },
        })
    },
};

fn letters() -> Value {
    json!({ "type": "string", "pattern": "^\\s*\\S.{0,2}\\s*$" })
}

fn slant() -> Value {
    json!({ "type": "number", "minimum": -60, "maximum": 60 })
}

/// What a kind of figure asks of its keys and forms.
fn of_kind(word: &str, kind: DrawingKind) -> Value {
    let needed: Vec<&str> = kind.keys().iter().filter(|(_, needed)| *needed).map(|(key, _)| *key).collect();
    let side = form(kind);
    let mut properties = json!({ "genuine": side, "false": side });
    for key in ["unit", "upper", "under", "mark", "letter", "against", "stroke"] {
        if !kind.keys().iter().any(|(own, _)| *own == key) {
            properties[key] = json!(false);
        }
    }
    json!({
        "if": { "properties": { "kind": { "const": word } }, "required": ["kind"] },
        "then": { "required": needed, "properties": properties },
    })
}

/// A side of a figure: a word, or a table with numbers.
fn form(kind: DrawingKind) -> Value {
    let forms = json!({ "enum": kind.forms() });
    let mut properties = serde_json::Map::new();
    let mut rules = Vec::new();
    if !kind.forms().is_empty() {
        properties.insert("form".into(), forms.clone());
    }
    for NumberRule { key, low, high, whole, forms, about, .. } in kind.numbers() {
        let number = if *whole { "integer" } else { "number" };
        properties
            .insert((*key).into(), json!({ "type": number, "minimum": low, "maximum": high, "description": about }));
        if !kind.forms().is_empty() {
            rules.push(json!({ "if": { "required": [key] }, "then": { "properties": { "form": { "enum": forms } } } }));
        }
    }
    let needed = match kind {
        DrawingKind::Alignment => json!([{ "required": ["tilt"] }]),
        DrawingKind::Axis => json!([{ "required": ["form"] }, { "required": ["turn"] }]),
        _ => json!([{ "required": ["form"] }]),
    };
    let mut table =
        json!({ "type": "object", "properties": properties, "anyOf": needed, "additionalProperties": false });
    if !rules.is_empty() {
        table["allOf"] = json!(rules);
    }
    if kind.forms().is_empty() { table } else { json!({ "oneOf": [forms, table] }) }
}

const HYPOTHESIS: &str = "^(genuine|self|(family|alteration):.+)$";

/// A question with its answers, or a measurement.
pub const CHECK: Table = Table {
    name: "check",
    keys: &[
        ID,
        key("ask", Is::Text, "What to look at, as a question."),
        key("measure", Is::Word(|| words(QUANTITIES)), "What to measure, instead of a question with findings."),
        key("against", Is::Word(against), "What a tilt or an offset is measured against."),
        key("expect", Is::Shape(ranges), "Of a measurement: what each hypothesis gives."),
        key("basis", Is::Basis, "Of a measurement: what its ranges stand on."),
        key("finding", Is::Many(&FINDING), "The answers an examiner can give."),
        WHERE,
        AID,
        key(
            "cause",
            Is::Text,
            "Findings of checks with one cause count once; of a measurement that says nothing else, its quantity.",
        ),
        FIGURE,
        key("decisive", Is::Yes, "An opinion should not be given without it."),
        key("years", Is::Years, "In a series: only issues of these years."),
        key("mints", Is::Texts, "In a series: only issues of these mints."),
    ],
    also: || {
        json!({
            "if": { "required": ["measure"] },
            "then": { "required": ["basis"], "properties": { "finding": false } },
            "else": {
                "required": ["ask", "finding"],
                "properties": { "against": false, "expect": false, "basis": false, "finding": { "minItems": 2 } },
            },
            "dependentSchemas": { "measure": {
                "allOf": QUANTITIES.iter().map(|(word, quantity)| measured(word, *quantity)).collect::<Vec<_>>(),
            } },
        })
    },
};

fn against() -> Vec<&'static str> {
    words(TILT_AGAINST).into_iter().chain(words(OFFSET_AGAINST)).collect()
}

/// What a quantity asks of `against`.
fn measured(word: &str, quantity: Quantity) -> Value {
    let then = match quantity.against() {
        [] => json!({ "properties": { "against": false } }),
        known => json!({ "required": ["against"], "properties": { "against": { "enum": words(known) } } }),
    };
    json!({ "if": { "properties": { "measure": { "const": word } }, "required": ["measure"] }, "then": then })
}

const FINDING: Table = Table {
    name: "finding",
    keys: &[
        needed("say", Is::Text, "What is seen."),
        key("expect", Is::Shape(expectations), "How often each hypothesis shows it."),
        BASIS,
    ],
    also: nothing,
};

fn expectations() -> Value {
    json!({
        "type": "object",
        "propertyNames": { "pattern": HYPOTHESIS },
        "additionalProperties": { "oneOf": [
            { "enum": ["always", "usual", "sometimes", "seldom", "never"] },
            {
                "type": "array", "prefixItems": [{ "type": "integer", "minimum": 0 }, { "type": "integer", "minimum": 1 }],
                "items": false, "minItems": 2,
            },
        ] },
    })
}

fn ranges() -> Value {
    let number = json!({ "type": "number" });
    json!({
        "type": "object",
        "propertyNames": { "pattern": HYPOTHESIS },
        "additionalProperties": { "oneOf": [
            {
                "type": "object", "properties": { "low": number, "high": number },
                "required": ["low", "high"], "additionalProperties": false,
            },
            {
                "type": "object", "properties": { "mean": number, "sd": { "type": "number", "exclusiveMinimum": 0 } },
                "required": ["mean", "sd"], "additionalProperties": false,
            },
        ] },
    })
}

pub const PHOTO: Table = Table {
    name: "photo",
    keys: &[
        ID,
        key("file", Is::Text, "A picture inside the collection."),
        key("sha256", Is::Shape(|| json!({ "type": "string", "pattern": "^[0-9a-f]{64}$" })), "Of the file."),
        key(
            "private",
            Is::Yes,
            "The file may not be published: it is in a folder given with --photos, and only a private site shows it.",
        ),
        key("see", Is::One(&CITATION), "Where a picture is to be seen."),
        key("of", Is::Word(|| words(SIDES)), "What kind of piece it shows."),
        key("pair", Is::Name, "The photo it is shown beside: one of a true piece, one of a false one."),
        key("shows", Is::Texts, "Ids of checks or diagnostics of this entry."),
        key("caption", Is::Text, "What is to be seen in it."),
        key("magnification", Is::Positive, "How many times."),
        key("credit", Is::Text, "Who made it."),
        key("licence", Is::Text, "Such as CC0-1.0."),
    ],
    also: || {
        json!({
            "anyOf": [{ "required": ["file"] }, { "required": ["see"] }],
            "dependentRequired": { "file": ["sha256", "credit"], "private": ["file"] },
            "if": { "required": ["file"], "properties": { "private": { "const": false } } },
            "then": { "required": ["licence"] },
        })
    },
};

pub const OVERRIDES: &[Key] =
    &[key("overrides", Is::Yes, "This file takes the place of the entry of the same id in an earlier collection.")];

/// Keys of series, issues, families, methods and alterations.
pub const COMMON: &[Key] = &[
    needed("summary", Is::One(&STATEMENT), "One to three sentences under the title."),
    key("also_called", Is::Texts, "As people type it: symbols, nicknames, other spellings."),
    needed("reviewed", Is::Day, "The day of the last reading against the sources."),
    key("related", Is::Texts, "Ids of entries a reader may want next."),
    key("wanting", Is::Texts, "What is still missing, such as a die study."),
    key("not_decisive", Is::Many(&STATEMENT), "What looks suspicious and is not, or looks good and proves nothing."),
    key("photo", Is::Many(&PHOTO), "Where pictures are to be seen."),
];
