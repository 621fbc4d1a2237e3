//! What the law asks of one piece: weight, deviation, metal, size, and what each stands on.

use std::collections::BTreeMap;

use super::basis::Basis;
use super::fields::Fields;
use super::quantity::{Deviation, Weight};
use super::statement::Statement;
use crate::diagnostic::Code;
use crate::source::Span;

/// What the law asks of one piece, for the years `from..=to`.
#[derive(Clone, Debug)]
pub struct Standard {
    pub from: i32,
    pub to: i32,
    pub weight: Option<Weight>,
    pub deviation: Option<Deviation>,
    /// Parts per thousand by chemical symbol.
    pub alloy: Vec<(String, f64)>,
    /// mm
    pub diameter: Option<f64>,
    /// mm
    pub thickness: Option<f64>,
    pub edge: Option<String>,
    pub axis: Option<Axis>,
    pub text: Option<super::prose::Prose>,
    pub basis: Basis,
    /// Bases of single fields that stand on something else.
    pub basis_of: BTreeMap<String, Basis>,
    pub also: Vec<Also>,
    pub span: Span,
}

/// Another published figure that differs.
#[derive(Clone, Debug)]
pub struct Also {
    pub statement: Statement,
    pub weight: Option<Weight>,
}

/// How the two faces are turned to each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Axis {
    /// Reverse upside down when turned about the vertical: 180°.
    Coin,
    /// Both upright: 0°.
    Medal,
}

const AXES: &[(&str, Axis)] = &[("coin", Axis::Coin), ("medal", Axis::Medal)];
/// Fields of a standard that may have a basis of their own.
const FIELDS_OF_STANDARD: &[&str] = &["weight", "deviation", "alloy", "diameter", "thickness", "edge", "axis"];

impl Standard {
    pub(super) fn read(mut fields: Fields<'_, '_>) -> Option<Standard> {
        let (from, to) = super::series::period(&mut fields);
        let weight = Weight::read(&mut fields, "weight");
        let deviation = Deviation::read(&mut fields, "deviation");
        let alloy = read_alloy(&mut fields);
        let diameter = fields.positive("diameter");
        let thickness = fields.positive("thickness");
        let edge = fields.text("edge").map(|(edge, _)| edge);
        let axis = fields.word("axis", AXES);
        let text = fields.prose("text");
        let basis = fields.basis("basis");
        let mut basis_of = BTreeMap::new();
        for (key, value) in fields.open_table("basis_of") {
            if !FIELDS_OF_STANDARD.contains(&key.text.as_str()) {
                let hint = format!("it can name: {}", FIELDS_OF_STANDARD.join(", "));
                fields.reader.error(Code::UnknownKey, key.span, format!("a standard has no `{}`", key.text), hint);
            } else if let Some(basis) = Basis::read(fields.reader, "basis_of", value) {
                basis_of.insert(key.text, basis);
            }
        }
        let mut also = Vec::new();
        for mut other in fields.tables("also", "this other figure") {
            let statement = Statement::read_keys(&mut other);
            let weight = Weight::read(&mut other, "weight");
            other.finish();
            also.extend(statement.map(|statement| Also { statement, weight }));
        }
        let span = fields.span;
        fields.finish();
        Some(Standard {
            from: from?,
            to: to?,
            weight,
            deviation,
            alloy,
            diameter,
            thickness,
            edge,
            axis,
            text,
            basis: basis?,
            basis_of,
            also,
            span,
        })
    }

    /// The basis of one field.
    pub fn basis_of(&self, field: &str) -> &Basis {
        self.basis_of.get(field).unwrap_or(&self.basis)
    }
}

/// Parts per thousand; they must come to a thousand.
fn read_alloy(fields: &mut Fields<'_, '_>) -> Vec<(String, f64)> {
    let mut alloy = Vec::new();
    for (symbol, value) in fields.open_table("alloy") {
        let known = crate::reckon::alloy::ELEMENTS.iter().any(|element| element.symbol == symbol.text);
        match super::fields::number_of(value.get_ref()) {
            Some(parts) if known && parts > 0.0 && parts <= 1000.0 => alloy.push((symbol.text, parts)),
            _ => {
                let message = format!("`{}` is no metal with a share in parts per thousand", symbol.text);
                fields.reader.error(Code::BadValue, symbol.span, message, "write alloy = { Ag = 900, Cu = 100 }");
                return Vec::new();
            }
        }
    }
    let sum: f64 = alloy.iter().map(|(_, parts)| parts).sum();
    if !alloy.is_empty() && (sum - 1000.0).abs() > 0.5 {
        fields.wrong(
            "alloy",
            format!("the parts of the alloy come to {sum}, not 1000"),
            "give parts per thousand of every metal",
        );
    }
    alloy
}
