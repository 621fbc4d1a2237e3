//! Close-ups of the edge of a two mark, seen square on: true, and with the joint of a lid set into a shell.
//!
//! Here x runs along the edge and y across it, in mm from the middle of the picture.

use super::camera::{Camera, DETAIL};
use super::letters::Sign;
use super::light::Lamp;
use super::numbers::{bell, cloud, hash, noise, step};
use super::picture::Setting;
use super::relief::{Foot, Relief};
use super::scenes::{Notes, Scene};
use super::shape::{Shape, bow};
use super::two_mark::NICKEL;

const HALF: f64 = 1.05;
const SUNK: Foot = Foot { high: -0.06, slope: 0.06, fillet: 0.03, dip: 0.0, dome: (0.0, 0.1) };

/// Body, turned lines, sunk letters and links.
fn chain_edge(relief: &mut Relief) {
    relief.each(|p, z, skin, gloss| {
        let across = p.1 / HALF;
        let body = step(1.05, 0.97, across.abs());
        *z += body * (0.18 - 0.13 * across * across);
        *z += body * 0.002 * (noise(p.0 / 0.6, p.1 / 0.017, 21) + noise(p.0 / 0.95, p.1 / 0.042, 22));
        *skin *= (0.1 + 0.9 * step(1.06, 0.99, across.abs())) * (1.0 + 0.06 * cloud(p.0 / 0.48, p.1 / 0.48, 23));
        *gloss *= body;
    });
    for (sign, x) in [('H', -1.5), ('A', -0.19), ('R', 1.12)] {
        relief.raise(&Sign { sign, at: (x, 0.0), size: 0.92, turn: 0.0 }.shape(), SUNK);
    }
    for x in [-2.16, -0.85, 0.46, 1.77] {
        let mut link = Vec::new();
        bow(&mut link, (x, 0.0), (0.1, 0.2), (0.0, 360.0), (0.04, 0.04));
        relief.raise(&Shape::of(link), Foot { high: -0.04, ..SUNK });
    }
}

/// Height of the joint below the middle, mm, along the edge.
fn joint(x: f64) -> f64 {
    0.3 + 0.033 * noise(x / 0.55, 0.0, 24) + 0.011 * noise(x / 0.125, 0.0, 25)
}

fn capped(relief: &mut Relief) {
    chain_edge(relief);
    relief.each(|p, z, skin, gloss| {
        let d = p.1 - joint(p.0);
        let open = 0.6 + 0.4 * noise(p.0 / 0.29, 1.0, 26);
        *z -= 0.045 * open * bell(d, 0.0135) + 0.009 * step(-0.008, 0.008, d);
        // Solder filed level: a smooth band with tracks of the file along the edge.
        let band = bell(d, 0.16);
        *z += 0.006 * band * noise(p.0 / 0.44 + p.1 / 0.15, p.1 / 0.014 + p.0 / 0.22, 27);
        *skin *= 1.0 - 0.66 * open * bell(d, 0.016);
        *gloss += 0.55 * band;
    });
    for patch in 0..5 {
        let h = |k| hash(patch, k, 717);
        let x = -1.8 + 3.6 * h(0);
        relief.hollow((x, joint(x) + 0.03 * (h(1) - 0.5)), (0.07 + 0.06 * h(2), 0.03), 4.0, -0.018);
    }
}

pub fn scenes() -> Vec<Scene> {
    let camera = Camera {
        size: DETAIL,
        px_per_mm: 160.0,
        centre: (DETAIL.0 as f64 / 2.0, DETAIL.1 as f64 / 2.0),
        turn: 0.0,
        lean: 0.0,
        axis: 0.0,
    };
    let edge = |name, seed, draw: fn(&mut Relief)| Scene {
        name,
        entry: "",
        face: "",
        shown: "",
        camera,
        lamp: Lamp { clock: 11.3, height: 30.0 },
        setting: Setting { radius: UNROLLED, exposure: 0.62, ..NICKEL },
        seed,
        lustre: 0.0,
        draw,
        notes: Notes::default(),
    };
    let series = "series/orrin/two-mark-lighthouse";
    let mut lid = edge("capped-edge", 97, capped).of(
        "families/orrin/capped-halves",
        "edge",
        "A capped piece: a joint runs through letters and links, with a band of filed solder.",
    );
    for (name, x) in [("joint-left", -1.8), ("joint-middle", 0.0), ("joint-right", 1.8)] {
        lid = lid.point(name, "on the joint of lid and shell", (x, joint(x)));
    }
    vec![
        edge("chain-edge", 98, chain_edge).of(
            series,
            "edge",
            "A true edge, square on: sunk letters and links, ground in one piece.",
        ),
        lid,
    ]
}

/// Larger than any coin: an edge seen square on has no rim in the picture.
const UNROLLED: f64 = 1000.0;
