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
pub use pictures::{PictureKind, picture_kind, pictures, strip};
pub use swap::{PublishError, publish};

use sha2::{Digest, Sha256};

use crate::out_file::OutFile;

/// The note that marks a folder as made by this tool. The repository keeps it so that `public/` exists.
pub const NOTE: &str = include_str!("../../public/README.md");

/// What was published.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Published {
    pub files: usize,
    pub bytes: u64,
}

/// Adds the note and `SHA256SUMS` and puts everything in order of path.
pub fn complete(mut files: Vec<OutFile>) -> Vec<OutFile> {
    files.push(OutFile::text("README.md", NOTE));
    files.sort_by(|a, b| a.path.cmp(&b.path));
    let sums: String = files.iter().map(|file| format!("{}  {}\n", hex(&file.bytes), file.path)).collect();
    files.push(OutFile::text("SHA256SUMS", sums));
    files
}

fn hex(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect()
}
