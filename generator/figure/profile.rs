//! A cut through the field and a relief on it. With numbers, heights are to scale and widths are not.

use super::drawing::{Half, Pair, length, number, wrap};
use super::n;
use crate::entry::{Form, LengthUnit};

/// Height of the field below the top of the drawing.
const FIELD: f64 = 30.0;
/// How much of the drawing a relief, and what lies below the field, may take.
const ABOVE: f64 = 26.0;
const BELOW: f64 = 12.0;

pub(super) fn pair(unit: Option<LengthUnit>, genuine: &Form, not_genuine: &Form) -> Pair {
    let Some(unit) = unit else {
        let bare = |form: &Form| Half {
            svg: cut(form.word, if form.word == "line" { 11.0 } else { 21.0 }, 6.0, seam_of(form.word)),
            lines: Vec::new(),
            said: Vec::new(),
        };
        return Pair {
            height: 44.0,
            scale: "",
            genuine: bare(genuine),
            not_genuine: bare(not_genuine),
            also: String::new(),
        };
    };
    let scale = scale(genuine, not_genuine);
    let half = |form: &Form, other: &Form| {
        let of = |key| form.get(key).unwrap_or(0.0) * scale;
        // A form that says what the field does has the relief of the other side.
        let high =
            if matches!(form.word, "pitted" | "lump") { other } else { form }.get("height").unwrap_or(0.0) * scale;
        Half { svg: cut(form.word, high, of("dip"), of("seam")), lines: says(form, unit), said: Vec::new() }
    };
    let (note, also) = match unit {
        LengthUnit::Millimetre => ("heights to scale", bar(scale)),
        LengthUnit::Relative => ("true height = 1", String::new()),
    };
    Pair {
        height: 44.0,
        scale: note,
        genuine: half(genuine, not_genuine),
        not_genuine: half(not_genuine, genuine),
        also,
    }
}

/// The gap that a form shows where no number says it.
fn seam_of(form: &str) -> f64 {
    if form == "seam" { 3.0 } else { 0.0 }
}

/// Drawing units in a unit of length: one scale for both sides.
fn scale(genuine: &Form, not_genuine: &Form) -> f64 {
    let most = |keys: &[&str]| {
        let sums = [genuine, not_genuine].map(|form| keys.iter().filter_map(|key| form.get(key)).sum::<f64>());
        sums[0].max(sums[1]).max(1e-9)
    };
    (ABOVE / most(&["height", "seam"])).min(BELOW / most(&["dip"]))
}

fn says(form: &Form, unit: LengthUnit) -> Vec<String> {
    let dip = if form.word == "tooled" { "trough" } else { "dip" };
    let parts: Vec<String> = [("height", "height"), ("dip", dip), ("seam", "seam")]
        .iter()
        .filter_map(|(key, name)| Some(format!("{name} {}", length(form.get(key)?, unit))))
        .collect();
    wrap(&parts)
}

/// A vertical bar of a round length, between the sides.
fn bar(scale: f64) -> String {
    let rough = 24.0 / scale;
    let power = 10f64.powf(rough.log10().floor());
    let size = [5.0, 2.0, 1.0].iter().map(|m| m * power).find(|size| *size <= rough).unwrap_or(power);
    let top = FIELD - size * scale;
    format!(
        "<path class=\"bar\" d=\"M157 {FIELD}h6M160 {FIELD}V{}m-3 0h6\"/><text class=\"size\" x=\"160\" y=\"{}\">{} mm</text>",
        n(top),
        n(top - 3.0),
        number(size)
    )
}

/// A relief `high` over the field, with what lies `deep` below it and a gap under a mark that is not of the piece.
fn cut(form: &str, high: f64, deep: f64, gap: f64) -> String {
    let (f, t, b) = (n(FIELD), n(FIELD - high), n(FIELD + deep));
    let shape = match form {
        "raised" => format!("H50C57 {f} 57 {t} 64 {t}H86C93 {t} 93 {f} 100 {f}H148"),
        // A crack or a die line: as narrow as it is high.
        "line" => format!("H70C73.5 {f} 72 {t} 75 {t}C78 {t} 76.5 {f} 80 {f}H148"),
        "sunk" => {
            format!("H34C42 {f} 46 {b} 53 {b}C59 {b} 58 {t} 65 {t}H85C92 {t} 91 {b} 97 {b}C104 {b} 108 {f} 116 {f}H148")
        }
        "tooled" => format!(
            "H30L36 {b}L41 {f}L46 {b}L52 {f}C57 {f} 57 {t} 64 {t}H86C93 {t} 93 {f} 98 {f}L104 {b}L109 {f}L114 {b}L118 {f}H148"
        ),
        "pitted" => format!(
            "H22C24 35 29 35 31 {f}H50C56 {f} 56 {t} 64 {t}C68 {a} 72 {a} 74 {t}H86C93 {t} 93 {f} 100 {f}H112C114 34 119 34 121 {f}H148",
            a = n(FIELD - high + 4.0)
        ),
        "lump" => format!(
            "H18C20 25 27 25 29 {f}H50C57 {f} 57 {t} 64 {t}H86C93 {t} 93 {f} 100 {f}H118C120 24 128 24 130 {f}H148"
        ),
        _ => "H148".into(),
    };
    let field = format!("<path class=\"stroke cut\" d=\"M2 43V{f}{shape}V43\"/>");
    if !matches!(form, "proud" | "seam") {
        return field;
    }
    // A mark of another piece: a body of its own, and what holds it in the gap.
    let (foot, top) = (n(FIELD - gap), n(FIELD - gap - high));
    let glue = if gap > 0.8 {
        format!("<path class=\"fine glue\" d=\"M52 {0}H98\"/>", n(FIELD - gap / 2.0))
    } else {
        String::new()
    };
    format!("{field}<path class=\"stroke part\" d=\"M54 {foot}V{top}H96V{foot}Z\"/>{glue}")
}

#[cfg(test)]
mod tests {
    use super::super::drawing::tests::{figure, numbers_after, sides, title};
    use super::*;
    use crate::entry::{DrawingKind, Subject};

    fn cemented(unit: LengthUnit) -> String {
        figure(
            DrawingKind::Profile,
            Subject::Lengths(unit),
            Form::named("sunk").with("height", 0.12).with("dip", 0.03),
            Form::named("proud").with("height", 0.16).with("seam", 0.02),
        )
    }

    #[test]
    fn heights_dips_and_seams_keep_the_scale_of_the_bar() {
        let svg = cemented(LengthUnit::Millimetre);
        let bar = numbers_after(&svg, "class=\"bar\" d=");
        let unit = (FIELD - bar[5]) / 0.1;
        assert!(svg.contains(">0.1 mm</text>"));
        let (genuine, not_genuine) = sides(&svg);
        let line = numbers_after(&genuine, "class=\"stroke cut\" d=");
        // The flat top of the mark: the end of the curve that goes up.
        let top = line[13];
        assert!(((FIELD - top) / unit - 0.12).abs() < 0.001, "{line:?}");
        let dip = line[7];
        assert!(((dip - FIELD) / unit - 0.03).abs() < 0.001, "{dip}");
        let part = numbers_after(&not_genuine, "class=\"stroke part\" d=");
        let (foot, top) = (part[1], part[2]);
        assert!(((FIELD - foot) / unit - 0.02).abs() < 0.001);
        assert!(((foot - top) / unit - 0.16).abs() < 0.001);
    }

    #[test]
    fn a_crack_is_a_narrow_line_and_no_plateau() {
        let svg = figure(DrawingKind::Profile, Subject::Nothing, Form::named("line"), Form::named("flat"));
        let (genuine, not_genuine) = sides(&svg);
        let line = numbers_after(&genuine, "class=\"stroke cut\" d=");
        let (from, to) = (line[3], line[14]);
        assert!(to - from <= 12.0, "from {from} to {to}: {line:?}");
        assert!(numbers_after(&not_genuine, "class=\"stroke cut\" d=").len() < 8);
        assert_eq!(title(&svg), "Profile, not to scale. True: a raised line. False: level field.");
    }

    #[test]
    fn the_words_say_the_numbers() {
        assert_eq!(
            title(&cemented(LengthUnit::Millimetre)),
            "Profile, heights to scale. True: in a dip of the field, height 0.12 mm, dip 0.03 mm. False: laid on the field, height 0.16 mm, seam 0.02 mm."
        );
        let relative = cemented(LengthUnit::Relative);
        assert!(title(&relative).contains("true height = 1. True: in a dip of the field, height 0.12, dip 0.03."));
        assert!(!relative.contains("class=\"bar\""));
    }
}
