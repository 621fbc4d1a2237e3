//! The two marks of Orrin: both faces in mm, from the places that the series' entry gives its landmarks; the true
//! coin of Kell, 1921, and the lumps of a false reverse.

use super::camera::Camera;
use super::deeds::{Kind, Repeat, add};
use super::ground;
use super::half_mark::{DEVICE, INCISED, PUNCHED, on_coin};
use super::letters::{Sign, arc, at_clock};
use super::light::Lamp;
use super::numbers::P;
use super::picture::{Metal, Setting};
use super::relief::{Foot, Relief, STRUCK};
use super::scenes::{Notes, SILVER, Scene};
use super::shape::{Shape, bar, taper};

/// Before 1928.
pub const RADIUS: f64 = 14.7;
const KELL: &str = "issues/orrin/two-mark/1921-k";

pub const NICKEL: Setting =
    Setting { radius: RADIUS, thickness: 2.1, reeds: 0.0, metal: Metal::CopperNickel, ..SILVER };

const THIN: Foot = Foot { high: 0.05, slope: 0.06, fillet: 0.03, dip: 0.0, dome: (0.006, 0.06) };
const LINE: Foot = Foot { high: 0.07, slope: 0.07, fillet: 0.03, dip: 0.0, dome: (0.03, 0.1) };

fn filled(d: &str) -> Shape {
    Shape { strokes: Vec::new(), fills: on_coin(d, RADIUS) }
}

/// A stroke between two places given in radii, with half widths in mm.
fn rib(a: P, b: P, from: f64, to: f64) -> Shape {
    Shape::of([taper((a.0 * RADIUS, a.1 * RADIUS), (b.0 * RADIUS, b.1 * RADIUS), from, to)])
}

// ---- obverse ----

fn legend_obverse() -> Vec<Sign> {
    arc("ORRIN · THE HARBOUR BOARD", (8.2, 3.8), 0.86 * RADIUS, 0.1 * RADIUS, false)
}

/// The date came with one punch: four lining figures on one line.
pub fn date(figures: &str) -> Vec<Sign> {
    let place = |(i, sign)| Sign { sign, at: (-2.85 + 1.9 * i as f64, 0.655 * RADIUS), size: 2.3, turn: 0.0 };
    figures.chars().enumerate().map(place).collect()
}

const BODY: &str = "M-0.02,-0.12 C0.04,-0.1 0.1,-0.1 0.16,-0.11 C0.2,-0.16 0.28,-0.15 0.3,-0.09 L0.39,-0.05 L0.29,-0.03 C0.2,0.06 0.04,0.08 -0.1,0.05 L-0.31,0.12 L-0.25,0.06 L-0.34,0.04 L-0.15,-0.02 C-0.11,-0.06 -0.06,-0.1 -0.02,-0.12 Z";
const LEFT_WING: &str = "M-0.15,-0.02 C-0.24,-0.22 -0.42,-0.31 -0.64,-0.28 C-0.42,-0.44 -0.16,-0.4 -0.0,-0.11 C-0.05,-0.06 -0.1,-0.03 -0.15,-0.02 Z";
const RIGHT_WING: &str =
    "M-0.02,-0.11 C0.02,-0.38 0.24,-0.55 0.58,-0.52 C0.4,-0.43 0.26,-0.3 0.17,-0.1 C0.1,-0.08 0.04,-0.08 -0.02,-0.11 Z";

fn gull(relief: &mut Relief) {
    let (left, right) = (filled(LEFT_WING), filled(RIGHT_WING));
    let plume = Foot { high: 0.1, dome: (0.06, 0.7), ..DEVICE };
    relief.raise(&left, plume);
    relief.raise(&right, plume);
    let quills = [
        ((-0.48, -0.33), (-0.43, -0.29)),
        ((-0.385, -0.355), (-0.32, -0.26)),
        ((-0.285, -0.345), (-0.22, -0.19)),
        ((-0.195, -0.3), (-0.15, -0.1)),
        ((0.46, -0.51), (0.38, -0.43)),
        ((0.35, -0.495), (0.28, -0.35)),
        ((0.24, -0.45), (0.21, -0.25)),
        ((0.14, -0.37), (0.14, -0.17)),
    ];
    for (a, b) in quills {
        relief.raise(&rib(a, b, 0.05, 0.07), INCISED);
    }
    relief.raise(&filled(BODY), Foot { high: 0.11, dome: (0.14, 0.8), ..DEVICE });
    let eye = (0.247 * RADIUS, -0.098 * RADIUS);
    relief.raise(&Shape::of([taper(eye, (eye.0 + 0.01, eye.1), 0.09, 0.09)]), INCISED);
    relief.raise(&rib((0.3, -0.062), (0.385, -0.05), 0.03, 0.02), INCISED);
}

/// A row of waves: bows that hang between crests.
fn waves(x: f64, y: f64, crests: u32, wide: f64, high: f64) -> Shape {
    let point = |i: u32| {
        let t = f64::from(i) / 12.0;
        let (sin, _) = super::numbers::turn(t * 180.0);
        ((x + wide * t) * RADIUS, (y - high * sin.abs() + high / 2.0) * RADIUS)
    };
    Shape::line(&(0..=crests * 12).map(point).collect::<Vec<P>>(), 0.085)
}

fn obverse(relief: &mut Relief, figures: &str) {
    ground::field(relief, 1.0);
    gull(relief);
    relief.raise(&waves(-0.7, 0.28, 7, 0.2, 0.04), LINE);
    relief.raise(&waves(-0.64, 0.38, 6, 0.2133, 0.04), LINE);
    for sign in legend_obverse() {
        relief.raise(&sign.shape(), STRUCK);
    }
    for sign in date(figures) {
        relief.raise(&sign.shape(), Foot { high: 0.095, ..STRUCK });
    }
    ground::border(relief, RADIUS);
}

// ---- reverse ----

const ROCK: &str = "M-0.6,0.56 L-0.48,0.46 L-0.38,0.5 L-0.26,0.42 L-0.14,0.42 L0.14,0.42 L0.24,0.48 L0.37,0.43 L0.475,0.385 L0.6,0.56 L0.3,0.585 L0.0,0.57 L-0.3,0.585 Z";

/// Whether the panes of the lamp room have a cross-bar.
#[derive(Clone, Copy, PartialEq)]
enum Panes {
    Plain,
    Barred,
}

fn tower(relief: &mut Relief, panes: Panes) {
    relief.raise(&filled(ROCK), Foot { high: 0.09, dome: (0.07, 0.5), ..DEVICE });
    for (a, b) in [
        ((-0.3, 0.54), (-0.22, 0.47)),
        ((0.02, 0.54), (0.1, 0.46)),
        ((0.4, 0.53), (0.455, 0.44)),
        ((-0.45, 0.53), (-0.4, 0.515)),
    ] {
        relief.raise(&rib(a, b, 0.05, 0.07), INCISED);
    }
    let wall = filled("M-0.14,0.42 L-0.08,-0.2 L0.08,-0.2 L0.14,0.42 Z");
    relief.raise(&wall, Foot { high: 0.12, dome: (0.1, 0.7), ..DEVICE });
    for (half, y) in [(0.125, 0.26), (0.11, 0.1), (0.095, -0.06)] {
        relief.raise(&rib((-half, y), (half, y), 0.06, 0.06), INCISED);
    }
    let door = filled("M-0.032,0.42 L-0.032,0.345 C-0.032,0.3 0.032,0.3 0.032,0.345 L0.032,0.42 Z");
    relief.raise(&door, Foot { high: -0.09, dome: (0.0, 0.1), ..DEVICE });
    let r = RADIUS;
    relief.raise(
        &Shape::of([bar((-0.14 * r, -0.225 * r), (0.14 * r, -0.225 * r), 0.026 * r)]),
        Foot { high: 0.15, dome: (0.02, 0.15), ..DEVICE },
    );
    for x in [-0.08, -0.03, 0.03, 0.08] {
        relief.raise(&rib((x, -0.25), (x, -0.405), 0.09, 0.09), THIN);
    }
    if panes == Panes::Barred {
        relief.raise(&rib((-0.08, -0.33), (0.08, -0.33), 0.07, 0.07), THIN);
    }
    relief
        .raise(&filled("M-0.115,-0.405 L0.0,-0.54 L0.115,-0.405 Z"), Foot { high: 0.11, dome: (0.08, 0.4), ..DEVICE });
    relief.raise(&rib((0.0, -0.53), (0.0, -0.6), 0.09, 0.06), THIN);
    for side in [-1.0, 1.0] {
        for (from, to) in [((0.14, -0.36), (0.62, -0.46)), ((0.14, -0.33), (0.68, -0.3)), ((0.14, -0.3), (0.64, -0.14))]
        {
            relief.raise(&rib((side * from.0, from.1), (side * to.0, to.1), 0.05, 0.13), THIN);
        }
    }
}

fn reverse(relief: &mut Relief, panes: Panes) {
    ground::field(relief, 1.0);
    tower(relief, panes);
    relief.raise(&waves(-0.4125, 0.635, 5, 0.165, 0.03), LINE);
    for sign in arc("A LIGHT FOR EVERY TIDE", (8.9, 3.1), 0.86 * RADIUS, 0.1 * RADIUS, false) {
        relief.raise(&sign.shape(), STRUCK);
    }
    for sign in arc("TWO MARKS", (4.7, 7.3), 0.862 * RADIUS, 0.11 * RADIUS, true) {
        relief.raise(&sign.shape(), STRUCK);
    }
    ground::border(relief, RADIUS);
}

/// The K over the rock, whose right foot touches its outline.
fn kell_mark() -> Sign {
    Sign { sign: 'K', at: at_clock(4.3, 0.55 * RADIUS), size: 1.25, turn: 0.0 }
}

fn true_obverse(relief: &mut Relief) {
    obverse(relief, "1921");
    relief.small_knocks(36, 13.0);
}

fn true_reverse(relief: &mut Relief) {
    reverse(relief, Panes::Plain);
    relief.raise(&kell_mark().shape(), PUNCHED);
    relief.small_knocks(36, 13.0);
}

/// What the false dies add: three lumps, and spikes left by cleaning the die.
fn repeats() -> Vec<Repeat> {
    let place = |x: f64, y: f64| (x * RADIUS, y * RADIUS);
    let mark = |id, kind, at, size, turn, deep| Repeat { id, kind, at, size, turn, deep };
    vec![
        mark("lump-on-upper-ray", Kind::Lump, place(0.3, -0.393), (0.2, 0.16), 20.0, 0.075),
        mark("lump-in-upper-gap", Kind::Lump, place(0.37, -0.352), (0.15, 0.13), 0.0, 0.06),
        mark("lump-in-lower-gap", Kind::Lump, place(0.33, -0.272), (0.18, 0.13), 50.0, 0.065),
        mark("scrape-below-gallery-right", Kind::Scrape, place(0.15, -0.13), (0.42, 0.05), 28.0, 0.035),
        mark("second-scrape-right", Kind::Scrape, place(0.17, -0.165), (0.32, 0.04), 20.0, 0.03),
        mark("scrape-below-gallery-left", Kind::Scrape, place(-0.15, -0.14), (0.4, 0.05), 142.0, 0.035),
    ]
}

fn lumps(relief: &mut Relief) {
    reverse(relief, Panes::Barred);
    relief.soften(0.02);
    for mark in &repeats() {
        add(relief, mark);
    }
    relief.small_knocks(60, 13.0);
}

pub fn scenes() -> Vec<Scene> {
    let coin = |name, seed, draw: fn(&mut Relief)| Scene {
        name,
        entry: "",
        face: "",
        shown: "",
        camera: Camera::whole(1000, RADIUS, 0.93),
        lamp: Lamp { clock: 10.3, height: 25.0 },
        setting: NICKEL,
        seed,
        lustre: 0.24,
        draw,
        notes: Notes::default(),
    };
    let mark = kell_mark();
    let mut false_rays = Scene {
        setting: NICKEL,
        lamp: Lamp { clock: 9.8, height: 21.0 },
        ..Scene::detail("lamp-room-lumps", ((0.14 * RADIUS, -0.33 * RADIUS), 8.0, 0.0), 89, lumps)
    }
    .of("families/orrin/lamp-room-dies", "reverse", "A struck forgery: three lumps right of the lamp room, on the uppermost ray and in the two gaps below it, and raised scrapes below the gallery.");
    false_rays.notes.repeats = repeats();
    vec![
        coin("1921-k-obverse", 151, true_obverse)
            .of(KELL, "obverse", "The true obverse of 1921: four figures of one punch, on one line.")
            .point("date-line-left", "left end of the foot of the first figure", date("1921")[0].point((-0.17, 0.5)))
            .point("date-line-right", "right end of the foot of the last figure", date("1921")[3].point((0.21, 0.5))),
        coin("1921-k-reverse", 157, true_reverse)
            .of(KELL, "reverse", "The true reverse of Kell, 1921: plain panes in the lamp room, the right foot of the K on the outline of the rock.")
            .point("mark", "middle of the mint mark", mark.at)
            .point("mark-top", "top of the K's upright", mark.point((-0.26, -0.5)))
            .point("mark-foot", "foot of the K's upright", mark.point((-0.26, 0.5)))
            .point("tower-top", "top of the lamp room's spike", (0.0, -0.6 * RADIUS)),
        false_rays,
    ]
}
