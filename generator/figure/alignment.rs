//! A mark on the base line of a letter, or against the line to the centre: how far it is tilted against that, where the line of its stroke meets the letter,
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

/// How wide a single letter is drawn as a mark, and where its stem is if its upright stands at its left.
const WIDTH: f64 = 26.0;
const STEMMED: &str = "BDEFHKLMNPRU";
const TO_STEM: f64 = -7.6;

/// A mark on the base line of a letter, or without one against the line to the centre.
pub(super) fn pair(mark: &str, letter: Option<&str>, stroke: f64, genuine: &Form, not_genuine: &Form) -> Pair {
    let half = |form: &Form| Half {
        svg: match letter {
            Some(letter) => on_base_line(mark, letter, stroke, form),
            None => under_centre(mark, form),
        },
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

fn says(letter: Option<&str>, form: &Form) -> Vec<String> {
    let tilt = form.get("tilt").unwrap_or(0.0);
    let mut parts = vec![match tilt {
        0.0 => "not tilted".into(),
        tilt => format!("tilted {}° to the {}", number(tilt.abs()), if tilt > 0.0 { "right" } else { "left" }),
    }];
    if let Some((letter, meets)) = letter.zip(form.get("meets")) {
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

/// The mark turned about the middle of its foot, with the line of its own upright.
fn turned(mark: &str, tilt: f64, foot: f64) -> String {
    let mut letters = mark.chars();
    let only = letters.next().filter(|_| letters.next().is_none());
    let (fitted, stem) = match only {
        Some(letter) if STEMMED.contains(letter) => {
            (format!(" textLength=\"{WIDTH}\" lengthAdjust=\"spacingAndGlyphs\""), FOOT + TO_STEM)
        }
        _ => (String::new(), FOOT),
    };
    let foot = n(foot);
    format!(
        "<g transform=\"rotate({} {FOOT} {foot})\"><text class=\"glyph small\" x=\"{FOOT}\" y=\"{foot}\"{fitted}>{}</text><path class=\"fine\" d=\"M{} {foot}v-36\"/></g>",
        attribute(tilt),
        escape(mark),
        n(stem)
    )
}

/// What the tilt is against: the line through the middle of the mark that goes to the centre of the coin.
fn under_centre(mark: &str, form: &Form) -> String {
    let tilt = form.get("tilt").unwrap_or(0.0);
    format!(
        "<path class=\"plumb\" d=\"M{FOOT} 49V1\"/><path class=\"bar\" d=\"M{FOOT} 1l-3 5m3-5l3 5\"/><text class=\"says\" x=\"{}\" y=\"9\">to the centre</text>{}",
        FOOT + 12.0,
        turned(mark, tilt, BASE)
    )
}

fn on_base_line(mark: &str, letter: &str, stroke: f64, form: &Form) -> String {
    let tilt = form.get("tilt").unwrap_or(0.0);
    let foot = BASE - form.get("offset").unwrap_or(0.0) * HEIGHT;
    let meets = form.get("meets");
    // The perpendicular of the base line is what the mark is turned from; the letter's height counts only where a line meets it.
    let top = if meets.is_some() { format!("M98 {}H146", BASE - HEIGHT) } else { String::new() };
    let mut out = format!("<path class=\"plumb\" d=\"M4 {BASE}H146{top}M{FOOT} {}V{}\"/>", n(foot), n(foot - 36.0));
    let _ = write!(out, "<text class=\"glyph\" x=\"{}\" y=\"{BASE}\">{}</text>", STEM + 1.0, escape(letter));
    out.push_str(&turned(mark, tilt, foot));
    if let Some(meets) = meets {
        let y = BASE - HEIGHT * meets;
        let slope = (stroke + tilt).to_radians().tan();
        let (from, to) = within(y, slope);
        let _ = write!(
            out,
            "<path class=\"fine\" d=\"M{STEM} {BASE}v-{HEIGHT}m-3 0h3m-3 {0}h3m-3 {0}h3\"/><path class=\"ray\" d=\"M{1} {2}L{3} {4}\"/><circle class=\"spot\" cx=\"{STEM}\" cy=\"{5}\" r=\"2.4\"/>",
            HEIGHT / 2.0,
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
    use crate::entry::{Against, DrawingKind, Subject};

    fn drawn(stroke: f64, form: Form) -> String {
        let of = Subject::Letters { mark: "K".into(), letter: Some("F".into()), stroke, against: Against::BaseLine };
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
            "K on the base line of F, to scale. True: not tilted. False: tilted 6° to the left, meets F at 0.8 of its height, foot 0.1 above the base line."
        );
    }

    #[test]
    fn against_the_line_to_the_centre_there_is_no_letter_and_no_base_line() {
        let of = Subject::Letters { mark: "K".into(), letter: None, stroke: 0.0, against: Against::Centre };
        let [genuine, not_genuine] = [1.5, -6.0].map(|tilt| Form::named("").with("tilt", tilt));
        let svg = figure(DrawingKind::Alignment, of, genuine, not_genuine);
        assert_eq!(
            title(&svg),
            "K against the line to the centre, to scale. True: tilted 1.5° to the right. False: tilted 6° to the left."
        );
        let (genuine, not_genuine) = sides(&svg);
        for (side, tilt) in [(genuine, 1.5), (not_genuine, -6.0)] {
            assert_eq!(numbers_after(&side, "rotate(")[0], tilt);
            assert!(side.contains(">to the centre</text>"));
            // One reference, upright through the middle of the mark; nothing level.
            let plumb = numbers_after(&side, "class=\"plumb\" d=");
            assert_eq!((plumb[0], plumb.len()), (FOOT, 3), "{side}");
        }
    }

    #[test]
    fn what_is_not_stated_has_no_tick() {
        let svg = drawn(0.0, Form::named("").with("tilt", 3.0));
        assert_eq!(svg.matches("class=\"fine\"").count(), 2, "one upright a side: {svg}");
        // The line drawn along the upright of a K is that of its stem, left of its middle.
        let (genuine, _) = sides(&svg);
        assert!(numbers_after(&genuine, "class=\"fine\" d=")[0] < FOOT - 5.0);
    }
}
