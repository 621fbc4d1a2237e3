//! Digits drawn by their strokes, and what a reshaping takes away and puts on.

use std::fmt::Write;

use crate::reckon::strokes::{Reshaping, Stroke, strokes};

/// One stroke in a box 20 wide and 32 high.
fn path(stroke: Stroke) -> &'static str {
    match stroke {
        Stroke::Top => "M4 3C7 1 13 1 16 3",
        Stroke::UpperLeft => "M4 3C2 7 2 11 4 15.5",
        Stroke::UpperRight => "M16 3C18 7 18 11 16 15.5",
        Stroke::Middle => "M4 15.5C8 14.6 12 14.6 16 15.5",
        Stroke::LowerLeft => "M4 15.5C1.6 20 1.6 25 4 29",
        Stroke::LowerRight => "M16 15.5C18.4 20 18.4 25 16 29",
        Stroke::Bottom => "M4 29C7 31 13 31 16 29",
    }
}

fn group(class: &str, list: &[Stroke]) -> String {
    if list.is_empty() {
        return String::new();
    }
    let d: String = list.iter().map(|stroke| path(*stroke)).collect();
    format!("<path class=\"{class}\" d=\"{d}\"/>")
}

/// One digit, shifted right by `x`, as SVG paths of one class.
pub fn digit(value: u8, class: &str, x: f64) -> String {
    format!("<g transform=\"translate({x} 0)\">{}</g>", group(class, strokes(value)))
}

/// The host's digit with the strokes that go (dashed) and those that come (heavy).
pub fn reshaped(change: &Reshaping) -> String {
    let kept: Vec<Stroke> =
        strokes(change.from).iter().copied().filter(|stroke| !change.removed.contains(stroke)).collect();
    let mut out = String::new();
    let _ = write!(
        out,
        "<svg class=\"digit\" viewBox=\"-1 -1 22 34\" role=\"img\" aria-label=\"{} made into {}\">{}{}{}</svg>",
        change.from,
        change.to,
        group("kept", &kept),
        group("gone", &change.removed),
        group("come", &change.added)
    );
    out
}
