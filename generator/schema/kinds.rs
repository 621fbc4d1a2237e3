//! The tables of each kind of entry.

use serde_json::{Value, json};

use super::parts::{CHECK, COMMON, OVERRIDES, PLACE, SIGN, STATEMENT};
use super::{Is, Key, Table, key, needed, nothing, words};
use crate::entry::{METHOD_GROUPS, OPERATIONS, SOURCE_KINDS, TRAITS, WEIGHT_UNITS};
use crate::reckon::alloy::ELEMENTS;

/// Title and groups of top-level keys.
pub fn of(word: &str) -> Option<(&'static str, &'static [&'static [Key]])> {
    Some(match word {
        "country" => ("A country and its mints", &[OVERRIDES, COUNTRY]),
        "series" => ("A series: one denomination under one design", &[OVERRIDES, COMMON, SERIES]),
        "issue" => ("An issue: one date and mint of a series", &[OVERRIDES, COMMON, ISSUE]),
        "family" => ("A family of forged pieces of common origin", &[OVERRIDES, COMMON, FAMILY]),
        "method" => ("A method of making false pieces", &[OVERRIDES, COMMON, METHOD, PRACTICE]),
        "alteration" => ("A way genuine coins are changed", &[OVERRIDES, COMMON, ALTERATION, PRACTICE]),
        "term" => ("A glossary term", &[OVERRIDES, TERM]),
        "sources" => ("The published sources of a collection, by key", &[]),
        "collection" => ("A collection of entries", &[COLLECTION]),
        _ => return None,
    })
}

const NAME: Key = needed("name", Is::Text, "As a heading has it.");
const BASIS: Key = needed("basis", Is::Basis, "What this stands on.");
const TEXT: Key = needed("text", Is::Text, "The statement, as CommonMark without HTML.");
const REMARK: Key = key("text", Is::Text, "A remark, as CommonMark without HTML.");
const WHERE: Key = key("where", Is::One(&PLACE), "Where on the coin.");
const FROM: Key = needed("from", Is::Year, "First year.");
const TO: Key = needed("to", Is::Year, "Last year.");
const CHECKS: Key = key("check", Is::Many(&CHECK), "One thing to look at or measure, with its possible findings.");
const GENUINE: Key = key("genuine", Is::Many(&SIGN), "A diagnostic of the true dies.");
const SIGNS: Key = key("sign", Is::Many(&SIGN), "A tell-tale of these pieces.");

const COUNTRY: &[Key] = &[
    NAME,
    key("order", Is::Whole, "Place on the front page."),
    key("mint", Is::Many(&MINT), "A mint, by the mark it put on coins."),
];

const MINT: Table = Table {
    name: "mint",
    keys: &[
        needed("mark", Is::Blank, "As struck; empty for the mint that used none."),
        needed("city", Is::Text, "Where it stood."),
        needed("years", Is::Shape(periods), "Periods of coining; an open one has no end: [[1870, 1885], [1889]]."),
        BASIS,
    ],
    also: nothing,
};

fn periods() -> Value {
    json!({
        "type": "array",
        "items": { "type": "array", "items": { "type": "integer" }, "minItems": 1, "maxItems": 2 },
    })
}

const SERIES: &[Key] = &[
    NAME,
    needed("country", Is::Text, "The country's entry: us."),
    needed("denomination", Is::Text, "As it is spoken of: dime."),
    needed("years", Is::Years, "First and last year of the design."),
    key("incomplete", Is::Text, "Why the date and mint list is not complete, if it is not."),
    needed("digits", Is::One(&DIGITS), "How the date is written, and how it got onto the die."),
    key("standard", Is::Many(&STANDARD), "What the law asks of one piece, by period."),
    key("mark_place", Is::Many(&MARK_PLACE), "Where the mint mark stands, by period."),
    needed("struck", Is::Many(&STRUCK), "The complete date, mint and mintage list; one block for each basis."),
    key("landmark", Is::Many(&LANDMARK), "What is drawn faintly in every disc."),
    key("change", Is::Many(&CHANGE), "A change of design or of making within the series."),
    GENUINE,
    CHECKS,
];

const DIGITS: Table = Table {
    name: "digits",
    keys: &[
        key("shown", Is::Word(|| vec!["western", "none"]), "Western digits that stand for the year, or not."),
        key("style", Is::Word(|| vec!["modern", "old-style"]), "Old-style numerals are of unequal height."),
        key(
            "entry",
            Is::Word(|| vec!["hub", "logotype", "punches", "unknown"]),
            "In the hub, one punch for the whole date, or digit by digit.",
        ),
        BASIS,
    ],
    also: nothing,
};

const STANDARD: Table = Table {
    name: "standard",
    keys: &[
        FROM,
        TO,
        key("weight", Is::One(&WEIGHT), "As the law states it."),
        key("deviation", Is::One(&DEVIATION), "Permitted on one piece."),
        key("alloy", Is::Shape(alloy), "Parts per thousand by chemical symbol, to a sum of 1000."),
        key("diameter", Is::Positive, "mm"),
        key("thickness", Is::Positive, "mm"),
        key("edge", Is::Text, "Such as reeded."),
        key("axis", Is::Word(|| vec!["coin", "medal"]), "How the two faces are turned to each other."),
        REMARK,
        BASIS,
        key("basis_of", Is::Shape(basis_of), "Bases of single fields that stand on something else."),
        key("also", Is::Many(&ALSO), "Another published figure that differs."),
    ],
    also: nothing,
};

fn alloy() -> Value {
    let symbols: Vec<&str> = ELEMENTS.iter().map(|element| element.symbol).collect();
    json!({
        "type": "object",
        "propertyNames": { "enum": symbols },
        "additionalProperties": { "type": "number", "exclusiveMinimum": 0, "maximum": 1000 },
    })
}

fn basis_of() -> Value {
    let fields = ["weight", "deviation", "alloy", "diameter", "thickness", "edge", "axis"];
    json!({
        "type": "object",
        "propertyNames": { "enum": fields },
        "additionalProperties": { "$ref": "#/$defs/basis" },
    })
}

const WEIGHT: Table = Table {
    name: "weight",
    keys: &[
        needed("unit", Is::Word(|| words(WEIGHT_UNITS)), "The unit of the law."),
        key("value", Is::Positive, "So many units."),
        key("pieces", Is::Positive, "So many pieces…"),
        key("to", Is::Positive, "…to so many units."),
    ],
    also: || {
        json!({ "oneOf": [
            { "required": ["value"], "properties": { "pieces": false, "to": false } },
            { "required": ["pieces", "to"], "properties": { "value": false } },
        ] })
    },
};

const DEVIATION: Table = Table {
    name: "deviation",
    keys: &[
        key("value", Is::Positive, "So many units."),
        key("unit", Is::Word(|| words(WEIGHT_UNITS)), "The unit of the law."),
        key("per_mille", Is::Positive, "A share of the weight."),
    ],
    also: || {
        json!({ "oneOf": [
            { "required": ["value", "unit"], "properties": { "per_mille": false } },
            { "required": ["per_mille"], "properties": { "value": false, "unit": false } },
        ] })
    },
};

const ALSO: Table = Table {
    name: "also",
    keys: &[TEXT, WHERE, BASIS, key("weight", Is::One(&WEIGHT), "The other weight.")],
    also: nothing,
};

const MARK_PLACE: Table = Table { name: "mark_place", keys: &[FROM, TO, TEXT, WHERE, BASIS], also: nothing };

const STRUCK: Table = Table {
    name: "struck",
    keys: &[BASIS, needed("rows", Is::Shape(rows), "Year, mint mark, pieces (0: not known), variety, remark.")],
    also: nothing,
};

fn rows() -> Value {
    let year = json!({ "type": "integer", "minimum": 1000, "maximum": 2100 });
    let text = json!({ "type": "string" });
    json!({
        "type": "array",
        "items": {
            "type": "array",
            "prefixItems": [year, text, { "type": "integer", "minimum": 0 }, text, text],
            "items": false,
            "minItems": 3,
        },
    })
}

const LANDMARK: Table = Table {
    name: "landmark",
    keys: &[
        needed("id", Is::Name, "date and mint-mark are known to all inherited checks."),
        needed("face", Is::Word(|| vec!["obverse", "reverse"]), "On which face."),
        needed("kind", Is::Word(|| vec!["text", "arc", "path"]), "Level text, text along the rim, or a drawn line."),
        key("text", Is::Text, "The letters."),
        key("clock", Is::UpTo(12.0), "Where it stands or, of an arc, begins."),
        key("to", Is::UpTo(12.0), "Where an arc ends, clockwise."),
        key("reach", Is::UpTo(1.0), "From 0, the centre, to 1, the rim."),
        key("size", Is::UpTo(1.0), "Letter height as a fraction of the radius."),
        key("d", Is::Text, "SVG path: centre 0,0, radius 1, right and down positive."),
    ],
    also: || {
        let needs = |kind: &str, keys: &[&str]| {
            json!({
                "if": { "properties": { "kind": { "const": kind } }, "required": ["kind"] },
                "then": { "required": keys },
            })
        };
        json!({ "allOf": [
            needs("text", &["text", "clock", "reach"]),
            needs("arc", &["text", "clock", "to", "reach"]),
            needs("path", &["d"]),
        ] })
    },
};

const CHANGE: Table = Table {
    name: "change",
    keys: &[needed("year", Is::Year, "The first year of the new form."), TEXT, WHERE, BASIS],
    also: nothing,
};

const ISSUE: &[Key] = &[
    needed("series", Is::Text, "The series' entry: us/dime-winged-head-1916-1945."),
    needed("year", Is::Year, "As in the series' list."),
    key("mint", Is::Blank, "The mint mark as in the series' list; empty if none."),
    key("variety", Is::Blank, "As in the series' list."),
    key("dated", Is::Text, "What the coin itself shows, if not the year."),
    key("mintage", Is::One(&MINTAGE), "More of the number struck than the series' list says."),
    GENUINE,
    key("forgery", Is::Many(&FORGERY), "A forgery family known on this issue."),
    key("alteration", Is::Many(&ALTERED), "An alteration known on this issue, with its hosts."),
    CHECKS,
    key("unseparated", Is::Many(&UNSEPARATED), "Two hypotheses that no check here tells apart, and why that stands."),
];

const MINTAGE: Table = Table {
    name: "mintage",
    keys: &[
        key("pieces", Is::Shape(|| json!({ "type": "integer", "minimum": 1 })), "The number struck."),
        REMARK,
        BASIS,
    ],
    also: || json!({ "anyOf": [{ "required": ["pieces"] }, { "required": ["text"] }] }),
};

const FORGERY: Table =
    Table { name: "forgery", keys: &[needed("family", Is::Text, "The family's entry."), TEXT, BASIS], also: nothing };

const ALTERED: Table = Table {
    name: "altered",
    keys: &[
        needed("pattern", Is::Text, "The alteration's entry."),
        key("hosts", Is::Texts, "Rows of this series (1916-S), issues on file, or rows of another series."),
        REMARK,
        BASIS,
    ],
    also: nothing,
};

const UNSEPARATED: Table = Table {
    name: "unseparated",
    keys: &[
        needed("between", Is::Shape(pair), "The two hypotheses: family:ID, alteration:ID."),
        needed("why", Is::Text, "Why that stands."),
    ],
    also: nothing,
};

fn pair() -> Value {
    json!({ "type": "array", "items": { "type": "string" }, "minItems": 2, "maxItems": 2 })
}

const FAMILY: &[Key] = &[
    NAME,
    needed(
        "methods",
        Is::Shape(|| json!({ "type": "array", "items": { "type": "string", "pattern": "\\S" }, "minItems": 1 })),
        "How they were made: entries of methods.",
    ),
    key("series", Is::Texts, "The series it is met in."),
    key("period", Is::Text, "When it was made, in words."),
    key("trait", Is::Many(&TRAIT), "A row of the comparison tables."),
    SIGNS,
    CHECKS,
];

const TRAIT: Table = Table {
    name: "trait",
    keys: &[needed("of", Is::Word(|| words(TRAITS)), "What it is about."), TEXT, WHERE, BASIS],
    also: nothing,
};

const METHOD: &[Key] = &[needed("group", Is::Word(|| words(METHOD_GROUPS)), "How such pieces come about.")];

const ALTERATION: &[Key] =
    &[needed("operation", Is::Word(|| words(OPERATIONS)), "What is done; decides which hosts are worked out.")];

const PRACTICE: &[Key] = &[
    NAME,
    key("made", Is::Many(&STATEMENT), "How it is done, as far as an examiner needs to recognise it."),
    SIGNS,
    key("mimic", Is::Many(&STATEMENT), "What looks like it and is innocent."),
    key("caution", Is::Many(&STATEMENT), "Where looking could do harm."),
    CHECKS,
];

const TERM: &[Key] = &[
    needed("term", Is::Text, "As prose uses it."),
    key("forms", Is::Texts, "Plurals and other spellings that are linked too."),
    key("see", Is::Texts, "Related terms."),
    needed("meaning", Is::One(&STATEMENT), "What it means."),
];

pub const PUBLISHED: Table = Table {
    name: "published",
    keys: &[
        needed("title", Is::Text, "As it is cited."),
        key("author", Is::Text, "Who wrote it."),
        key("year", Is::Whole, "When it appeared."),
        needed("kind", Is::Word(|| words(SOURCE_KINDS)), "What it is."),
        key("seen_in", Is::Text, "The reprint or transcription in which it was read."),
        key("address", Is::Text, "Printed, never followed."),
        key("note", Is::Text, "Anything a reader should know of it."),
    ],
    also: nothing,
};

const COLLECTION: &[Key] = &[
    NAME,
    needed("real", Is::Yes, "False: invented entries, stamped as such on every page."),
    needed("public", Is::Yes, "False: a house's own; nothing public may refer to it."),
    key("about", Is::Text, "One paragraph for readers."),
    key("licence", Is::Text, "Under which its entries are given."),
];
