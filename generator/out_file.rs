//! A file of the site: in memory, or known by what it is made of.

use std::path::PathBuf;
use std::sync::Arc;

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
    Made { picture: Arc<Picture>, part: Part },
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
}
