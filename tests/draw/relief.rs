//! Shapes → a surface seen from above: heights in mm over the plane of the field, how bright its skin is, and how
//! glossy. What stands on it is raised, sunk, scratched or knocked here; the light falls on it in `light`.

use super::numbers::{P, bell, cloud, exp, hash, length, noise, pow, sin_cos, step};
use super::shape::{Shape, Stroke, taper};
use std::f64::consts::{PI, TAU};

/// The part of the coin that is drawn (mm from its centre, x right, y down) and the distance of two samples.
#[derive(Clone, Copy)]
pub struct Window {
    pub low: P,
    pub high: P,
    pub step: f64,
}

/// How metal stands at the outline of a raised sign (mm).
#[derive(Clone, Copy)]
pub struct Foot {
    pub high: f64,
    /// Width of the side and of the small curve into the field.
    pub slope: f64,
    pub fillet: f64,
    /// Depth of the dip about a mark that was punched into the die.
    pub dip: f64,
    /// How far the top swells above its shoulder, and within what distance of the outline.
    pub dome: P,
}

/// Letters of a struck coin.
pub const STRUCK: Foot = Foot { high: 0.085, slope: 0.045, fillet: 0.03, dip: 0.0, dome: (0.014, 0.1) };

pub struct Relief {
    pub window: Window,
    pub w: usize,
    pub h: usize,
    pub z: Vec<f64>,
    pub skin: Vec<f64>,
    pub gloss: Vec<f64>,
    /// How strongly lines of flow throw the light along the circle about the centre of the coin.
    pub lustre: f64,
    pub seed: u32,
}

impl Relief {
    pub fn new(window: Window, seed: u32) -> Relief {
        let count = |low: f64, high: f64| ((high - low) / window.step).ceil() as usize + 1;
        let (w, h) = (count(window.low.0, window.high.0), count(window.low.1, window.high.1));
        Relief { window, w, h, z: vec![0.0; w * h], skin: vec![1.0; w * h], gloss: vec![1.0; w * h], lustre: 0.0, seed }
    }

    /// Whether noise of this wavelength (mm) can be seen at this distance of samples.
    pub fn shows(&self, wavelength: f64) -> bool {
        wavelength > 2.2 * self.window.step
    }

    pub fn each(&mut self, change: impl FnMut(P, &mut f64, &mut f64, &mut f64)) {
        self.within(self.window.low, self.window.high, change);
    }

    /// Changes the samples within a box.
    pub fn within(&mut self, low: P, high: P, mut change: impl FnMut(P, &mut f64, &mut f64, &mut f64)) {
        let Window { low: from, step, .. } = self.window;
        let range = |a: f64, b: f64, from: f64, most: usize| {
            let first = (((a - from) / step).max(0.0) as usize).min(most);
            let last = (((b - from) / step + 1.0).max(0.0) as usize).min(most);
            first..last
        };
        for j in range(low.1, high.1, from.1, self.h) {
            let y = from.1 + j as f64 * step;
            for i in range(low.0, high.0, from.0, self.w) {
                let at = j * self.w + i;
                let p = (from.0 + i as f64 * step, y);
                change(p, &mut self.z[at], &mut self.skin[at], &mut self.gloss[at]);
            }
        }
    }

    pub fn about(&mut self, shape: &Shape, margin: f64, change: impl FnMut(P, &mut f64, &mut f64, &mut f64)) {
        let (low, high) = shape.bounds();
        self.within((low.0 - margin, low.1 - margin), (high.0 + margin, high.1 + margin), change);
    }

    /// A raised shape with its shoulder, side and fillet; sunk where `high` is negative.
    pub fn raise(&mut self, shape: &Shape, foot: Foot) {
        self.raise_under(shape, foot, None);
    }

    /// As [`Relief::raise`], but swallowed where another shape will stand on it.
    pub fn raise_under(&mut self, shape: &Shape, foot: Foot, cover: Option<&Shape>) {
        let seed = self.seed;
        let (fine, middling) = (self.shows(0.02), self.shows(0.06));
        self.about(shape, 0.42, |p, z, skin, gloss| {
            let waver = if middling { noise(p.0 / 0.1, p.1 / 0.1, seed + 51) * 0.003 } else { 0.0 };
            let d = shape.distance(p) + waver;
            if d > 0.4 {
                return;
            }
            let side = step(foot.slope * 0.55, -foot.slope * 0.55, d);
            let dome = foot.dome.0 * step(0.0, -foot.dome.1, d) * foot.high.signum();
            let fillet = 0.16 * if d > 0.0 { exp(-d / foot.fillet) } else { 1.0 };
            let bare = cover.map_or(1.0, |cover| step(-0.035, 0.02, cover.distance(p)));
            *z += bare * (foot.high * (side * 0.84 + fillet) + dome);
            if fine {
                // Lines of flow climb the sides.
                *z += noise(p.0 / 0.02 + p.1 / 0.09, p.1 / 0.12, seed + 53) * bell(d, foot.slope) * 0.002;
                *z += 0.0014 * cloud(p.0 / 0.063, p.1 / 0.063, seed + 55) * step(0.0, -0.04, d);
            }
            if foot.dip > 0.0 {
                *z -= foot.dip * bell(d - 0.08, 0.1) * step(-0.03, 0.024, d);
            }
            *skin *= 1.0 - 0.14 * bell(d - 0.016, 0.03);
            *gloss += 0.3 * step(0.008, -0.03, d);
        });
    }

    /// Fine scratches of an honest life, within a radius of the centre.
    pub fn small_knocks(&mut self, count: i64, radius: f64) {
        for i in 0..count {
            let at = |k: i64| hash(i, k, self.seed + 77);
            let (sin, cos) = sin_cos(at(0) * TAU);
            let far = radius * at(1).sqrt();
            let (long, (up, along)) = (0.1 + 0.9 * at(3) * at(3), sin_cos(at(2) * TAU));
            let a = (far * cos, far * sin);
            self.scratch(a, (a.0 + long * along, a.1 + long * up), 0.004 + 0.005 * at(4), 0.003 + at(5) * 0.004);
        }
    }

    /// A groove with its metal thrown up at both sides.
    pub fn scratch(&mut self, a: P, b: P, half: f64, deep: f64) {
        let half = half.max(self.window.step * 0.7);
        let line = Shape::of([taper(a, b, half * 0.5, half)]);
        let (dx, dy) = (b.0 - a.0, b.1 - a.1);
        self.about(&line, half * 5.0, |p, z, _, gloss| {
            let d = line.distance(p).max(-half);
            let along = ((p.0 - a.0) * dx + (p.1 - a.1) * dy) / (dx * dx + dy * dy).max(1e-9);
            let strong = sin_cos(PI * along.clamp(0.0, 1.0)).0.max(0.0);
            let deep = deep * pow(strong, 0.6);
            *z += deep * (0.55 * bell(d - half, half * 0.8) - bell(d + half, half * 1.1));
            *gloss += 0.5 * bell(d, half) * strong;
        });
    }

    /// A raised line through points with half widths (mm), as a crack of the die or a line of its polish.
    pub fn ridge(&mut self, points: &[(P, f64)], high: f64) {
        let least = self.window.step * 0.8;
        let strokes: Vec<Stroke> =
            points.windows(2).map(|w| taper(w[0].0, w[1].0, w[0].1.max(least), w[1].1.max(least))).collect();
        let line = Shape::of(strokes);
        let seed = self.seed;
        self.about(&line, 0.06, |p, z, _, gloss| {
            let d = line.distance(p);
            let rough = 0.8 + 0.25 * noise(p.0 / 0.095, p.1 / 0.095, seed + 31);
            *z += high * rough * step(0.02, -0.016, d.max(-0.02));
            *gloss += 0.25 * step(0.016, -0.008, d);
        });
    }

    /// A hollow with soft lips whose floor keeps the skin of the field; a lump where `deep` is negative.
    pub fn hollow(&mut self, at: P, size: P, degrees: f64, deep: f64) {
        let (sin, cos) = super::numbers::turn(degrees);
        let reach = size.0.max(size.1) * 2.6;
        let seed = self.seed;
        self.within((at.0 - reach, at.1 - reach), (at.0 + reach, at.1 + reach), |p, z, _, _| {
            let (x, y) = (p.0 - at.0, p.1 - at.1);
            let d = length((x * cos + y * sin) / size.0, (y * cos - x * sin) / size.1)
                + 0.07 * noise(p.0 / 0.24, p.1 / 0.24, seed + 71);
            *z -= deep * exp(-d * d);
        });
    }

    /// A mark of contact with another coin: flat bright floor, steep wall, a lip heaped to one side.
    pub fn contact(&mut self, at: P, size: P, degrees: f64, deep: f64) {
        let (sin, cos) = super::numbers::turn(degrees);
        let reach = size.0.max(size.1) * 1.6 + 0.1;
        self.within((at.0 - reach, at.1 - reach), (at.0 + reach, at.1 + reach), |p, z, skin, gloss| {
            let (x, y) = (p.0 - at.0, p.1 - at.1);
            let (along, across) = (x * cos + y * sin, y * cos - x * sin);
            let (u, v) = ((along / size.0).abs(), across / size.1);
            let d = pow(u * u * u + v * v, 0.45) + 0.05 * noise(p.0 / 0.05, p.1 / 0.05, 97);
            let inside = step(1.04, 0.9, d);
            *z -= inside * deep * (0.75 + 0.3 * v.clamp(-1.0, 1.0));
            *z += 0.4 * deep * bell((d - 1.12) * size.1, 0.03) * (0.65 + 0.5 * v.clamp(-1.0, 1.2)).max(0.15);
            *z += 0.005 * inside * noise(along / 0.24, across / 0.012_f64.max(size.1 / 8.0), 98);
            *skin *= 1.0 + 0.12 * inside;
            *gloss += 0.9 * inside;
        });
    }

    /// Dirt, cement or toning in a band from `from` to `to` mm off a shape's outline.
    pub fn stain(&mut self, shape: &Shape, (from, to): P, skin_to: f64, gloss_to: f64) {
        let seed = self.seed;
        self.about(shape, to + 0.2, |p, _, skin, gloss| {
            let d = shape.distance(p) + 0.035 * cloud(p.0 / 0.12, p.1 / 0.12, seed + 81);
            let share = step(from - 0.012, from + 0.004, d) * step(to, to * 0.45 + from * 0.55, d);
            *skin += (skin_to - *skin) * share;
            *gloss += (gloss_to - *gloss) * share;
        });
    }

    /// Softens the surface as far as `reach` mm, as a copy of a copy is soft.
    pub fn soften(&mut self, reach: f64) {
        self.z = blur(&self.z, self.w, self.h, (reach / self.window.step).round() as usize);
    }
}

/// Mean over a box, twice: near enough to a bell. `reach` in samples.
pub fn blur(values: &[f64], w: usize, h: usize, reach: usize) -> Vec<f64> {
    let mut now = values.to_vec();
    let mut out = vec![0.0; now.len()];
    if reach == 0 {
        return now;
    }
    let most = reach as isize;
    let share = 1.0 / (2 * reach + 1) as f64;
    for _ in 0..2 {
        for j in 0..h {
            let row = &now[j * w..(j + 1) * w];
            let at = |i: isize| row[i.clamp(0, w as isize - 1) as usize];
            let mut sum: f64 = (-most..=most).map(at).sum();
            for i in 0..w {
                out[j * w + i] = sum * share;
                sum += at(i as isize + most + 1) - at(i as isize - most);
            }
        }
        // Down the columns, a row at a time.
        let at = |j: isize| (j.clamp(0, h as isize - 1) as usize) * w;
        let mut sums = vec![0.0; w];
        for j in -most..=most {
            sums.iter_mut().zip(&out[at(j)..at(j) + w]).for_each(|(sum, v)| *sum += v);
        }
        for j in 0..h {
            let (enter, leave) = (at(j as isize + most + 1), at(j as isize - most));
            for i in 0..w {
                now[j * w + i] = sums[i] * share;
                sums[i] += out[enter + i] - out[leave + i];
            }
        }
    }
    now
}
