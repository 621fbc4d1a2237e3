//! Drafts of the small kinds.

use super::{BASIS, quoted};
use crate::entry::EntryId;

pub fn country() -> String {
    format!(
        "name  = \"\"     # as readers know it\n#order = 10     # place on the front page\n\n\
         [[mint]]     # one for each mint, and one for the mint that used no letter\n\
         mark  = \"\"     # as struck; leave it empty for the mint that used none\ncity  = \"\"     # where it stood\n\
         #years = [[1870, 1885], [1889]]     # needed: periods of coining; an open one has no end\n{BASIS}"
    )
}

pub fn term(id: &EntryId) -> String {
    let term = id.stem().replace('-', " ");
    format!(
        "term  = {}\n#forms = [{}]     # plurals and other spellings that prose may use\n\
         #see   = [\"…\"]     # related terms\n\n[meaning]\ntext  = ''''''     # one or two sentences, for a reader at the bench\n{BASIS}",
        quoted(&term),
        quoted(&format!("{term}s"))
    )
}
