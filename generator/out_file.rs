//! A file of the site, in memory.

/// A path below the site's folder, with `/`, and what stands in it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OutFile {
    pub path: String,
    pub bytes: Vec<u8>,
}

impl OutFile {
    pub fn text(path: impl Into<String>, text: impl Into<String>) -> OutFile {
        OutFile { path: path.into(), bytes: text.into().into_bytes() }
    }
}
