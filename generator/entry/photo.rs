//! Photo references: where a picture of a diagnostic is to be seen, with a local file where rights allow.

use super::basis::Citation;
use super::fields::Fields;
use super::id::{LocalId, Reference};
use crate::picture::Sum;
use crate::source::Span;

/// What kind of piece a photo is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    Genuine,
    False,
}

/// The words for it.
pub const SIDES: &[(&str, Side)] = &[("genuine", Side::Genuine), ("false", Side::False)];

#[derive(Clone, Debug)]
pub struct Photo {
    pub id: LocalId,
    pub id_span: Span,
    /// Path inside the collection, as written.
    pub file: Option<Reference>,
    /// Lower-case hex.
    pub sha256: Option<Reference>,
    /// The file may not be published: it is looked for in the folders given for such, not in the collection.
    pub private: bool,
    pub see: Option<Citation>,
    pub of: Option<Side>,
    /// Id of the photo of the same entry that it is shown beside: one of a true piece, one of a false one.
    pub pair: Option<Reference>,
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
        let private = fields.boolean("private").unwrap_or(false);
        let see = fields.table("see", "this citation").and_then(Citation::read_table);
        let of = fields.word("of", SIDES);
        let pair = fields.reference("pair");
        let shows = fields.references("shows");
        let caption = fields.text("caption").map(|(text, _)| text);
        let magnification = fields.positive("magnification");
        let credit = fields.text("credit").map(|(text, _)| text);
        let licence = fields.text("licence").map(|(text, _)| text);
        if !fields.has("file") && !fields.has("see") {
            fields.missing("file", "\"photos/…\", or see = { source = \"…\", at = \"plate 3\", read = true }");
        }
        if private && file.is_none() && !fields.has("file") {
            fields.wrong(
                "private",
                "`private` keeps a file from being published, but there is no `file`",
                "name the file, or leave `private` out: a reference in `see` is public",
            );
        }
        if file.is_some() {
            for (key, there, example) in [
                ("sha256", sha256.is_some(), "\"…\", as sha256sum prints it, so that a changed picture is noticed"),
                ("credit", credit.is_some(), "\"who made it\""),
                ("licence", licence.is_some() || private, "\"CC0-1.0\""),
            ] {
                if !there {
                    fields.missing(key, example);
                }
            }
        }
        fields.finish();
        let (id, id_span) = id?;
        Some(Photo {
            id,
            id_span,
            file,
            sha256,
            private,
            see,
            of,
            pair,
            shows,
            caption,
            magnification,
            credit,
            licence,
        })
    }

    /// The sha256 that the entry states, if it is one.
    pub fn sum(&self) -> Option<Sum> {
        Sum::parse(&self.sha256.as_ref()?.text)
    }

    /// What is to be seen in it, in plain words.
    pub fn words(&self) -> String {
        self.caption.clone().unwrap_or_else(|| self.id.as_str().replace('-', " "))
    }
}
