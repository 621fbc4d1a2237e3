//! What was done to a coin after it was struck, or to a false die before: the marks that an examiner looks for.

use super::half_mark::{DATE, PUNCHED};
use super::letters::Sign;
use super::numbers::{P, bell, cloud, hash, noise, step};
use super::relief::{Foot, Relief, blur};
use super::shape::{Shape, bar, taper};

/// A letter cut out elsewhere and cemented on: rubbed ring, open joint, beads of cement, tracks of the stone on top.
pub fn cement_on(relief: &mut Relief, sign: &Sign) {
    let glyph = sign.shape();
    let (low, high) = glyph.bounds();
    let smooth = blur(&relief.z, relief.w, relief.h, (0.055 / relief.window.step).round() as usize);
    let (from, pitch, w) = (relief.window.low, relief.window.step, relief.w);
    relief.about(&glyph, 0.5, |p, z, _, _| {
        let d = glyph.distance(p) + 0.04 * cloud(p.0 / 0.16, p.1 / 0.16, 5);
        let at = ((p.1 - from.1) / pitch).round() as usize * w + ((p.0 - from.0) / pitch).round() as usize;
        *z += (smooth[at] - *z) * 0.85 * step(0.3, 0.12, d);
    });
    relief.stain(&glyph, (-0.008, 0.26), 0.8, 0.2);
    for i in 0..26 {
        let h = |k| hash(i, k, 404);
        let across = (high.0 - low.0 + 0.48, high.1 - low.1 + 0.4);
        let a = (low.0 - 0.24 + h(0) * across.0, low.1 - 0.2 + h(1) * across.1);
        let d = glyph.distance(a);
        if d > 0.04 && d < 0.24 {
            relief.scratch(a, (a.0 + 0.16 * (h(2) - 0.2), a.1 + 0.1 * (h(3) - 0.5)), 0.005, 0.004);
        }
    }
    let fine = relief.shows(0.02);
    relief.about(&glyph, 0.24, |p, z, skin, gloss| {
        let d = glyph.distance(p) + noise(p.0 / 0.067, p.1 / 0.067, 90) * 0.005;
        *z += 0.1 * step(0.008, -0.008, d) + 0.005 * step(0.0, -0.12, d);
        // An open joint, wider here and there, with cement squeezed out beside it.
        let open = (0.5 + 0.75 * noise(p.0 / 0.18, p.1 / 0.18, 91)).clamp(0.05, 1.0);
        *z -= (0.008 + 0.032 * open * open) * bell(d - 0.016, 0.008 + 0.006 * open);
        *z += 0.0165 * (0.3 + 0.7 * noise(p.0 / 0.17, p.1 / 0.17, 92)).max(0.0) * bell(d - 0.06, 0.026);
        *skin *= 1.0 - (0.3 + 0.45 * open) * bell(d - 0.014, 0.009 + 0.006 * open) - 0.1 * step(0.0, -0.04, d);
        *gloss += 0.35 * step(0.0, -0.04, d);
        if fine && d < -0.012 {
            *z += noise(p.0 / 0.016 + p.1 / 0.024, p.1 / 0.28 - p.0 / 0.36, 93) * 0.003;
        }
    });
}

/// A V punched twice: a first, weaker one stands up and to the left of the other.
pub fn punch_twice(relief: &mut Relief, sign: &Sign) {
    let first = Sign { at: sign.point((-0.21, -0.1)), turn: sign.turn - 3.5, ..*sign };
    relief.raise(&first.shape(), Foot { high: 0.03, dip: 0.0, ..PUNCHED });
    relief.raise(&sign.shape(), Foot { high: 0.075, dip: 0.02, ..PUNCHED });
}

/// The strokes of a hanging 4 that a shaver leaves, and those that he takes off.
pub fn shaved(four: &Sign) -> (Shape, Shape) {
    let left = Shape::of([
        bar((0.12, -0.5), (0.12, 0.5), 0.088),
        bar((-0.04, 0.468), (0.28, 0.468), 0.032),
        taper((0.1, -0.465), (-0.05, -0.345), 0.036, 0.018),
    ]);
    let gone = Shape::of([taper((0.04, -0.38), (-0.36, 0.2), 0.04, 0.036), bar((-0.42, 0.21), (0.36, 0.21), 0.045)]);
    (left.placed(four.at, four.size, four.turn), gone.placed(four.at, four.size, four.turn))
}

/// A sunken patch with parallel tracks, in which the strokes that went still rise a little. `left` stays.
pub fn shave(relief: &mut Relief, left: &Shape, gone: &Shape) {
    let (low, high) = gone.bounds();
    relief.about(gone, 0.45, |p, z, skin, gloss| {
        let at = gone.distance(p);
        let d = at + 0.055 * cloud(p.0 / 0.24, p.1 / 0.24, 14);
        let clear = step(0.012, 0.063, left.distance(p));
        let patch = clear * step(0.2, 0.024, d);
        *z -= patch * 0.024;
        *z += clear * 0.015 * step(0.028, -0.05, at) * (0.75 + 0.25 * noise(p.0 / 0.12, p.1 / 0.12, 16));
        let (along, across) = (p.0 * 0.8 + p.1 * 0.6, p.1 * 0.8 - p.0 * 0.6);
        *z += patch * 0.0066 * (noise(along / 0.37, across / 0.016, 15) + noise(along / 0.24, across / 0.03, 17));
        *skin *= 1.0 - 0.07 * patch;
        *gloss += 0.7 * patch;
    });
    for i in 0..40 {
        let h = |k| hash(i, k, 515);
        let across = (high.0 - low.0 + 0.2, high.1 - low.1 + 0.2);
        let a = (low.0 - 0.14 + h(0) * across.0, low.1 - 0.04 + h(1) * across.1);
        if left.distance(a) > 0.1 && gone.distance(a) < 0.2 {
            let long = 0.14 + 0.22 * h(2);
            relief.scratch(a, (a.0 + long * 0.8 + 0.04 * h(3), a.1 + long * 0.58), 0.006, 0.007);
        }
    }
}

/// A 7 punched over a 4 that was ground down in the die: the 4 stands low and soft, and passes under.
pub fn punch_over(relief: &mut Relief, four: &Sign, seven: &Sign) {
    let over = seven.shape();
    let soft = Foot { high: 0.034, slope: 0.07, fillet: 0.045, dip: 0.0, dome: (0.0, 0.1) };
    relief.raise_under(&four.shape(), soft, Some(&over));
    relief.raise(&over, Foot { high: 0.078, ..DATE });
    // Lines of the grinding, raised and parallel.
    for i in 0..15 {
        let (x, y) = (four.at.0 - 1.0 + hash(i, 0, 8) * 1.7, four.at.1 - 1.1 + hash(i, 1, 8) * 2.1);
        let long = 0.2 + 0.36 * hash(i, 2, 8);
        if over.distance((x, y)) > 0.08 {
            let points =
                [((x, y), 0.002), ((x + long * 0.5, y - long * 0.2), 0.004), ((x + long, y - long * 0.42), 0.001)];
            relief.ridge(&points, 0.007);
        }
    }
}

/// A 4 carved beside a plain 7: troughs, burrs, and tracks of the graver.
pub fn carve_under(relief: &mut Relief, four: &Sign, seven: &Sign) {
    let (shape, over) = (four.shape(), seven.shape());
    relief.raise(&over, DATE);
    let (low, high) = shape.bounds();
    relief.about(&shape, 0.32, |p, z, skin, gloss| {
        let d = shape.distance(p) + 0.02 * noise(p.0 / 0.095, p.1 / 0.095, 6);
        let clear = step(0.024, 0.087, over.distance(p));
        *z -= clear * 0.038 * bell(d - 0.08, 0.051);
        *z += clear * (0.01 * bell(d - 0.16, 0.028) + 0.012 * bell(d + 0.008, 0.032));
        let track = noise((p.0 + p.1 * 0.6) / 0.134, (p.1 - p.0 * 0.6) / 0.018, 7);
        *z += clear * bell(d - 0.08, 0.07) * track * 0.0105;
        *skin *= 1.0 - 0.16 * clear * bell(d - 0.08, 0.063);
        *gloss += 0.7 * clear * bell(d - 0.08, 0.07);
    });
    for i in 0..34 {
        let h = |k| hash(i, k, 909);
        let a = (low.0 - 0.08 + h(0) * (high.0 - low.0 + 0.16), low.1 + h(1) * (high.1 - low.1));
        if over.distance(a) > 0.1 && shape.distance(a).abs() < 0.17 {
            relief.scratch(a, (a.0 + 0.21 * (h(2) - 0.3), a.1 - 0.17 * (h(3) - 0.2)), 0.0067, 0.008);
        }
    }
}

/// A channel that follows a curve, with sunk tracks across it and a trace of what was scraped off; `kept` is spared.
pub fn scrape(relief: &mut Relief, curve: &[P], kept: &Shape) {
    let trace = Shape::line(curve, 0.08);
    let clear = |p: P| step(0.03, 0.09, kept.distance(p));
    relief.about(&trace, 0.3, |p, z, skin, gloss| {
        let at = trace.distance(p);
        let d = at + 0.06 * cloud(p.0 / 0.22, p.1 / 0.22, 35);
        let patch = clear(p) * step(0.16, 0.01, d);
        *z -= patch * 0.028;
        *z += clear(p) * 0.013 * step(0.02, -0.05, at) * (0.6 + 0.4 * noise(p.0 / 0.13, p.1 / 0.13, 39));
        *z += patch * noise((p.0 - p.1 * 0.5) / 0.28, (p.1 + p.0 * 0.5) / 0.018, 40) * 0.009;
        *skin *= 1.0 - 0.08 * patch;
        *gloss += 0.7 * patch;
    });
    for i in 0..60 {
        let h = |k| hash(i, k, 606);
        let c = curve[(h(0) * (curve.len() - 1) as f64) as usize];
        let a = (c.0 + 0.3 * (h(1) - 0.5), c.1 + 0.3 * (h(2) - 0.5));
        if clear(a) > 0.9 {
            relief.scratch(a, (a.0 - 0.12 - 0.2 * h(3), a.1 + 0.06 + 0.16 * h(4)), 0.006, 0.007);
        }
    }
}

/// Raised lines of a die's polish about a curve, all one way at a slant.
pub fn polish_lines(relief: &mut Relief, curve: &[P]) {
    let near = Shape::line(curve, 0.02);
    for i in 0..150 {
        let h = |k| hash(i, k, 808);
        let c = curve[(h(0) * (curve.len() - 1) as f64) as usize];
        let (x, y, long) = (c.0 + 2.4 * (h(1) - 0.5), c.1 + 2.0 * (h(2) - 0.5), 0.25 + 0.6 * h(3));
        if near.distance((x + long * 0.4, y - long * 0.16)) < 0.75 {
            let points = [
                ((x, y), 0.001),
                ((x + long * 0.45, y - long * 0.18), 0.0035),
                ((x + long * 0.9, y - long * 0.38), 0.001),
            ];
            relief.ridge(&points, 0.0065);
        }
    }
}

/// Grain, pits and bubbles of a casting.
pub fn cast(relief: &mut Relief, count: i64, around: (P, P)) {
    let (low, high) = around;
    relief.each(|p, z, skin, gloss| {
        // Each size lies turned, so that no grid shows.
        let (u, v) = (p.0 * 0.8 + p.1 * 0.6, p.1 * 0.8 - p.0 * 0.6);
        let grain = noise(p.0 / 0.036, p.1 / 0.036, 3) * 0.7
            + noise(u / 0.067, v / 0.067, 4) * 1.5
            + noise((u - v) / 0.17, (u + v) / 0.17, 5) * 1.8;
        *z += grain * 0.0038 + cloud(p.0, p.1, 6) * 0.024;
        *skin *= 0.9 + 0.06 * cloud(p.0 / 0.28, p.1 / 0.28, 8);
        *gloss *= 0.3;
    });
    for i in 0..count {
        let h = |k| hash(i, k, 313);
        let at = (low.0 + h(0) * (high.0 - low.0), low.1 + h(1) * (high.1 - low.1));
        let size = 0.02 + 0.06 * h(2) * h(2) * h(2);
        let pit = h(3) < 0.62;
        relief.within((at.0 - 0.3, at.1 - 0.3), (at.0 + 0.3, at.1 + 0.3), |p, z, skin, gloss| {
            let d = super::numbers::length(p.0 - at.0, p.1 - at.1) / size;
            if pit {
                let d = d + 0.15 * noise(p.0 / 0.036, p.1 / 0.036, 14);
                *z -= size * 0.9 * step(1.25, 0.3, d);
                *skin *= 1.0 - 0.3 * step(1.1, 0.5, d);
            } else {
                *z += size * 0.9 * (1.0 - d * d).max(0.0).sqrt();
                *gloss += 0.8 * step(1.0, 0.4, d);
            }
        });
    }
}

/// A mark that a false die gives to every piece struck from it.
#[derive(Clone, Copy)]
pub struct Repeat {
    pub id: &'static str,
    pub kind: Kind,
    pub at: P,
    /// Half its length and half its width, mm.
    pub size: P,
    pub turn: f64,
    /// How deep or high, mm.
    pub deep: f64,
}

#[derive(Clone, Copy, PartialEq)]
pub enum Kind {
    Hollow,
    Lump,
    Scrape,
    /// A knock of one piece alone: flat floor, steep wall, a lip.
    Contact,
}

pub fn add(relief: &mut Relief, mark: &Repeat) {
    let (sin, cos) = super::numbers::turn(mark.turn);
    match mark.kind {
        Kind::Hollow => relief.hollow(mark.at, mark.size, mark.turn, mark.deep),
        Kind::Lump => relief.hollow(mark.at, mark.size, mark.turn, -mark.deep),
        Kind::Contact => relief.contact(mark.at, mark.size, mark.turn, mark.deep),
        Kind::Scrape => {
            let off = (mark.size.0 * cos, mark.size.0 * sin);
            let (a, b) = ((mark.at.0 - off.0, mark.at.1 - off.1), (mark.at.0 + off.0, mark.at.1 + off.1));
            relief.ridge(&[(a, mark.size.1 * 0.4), (mark.at, mark.size.1), (b, mark.size.1 * 0.3)], mark.deep);
        }
    }
}
