//! Close-ups of half marks: what is looked at under the glass, true and false.

use super::deeds::{
    Kind, Repeat, add, carve_under, cast, cement_on, polish_lines, punch_over, punch_twice, scrape, shave, shaved,
};
use super::ground;
use super::half_mark::{
    self, DATE_LINE, PRESSED_CUT, RADIUS, Rope, TRUE_CUT, Tails, date, legend_below, legend_obverse, mark,
};
use super::letters::{Sign, at_clock};
use super::light::Lamp;
use super::numbers::P;
use super::picture::{Metal, Setting};
use super::relief::{Foot, Relief, STRUCK};
use super::scenes::{Mark, SILVER, Scene};
use super::whole::{ADDED_CLOCK, ADDED_LEAN, ADDED_REACH, KELL_CLOCK, KELL_LEAN, KELL_REACH, kell_reverse, repeats};

const KELL: &str = "issues/orrin/half-mark/1911-k";
const VESSARY_LEAN: f64 = 1.0;

/// Where the camera looks at the mark, at fifteen times.
fn mark_view(turn: f64) -> (P, f64, f64) {
    (at_clock(6.05, 0.832 * RADIUS), 15.0, turn)
}

fn date_view() -> (P, f64, f64) {
    ((1.75, 8.95), 16.0, 0.0)
}

/// The mark's place and the base line under it: from the left end of the foot of the F of HALF to the inner end of
/// the first foot of the M of MARK.
pub fn mark_notes(added: bool) -> Mark {
    let (sign, lean) = if added { (added_mark(), ADDED_LEAN) } else { (kell_mark(), KELL_LEAN) };
    let legend = legend_below();
    Mark {
        sign,
        lean,
        base: (legend[3].point((-0.39, 0.5)), legend[4].point((-0.3, 0.5))),
        base_is: "from the left end of the foot of the F of HALF to the right end of the first foot of the M of MARK",
    }
}

fn kell_mark() -> Sign {
    mark('K', KELL_CLOCK, KELL_REACH, KELL_LEAN)
}

fn added_mark() -> Sign {
    mark('K', ADDED_CLOCK, ADDED_REACH, ADDED_LEAN)
}

fn plain_reverse(relief: &mut Relief) {
    half_mark::reverse(relief, TRUE_CUT, Tails::Two, Rope::Whole);
}

fn knocks(relief: &mut Relief) {
    relief.small_knocks(420, 12.0);
}

fn true_mark(relief: &mut Relief) {
    kell_reverse(relief);
    knocks(relief);
}

fn cemented(relief: &mut Relief) {
    plain_reverse(relief);
    cement_on(relief, &added_mark());
    knocks(relief);
}

fn no_mark(relief: &mut Relief) {
    plain_reverse(relief);
    knocks(relief);
}

fn vessary(relief: &mut Relief) {
    half_mark::reverse(relief, TRUE_CUT, Tails::One, Rope::Whole);
    punch_twice(relief, &mark('V', KELL_CLOCK, KELL_REACH, VESSARY_LEAN));
    knocks(relief);
}

/// The obverse with the first three figures of the date, and what `last` makes of the place of the fourth.
fn obverse_but_last(relief: &mut Relief, figures: &str, last: fn(&mut Relief, &Sign)) {
    let signs = date(figures);
    half_mark::obverse(relief, TRUE_CUT, &signs[..3]);
    last(relief, &signs[3]);
    knocks(relief);
}

fn true_date(relief: &mut Relief) {
    half_mark::obverse(relief, TRUE_CUT, &date("1911"));
    knocks(relief);
}

fn shaved_date(relief: &mut Relief) {
    obverse_but_last(relief, "1914", |relief, four| {
        let (left, gone) = shaved(four);
        relief.raise(&left, half_mark::DATE);
        shave(relief, &left, &gone);
    });
}

/// The 4 under the 7 stands a little to its left and lower.
fn under(seven: &Sign) -> Sign {
    Sign { sign: '4', at: (seven.at.0 - 0.1, seven.at.1 + 0.05), turn: -1.0, ..*seven }
}

fn over_four(relief: &mut Relief) {
    obverse_but_last(relief, "1917", |relief, seven| punch_over(relief, &under(seven), seven));
}

fn cut_four(relief: &mut Relief) {
    obverse_but_last(relief, "1917", |relief, seven| carve_under(relief, &under(seven), seven));
}

fn rope_curve() -> Vec<P> {
    half_mark::on_coin(half_mark::ROPE, RADIUS).swap_remove(0)
}

fn no_rope(relief: &mut Relief) {
    half_mark::reverse(relief, TRUE_CUT, Tails::Two, Rope::Polished);
    polish_lines(relief, &rope_curve());
    knocks(relief);
}

fn rope_scraped(relief: &mut Relief) {
    half_mark::reverse(relief, TRUE_CUT, Tails::Two, Rope::Gone);
    let kept = half_mark::hull().with(half_mark::bollard());
    scrape(relief, &rope_curve(), &kept);
    knocks(relief);
}

fn hollows(relief: &mut Relief) {
    half_mark::obverse(relief, PRESSED_CUT, &[]);
    relief.soften(0.03);
    for mark in &repeats()[..3] {
        add(relief, mark);
    }
}

fn contacts() -> [Repeat; 2] {
    let a = legend_obverse()[7];
    let knock = |id, at, size, turn| Repeat { id, kind: Kind::Contact, at, size, turn, deep: 0.06 };
    [
        knock("long-knock", a.point((-0.16, 0.9)), (0.4, 0.12), 24.0),
        knock("small-knock", a.point((0.36, 1.1)), (0.17, 0.06), -38.0),
    ]
}

fn contact(relief: &mut Relief) {
    half_mark::obverse(relief, TRUE_CUT, &[]);
    for mark in &contacts() {
        add(relief, mark);
    }
    knocks(relief);
}

fn casting(relief: &mut Relief) {
    let soft = Foot { high: 0.1, slope: 0.14, fillet: 0.1, ..STRUCK };
    for sign in legend_obverse() {
        relief.raise(&sign.shape(), soft);
    }
    ground::border(relief, RADIUS);
    relief.soften(0.05);
    let window = relief.window;
    cast(relief, 90, (window.low, window.high));
}

/// Prow and rim together.
fn crack_view() -> (P, f64, f64) {
    ((6.5, 5.4), 8.0, 0.0)
}

pub fn scenes() -> Vec<Scene> {
    let mut out = marks();
    out.extend(dates());
    out.extend(ropes());
    out.extend(surfaces());
    out
}

fn marks() -> Vec<Scene> {
    let noted = |mut scene: Scene, added: bool| {
        scene.notes.mark = Some(mark_notes(added));
        let at = mark_notes(added).sign.at;
        scene.point("mark", "middle of the mint mark", at)
    };
    let vee = mark('V', KELL_CLOCK, KELL_REACH, VESSARY_LEAN);
    vec![
        noted(
            Scene::detail("1911-k-mark", mark_view(0.0), 11, true_mark)
                .of(KELL, "reverse", "The true K of 1911 in its dip; lines of flow climb its sides without a break."),
            false,
        ),
        noted(
            Scene::detail("1911-k-mark-cemented", mark_view(-2.0), 23, cemented)
                .of(KELL, "reverse", "A cemented K on top of the field, turned to the left, with an open joint at its foot and a rubbed ring about it."),
            true,
        ),
        Scene::detail("1911-no-mark", mark_view(0.0), 17, no_mark)
            .of("issues/orrin/half-mark/1911", "reverse", "The field below the keel of a coin of Port Saltrey: nothing but lines of flow."),
        Scene::detail("1904-v-mark", mark_view(0.0), 37, vessary)
            .of("issues/orrin/half-mark/1904-v", "reverse", "The V of Vessary, punched twice: the first, weaker one stands above and to the left.")
            .point("mark", "middle of the second, stronger V", vee.at),
        Scene::detail("1911-k-crack", crack_view(), 11, true_mark)
            .of(KELL, "reverse", "The crack of the Kell die, from the prow to the rim; it forks once, and each branch runs through a bead.")
            .point("crack-start", "where the crack leaves the prow", half_mark::crack()[0][0].0)
            .point("crack-fork", "where the crack forks", half_mark::crack()[1][0].0)
            .point("crack-at-rim", "where the crack meets the rim", at_clock(half_mark::CRACK_CLOCK, 0.974 * RADIUS)),
    ]
}

fn dates() -> Vec<Scene> {
    let four = date("1914")[3];
    let line = |scene: Scene| {
        scene
            .point(
                "date-line-left",
                "on the line of the date, under the third figure",
                (date("1911")[2].at.0, DATE_LINE),
            )
            .point("date-line-right", "on the line of the date, under the last figure", (four.at.0, DATE_LINE))
    };
    let mut shaved = line(
        Scene::detail("1911-shaved-digit", date_view(), 61, shaved_date)
            .of(KELL, "obverse", "A 4 shaved to a 1: it hangs below the line of the true 1 beside it, and its arm and bar still rise a little from a sunken, scratched patch."),
    )
    .point("foot-of-last", "middle of the foot of the last figure", four.point((0.12, 0.5)))
    .point("end-of-bar", "left end of the bar that was shaved off", four.point((-0.42, 0.21)))
    .point("end-of-arm", "where the arm that was shaved off met the upright", four.point((0.04, -0.38)));
    shaved.notes.hangs = Some(four.point((0.12, 0.5)).1 - DATE_LINE);
    let one = date("1911")[3];
    let mut level = line(Scene::detail("1911-date", date_view(), 19, true_date).of(
        KELL,
        "obverse",
        "The last two figures of a true 1911: two short 1s with their feet on one line, the field whole about them.",
    ))
    .point("foot-of-last", "middle of the foot of the last figure", one.point((0.02, 0.5)));
    level.notes.hangs = Some(one.point((0.02, 0.5)).1 - DATE_LINE);
    let overdate = "issues/orrin/half-mark/1917-v-7-over-4";
    vec![
        shaved,
        level,
        Scene::detail("1917-v-7-over-4", date_view(), 53, over_four).of(
            overdate,
            "obverse",
            "True: a 4, ground down in the die, rises softly from a level field and passes under the 7.",
        ),
        Scene::detail("1917-v-7-cut", date_view(), 59, cut_four).of(
            overdate,
            "obverse",
            "False: troughs and burrs of a graver outline a 4 beside the 7.",
        ),
    ]
}

fn ropes() -> Vec<Scene> {
    let view = ((-0.588 * RADIUS, 0.125 * RADIUS), 14.0, 0.0);
    let entry = "issues/orrin/half-mark/1907-no-rope";
    let lamp = Lamp { clock: 10.6, height: 21.0 };
    vec![
        Scene { lamp, ..Scene::detail("1907-rope", view, 67, no_mark) }
            .of(entry, "reverse", "The common coin: the rope hangs whole from the stern to the bollard."),
        Scene { lamp, ..Scene::detail("1907-no-rope", view, 68, no_rope) }
            .of(entry, "reverse", "The true variety: two soft stumps, and raised lines of polish that cross the place of the rope at a slant."),
        Scene { lamp, ..Scene::detail("1907-rope-scraped", view, 69, rope_scraped) }
            .of(entry, "reverse", "A common coin with its rope scraped off: a channel that sags as the rope did, with sunk tracks."),
    ]
}

fn surfaces() -> Vec<Scene> {
    let a = legend_obverse()[7];
    let view = (a.point((0.08, 0.42)), 12.0, -a.turn);
    let low = Lamp { clock: 9.8, height: 18.0 };
    let mut hollow = Scene { lamp: low, ..Scene::detail("harbour-hollow", view, 131, hollows) }.of(
        "families/orrin/harbour-transfer-dies",
        "obverse",
        "Three hollows with soft lips under HAR of HARBOUR, on every piece of the family.",
    );
    hollow.notes.repeats = repeats()[..3].to_vec();
    let mut knock = Scene { lamp: low, ..Scene::detail("contact-mark", view, 79, contact) }.of(
        "methods/orrin/pressed-model-dies",
        "obverse",
        "Marks of contact on a true coin: flat bright floors, steep walls, a lip heaped to one side.",
    );
    knock.notes.own = contacts().to_vec();
    let third = legend_obverse()[1];
    let grey = Scene {
        setting: Setting { metal: Metal::Tin, ..SILVER },
        lamp: Lamp { clock: 10.1, height: 24.0 },
        lustre: 0.0,
        ..Scene::detail("grey-casting-field", (third.point((0.0, 0.1)), 12.0, -third.turn), 83, casting)
    };
    vec![
        hollow,
        knock,
        grey.of(
            "families/orrin/grey-castings",
            "obverse",
            "A casting: grain, pits and bubbles all over, letters with rounded shoulders.",
        ),
    ]
}
