//! A mark beside a letter: how far it is tilted against the base line, where the line of its stroke meets the letter,
//! how far its foot stands off the line. Angles and fractions are to scale; the shapes of the letters are the page's.

use std::fmt::Write;

use super::drawing::{Half, Pair, attribute, number, wrap};
use super::{escape, n};
use crate::entry::Form;

/// The base line, the height of the letter, the near side of the letter, and the middle of the mark's foot.
const BASE: f64 = 44.0;
const HEIGHT: f64 = 34.0;
const STEM: f64 = 104.0;
const FOOT: f64 = 40.0;
/// Bounds of the stroke's line.
const LEFT: f64 = 12.0;
const RIGHT: f64 = 122.0;
const TOP: f64 = 2.0;
const BOTTOM: f64 = 60.0;

pub(super) fn pair(mark: &str, letter: &str, stroke: f64, genuine: &Form, not_genuine: &Form) -> Pair {
    let half = |form: &Form| Half {
        svg: side(mark, letter, stroke, form),
        lines: wrap(&says(letter, form)),
        said: Vec::new(),
    };
    // A line or a foot that goes below the base line needs room there.
    let below = |form: &Form| form.get("meets").is_some() || form.get("offset").is_some_and(|offset| offset < 0.0);
    Pair {
        height: if below(genuine) || below(not_genuine) { 62.0 } else { 50.0 },
        scale: "to scale",
        genuine: half(genuine),
        not_genuine: half(not_genuine),
        also: String::new(),
    }
}

fn says(letter: &str, form: &Form) -> Vec<String> {
    let tilt = form.get("tilt").unwrap_or(0.0);
    let mut parts = vec![match tilt {
        0.0 => "not tilted".into(),
        tilt => format!("tilted {}° to the {}", number(tilt.abs()), if tilt > 0.0 { "right" } else { "left" }),
    }];
    if let Some(meets) = form.get("meets") {
        parts.push(format!("meets {letter} at {} of its height", number(meets)));
    }
    if let Some(offset) = form.get("offset") {
        parts.push(match offset {
            0.0 => "foot on the base line".into(),
            offset => {
                let side = if offset > 0.0 { "above" } else { "below" };
                format!("foot {} {side} the base line", number(offset.abs()))
            }
        });
    }
    parts
}

fn side(mark: &str, letter: &str, stroke: f64, form: &Form) -> String {
    let tilt = form.get("tilt").unwrap_or(0.0);
    let foot = BASE - form.get("offset").unwrap_or(0.0) * HEIGHT;
    let mut out = format!(
        "<path class=\"plumb\" d=\"M4 {BASE}H146M98 {}H146M{FOOT} {}V{}\"/>",
        BASE - HEIGHT,
        n(foot),
        n(foot - 30.0)
    );
    let _ = write!(
        out,
        "<path class=\"fine\" d=\"M{STEM} {BASE}v-{HEIGHT}m-3 0h3m-3 {0}h3m-3 {0}h3\"/><text class=\"glyph\" x=\"{1}\" y=\"{BASE}\">{2}</text>",
        HEIGHT / 2.0,
        STEM + 1.0,
        escape(letter)
    );
    let _ = write!(
        out,
        "<g transform=\"rotate({} {FOOT} {1})\"><text class=\"glyph small\" x=\"{FOOT}\" y=\"{1}\">{2}</text><path class=\"fine\" d=\"M{FOOT} {1}v-30\"/></g>",
        attribute(tilt),
        n(foot),
        escape(mark)
    );
    if let Some(meets) = form.get("meets") {
        let y = BASE - HEIGHT * meets;
        let slope = (stroke + tilt).to_radians().tan();
        let (from, to) = within(y, slope);
        let _ = write!(
            out,
            "<path class=\"ray\" d=\"M{} {}L{} {}\"/><circle class=\"spot\" cx=\"{STEM}\" cy=\"{}\" r=\"2.4\"/>",
            n(from),
            n(y + (from - STEM) * slope),
            n(to),
            n(y + (to - STEM) * slope),
            n(y)
        );
    }
    out
}

/// The ends, left and right, of a line through the stem at `y`, kept on the drawing.
fn within(y: f64, slope: f64) -> (f64, f64) {
    if slope.abs() < 1e-6 {
        return (LEFT, RIGHT);
    }
    let (a, b) = (STEM + (TOP - y) / slope, STEM + (BOTTOM - y) / slope);
    (LEFT.max(a.min(b)), RIGHT.min(a.max(b)))
}

#[cfg(test)]
mod tests {
    use super::super::drawing::tests::{figure, numbers_after, sides, title};
    use super::*;
    use crate::entry::{DrawingKind, Subject};

    fn drawn(stroke: f64, form: Form) -> String {
        let of = Subject::Letters { mark: "K".into(), letter: "F".into(), stroke };
        figure(DrawingKind::Alignment, of, Form::named("").with("tilt", 0.0), form)
    }

    #[test]
    fn angle_fraction_and_offset_are_those_given() {
        for (stroke, tilt, meets, offset) in
            [(0.0, 1.5, 0.25, 0.1), (0.0, -6.0, 0.8, 0.0), (-30.0, 9.0, 0.5, -0.2), (40.0, 12.0, 1.0, 0.5)]
        {
            let form = Form::named("").with("tilt", tilt).with("meets", meets).with("offset", offset);
            let svg = drawn(stroke, form);
            let (_, not_genuine) = sides(&svg);
            let turned = numbers_after(&not_genuine, "rotate(");
            assert_eq!(turned[0], tilt);
            assert!(((BASE - turned[2]) / HEIGHT - offset).abs() < 0.003);
            let ray = numbers_after(&not_genuine, "class=\"ray\" d=");
            let angle = (ray[3] - ray[1]).atan2(ray[2] - ray[0]).to_degrees();
            assert!((angle - stroke - tilt).abs() < 0.3, "{angle} for {stroke} and {tilt}");
            let y = numbers_after(&not_genuine, "class=\"spot\" cx=\"104\" cy=")[0];
            assert!(((BASE - y) / HEIGHT - meets).abs() < 0.003);
            // The line goes through the spot.
            let at = ray[1] + (STEM - ray[0]) / (ray[2] - ray[0]) * (ray[3] - ray[1]);
            assert!((at - y).abs() < 0.2, "{at} {y}");
        }
    }

    #[test]
    fn the_words_say_the_numbers() {
        let form = Form::named("").with("tilt", -6.0).with("meets", 0.8).with("offset", 0.1);
        assert_eq!(
            title(&drawn(0.0, form)),
            "K beside F, to scale. True: not tilted. False: tilted 6° to the left, meets F at 0.8 of its height, foot 0.1 above the base line."
        );
    }
}
