//! A forgery family: forged pieces tied by a common origin.

use super::check::Check;
use super::fields::Fields;
use super::id::Reference;
use super::statement::{Sign, Statement};

#[derive(Clone, Debug)]
pub struct Family {
    pub name: String,
    pub methods: Vec<Reference>,
    pub series: Vec<Reference>,
    /// When it was made, in words.
    pub period: Option<String>,
    pub traits: Vec<Trait>,
    pub signs: Vec<Sign>,
    pub checks: Vec<Check>,
}

/// A row of the comparison tables.
#[derive(Clone, Debug)]
pub struct Trait {
    pub of: TraitKind,
    pub statement: Statement,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum TraitKind {
    Metal,
    Weight,
    Diameter,
    Thickness,
    Edge,
    Axis,
    Surface,
    Style,
    Legend,
    Date,
}

pub const TRAITS: &[(&str, TraitKind)] = &[
    ("metal", TraitKind::Metal),
    ("weight", TraitKind::Weight),
    ("diameter", TraitKind::Diameter),
    ("thickness", TraitKind::Thickness),
    ("edge", TraitKind::Edge),
    ("axis", TraitKind::Axis),
    ("surface", TraitKind::Surface),
    ("style", TraitKind::Style),
    ("legend", TraitKind::Legend),
    ("date", TraitKind::Date),
];

impl Family {
    pub(super) fn read(fields: &mut Fields<'_, '_>) -> Option<Family> {
        let name = fields.need_text("name", "\"Harbour transfer dies\"");
        let methods = fields.references("methods");
        if methods.is_empty() {
            fields.missing("methods", "[\"struck-transfer-dies\"]");
        }
        let series = fields.references("series");
        let period = fields.text("period").map(|(period, _)| period);
        let mut traits = Vec::new();
        for mut table in fields.tables("trait", "this trait") {
            if !table.has("of") {
                table.missing("of", "\"metal\"");
            }
            let of = table.word("of", TRAITS);
            let statement = Statement::read_keys(&mut table);
            table.finish();
            if let (Some(of), Some(statement)) = (of, statement) {
                traits.push(Trait { of, statement });
            }
        }
        let signs = Sign::list(fields, "sign", "this sign");
        let checks = Check::list(fields);
        Some(Family { name: name?.0, methods, series, period, traits, signs, checks })
    }
}
