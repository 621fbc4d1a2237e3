//! A digit over a digit: seen from above, and cut across a stroke of each.

use super::digit::strokes_path;
use super::drawing::{Half, Pair, number};
use super::n;
use crate::entry::Form;

/// The field in the cut, and the height of the upper digit over it.
const FIELD: f64 = 32.0;
const HEIGHT: f64 = 24.0;

pub(super) fn pair(upper: u8, under: u8, genuine: &Form, not_genuine: &Form) -> Pair {
    let half = |form: &Form| Half {
        svg: plan(upper, under, form.word) + &section(form),
        lines: vec![says(upper, under, form)],
        said: Vec::new(),
    };
    let measured = genuine.is_measured() || not_genuine.is_measured();
    Pair {
        height: 46.0,
        scale: if measured { "heights to scale" } else { "" },
        genuine: half(genuine),
        not_genuine: half(not_genuine),
        also: String::new(),
    }
}

fn says(upper: u8, under: u8, form: &Form) -> String {
    match (form.word, form.get("rise")) {
        ("low", Some(rise)) => format!("{under} at {} of the height of {upper}", number(rise)),
        ("low", None) => format!("{under} lower, from the same field"),
        ("on-top", _) => format!("{upper} lies on {under}, with a seam"),
        ("carved", _) => format!("{under} rimmed by troughs and burrs"),
        _ => "both rise from the field".into(),
    }
}

/// From above: what lies on the other hides it.
fn plan(upper: u8, under: u8, form: &str) -> String {
    let digit = |value, class: &str, at: &str| {
        format!("<path class=\"{class}\" transform=\"translate({at})scale(1.2)\" d=\"{}\"/>", strokes_path(value))
    };
    // The lower one a little aside, so that both are seen.
    let (above, below) = ("17 3", "3 5");
    match form {
        "low" => digit(under, "fine", below) + &digit(upper, "halo", above) + &digit(upper, "stroke", above),
        "on-top" => {
            digit(under, "stroke", below)
                + &digit(upper, "rim", above)
                + &digit(upper, "halo thin", above)
                + &digit(upper, "stroke", above)
        }
        "carved" => {
            digit(under, "rim thin", below) + &digit(under, "halo hair", below) + &digit(upper, "stroke", above)
        }
        _ => digit(under, "stroke", below) + &digit(upper, "stroke", above),
    }
}

/// Cut across a stroke of each, the lower digit left.
fn section(form: &Form) -> String {
    let (f, t) = (n(FIELD), n(FIELD - HEIGHT));
    let shape = match form.word {
        "low" => {
            let u = n(FIELD - HEIGHT * form.get("rise").unwrap_or(0.5));
            format!("H62C69 {f} 69 {u} 76 {u}H92C98 {u} 97 {t} 103 {t}H116C122 {t} 122 {f} 129 {f}H148")
        }
        "on-top" => format!("H64C70 {f} 70 19 76 19H124C130 19 130 {f} 136 {f}H148"),
        "carved" => format!(
            "H62L65 27L69 38L73 {f}H85L89 38L93 27L96 {f}H98C103 {f} 103 {t} 108 {t}H120C126 {t} 126 {f} 133 {f}H148"
        ),
        _ => format!(
            "H62C69 {f} 69 {t} 76 {t}H84C90 {t} 88 20 92 20C96 20 94 {t} 100 {t}H116C122 {t} 122 {f} 129 {f}H148"
        ),
    };
    let part = if form.word == "on-top" { "<path class=\"stroke part\" d=\"M88 18V6H116V18Z\"/>" } else { "" };
    format!("<path class=\"stroke cut\" d=\"M52 44V{f}{shape}V44\"/>{part}")
}

#[cfg(test)]
mod tests {
    use super::super::drawing::tests::{figure, numbers_after, sides, title};
    use super::*;
    use crate::entry::{DrawingKind, Subject};

    #[test]
    fn the_lower_digit_is_as_high_as_it_is_said_to_be() {
        for rise in [0.25, 0.5, 0.9] {
            let of = Subject::Digits { upper: 7, under: 4 };
            let svg = figure(DrawingKind::Overdate, of, Form::named("low").with("rise", rise), Form::named("carved"));
            let (genuine, _) = sides(&svg);
            let cut = numbers_after(&genuine, "class=\"stroke cut\" d=\"M52 44V");
            let (field, under, upper) = (cut[0], cut[7], cut[14]);
            assert!(((field - under) / (field - upper) - rise).abs() < 0.003, "{cut:?}");
            assert_eq!(
                title(&svg),
                format!(
                    "7 over 4, heights to scale. True: 4 at {rise} of the height of 7. False: 4 rimmed by troughs and burrs."
                )
            );
        }
    }
}
