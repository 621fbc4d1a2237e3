//! The half mark of Orrin: both faces in mm, from the same places that the series' entry gives its landmarks.

use super::ground;
use super::letters::{Sign, arc, at_clock};
use super::numbers::{P, noise, turn};
use super::relief::{Foot, Relief, STRUCK};
use super::shape::{Shape, bar, bow, path, taper};

pub const RADIUS: f64 = 12.3;
pub const THICKNESS: f64 = 1.55;
pub const REEDS: f64 = 118.0;

pub const DEVICE: Foot = Foot { high: 0.12, slope: 0.08, fillet: 0.035, dip: 0.0, dome: (0.1, 0.55) };
const THIN: Foot = Foot { high: 0.045, slope: 0.05, fillet: 0.025, dip: 0.0, dome: (0.004, 0.05) };
pub const INCISED: Foot = Foot { high: -0.035, slope: 0.05, fillet: 0.02, dip: 0.0, dome: (0.0, 0.05) };
pub const DATE: Foot = Foot { high: 0.085, slope: 0.045, fillet: 0.03, dip: 0.005, dome: (0.014, 0.1) };
pub const PUNCHED: Foot = Foot { high: 0.083, slope: 0.045, fillet: 0.038, dip: 0.027, dome: (0.01, 0.08) };

/// A path of a landmark, in radii, on the coin.
pub fn on_coin(d: &str, radius: f64) -> Vec<Vec<P>> {
    path(d).into_iter().map(|line| line.into_iter().map(|p| (p.0 * radius, p.1 * radius)).collect()).collect()
}

fn lines(d: &str, half: f64) -> Vec<Shape> {
    on_coin(d, RADIUS).iter().map(|line| Shape::line(line, half)).collect()
}

fn filled(d: &str) -> Shape {
    Shape { strokes: Vec::new(), fills: on_coin(d, RADIUS) }
}

// ---- obverse ----

pub fn legend_obverse() -> Vec<Sign> {
    arc("ORRIN · HARBOUR BOARD", (8.3, 3.7), 0.86 * RADIUS, 0.112 * RADIUS, false)
}

/// Feet of the short figures of the date, mm below the centre; the long ones hang below it.
pub const DATE_LINE: f64 = 9.25;
const SHORT: f64 = 1.5;
const LONG: f64 = 2.05;

/// Old-style figures: 0, 1 and 2 are short; 4, 7 and 9 hang below the line. Each was punched alone.
pub fn date(figures: &str) -> Vec<Sign> {
    const LEAN: [f64; 4] = [-1.6, 0.8, -0.6, 1.1];
    let place = |(i, sign): (usize, char)| {
        let short = "012".contains(sign);
        let size = if short { SHORT } else { LONG };
        let foot = if short { DATE_LINE } else { DATE_LINE - SHORT + LONG };
        let x = -2.45 + 1.63 * i as f64 + [0.0, 0.05, -0.03, 0.02][i];
        Sign { sign, at: (x, foot - size / 2.0), size, turn: LEAN[i] }
    };
    figures.chars().enumerate().map(place).collect()
}

/// Ring, stock, shank, arms and flukes.
pub fn anchor() -> Vec<Shape> {
    let mut ring = Vec::new();
    bow(&mut ring, (0.0, -0.53 * RADIUS), (0.068 * RADIUS, 0.068 * RADIUS), (0.0, 360.0), (0.2, 0.2));
    let body = filled(
        "M-0.036,-0.46 L0.036,-0.46 L0.044,0.3 C0.16,0.28 0.3,0.22 0.36,0.1 L0.44,0.02 C0.42,0.24 0.22,0.36 0,0.43 C-0.22,0.36 -0.42,0.24 -0.44,0.02 L-0.36,0.1 C-0.3,0.22 -0.16,0.28 -0.044,0.3 Z",
    );
    let flukes = filled("M-0.46,-0.02 L-0.545,0.19 L-0.33,0.12 Z M0.46,-0.02 L0.545,0.19 L0.33,0.12 Z");
    let mut stock = filled("M-0.27,-0.385 L0.27,-0.385 L0.27,-0.33 L-0.27,-0.33 Z");
    for side in [-1.0, 1.0] {
        let knob = (side * 0.275 * RADIUS, -0.357 * RADIUS);
        stock.strokes.push(taper(knob, (knob.0 + 0.01, knob.1), 0.52, 0.52));
    }
    vec![Shape::of(ring), body.with(flukes), stock]
}

/// A line of rope: short turns laid across a curve.
pub fn rope(curve: &[P], half: f64) -> Shape {
    let mut turns = Vec::new();
    let mut left = 0.0;
    for w in curve.windows(2) {
        let (dx, dy) = (w[1].0 - w[0].0, w[1].1 - w[0].1);
        let long = super::numbers::length(dx, dy);
        let (ux, uy) = (dx / long, dy / long);
        while left < long {
            let c = (w[0].0 + ux * left, w[0].1 + uy * left);
            let (x, y) = (ux * 0.75 - uy, uy * 0.75 + ux);
            let reach = half * 0.72;
            turns.push(taper(
                (c.0 - x * reach, c.1 - y * reach),
                (c.0 + x * reach, c.1 + y * reach),
                half * 0.52,
                half * 0.52,
            ));
            left += half * 1.5;
        }
        left -= long;
    }
    Shape::of(turns)
}

const CABLE: &str =
    "M0.06,-0.5 C0.32,-0.5 0.34,-0.24 0.155,-0.16 C-0.08,-0.08 -0.245,-0.03 -0.2,0.11 C-0.155,0.22 0.06,0.16 0.2,0.21";

/// How the device and legends of a die are cut: true, or pressed from a coin and soft.
#[derive(Clone, Copy)]
pub struct Cut {
    pub letters: Foot,
    pub device: Foot,
    pub flow: f64,
}

pub const TRUE_CUT: Cut = Cut { letters: STRUCK, device: DEVICE, flow: 1.0 };
pub const PRESSED_CUT: Cut = Cut {
    letters: Foot { high: 0.068, slope: 0.085, fillet: 0.06, ..STRUCK },
    device: Foot { high: 0.095, slope: 0.12, fillet: 0.06, ..DEVICE },
    flow: 0.5,
};

pub fn obverse(relief: &mut Relief, cut: Cut, figures: &[Sign]) {
    ground::field(relief, cut.flow);
    let [ring, body, stock] = anchor().try_into().unwrap_or_else(|_| panic!("an anchor has three parts"));
    relief.raise_under(&body, cut.device, Some(&stock));
    relief.raise(&ring, Foot { dome: (0.03, 0.2), ..cut.device });
    relief.raise(&stock, Foot { high: 0.12, dome: (0.03, 0.3), ..cut.device });
    let cable = &on_coin(CABLE, RADIUS)[0];
    // Where the cable passes over the shank it stands on it; the groove beside it keeps the two apart.
    let around = Shape::line(cable, 0.2);
    relief.about(&around, 0.1, |p, z, _, _| {
        let d = around.distance(p);
        if d < 0.08 {
            *z *= super::numbers::step(-0.14, 0.08, d).max(0.35);
        }
    });
    relief.raise(&rope(cable, 0.2), Foot { high: 0.085, slope: 0.1, dome: (0.03, 0.1), ..cut.device });
    for sign in legend_obverse() {
        relief.raise(&sign.shape(), cut.letters);
    }
    for sign in figures {
        relief.raise(&sign.shape(), Foot { slope: cut.letters.slope.max(DATE.slope), ..DATE });
    }
    ground::border(relief, RADIUS);
}

// ---- reverse ----

pub fn legend_above() -> Vec<Sign> {
    arc("SAFE AT THE QUAY", (9.1, 2.9), 0.86 * RADIUS, 0.11 * RADIUS, false)
}

pub fn legend_below() -> Vec<Sign> {
    arc("HALF_MARK", (4.75, 7.25), 0.885 * RADIUS, 0.084 * RADIUS, true)
}

/// Height of a mint mark, mm.
pub const MARK: f64 = 0.96;

/// A mint mark below the keel: letter, clock, reach, and how far its upright is turned to the right from the line to
/// the centre of the coin.
pub fn mark(sign: char, clock: f64, reach: f64, lean: f64) -> Sign {
    Sign { sign, at: at_clock(clock, reach * RADIUS), size: MARK, turn: clock * 30.0 - 180.0 + lean }
}

const HULL: &str = "M-0.48,-0.02 C-0.26,0.1 0.08,0.1 0.44,-0.16 C0.42,-0.02 0.36,0.14 0.24,0.26 C0,0.31 -0.26,0.31 -0.43,0.25 C-0.48,0.16 -0.5,0.07 -0.48,-0.02 Z";
const STRAKES: &str = "M-0.49,0.06 C-0.26,0.16 0.08,0.16 0.415,-0.07 M-0.475,0.13 C-0.26,0.22 0.08,0.22 0.375,0.03 M-0.45,0.2 C-0.26,0.27 0.06,0.27 0.315,0.14";
const SAIL: &str = "M-0.36,-0.44 C-0.26,-0.34 -0.14,-0.37 -0.05,-0.42 C0.06,-0.36 0.18,-0.4 0.28,-0.5 L-0.04,-0.475 Z";
const RIGGING: &str = "M-0.04,-0.62 L0.43,-0.16 M-0.04,-0.62 L-0.47,-0.02 M-0.04,-0.62 L0.61,-0.255 M-0.04,-0.62 L-0.3,0.0 M-0.04,-0.62 L0.24,-0.05";
/// From the stern to the bollard.
pub const ROPE: &str = "M-0.478,0.035 C-0.515,0.18 -0.625,0.23 -0.69,0.115";

/// The stones of each row of the quay, in radii: left, right, upper, lower edge.
const STONES: [[f64; 4]; 8] = [
    [-0.83, -0.705, 0.225, 0.295],
    [-0.69, -0.54, 0.225, 0.295],
    [-0.8, -0.775, 0.31, 0.375],
    [-0.76, -0.64, 0.31, 0.375],
    [-0.625, -0.54, 0.31, 0.375],
    [-0.76, -0.69, 0.39, 0.455],
    [-0.675, -0.6, 0.39, 0.455],
    [-0.585, -0.54, 0.39, 0.455],
];

#[derive(Clone, Copy, PartialEq)]
pub enum Tails {
    One,
    Two,
}

#[derive(Clone, Copy, PartialEq)]
pub enum Rope {
    Whole,
    /// Lost when the die was polished, but for its ends.
    Polished,
    /// Where it is to be scraped off.
    Gone,
}

pub fn bollard() -> Shape {
    let r = RADIUS;
    Shape::of([
        bar((-0.74 * r, 0.082 * r), (-0.62 * r, 0.082 * r), 0.25),
        bar((-0.68 * r, 0.1 * r), (-0.68 * r, 0.215 * r), 0.38),
    ])
}

pub fn hull() -> Shape {
    filled(HULL)
}

pub fn swell() -> Vec<Shape> {
    let rows: [(f64, f64, u32); 3] = [(-0.5, 0.38, 7), (-0.44, 0.47, 7), (-0.34, 0.56, 5)];
    let wave = |(x, y, crests): (f64, f64, u32)| {
        let point = |i: u32| {
            let t = f64::from(i) / 12.0;
            let (sin, _) = turn(t * 180.0);
            ((x + 0.14 * t) * RADIUS, (y - 0.022 * sin.abs() + 0.012) * RADIUS)
        };
        let points: Vec<P> = (0..=crests * 12).map(point).collect();
        Shape::line(&points, 0.075)
    };
    rows.map(wave).to_vec()
}

fn ship(relief: &mut Relief, device: Foot, tails: Tails) {
    let thin = Foot { slope: device.slope.min(0.08), ..THIN };
    for line in lines(RIGGING, 0.035) {
        relief.raise(&line, thin);
    }
    let r = RADIUS;
    relief.raise(
        &Shape::of([taper((-0.055 * r, 0.07 * r), (-0.04 * r, -0.65 * r), 0.19, 0.1)]),
        Foot { high: 0.09, dome: (0.02, 0.1), ..device },
    );
    relief.raise(&filled(SAIL), Foot { high: 0.07, dome: (0.06, 0.35), ..device });
    relief.raise(
        &Shape::of([taper((-0.37 * r, -0.44 * r), (0.29 * r, -0.505 * r), 0.1, 0.1)]),
        Foot { high: 0.06, dome: (0.02, 0.1), ..device },
    );
    for x in [-0.22, -0.06, 0.1] {
        let y = -0.36 - 0.03 * (x + 0.06_f64).abs();
        relief.raise(&Shape::of([taper((x * r, -0.455 * r), (x * r, y * r), 0.03, 0.03)]), INCISED);
    }
    let pennant = match tails {
        Tails::One => "M-0.04,-0.655 C-0.12,-0.68 -0.18,-0.62 -0.27,-0.645 C-0.18,-0.585 -0.1,-0.61 -0.04,-0.6 Z",
        Tails::Two => {
            "M-0.04,-0.66 C-0.12,-0.685 -0.18,-0.63 -0.28,-0.67 L-0.22,-0.625 L-0.26,-0.585 C-0.16,-0.57 -0.1,-0.62 -0.04,-0.6 Z"
        }
    };
    relief.raise(&filled(pennant), Foot { high: 0.05, dome: (0.02, 0.2), ..device });
    relief.raise(&hull(), Foot { dome: (0.08, 0.5), ..device });
    relief.raise(
        &Shape::of([taper((0.42 * r, -0.14 * r), (0.62 * r, -0.26 * r), 0.17, 0.1)]),
        Foot { high: 0.08, dome: (0.02, 0.1), ..device },
    );
    for line in lines(STRAKES, 0.05) {
        relief.raise(&line, INCISED);
    }
    // The gunwale, a rounded moulding along the deck.
    let deck = &on_coin("M-0.485,-0.02 C-0.26,0.1 0.08,0.1 0.445,-0.165", RADIUS)[0];
    relief.raise(&Shape::line(deck, 0.13), Foot { high: 0.045, dome: (0.03, 0.12), ..device });
}

pub fn quay(relief: &mut Relief, device: Foot) {
    let r = RADIUS;
    for [left, right, upper, lower] in STONES {
        let y = (upper + lower) / 2.0 * r;
        let stone = Shape::of([bar((left * r, y), (right * r, y), (lower - upper) / 2.0 * r)]);
        relief.raise(&stone, Foot { high: 0.085, dome: (0.02, 0.1), ..device });
    }
    relief.raise(&bollard(), Foot { high: 0.1, dome: (0.02, 0.1), ..device });
}

/// Everything but the mint mark.
pub fn reverse(relief: &mut Relief, cut: Cut, tails: Tails, rope_left: Rope) {
    ground::field(relief, cut.flow);
    for line in swell() {
        relief
            .raise(&line, Foot { high: 0.055, slope: 0.06_f64.max(cut.letters.slope), dome: (0.015, 0.07), ..DEVICE });
    }
    ship(relief, cut.device, tails);
    quay(relief, cut.device);
    let curve = &on_coin(ROPE, RADIUS)[0];
    match rope_left {
        Rope::Gone => {}
        Rope::Whole => relief.raise(&rope(curve, 0.1), Foot { high: 0.05, slope: 0.05, dome: (0.02, 0.05), ..DEVICE }),
        Rope::Polished => {
            let last = curve.len();
            for end in [&curve[..3], &curve[last - 3..]] {
                relief.raise(&Shape::line(end, 0.055), Foot { high: 0.024, slope: 0.06, dome: (0.0, 0.1), ..DEVICE });
            }
        }
    }
    for sign in legend_above().iter().chain(&legend_below()) {
        relief.raise(&sign.shape(), cut.letters);
    }
    ground::border(relief, RADIUS);
}

/// Where the crack of the Kell die and its fork meet the rim: each through the middle of a bead.
pub const CRACK_CLOCK: f64 = (12.0 * 360.0 / ground::BEAD_COUNT + 90.0) / 30.0;
const FORK_CLOCK: f64 = (11.0 * 360.0 / ground::BEAD_COUNT + 90.0) / 30.0;

/// The crack of the Kell die of 1911: points and half widths, from the prow through a bead to the rim; and its fork,
/// through the next bead.
pub fn crack() -> [Vec<(P, f64)>; 2] {
    let main = crack_line((0.37 * RADIUS, 0.115 * RADIUS), at_clock(CRACK_CLOCK, 0.985 * RADIUS), 96, 71);
    let fork = crack_line(main[56].0, at_clock(FORK_CLOCK, 0.975 * RADIUS), 48, 81);
    let fork = fork.into_iter().map(|(p, half)| (p, half * 0.8)).collect();
    [main, fork]
}

/// A wandering line between two places.
fn crack_line(from: P, to: P, pieces: u32, seed: u32) -> Vec<(P, f64)> {
    let point = |i: u32| {
        let t = f64::from(i) / f64::from(pieces);
        let (along, free) = (t * f64::from(pieces) / 9.0, 4.0 * t * (1.0 - t));
        let x = from.0
            + (to.0 - from.0) * t
            + free * 0.08 * noise(along, 0.0, seed)
            + 0.022 * noise(along * 3.7, 0.0, seed + 1);
        let y = from.1
            + (to.1 - from.1) * t
            + free * 0.1 * noise(along, 3.0, seed + 2)
            + 0.022 * noise(along * 3.7, 3.0, seed + 3);
        ((x, y), 0.012 + 0.008 * t + 0.005 * noise(along * 2.7, 9.0, seed + 4))
    };
    (0..=pieces).map(point).collect()
}

pub fn raise_crack(relief: &mut Relief) {
    let [main, fork] = crack();
    relief.ridge(&main, 0.04);
    relief.ridge(&fork, 0.026);
}
