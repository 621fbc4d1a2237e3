//! Statements: sentences with a basis.

use super::basis::Basis;
use super::check::Aid;
use super::drawing::Drawing;
use super::fields::Fields;
use super::id::LocalId;
use super::place::Place;
use super::prose::Prose;
use crate::source::Span;

/// A sentence and what it stands on.
#[derive(Clone, Debug)]
pub struct Statement {
    pub text: Prose,
    pub place: Option<Place>,
    pub basis: Basis,
    pub span: Span,
}

impl Statement {
    /// Reads `text`, `where` and `basis`, and closes the table.
    pub(super) fn read(mut fields: Fields<'_, '_>) -> Option<Statement> {
        let statement = Statement::read_keys(&mut fields);
        fields.finish();
        statement
    }

    /// As [`Statement::read`], for a table that has further keys of its own.
    pub(super) fn read_keys(fields: &mut Fields<'_, '_>) -> Option<Statement> {
        let text = fields.need_prose("text");
        let place = Place::read(fields);
        let basis = fields.basis("basis");
        Some(Statement { text: text?, place, basis: basis?, span: fields.span })
    }

    pub(super) fn list(parent: &mut Fields<'_, '_>, key: &'static str, what: &'static str) -> Vec<Statement> {
        parent.tables(key, what).into_iter().filter_map(Statement::read).collect()
    }

    /// `[summary]`, which every page needs.
    pub(super) fn summary(parent: &mut Fields<'_, '_>) -> Option<Statement> {
        if !parent.has("summary") {
            parent.missing("summary", "a table: [summary] with text and basis");
        }
        parent.table("summary", "this summary").and_then(Statement::read)
    }
}

/// A statement with a name: a diagnostic of the true dies, or a tell-tale of false ones.
#[derive(Clone, Debug)]
pub struct Sign {
    pub id: LocalId,
    pub id_span: Span,
    pub statement: Statement,
    pub aid: Aid,
    pub drawing: Option<Drawing>,
}

impl Sign {
    pub(super) fn list(parent: &mut Fields<'_, '_>, key: &'static str, what: &'static str) -> Vec<Sign> {
        let mut out = Vec::new();
        for mut fields in parent.tables(key, what) {
            let id = fields.local_id("id");
            let statement = Statement::read_keys(&mut fields);
            let aid = Aid::read(&mut fields);
            let drawing = Drawing::read(&mut fields);
            fields.finish();
            if let (Some((id, id_span)), Some(statement)) = (id, statement) {
                out.push(Sign { id, id_span, statement, aid, drawing });
            }
        }
        out
    }
}
