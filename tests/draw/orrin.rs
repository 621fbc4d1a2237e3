//! Draws the photographs of the demonstration collection: details of invented coins as height fields, lit from the
//! side like a piece under the bench microscope. Same pictures every time: no clock, no randomness.
//!
//! `cargo run --release --example draw-orrin [FOLDER]` writes them to `entries/demo/photos/orrin/` or to FOLDER.

#![allow(clippy::print_stdout, reason = "it says what it drew")]

use std::f64::consts::{PI, TAU};
use std::path::Path;

/// Size of a finished picture.
const WIDTH: usize = 560;
const HEIGHT: usize = 420;
/// Samples per picture point along each side.
const FINE: usize = 2;
const W: usize = WIDTH * FINE;
const H: usize = HEIGHT * FINE;

type P = (f64, f64);
/// Name of a picture and what draws it.
type Scene = (&'static str, fn() -> Relief);

fn main() {
    let folder = std::env::args().nth(1).unwrap_or_else(|| "entries/demo/photos/orrin".to_string());
    let folder = Path::new(&folder);
    std::fs::create_dir_all(folder).expect("the folder of the photographs can be made");
    let scenes: &[Scene] = &[
        ("1911-k-mark", mark_true),
        ("1911-k-mark-cemented", mark_cemented),
        ("1911-k-crack", crack_at_prow),
        ("1911-no-mark", no_mark),
        ("1904-v-mark", mark_of_vessary),
        ("1911-shaved-digit", digit_shaved),
        ("1907-rope", || rope(Rope::Whole)),
        ("1907-no-rope", || rope(Rope::Polished)),
        ("1907-rope-scraped", || rope(Rope::Scraped)),
        ("1917-v-7-over-4", overdate_true),
        ("1917-v-7-cut", overdate_cut),
        ("harbour-hollow", hollow),
        ("contact-mark", contact_mark),
        ("grey-casting-field", cast_field),
        ("lamp-room-lumps", lumps),
        ("capped-edge", || edge(true)),
        ("chain-edge", || edge(false)),
    ];
    for (name, scene) in scenes {
        let bytes = scene().photograph();
        let path = folder.join(format!("{name}.png"));
        std::fs::write(&path, &bytes).expect("a photograph can be written");
        println!("{} {}", bytes.len(), path.display());
    }
}

// ---- numbers without chance -------------------------------------------------------------------------------------

/// A number in 0..1 from a lattice point.
fn hash(x: i64, y: i64, seed: u32) -> f64 {
    let mut v =
        (x as u32).wrapping_mul(0x9E37_79B1) ^ (y as u32).wrapping_mul(0x85EB_CA77) ^ seed.wrapping_mul(0xC2B2_AE3D);
    for factor in [0x7FEB_352D_u32, 0x846C_A68B] {
        v = (v ^ (v >> 15)).wrapping_mul(factor);
    }
    f64::from(v ^ (v >> 16)) / f64::from(u32::MAX)
}

/// Smooth noise in -1..1.
fn noise(x: f64, y: f64, seed: u32) -> f64 {
    let (cx, cy) = (x.floor(), y.floor());
    let ease = |t: f64| t * t * (3.0 - 2.0 * t);
    let (u, v) = (ease(x - cx), ease(y - cy));
    let (i, j) = (cx as i64, cy as i64);
    let row = |j: i64| hash(i, j, seed) + (hash(i + 1, j, seed) - hash(i, j, seed)) * u;
    (row(j) + (row(j + 1) - row(j)) * v) * 2.0 - 1.0
}

fn cloud(x: f64, y: f64, seed: u32) -> f64 {
    noise(x, y, seed) * 0.55 + noise(x * 2.1, y * 2.1, seed + 1) * 0.3 + noise(x * 4.3, y * 4.3, seed + 2) * 0.15
}

fn step(from: f64, to: f64, at: f64) -> f64 {
    let t = ((at - from) / (to - from)).clamp(0.0, 1.0);
    t * t * (3.0 - 2.0 * t)
}

fn bell(distance: f64, width: f64) -> f64 {
    (-(distance / width).powi(2)).exp()
}

// ---- strokes ----------------------------------------------------------------------------------------------------

/// A stroke of a letter or device: from `a` to `b`, with half its width at each end.
#[derive(Clone, Copy)]
struct Stroke {
    a: P,
    b: P,
    half: (f64, f64),
    square: bool,
}

/// Distance to a stroke's outline, negative inside.
fn to_stroke(s: &Stroke, p: P) -> f64 {
    let (dx, dy) = (s.b.0 - s.a.0, s.b.1 - s.a.1);
    let length = dx.hypot(dy).max(1e-9);
    let (ux, uy) = (dx / length, dy / length);
    let (qx, qy) = (p.0 - s.a.0, p.1 - s.a.1);
    let (along, across) = (qx * ux + qy * uy, (qy * ux - qx * uy).abs());
    if s.square {
        let (ox, oy) = ((along - length / 2.0).abs() - length / 2.0, across - s.half.0);
        return ox.max(0.0).hypot(oy.max(0.0)) + ox.max(oy).min(0.0);
    }
    let t = (along / length).clamp(0.0, 1.0);
    (along - t * length).hypot(across) - (s.half.0 + (s.half.1 - s.half.0) * t)
}

/// The strokes of one sign, moved, turned and sized.
#[derive(Clone)]
struct Glyph(Vec<Stroke>);

impl Glyph {
    fn distance(&self, p: P) -> f64 {
        self.0.iter().map(|s| to_stroke(s, p)).fold(f64::MAX, f64::min)
    }

    fn bounds(&self) -> (P, P) {
        let ends = self.0.iter().flat_map(|s| [s.a, s.b]);
        ends.fold(((f64::MAX, f64::MAX), (f64::MIN, f64::MIN)), |(low, high), p| {
            ((low.0.min(p.0), low.1.min(p.1)), (high.0.max(p.0), high.1.max(p.1)))
        })
    }

    fn of(sign: char, at: P, size: f64, turn: f64) -> Glyph {
        let (sin, cos) = turn.to_radians().sin_cos();
        let put = |p: P| (at.0 + size * (p.0 * cos - p.1 * sin), at.1 + size * (p.0 * sin + p.1 * cos));
        let strokes = drawn(sign);
        Glyph(
            strokes
                .into_iter()
                .map(|s| Stroke { a: put(s.a), b: put(s.b), half: (s.half.0 * size, s.half.1 * size), ..s })
                .collect(),
        )
    }
}

fn bar(a: P, b: P, half: f64) -> Stroke {
    Stroke { a, b, half: (half, half), square: true }
}

fn taper(a: P, b: P, from: f64, to: f64) -> Stroke {
    Stroke { a, b, half: (from, to), square: false }
}

/// A curve of short strokes, thick where it runs upright.
fn bow(out: &mut Vec<Stroke>, centre: P, radii: P, from: f64, to: f64, thin: f64, thick: f64) {
    let at = |t: f64| {
        let angle = (from + (to - from) * t).to_radians();
        (
            (centre.0 + radii.0 * angle.cos(), centre.1 + radii.1 * angle.sin()),
            thin + (thick - thin) * angle.cos().abs().powf(1.4),
        )
    };
    for i in 0..28 {
        let ((a, wa), (b, wb)) = (at(f64::from(i) / 28.0), at(f64::from(i + 1) / 28.0));
        out.push(taper(a, b, wa, wb));
    }
}

/// A sign of height 1 about its middle, y down.
fn drawn(sign: char) -> Vec<Stroke> {
    let mut out = Vec::new();
    let serif = |x0: f64, x1: f64, y: f64| bar((x0, y), (x1, y), 0.032);
    match sign {
        'K' => {
            out.push(bar((-0.26, -0.5), (-0.26, 0.5), 0.088));
            out.push(taper((-0.2, 0.1), (0.27, -0.45), 0.045, 0.04));
            out.push(taper((-0.06, -0.06), (0.32, 0.44), 0.07, 0.085));
            out.extend([
                serif(-0.43, -0.09, -0.468),
                serif(-0.43, -0.09, 0.468),
                serif(0.12, 0.44, -0.468),
                serif(0.14, 0.5, 0.468),
            ]);
        }
        'V' => {
            out.push(taper((-0.3, -0.45), (0.02, 0.44), 0.085, 0.07));
            out.push(taper((0.32, -0.45), (0.02, 0.44), 0.04, 0.045));
            out.extend([serif(-0.48, -0.12, -0.468), serif(0.17, 0.47, -0.468)]);
        }
        'R' => {
            out.push(bar((-0.24, -0.5), (-0.24, 0.5), 0.085));
            bow(&mut out, (-0.02, -0.23), (0.25, 0.24), -90.0, 90.0, 0.035, 0.08);
            out.extend([bar((-0.24, -0.468), (0.0, -0.468), 0.034), bar((-0.24, 0.01), (0.0, 0.01), 0.034)]);
            out.push(taper((0.02, 0.03), (0.3, 0.45), 0.06, 0.085));
            out.extend([serif(-0.42, -0.06, 0.468), serif(-0.42, -0.2, -0.468), serif(0.2, 0.46, 0.468)]);
        }
        'M' => {
            out.push(bar((-0.42, -0.5), (-0.42, 0.5), 0.036));
            out.push(taper((-0.4, -0.45), (0.0, 0.45), 0.085, 0.06));
            out.push(taper((0.4, -0.45), (0.0, 0.45), 0.035, 0.04));
            out.push(bar((0.42, -0.5), (0.42, 0.5), 0.085));
            out.extend([
                serif(-0.56, -0.3, 0.468),
                serif(0.27, 0.58, 0.468),
                serif(-0.54, -0.36, -0.468),
                serif(0.4, 0.58, -0.468),
            ]);
        }
        'A' => {
            out.push(taper((0.0, -0.46), (-0.32, 0.46), 0.04, 0.035));
            out.push(taper((0.0, -0.44), (0.3, 0.45), 0.065, 0.088));
            out.push(bar((-0.22, 0.13), (0.22, 0.13), 0.032));
            out.extend([serif(-0.46, -0.18, 0.468), serif(0.15, 0.47, 0.468)]);
        }
        'H' | 'N' => {
            out.extend([bar((-0.28, -0.5), (-0.28, 0.5), 0.085), bar((0.28, -0.5), (0.28, 0.5), 0.085)]);
            out.push(if sign == 'H' {
                bar((-0.28, 0.0), (0.28, 0.0), 0.035)
            } else {
                taper((-0.28, -0.42), (0.28, 0.42), 0.06, 0.06)
            });
            out.extend([
                serif(-0.45, -0.11, -0.468),
                serif(-0.45, -0.11, 0.468),
                serif(0.11, 0.45, -0.468),
                serif(0.11, 0.45, 0.468),
            ]);
        }
        'O' | '0' => bow(&mut out, (0.0, 0.0), (0.34, 0.46), 0.0, 360.0, 0.035, 0.088),
        'L' | 'F' => {
            out.push(bar((-0.22, -0.5), (-0.22, 0.5), 0.088));
            let (long, short) = if sign == 'L' { (0.465, -0.465) } else { (-0.465, 0.465) };
            out.extend([
                serif(-0.4, 0.3, long),
                serif(-0.4, -0.04, short),
                bar((0.29, long), (0.29, long * 0.55), 0.032),
            ]);
            if sign == 'F' {
                out.extend([bar((-0.2, 0.0), (0.12, 0.0), 0.034), bar((0.12, -0.11), (0.12, 0.11), 0.028)]);
            }
        }
        '1' => {
            out.push(bar((0.02, -0.5), (0.02, 0.5), 0.09));
            out.push(taper((0.0, -0.46), (-0.19, -0.33), 0.05, 0.025));
            out.push(serif(-0.17, 0.21, 0.468));
        }
        '4' => {
            out.push(taper((0.1, -0.47), (-0.36, 0.2), 0.04, 0.035));
            out.push(bar((-0.42, 0.21), (0.36, 0.21), 0.045));
            out.push(bar((0.12, -0.5), (0.12, 0.5), 0.088));
            out.push(serif(-0.04, 0.28, 0.468));
        }
        '7' => {
            out.push(bar((-0.3, -0.43), (0.33, -0.43), 0.065));
            out.push(bar((-0.28, -0.5), (-0.28, -0.26), 0.03));
            out.push(taper((0.29, -0.41), (-0.02, 0.1), 0.045, 0.075));
            out.push(taper((-0.02, 0.1), (-0.1, 0.45), 0.075, 0.1));
        }
        '9' => {
            bow(&mut out, (0.0, -0.2), (0.25, 0.28), 0.0, 360.0, 0.035, 0.08);
            bow(&mut out, (-0.16, -0.14), (0.41, 0.6), 0.0, 78.0, 0.03, 0.08);
            out.push(taper((-0.12, 0.43), (-0.17, 0.4), 0.045, 0.06));
        }
        _ => {}
    }
    out
}

// ---- the piece --------------------------------------------------------------------------------------------------

/// How metal stands at the outline of a raised sign.
#[derive(Clone, Copy)]
struct Foot {
    high: f64,
    /// Width of the slope, of the shoulder and of the fillet.
    slope: f64,
    fillet: f64,
    /// Depth of the dip about a mark that was punched into the die.
    dip: f64,
}

const STRUCK: Foot = Foot { high: 17.0, slope: 9.0, fillet: 7.0, dip: 0.0 };

/// A surface seen from above: heights, how bright its skin is, and how glossy.
struct Relief {
    z: Vec<f64>,
    skin: Vec<f64>,
    gloss: Vec<f64>,
    /// Where the light comes from, degrees from the right, counter-clockwise, and how high.
    light: (f64, f64),
    seed: u32,
}

impl Relief {
    fn new(seed: u32) -> Relief {
        Relief { z: vec![0.0; W * H], skin: vec![1.0; W * H], gloss: vec![1.0; W * H], light: (148.0, 21.0), seed }
    }

    fn each(&mut self, mut change: impl FnMut(P, &mut f64, &mut f64, &mut f64)) {
        for y in 0..H {
            for x in 0..W {
                let at = y * W + x;
                change((x as f64, y as f64), &mut self.z[at], &mut self.skin[at], &mut self.gloss[at]);
            }
        }
    }

    fn within(&mut self, low: P, high: P, mut change: impl FnMut(P, &mut f64, &mut f64, &mut f64)) {
        let range = |a: f64, b: f64, most: usize| (a.max(0.0) as usize).min(most)..(b.max(0.0) as usize + 1).min(most);
        for y in range(low.1, high.1, H) {
            for x in range(low.0, high.0, W) {
                let at = y * W + x;
                change((x as f64, y as f64), &mut self.z[at], &mut self.skin[at], &mut self.gloss[at]);
            }
        }
    }

    /// A struck field: fine lines where metal ran out from the centre of the coin.
    fn field(mut self, centre: P, strength: f64) -> Relief {
        let seed = self.seed;
        self.each(|p, z, skin, _| {
            let (x, y) = (p.0 - centre.0, p.1 - centre.1);
            let (radius, angle) = (x.hypot(y), y.atan2(x));
            let away = centre.0.hypot(centre.1).max(900.0);
            let wander = cloud(p.0 / 210.0, p.1 / 210.0, seed + 9) * 5.0;
            let (a, r) = (angle * away + wander, radius);
            let lines = noise(a / 4.2, r / 170.0, seed) * 0.5
                + noise(a / 9.0, r / 320.0, seed + 1) * 0.75
                + noise(a / 21.0, r / 500.0, seed + 2) * 0.9;
            *z += lines * strength * (0.36 + 0.2 * cloud(p.0 / 190.0, p.1 / 190.0, seed + 6))
                + cloud(p.0 / 330.0, p.1 / 330.0, seed + 3) * 5.0;
            *skin *= 1.0 + cloud(p.0 / 120.0, p.1 / 120.0, seed + 4) * 0.07;
        });
        self.small_knocks(10)
    }

    /// Fine scratches and dust of an honest life.
    fn small_knocks(mut self, count: i64) -> Relief {
        for i in 0..count {
            let at = |k: i64| hash(i, k, self.seed + 77);
            let (a, turn, long) = ((at(0) * W as f64, at(1) * H as f64), at(2) * TAU, 20.0 + 90.0 * at(3) * at(3));
            let b = (a.0 + long * turn.cos(), a.1 + long * turn.sin());
            self.scratch(a, b, 1.2 + at(4), 0.7 + at(5) * 0.9);
        }
        self
    }

    /// A groove with its metal thrown up at both sides.
    fn scratch(&mut self, a: P, b: P, half: f64, deep: f64) {
        let line = taper(a, b, half * 0.5, half);
        let margin = half * 5.0 + 4.0;
        self.within(
            (a.0.min(b.0) - margin, a.1.min(b.1) - margin),
            (a.0.max(b.0) + margin, a.1.max(b.1) + margin),
            |p, z, _, gloss| {
                let d = to_stroke(&line, p).max(-half);
                let (dx, dy) = (b.0 - a.0, b.1 - a.1);
                let along = ((p.0 - a.0) * dx + (p.1 - a.1) * dy) / (dx * dx + dy * dy).max(1.0);
                let deep = deep * (PI * along.clamp(0.0, 1.0)).sin().powf(0.6);
                *z += -deep * bell(d + half, half * 1.1) + deep * 0.55 * bell(d - half * 1.0, half * 0.8);
                *gloss += 0.5 * bell(d, half) * (PI * along.clamp(0.0, 1.0)).sin();
            },
        );
    }

    /// A raised line, as a die crack or a line of die polish.
    fn ridge(&mut self, points: &[(P, f64)], high: f64) {
        let strokes: Vec<Stroke> = points.windows(2).map(|w| taper(w[0].0, w[1].0, w[0].1, w[1].1)).collect();
        let glyph = Glyph(strokes);
        let (low, up) = glyph.bounds();
        let seed = self.seed;
        self.within((low.0 - 25.0, low.1 - 25.0), (up.0 + 25.0, up.1 + 25.0), |p, z, _, gloss| {
            let d = glyph.distance(p).max(-6.0);
            let rough =
                0.8 + 0.25 * noise(p.0 / 24.0, p.1 / 24.0, seed + 31) + 0.15 * noise(p.0 / 9.0, p.1 / 9.0, seed + 32);
            *z += high * rough * step(5.0, -4.0, d);
            *gloss += 0.25 * step(4.0, -2.0, d);
        });
    }

    /// A raised sign with its shoulder, slope and fillet.
    fn raise(&mut self, glyph: &Glyph, foot: Foot) {
        self.raise_under(glyph, foot, None);
    }

    /// As [`Relief::raise`], but swallowed where another sign will stand on it.
    fn raise_under(&mut self, glyph: &Glyph, foot: Foot, cover: Option<&Glyph>) {
        let (low, up) = glyph.bounds();
        let seed = self.seed;
        self.within((low.0 - 110.0, low.1 - 110.0), (up.0 + 110.0, up.1 + 110.0), |p, z, skin, gloss| {
            let waver = noise(p.0 / 26.0, p.1 / 26.0, seed + 51) * 0.8;
            let d = glyph.distance(p) + waver;
            let side = step(foot.slope * 0.55, -foot.slope * 0.55, d);
            let dome = 0.05 * step(2.0, -13.0, d);
            let fillet = if d > 0.0 { 0.16 * (-d / foot.fillet).exp() } else { 0.16 };
            // Lines of flow climb the sides.
            let climb = noise(p.0 / 5.0 + p.1 / 23.0, p.1 / 31.0, seed + 53) * bell(d, foot.slope) * 0.5;
            let top = 0.35 * cloud(p.0 / 16.0, p.1 / 16.0, seed + 55) * step(0.0, -10.0, d);
            let bare = cover.map_or(1.0, |cover| step(-9.0, 5.0, cover.distance(p)));
            *z += bare * foot.high * (side * (0.79 + dome) + fillet) + climb + top;
            *z -= foot.dip * bell(d - 20.0, 26.0) * step(-8.0, 6.0, d);
            *skin *= 1.0 - 0.18 * bell(d - 4.0, 7.0);
            *gloss += 0.3 * step(2.0, -8.0, d);
        });
    }

    /// Beads along the rim, and the rim itself, about a centre.
    fn border(&mut self, centre: P, beads_at: f64, rim_at: f64) {
        let seed = self.seed;
        self.each(|p, z, skin, gloss| {
            let (x, y) = (p.0 - centre.0, p.1 - centre.1);
            let (radius, angle) = (x.hypot(y), y.atan2(x));
            let spacing = 64.0;
            let count = (TAU * beads_at / spacing).round();
            let turn = angle / TAU * count;
            let off = (turn - turn.round()) * TAU * beads_at / count;
            let d = (off / 24.0).hypot((radius - beads_at) / 30.0);
            *z += 15.0 * (1.0 - d * d).max(0.0).sqrt() * step(1.0, 0.86, d) + 3.0 * bell(d - 1.0, 0.18);
            let rim = step(rim_at - 9.0, rim_at + 9.0, radius);
            *z += 24.0 * rim + rim * cloud(angle * 900.0, radius / 40.0, seed + 61) * 0.8;
            *skin *= 1.0 - 0.25 * bell(radius - rim_at + 6.0, 9.0);
            *gloss += 0.2 * rim;
        });
    }

    /// A hollow with soft lips whose floor keeps the skin of the field.
    fn soft_hollow(&mut self, at: P, size: P, turn: f64, deep: f64) {
        let (sin, cos) = turn.to_radians().sin_cos();
        let reach = size.0.max(size.1) * 2.6;
        let seed = self.seed;
        self.within((at.0 - reach, at.1 - reach), (at.0 + reach, at.1 + reach), |p, z, _, _| {
            let (x, y) = (p.0 - at.0, p.1 - at.1);
            let d = ((x * cos + y * sin) / size.0).hypot((y * cos - x * sin) / size.1)
                + 0.07 * noise(p.0 / 60.0, p.1 / 60.0, seed + 71);
            *z -= deep * (-d * d).exp();
        });
    }

    fn lump(&mut self, at: P, size: P, turn: f64, high: f64) {
        self.soft_hollow(at, size, turn, -high);
    }

    /// Dirt, cement or toning in a patch.
    fn stain(&mut self, glyph: &Glyph, from: f64, to: f64, skin_to: f64, gloss_to: f64) {
        let (low, up) = glyph.bounds();
        let seed = self.seed;
        let reach = to + 60.0;
        self.within((low.0 - reach, low.1 - reach), (up.0 + reach, up.1 + reach), |p, _, skin, gloss| {
            let d = glyph.distance(p) + 9.0 * cloud(p.0 / 30.0, p.1 / 30.0, seed + 81);
            let share = step(from - 3.0, from + 1.0, d) * step(to, to * 0.45 + from * 0.55, d);
            *skin += (skin_to - *skin) * share;
            *gloss += (gloss_to - *gloss) * share;
        });
    }
}

impl Relief {
    /// Left and right changed, before the light falls on it.
    fn mirrored(mut self) -> Relief {
        for plane in [&mut self.z, &mut self.skin, &mut self.gloss] {
            plane.chunks_mut(W).for_each(<[f64]>::reverse);
        }
        self
    }
}

// ---- the light --------------------------------------------------------------------------------------------------

/// Mean over a box, three times: near enough to a bell.
fn blur(values: &[f64], reach: usize) -> Vec<f64> {
    let mut now = values.to_vec();
    for _ in 0..2 {
        for (count, length, stride, next) in [(H, W, 1, W), (W, H, W, 1)] {
            let mut out = vec![0.0; now.len()];
            for line in 0..count {
                let at = |i: isize| line * next + i.clamp(0, length as isize - 1) as usize * stride;
                let mut sum: f64 = (-(reach as isize)..=reach as isize).map(|i| now[at(i)]).sum();
                for i in 0..length as isize {
                    out[at(i)] = sum / (2 * reach + 1) as f64;
                    sum += now[at(i + reach as isize + 1)] - now[at(i - reach as isize)];
                }
            }
            now = out;
        }
    }
    now
}

impl Relief {
    fn photograph(mut self) -> Vec<u8> {
        self.z = blur(&self.z, 1);
        let near = blur(&self.z, 9);
        let far = blur(&self.z, 34);
        let (turn, lift) = (self.light.0.to_radians(), self.light.1.to_radians());
        let light = (turn.cos() * lift.cos(), -turn.sin() * lift.cos(), lift.sin());
        let shade = self.shadows(light);
        let mut tone = vec![0.0; W * H];
        for y in 0..H {
            for x in 0..W {
                let at = y * W + x;
                let z = |x: usize, y: usize| self.z[y.min(H - 1) * W + x.min(W - 1)];
                let gx = (z(x + 1, y) - z(x.saturating_sub(1), y)) * 0.5;
                let gy = (z(x, y + 1) - z(x, y.saturating_sub(1))) * 0.5;
                let size = (gx * gx + gy * gy + 1.0).sqrt();
                let n = (-gx / size, -gy / size, 1.0 / size);
                let r = (2.0 * n.2 * n.0, 2.0 * n.2 * n.1, 2.0 * n.2 * n.2 - 1.0);
                let towards = (n.0 * light.0 + n.1 * light.1 + n.2 * light.2).max(0.0);
                let glance = r.0 * light.0 + r.1 * light.1 + r.2 * light.2;
                let broad = ((glance - 1.0) * 3.2).exp();
                let tight = ((glance - 1.0) * 26.0).exp();
                let room = 0.05 + 0.11 * (0.5 + 0.5 * r.2) + 0.05 * r.1.abs();
                let hollow = (near[at] - self.z[at]).max(0.0) * 0.05 + (far[at] - self.z[at]).max(0.0) * 0.022;
                let lit = towards * 0.62 + broad * 0.5 + tight * 0.62 * self.gloss[at];
                let (u, v) = (x as f64 / W as f64 - 0.44, y as f64 / H as f64 - 0.44);
                let lens = 1.06 - 0.42 * (u * u + v * v) - 0.16 * (u + v);
                let skin = self.skin[at];
                tone[at] = (room * (1.0 - 0.3 * (1.0 - shade[at])) + lit * shade[at]) * skin * lens / (1.0 + hollow);
            }
        }
        encode(&tone, self.seed)
    }

    /// How much of the lamp each point sees.
    fn shadows(&self, light: (f64, f64, f64)) -> Vec<f64> {
        let flat = light.0.hypot(light.1);
        let (ux, uy, rise) = (light.0 / flat, light.1 / flat, light.2 / flat);
        let mut out = vec![1.0; W * H];
        for y in 0..H {
            for x in 0..W {
                let base = self.z[y * W + x];
                let mut blocked = 0.0_f64;
                let mut far = 2.0;
                while far < 90.0 {
                    let (px, py) = (x as f64 + ux * far, y as f64 + uy * far);
                    if px < 0.0 || py < 0.0 || px >= (W - 1) as f64 || py >= (H - 1) as f64 {
                        break;
                    }
                    let above = self.z[py as usize * W + px as usize] - base - rise * far;
                    blocked = blocked.max(above / (0.6 + far * 0.06));
                    far *= 1.09;
                    far += 0.6;
                }
                out[y * W + x] = 1.0 - 0.86 * blocked.clamp(0.0, 1.0);
            }
        }
        blur(&out, 1)
    }
}

/// Most bytes of a finished picture.
const MOST_BYTES: usize = 60_000;

/// The picture with as many tones as keep its file small.
fn encode(tone: &[f64], seed: u32) -> Vec<u8> {
    let mut light = Vec::with_capacity(WIDTH * HEIGHT);
    for y in 0..HEIGHT {
        for x in 0..WIDTH {
            let fine = (0..FINE * FINE).map(|k| tone[(y * FINE + k / FINE) * W + x * FINE + k % FINE]);
            let mean = fine.sum::<f64>() / (FINE * FINE) as f64 * 0.93;
            // A film's curve: soft at both ends.
            let curve = (mean / (mean + 0.42) * 1.42).clamp(0.0, 1.0).powf(1.22);
            light.push(curve + noise(x as f64 * 0.71, y as f64 * 0.71, seed + 201) * 0.006);
        }
    }
    let tries = [48, 42, 36, 31, 27, 24, 21];
    let pictures = tries.iter().map(|tones| with_tones(&light, *tones));
    pictures.reduce(|kept, next| if kept.len() <= MOST_BYTES { kept } else { next }).unwrap_or_default()
}

fn with_tones(light: &[f64], tones: usize) -> Vec<u8> {
    let most = (tones - 1) as f64;
    let points: Vec<u8> = light.iter().map(|l| (l * most).round().clamp(0.0, most) as u8).collect();
    let palette: Vec<u8> = (0..tones).flat_map(|i| warm(i as f64 / most)).collect();
    let write = |filter: png::Filter| {
        let mut bytes = Vec::new();
        let mut encoder = png::Encoder::new(&mut bytes, WIDTH as u32, HEIGHT as u32);
        encoder.set_color(png::ColorType::Indexed);
        encoder.set_depth(png::BitDepth::Eight);
        encoder.set_palette(palette.clone());
        encoder.set_deflate_compression(png::DeflateCompression::Level(9));
        encoder.set_filter(filter);
        let mut writer = encoder.write_header().expect("a PNG header can be made");
        writer.write_image_data(&points).expect("a PNG can be made");
        writer.finish().expect("a PNG can be closed");
        bytes
    };
    [png::Filter::NoFilter, png::Filter::Up].map(write).into_iter().min_by_key(Vec::len).unwrap_or_default()
}

/// From near black over the grey of old silver to a warm white.
fn warm(t: f64) -> [u8; 3] {
    const STOPS: [(f64, [f64; 3]); 5] = [
        (0.0, [17.0, 16.0, 17.0]),
        (0.3, [74.0, 70.0, 66.0]),
        (0.55, [139.0, 132.0, 121.0]),
        (0.8, [206.0, 198.0, 182.0]),
        (1.0, [255.0, 251.0, 240.0]),
    ];
    let i = STOPS.iter().rposition(|(at, _)| *at <= t).unwrap_or(0).min(STOPS.len() - 2);
    let ((a, low), (b, high)) = (STOPS[i], STOPS[i + 1]);
    let share = (t - a) / (b - a);
    [0, 1, 2].map(|c| (low[c] + (high[c] - low[c]) * share).round() as u8)
}

// ---- the scenes -------------------------------------------------------------------------------------------------

/// Centre of the coin as seen from a mark near six o'clock.
const ABOVE: P = (560.0, -1900.0);

/// Letters of the legend below the mark: HALF ends, MARK begins.
fn legend(relief: &mut Relief, foot: Foot) {
    for (sign, turn, size) in [('L', 11.6, 270.0), ('F', 6.1, 270.0), ('M', -5.2, 270.0), ('A', -12.2, 270.0)] {
        let angle = (90.0_f64 + turn).to_radians();
        let at = (ABOVE.0 + 2640.0 * angle.cos(), ABOVE.1 + 2640.0 * angle.sin());
        relief.raise(&Glyph::of(sign, at, size, turn), foot);
    }
}

fn mark_true() -> Relief {
    let mut relief = Relief::new(11).field(ABOVE, 1.5);
    legend(&mut relief, STRUCK);
    relief.raise(&Glyph::of('K', (545.0, 300.0), 300.0, 1.5), Foot { high: 19.0, slope: 10.0, fillet: 9.0, dip: 6.5 });
    relief
}

fn no_mark() -> Relief {
    let mut relief = Relief::new(17).field(ABOVE, 1.5);
    legend(&mut relief, STRUCK);
    relief
}

fn mark_cemented() -> Relief {
    let mut relief = Relief::new(23).field(ABOVE, 1.5);
    legend(&mut relief, STRUCK);
    let glyph = Glyph::of('K', (548.0, 296.0), 296.0, -5.5);
    // The field about it was rubbed when the joint was cleaned.
    let (low, up) = glyph.bounds();
    let smooth = blur(&relief.z, 14);
    let mut at = 0;
    relief.each(|p, z, _, _| {
        let inside = p.0 > low.0 - 120.0 && p.0 < up.0 + 120.0 && p.1 > low.1 - 120.0 && p.1 < up.1 + 120.0;
        if inside {
            let d = glyph.distance(p) + 10.0 * cloud(p.0 / 40.0, p.1 / 40.0, 5);
            *z += (smooth[at] - *z) * 0.85 * step(74.0, 30.0, d);
        }
        at += 1;
    });
    relief.stain(&glyph, -2.0, 66.0, 0.80, 0.2);
    for i in 0..26 {
        let h = |k| hash(i, k, 404);
        let a = (low.0 - 60.0 + h(0) * (up.0 - low.0 + 120.0), low.1 - 50.0 + h(1) * (up.1 - low.1 + 100.0));
        if glyph.distance(a) > 10.0 && glyph.distance(a) < 60.0 {
            relief.scratch(a, (a.0 + 40.0 * (h(2) - 0.2), a.1 + 26.0 * (h(3) - 0.5)), 1.2, 1.0);
        }
    }
    relief.within((low.0 - 60.0, low.1 - 60.0), (up.0 + 60.0, up.1 + 60.0), |p, z, skin, gloss| {
        let d = glyph.distance(p) + noise(p.0 / 17.0, p.1 / 17.0, 90) * 1.3;
        *z += 24.0 * step(1.8, -1.8, d) + 1.2 * step(0.0, -30.0, d);
        // An open joint, wider here and there, with cement squeezed out beside it.
        let open = (0.5 + 0.75 * noise(p.0 / 46.0, p.1 / 46.0, 91)).clamp(0.05, 1.0);
        *z -= (2.0 + 8.0 * open * open) * bell(d - 4.0, 1.9 + 1.5 * open);
        *z += 4.2 * (0.3 + 0.7 * noise(p.0 / 44.0, p.1 / 44.0, 92)).max(0.0) * bell(d - 15.0, 6.5);
        *skin *= 1.0 - (0.3 + 0.45 * open) * bell(d - 3.5, 2.2 + 1.6 * open) - 0.1 * step(0.0, -10.0, d);
        *gloss += 0.35 * step(0.0, -10.0, d);
        if d < -3.0 {
            *z += noise(p.0 / 4.0 + p.1 / 6.0, p.1 / 70.0 - p.0 / 90.0, 93) * 0.8;
        }
    });
    relief
}

fn mark_of_vessary() -> Relief {
    let mut relief = Relief::new(37).field(ABOVE, 1.3);
    relief.light.0 = 140.0;
    legend(&mut relief, STRUCK);
    // Punched twice: a first, weaker V stands up and to the left.
    relief.raise(&Glyph::of('V', (522.0, 286.0), 290.0, -2.5), Foot { high: 7.0, slope: 9.0, fillet: 8.0, dip: 0.0 });
    relief.raise(&Glyph::of('V', (560.0, 302.0), 292.0, 1.0), Foot { high: 17.0, slope: 10.0, fillet: 9.0, dip: 5.0 });
    relief
}

fn crack_at_prow() -> Relief {
    let centre = (-900.0, -640.0);
    let mut relief = Relief::new(41).field(centre, 1.4);
    relief.border(centre, 2085.0, 2205.0);
    // The prow: three strakes that close on the stem, and the stem post.
    let keel = |t: f64, drop: f64| (-60.0 + 560.0 * t, 60.0 + drop + 150.0 * t - 190.0 * t * t);
    let hull = Glyph(
        (0..5)
            .flat_map(|row| {
                let drop = f64::from(row) * 62.0;
                (0..18).map(move |i| {
                    let (t, u) = (f64::from(i) / 18.0, f64::from(i + 1) / 18.0);
                    let narrow = |t: f64| drop * (1.0 - 0.42 * t * t);
                    taper(keel(t, narrow(t)), keel(u, narrow(u)), 25.0 - 3.0 * t, 25.0 - 3.0 * u)
                })
            })
            .collect(),
    );
    relief.raise(&hull, Foot { high: 17.0, slope: 15.0, fillet: 9.0, dip: 0.0 });
    let stem =
        Glyph(vec![taper((520.0, -30.0), (488.0, 90.0), 15.0, 19.0), taper((488.0, 90.0), (424.0, 214.0), 19.0, 16.0)]);
    relief.raise(&stem, Foot { high: 16.0, slope: 11.0, fillet: 8.0, dip: 0.0 });
    for row in 0..3 {
        let y = 372.0 + f64::from(row) * 58.0;
        let swell = Glyph(
            (0..16)
                .map(|i| {
                    let at = |k: i32| {
                        (
                            f64::from(k) * 30.0 - 40.0,
                            y + 11.0 * (f64::from(k) * 0.72 + f64::from(row)).sin() - f64::from(k) * 1.5,
                        )
                    };
                    taper(at(i), at(i + 1), 7.0, 7.0)
                })
                .collect(),
        );
        relief.raise(&swell, Foot { high: 8.0, slope: 8.0, fillet: 6.0, dip: 0.0 });
    }
    let mut points = Vec::new();
    for i in 0..=64 {
        let t = f64::from(i) / 64.0;
        let x = 478.0 + 452.0 * t + 10.0 * noise(t * 8.0, 0.0, 71) + 5.0 * noise(t * 27.0, 0.0, 72);
        let y = 120.0 + 496.0 * t.powf(1.08) + 12.0 * noise(t * 7.0, 3.0, 73) + 6.0 * noise(t * 23.0, 3.0, 74);
        points.push(((x, y), 2.6 + 1.6 * t + 1.2 * noise(t * 18.0, 9.0, 75)));
    }
    relief.ridge(&points, 6.5);
    let fork: Vec<(P, f64)> = (0..14)
        .map(|i| {
            (
                (
                    points[38].0.0 + f64::from(i) * 5.4,
                    points[38].0.1 + f64::from(i) * 2.0 + 4.0 * noise(f64::from(i) * 0.7, 1.0, 76),
                ),
                2.2 - f64::from(i) * 0.12,
            )
        })
        .collect();
    relief.ridge(&fork, 4.0);
    relief
}

fn date_foot() -> Foot {
    Foot { high: 18.0, slope: 10.0, fillet: 8.0, dip: 1.5 }
}

fn overdate_true() -> Relief {
    let mut relief = Relief::new(53).field((400.0, -2100.0), 1.4);
    relief.raise(&Glyph::of('1', (200.0, 415.0), 520.0, 2.0), date_foot());
    // The old digit was ground down in the die, so it stands low and soft, under the new one.
    let seven = Glyph::of('7', (640.0, 440.0), 540.0, -1.0);
    relief.raise_under(
        &Glyph::of('4', (618.0, 452.0), 520.0, -1.0),
        Foot { high: 6.5, slope: 15.0, fillet: 10.0, dip: 0.0 },
        Some(&seven),
    );
    relief.raise(&seven, Foot { high: 16.0, ..date_foot() });
    // Lines of the grinding, raised and parallel.
    for i in 0..15 {
        let (x, y) = (370.0 + hash(i, 0, 8) * 420.0, 180.0 + hash(i, 1, 8) * 500.0);
        let long = 50.0 + 90.0 * hash(i, 2, 8);
        if seven.distance((x, y)) > 20.0 {
            relief.ridge(
                &[((x, y), 0.4), ((x + long * 0.5, y - long * 0.2), 1.0), ((x + long, y - long * 0.42), 0.3)],
                1.5,
            );
        }
    }
    relief
}

fn overdate_cut() -> Relief {
    let mut relief = Relief::new(59).field((400.0, -2100.0), 1.4);
    relief.raise(&Glyph::of('1', (200.0, 415.0), 520.0, 2.0), date_foot());
    let seven = Glyph::of('7', (640.0, 440.0), 540.0, -1.0);
    relief.raise(&seven, Foot { high: 18.0, ..date_foot() });
    let four = Glyph::of('4', (618.0, 452.0), 500.0, -1.0);
    // The field was cut away beside lines left standing: troughs, burrs, and tracks of the graver.
    let (low, up) = four.bounds();
    relief.within((low.0 - 80.0, low.1 - 80.0), (up.0 + 80.0, up.1 + 80.0), |p, z, skin, gloss| {
        let (d, from_seven) = (four.distance(p) + 5.0 * noise(p.0 / 24.0, p.1 / 24.0, 6), seven.distance(p));
        let clear = step(6.0, 22.0, from_seven);
        *z -= clear * 9.0 * bell(d - 20.0, 13.0);
        *z += clear * (2.5 * bell(d - 41.0, 7.0) + 3.0 * bell(d + 2.0, 8.0));
        *z += clear * bell(d - 20.0, 18.0) * noise((p.0 + p.1 * 0.6) / 34.0, (p.1 - p.0 * 0.6) / 4.0, 7) * 2.6;
        *skin *= 1.0 - 0.16 * clear * bell(d - 20.0, 16.0);
        *gloss += 0.7 * clear * bell(d - 20.0, 18.0);
    });
    for i in 0..34 {
        let h = |k| hash(i, k, 909);
        let a = (low.0 - 20.0 + h(0) * (up.0 - low.0 + 40.0), low.1 + h(1) * (up.1 - low.1));
        if seven.distance(a) > 26.0 && four.distance(a).abs() < 44.0 {
            relief.scratch(a, (a.0 + 54.0 * (h(2) - 0.3), a.1 - 44.0 * (h(3) - 0.2)), 1.7, 2.0);
        }
    }
    relief
}

fn digit_shaved() -> Relief {
    let mut relief = Relief::new(61).field((500.0, -2000.0), 1.4);
    relief.raise(&Glyph::of('1', (240.0, 400.0), 470.0, 2.0), date_foot());
    // What was a 4 hangs below the line of the date; its upright was left as a 1.
    let one = Glyph(vec![
        bar((680.0, 210.0), (676.0, 690.0), 43.0),
        bar((610.0, 690.0), (750.0, 690.0), 16.0),
        taper((668.0, 226.0), (588.0, 282.0), 18.0, 9.0),
    ]);
    relief.raise(&one, date_foot());
    let gone =
        Glyph(vec![taper((650.0, 240.0), (450.0, 540.0), 20.0, 18.0), bar((420.0, 556.0), (790.0, 556.0), 22.0)]);
    let (low, up) = gone.bounds();
    relief.within((low.0 - 120.0, low.1 - 120.0), (up.0 + 120.0, up.1 + 120.0), |p, z, skin, gloss| {
        let d = gone.distance(p) + 14.0 * cloud(p.0 / 60.0, p.1 / 60.0, 14);
        let clear = step(3.0, 16.0, one.distance(p));
        let patch = clear * step(52.0, 6.0, d);
        *z -= patch * 5.5;
        *z += clear * 3.4 * step(7.0, -12.0, gone.distance(p)) * (0.75 + 0.25 * noise(p.0 / 30.0, p.1 / 30.0, 16));
        let (along, across) = (p.0 * 0.8 + p.1 * 0.6, p.1 * 0.8 - p.0 * 0.6);
        *z += patch * (noise(along / 95.0, across / 3.4, 15) * 1.7 + noise(along / 60.0, across / 7.5, 17) * 1.6);
        *skin *= 1.0 - 0.07 * patch;
        *gloss += 0.7 * patch;
    });
    for i in 0..40 {
        let h = |k| hash(i, k, 515);
        let a = (low.0 - 40.0 + h(0) * (up.0 - low.0 + 60.0), low.1 - 10.0 + h(1) * (up.1 - low.1 + 60.0));
        if one.distance(a) > 24.0 && gone.distance(a) < 50.0 {
            let long = 40.0 + 60.0 * h(2);
            relief.scratch(a, (a.0 + long * 0.8 + 12.0 * h(3), a.1 + long * 0.58), 1.5, 1.7);
        }
    }
    relief
}

#[derive(Clone, Copy, PartialEq)]
enum Rope {
    Whole,
    /// Lost when the die was polished.
    Polished,
    /// Taken off the coin.
    Scraped,
}

fn rope(kind: Rope) -> Relief {
    let mut relief = Relief::new(match kind {
        Rope::Whole => 67,
        Rope::Polished => 68,
        Rope::Scraped => 69,
    })
    .field((-500.0, -1500.0), 1.3);
    let stem =
        Glyph(vec![taper((70.0, 30.0), (116.0, 200.0), 44.0, 56.0), taper((116.0, 200.0), (60.0, 480.0), 56.0, 42.0)]);
    let strakes = Glyph(
        (0..4)
            .map(|i| {
                let y = 130.0 + f64::from(i) * 104.0;
                taper((-60.0, y), (74.0, y - 18.0), 40.0, 40.0)
            })
            .collect(),
    );
    let quay = Glyph(
        (0..3)
            .flat_map(|row| {
                (0..3).map(move |col| {
                    let (x, y) =
                        (780.0 + f64::from(col) * 170.0 + f64::from(row % 2) * 80.0, 560.0 + f64::from(row) * 104.0);
                    bar((x, y), (x + 146.0, y), 40.0)
                })
            })
            .collect(),
    );
    let post = Glyph(vec![bar((880.0, 380.0), (880.0, 520.0), 46.0), bar((820.0, 372.0), (940.0, 372.0), 24.0)]);
    for part in [&strakes, &stem, &quay, &post] {
        relief.raise(part, Foot { high: 16.0, slope: 12.0, fillet: 8.0, dip: 0.0 });
    }
    let hang = |t: f64| (150.0 + 700.0 * t, 150.0 + 300.0 * t + 230.0 * (PI * t).sin() * 0.9);
    let line: Vec<P> = (0..=60).map(|i| hang(f64::from(i) / 60.0)).collect();
    let trace = Glyph(line.windows(2).map(|w| taper(w[0], w[1], 17.0, 17.0)).collect());
    match kind {
        Rope::Whole => {
            // Laid of short turns, each across the last.
            let turns = Glyph(
                (0..46)
                    .map(|i| {
                        let t = (f64::from(i) + 0.5) / 46.0;
                        let (a, b) = (hang(t - 0.006), hang(t + 0.006));
                        let (dx, dy) = ((b.0 - a.0), (b.1 - a.1));
                        let long = dx.hypot(dy);
                        let (ux, uy) = (dx / long, dy / long);
                        let c = hang(t);
                        taper(
                            (c.0 - ux * 9.0 - uy * 12.0, c.1 - uy * 9.0 + ux * 12.0),
                            (c.0 + ux * 9.0 + uy * 12.0, c.1 + uy * 9.0 - ux * 12.0),
                            8.0,
                            8.0,
                        )
                    })
                    .collect(),
            );
            relief.raise(&turns, Foot { high: 10.0, slope: 9.0, fillet: 7.0, dip: 0.0 });
        }
        Rope::Polished => {
            // Stumps at both ends, and lines of the die's polish, raised, running up to the devices.
            let ends = Glyph(
                line[..5].windows(2).chain(line[54..].windows(2)).map(|w| taper(w[0], w[1], 11.0, 12.0)).collect(),
            );
            relief.raise(&ends, Foot { high: 5.0, slope: 11.0, fillet: 8.0, dip: 0.0 });
            for i in 0..46 {
                let h = |k| hash(i, k, 808);
                let (x, y, long) = (200.0 + h(0) * 560.0, 120.0 + h(1) * 560.0, 60.0 + 150.0 * h(2));
                if trace.distance((x + long * 0.4, y + long * 0.16)) < 130.0 {
                    relief.ridge(
                        &[
                            ((x, y), 0.3),
                            ((x + long * 0.45, y + long * 0.18), 0.9),
                            ((x + long * 0.9, y + long * 0.38), 0.3),
                        ],
                        1.1,
                    );
                }
            }
        }
        Rope::Scraped => {
            let seed = 35;
            let clear = |p: P| step(8.0, 22.0, stem.distance(p).min(post.distance(p)));
            relief.each(|p, z, skin, gloss| {
                let d = trace.distance(p) + 16.0 * cloud(p.0 / 55.0, p.1 / 55.0, seed);
                let patch = clear(p) * step(46.0, 4.0, d);
                *z -= patch * 6.5;
                *z += clear(p)
                    * 3.0
                    * step(5.0, -12.0, trace.distance(p))
                    * (0.6 + 0.4 * noise(p.0 / 33.0, p.1 / 33.0, seed + 4));
                *z += patch * noise((p.0 + p.1 * 0.5) / 70.0, (p.1 - p.0 * 0.5) / 4.0, seed + 5) * 2.3;
                *skin *= 1.0 - 0.08 * patch;
                *gloss += 0.7 * patch;
            });
            for i in 0..70 {
                let h = |k| hash(i, k, 606);
                let c = hang(0.04 + 0.9 * h(0));
                let a = (c.0 + 70.0 * (h(1) - 0.5) - 30.0, c.1 + 70.0 * (h(2) - 0.5) - 15.0);
                if clear(a) > 0.9 {
                    relief.scratch(a, (a.0 + 30.0 + 50.0 * h(3), a.1 + 14.0 + 40.0 * h(4)), 1.5, 1.8);
                }
            }
        }
    }
    relief.mirrored()
}

fn hollow() -> Relief {
    let mut relief = Relief::new(73).field((-700.0, 1500.0), 1.5);
    relief.light = (155.0, 18.0);
    for (sign, x, turn) in [('H', 150.0, -4.0), ('A', 560.0, 1.0), ('R', 950.0, 6.0)] {
        relief.raise(
            &Glyph::of(sign, (x, 205.0 + (x - 550.0).powi(2) / 4200.0), 330.0, turn),
            Foot { high: 16.0, slope: 15.0, fillet: 13.0, dip: 0.0 },
        );
    }
    relief.soft_hollow((470.0, 590.0), (112.0, 52.0), 24.0, 30.0);
    relief.soft_hollow((640.0, 690.0), (48.0, 34.0), 60.0, 17.0);
    relief.soft_hollow((780.0, 560.0), (32.0, 27.0), 0.0, 13.0);
    relief
}

fn contact_mark() -> Relief {
    let mut relief = Relief::new(79).field((-700.0, 1500.0), 1.5);
    relief.light = (155.0, 18.0);
    for (sign, x, turn) in [('H', 150.0, -4.0), ('A', 560.0, 1.0), ('R', 950.0, 6.0)] {
        relief.raise(&Glyph::of(sign, (x, 205.0 + (x - 550.0).powi(2) / 4200.0), 330.0, turn), STRUCK);
    }
    for (at, size, turn, deep) in
        [((480.0, 600.0), (98.0, 30.0), 24.0_f64, 17.0), ((640.0, 690.0), (40.0, 15.0), -38.0, 11.0)]
    {
        let (sin, cos) = turn.to_radians().sin_cos();
        relief.within((at.0 - 260.0, at.1 - 220.0), (at.0 + 260.0, at.1 + 220.0), |p, z, skin, gloss| {
            let (x, y) = (p.0 - at.0, p.1 - at.1);
            let (along, across) = (x * cos + y * sin, y * cos - x * sin);
            let d = ((along / size.0).abs().powi(3) + (across / size.1).abs().powi(2)).powf(0.45)
                + 0.05 * noise(p.0 / 13.0, p.1 / 13.0, 97);
            let inside = step(1.04, 0.9, d);
            // Flat floor, steep wall, and a lip heaped to one side.
            *z -= inside * deep * (0.75 + 0.3 * across / size.1);
            *z += 6.5 * bell((d - 1.12) * size.1, 8.0) * (0.65 + 0.5 * (across / size.1).clamp(-1.0, 1.2)).max(0.15);
            if inside > 0.5 {
                *z += noise(along / 60.0, across / 3.0, 98) * 1.2;
            }
            *skin *= 1.0 + 0.12 * inside;
            *gloss += 0.9 * inside;
        });
    }
    relief
}

fn cast_field() -> Relief {
    let mut relief = Relief::new(83);
    relief.light = (146.0, 24.0);
    for (sign, x, turn) in [('O', 120.0, -6.0), ('R', 500.0, 0.0), ('R', 900.0, 6.0)] {
        relief.raise(
            &Glyph::of(sign, (x, 260.0 + (x - 550.0).powi(2) / 4200.0), 360.0, turn),
            Foot { high: 15.0, slope: 30.0, fillet: 24.0, dip: 0.0 },
        );
    }
    relief.each(|p, z, skin, gloss| {
        let grain = noise(p.0 / 9.0, p.1 / 9.0, 3) * 0.9
            + noise(p.0 / 17.0, p.1 / 17.0, 4) * 1.5
            + noise(p.0 / 36.0, p.1 / 36.0, 5) * 1.6;
        *z += grain + cloud(p.0 / 260.0, p.1 / 260.0, 6) * 6.0;
        *skin *= 0.9 + 0.06 * cloud(p.0 / 70.0, p.1 / 70.0, 8);
        *gloss *= 0.3;
    });
    for i in 0..70 {
        let h = |k| hash(i, k, 313);
        let (at, size) = ((h(0) * W as f64, h(1) * H as f64), 5.0 + 15.0 * h(2).powi(3));
        if h(3) < 0.62 {
            relief.within((at.0 - 70.0, at.1 - 70.0), (at.0 + 70.0, at.1 + 70.0), |p, z, skin, _| {
                let d = ((p.0 - at.0).hypot(p.1 - at.1)) / size + 0.15 * noise(p.0 / 9.0, p.1 / 9.0, 14);
                *z -= size * 0.9 * step(1.25, 0.3, d);
                *skin *= 1.0 - 0.3 * step(1.1, 0.5, d);
            });
        } else {
            relief.within((at.0 - 70.0, at.1 - 70.0), (at.0 + 70.0, at.1 + 70.0), |p, z, _, gloss| {
                let d = ((p.0 - at.0).hypot(p.1 - at.1)) / size;
                *z += size * 0.9 * (1.0 - d * d).max(0.0).sqrt();
                *gloss += 0.8 * step(1.0, 0.4, d);
            });
        }
    }
    relief
}

fn lumps() -> Relief {
    let mut relief = Relief::new(89).field((560.0, 1900.0), 1.2);
    relief.light.0 = 142.0;
    // The lamp room: gallery, panes, cap; and rays of the light.
    let mut parts = vec![
        bar((360.0, 640.0), (760.0, 640.0), 26.0),
        bar((400.0, 800.0), (430.0, 690.0), 30.0),
        bar((720.0, 800.0), (690.0, 690.0), 30.0),
        bar((420.0, 330.0), (700.0, 330.0), 20.0),
    ];
    parts.extend((0..4).map(|i| {
        let x = 440.0 + f64::from(i) * 80.0;
        bar((x, 350.0), (x, 620.0), 13.0)
    }));
    parts.extend([
        bar((430.0, 480.0), (690.0, 480.0), 10.0),
        taper((560.0, 180.0), (450.0, 300.0), 14.0, 18.0),
        taper((560.0, 180.0), (670.0, 300.0), 14.0, 18.0),
        taper((560.0, 120.0), (560.0, 180.0), 9.0, 22.0),
    ]);
    relief.raise(&Glyph(parts), Foot { high: 15.0, slope: 12.0, fillet: 10.0, dip: 0.0 });
    let rays = Glyph(
        [
            (330.0, 420.0, -40.0, 330.0),
            (330.0, 480.0, -40.0, 500.0),
            (330.0, 545.0, -40.0, 660.0),
            (790.0, 420.0, 1160.0, 330.0),
            (790.0, 480.0, 1160.0, 500.0),
            (790.0, 545.0, 1160.0, 660.0),
        ]
        .map(|(a, b, c, d)| taper((a, b), (c, d), 6.0, 13.0))
        .to_vec(),
    );
    relief.raise(&rays, Foot { high: 9.0, slope: 11.0, fillet: 9.0, dip: 0.0 });
    // Bumps that no die study knows, and spikes left by cleaning the false die.
    for (at, size, turn, high) in [
        ((852.0, 372.0), (26.0, 20.0), 20.0, 12.0),
        ((902.0, 455.0), (17.0, 15.0), 0.0, 9.0),
        ((846.0, 596.0), (22.0, 14.0), 50.0, 9.0),
        ((236.0, 566.0), (30.0, 18.0), -30.0, 10.0),
        ((300.0, 292.0), (15.0, 13.0), 0.0, 8.0),
    ] {
        relief.lump(at, size, turn, high);
    }
    for (a, b) in [
        ((770.0, 700.0), (838.0, 742.0)),
        ((790.0, 676.0), (852.0, 700.0)),
        ((330.0, 700.0), (262.0, 752.0)),
        ((740.0, 250.0), (800.0, 214.0)),
        ((736.0, 292.0), (786.0, 280.0)),
    ] {
        relief.ridge(&[(a, 4.5), ((a.0 * 0.5 + b.0 * 0.5, a.1 * 0.5 + b.1 * 0.5 + 4.0), 3.6), (b, 0.8)], 7.0);
    }
    relief
}

/// The edge, seen square on: chain letters of Orrin's two marks; with a seam where two shells meet.
fn edge(seam: bool) -> Relief {
    let mut relief = Relief::new(if seam { 97 } else { 98 });
    relief.light = (104.0, 24.0);
    let middle = H as f64 / 2.0;
    let half = 300.0;
    relief.each(|p, z, skin, gloss| {
        let across = (p.1 - middle) / half;
        let body = step(1.05, 0.97, across.abs());
        *z += 46.0 * body - 34.0 * across * across * body;
        *z += body * (noise(p.0 / 160.0, p.1 / 4.5, 21) * 1.0 + noise(p.0 / 260.0, p.1 / 11.0, 22) * 1.0);
        *skin *= 0.10 + 0.9 * step(1.06, 0.99, across.abs());
        *skin *= 1.0 + 0.06 * cloud(p.0 / 130.0, p.1 / 130.0, 23);
        *gloss *= body;
    });
    for (sign, x) in [('H', 150.0), ('A', 500.0), ('R', 850.0)] {
        relief
            .raise(&Glyph::of(sign, (x, middle), 300.0, 0.0), Foot { high: -11.0, slope: 12.0, fillet: 7.0, dip: 0.0 });
    }
    for x in [325.0, 675.0, 1022.0] {
        let mut link = Vec::new();
        bow(&mut link, (x, middle), (46.0, 74.0), 0.0, 360.0, 12.0, 12.0);
        relief.raise(&Glyph(link), Foot { high: -8.0, slope: 10.0, fillet: 6.0, dip: 0.0 });
    }
    if seam {
        let at = |x: f64| middle + 92.0 + 9.0 * noise(x / 150.0, 0.0, 24) + 3.0 * noise(x / 34.0, 0.0, 25);
        relief.each(|p, z, skin, gloss| {
            let d = p.1 - at(p.0);
            let open = 0.6 + 0.4 * noise(p.0 / 80.0, 1.0, 26);
            *z -= 11.0 * open * bell(d, 3.4) + 2.2 * step(-2.0, 2.0, d);
            // Solder filed level: a smooth band with tracks of the file along the edge.
            let band = bell(d, 44.0);
            *z += band * noise(p.0 / 120.0 + p.1 / 40.0, p.1 / 3.2 + p.0 / 60.0, 27) * 1.5;
            *skin *= 1.0 - 0.66 * open * bell(d, 4.0);
            *gloss += 0.55 * band;
        });
        let mut patch = 0;
        while patch < 5 {
            let h = |k| hash(patch, k, 717);
            let x = 90.0 + 1000.0 * h(0);
            relief.lump((x, at(x) + 8.0 * (h(1) - 0.5)), (20.0 + 16.0 * h(2), 8.0), 4.0, 4.5);
            patch += 1;
        }
    }
    relief
}
