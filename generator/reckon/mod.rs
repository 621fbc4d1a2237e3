//! Numbers the corpus implies: grams from the unit of the law, densities from alloys, which hypotheses a check tells
//! apart, which coins could have been made into which. Pure: the same entries give the same numbers.

pub mod alloy;
pub mod coverage;
pub mod hosts;
pub mod likelihood;
pub mod mixtures;
pub mod separation;
pub mod standard;
pub mod strokes;
pub mod units;
