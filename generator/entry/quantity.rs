//! Weights as laws state them, and the quantities an examiner measures.

use super::fields::Fields;

/// A unit of weight met in coinage laws.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WeightUnit {
    Gram,
    Kilogram,
    Grain,
    Pennyweight,
    TroyOunce,
    TroyPound,
    Zolotnik,
    Dolya,
}

pub const WEIGHT_UNITS: &[(&str, WeightUnit)] = &[
    ("gram", WeightUnit::Gram),
    ("kilogram", WeightUnit::Kilogram),
    ("grain", WeightUnit::Grain),
    ("pennyweight", WeightUnit::Pennyweight),
    ("troy-ounce", WeightUnit::TroyOunce),
    ("troy-pound", WeightUnit::TroyPound),
    ("zolotnik", WeightUnit::Zolotnik),
    ("dolya", WeightUnit::Dolya),
];

/// A weight in the unit of the law. Grams come from [`crate::reckon::units`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Weight {
    /// So many units.
    Of { value: f64, unit: WeightUnit },
    /// So many pieces to so many units.
    Pieces { pieces: f64, to: f64, unit: WeightUnit },
}

/// What the law permits one piece to depart by.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Deviation {
    By { value: f64, unit: WeightUnit },
    PerMille(f64),
}

impl Weight {
    pub(super) fn read(fields: &mut Fields<'_, '_>, key: &'static str) -> Option<Weight> {
        let mut weight = fields.table(key, "this weight")?;
        let unit = weight.word("unit", WEIGHT_UNITS);
        if !weight.has("unit") {
            weight.missing("unit", "\"gram\"");
        }
        let (value, pieces, to) = (weight.positive("value"), weight.positive("pieces"), weight.positive("to"));
        let read = match (value, pieces, to, unit) {
            (Some(value), None, None, Some(unit)) => Some(Weight::Of { value, unit }),
            (None, Some(pieces), Some(to), Some(unit)) => Some(Weight::Pieces { pieces, to, unit }),
            (_, _, _, None) => None,
            _ => {
                let hint = "write { value = 2.5, unit = \"gram\" } or { pieces = 66, to = 1, unit = \"troy-pound\" }";
                fields.wrong(key, "this weight is neither a value nor so many pieces to a unit", hint);
                None
            }
        };
        weight.finish();
        read
    }
}

impl Deviation {
    pub(super) fn read(fields: &mut Fields<'_, '_>, key: &'static str) -> Option<Deviation> {
        let mut deviation = fields.table(key, "this deviation")?;
        let (value, unit) = (deviation.positive("value"), deviation.word("unit", WEIGHT_UNITS));
        let per_mille = deviation.positive("per_mille");
        let read = match (value, unit, per_mille) {
            (Some(value), Some(unit), None) => Some(Deviation::By { value, unit }),
            (None, None, Some(per_mille)) => Some(Deviation::PerMille(per_mille)),
            _ => {
                let hint = "write { value = 1.5, unit = \"grain\" } or { per_mille = 3 }";
                fields.wrong(key, "this deviation is neither a weight nor so many per mille", hint);
                None
            }
        };
        deviation.finish();
        read
    }
}

/// What can be measured on a piece without harming it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Quantity {
    Weight,
    Diameter,
    Thickness,
    Density,
    Tilt,
    Offset,
    DieAxis,
}

pub const QUANTITIES: &[(&str, Quantity)] = &[
    ("weight", Quantity::Weight),
    ("diameter", Quantity::Diameter),
    ("thickness", Quantity::Thickness),
    ("density", Quantity::Density),
    ("tilt", Quantity::Tilt),
    ("offset", Quantity::Offset),
    ("die-axis", Quantity::DieAxis),
];

/// What a tilt or an offset is measured against: the same mark leans by other degrees against another line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Against {
    /// The line that the letters beside it stand on.
    BaseLine,
    /// The line from its own middle to the centre of the coin.
    Centre,
    /// A point's distance from a line.
    Line,
    /// The distance of two points.
    Points,
}

/// What a tilt can be against, which is also what a figure of it can draw.
pub const TILT_AGAINST: &[(&str, Against)] = &[("base-line", Against::BaseLine), ("centre", Against::Centre)];
pub const OFFSET_AGAINST: &[(&str, Against)] = &[("line", Against::Line), ("points", Against::Points)];

impl Against {
    /// For a quantity that means nothing without it. `None` for another, and where it is missing or wrong, which is
    /// reported.
    pub(super) fn read(fields: &mut Fields<'_, '_>, quantity: Option<Quantity>) -> Option<Against> {
        let key = "against";
        let all: Vec<(&'static str, Against)> = TILT_AGAINST.iter().chain(OFFSET_AGAINST).copied().collect();
        let read = fields.word(key, &all);
        let words = quantity.map_or(&[][..], Quantity::against);
        let choice = || {
            let each = words.iter().map(|(word, against)| format!("\"{word}\" ({})", against.words()));
            each.collect::<Vec<_>>().join(", or ")
        };
        match (quantity, read) {
            (Some(_), None) if !words.is_empty() && !fields.has(key) => fields.missing(key, &choice()),
            (Some(quantity), Some(_)) if words.is_empty() => {
                let message = format!("a measured {} has no `against`", quantity.word().replace('-', " "));
                fields.wrong(key, message, "leave it out: only a tilt and an offset are against something");
            }
            (Some(quantity), Some(against)) if !words.iter().any(|(_, fit)| *fit == against) => {
                let message = format!("no {} is measured {}", quantity.word(), against.words());
                fields.wrong(key, message, format!("write against = {}", choice()));
            }
            (None, Some(_)) if !fields.has("measure") => {
                fields.wrong(
                    key,
                    "a look is measured against nothing",
                    "leave `against` out, or say what to `measure`",
                );
            }
            (_, read) => return read,
        }
        None
    }

    pub fn word(self) -> &'static str {
        let all = TILT_AGAINST.iter().chain(OFFSET_AGAINST);
        all.into_iter().find(|(_, against)| *against == self).map_or("", |(word, _)| word)
    }

    /// As pages say it.
    pub fn words(self) -> &'static str {
        match self {
            Against::BaseLine => "against the base line of the letters",
            Against::Centre => "against the line to the centre",
            Against::Line => "of a point from a line",
            Against::Points => "between two points",
        }
    }
}

impl Quantity {
    /// The words for what it can be against; none where it is against nothing.
    pub fn against(self) -> &'static [(&'static str, Against)] {
        match self {
            Quantity::Tilt => TILT_AGAINST,
            Quantity::Offset => OFFSET_AGAINST,
            _ => &[],
        }
    }

    pub fn word(self) -> &'static str {
        QUANTITIES.iter().find(|(_, quantity)| *quantity == self).map_or("", |(word, _)| word)
    }

    /// As prose says it, and as entries write it for a cause.
    pub fn plain(self) -> &'static str {
        if self == Quantity::DieAxis { "die axis" } else { self.word() }
    }

    /// The unit its numbers are in.
    pub fn unit(self) -> &'static str {
        match self {
            Quantity::Weight => "g",
            Quantity::Diameter | Quantity::Thickness | Quantity::Offset => "mm",
            Quantity::Density => "g/cm³",
            Quantity::Tilt | Quantity::DieAxis => "°",
        }
    }
}
