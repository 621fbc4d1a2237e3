//! Names: of entries, and of the parts of an entry that others refer to.

use std::fmt;

use crate::source::Span;

/// Why a name is refused.
pub const ID_RULE: &str =
    "lower-case letters and digits joined by single hyphens, 1 to 64 of them, folders joined by /";

/// Path of an entry below its collection, such as `issues/us/dime/1916-d`: words of lower-case letters and digits
/// joined by `-`, 1 to 64 bytes each, joined by `/`. Its first word is the kind.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct EntryId(String);

impl EntryId {
    /// The only way in.
    pub fn parse(text: &str) -> Option<EntryId> {
        text.split('/').all(is_word).then(|| EntryId(text.to_string()))
    }

    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// The last word: `1916-d`.
    pub fn stem(&self) -> &str {
        self.0.rsplit('/').next().unwrap_or(&self.0)
    }

    /// Everything after the kind: `us/dime/1916-d`.
    pub fn below_kind(&self) -> &str {
        self.0.split_once('/').map_or(&self.0, |(_, rest)| rest)
    }
}

impl fmt::Display for EntryId {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(&self.0)
    }
}

/// Name of a part of an entry, such as a check: one word of an [`EntryId`].
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct LocalId(String);

impl LocalId {
    pub fn parse(text: &str) -> Option<LocalId> {
        is_word(text).then(|| LocalId(text.to_string()))
    }

    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for LocalId {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(&self.0)
    }
}

fn is_word(text: &str) -> bool {
    (1..=64).contains(&text.len())
        && text.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-')
        && !text.starts_with('-')
        && !text.ends_with('-')
        && !text.contains("--")
}

/// A name as an author wrote it, not yet looked up.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reference {
    pub text: String,
    pub span: Span,
}

#[cfg(test)]
mod tests {
    use super::EntryId;

    #[test]
    fn an_id_cannot_climb_out_of_its_folder() {
        for bad in ["", "a//b", "../a", "a/..", "A/b", "a b", "-a", "a-", "a--b", "a/é"] {
            assert_eq!(EntryId::parse(bad), None, "{bad}");
        }
        assert_eq!(EntryId::parse("issues/us/dime/1916-d").unwrap().below_kind(), "us/dime/1916-d");
    }
}
