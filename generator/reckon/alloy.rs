//! Density of an alloy from its parts.

/// A metal met in coins and forgeries.
pub struct Element {
    pub symbol: &'static str,
    pub name: &'static str,
    /// g/cm³ at 20 °C.
    pub density: f64,
    /// How far other published densities lie off, g/cm³.
    pub spread: f64,
}

const fn element(symbol: &'static str, name: &'static str, density: f64, spread: f64) -> Element {
    Element { symbol, name, density, spread }
}

/// Densities as printed in the element table of the periodictable library 2.1.0 (after Lide, CRC Handbook of Chemistry
/// and Physics, 80th edition, 1999), but silver 10.49, the figure most metal tables print. The spread is how far other
/// published tables differ.
pub const ELEMENTS: &[Element] = &[
    element("Ag", "silver", 10.49, 0.01),
    element("Al", "aluminium", 2.6989, 0.002),
    element("Au", "gold", 19.3, 0.02),
    element("Bi", "bismuth", 9.747, 0.043),
    element("Cd", "cadmium", 8.65, 0.04),
    element("Co", "cobalt", 8.9, 0.04),
    element("Cr", "chromium", 7.19, 0.04),
    element("Cu", "copper", 8.96, 0.02),
    element("Fe", "iron", 7.874, 0.005),
    element("Mn", "manganese", 7.33, 0.14),
    element("Mo", "molybdenum", 10.22, 0.06),
    element("Ni", "nickel", 8.902, 0.006),
    element("Pb", "lead", 11.35, 0.05),
    element("Pd", "palladium", 12.02, 0.02),
    element("Pt", "platinum", 21.45, 0.05),
    element("Sb", "antimony", 6.691, 0.011),
    element("Sn", "tin", 7.31, 0.023),
    element("W", "tungsten", 19.3, 0.05),
    element("Zn", "zinc", 7.133, 0.002),
];

/// Density and how far it may lie off, in g/cm³.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Density {
    pub value: f64,
    pub give: f64,
}

/// Silver-copper and copper-nickel alloys as published depart from the additive rule by less than this share (0.3 per cent:
/// the tables compared in `tests/facts/metals.toml`).
const RULE_SHARE: f64 = 0.003;
/// Brass, nickel silver and other mixtures depart by up to this share (the same tables).
const LOOSE_SHARE: f64 = 0.04;

/// Additive-volume density of an alloy in parts per thousand: `1/ρ = Σ wᵢ/ρᵢ`. `None` for an empty alloy or an unknown metal.
pub fn density(alloy: &[(String, f64)]) -> Option<Density> {
    let total: f64 = alloy.iter().map(|(_, parts)| parts).sum();
    if total <= 0.0 {
        return None;
    }
    let (mut volume, mut spread) = (0.0, 0.0);
    for (symbol, parts) in alloy {
        let element = ELEMENTS.iter().find(|element| element.symbol == symbol)?;
        let share = parts / total;
        volume += share / element.density;
        spread += share * element.spread / (element.density * element.density);
    }
    let value = 1.0 / volume;
    let well_behaved = alloy.iter().all(|(symbol, _)| ["Ag", "Cu", "Ni"].contains(&symbol.as_str()));
    let rule_share = if well_behaved { RULE_SHARE } else { LOOSE_SHARE };
    Some(Density { value, give: value * rule_share + value * value * spread })
}

/// `silver 900, copper 100`.
pub fn in_words(alloy: &[(String, f64)]) -> String {
    let mut parts: Vec<(String, f64)> = alloy.to_vec();
    parts.sort_by(|a, b| b.1.total_cmp(&a.1).then_with(|| a.0.cmp(&b.0)));
    let named: Vec<String> = parts
        .iter()
        .map(|(symbol, share)| {
            let name = ELEMENTS.iter().find(|e| e.symbol == symbol).map_or(symbol.as_str(), |e| e.name);
            format!("{name} {}", super::units::tidy(*share))
        })
        .collect();
    named.join(", ")
}
