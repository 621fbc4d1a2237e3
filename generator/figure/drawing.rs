//! The small pairs beside a check: the true form left, the false form right.

use super::digit::digit;
use super::escape;
use crate::entry::{Drawing, DrawingKind};

/// A pair as SVG, with words for those who do not see it.
pub fn drawing(drawing: &Drawing) -> String {
    let (width, height) = match drawing.kind {
        DrawingKind::Digit => (60.0, 36.0),
        DrawingKind::Axis => (90.0, 44.0),
        _ => (150.0, 44.0),
    };
    let half = |form: &str, class: &str, x: f64| {
        format!("<g class=\"{class}\" transform=\"translate({x} 0)\">{}</g>", form_of(drawing.kind, form))
    };
    format!(
        "<svg class=\"pair-drawing {}\" viewBox=\"0 0 {} {height}\" role=\"img\" aria-label=\"{}: true {}, false {}\">{}{}</svg>",
        kind_word(drawing.kind),
        width * 2.0 + 20.0,
        kind_word(drawing.kind),
        escape(&drawing.genuine),
        escape(&drawing.not_genuine),
        half(&drawing.genuine, "true", 0.0),
        half(&drawing.not_genuine, "false", width + 20.0),
    )
}

fn kind_word(kind: DrawingKind) -> &'static str {
    match kind {
        DrawingKind::Profile => "profile",
        DrawingKind::Digit => "digit",
        DrawingKind::Edge => "edge",
        DrawingKind::Surface => "surface",
        DrawingKind::Axis => "axis",
    }
}

fn form_of(kind: DrawingKind, form: &str) -> String {
    match kind {
        DrawingKind::Profile => profile(form),
        DrawingKind::Digit => digit(form.parse().unwrap_or(0), "stroke", 20.0),
        DrawingKind::Edge => edge(form),
        DrawingKind::Surface => surface(form),
        DrawingKind::Axis => axis(form),
    }
}

/// A cut through the field with a letter on it, field at 32 of 44.
fn profile(form: &str) -> String {
    let line = |d: &str| format!("<path class=\"stroke\" d=\"{d}\"/>");
    let fine = |d: &str| format!("<path class=\"fine\" d=\"{d}\"/>");
    match form {
        "raised" => line("M2 32H50C57 32 57 10 64 10H86C93 10 93 32 100 32H148"),
        "sunk" => line("M2 30H34C42 30 46 37 53 37C59 37 58 10 65 10H85C92 10 91 37 97 37C104 37 108 30 116 30H148"),
        "proud" => line("M2 32H148M54 32V10H96V32") + &fine("M50 32h8M92 32h8"),
        "seam" => line("M2 32H52M98 32H148M54 30V10H96V30H54") + &fine("M50 34h50"),
        "tooled" => line(
            "M2 32H30L36 36L41 32L46 37L52 32C57 32 57 10 64 10H86C93 10 93 32 98 32L104 37L109 32L114 35L118 32H148",
        ),
        "pitted" => line(
            "M2 32H22C24 37 29 37 31 32H50C56 32 56 12 64 11C68 15 72 14 74 10.5H86C93 10 93 32 100 32H112C114 36 119 36 121 32H148",
        ),
        "lump" => {
            line("M2 32H18C20 27 27 27 29 32H50C57 32 57 10 64 10H86C93 10 93 32 100 32H118C120 26 128 26 130 32H148")
        }
        _ => line("M2 32H148"),
    }
}

/// The edge seen from the side, 150 by 44.
fn edge(form: &str) -> String {
    let frame = "<path class=\"stroke\" d=\"M2 6H148M2 38H148\"/>";
    let reeds = |from: f64, to: f64, step: f64, top: f64| -> String {
        let mut d = String::new();
        let mut x = from;
        while x <= to {
            d.push_str(&format!("M{x} {top}V36"));
            x += step;
        }
        format!("<path class=\"fine\" d=\"{d}\"/>")
    };
    let inside = match form {
        "reeded" => reeds(6.0, 146.0, 7.0, 8.0),
        "lettered" => "<text class=\"edge-letters\" x=\"75\" y=\"28\">A B C D E F G</text>".to_string(),
        "seam" => reeds(6.0, 146.0, 7.0, 8.0) + "<path class=\"stroke\" d=\"M2 23C30 21 60 25 90 22S130 24 148 23\"/>",
        "filed" => {
            reeds(6.0, 50.0, 7.0, 8.0)
                + "<path class=\"fine\" d=\"M60 34L82 10M68 36L92 9M78 36L102 10M88 36L112 9M98 36L122 12\"/>"
                + &reeds(126.0, 146.0, 7.0, 8.0)
        }
        "soft" => reeds(6.0, 146.0, 7.0, 20.0),
        "doubled" => reeds(6.0, 146.0, 7.0, 8.0) + &reeds(9.0, 146.0, 7.0, 22.0),
        _ => String::new(),
    };
    format!("{frame}{inside}")
}

/// A patch of field, 150 by 44.
fn surface(form: &str) -> String {
    let frame = "<rect class=\"fine\" x=\"2\" y=\"3\" width=\"146\" height=\"38\"/>";
    let dots = |points: &[(f64, f64, f64)]| -> String {
        points.iter().map(|(x, y, r)| format!("<circle class=\"fine\" cx=\"{x}\" cy=\"{y}\" r=\"{r}\"/>")).collect()
    };
    let inside = match form {
        "flow-lines" => "<path class=\"fine\" d=\"M75 22L75 6M75 22L96 7M75 22L122 9M75 22L146 17M75 22L146 29M75 22L120 37M75 22L94 38M75 22V38M75 22L54 38M75 22L28 37M75 22L4 29M75 22L4 16M75 22L30 8M75 22L55 6\"/>".to_string(),
        "granular" => dots(&GRAIN),
        "pits" => "<path class=\"fine\" d=\"M22 16a5 4 0 1 0 10 0a5 4 0 1 0-10 0M62 28a7 5 0 1 0 14 0a7 5 0 1 0-14 0M104 14a4 4 0 1 0 8 0a4 4 0 1 0-8 0M122 30a5 4 0 1 0 10 0a5 4 0 1 0-10 0\"/>".to_string(),
        "lumps" => "<path class=\"stroke\" d=\"M20 18c2-8 12-8 14 0M66 32c2-9 15-9 17 0M108 17c2-7 10-7 12 0\"/>".to_string(),
        "scratches" => "<path class=\"fine\" d=\"M8 34L70 8M14 38L76 12M50 36L112 10M60 38L120 14M84 37L144 12M20 26L60 10\"/>".to_string(),
        _ => String::new(),
    };
    format!("{frame}{inside}")
}

const GRAIN: [(f64, f64, f64); 22] = [
    (10.0, 12.0, 1.6),
    (19.0, 30.0, 1.9),
    (27.0, 9.0, 1.2),
    (33.0, 22.0, 2.1),
    (41.0, 35.0, 1.4),
    (46.0, 13.0, 1.8),
    (54.0, 27.0, 1.3),
    (61.0, 8.0, 2.0),
    (66.0, 36.0, 1.7),
    (72.0, 20.0, 1.4),
    (79.0, 30.0, 2.0),
    (85.0, 11.0, 1.6),
    (92.0, 24.0, 1.3),
    (98.0, 35.0, 1.9),
    (104.0, 15.0, 1.5),
    (110.0, 28.0, 2.1),
    (117.0, 9.0, 1.3),
    (122.0, 36.0, 1.5),
    (128.0, 20.0, 1.9),
    (134.0, 30.0, 1.3),
    (140.0, 13.0, 1.7),
    (143.0, 36.0, 1.2),
];

/// Two small faces, 90 by 44: the arrow of the reverse shows how it is turned.
fn axis(form: &str) -> String {
    let arrow = match form {
        "coin" => "M68 32V12M63 27l5 6l5-6",
        "medal" => "M68 32V12M63 17l5-6l5 6",
        _ => "M60 29L77 15M70 14l7.5 .5l-1.5 7.5",
    };
    format!(
        "<circle class=\"stroke\" cx=\"22\" cy=\"22\" r=\"19\"/><circle class=\"stroke\" cx=\"68\" cy=\"22\" r=\"19\"/><path class=\"fine\" d=\"M22 32V12M17 17l5-6l5 6\"/><path class=\"fine\" d=\"{arrow}\"/>"
    )
}
