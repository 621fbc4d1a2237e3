//! Pieces that pages of several kinds share: statements, signs, photos, standards.

use serde::Serialize;

use super::site::{Link, Page};
use super::words;
use crate::corpus::{checks_of, place_anywhere, place_on, signs_of};
use crate::entry::{Basis, Common, Entry, Photo, Series, Sign, Standard, Statement};
use crate::figure;
use crate::reckon::{alloy, standard, units};

/// A sentence with what it stands on.
#[derive(Serialize)]
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
}

/// A labelled fact with its basis.
#[derive(Serialize)]
pub struct Fact {
    pub label: &'static str,
    pub html: String,
    pub basis_html: String,
}

#[derive(Serialize)]
pub struct PhotoView {
    pub id: String,
    pub src: String,
    pub alt: String,
    pub caption_html: String,
    pub see_html: String,
    pub shows: Vec<Link>,
    pub credit: String,
}

/// What a page of any kind with common keys ends with.
#[derive(Serialize)]
pub struct Foot {
    pub not_decisive: Vec<StatementView>,
    pub wanting: Vec<String>,
    pub photos: Vec<PhotoView>,
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

    /// Signs lettered from `a`; places looked up in a series and year where there is one.
    pub fn signs(&self, list: &[Sign], series: Option<(&Series, i32)>) -> Vec<SignView> {
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
            photos: common.photos.iter().map(|photo| self.photo(photo, entry)).collect(),
            related: self.links(related),
            reviewed: common.reviewed.map_or(String::new(), |day| day.to_string()),
            written: self.to(&super::site::written_of(entry)),
            file: format!("{}/{}.toml", self.corpus().collection(entry).key, entry.id),
            id: entry.id.to_string(),
        }
    }

    fn photo(&self, photo: &Photo, entry: &Entry) -> PhotoView {
        let src = photo.file.as_ref().map_or(String::new(), |file| {
            self.to(&picture_path(self.corpus().collection(entry).key.as_str(), &file.text))
        });
        let mut credit: Vec<String> = Vec::new();
        if let Some(magnification) = photo.magnification {
            credit.push(format!("{}×", words::decimals(magnification, 1, 0)));
        }
        credit.extend(photo.credit.clone());
        credit.extend(photo.licence.clone());
        let caption = photo.caption.clone().unwrap_or_else(|| photo.id.as_str().replace('-', " "));
        PhotoView {
            id: photo.id.to_string(),
            src,
            alt: caption.clone(),
            caption_html: figure::escape(&caption),
            see_html: photo.see.as_ref().map_or(String::new(), |citation| self.citation_html(citation)),
            shows: photo
                .shows
                .iter()
                .map(|id| {
                    let sign = signs_of(entry).iter().any(|sign| sign.id.as_str() == id.text);
                    let looks = checks_of(entry).iter().any(|check| check.id.as_str() == id.text);
                    let prefix = if sign && !looks { "sign-" } else { "" };
                    Link { text: id.text.replace('-', " "), href: format!("#{prefix}{}", id.text) }
                })
                .collect(),
            credit: credit.join(" · "),
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

/// Where a picture stands in the site.
pub fn picture_path(collection: &str, file: &str) -> String {
    format!("pictures/{collection}/{}", file.strip_prefix("photos/").unwrap_or(file))
}

/// a, b, … z, aa, …
pub fn letter(at: usize) -> String {
    let small = |n: usize| char::from(b'a' + (n % 26) as u8);
    if at < 26 { small(at).to_string() } else { format!("{}{}", small(at / 26 - 1), small(at)) }
}
