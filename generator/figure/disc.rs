//! One face of a coin with its landmarks and numbered pins.

use std::f64::consts::TAU;
use std::fmt::Write;

use super::{escape, n};
use crate::entry::{Landmark, LandmarkShape};

/// Radius of the rim in drawing units.
const RIM: f64 = 100.0;
/// Radius of a pin's number.
const PIN: f64 = 8.6;

/// A numbered place.
#[derive(Clone, Debug, PartialEq)]
pub struct Pin {
    pub number: usize,
    /// Clock hours, 0 to 12.
    pub clock: f64,
    /// For an arc: where it ends, clockwise.
    pub to: Option<f64>,
    /// 0 centre, 1 rim.
    pub reach: f64,
    pub about: bool,
    /// What the number leads to, and its words.
    pub href: String,
    pub label: String,
}

/// Everything on one face.
pub struct Disc<'a> {
    pub label: String,
    pub landmarks: Vec<&'a Landmark>,
    pub pins: &'a [Pin],
}

/// Clock hour and reach → x to the right and y down, the rim at 1.
pub fn point(clock: f64, reach: f64) -> (f64, f64) {
    let angle = clock / 12.0 * TAU;
    (reach * angle.sin(), -reach * angle.cos())
}

/// The face as SVG. Pins keep apart from each other; a moved one keeps a line to its place.
pub fn disc(disc: &Disc<'_>) -> String {
    let mut out = String::new();
    let _ = write!(
        out,
        "<svg class=\"disc\" viewBox=\"-110 -110 220 220\" role=\"group\" aria-label=\"{}\"><circle class=\"rim\" r=\"{RIM}\"/><circle class=\"beads\" r=\"94.5\"/>",
        escape(&disc.label)
    );
    for hour in 0..12 {
        let (x1, y1) = point(f64::from(hour), 100.0);
        let (x2, y2) = point(f64::from(hour), if hour % 3 == 0 { 106.0 } else { 103.0 });
        let _ = write!(out, "<path class=\"tick\" d=\"M{} {}L{} {}\"/>", n(x1), n(y1), n(x2), n(y2));
    }
    let mut arcs = 0;
    for landmark in &disc.landmarks {
        draw_landmark(landmark, &mut arcs, &mut out);
    }
    let spots = spread(disc.pins);
    for (pin, spot) in disc.pins.iter().zip(&spots) {
        draw_arc(pin, &mut out);
        let (x, y) = anchor(pin);
        if (spot.0 - x).hypot(spot.1 - y) > 2.0 {
            let _ = write!(
                out,
                "<path class=\"lead\" d=\"M{} {}L{} {}\"/><circle class=\"spot\" cx=\"{}\" cy=\"{}\" r=\"1.8\"/>",
                n(x),
                n(y),
                n(spot.0),
                n(spot.1),
                n(x),
                n(y)
            );
        }
    }
    for (pin, (x, y)) in disc.pins.iter().zip(&spots) {
        let about = if pin.about { " about" } else { "" };
        let _ = write!(
            out,
            "<a href=\"{}\" aria-label=\"{}\"><g class=\"pin{about}\" data-pin=\"{}\"><circle cx=\"{}\" cy=\"{}\" r=\"{PIN}\"/><text x=\"{}\" y=\"{}\">{}</text></g></a>",
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
        LandmarkShape::Path(d) => {
            let _ = write!(out, "<path class=\"device\" transform=\"scale({RIM})\" d=\"{}\"/>", escape(d));
        }
    }
}

fn draw_arc(pin: &Pin, out: &mut String) {
    let Some(to) = pin.to else { return };
    let radius = pin.reach * RIM;
    let ((x1, y1), (x2, y2)) = (point(pin.clock, radius), point(to, radius));
    let run = (to - pin.clock).rem_euclid(12.0);
    if run < 0.05 {
        let _ = write!(out, "<circle class=\"reach\" r=\"{}\"/>", n(radius));
        return;
    }
    let large = u8::from(run > 6.0);
    let _ = write!(
        out,
        "<path class=\"reach\" d=\"M{} {}A{r} {r} 0 {large} 1 {} {}\"/>",
        n(x1),
        n(y1),
        n(x2),
        n(y2),
        r = n(radius)
    );
}

/// Where a pin points: its place, or the middle of its arc.
fn anchor(pin: &Pin) -> (f64, f64) {
    let clock = pin.to.map_or(pin.clock, |to| pin.clock + (to - pin.clock).rem_euclid(12.0) / 2.0);
    point(clock, pin.reach * RIM)
}

/// Moves overlapping numbers apart, the same way every time, and keeps them on the coin.
fn spread(pins: &[Pin]) -> Vec<(f64, f64)> {
    let anchors: Vec<(f64, f64)> = pins.iter().map(anchor).collect();
    // Equal places are parted along a small spiral first: a push needs a direction.
    let mut spots: Vec<(f64, f64)> = anchors
        .iter()
        .enumerate()
        .map(|(at, (x, y))| {
            let turn = at as f64 * 2.399_963;
            (x + turn.cos() * 0.6, y + turn.sin() * 0.6)
        })
        .collect();
    for _ in 0..120 {
        for a in 0..spots.len() {
            for b in a + 1..spots.len() {
                let (dx, dy) = (spots[b].0 - spots[a].0, spots[b].1 - spots[a].1);
                let gap = dx.hypot(dy).max(0.01);
                let push = (2.0 * PIN + 1.6 - gap) / 2.0;
                if push > 0.0 {
                    let (ux, uy) = (dx / gap * push, dy / gap * push);
                    spots[a].0 -= ux;
                    spots[a].1 -= uy;
                    spots[b].0 += ux;
                    spots[b].1 += uy;
                }
            }
        }
        for (spot, home) in spots.iter_mut().zip(&anchors) {
            spot.0 += (home.0 - spot.0) * 0.04;
            spot.1 += (home.1 - spot.1) * 0.04;
            let out = spot.0.hypot(spot.1);
            if out > RIM - PIN {
                let back = (RIM - PIN) / out;
                *spot = (spot.0 * back, spot.1 * back);
            }
        }
    }
    spots
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pin(number: usize, clock: f64, reach: f64) -> Pin {
        Pin { number, clock, to: None, reach, about: false, href: format!("#{number}"), label: number.to_string() }
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

    #[test]
    fn pins_at_one_place_do_not_cover_each_other() {
        let pins: Vec<Pin> = (1..=6).map(|number| pin(number, 6.0, 0.95)).collect();
        let spots = spread(&pins);
        for a in 0..spots.len() {
            assert!(spots[a].0.hypot(spots[a].1) <= RIM - PIN + 1e-6);
            for b in a + 1..spots.len() {
                assert!((spots[a].0 - spots[b].0).hypot(spots[a].1 - spots[b].1) > PIN * 1.8);
            }
        }
    }
}
