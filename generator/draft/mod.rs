//! Corpus, kind and id → the text of a new entry. It validates but for what only the curator can know: those places are
//! empty, the validator names them, and a comment beside each says what to put. Never touches the disk.
//!
//! In a draft, `# ` begins a sentence; `#` with no blank after it begins TOML that is left out until it is wanted.

mod family;
mod issue;
mod lists;
mod series;

use std::fmt;

use crate::corpus::Corpus;
use crate::diagnostic::closest;
use crate::entry::{EntryId, ID_RULE, Kind};

/// Why there is no draft, and what to type instead.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refusal {
    pub message: String,
    pub hint: String,
}

impl fmt::Display for Refusal {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{}\n  {}", self.message, self.hint)
    }
}

impl std::error::Error for Refusal {}

fn refuse<T>(message: impl Into<String>, hint: impl Into<String>) -> Result<T, Refusal> {
    Err(Refusal { message: message.into(), hint: hint.into() })
}

/// A kind by its word or its folder: `issue` or `issues`.
///
/// # Errors
/// A word that names no kind.
pub fn kind(typed: &str) -> Result<Kind, Refusal> {
    if let Some(kind) = Kind::named(typed) {
        return Ok(kind);
    }
    let words: Vec<&str> = Kind::ALL.iter().map(|kind| kind.word()).collect();
    let hint = match closest(typed, words.iter().copied()) {
        Some(near) => format!("did you mean {near}?"),
        None => format!("write one of: {}", words.join(", ")),
    };
    refuse(format!("`{typed}` is no kind of entry"), hint)
}

/// The whole id of a new entry of a kind: `us/dime/1921-d` and `issues/us/dime/1921-d` mean the same.
///
/// # Errors
/// What cannot be an id, or lacks the folders its kind has.
pub fn id(kind: Kind, typed: &str) -> Result<EntryId, Refusal> {
    let typed = typed.trim_end_matches(".toml");
    let below = typed.strip_prefix(kind.folder()).and_then(|rest| rest.strip_prefix('/')).unwrap_or(typed);
    let other = Kind::ALL.iter().find(|other| **other != kind && below.split('/').next() == Some(other.folder()));
    if let Some(other) = other {
        let message = format!("`{typed}` is in the folder of another kind");
        return refuse(message, format!("write tellmark draft {} {typed}", other.word()));
    }
    let Some(id) = EntryId::parse(&format!("{}/{below}", kind.folder())) else {
        return refuse(format!("`{typed}` cannot be the id of an entry"), format!("use {ID_RULE}"));
    };
    let (fewest, most, example) = match kind {
        Kind::Country => (1, 1, "us"),
        Kind::Series => (2, 8, "us/dime-winged-head-1916-1945"),
        Kind::Issue => (3, 8, "us/dime/1921-d"),
        Kind::Family => (2, 8, "us/dime-1916-d-transfer-dies"),
        Kind::Method => (1, 8, "struck-transfer-dies"),
        Kind::Alteration => (1, 8, "mark-added"),
        Kind::Term => (1, 1, "die-polish"),
    };
    if !(fewest..=most).contains(&below.split('/').count()) {
        let message = format!("`{typed}` is not how an entry of this kind is named");
        return refuse(message, format!("write it as tellmark draft {} {example}", kind.word()));
    }
    Ok(id)
}

/// The text of a new entry.
///
/// # Errors
/// An id that has an entry already, or that names what the corpus does not know: a country, a series, a date and mint.
pub fn draft(corpus: &Corpus, kind: Kind, id: &EntryId) -> Result<String, Refusal> {
    if let Some(entry) = corpus.get(id) {
        let shown = &corpus.sources.file(entry.file).shown;
        let hint = "edit that file; a later collection may replace it with a copy that says overrides = true";
        return refuse(format!("{id} has an entry already: {shown}"), hint);
    }
    let body = match kind {
        Kind::Country => lists::country(),
        Kind::Series => series::series(corpus, id)?,
        Kind::Issue => issue::issue(corpus, id)?,
        Kind::Family => family::family(corpus, id)?,
        Kind::Method => family::method(),
        Kind::Alteration => family::alteration(id),
        Kind::Term => lists::term(id),
    };
    Ok(format!(
        "# {id}, a draft. Fill in what is empty: `tellmark validate` names it until it is filled in.\n\
         # Take the # off what is known, and delete the rest with these comments.\n\n{body}"
    ))
}

/// What every statement ends with, left empty.
const BASIS: &str = "basis = []     # \"common-practice\" if known in the trade without a source; \
                     or [{ source = \"…\", at = \"p. …\", read = true }]\n";

const REVIEWED: &str = "#reviewed = 2026-11-25     # needed: the day you read this entry against its sources\n";

fn summary(what: &str) -> String {
    format!("[summary]\ntext  = ''''''     # one to three sentences: {what}\n{BASIS}\n")
}

/// Keys that several kinds may have, left out.
const OPTIONAL: &str = "\
#also_called = [\"…\"]     # as people type it
#related  = [\"…\"]     # ids of entries a reader may want next
#wanting  = ['''…''']     # what is still missing, such as a die study; shown to readers
";

const NOT_DECISIVE: &str = "\
# What looks suspicious and is not, or looks good and proves nothing.
#[[not_decisive]]
#text  = ''''''
#basis = []

";

const PHOTO: &str = "\
# Where a picture is to be seen; or, where rights allow, a file with its sha256, credit and licence.
#[[photo]]
#id    = \"…\"
#see   = { source = \"…\", at = \"plate …\", read = true }
#of    = \"…\"     # genuine or false
#pair  = \"…\"     # id of the photo to show beside it: one of each kind
#shows = [\"…\"]     # ids of checks or diagnostics above

";

const GENUINE: &str = "\
# A diagnostic of the true dies.
#[[genuine]]
#id    = \"…\"     # such as mark-position
#text  = ''''''
#where = { face = \"reverse\", clock = 6, reach = 0.8, about = true }     # clock 12 is the top; reach 0 the centre, 1 the rim
#basis = []

";

/// A look check and its two findings; `false_key` is the hypothesis that is not genuine.
fn check(false_key: &str) -> String {
    format!(
        "# One thing to look at, with the answers an examiner can give. Words of expect: always, usual, sometimes, seldom, never.\n\
         #[[check]]\n#id    = \"…\"     # such as mark-foot\n#ask   = ''''''     # as a question\n\
         #where = {{ landmark = \"mint-mark\" }}\n#aid   = {{ magnification = 10, light = \"low, from the side\" }}\n\
         #cause = \"…\"     # findings with one cause count once\n\
         #[[check.finding]]\n#say    = ''''''     # what a true piece shows\n\
         #expect = {{ genuine = \"usual\", {false_key} = \"seldom\" }}\n#basis  = []\n\
         #[[check.finding]]\n#say    = ''''''     # what a false piece shows\n\
         #expect = {{ genuine = \"never\", {false_key} = \"usual\" }}\n#basis  = []\n\n\
         # One thing to measure: weight, diameter, thickness, density, tilt, offset or die-axis.\n\
         #[[check]]\n#id      = \"…\"\n#measure = \"tilt\"\n\
         #against = \"base-line\"     # tilt: base-line or centre; offset: line or points; others: leave it out\n\
         #expect  = {{ genuine = {{ low = 0, high = 1 }}, {false_key} = {{ low = 2, high = 5 }} }}\n#basis   = []\n\n"
    )
}

/// A TOML basic string.
fn quoted(text: &str) -> String {
    let mut out = String::from("\"");
    for letter in text.chars() {
        match letter {
            '"' | '\\' => out.extend(['\\', letter]),
            control if control.is_control() => out.push_str(&format!("\\u{:04X}", control as u32)),
            other => out.push(other),
        }
    }
    out.push('"');
    out
}

/// Text as words of an id.
fn slug(text: &str) -> String {
    let words: Vec<String> = text
        .split(|letter: char| !letter.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .map(str::to_lowercase)
        .collect();
    words.join("-")
}

/// The word after the kind: the country of a series, an issue or a family.
fn country_of(id: &EntryId) -> &str {
    id.below_kind().split('/').next().unwrap_or("")
}

fn known_country(corpus: &Corpus, id: &EntryId) -> Result<(), Refusal> {
    let country = country_of(id);
    let known: Vec<&str> = corpus.of_kind(Kind::Country).map(|entry| entry.id.stem()).collect();
    if known.contains(&country) {
        return Ok(());
    }
    let near = closest(country, known.iter().copied()).map(|near| format!("did you mean {near}? ")).unwrap_or_default();
    let hint = format!(
        "{near}Countries on file: {}; for another one, first: tellmark draft country {country}",
        known.join(", ")
    );
    refuse(format!("no country `{country}` is on file"), hint)
}
