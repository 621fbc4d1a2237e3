//! Pieces that pages of several kinds share: statements, signs, photos, standards.

use serde::Serialize;

use super::photos::{self, PhotoView};
use super::site::{Link, Page};
use super::words;
use crate::corpus::{place_anywhere, place_on};
use crate::entry::{Basis, Common, Entry, Series, Sign, Standard, Statement};
use crate::figure;
use crate::reckon::{alloy, standard, units};

/// A sentence with what it stands on.
#[derive(Clone, PartialEq, Serialize)]
pub struct StatementView {
    pub html: String,
    pub place: String,
    pub basis_html: String,
}

/// A diagnostic or a tell-tale.
#[derive(Serialize)]
pub struct SignView {
    pub id: String,
    pub letter: String,
    pub html: String,
    pub how: Vec<String>,
    pub drawing_html: String,
    pub basis_html: String,
    pub pictures: Vec<Link>,
}

/// A labelled fact with its basis.
#[derive(Serialize)]
pub struct Fact {
    pub label: &'static str,
    pub html: String,
    pub basis_html: String,
}

/// What a page of any kind with common keys ends with.
#[derive(Serialize)]
pub struct Foot {
    pub not_decisive: Vec<StatementView>,
    pub wanting: Vec<String>,
    /// Each alone, or two side by side.
    pub photos: Vec<Vec<PhotoView>>,
    pub viewer: String,
    /// Said once where many pictures have the same.
    pub credit: String,
    pub related: Vec<Link>,
    pub reviewed: String,
    pub written: String,
    pub file: String,
    pub id: String,
}

impl<'a> Page<'a> {
    pub fn statement(&self, statement: &Statement) -> StatementView {
        StatementView {
            html: self.prose.block(&statement.text.text),
            place: words::place(&place_anywhere(statement.place.as_ref())),
            basis_html: self.basis_html(&statement.basis),
        }
    }

    pub fn statements(&self, list: &[Statement]) -> Vec<StatementView> {
        list.iter().map(|statement| self.statement(statement)).collect()
    }

    /// Signs lettered from `a`, as `owner` states them; places looked up in a series and year where there is one.
    pub fn signs(&self, list: &[Sign], owner: &Entry, series: Option<(&Series, i32)>) -> Vec<SignView> {
        list.iter()
            .enumerate()
            .map(|(at, sign)| {
                let place = match series {
                    Some((series, year)) => place_on(sign.statement.place.as_ref(), series, year),
                    None => place_anywhere(sign.statement.place.as_ref()),
                };
                let mut how = vec![words::place(&place)];
                how.extend(words::aid(&sign.aid));
                how.retain(|part| !part.is_empty());
                SignView {
                    id: sign.id.to_string(),
                    letter: letter(at),
                    html: self.prose.block(&sign.statement.text.text),
                    how,
                    drawing_html: sign.drawing.as_ref().map_or(String::new(), figure::drawing),
                    basis_html: self.basis_html(&sign.statement.basis),
                    pictures: self.pictures_of(owner, sign.id.as_str()),
                }
            })
            .collect()
    }

    pub fn foot(&self, entry: &Entry) -> Foot {
        let empty = Common {
            summary: None,
            also_called: Vec::new(),
            reviewed: None,
            reviewed_span: entry.span,
            related: Vec::new(),
            wanting: Vec::new(),
            not_decisive: Vec::new(),
            photos: Vec::new(),
        };
        let common = entry.common.as_ref().unwrap_or(&empty);
        let related = common.related.iter().filter_map(|reference| self.corpus().find_any(&reference.text).ok());
        Foot {
            not_decisive: self.statements(&common.not_decisive),
            wanting: common.wanting.clone(),
            photos: self.photos(entry),
            viewer: self.viewer(entry),
            credit: photos::common_credit(self.corpus(), entry).unwrap_or_default(),
            related: self.links(related),
            reviewed: common.reviewed.map_or(String::new(), |day| day.to_string()),
            written: self.to(&super::site::written_of(entry)),
            file: format!("{}/{}.toml", self.corpus().collection(entry).key, entry.id),
            id: entry.id.to_string(),
        }
    }

    /// The physical standard as labelled facts.
    pub fn standard_facts(&self, one: &Standard) -> Vec<Fact> {
        let mut facts = Vec::new();
        let mut add = |label, field: &str, text: String| {
            let basis: &Basis = one.basis_of(field);
            facts.push(Fact { label, html: self.prose.plain(&text), basis_html: self.basis_html(basis) });
        };
        if let (Some(stated), Some(weight)) = (one.weight, standard::weight(one)) {
            let law = units::in_words(stated);
            let grams = format!("{} g", words::decimals(weight.grams, 4, 2));
            let text = if law.ends_with("grams") || law.ends_with(" gram") { grams } else { format!("{grams}: {law}") };
            add("Weight", "weight", text);
        }
        if let (Some(deviation), Some(weight)) = (one.deviation, standard::weight(one)) {
            let text = format!(
                "± {} g on one piece: {}",
                words::decimals(weight.deviation, 4, 2),
                units::deviation_in_words(deviation)
            );
            add("Permitted deviation", "deviation", text);
        }
        if let Some(density) = alloy::density(&one.alloy) {
            add("Metal", "alloy", format!("{}, in parts per thousand", alloy::in_words(&one.alloy)));
            let text =
                format!("about {:.2} ± {:.2} g/cm³, worked out from the metals’ volumes", density.value, density.give);
            add("Density", "alloy", text);
        }
        if let Some(diameter) = one.diameter {
            add("Diameter", "diameter", format!("{} mm", words::decimals(diameter, 2, 1)));
        }
        if let Some(thickness) = one.thickness {
            add("Thickness", "thickness", format!("{} mm", words::decimals(thickness, 2, 1)));
        }
        if let Some(edge) = &one.edge {
            add("Edge", "edge", edge.clone());
        }
        if let Some(axis) = one.axis {
            let text = match axis {
                crate::entry::Axis::Coin => "coin alignment: turned about the vertical, the reverse is upside down",
                crate::entry::Axis::Medal => "medal alignment: both faces upright",
            };
            add("Die axis", "axis", text.to_string());
        }
        facts
    }
}

/// a, b, … z, aa, …
pub fn letter(at: usize) -> String {
    let small = |n: usize| char::from(b'a' + (n % 26) as u8);
    if at < 26 { small(at).to_string() } else { format!("{}{}", small(at / 26 - 1), small(at)) }
}
