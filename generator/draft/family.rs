//! Drafts of forgery families, methods and alterations.

use super::{
    BASIS, NOT_DECISIVE, OPTIONAL, PHOTO, REVIEWED, Refusal, check, country_of, known_country, quoted, summary,
};
use crate::corpus::Corpus;
use crate::entry::{EntryId, Kind, METHOD_GROUPS, OPERATIONS, TRAITS};

pub fn family(corpus: &Corpus, id: &EntryId) -> Result<String, Refusal> {
    known_country(corpus, id)?;
    let methods: Vec<&str> = corpus.of_kind(Kind::Method).map(|entry| entry.id.stem()).collect();
    let prefix = format!("{}/", country_of(id));
    let series: Vec<String> = corpus
        .of_kind(Kind::Series)
        .map(|entry| entry.id.below_kind())
        .filter(|series| series.starts_with(&prefix))
        .map(quoted)
        .collect();
    let kinds: Vec<&str> = TRAITS.iter().map(|(word, _)| *word).collect();
    Ok(format!(
        "name     = \"\"     # as the trade calls these pieces\n\
         methods  = []     # how they were made, from: {}\n#series   = [{}]     # keep those it is met in\n\
         #period   = \"…\"     # when they were made, in words\n{REVIEWED}{OPTIONAL}\n{}\
         # A row of the comparison tables.\n#[[trait]]\n#of    = \"metal\"     # one of: {}\n#text  = ''''''\n#basis = []\n\n\
         {SIGN}{}{NOT_DECISIVE}{PHOTO}",
        methods.join(", "),
        series.join(", "),
        summary("what ties these pieces together, and how they are told"),
        kinds.join(", "),
        check("self"),
    ))
}

pub fn method() -> String {
    let groups: Vec<&str> = METHOD_GROUPS.iter().map(|(word, _)| *word).collect();
    practice("group    ", "", &groups, "how such pieces are made, as an examiner meets them")
}

/// The operation is that of the id, where the id begins with one.
pub fn alteration(id: &EntryId) -> String {
    let operations: Vec<&str> = OPERATIONS.iter().map(|(word, _)| *word).collect();
    let operation = operations.iter().find(|word| id.stem().starts_with(**word)).copied().unwrap_or("");
    practice("operation", operation, &operations, "what is changed on a genuine coin, and why")
}

fn practice(key: &str, group: &str, groups: &[&str], what: &str) -> String {
    format!(
        "name      = \"\"     # as a heading: Mint mark added\n{key} = {}     # one of: {}\n{REVIEWED}{OPTIONAL}\n{}\
         # How it is done, only as far as an examiner needs to recognise it; never a recipe.\n\
         [[made]]\ntext  = ''''''     # one sentence or two\n{BASIS}\n{SIGN}\
         # What looks like it and is innocent.\n#[[mimic]]\n#text  = ''''''\n#basis = []\n\n\
         # Where looking could harm the coin or the examiner.\n#[[caution]]\n#text  = ''''''\n#basis = []\n\n\
         {}{NOT_DECISIVE}{PHOTO}",
        quoted(group),
        groups.join(", "),
        summary(what),
        check("self"),
    )
}

const SIGN: &str = "\
# A tell-tale of these pieces.
#[[sign]]
#id    = \"…\"
#text  = ''''''
#aid   = { magnification = 10, light = \"low, from the side\" }
#basis = []

";
