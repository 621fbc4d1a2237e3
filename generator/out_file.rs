//! A file of the site: in memory, or known by what it is made of.

use std::path::PathBuf;
use std::sync::Arc;

use serde::Serialize;

use crate::picture::{Part, Plan};

/// A path below the site's folder, with `/`, and what stands in it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OutFile {
    pub path: String,
    pub content: Content,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Content {
    Bytes(Vec<u8>),
    /// Made of a picture when the site is written: photographs do not all fit into memory.
    Made {
        picture: Arc<Picture>,
        part: Part,
    },
    /// The sums of all other files, known when these are written.
    Sums,
}

/// A picture on the disk and what is made of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Picture {
    pub disk: PathBuf,
    pub plan: Plan,
}

impl OutFile {
    pub fn text(path: impl Into<String>, text: impl Into<String>) -> OutFile {
        OutFile { path: path.into(), content: Content::Bytes(text.into().into_bytes()) }
    }

    /// What is in memory; nothing of a file that is made when the site is written.
    pub fn bytes(&self) -> &[u8] {
        match &self.content {
            Content::Bytes(bytes) => bytes,
            Content::Made { .. } | Content::Sums => &[],
        }
    }

    /// A classic script that hands its data over by calling `Tellmark.CALL("NAME", …)`: the only way in for data on a page
    /// opened from disk. Parsing JSON text is much faster than parsing it as code.
    pub fn script(path: &str, call: &str, name: &str, data: &impl Serialize) -> OutFile {
        let json = serde_json::to_string(data).expect("data of scripts has text keys only");
        OutFile::text(path, format!("Tellmark.{call}(\"{name}\",JSON.parse('{}'));\n", quoted(&json)))
    }
}

/// The inside of a single-quoted script string, safe in a page as well.
fn quoted(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + text.len() / 16);
    for c in text.chars() {
        match c {
            '\\' => out.push_str("\\\\"),
            '\'' => out.push_str("\\'"),
            '\n' => out.push_str("\\n"),
            '\r' => out.push_str("\\r"),
            '\u{2028}' => out.push_str("\\u2028"),
            '\u{2029}' => out.push_str("\\u2029"),
            // Neither `</script` nor `<!--` stands in the file.
            '<' => out.push_str("\\x3c"),
            c => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::quoted;

    #[test]
    fn a_script_string_holds_any_text() {
        assert_eq!(quoted("a'b\\c</script>\u{2028}"), "a\\'b\\\\c\\x3c/script>\\u2028");
    }
}
