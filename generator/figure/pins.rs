//! Where the numbers on a disc stand: beside what they are about, off the lettering, and not on each other. What a pin
//! is about is what the examiner wants to see there.

use std::f64::consts::TAU;

use super::disc::{Disc, PIN, PLACE, RIM, Spot, anchor, flat, point};
use crate::entry::{Landmark, LandmarkShape};

type At = (f64, f64);

/// How far from its place a pin may stand, and into how many directions it is tried.
const AWAY: [f64; 8] = [16.0, 20.0, 25.0, 31.0, 38.0, 47.0, 58.0, 72.0];
const TURNS: usize = 28;
/// Farthest from the centre: outside the rim, and still on the drawing.
const FARTHEST: f64 = RIM + 8.0;
/// Room between two numbers.
const ROOM: f64 = 2.0 * PIN + 1.6;

/// Places of the pins, the same for the same disc. Each is tried around its place, then all again in view of the others.
pub(super) fn spread(disc: &Disc<'_>) -> Vec<At> {
    let homes: Vec<At> = disc.pins.iter().map(|pin| anchor(&pin.at)).collect();
    let kept_clear = kept_clear(disc);
    let choices: Vec<Vec<(f64, At)>> = homes.iter().map(|home| choices(*home, &kept_clear)).collect();
    let mut spots: Vec<Option<At>> = vec![None; homes.len()];
    for _ in 0..3 {
        for at in 0..homes.len() {
            let mut best: (f64, At) = (f64::INFINITY, homes[at]);
            for (cost, spot) in &choices[at] {
                // They come cheapest first.
                if *cost >= best.0 {
                    break;
                }
                let all = cost + beside_others(at, *spot, &homes, &spots);
                if all < best.0 {
                    best = (all, *spot);
                }
            }
            spots[at] = Some(best.1);
        }
    }
    spots.into_iter().zip(homes).map(|(spot, home)| spot.unwrap_or(home)).collect()
}

/// Where a pin may stand, with what each place costs whatever the other pins do.
fn choices(home: At, kept_clear: &[(At, f64)]) -> Vec<(f64, At)> {
    let mut out = Vec::new();
    let outwards = home.1.atan2(home.0);
    for away in AWAY {
        for turn in 0..TURNS {
            let angle = outwards + turn as f64 / TURNS as f64 * TAU;
            let spot = (home.0 + away * angle.cos(), home.1 + away * angle.sin());
            let from_centre = spot.0.hypot(spot.1);
            if from_centre > FARTHEST {
                continue;
            }
            let hidden: f64 = kept_clear.iter().map(|(at, radius)| (PIN + radius - gap(*at, spot)).max(0.0)).sum();
            // The rim is a line of its own: half outside is worse than outside.
            let on_rim = (PIN - (from_centre - RIM).abs()).clamp(0.0, 4.0);
            out.push((away - 0.12 * from_centre + 6.0 * hidden + on_rim, spot));
        }
    }
    out.sort_by(|a, b| a.0.total_cmp(&b.0));
    out
}

/// What a place costs beside the pins that stand already: on one, its line under one, two lines across each other.
fn beside_others(at: usize, spot: At, homes: &[At], spots: &[Option<At>]) -> f64 {
    let mut cost = 0.0;
    for (other, stands) in spots.iter().enumerate() {
        let Some(stands) = stands.filter(|_| other != at) else { continue };
        cost += 400.0 * (ROOM - gap(spot, stands)).max(0.0);
        cost += 14.0 * (PIN + 1.0 - off_line(stands, homes[at], spot)).max(0.0);
        cost += 14.0 * (PIN + 1.0 - off_line(spot, homes[other], stands)).max(0.0);
        if homes[at] != homes[other] && cross(homes[at], spot, homes[other], stands) {
            cost += 30.0;
        }
    }
    cost
}

/// Discs that numbers should leave free: lettering, and all that pins are about.
fn kept_clear(disc: &Disc<'_>) -> Vec<(At, f64)> {
    let mut out: Vec<(At, f64)> =
        disc.landmarks.iter().flat_map(lettering).map(|(at, radius)| (at, radius + 2.0)).collect();
    for pin in disc.pins {
        match &pin.at {
            Spot::Point { .. } => out.push((anchor(&pin.at), PLACE)),
            Spot::Arc { .. } => out.push((anchor(&pin.at), 4.0)),
            Spot::Path(points) | Spot::Area(points) => {
                let flat = flat(points);
                for pair in flat.windows(2) {
                    out.extend([0.0, 0.5, 1.0].map(|share| (along(pair[0], pair[1], share), 2.0)));
                }
            }
        }
    }
    out
}

/// The letters of a landmark as discs along its line.
pub(super) fn lettering(landmark: &Landmark) -> Vec<(At, f64)> {
    match &landmark.shape {
        LandmarkShape::Text { text, clock, reach, size } => {
            let (x, y) = point(*clock, reach * RIM);
            let (size, count) = (size * RIM, text.chars().count());
            let wide = size * 0.52;
            let first = x - wide * (count as f64 - 1.0) / 2.0;
            (0..count).map(|letter| ((first + wide * letter as f64, y), size * 0.45)).collect()
        }
        LandmarkShape::Arc { from, to, reach, size, .. } => {
            let run = (to - from).rem_euclid(12.0);
            let steps = (run / 12.0 * TAU * reach / size.max(0.02)).ceil().max(1.0);
            let at = |step: usize| point(from + run * step as f64 / steps, reach * RIM);
            (0..=steps as usize).map(|step| (at(step), size * RIM * 0.5)).collect()
        }
        LandmarkShape::Path(_) => Vec::new(),
    }
}

fn along(a: At, b: At, share: f64) -> At {
    ((a.0 + (b.0 - a.0) * share) * RIM, (a.1 + (b.1 - a.1) * share) * RIM)
}

fn gap(a: At, b: At) -> f64 {
    (a.0 - b.0).hypot(a.1 - b.1)
}

/// How far a point is off the line between two others.
fn off_line(point: At, a: At, b: At) -> f64 {
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let share = ((point.0 - a.0) * dx + (point.1 - a.1) * dy) / (dx * dx + dy * dy).max(1e-9);
    let share = share.clamp(0.0, 1.0);
    gap(point, (a.0 + dx * share, a.1 + dy * share))
}

fn cross(a: At, b: At, c: At, d: At) -> bool {
    let side = |p: At, q: At, r: At| (q.0 - p.0) * (r.1 - p.1) - (q.1 - p.1) * (r.0 - p.0) > 0.0;
    side(a, b, c) != side(a, b, d) && side(c, d, a) != side(c, d, b)
}

#[cfg(test)]
mod tests {
    use super::super::disc::Pin;
    use super::*;
    use crate::entry::Face;

    fn pins(spots: &[Spot]) -> Vec<Pin> {
        let pin = |(at, spot): (usize, &Spot)| Pin {
            number: at + 1,
            at: spot.clone(),
            about: false,
            href: String::new(),
            label: String::new(),
        };
        spots.iter().enumerate().map(pin).collect()
    }

    fn landmark(shape: LandmarkShape) -> Landmark {
        Landmark { id: crate::entry::LocalId::parse("date").unwrap(), face: Face::Obverse, shape }
    }

    /// A date below a device and a legend around it, and five looks at the date, as most coins have it.
    #[test]
    fn pins_leave_the_date_the_legend_and_each_other_free() {
        let date = LandmarkShape::Text { text: "1893".into(), clock: 6.0, reach: 0.82, size: 0.13 };
        let legend = LandmarkShape::Arc { text: "A LEGEND".into(), from: 8.0, to: 4.0, reach: 0.86, size: 0.11 };
        let spot = |clock, reach| Spot::Point { clock, reach };
        let spots: Vec<Spot> =
            [(6.0, 0.82); 5].iter().chain(&[(6.3, 0.8), (9.0, 0.5), (12.0, 0.9)]).map(|(c, r)| spot(*c, *r)).collect();
        let pins = pins(&spots);
        let disc = Disc { label: String::new(), landmarks: vec![landmark(date), landmark(legend)], pins: &pins };
        let placed = spread(&disc);
        let letters: Vec<(At, f64)> = disc.landmarks.iter().flat_map(lettering).collect();
        assert!(letters.len() > 20);
        for (at, spot) in placed.iter().enumerate() {
            assert!(spot.0.hypot(spot.1) + PIN <= 118.0, "{spot:?} is off the drawing");
            for (letter, radius) in &letters {
                assert!(
                    gap(*letter, *spot) > PIN + radius - 1.5,
                    "pin {} at {spot:?} hides a letter at {letter:?}",
                    at + 1
                );
            }
            for pin in &pins {
                assert!(gap(anchor(&pin.at), *spot) >= PIN + PLACE - 0.5, "pin {} hides a place", at + 1);
            }
            for other in &placed[at + 1..] {
                assert!(gap(*spot, *other) >= 2.0 * PIN, "pins lie on each other at {spot:?}");
            }
        }
    }

    #[test]
    fn a_pin_stands_beside_its_line_and_not_on_it() {
        let points = vec![(4.2, 0.6), (4.5, 0.8), (4.6, 1.0)];
        let pins = pins(&[Spot::Path(points.clone())]);
        let placed = spread(&Disc { label: String::new(), landmarks: Vec::new(), pins: &pins });
        for pair in points.windows(2) {
            let [a, b] = [pair[0], pair[1]].map(|(clock, reach)| point(clock, reach * RIM));
            assert!(off_line(placed[0], a, b) > PIN, "the pin at {placed:?} covers its line");
        }
    }
}
