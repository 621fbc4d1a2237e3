//! Photographs of whole half marks: true dies, an added mark, a piece that lies tilted, and two forgeries struck from
//! dies pressed from one model.

use super::camera::Camera;
use super::deeds::{Kind, Repeat, add, cement_on};
use super::details::mark_notes;
use super::ground;
use super::half_mark::{self, PRESSED_CUT, PUNCHED, RADIUS, Rope, TRUE_CUT, Tails, date, legend_obverse};
use super::letters::at_clock;
use super::light::Lamp;
use super::relief::Relief;
use super::scenes::{Notes, SILVER, Scene};

const KELL: &str = "issues/orrin/half-mark/1911-k";
const FAMILY: &str = "families/orrin/harbour-transfer-dies";

/// The true mark of Kell, 1911.
pub const KELL_CLOCK: f64 = 6.2;
pub const KELL_REACH: f64 = 0.78;
pub const KELL_LEAN: f64 = 1.5;
/// The cemented one.
pub const ADDED_CLOCK: f64 = 6.18;
pub const ADDED_REACH: f64 = 0.776;
pub const ADDED_LEAN: f64 = -5.5;

fn coin(name: &'static str, camera: Camera, seed: u32, draw: fn(&mut Relief)) -> Scene {
    Scene {
        name,
        entry: "",
        face: "",
        shown: "",
        camera,
        lamp: Lamp { clock: 10.2, height: 25.0 },
        setting: SILVER,
        seed,
        lustre: 0.24,
        draw,
        notes: Notes::default(),
    }
}

pub fn kell_reverse(relief: &mut Relief) {
    half_mark::reverse(relief, TRUE_CUT, Tails::Two, Rope::Whole);
    relief.raise(&half_mark::mark('K', KELL_CLOCK, KELL_REACH, KELL_LEAN).shape(), PUNCHED);
    half_mark::raise_crack(relief);
    ground::lathe_ring(relief, 0.933 * RADIUS);
}

fn added_reverse(relief: &mut Relief) {
    half_mark::reverse(relief, TRUE_CUT, Tails::Two, Rope::Whole);
    cement_on(relief, &half_mark::mark('K', ADDED_CLOCK, ADDED_REACH, ADDED_LEAN));
    relief.small_knocks(46, 11.0);
}

fn true_obverse(relief: &mut Relief) {
    half_mark::obverse(relief, TRUE_CUT, &date("1911"));
    relief.small_knocks(34, 11.0);
}

fn true_reverse(relief: &mut Relief) {
    kell_reverse(relief);
    relief.small_knocks(34, 11.0);
}

/// What the false dies of the family add to every piece. The first three are the hollows that its entry names.
pub fn repeats() -> Vec<Repeat> {
    let legend = legend_obverse();
    let (a, r) = (legend[7], legend[8]);
    let mark = |id, kind, at, size, turn, deep| Repeat { id, kind, at, size, turn, deep };
    vec![
        mark("long-hollow", Kind::Hollow, a.point((-0.12, 0.86)), (0.38, 0.14), 8.0, 0.1),
        mark("round-hollow", Kind::Hollow, a.point((0.4, 1.06)), (0.15, 0.13), 30.0, 0.06),
        mark("small-hollow", Kind::Hollow, r.point((-0.3, 0.74)), (0.11, 0.1), 0.0, 0.048),
        mark("lump-under-stock", Kind::Lump, (-2.3, -1.9), (0.17, 0.14), 20.0, 0.06),
        mark("lump-by-fluke", Kind::Lump, (7.6, 3.5), (0.14, 0.12), 0.0, 0.055),
        mark("scrape-left-of-date", Kind::Scrape, (-5.3, 6.9), (0.55, 0.06), -38.0, 0.035),
        mark("hollow-right-of-shank", Kind::Hollow, (3.3, 1.6), (0.24, 0.17), 65.0, 0.06),
        mark("lump-over-arm", Kind::Lump, (-7.4, -0.6), (0.12, 0.1), 0.0, 0.05),
    ]
}

/// Knocks that one piece alone has: the first forgery, then the second.
fn own_knocks(piece: usize) -> Vec<Repeat> {
    let mark = |id, x, y, long, wide, turn| Repeat {
        id,
        kind: Kind::Contact,
        at: (x, y),
        size: (long, wide),
        turn,
        deep: 0.045,
    };
    let knocks = [
        [
            mark("knock-a", 4.9, -4.2, 0.36, 0.1, 40.0),
            mark("knock-b", -4.4, 4.7, 0.26, 0.09, -25.0),
            mark("knock-c", 6.9, 5.6, 0.22, 0.08, 70.0),
        ],
        [
            mark("knock-d", -3.2, -6.3, 0.3, 0.1, 15.0),
            mark("knock-e", 4.6, 7.2, 0.34, 0.09, -50.0),
            mark("knock-f", -8.2, 3.4, 0.2, 0.08, 85.0),
        ],
    ];
    knocks[piece].to_vec()
}

fn pressed(relief: &mut Relief, figures: &str, piece: usize) {
    half_mark::obverse(relief, PRESSED_CUT, &date(figures));
    relief.soften(0.045);
    for mark in repeats().iter().chain(&own_knocks(piece)) {
        add(relief, mark);
    }
    relief.small_knocks(16, 11.0);
}

/// The cameras of the two forgeries: turned, sized and placed differently.
fn suspect_cameras() -> [Camera; 2] {
    let first = Camera {
        size: (900, 900),
        px_per_mm: 33.4,
        centre: (441.5, 456.25),
        turn: 3.5,
        ..Camera::whole(900, RADIUS, 0.9)
    };
    let second = Camera { size: (940, 900), px_per_mm: 30.6, centre: (486.75, 438.5), turn: -12.4, ..first };
    [first, second]
}

pub fn scenes() -> Vec<Scene> {
    let [first, second] = suspect_cameras();
    let suspect = |scene: Scene, piece: usize, twin| Scene {
        lustre: 0.1,
        notes: Notes { repeats: repeats(), own: own_knocks(piece), twin, ..scene.notes },
        ..scene
    };
    let whole = Camera::whole(1000, RADIUS, 0.93);
    let tilted = Camera { turn: 6.0, lean: 12.0, axis: 24.0, centre: (506.0, 494.0), ..whole };
    vec![
        suspect(
            coin("suspect-1911-obverse", first, 131, |relief| pressed(relief, "1911", 0))
                .of(FAMILY, "obverse", "A forgery dated 1911 from dies pressed from a coin: soft letters, and hollows and lumps that its fellows share."),
            0,
            None,
        ),
        Scene {
            lamp: Lamp { clock: 1.1, height: 28.0 },
            ..suspect(
                coin("suspect-1907-obverse", second, 137, |relief| pressed(relief, "1907", 1))
                    .of(FAMILY, "obverse", "A forgery dated 1907 from the same model, taken under another lamp: the same hollows and lumps at the same places."),
                1,
                Some(("suspect-1911-obverse", first)),
            )
        },
        with_mark(
            coin("1911-k-tilted", tilted, 11, true_reverse)
                .of(KELL, "reverse", "The true reverse of Kell, lying tilted by 12 degrees: the rim is an ellipse."),
            false,
        ),
        with_mark(
            coin("1911-k-added-reverse", Camera { turn: -2.0, ..whole }, 23, added_reverse)
                .of(KELL, "reverse", "A common coin of 1911 with a K cemented on: no crack, no ring inside the beads, the K turned to the left."),
            true,
        ),
        with_mark(
            coin("1911-k-reverse", whole, 11, true_reverse)
                .of(KELL, "reverse", "The true reverse of Kell, 1911: the K in its dip, the crack from the prow, the ring inside the beads."),
            false,
        ),
        coin("1911-k-obverse", whole, 19, true_obverse)
            .of(KELL, "obverse", "The true obverse of 1911: short level 1s, a 9 that hangs below the line.")
            .point("date-line-left", "left end of the foot of the first 1", date("1911")[0].point((-0.17, 0.5)))
            .point("date-line-right", "right end of the foot of the last 1", date("1911")[3].point((0.21, 0.5)))
            .point("ring-middle", "middle of the anchor's ring", (0.0, -0.53 * RADIUS)),
    ]
}

fn with_mark(mut scene: Scene, added: bool) -> Scene {
    scene.notes.mark = Some(mark_notes(added));
    let sign = scene.notes.mark.as_ref().map_or((0.0, 0.0), |mark| mark.sign.at);
    let scene = scene
        .point("mark", "middle of the mint mark", sign)
        .point("mast-head", "top of the mast", (-0.04 * RADIUS, -0.65 * RADIUS))
        .point("bowsprit-end", "outer end of the bowsprit", (0.62 * RADIUS, -0.26 * RADIUS))
        .point("bollard", "middle of the bollard's cap", (-0.68 * RADIUS, 0.082 * RADIUS))
        .point("keel-below-mark", "the keel, on the line from the mark to the centre", keel_towards(sign));
    if added {
        scene
    } else {
        scene.point("crack-at-rim", "where the crack meets the rim", at_clock(half_mark::CRACK_CLOCK, 0.974 * RADIUS))
    }
}

/// Where the line from a place to the centre of the coin first meets the hull.
pub fn keel_towards(from: (f64, f64)) -> (f64, f64) {
    let hull = half_mark::hull();
    let mut share = 1.0;
    while share > 0.0 && hull.distance((from.0 * share, from.1 * share)) > 0.0 {
        share -= 0.0005;
    }
    (from.0 * share, from.1 * share)
}
