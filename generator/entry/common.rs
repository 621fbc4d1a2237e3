//! What entries of several kinds share: other names, review date, relations, and what is still missing.

use super::day::Day;
use super::fields::Fields;
use super::id::Reference;
use super::photo::Photo;
use super::statement::Statement;
use crate::source::Span;

/// Keys common to series, issues, families, methods and alterations.
#[derive(Clone, Debug)]
pub struct Common {
    pub summary: Option<Statement>,
    pub also_called: Vec<String>,
    pub reviewed: Option<Day>,
    pub reviewed_span: Span,
    pub related: Vec<Reference>,
    /// Plain lines on what is still missing, such as a die study.
    pub wanting: Vec<String>,
    pub not_decisive: Vec<Statement>,
    pub photos: Vec<Photo>,
}

impl Common {
    pub(super) fn read(fields: &mut Fields<'_, '_>) -> Common {
        if !fields.has("reviewed") {
            fields.missing("reviewed", "2026-04-18, the day of the last reading against the sources");
        }
        Common {
            summary: Statement::summary(fields),
            also_called: fields.texts("also_called").into_iter().map(|(name, _)| name).collect(),
            reviewed: fields.date("reviewed"),
            reviewed_span: fields.span_of("reviewed"),
            related: fields.references("related"),
            wanting: fields.texts("wanting").into_iter().map(|(line, _)| line).collect(),
            not_decisive: Statement::list(fields, "not_decisive", "this remark"),
            photos: Photo::list(fields),
        }
    }
}
