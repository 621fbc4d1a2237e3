//! Two small faces, obverse upright: the arrow of the reverse shows how it is turned, clockwise.

use super::drawing::{Half, Pair, attribute, number};
use super::n;
use crate::entry::Form;

/// Centre and radius of the reverse.
const X: f64 = 68.0;
const Y: f64 = 22.0;
const RADIUS: f64 = 19.0;

pub(super) fn pair(genuine: &Form, not_genuine: &Form) -> Pair {
    let measured = genuine.is_measured() || not_genuine.is_measured();
    let half = |form: &Form| Half {
        svg: faces(form),
        lines: if measured { vec![says(form)] } else { Vec::new() },
        said: Vec::new(),
    };
    Pair {
        height: 44.0,
        scale: if measured { "angle to scale" } else { "" },
        genuine: half(genuine),
        not_genuine: half(not_genuine),
        also: String::new(),
    }
}

/// Degrees clockwise; a turned die without a number is drawn turned by some angle.
fn turn(form: &Form) -> f64 {
    match form.word {
        "coin" => 180.0,
        "medal" => 0.0,
        _ => form.get("turn").unwrap_or(45.0),
    }
}

fn says(form: &Form) -> String {
    match turn(form) {
        0.0 => "upright, 0°".into(),
        turn if turn.abs() == 180.0 => "upside down, 180°".into(),
        turn => format!("turned {}° {}", number(turn.abs()), if turn > 0.0 { "clockwise" } else { "anticlockwise" }),
    }
}

fn faces(form: &Form) -> String {
    let turn = turn(form);
    let rotated =
        if turn == 0.0 { String::new() } else { format!(" transform=\"rotate({} {X} {Y})\"", attribute(turn)) };
    let mut arc = String::new();
    if turn != 0.0 && turn.abs() < 180.0 {
        let angle = turn.to_radians();
        let (x, y) = (X + 15.0 * angle.sin(), Y - 15.0 * angle.cos());
        arc = format!("<path class=\"fine\" d=\"M{X} 7A15 15 0 0 {} {} {}\"/>", u8::from(turn > 0.0), n(x), n(y));
    }
    format!(
        "<circle class=\"stroke\" cx=\"22\" cy=\"{Y}\" r=\"{RADIUS}\"/><circle class=\"stroke\" cx=\"{X}\" cy=\"{Y}\" r=\"{RADIUS}\"/><path class=\"fine\" d=\"M22 32V12m-5 5l5-5l5 5\"/><path class=\"plumb\" d=\"M{X} 4V40\"/>{arc}<path class=\"fine\"{rotated} d=\"M{X} 32V12m-5 5l5-5l5 5\"/>"
    )
}

#[cfg(test)]
mod tests {
    use super::super::drawing::tests::{figure, numbers_after, sides, title};
    use super::*;
    use crate::entry::{DrawingKind, Subject};

    #[test]
    fn the_reverse_is_turned_by_the_angle_given() {
        for given in [-170.0, -10.0, 7.5, 45.0, 120.0] {
            let form = Form::named("turned").with("turn", given);
            let svg = figure(DrawingKind::Axis, Subject::Nothing, Form::named("medal"), form);
            let (genuine, not_genuine) = sides(&svg);
            assert!(!genuine.contains("rotate("));
            assert_eq!(numbers_after(&not_genuine, "rotate(")[0], given);
            let arc = numbers_after(&not_genuine, "class=\"fine\" d=\"M68 7");
            let (x, y) = (arc[5] - X, arc[6] - Y);
            assert!((x.atan2(-y).to_degrees() - given).abs() < 0.4, "{given}: {arc:?}");
            let way = if given > 0.0 { "clockwise" } else { "anticlockwise" };
            let said = format!("False: turned {}° {way}.", number(given.abs()));
            assert!(title(&svg).contains(&said), "{}", title(&svg));
            assert!(title(&svg).contains("Die axis, angle to scale. True: medal alignment, upright, 0°."));
        }
    }

    #[test]
    fn a_coin_turn_is_upside_down() {
        let svg = figure(DrawingKind::Axis, Subject::Nothing, Form::named("coin"), Form::named("medal"));
        let (genuine, not_genuine) = sides(&svg);
        assert!(genuine.contains("rotate(180 68 22)") && !not_genuine.contains("rotate("));
    }
}
