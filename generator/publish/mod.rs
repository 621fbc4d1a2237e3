//! Files in memory → `public/`, all or nothing.

mod pictures;

pub use pictures::{PictureKind, picture_kind, strip};
