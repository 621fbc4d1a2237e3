//! Photo references: where a picture of a diagnostic is to be seen, with a local file where rights allow.

use super::basis::Citation;
use super::fields::Fields;
use super::id::{LocalId, Reference};
use crate::source::Span;

#[derive(Clone, Debug)]
pub struct Photo {
    pub id: LocalId,
    pub id_span: Span,
    /// Path inside the collection, as written.
    pub file: Option<Reference>,
    /// Lower-case hex.
    pub sha256: Option<Reference>,
    pub see: Option<Citation>,
    /// Ids of checks or diagnostics of the same entry.
    pub shows: Vec<Reference>,
    pub caption: Option<String>,
    pub magnification: Option<f64>,
    pub credit: Option<String>,
    pub licence: Option<String>,
}

impl Photo {
    pub(super) fn list(parent: &mut Fields<'_, '_>) -> Vec<Photo> {
        parent.tables("photo", "this photo reference").into_iter().filter_map(Photo::read).collect()
    }

    fn read(mut fields: Fields<'_, '_>) -> Option<Photo> {
        let id = fields.local_id("id");
        let file = fields.reference("file");
        let sha256 = fields.reference("sha256");
        let see = fields.table("see", "this citation").and_then(Citation::read_table);
        let shows = fields.references("shows");
        let caption = fields.text("caption").map(|(text, _)| text);
        let magnification = fields.positive("magnification");
        let credit = fields.text("credit").map(|(text, _)| text);
        let licence = fields.text("licence").map(|(text, _)| text);
        if !fields.has("file") && !fields.has("see") {
            fields.missing("file", "\"photos/…\", or see = { source = \"…\", at = \"plate 3\", read = true }");
        }
        if file.is_some() {
            for (key, there, example) in [
                ("sha256", sha256.is_some(), "\"…\", as sha256sum prints it, so that a changed picture is noticed"),
                ("credit", credit.is_some(), "\"who made it\""),
                ("licence", licence.is_some(), "\"CC0-1.0\""),
            ] {
                if !there {
                    fields.missing(key, example);
                }
            }
        }
        fields.finish();
        let (id, id_span) = id?;
        Some(Photo { id, id_span, file, sha256, see, shows, caption, magnification, credit, licence })
    }
}
