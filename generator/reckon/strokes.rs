//! The strokes of a date's digits, and what must be removed or added to turn one digit into another.

use crate::entry::DigitStyle;

/// The strokes a digit is drawn with, in words an examiner uses at the glass.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stroke {
    Top,
    UpperLeft,
    UpperRight,
    Middle,
    LowerLeft,
    LowerRight,
    Bottom,
}

impl Stroke {
    pub fn words(self) -> &'static str {
        match self {
            Stroke::Top => "top bar",
            Stroke::UpperLeft => "upper left stroke",
            Stroke::UpperRight => "upper right stroke",
            Stroke::Middle => "middle bar",
            Stroke::LowerLeft => "lower left stroke",
            Stroke::LowerRight => "lower right stroke",
            Stroke::Bottom => "bottom bar",
        }
    }
}

/// The strokes of a digit; curves count as the stroke whose place they take.
pub fn strokes(digit: u8) -> &'static [Stroke] {
    use Stroke::{Bottom, LowerLeft, LowerRight, Middle, Top, UpperLeft, UpperRight};
    match digit {
        0 => &[Top, UpperLeft, UpperRight, LowerLeft, LowerRight, Bottom],
        1 => &[UpperRight, LowerRight],
        2 => &[Top, UpperRight, Middle, LowerLeft, Bottom],
        3 => &[Top, UpperRight, Middle, LowerRight, Bottom],
        4 => &[UpperLeft, UpperRight, Middle, LowerRight],
        5 => &[Top, UpperLeft, Middle, LowerRight, Bottom],
        6 => &[Top, UpperLeft, Middle, LowerLeft, LowerRight, Bottom],
        7 => &[Top, UpperRight, LowerRight],
        8 => &[Top, UpperLeft, UpperRight, Middle, LowerLeft, LowerRight, Bottom],
        _ => &[Top, UpperLeft, UpperRight, Middle, LowerRight, Bottom],
    }
}

/// What turns one digit into another.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reshaping {
    /// Which of the four digits, from 0 at the left.
    pub position: usize,
    pub from: u8,
    pub to: u8,
    pub removed: Vec<Stroke>,
    pub added: Vec<Stroke>,
    /// In a numeral set of unequal height the two digits do not stand alike on the line.
    pub height_differs: bool,
}

impl Reshaping {
    pub fn new(position: usize, from: u8, to: u8, style: DigitStyle) -> Reshaping {
        let without =
            |all: &[Stroke], other: &[Stroke]| all.iter().copied().filter(|stroke| !other.contains(stroke)).collect();
        Reshaping {
            position,
            from,
            to,
            removed: without(strokes(from), strokes(to)),
            added: without(strokes(to), strokes(from)),
            height_differs: style == DigitStyle::OldStyle && height(from) != height(to),
        }
    }

    /// Effort: metal is easier to take away than to put on. Only the order of these numbers means anything.
    pub fn effort(&self) -> f64 {
        self.removed.len() as f64 + 1.5 * self.added.len() as f64 + if self.height_differs { 1.0 } else { 0.0 }
    }
}

/// Old-style numerals: 0, 1 and 2 are low, 3, 4, 5, 7 and 9 hang below the line, 6 and 8 stand tall.
fn height(digit: u8) -> u8 {
    match digit {
        0..=2 => 0,
        6 | 8 => 2,
        _ => 1,
    }
}

/// The one digit in which two years differ, if it is one.
pub fn one_digit(from: i32, to: i32, style: DigitStyle) -> Option<Reshaping> {
    let digits = |year: i32| [year / 1000 % 10, year / 100 % 10, year / 10 % 10, year % 10];
    let (a, b) = (digits(from), digits(to));
    let mut differing = (0..4).filter(|at| a[*at] != b[*at]);
    let at = differing.next()?;
    differing.next().is_none().then(|| Reshaping::new(at, a[at] as u8, b[at] as u8, style))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_eight_loses_its_left_side_to_pass_as_a_three() {
        let change = one_digit(1898, 1893, DigitStyle::Modern).unwrap();
        assert_eq!(change.position, 3);
        assert_eq!(change.removed, [Stroke::UpperLeft, Stroke::LowerLeft]);
        assert!(change.added.is_empty());
        assert!(one_digit(1898, 1903, DigitStyle::Modern).is_none());
    }

    #[test]
    fn going_back_adds_what_was_removed() {
        for from in 0..10u8 {
            for to in 0..10u8 {
                let (there, back) =
                    (Reshaping::new(3, from, to, DigitStyle::Modern), Reshaping::new(3, to, from, DigitStyle::Modern));
                assert_eq!(there.removed, back.added);
                assert_eq!(there.added, back.removed);
            }
        }
    }
}
