//! The two faces of an issue with its pins, and what has no one place.

use serde::Serialize;

use super::photos::brief;
use super::site::Page;
use crate::corpus::{IssueView, PlacedCheck, ResolvedPlace};
use crate::entry::{Face, Issue, Landmark, LandmarkShape, LocalId, Place, Series};
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
            let label =
                format!("Look {number}: {}", questions.get(at).map_or(String::new(), |question| brief(question)));
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
        let date = Date::of_issue(view.issue);
        let mut of = |side, pins: &[Pin], whole| {
            let mut landmarks = landmarks(view.series, side, &date);
            landmarks.extend(mark(view, side));
            out.faces.push(face(landmarks, side, pins, whole));
        };
        of(Face::Obverse, &obverse, on_obverse);
        of(Face::Reverse, &reverse, on_reverse);
        out
    }

    /// The faces of a series, with the mint mark's places as pins.
    pub fn faces_of_series(&self, series: &Series) -> Vec<FaceView> {
        let mut pins: [Vec<Pin>; 2] = [Vec::new(), Vec::new()];
        for (at, place) in series.mark_places.iter().enumerate() {
            if let Some(Place::Point { face, clock, reach, about }) = &place.statement.place {
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
        let date = Date::Years(series.years.0, series.years.1);
        let of = |side, pins: &[Pin]| face(landmarks(series, side, &date), side, pins, Vec::new());
        vec![of(Face::Obverse, &pins[0]), of(Face::Reverse, &pins[1])]
    }
}

/// What stands where the date is.
enum Date<'a> {
    Year(i32),
    /// What the coin shows, if not the year.
    Words(&'a str),
    /// Of a series: what all its dates share, and dots for the rest.
    Years(i32, i32),
}

impl Date<'_> {
    fn of_issue(issue: &Issue) -> Date<'_> {
        issue.dated.as_deref().map_or(Date::Year(issue.row.year), Date::Words)
    }

    /// A drawn date as it is on these coins. The series draws one of its dates; a date in two halves is two landmarks.
    fn drawn(&self, landmark: &Landmark, text: &str) -> String {
        let numeral = |c: char| c.is_ascii_digit() || c == '·';
        let count = text.chars().filter(|c| numeral(*c)).count();
        let written = |year: i32| match count {
            0 => roman(year),
            _ => year.to_string(),
        };
        let is_roman = count == 0 && text.len() > 3 && text.chars().all(|c| "mdclxvi".contains(c));
        let date = match self {
            Date::Words(words) if count > 0 && words.chars().count() <= 12 => return (*words).to_string(),
            // Other numerals than ours, or more words than there is room for.
            Date::Words(_) => return text.to_string(),
            Date::Year(year) => written(*year),
            Date::Years(from, to) if from == to => written(*from),
            Date::Years(from, to) => {
                let (from, to) = (written(*from), written(*to));
                let shared = from.chars().zip(to.chars()).take_while(|(a, b)| a == b).count();
                let dots = if is_roman { 3 } else { from.len() - shared };
                from[..shared].to_string() + &"·".repeat(dots)
            }
        };
        if is_roman {
            return date;
        }
        let digits: Vec<char> = date.chars().collect();
        let mut digits = match count {
            4 => digits.iter(),
            2 if landmark.id.as_str() == "date" => digits[2..].iter(),
            2 => digits[..2].iter(),
            _ => return text.to_string(),
        };
        text.chars().map(|c| if numeral(c) { digits.next().copied().unwrap_or(c) } else { c }).collect()
    }
}

fn roman(year: i32) -> String {
    let signs = [
        (1000, "m"),
        (900, "cm"),
        (500, "d"),
        (400, "cd"),
        (100, "c"),
        (90, "xc"),
        (50, "l"),
        (40, "xl"),
        (10, "x"),
        (9, "ix"),
        (5, "v"),
        (4, "iv"),
        (1, "i"),
    ];
    let (mut left, mut out) = (year, String::new());
    for (value, sign) in signs {
        while left >= value {
            out.push_str(sign);
            left -= value;
        }
    }
    out
}

/// What the series draws on one face, with the date of these coins.
fn landmarks(series: &Series, side: Face, date: &Date<'_>) -> Vec<Landmark> {
    let mut out: Vec<Landmark> = series.landmarks.iter().filter(|landmark| landmark.face == side).cloned().collect();
    for landmark in out.iter_mut().filter(|landmark| matches!(landmark.id.as_str(), "date" | "date-left")) {
        let dated = match &landmark.shape {
            LandmarkShape::Text { text, .. } | LandmarkShape::Arc { text, .. } => date.drawn(landmark, text),
            LandmarkShape::Path(_) => continue,
        };
        if let LandmarkShape::Text { text, .. } | LandmarkShape::Arc { text, .. } = &mut landmark.shape {
            *text = dated;
        }
    }
    out
}

/// The issue's mint mark at its place, where the series does not draw it.
fn mark(view: &IssueView<'_>, side: Face) -> Option<Landmark> {
    let row = &view.issue.row;
    let drawn = view.series.landmarks.iter().any(|landmark| landmark.id.as_str() == "mint-mark");
    let place = view.series.mark_place(row.year)?.statement.place.as_ref()?;
    let &Place::Point { face, clock, reach, .. } = place else { return None };
    if drawn || face != side || row.mint.is_empty() || row.mint.chars().count() > 2 {
        return None;
    }
    let shape = LandmarkShape::Text { text: row.mint.clone(), clock, reach, size: 0.08 };
    Some(Landmark { id: LocalId::parse("mint-mark")?, face: side, shape })
}

fn face(landmarks: Vec<Landmark>, side: Face, pins: &[Pin], whole: Vec<Number>) -> FaceView {
    let name = if side == Face::Obverse { "Obverse" } else { "Reverse" };
    let numbers: Vec<String> = pins.iter().map(|pin| pin.number.to_string()).collect();
    let label = match numbers[..] {
        [] => name.to_string(),
        _ => format!("{name}, with places {}", numbers.join(", ")),
    };
    FaceView { name, svg_html: figure::disc(&Disc { label, landmarks, pins }), whole }
}
