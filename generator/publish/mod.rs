//! Files in memory → `public/`, all or nothing: a complete sibling folder is written and read back, then swapped in.
//!
//! Together with [`crate::source`] this is the only module that touches the disk.

#![allow(clippy::disallowed_methods, reason = "writing the disk is its work")]

mod knowledge;
mod new_file;
mod pictures;
mod swap;

pub use knowledge::knowledge;
pub use new_file::write_new;
pub use pictures::{decode_all, make_one, pictures};
pub use swap::{PublishError, publish, publish_without};

pub use crate::picture::strip;

use crate::out_file::{Content, OutFile};

/// The note that marks a folder as made by this tool. The repository keeps it so that `public/` exists.
pub const NOTE: &str = include_str!("../../public/README.md");

/// What was published.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Published {
    pub files: usize,
    pub bytes: u64,
    /// Of the files that are made of pictures, how many were made anew.
    pub made: usize,
    /// And how many the previous site had already.
    pub kept: usize,
}

/// Adds the note and `SHA256SUMS`, which is written last, and puts everything else in order of path.
pub fn complete(mut files: Vec<OutFile>) -> Vec<OutFile> {
    files.push(OutFile::text("README.md", NOTE));
    files.sort_by(|a, b| a.path.cmp(&b.path));
    files.push(OutFile { path: "SHA256SUMS".into(), content: Content::Sums });
    files
}
