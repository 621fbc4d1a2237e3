//! Places on a coin: a face or the edge, by clock hour and fraction of the radius, or by a landmark of the series.

use super::fields::{Fields, number_of};
use super::id::Reference;
use crate::diagnostic::Code;

/// More would weigh more than they show.
pub const MOST_POINTS: usize = 40;

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Face {
    Obverse,
    Reverse,
}

impl Face {
    pub fn word(self) -> &'static str {
        match self {
            Face::Obverse => "obverse",
            Face::Reverse => "reverse",
        }
    }
}

/// Where on the coin. Hours run 0 to 12, clockwise, 12 at the top; reach runs 0 (centre) to 1 (rim).
#[derive(Clone, Debug)]
pub enum Place {
    Point {
        face: Face,
        clock: f64,
        reach: f64,
        about: bool,
    },
    /// Clockwise from `from` to `to`.
    Arc {
        face: Face,
        from: f64,
        to: f64,
        reach: f64,
        about: bool,
    },
    /// A line from point to point, such as a crack: clock and reach of each.
    Path {
        face: Face,
        points: Vec<(f64, f64)>,
        about: bool,
    },
    /// A patch within a closed line.
    Area {
        face: Face,
        points: Vec<(f64, f64)>,
        about: bool,
    },
    Face(Face),
    Edge,
    /// `date`, `mint-mark`, or a landmark that the series draws.
    Landmark(Reference),
}

impl Place {
    /// Reads the value of `where`.
    pub(super) fn read(fields: &mut Fields<'_, '_>) -> Option<Place> {
        let mut at = fields.table("where", "this place")?;
        let place = Place::read_from(&mut at);
        at.finish();
        place
    }

    fn read_from(at: &mut Fields<'_, '_>) -> Option<Place> {
        let landmark = at.reference("landmark");
        let face =
            at.word("face", &[("obverse", Some(Face::Obverse)), ("reverse", Some(Face::Reverse)), ("edge", None)]);
        let (clock, to) = (hour(at, "clock"), hour(at, "to"));
        let reach = at.number("reach");
        let about = at.boolean("about").unwrap_or(false);
        let (path, area) = (points(at, "path", 2)?, points(at, "area", 3)?);
        if let Some(reach) = reach.filter(|reach| !(0.0..=1.0).contains(reach)) {
            at.reader.error(
                Code::ImpossiblePlace,
                at.span_of("reach"),
                format!("a reach of {reach} is not on the coin"),
                "reach runs from 0 (centre) to 1 (rim)",
            );
            return None;
        }
        if let Some(landmark) = landmark {
            if ["face", "clock", "reach", "path", "area"].iter().any(|key| at.has(key)) {
                at.wrong(
                    "landmark",
                    "a landmark says the place already",
                    "leave out face, clock, reach, path and area",
                );
            }
            return Some(Place::Landmark(landmark));
        }
        let Some(face) = face else {
            if !at.has("face") {
                at.reader.error(
                    Code::ImpossiblePlace,
                    at.span,
                    "this place names no face",
                    "add face = \"obverse\", \"reverse\" or \"edge\", or write { landmark = \"date\" }",
                );
            }
            return None;
        };
        if path.is_some() || area.is_some() {
            return line(at, face, path, area, about);
        }
        let Some(face) = face else { return Some(Place::Edge) };
        match (clock?, to?, reach) {
            (None, None, None) => Some(Place::Face(face)),
            (Some(clock), None, Some(reach)) => Some(Place::Point { face, clock, reach, about }),
            (Some(from), Some(to), Some(reach)) => Some(Place::Arc { face, from, to, reach, about }),
            _ => {
                at.reader.error(
                    Code::ImpossiblePlace,
                    at.span,
                    "a place on a face needs both clock and reach, or neither",
                    "write { face = \"obverse\", clock = 4.5, reach = 0.8 }; reach 0 is the centre",
                );
                None
            }
        }
    }
}

/// `Some(None)` if the key is missing, `None` if its value is impossible.
fn hour(at: &mut Fields<'_, '_>, key: &'static str) -> Option<Option<f64>> {
    let Some(hour) = at.number(key) else { return if at.has(key) { None } else { Some(None) } };
    if (0.0..=12.0).contains(&hour) {
        return Some(Some(hour));
    }
    at.reader.error(
        Code::ImpossiblePlace,
        at.span_of(key),
        format!("{hour} o'clock is not on the dial"),
        "clock runs from 0 to 12, with 12 at the top; 7:30 is 7.5",
    );
    None
}

/// A line or a patch on a face, if nothing else says the place.
fn line(
    at: &Fields<'_, '_>,
    face: Option<Face>,
    path: Option<Vec<(f64, f64)>>,
    area: Option<Vec<(f64, f64)>>,
    about: bool,
) -> Option<Place> {
    let alone = !["clock", "to", "reach"].iter().any(|key| at.has(key));
    match (face, path, area) {
        (Some(face), Some(points), None) if alone => Some(Place::Path { face, points, about }),
        (Some(face), None, Some(points)) if alone => Some(Place::Area { face, points, about }),
        _ => {
            at.reader.error(
                Code::ImpossiblePlace,
                at.span,
                "a path or an area says the place on a face by itself",
                "write { face = \"reverse\", path = [[4.5, 0.8], [4.6, 1]] }, with one of path and area, and no clock, to or reach",
            );
            None
        }
    }
}

/// Clock and reach of each point of a list; `Some(None)` if the key is missing, `None` if it cannot be drawn.
fn points(at: &mut Fields<'_, '_>, key: &'static str, least: usize) -> Option<Option<Vec<(f64, f64)>>> {
    let Some(list) = at.array(key) else { return if at.has(key) { None } else { Some(None) } };
    let mut points = Vec::new();
    for item in list {
        let numbers: Vec<f64> =
            item.get_ref().as_array().into_iter().flatten().filter_map(|n| number_of(n.get_ref())).collect();
        match numbers[..] {
            [clock, reach] if (0.0..=12.0).contains(&clock) && (0.0..=1.0).contains(&reach) => {
                points.push((clock, reach));
            }
            _ => {
                at.reader.error(
                    Code::ImpossiblePlace,
                    at.reader.span(item.span()),
                    format!("this point of the {key} is not on the coin"),
                    "a point is [clock, reach]: clock 0 to 12, reach 0 (centre) to 1 (rim)",
                );
                return None;
            }
        }
    }
    if (least..=MOST_POINTS).contains(&points.len()) {
        return Some(Some(points));
    }
    at.reader.error(
        Code::ImpossiblePlace,
        at.span_of(key),
        format!("this {key} has {} point{}", points.len(), if points.len() == 1 { "" } else { "s" }),
        format!("give {least} to {MOST_POINTS} points: {key} = [[4.5, 0.8], [4.6, 1], …]"),
    );
    None
}
