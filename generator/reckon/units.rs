//! Grams from the unit of the law. All but the Russian units follow exactly from the grain.

use crate::entry::{Deviation, Weight, WeightUnit};

/// Grams in one grain, exactly: 1/7000 of the avoirdupois pound of 453.59237 g (international agreement of 1 July 1959).
pub const GRAIN: f64 = 0.064_798_91;
/// Grams in one zolotnik: 1/96 of the Russian pound of 409.51241 g (regulation of weights and measures of 1899; from memory).
const ZOLOTNIK: f64 = 409.512_41 / 96.0;

/// Grams in one unit. Troy pound = 12 ounces = 240 pennyweights = 5760 grains (NIST Handbook 44, appendix C).
pub fn grams_in(unit: WeightUnit) -> f64 {
    match unit {
        WeightUnit::Gram => 1.0,
        WeightUnit::Kilogram => 1000.0,
        WeightUnit::Grain => GRAIN,
        WeightUnit::Pennyweight => 24.0 * GRAIN,
        WeightUnit::TroyOunce => 480.0 * GRAIN,
        WeightUnit::TroyPound => 5760.0 * GRAIN,
        WeightUnit::Zolotnik => ZOLOTNIK,
        WeightUnit::Dolya => ZOLOTNIK / 96.0,
    }
}

/// Grams of one piece.
pub fn grams(weight: Weight) -> f64 {
    match weight {
        Weight::Of { value, unit } => value * grams_in(unit),
        Weight::Pieces { pieces, to, unit } => to * grams_in(unit) / pieces,
    }
}

/// Grams by which one piece of `weight` grams may depart.
pub fn deviation_grams(deviation: Deviation, weight: f64) -> f64 {
    match deviation {
        Deviation::By { value, unit } => value * grams_in(unit),
        Deviation::PerMille(per_mille) => weight * per_mille / 1000.0,
    }
}

/// The weight as the law puts it: `412.5 grains`, `66 to the troy pound`.
pub fn in_words(weight: Weight) -> String {
    match weight {
        Weight::Of { value, unit } => format!("{} {}", tidy(value), name(unit, value)),
        Weight::Pieces { pieces, to: 1.0, unit } => format!("{} to the {}", tidy(pieces), name(unit, 1.0)),
        Weight::Pieces { pieces, to, unit } => format!("{} to {} {}", tidy(pieces), tidy(to), name(unit, to)),
    }
}

/// The deviation as the law puts it.
pub fn deviation_in_words(deviation: Deviation) -> String {
    match deviation {
        Deviation::By { value, unit } => format!("{} {}", tidy(value), name(unit, value)),
        Deviation::PerMille(per_mille) => format!("{} per mille", tidy(per_mille)),
    }
}

fn name(unit: WeightUnit, count: f64) -> String {
    let word = match unit {
        WeightUnit::Gram => "gram",
        WeightUnit::Kilogram => "kilogram",
        WeightUnit::Grain => "grain",
        WeightUnit::Pennyweight => "pennyweight",
        WeightUnit::TroyOunce => "troy ounce",
        WeightUnit::TroyPound => "troy pound",
        WeightUnit::Zolotnik => "zolotnik",
        WeightUnit::Dolya => "dolya",
    };
    if count == 1.0 { word.into() } else { format!("{word}s") }
}

/// A number without trailing zeros, to six decimals at most.
pub fn tidy(number: f64) -> String {
    let text = format!("{number:.6}");
    text.trim_end_matches('0').trim_end_matches('.').to_string()
}
