//! What a genuine piece should measure, from the standard of its series.

use super::{alloy, units};
use crate::entry::{Axis, Quantity, Range, Standard};

/// Calipers and a worn rim: a diameter within this many millimetres of the standard says nothing against a piece
/// (common practice, no source).
const DIAMETER_GIVE: f64 = 0.2;
/// mm, likewise (common practice, no source).
const THICKNESS_GIVE: f64 = 0.15;
/// Degrees by which genuine dies are commonly found turned (common practice, no source).
const AXIS_GIVE: f64 = 15.0;
/// Share of weight that honest wear commonly takes before the design is badly worn (common practice, no source).
pub const WEAR_SHARE: f64 = 0.02;
/// Share of weight that a piece worn nearly smooth may have lost (common practice, no source).
const SMOOTH_SHARE: f64 = 0.08;
/// Share of weight by which a piece may depart where the law read states no deviation (common practice, no source).
const UNSTATED_DEVIATION: f64 = 0.01;

/// Grams: the standard, the permitted deviation, and whether the law states that deviation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WeightStandard {
    pub grams: f64,
    pub deviation: f64,
    pub stated: bool,
}

impl WeightStandard {
    /// Where honest wear commonly ends, in grams.
    pub fn worn(&self) -> f64 {
        self.grams * (1.0 - WEAR_SHARE) - self.deviation
    }
}

/// The weight down to which a piece worn nearly smooth may come, in grams, if `range` is that of genuine pieces.
pub fn smooth(standard: &Standard, range: Range) -> Option<f64> {
    let weight = weight(standard)?;
    (genuine_range(standard, Quantity::Weight)? == range)
        .then_some(weight.grams * (1.0 - SMOOTH_SHARE) - weight.deviation)
}

/// The weight of one piece, if the standard gives one.
pub fn weight(standard: &Standard) -> Option<WeightStandard> {
    let grams = units::grams(standard.weight?);
    let stated = standard.deviation.map(|deviation| units::deviation_grams(deviation, grams));
    Some(WeightStandard { grams, deviation: stated.unwrap_or(grams * UNSTATED_DEVIATION), stated: stated.is_some() })
}

/// The range of a genuine piece in the unit of the quantity: wear included in weight. `None` where the standard is silent.
pub fn genuine_range(standard: &Standard, quantity: Quantity) -> Option<Range> {
    let around = |middle: f64, give: f64| Range::Between { low: middle - give, high: middle + give };
    match quantity {
        Quantity::Weight => {
            let weight = weight(standard)?;
            Some(Range::Between { low: weight.worn(), high: weight.grams + weight.deviation })
        }
        Quantity::Diameter => Some(around(standard.diameter?, DIAMETER_GIVE)),
        Quantity::Thickness => Some(around(standard.thickness?, THICKNESS_GIVE)),
        Quantity::Density => {
            let density = alloy::density(&standard.alloy)?;
            Some(around(density.value, density.give))
        }
        Quantity::DieAxis => Some(match standard.axis? {
            Axis::Coin => around(180.0, AXIS_GIVE),
            Axis::Medal => around(0.0, AXIS_GIVE),
        }),
        Quantity::Tilt | Quantity::Offset => None,
    }
}

/// The two ends of a range; a mean is taken to two standard deviations.
pub fn ends(range: Range) -> (f64, f64) {
    match range {
        Range::Between { low, high } => (low, high),
        Range::Around { mean, sd } => (mean - 2.0 * sd, mean + 2.0 * sd),
    }
}
