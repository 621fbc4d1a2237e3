//! One face of a coin with its landmarks, numbered pins, and the lines and areas they stand for.

use std::f64::consts::TAU;
use std::fmt::Write;

use super::pins::spread;
use super::{escape, n};
use crate::entry::{Landmark, LandmarkShape};

/// Radius of the rim in drawing units.
pub(super) const RIM: f64 = 100.0;
/// Radius of a pin's number, as the stylesheet has it.
pub(super) const PIN: f64 = 9.4;
/// Radius of the ring about the place that a pin stands for: what is there is seen in it.
pub(super) const PLACE: f64 = 5.0;

/// A numbered place.
#[derive(Clone, Debug, PartialEq)]
pub struct Pin {
    pub number: usize,
    pub at: Spot,
    pub about: bool,
    /// What the number leads to, and its words.
    pub href: String,
    pub label: String,
}

/// What a pin stands for: clock hours 0 to 12, reach from 0 (centre) to 1 (rim).
#[derive(Clone, Debug, PartialEq)]
pub enum Spot {
    Point {
        clock: f64,
        reach: f64,
    },
    /// Clockwise.
    Arc {
        from: f64,
        to: f64,
        reach: f64,
    },
    /// A line through points of clock and reach, such as a crack.
    Path(Vec<(f64, f64)>),
    /// What a line through such points encloses.
    Area(Vec<(f64, f64)>),
}

/// Everything on one face.
pub struct Disc<'a> {
    pub label: String,
    pub landmarks: Vec<Landmark>,
    pub pins: &'a [Pin],
}

/// Clock hour and reach → x to the right and y down, the rim at 1.
pub fn point(clock: f64, reach: f64) -> (f64, f64) {
    let angle = clock / 12.0 * TAU;
    (reach * angle.sin(), -reach * angle.cos())
}

/// The other way round: clock hour and reach.
pub fn dial((x, y): (f64, f64)) -> (f64, f64) {
    (x.atan2(-y).rem_euclid(TAU) / TAU * 12.0, x.hypot(y))
}

/// The face as SVG. Pins stand beside what they are about, with a line to it.
pub fn disc(disc: &Disc<'_>) -> String {
    let mut out = String::new();
    let _ = write!(
        out,
        "<svg class=\"disc\" viewBox=\"-118 -118 236 236\" role=\"group\" aria-label=\"{}\"><circle class=\"rim\" r=\"{RIM}\"/><circle class=\"beads\" r=\"94.5\"/>",
        escape(&disc.label)
    );
    // The hours as dashes of two rings: a twelfth of one apart, and longer at each quarter.
    out.push_str("<circle class=\"tick\" r=\"101.5\" pathLength=\"12\"/><circle class=\"tick quarter\" r=\"104.5\" pathLength=\"4\"/>");
    let mut arcs = 0;
    let mut devices = String::new();
    for landmark in &disc.landmarks {
        match &landmark.shape {
            LandmarkShape::Path(d) => devices.push_str(&close(d)),
            _ => draw_landmark(landmark, &mut arcs, &mut out),
        }
    }
    if !devices.is_empty() {
        let _ = write!(out, "<path class=\"device\" transform=\"scale({RIM})\" d=\"{}\"/>", escape(&devices));
    }
    let spots = spread(disc);
    let (mut leads, mut places) = (String::new(), Vec::new());
    for (pin, spot) in disc.pins.iter().zip(&spots) {
        draw_spot(&pin.at, &mut out);
        let (x, y) = anchor(&pin.at);
        let long = (spot.0 - x).hypot(spot.1 - y).max(1e-6);
        let to = ((spot.0 - x) / long, (spot.1 - y) / long);
        let (from, ring) = clear_of(disc, &pin.at, to);
        let _ = write!(leads, "M{} {}L{} {}", n(x + to.0 * from), n(y + to.1 * from), n(spot.0), n(spot.1));
        let place = format!("cx=\"{}\" cy=\"{}\"", n(x), n(y));
        if ring && !places.contains(&place) {
            let _ = write!(out, "<circle class=\"spot\" {place} r=\"{PLACE}\"/>");
            places.push(place);
        }
    }
    if !leads.is_empty() {
        let _ = write!(out, "<path class=\"lead\" d=\"{leads}\"/>");
    }
    for (pin, (x, y)) in disc.pins.iter().zip(&spots) {
        let about = if pin.about { " about" } else { "" };
        let _ = write!(
            out,
            "<a href=\"{}\" aria-label=\"{}\"><g class=\"pin{about}\" data-pin=\"{}\"><circle cx=\"{}\" cy=\"{}\"/><text x=\"{}\" y=\"{}\">{}</text></g></a>",
            escape(&pin.href),
            escape(&pin.label),
            pin.number,
            n(*x),
            n(*y),
            n(*x),
            n(y + 3.2),
            pin.number
        );
    }
    out.push_str("</svg>");
    out
}

/// How far from its place a pin's line begins, in a direction, and whether a ring marks the place: at the edge of a date
/// or a letter drawn there, else at the ring; a line and an area are touched.
fn clear_of(disc: &Disc<'_>, spot: &Spot, to: (f64, f64)) -> (f64, bool) {
    let Spot::Point { clock, reach } = spot else { return (0.0, false) };
    let here = point(*clock, *reach);
    for landmark in &disc.landmarks {
        let LandmarkShape::Text { text, clock, reach, size } = &landmark.shape else { continue };
        let there = point(*clock, *reach);
        if (here.0 - there.0).hypot(here.1 - there.1) < 0.02 {
            let wide = 0.26 * size * RIM * text.chars().count() as f64 + 1.5;
            let high = 0.4 * size * RIM + 1.5;
            return ((wide / to.0.abs().max(1e-6)).min(high / to.1.abs().max(1e-6)), false);
        }
    }
    (PLACE, true)
}

fn draw_landmark(landmark: &Landmark, arcs: &mut usize, out: &mut String) {
    match &landmark.shape {
        LandmarkShape::Text { text, clock, reach, size } => {
            let (x, y) = point(*clock, reach * RIM);
            let size = size * RIM;
            let _ = write!(
                out,
                "<text class=\"mark\" font-size=\"{}\" x=\"{}\" y=\"{}\">{}</text>",
                n(size),
                n(x),
                n(y + size * 0.35),
                escape(text)
            );
        }
        LandmarkShape::Arc { text, from, to, reach, size } => {
            *arcs += 1;
            let face = landmark.face.word();
            let size = size * RIM;
            let run = (to - from).rem_euclid(12.0);
            let middle = (from + run / 2.0).rem_euclid(12.0);
            // Letters in the lower half stand with their feet towards the rim, as most legends there do.
            let lower = (3.0..9.0).contains(&middle) && run < 6.0;
            let radius = if lower { reach * RIM + size * 0.35 } else { reach * RIM - size * 0.35 };
            let ((x1, y1), (x2, y2)) = if lower {
                (point(*to, radius), point(*from, radius))
            } else {
                (point(*from, radius), point(*to, radius))
            };
            let large = u8::from(run > 6.0);
            let sweep = u8::from(!lower);
            let length = run / 12.0 * TAU * radius;
            let _ = write!(
                out,
                "<path id=\"{face}-arc-{arcs}\" class=\"none\" d=\"M{} {}A{r} {r} 0 {large} {sweep} {} {}\"/><text class=\"mark\" font-size=\"{}\"><textPath href=\"#{face}-arc-{arcs}\" startOffset=\"50%\" textLength=\"{}\">{}</textPath></text>",
                n(x1),
                n(y1),
                n(x2),
                n(y2),
                n(size),
                n(length * 0.94),
                escape(text),
                r = n(radius)
            );
        }
        // Drawn together with the others.
        LandmarkShape::Path(_) => {}
    }
}

/// A path without what it does not need: spaces before letters, and noughts before points. Where it begins with `m`, it
/// begins at the centre, also after another path.
fn close(d: &str) -> String {
    let mut out = String::from(if d.trim().starts_with('m') { "M0 0" } else { "" });
    let mut letters = d.trim().chars().peekable();
    while let Some(c) = letters.next() {
        let next = letters.peek().copied().unwrap_or(' ');
        let before = out.chars().last().unwrap_or(' ');
        let nought = c == '0' && next == '.' && !before.is_ascii_digit() && before != '.';
        let space = c.is_whitespace() && (next.is_whitespace() || next.is_ascii_alphabetic());
        if !nought && !space {
            out.push(c);
        }
    }
    out
}

fn draw_spot(spot: &Spot, out: &mut String) {
    let _ = match spot {
        Spot::Point { .. } => Ok(()),
        Spot::Path(points) => write!(out, "<path class=\"crack\" d=\"{}\"/>", line(points)),
        Spot::Area(points) => write!(out, "<path class=\"area\" d=\"{}Z\"/>", line(points)),
        Spot::Arc { from, to, reach } => {
            let radius = reach * RIM;
            let run = (to - from).rem_euclid(12.0);
            if run < 0.05 {
                write!(out, "<circle class=\"reach\" r=\"{}\"/>", n(radius))
            } else {
                let ((x1, y1), (x2, y2)) = (point(*from, radius), point(*to, radius));
                let large = u8::from(run > 6.0);
                let (x1, y1, x2, y2, r) = (n(x1), n(y1), n(x2), n(y2), n(radius));
                write!(out, "<path class=\"reach\" d=\"M{x1} {y1}A{r} {r} 0 {large} 1 {x2} {y2}\"/>")
            }
        }
    };
}

/// Straight from point to point.
fn line(points: &[(f64, f64)]) -> String {
    let mut d = String::new();
    for (at, (clock, reach)) in points.iter().enumerate() {
        let (x, y) = point(*clock, reach * RIM);
        let _ = write!(d, "{}{} {}", if at == 0 { 'M' } else { 'L' }, n(x), n(y));
    }
    d
}

/// Where a pin points: its place, the middle of its arc or line, or the midst of its area; on the scale of [`point`].
pub fn midst(spot: &Spot) -> (f64, f64) {
    match spot {
        Spot::Point { clock, reach } => point(*clock, *reach),
        Spot::Arc { from, to, reach } => point(from + (to - from).rem_euclid(12.0) / 2.0, *reach),
        Spot::Path(points) => halfway(&flat(points)),
        Spot::Area(points) => {
            let flat = flat(points);
            let (x, y) = flat.iter().fold((0.0, 0.0), |(x, y), point| (x + point.0, y + point.1));
            (x / flat.len() as f64, y / flat.len() as f64)
        }
    }
}

pub(super) fn flat(points: &[(f64, f64)]) -> Vec<(f64, f64)> {
    points.iter().map(|(clock, reach)| point(*clock, *reach)).collect()
}

/// The point that halves a line's length.
fn halfway(points: &[(f64, f64)]) -> (f64, f64) {
    let length = |pair: &[(f64, f64)]| (pair[1].0 - pair[0].0).hypot(pair[1].1 - pair[0].1);
    let mut left = points.windows(2).map(length).sum::<f64>() / 2.0;
    for pair in points.windows(2) {
        let step = length(pair);
        if left <= step && step > 0.0 {
            let share = left / step;
            return (pair[0].0 + (pair[1].0 - pair[0].0) * share, pair[0].1 + (pair[1].1 - pair[0].1) * share);
        }
        left -= step;
    }
    points.first().copied().unwrap_or_default()
}

pub(super) fn anchor(spot: &Spot) -> (f64, f64) {
    let (x, y) = midst(spot);
    (x * RIM, y * RIM)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pin(number: usize, clock: f64, reach: f64) -> Pin {
        let at = Spot::Point { clock, reach };
        Pin { number, at, about: false, href: format!("#{number}"), label: number.to_string() }
    }

    #[test]
    fn the_clock_runs_clockwise_from_the_top() {
        let near = |a: (f64, f64), b: (f64, f64)| (a.0 - b.0).abs() < 1e-12 && (a.1 - b.1).abs() < 1e-12;
        assert!(near(point(0.0, 1.0), (0.0, -1.0)));
        assert!(near(point(12.0, 1.0), (0.0, -1.0)));
        assert!(near(point(3.0, 0.5), (0.5, 0.0)));
        assert!(near(point(6.0, 1.0), (0.0, 1.0)));
        assert!(near(point(9.0, 1.0), (-1.0, 0.0)));
    }

    /// The points of the path of a class, on the scale of clock and reach.
    fn drawn(svg: &str, class: &str) -> Vec<(f64, f64)> {
        let (_, rest) = svg.split_once(&format!("class=\"{class}\" d=\"")).unwrap();
        let d = rest.split('"').next().unwrap().trim_end_matches('Z');
        let places = d[1..].split('L').map(|pair| {
            let (x, y) = pair.split_once(' ').unwrap();
            let (x, y): (f64, f64) = (x.parse().unwrap(), y.parse().unwrap());
            dial((x / RIM, y / RIM))
        });
        places.collect()
    }

    #[test]
    fn a_crack_and_an_area_go_through_the_points_given() {
        let points = vec![(4.2, 0.55), (4.4, 0.8), (4.6, 1.0)];
        for (spot, class) in [(Spot::Path(points.clone()), "crack"), (Spot::Area(points.clone()), "area")] {
            let pins = [Pin { at: spot, ..pin(1, 0.0, 0.0) }];
            let svg = disc(&Disc { label: String::new(), landmarks: Vec::new(), pins: &pins });
            for (given, got) in points.iter().zip(drawn(&svg, class)) {
                assert!((given.0 - got.0).abs() < 0.01 && (given.1 - got.1).abs() < 0.002, "{given:?} is {got:?}");
            }
        }
    }

    #[test]
    fn paths_of_landmarks_lose_only_what_they_do_not_need() {
        assert_eq!(close("M-0.48,-0.02 C-0.26,0.1 10.05,0 0.4,0.5 Z"), "M-.48,-.02C-.26,.1 10.05,0 .4,.5Z");
        assert_eq!(close("m0.1 0.2 l1 0"), "M0 0m.1 .2l1 0");
    }

    #[test]
    fn a_line_is_pinned_at_the_half_of_its_length() {
        let (x, y) = midst(&Spot::Path(vec![(3.0, 0.0), (3.0, 0.2), (3.0, 1.0)]));
        assert!((x - 0.5).abs() < 1e-9 && y.abs() < 1e-9);
        let (x, y) = midst(&Spot::Area(vec![(0.0, 0.5), (3.0, 0.5), (6.0, 0.5), (9.0, 0.5)]));
        assert!(x.abs() < 1e-9 && y.abs() < 1e-9);
    }
}
