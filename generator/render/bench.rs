//! The bench: pages whose work is done by scripts, from what [`crate::bench`] lays out for them.

use serde::Serialize;

use super::RenderError;
use super::site::{Head, Page};
use crate::out_file::OutFile;

/// Name of each page and its title.
pub const PAGES: &[(&str, &str)] = &[
    ("index", "Bench"),
    ("examination", "Examination"),
    ("record", "Record of an examination"),
    ("scales", "Scales"),
    ("photo-measure", "Photo measure"),
    ("overlay", "Overlay"),
    ("picture", "Picture"),
];

#[derive(Serialize)]
struct View {
    head: Head,
}

pub fn page(page: &Page<'_>, name: &str) -> Result<OutFile, RenderError> {
    let title = PAGES.iter().find(|(known, _)| *known == name).map_or(name, |(_, title)| title);
    let mut head = page.head(title, "bench", "bench", None);
    head.cautions = true;
    page.render(&format!("bench/{name}.html"), &View { head })
}
