//! Disk → [`SourceFile`]s in path order, and byte offset → line and column. Never looks inside the text.
//!
//! Together with [`crate::publish`] this is the only module that touches the disk.

#![allow(clippy::disallowed_methods, reason = "reading the disk is its work")]

mod assets;
mod line_index;
mod walk;

pub use line_index::LineIndex;
pub use walk::{LoadError, Loaded, Problem, load, load_with};

use std::path::PathBuf;

use crate::picture::{Flaw, Header, Sum};

/// Index of a file in [`Sources`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FileId(pub u32);

/// A run of bytes in one file: `start..end`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Span {
    pub file: FileId,
    pub start: usize,
    pub end: usize,
}

impl Span {
    /// The part `from..to` of this span, counted from its start; clipped to it.
    pub fn part(self, from: usize, to: usize) -> Span {
        let start = (self.start + from).min(self.end);
        Span { file: self.file, start, end: (self.start + to).clamp(start, self.end) }
    }
}

/// One text file of a collection.
#[derive(Clone, Debug)]
pub struct SourceFile {
    /// Path as shown to people: the `--entries` argument as typed, then the path below it, with `/`.
    pub shown: String,
    /// Path below the collection's folder, with `/` and without `.toml`: the entry's id.
    pub stem: String,
    /// Which collection of [`Sources::collections`] it belongs to.
    pub collection: usize,
    pub text: String,
    pub lines: LineIndex,
}

/// A folder with a `collection.toml`.
#[derive(Clone, Debug)]
pub struct CollectionRoot {
    /// Last part of the folder's path, such as `reference`.
    pub name: String,
    pub shown: String,
    pub path: PathBuf,
}

/// A picture or other file beside the entries. Its bytes stay on the disk.
#[derive(Clone, Debug)]
pub struct Asset {
    /// `None`: of a folder of pictures that may not be published.
    pub collection: Option<usize>,
    /// Path below the collection's, or that folder, with `/`.
    pub path: String,
    pub disk: PathBuf,
    /// `None` if no entry's text names it.
    pub opened: Option<Opened>,
}

/// What was found in a file.
#[derive(Clone, Debug)]
pub struct Opened {
    pub bytes: u64,
    /// `None` of a file too large to be read.
    pub sum: Option<Sum>,
    pub picture: Result<Header, Flaw>,
}

/// Everything read from the disk, in an order that does not depend on the disk.
#[derive(Clone, Debug, Default)]
pub struct Sources {
    pub collections: Vec<CollectionRoot>,
    pub files: Vec<SourceFile>,
    pub assets: Vec<Asset>,
    /// Folders of pictures that may not be published were given: what is made is private.
    pub private: bool,
}

impl Sources {
    pub fn file(&self, id: FileId) -> &SourceFile {
        &self.files[id.0 as usize]
    }

    /// The text a span covers.
    pub fn text(&self, span: Span) -> &str {
        self.file(span.file).text.get(span.start..span.end).unwrap_or("")
    }

    /// An asset of a collection by its path below the collection's folder.
    pub fn asset(&self, collection: usize, path: &str) -> Option<&Asset> {
        self.assets.iter().find(|asset| asset.collection == Some(collection) && asset.path == path)
    }
}
