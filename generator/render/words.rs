//! Numbers, places and bases in words.

use crate::corpus::ResolvedPlace;
use crate::entry::{Aid, BasisKind, Face};
use crate::figure::{Spot, dial, midst};

/// `264 000`, with narrow no-break spaces.
pub fn thousands(number: u64) -> String {
    let digits = number.to_string();
    let mut out = String::new();
    for (at, digit) in digits.chars().enumerate() {
        if at > 0 && (digits.len() - at).is_multiple_of(3) {
            out.push('\u{202f}');
        }
        out.push(digit);
    }
    out
}

/// A number to so many decimals, without a tail of zeros beyond the first `least` decimals.
pub fn decimals(number: f64, most: usize, least: usize) -> String {
    let mut text = format!("{number:.most$}");
    while text.contains('.') && text.ends_with('0') && text.len() - text.find('.').unwrap_or(0) - 1 > least {
        text.pop();
    }
    if text.ends_with('.') {
        text.pop();
    }
    text
}

/// A place as an examiner would say it; empty if there is none.
pub fn place(place: &ResolvedPlace) -> String {
    match place {
        ResolvedPlace::None => String::new(),
        ResolvedPlace::Edge => "the edge".into(),
        ResolvedPlace::Face(face) => format!("the {}", face.word()),
        ResolvedPlace::Point { face, clock, reach, about } => point(*face, *clock, *reach, *about),
        ResolvedPlace::Arc { face, from, to, reach, about } => {
            let about = if *about { "about " } else { "" };
            if (to - from).rem_euclid(12.0) < 0.05 {
                return format!("{}, all round, {}", face.word(), reach_words(*reach));
            }
            format!("{}, {about}{} to {} o’clock, {}", face.word(), hour(*from), hour(*to), reach_words(*reach))
        }
        ResolvedPlace::Path { face, points, about } => path(*face, points, *about),
        ResolvedPlace::Area { face, points, about } => {
            let (clock, reach) = dial(midst(&Spot::Area(points.clone())));
            if reach < 0.12 {
                return format!("{}, an area at the centre", face.word());
            }
            let about = if *about { "about " } else { "" };
            format!("{}, an area round {about}{} o’clock, {}", face.word(), hour(clock), reach_words(reach))
        }
        ResolvedPlace::Landmark(name) => format!("at the {}", name.replace('-', " ")),
    }
}

/// A line from its first point to its last.
fn path(face: Face, points: &[(f64, f64)], about: bool) -> String {
    let about = if about { "about " } else { "" };
    let end = |(clock, reach): &(f64, f64)| match reach_words(*reach) {
        "at the centre" => "the centre".to_string(),
        reach => format!("{} o’clock ({reach})", hour(*clock)),
    };
    match (points.first(), points.last()) {
        (Some(first), Some(last)) => format!("{}, a line from {about}{} to {}", face.word(), end(first), end(last)),
        _ => face.word().into(),
    }
}

fn point(face: Face, clock: f64, reach: f64, about: bool) -> String {
    if reach < 0.12 {
        return format!("{}, at the centre", face.word());
    }
    let about = if about { "about " } else { "" };
    format!("{}, {about}{} o’clock, {}", face.word(), hour(clock), reach_words(reach))
}

/// Hours to the quarter: 7.5 is 7:30.
fn hour(clock: f64) -> String {
    let quarters = (clock * 4.0).round() as i64;
    let (mut hour, minutes) = (quarters / 4, quarters % 4 * 15);
    if hour == 0 {
        hour = 12;
    }
    if minutes == 0 { hour.to_string() } else { format!("{hour}:{minutes:02}") }
}

fn reach_words(reach: f64) -> &'static str {
    match reach {
        r if r < 0.12 => "at the centre",
        r if r < 0.4 => "near the centre",
        r if r < 0.65 => "midway to the rim",
        r if r < 0.88 => "towards the rim",
        _ => "at the rim",
    }
}

/// How to look: `16× · light low, from the side`.
pub fn aid(aid: &Aid) -> Vec<String> {
    let mut parts = Vec::new();
    if let Some(magnification) = aid.magnification {
        parts.push(format!("{}×", decimals(magnification, 1, 0)));
    }
    if let Some(light) = &aid.light {
        parts.push(format!("light {light}"));
    }
    parts.extend(aid.tool.clone());
    parts
}

/// How a kind of basis is drawn; the words stand beside it.
pub fn basis_class(kind: BasisKind) -> &'static str {
    match kind {
        BasisKind::Read => "read",
        BasisKind::Memory => "memory",
        BasisKind::CommonPractice => "common",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_are_said_as_at_the_bench() {
        let at = ResolvedPlace::Point { face: Face::Reverse, clock: 7.5, reach: 0.8, about: true };
        assert_eq!(place(&at), "reverse, about 7:30 o’clock, towards the rim");
        let top = ResolvedPlace::Point { face: Face::Obverse, clock: 0.0, reach: 0.95, about: false };
        assert_eq!(place(&top), "obverse, 12 o’clock, at the rim");
        let crack = ResolvedPlace::Path { face: Face::Reverse, points: vec![(4.5, 0.6), (4.75, 1.0)], about: false };
        assert_eq!(place(&crack), "reverse, a line from 4:30 o’clock (midway to the rim) to 4:45 o’clock (at the rim)");
        let square = vec![(7.25, 0.5), (7.75, 0.5), (7.75, 0.7), (7.25, 0.7)];
        let patch = ResolvedPlace::Area { face: Face::Obverse, points: square, about: true };
        assert_eq!(place(&patch), "obverse, an area round about 7:30 o’clock, midway to the rim");
        assert_eq!(thousands(22_180_080), "22\u{202f}180\u{202f}080");
        assert_eq!(decimals(2.5, 4, 2), "2.50");
        assert_eq!(decimals(180.0, 3, 0), "180");
    }
}
