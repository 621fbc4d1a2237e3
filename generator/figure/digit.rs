//! Digits drawn by their strokes, and what a reshaping takes away and puts on.

use std::fmt::Write;

use super::drawing::{Half, Pair, number, wrap};
use super::n;
use crate::entry::{DigitStyle, Form};
use crate::reckon::strokes::{Reshaping, Stroke, strokes};

/// One stroke of a digit in a box 20 wide and 32 high: 1, 4 and 7 are straight, the others round.
fn path(stroke: Stroke, digit: u8) -> &'static str {
    match (stroke, digit) {
        (Stroke::Top, 7) => "M4 2.5H16.5",
        (Stroke::UpperRight, 7) => "M16.5 2.5L12 15.5",
        (Stroke::LowerRight, 7) => "M12 15.5L9.5 30",
        (Stroke::UpperLeft, 4) => "M10 2L3 15.5",
        (Stroke::UpperRight, 1 | 4) => "M14 2V15.5",
        (Stroke::Middle, 4) => "M3 15.5H18",
        (Stroke::LowerRight, 1 | 4) => "M14 15.5V30",
        (Stroke::Top, _) => "M4 3q6-3 12 0",
        (Stroke::UpperLeft, _) => "M4 3q-3 6.2 0 12.5",
        (Stroke::UpperRight, _) => "M16 3q3 6.2 0 12.5",
        (Stroke::Middle, _) => "M4 15.5q6-1.4 12 0",
        (Stroke::LowerLeft, _) => "M4 15.5q-3.6 6.8 0 13.5",
        (Stroke::LowerRight, _) => "M16 15.5q3.6 6.8 0 13.5",
        (Stroke::Bottom, _) => "M4 29q6 3 12 0",
    }
}

fn group(class: &str, list: &[Stroke], digit: u8) -> String {
    if list.is_empty() {
        return String::new();
    }
    let d: String = list.iter().map(|stroke| path(*stroke, digit)).collect();
    format!("<path class=\"{class}\" d=\"{d}\"/>")
}

/// All strokes of a digit as one path.
pub(super) fn strokes_path(value: u8) -> String {
    strokes(value).iter().map(|stroke| path(*stroke, value)).collect()
}

/// Where a digit stands in its half, and the line it stands on.
const LEFT: f64 = 20.0;
const TOP: f64 = 4.0;
const LINE: f64 = 30.0;

/// A true digit, and the one that was made into it: what was taken off and what was put on.
pub(super) fn pair(genuine: &Form, not_genuine: &Form) -> Pair {
    let change = Reshaping::new(0, not_genuine.digit(), genuine.digit(), DigitStyle::Modern);
    let listed = |words: &str, list: &[Stroke]| {
        let strokes: Vec<&str> = list.iter().map(|stroke| stroke.words()).collect();
        (!list.is_empty()).then(|| format!("{words} {}", strokes.join(" and ")))
    };
    let mut said = Vec::new();
    said.extend(listed("taken off:", &change.removed));
    said.extend(listed("put on:", &change.added));
    let mut after = kept_gone_come(&change);
    let mut key = String::new();
    for (at, (class, words, _)) in [("gone", "taken off", &change.removed), ("come", "put on", &change.added)]
        .iter()
        .filter(|row| !row.2.is_empty())
        .enumerate()
    {
        let y = 14.0 + at as f64 * 13.0;
        let _ = write!(
            key,
            "<path class=\"{class}\" d=\"M64 {y}h14\"/><text class=\"says\" x=\"83\" y=\"{}\">{words}</text>",
            y + 3.0
        );
    }
    after = standing(&after, not_genuine) + &key;
    let measured = genuine.is_measured() || not_genuine.is_measured();
    let before = format!("<path class=\"kept\" d=\"{}\"/>", strokes_path(change.to));
    let named = |name: String, form: &Form| wrap(&std::iter::once(name).chain(hangs(form)).collect::<Vec<_>>());
    let made = format!("{} made from {}", a(change.to), a(change.from));
    Pair {
        height: 46.0,
        scale: if measured { "height on the line to scale" } else { "" },
        genuine: Half { svg: standing(&before, genuine), lines: named(a(change.to), genuine), said: Vec::new() },
        not_genuine: Half { svg: after, lines: named(made, not_genuine), said },
        also: String::new(),
    }
}

/// A digit with its article.
fn a(digit: u8) -> String {
    format!("{} {digit}", if digit == 8 { "an" } else { "a" })
}

/// A digit on the line of the date, or hanging below it.
fn standing(digit: &str, form: &Form) -> String {
    let drop = form.get("drop").unwrap_or(0.0) * LINE;
    format!(
        "<path class=\"plumb\" d=\"M4 {}H56\"/><g transform=\"translate({LEFT} {})\">{digit}</g>",
        n(TOP + LINE),
        n(TOP + drop)
    )
}

fn hangs(form: &Form) -> Vec<String> {
    let Some(drop) = form.get("drop") else { return Vec::new() };
    vec![match drop {
        0.0 => "on the line".into(),
        drop => format!("{} of its height {} the line", number(drop.abs()), if drop > 0.0 { "below" } else { "above" }),
    }]
}

/// The host's digit with the strokes that go (dashed) and those that come (heavy). The words beside it say the same.
pub fn reshaped(change: &Reshaping) -> String {
    format!("<svg class=\"digit\" viewBox=\"-1 -1 22 34\" aria-hidden=\"true\">{}</svg>", kept_gone_come(change))
}

fn kept_gone_come(change: &Reshaping) -> String {
    let kept: Vec<Stroke> =
        strokes(change.from).iter().copied().filter(|stroke| !change.removed.contains(stroke)).collect();
    let Reshaping { from, to, removed, added, .. } = change;
    // What was there has the shape of the old digit and what came that of the new, unless straight would be pieced to round.
    let straight = |digit: u8| matches!(digit, 1 | 4 | 7);
    let (old, new) = if added.is_empty() || straight(*from) == straight(*to) { (*from, *to) } else { (8, 8) };
    group("kept", &kept, old) + &group("gone", removed, old) + &group("come", added, new)
}

#[cfg(test)]
mod tests {
    use super::super::drawing::tests::{figure, numbers_after, sides, title};
    use super::*;
    use crate::entry::{DrawingKind, Subject};

    #[test]
    fn a_reshaped_digit_marks_the_strokes_that_differ() {
        let svg = figure(DrawingKind::Reshaped, Subject::Nothing, Form::named("3"), Form::named("8"));
        let (genuine, not_genuine) = sides(&svg);
        assert!(!genuine.contains("gone") && !not_genuine.contains("come"));
        let gone = not_genuine.split("class=\"gone\" d=\"").nth(1).unwrap().split('"').next().unwrap();
        assert_eq!(gone, format!("{}{}", path(Stroke::UpperLeft, 8), path(Stroke::LowerLeft, 8)));
        assert_eq!(
            title(&svg),
            "Digit reshaped, not to scale. True: a 3. False: a 3 made from an 8, taken off: upper left stroke and lower left stroke."
        );
    }

    #[test]
    fn a_digit_hangs_as_far_as_given() {
        let low = Form::named("4").with("drop", 0.2);
        let svg = figure(DrawingKind::Reshaped, Subject::Nothing, Form::named("1").with("drop", 0.0), low);
        let (genuine, not_genuine) = sides(&svg);
        let y = |side: &str| numbers_after(side, "<g transform=\"translate(20 ")[0];
        assert!(((y(&not_genuine) - y(&genuine)) / LINE - 0.2).abs() < 0.004);
        assert!(
            title(&svg).contains("True: a 1, on the line. False: a 1 made from a 4, 0.2 of its height below the line")
        );
    }
}
