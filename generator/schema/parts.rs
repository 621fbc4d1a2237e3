//! Tables that several kinds of entry share.

use serde_json::{Value, json};

use super::{Is, Key, Table, key, needed, nothing, reference, words};
use crate::entry::{DrawingKind, QUANTITIES, SIDES};

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
    ],
    also: || {
        json!({
            "oneOf": [{ "required": ["face"] }, { "required": ["landmark"] }],
            "dependentRequired": { "clock": ["face", "reach"], "reach": ["face", "clock"], "to": ["clock"] },
        })
    },
};

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
        needed("kind", Is::Word(|| DRAWINGS.iter().map(|(word, _)| *word).collect()), "What is drawn."),
        needed("genuine", Is::Text, "The form a true piece shows."),
        needed("false", Is::Text, "The form a false piece shows."),
    ],
    also: || {
        let forms = DRAWINGS.iter().map(|(word, kind)| {
            let forms = json!({ "enum": kind.forms() });
            json!({
                "if": { "properties": { "kind": { "const": word } }, "required": ["kind"] },
                "then": { "properties": { "genuine": forms, "false": forms } },
            })
        });
        json!({ "allOf": forms.collect::<Vec<_>>() })
    },
};

const DRAWINGS: &[(&str, DrawingKind)] = &[
    ("profile", DrawingKind::Profile),
    ("digit", DrawingKind::Digit),
    ("edge", DrawingKind::Edge),
    ("surface", DrawingKind::Surface),
    ("axis", DrawingKind::Axis),
];

const HYPOTHESIS: &str = "^(genuine|self|(family|alteration):.+)$";

/// A question with its answers, or a measurement.
pub const CHECK: Table = Table {
    name: "check",
    keys: &[
        ID,
        key("ask", Is::Text, "What to look at, as a question."),
        key("measure", Is::Word(|| words(QUANTITIES)), "What to measure, instead of a question with findings."),
        key("expect", Is::Shape(ranges), "Of a measurement: what each hypothesis gives."),
        key("basis", Is::Basis, "Of a measurement: what its ranges stand on."),
        key("finding", Is::Many(&FINDING), "The answers an examiner can give."),
        WHERE,
        AID,
        key("cause", Is::Text, "Findings of checks with one cause count once."),
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
                "properties": { "expect": false, "basis": false, "finding": { "minItems": 2 } },
            },
        })
    },
};

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
