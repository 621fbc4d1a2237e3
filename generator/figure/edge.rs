//! The edge seen from the side, 150 by 44: a sixth of the way round where its reeds are counted.

use super::drawing::{Half, Pair, number, wrap};
use super::n;
use crate::entry::Form;

/// Length of edge that is drawn, and how many such lengths go once round.
const LENGTH: f64 = 146.0;
const PIECES: f64 = 6.0;
/// Distance of reeds that nobody counted.
const UNCOUNTED: f64 = 7.0;
/// The rims, and the floor of the reeds between them.
const UPPER: f64 = 6.0;
const LOWER: f64 = 38.0;

pub(super) fn pair(genuine: &Form, not_genuine: &Form) -> Pair {
    // A seam, a filed patch and the like are those of the edge on the other side: letters where that has letters, nothing where that is plain.
    let half = |form: &Form, other: &Form| Half { svg: edge(form, other.word), lines: says(form), said: Vec::new() };
    let is = |key| genuine.get(key).or(not_genuine.get(key)).is_some();
    let scale = match (is("reeds"), is("lean") || is("seam")) {
        (true, _) => "a sixth of the edge",
        (false, true) => "to scale across the edge",
        _ => "",
    };
    Pair {
        height: 44.0,
        scale,
        genuine: half(genuine, not_genuine),
        not_genuine: half(not_genuine, genuine),
        also: String::new(),
    }
}

fn says(form: &Form) -> Vec<String> {
    let mut parts = Vec::new();
    if let Some(reeds) = form.get("reeds") {
        parts.push(format!("{} reeds", number(reeds)));
    }
    if let Some(lean) = form.get("lean").filter(|lean| *lean != 0.0) {
        parts.push(format!("leaning {}° to the {}", number(lean.abs()), if lean > 0.0 { "right" } else { "left" }));
    }
    if let Some(seam) = form.get("seam") {
        parts.push(format!("line at {} of the thickness", number(seam)));
    }
    wrap(&parts)
}

/// Reeds from `from` to `to`, `tall` of 28 high from the floor: one broad line, dashed.
fn reeds(form: &Form, from: f64, to: f64, tall: f64) -> String {
    let step = form.get("reeds").map_or(UNCOUNTED, |count| LENGTH * PIECES / count);
    let width = (step * 0.3).min(1.4);
    let y = LOWER - 2.0 - tall / 2.0;
    let gaps = format!("stroke-width=\"{}\" stroke-dasharray=\"{width:.2} {:.3}\"", n(tall), step - width);
    let (y, from, to) = (n(y), n(from), n(to));
    match form.get("lean") {
        Some(lean) if lean != 0.0 => format!(
            "<path class=\"reeds\" transform=\"translate(0 {y}) skewX({})\" {gaps} d=\"M{from} 0H{to}\"/>",
            n(-lean)
        ),
        _ => format!("<path class=\"reeds\" {gaps} d=\"M{from} {y}H{to}\"/>"),
    }
}

fn edge(form: &Form, other: &str) -> String {
    let seam = || {
        let y = LOWER - (LOWER - UPPER) * form.get("seam").unwrap_or(0.5);
        // It wavers about its height: the mean of its ends and of its turns is that height.
        format!("<path class=\"stroke line\" d=\"M2 {0}c24-3 48 3 73 0s49-3 73 0\"/>", n(y))
    };
    let inside = match form.word {
        "reeded" => reeds(form, 5.0, 147.0, 28.0),
        "lettered" => LETTERS.into(),
        "seam" if other == "lettered" => LETTERS.to_string() + &seam(),
        "filed" if other == "lettered" => LETTERS.to_string() + PATCH,
        "soft" if other == "lettered" => LETTERS.replace("letters\"", "letters soft\""),
        "doubled" if other == "lettered" => LETTERS.to_string() + &LETTERS.replace("75", "78"),
        "seam" if other == "plain" && form.get("reeds").is_none() => seam(),
        "filed" if other == "plain" && form.get("reeds").is_none() => PATCH.into(),
        "seam" => reeds(form, 5.0, 147.0, 28.0) + &seam(),
        "filed" => reeds(form, 5.0, 54.0, 28.0) + PATCH + &reeds(form, 124.0, 147.0, 28.0),
        "soft" => reeds(form, 5.0, 147.0, 16.0),
        "doubled" => reeds(form, 5.0, 147.0, 28.0) + &reeds(form, 8.0, 147.0, 14.0),
        "overlap" => {
            // The border runs over the upper ends of the reeds, and a fin of it stands on the rim.
            reeds(form, 5.0, 147.0, 22.0)
                + "<path class=\"stroke\" d=\"M2 14c20 3 36-2 58 0s40 3 54-1 22 0 34 1M2 6l6-5h18l4 3 22-3h34l8 3 20-3h26l8 5\"/>"
        }
        _ => String::new(),
    };
    format!("<path class=\"stroke\" d=\"M2 6H148M2 38H148\"/>{inside}")
}

const LETTERS: &str = "<text class=\"edge-letters\" x=\"75\" y=\"27\">A B C D E F G</text>";
const PATCH: &str = "<path class=\"fine\" d=\"M60 34L82 10M68 36L92 9M78 36L102 10M88 36L112 9M98 36L122 12\"/>";

#[cfg(test)]
mod tests {
    use super::super::drawing::tests::{figure, numbers_after, sides, title};
    use super::*;
    use crate::entry::{DrawingKind, Subject};

    #[test]
    fn reeds_are_as_close_as_their_count_says() {
        let svg = figure(
            DrawingKind::Edge,
            Subject::Nothing,
            Form::named("reeded").with("reeds", 118.0),
            Form::named("reeded").with("reeds", 95.0).with("lean", 12.0),
        );
        let (genuine, not_genuine) = sides(&svg);
        for (side, count) in [(&genuine, 118.0), (&not_genuine, 95.0)] {
            let step: f64 = numbers_after(side, "stroke-dasharray=").iter().sum();
            assert!((LENGTH * PIECES / step - count).abs() < 0.1, "{count}: {step}");
        }
        assert_eq!(numbers_after(&not_genuine, "skewX(")[0], -12.0);
        assert_eq!(
            title(&svg),
            "Edge, a sixth of the edge. True: reeded, 118 reeds. False: reeded, 95 reeds, leaning 12° to the right."
        );
    }

    #[test]
    fn a_seam_runs_at_the_height_given() {
        let seam = Form::named("seam").with("seam", 0.3);
        let svg = figure(DrawingKind::Edge, Subject::Nothing, Form::named("lettered"), seam);
        let y = numbers_after(&svg, "class=\"stroke line\" d=")[1];
        assert!(((LOWER - y) / (LOWER - UPPER) - 0.3).abs() < 0.004, "{y}");
        assert!(title(&svg).contains("line at 0.3 of the thickness"));
    }
}
