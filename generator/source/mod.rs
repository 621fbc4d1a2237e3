//! Disk → [`SourceFile`]s in path order, and byte offset → line and column. Never looks inside the text.
//!
//! Together with [`crate::publish`] this is the only module that touches the disk.

#![allow(clippy::disallowed_methods, reason = "reading the disk is its work")]

mod line_index;
mod walk;

pub use line_index::LineIndex;
pub use walk::{LoadError, Loaded, Problem, load};

use std::path::PathBuf;

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

/// A picture or other file named by an entry, read as bytes.
#[derive(Clone, Debug)]
pub struct Asset {
    pub collection: usize,
    /// Path below the collection's folder, with `/`.
    pub path: String,
    pub bytes: Vec<u8>,
}

/// Everything read from the disk, in an order that does not depend on the disk.
#[derive(Clone, Debug, Default)]
pub struct Sources {
    pub collections: Vec<CollectionRoot>,
    pub files: Vec<SourceFile>,
    pub assets: Vec<Asset>,
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
        self.assets.iter().find(|asset| asset.collection == collection && asset.path == path)
    }
}
