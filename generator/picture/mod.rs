//! Bytes of a picture → what it is, what is wrong with it, the same without metadata, and its smaller copies.
//! Never touches the disk; the same bytes give the same bytes.

mod copies;
mod gate;
mod header;
mod jpeg;
mod plan;
mod png;
mod scale;
mod strip;

pub use copies::make;
pub use gate::{Gate, Held};
pub use header::{Header, LARGEST_FILE, LARGEST_SIDE, LARGEST_WORK, PictureKind, examine, picture_kind};
pub use plan::{Part, Plan, Sized, Tiles};
pub use strip::strip;

use sha2::{Digest, Sha256};

/// Why a picture cannot be shown, in the words of whoever put it there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Flaw {
    pub sort: FlawSort,
    /// What is wrong, to follow the picture's name: "is cut short".
    pub what: String,
    /// What to do instead.
    pub hint: String,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FlawSort {
    /// Not a still PNG or JPEG under its own name.
    Format,
    /// No pixels, or too many.
    Size,
    /// Cut short, or damaged.
    Broken,
}

impl Flaw {
    fn new(sort: FlawSort, what: impl Into<String>, hint: impl Into<String>) -> Flaw {
        Flaw { sort, what: what.into(), hint: hint.into() }
    }

    fn broken(what: impl Into<String>) -> Flaw {
        Flaw::new(FlawSort::Broken, what, "save it again from the original, and write its new sha256")
    }
}

/// Lower-case hex of a file's sha256.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Sum(String);

impl Sum {
    pub fn of(bytes: &[u8]) -> Sum {
        Sum::from_digest(&Sha256::digest(bytes))
    }

    pub fn from_digest(digest: &[u8]) -> Sum {
        Sum(digest.iter().map(|byte| format!("{byte:02x}")).collect())
    }

    /// As it is written in an entry or a list of sums, in capitals or not.
    pub fn parse(text: &str) -> Option<Sum> {
        let fits = text.len() == 64 && text.bytes().all(|byte| byte.is_ascii_hexdigit());
        fits.then(|| Sum(text.to_ascii_lowercase()))
    }

    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl std::fmt::Display for Sum {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        out.write_str(&self.0)
    }
}
