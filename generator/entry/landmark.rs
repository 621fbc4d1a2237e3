//! What is drawn faintly in the discs of a series so that a pin is found on the coin at a glance.

use super::fields::Fields;
use super::id::LocalId;
use super::place::Face;
use crate::diagnostic::Code;

/// Something drawn faintly in the discs so that a pin is found on the coin.
#[derive(Clone, Debug)]
pub struct Landmark {
    pub id: LocalId,
    pub face: Face,
    pub shape: LandmarkShape,
}

/// Clock hours 0 to 12, reach and size in fractions of the radius.
#[derive(Clone, Debug)]
pub enum LandmarkShape {
    Text {
        text: String,
        clock: f64,
        reach: f64,
        size: f64,
    },
    Arc {
        text: String,
        from: f64,
        to: f64,
        reach: f64,
        size: f64,
    },
    /// SVG path, centre 0,0, radius 1; letters and numbers only.
    Path(String),
}

impl Landmark {
    pub(super) fn read(mut fields: Fields<'_, '_>) -> Option<Landmark> {
        let id = fields.local_id("id");
        let face = fields.word("face", &[("obverse", Face::Obverse), ("reverse", Face::Reverse)]);
        if !fields.has("face") {
            fields.missing("face", "\"obverse\"");
        }
        let kind = fields.word("kind", &[("text", 't'), ("arc", 'a'), ("path", 'p')]);
        if !fields.has("kind") {
            fields.missing("kind", "\"text\"");
        }
        let text = fields.text("text").map(|(text, _)| text);
        let mut off = false;
        let mut share = |key, most: f64| {
            let number = fields.number(key)?;
            if (0.0..=most).contains(&number) {
                return Some(number);
            }
            off = true;
            let message = format!("`{key}` is {number}, which is off the coin");
            fields.reader.error(
                Code::ImpossiblePlace,
                fields.span_of(key),
                message,
                format!("it runs from 0 to {most}"),
            );
            None
        };
        let (clock, to) = (share("clock", 12.0), share("to", 12.0));
        let (reach, size) = (share("reach", 1.0), share("size", 1.0).unwrap_or(0.12));
        let path = fields.text("d");
        let shape = match kind? {
            't' => text.zip(clock).zip(reach).map(|((text, clock), reach)| LandmarkShape::Text {
                text,
                clock,
                reach,
                size,
            }),
            'a' => text.zip(clock).zip(to).zip(reach).map(|(((text, from), to), reach)| LandmarkShape::Arc {
                text,
                from,
                to,
                reach,
                size,
            }),
            _ => path.as_ref().filter(|(d, _)| is_path(d)).map(|(d, _)| LandmarkShape::Path(d.clone())),
        };
        if shape.is_none() && !off {
            let hint = "text needs text, clock, reach; arc needs text, clock, to, reach; path needs d with SVG path letters and numbers";
            fields.reader.error(Code::BadValue, fields.span, "this landmark cannot be drawn", hint);
        }
        fields.finish();
        Some(Landmark { id: id?.0, face: face?, shape: shape? })
    }
}

fn is_path(d: &str) -> bool {
    d.trim_start().starts_with(['M', 'm']) && d.chars().all(|c| "MmLlHhVvCcSsQqTtAaZz0123456789.,- \n".contains(c))
}
