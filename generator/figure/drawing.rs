//! The pairs beside a check: the true form left, the false form right, in one frame, with one way of naming and of
//! measuring. Each kind draws one side in a field 150 wide and says its numbers; words for those who do not see it are
//! made of the same.

use std::fmt::Write;

use super::{alignment, axis, digit, edge, escape, n, overdate, profile, surface};
use crate::entry::{Drawing, DrawingKind, Form, LengthUnit, Subject};

/// A line of numbers under a side.
const LINE: f64 = 10.5;

/// One side of a pair: its shapes, in a field of 150 by [`Pair::height`], and its numbers as they stand below it.
pub(super) struct Half {
    pub svg: String,
    pub lines: Vec<String>,
    /// What only the words say: the drawing shows it.
    pub said: Vec<String>,
}

/// What a kind draws.
pub(super) struct Pair {
    pub height: f64,
    /// What is to scale; empty if nothing is.
    pub scale: &'static str,
    pub genuine: Half,
    pub not_genuine: Half,
    /// Between the sides or across both: a bar of the scale.
    pub also: String,
}

/// A pair as SVG, with words for those who do not see it.
pub fn drawing(drawing: &Drawing) -> String {
    let pair = draw(drawing);
    let lines = pair.genuine.lines.len().max(pair.not_genuine.lines.len());
    let height = pair.height + if lines > 0 { lines as f64 * LINE + 2.0 } else { 0.0 };
    let note = if pair.scale.is_empty() { "not to scale" } else { pair.scale };
    let mut out = String::new();
    let _ = write!(
        out,
        "<svg class=\"pair-drawing{}{}\" viewBox=\"0 -15 320 {}\" role=\"img\"><title>{}</title><text class=\"note\">{note}</text><g class=\"true\">{}</g><g class=\"false\">{}</g>{}</svg>",
        // The one kind that has colours of its own.
        if drawing.kind == DrawingKind::Reshaped { " reshaped" } else { "" },
        if pair.scale.is_empty() { "" } else { " scaled" },
        n(height + 15.0),
        escape(&words(drawing, &pair, note)),
        side("● True", &pair.genuine, pair.height),
        side("✕ False", &pair.not_genuine, pair.height),
        pair.also,
    );
    out
}

fn draw(drawing: &Drawing) -> Pair {
    let mut pair = shapes(drawing);
    for (half, form) in [(&mut pair.genuine, &drawing.genuine), (&mut pair.not_genuine, &drawing.not_genuine)] {
        let name = name_of(drawing.kind, form);
        if !name.is_empty() {
            let parts: Vec<String> = std::iter::once(name.to_string()).chain(half.lines.drain(..)).collect();
            half.lines = wrap(&parts);
        }
    }
    pair
}

/// What a form is called, in the drawing and in its words; empty where its numbers or its digits say it.
fn name_of(kind: DrawingKind, form: &Form) -> &'static str {
    match (kind, form.word) {
        (DrawingKind::Reshaped | DrawingKind::Overdate | DrawingKind::Alignment, _) => "",
        (DrawingKind::Axis, "coin") => "coin alignment",
        (DrawingKind::Axis, "medal") => "medal alignment",
        (DrawingKind::Axis, _) => {
            if form.get("turn").is_some() {
                ""
            } else {
                "turned"
            }
        }
        (DrawingKind::Profile, "raised") => "raised from the field",
        (DrawingKind::Profile, "line") => "a raised line",
        (DrawingKind::Profile, "sunk") => "in a dip of the field",
        (DrawingKind::Profile, "proud") => "laid on the field",
        (DrawingKind::Profile, "seam") => "laid on, a seam below",
        (DrawingKind::Profile, "tooled") => "troughs beside it",
        (DrawingKind::Profile, "pitted") => "pits in it",
        (DrawingKind::Profile, "lump") => "lumps beside it",
        (DrawingKind::Profile, "flat") => "level field",
        (DrawingKind::Edge, "seam") => "a seam",
        (DrawingKind::Edge, "filed") => "file marks",
        (DrawingKind::Edge, "soft") => "soft and weak",
        (DrawingKind::Edge, "overlap") => "border over the reeds",
        (DrawingKind::Surface, "flow-lines") => "flow lines",
        (_, word) => word,
    }
}

fn shapes(drawing: &Drawing) -> Pair {
    let Drawing { kind, of, genuine, not_genuine } = drawing;
    match (kind, of) {
        (DrawingKind::Profile, _) => {
            let unit = if let Subject::Lengths(unit) = of { Some(*unit) } else { None };
            profile::pair(unit.filter(|_| measured(drawing)), genuine, not_genuine)
        }
        (DrawingKind::Overdate, Subject::Digits { upper, under }) => {
            overdate::pair(*upper, *under, genuine, not_genuine)
        }
        (DrawingKind::Alignment, Subject::Letters { mark, letter, stroke, .. }) => {
            alignment::pair(mark, letter.as_deref(), *stroke, genuine, not_genuine)
        }
        (DrawingKind::Reshaped, _) => digit::pair(genuine, not_genuine),
        (DrawingKind::Edge, _) => edge::pair(genuine, not_genuine),
        (DrawingKind::Axis, _) => axis::pair(genuine, not_genuine),
        _ => surface::pair(genuine, not_genuine),
    }
}

fn measured(drawing: &Drawing) -> bool {
    drawing.genuine.is_measured() || drawing.not_genuine.is_measured()
}

fn side(label: &str, half: &Half, height: f64) -> String {
    let mut out = format!("<text>{label}</text>{}", half.svg);
    for (at, line) in half.lines.iter().enumerate() {
        let y = height + (at as f64 + 1.0) * LINE - 1.0;
        let _ = write!(out, "<text class=\"says\" y=\"{}\">{}</text>", n(y), escape(line));
    }
    out
}

/// `Profile, heights to scale. True: sunk, 0.12 mm high. False: flat.`
fn words(drawing: &Drawing, pair: &Pair, note: &str) -> String {
    let name = match (drawing.kind, &drawing.of) {
        (DrawingKind::Overdate, Subject::Digits { upper, under }) => format!("{upper} over {under}"),
        (_, Subject::Letters { mark, letter: Some(letter), .. }) => format!("{mark} on the base line of {letter}"),
        (_, Subject::Letters { mark, against, .. }) => format!("{mark} {}", against.words()),
        (DrawingKind::Reshaped, _) => "Digit reshaped".into(),
        (DrawingKind::Axis, _) => "Die axis".into(),
        (kind, _) => {
            let word = kind.word();
            word[..1].to_uppercase() + &word[1..]
        }
    };
    let side = |half: &Half| half.lines.iter().chain(&half.said).cloned().collect::<Vec<_>>().join(", ");
    format!("{name}, {note}. True: {}. False: {}.", side(&pair.genuine), side(&pair.not_genuine))
}

/// A number with three decimals at most, and its minus sign as typeset.
pub(super) fn number(value: f64) -> String {
    let text = format!("{:.3}", value.abs());
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if value < 0.0 && text != "0" { format!("−{text}") } else { text.to_string() }
}

/// A number as an attribute of SVG has it.
pub(super) fn attribute(value: f64) -> String {
    number(value).replace('−', "-")
}

/// Parts joined to lines that a side has room for.
pub(super) fn wrap(parts: &[String]) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for part in parts {
        match lines.last_mut() {
            Some(line) if line.chars().count() + part.chars().count() <= 30 => {
                line.push_str(", ");
                line.push_str(part);
            }
            _ => lines.push(part.clone()),
        }
    }
    lines
}

/// A length with its unit.
pub(super) fn length(value: f64, unit: LengthUnit) -> String {
    match unit {
        LengthUnit::Millimetre => format!("{} mm", number(value)),
        LengthUnit::Relative => number(value),
    }
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;

    /// The numbers in the first attribute after a mark, such as `class="fine" d=`.
    pub fn numbers_after(svg: &str, mark: &str) -> Vec<f64> {
        let (_, rest) = svg.split_once(mark).unwrap_or_else(|| panic!("no {mark} in {svg}"));
        let text = rest.trim_start_matches('"').split('"').next().unwrap();
        let mut spaced = String::new();
        for c in text.chars() {
            // A minus sign begins a number.
            spaced.push_str(&match c {
                '-' => " -".into(),
                c if c.is_ascii_digit() || c == '.' => c.to_string(),
                _ => " ".into(),
            });
        }
        spaced.split_whitespace().map(|number| number.parse().unwrap()).collect()
    }

    /// What is said of a figure to those who do not see it.
    pub fn title(svg: &str) -> String {
        svg.split_once("<title>").unwrap().1.split_once("</title>").unwrap().0.to_string()
    }

    /// The two sides of a pair.
    pub fn sides(svg: &str) -> (String, String) {
        let (genuine, not_genuine) = svg.split_once("<g class=\"false\"").unwrap();
        (genuine.to_string(), not_genuine.to_string())
    }

    pub fn figure(kind: DrawingKind, of: Subject, genuine: Form, not_genuine: Form) -> String {
        drawing(&Drawing { kind, of, genuine, not_genuine })
    }

    #[test]
    fn every_named_form_is_drawn_and_owns_that_it_is_not_to_scale() {
        for (word, kind) in crate::entry::DRAWINGS {
            for form in kind.forms() {
                let of = match kind {
                    DrawingKind::Overdate => Subject::Digits { upper: 7, under: 4 },
                    _ => Subject::Nothing,
                };
                let other = kind.forms().iter().find(|other| other != &form).unwrap();
                let svg = figure(*kind, of, Form::named(form), Form::named(other));
                assert!(svg.contains("not to scale</text>"), "{word} {form}");
                assert!(svg.contains("● True") && svg.contains("✕ False"));
                // What the words say stands in the drawing too.
                let said = title(&svg).split_once("True: ").unwrap().1.split(". False").next().unwrap().to_string();
                assert!(!said.is_empty() && svg.contains(&format!("\">{said}</text>")), "{word} {form}: {svg}");
                assert!(svg.len() < 2000, "{word} {form} weighs {}", svg.len());
                assert_eq!(svg.matches("<g").count(), svg.matches("</g>").count());
            }
        }
    }

    #[test]
    fn numbers_are_set_as_printed() {
        assert_eq!(number(0.1), "0.1");
        assert_eq!(number(-6.0), "−6");
        assert_eq!(number(118.0), "118");
        assert_eq!(number(-0.0001), "0");
    }
}
