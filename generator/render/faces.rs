//! The two faces of an issue with its pins, and what has no one place.

use serde::Serialize;

use super::site::Page;
use crate::corpus::{IssueView, PlacedCheck, ResolvedPlace};
use crate::entry::{Face, Landmark, Series};
use crate::figure::{self, Disc, Pin, Spot};

#[derive(Serialize)]
pub struct FaceView {
    pub name: &'static str,
    pub svg_html: String,
    /// Numbers of the checks that are about the whole face.
    pub whole: Vec<Number>,
}

#[derive(Serialize)]
pub struct Number {
    pub number: usize,
    pub href: String,
}

/// Both faces, and the numbers of checks on the edge and of those without a place.
#[derive(Serialize)]
pub struct Faces {
    pub faces: Vec<FaceView>,
    pub edge: Vec<Number>,
    pub elsewhere: Vec<Number>,
}

impl<'a> Page<'a> {
    /// `looks` are the numbered checks, in order.
    pub fn faces_of(&self, view: &IssueView<'_>, looks: &[&PlacedCheck<'_>], questions: &[String]) -> Faces {
        let (mut obverse, mut reverse) = (Vec::new(), Vec::new());
        let mut out = Faces { faces: Vec::new(), edge: Vec::new(), elsewhere: Vec::new() };
        let mut whole: [Vec<Number>; 2] = [Vec::new(), Vec::new()];
        for (at, placed) in looks.iter().enumerate() {
            let number = at + 1;
            let href = format!("#{}", placed.check.id);
            let label = format!("Look {number}: {}", questions.get(at).map_or("", String::as_str));
            let mut pin = |face: &Face, at: Spot, about: bool| {
                let on = if *face == Face::Obverse { &mut obverse } else { &mut reverse };
                on.push(Pin { number, at, about, href: href.clone(), label: label.clone() });
            };
            match &placed.place {
                ResolvedPlace::Point { face, clock, reach, about } => {
                    pin(face, Spot::Point { clock: *clock, reach: *reach }, *about);
                }
                ResolvedPlace::Arc { face, from, to, reach, about } => {
                    pin(face, Spot::Arc { from: *from, to: *to, reach: *reach }, *about);
                }
                ResolvedPlace::Path { face, points, about } => pin(face, Spot::Path(points.clone()), *about),
                ResolvedPlace::Area { face, points, about } => pin(face, Spot::Area(points.clone()), *about),
                ResolvedPlace::Face(face) => whole[usize::from(*face == Face::Reverse)].push(Number { number, href }),
                ResolvedPlace::Edge => out.edge.push(Number { number, href }),
                ResolvedPlace::Landmark(_) | ResolvedPlace::None => out.elsewhere.push(Number { number, href }),
            }
        }
        let [on_obverse, on_reverse] = whole;
        out.faces.push(face(view.series, Face::Obverse, &obverse, on_obverse));
        out.faces.push(face(view.series, Face::Reverse, &reverse, on_reverse));
        out
    }

    /// The faces of a series, with the mint mark's places as pins.
    pub fn faces_of_series(&self, series: &Series) -> Vec<FaceView> {
        let mut pins: [Vec<Pin>; 2] = [Vec::new(), Vec::new()];
        for (at, place) in series.mark_places.iter().enumerate() {
            if let Some(crate::entry::Place::Point { face, clock, reach, about }) = &place.statement.place {
                let label = format!("Place {} of the mint mark, {} to {}", at + 1, place.from, place.to);
                let href = format!("#mark-{}", at + 1);
                let spot = Spot::Point { clock: *clock, reach: *reach };
                let pin = Pin { number: at + 1, at: spot, about: *about, href, label };
                pins[usize::from(*face == Face::Reverse)].push(pin);
            }
        }
        if series.landmarks.is_empty() && pins.iter().all(Vec::is_empty) {
            return Vec::new();
        }
        vec![face(series, Face::Obverse, &pins[0], Vec::new()), face(series, Face::Reverse, &pins[1], Vec::new())]
    }
}

fn face(series: &Series, side: Face, pins: &[Pin], whole: Vec<Number>) -> FaceView {
    let landmarks: Vec<&Landmark> = series.landmarks.iter().filter(|landmark| landmark.face == side).collect();
    let name = if side == Face::Obverse { "Obverse" } else { "Reverse" };
    let numbers: Vec<String> = pins.iter().map(|pin| pin.number.to_string()).collect();
    let label = match numbers[..] {
        [] => name.to_string(),
        _ => format!("{name}, with places {}", numbers.join(", ")),
    };
    FaceView { name, svg_html: figure::disc(&Disc { label, landmarks, pins }), whole }
}
