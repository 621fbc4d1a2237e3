//! Metals that a density is compared with: those of the standards on file, pure metals, and mixtures met in false pieces.

use super::alloy::{self, ELEMENTS};

/// A metal or mixture and its density.
#[derive(Clone, Debug, PartialEq)]
pub struct Mixture {
    /// `silver 900, copper 100`.
    pub words: String,
    /// Where it is met.
    pub note: String,
    /// Parts per thousand by chemical symbol.
    pub parts: Vec<(String, f64)>,
    /// g/cm³ at 20 °C.
    pub density: f64,
    /// How far it may lie off, g/cm³.
    pub give: f64,
    /// Where the number comes from.
    pub basis: String,
}

/// Mixtures with a printed density, in g/cm³; how far other prints and works lie off is estimated at half a per cent, and at
/// two per cent where the print is doubtful.
struct Printed {
    note: &'static str,
    parts: &'static [(&'static str, f64)],
    density: f64,
    give: f64,
    source: &'static str,
}

const COPPER_GUIDE: &str = "printed: copper alloy guide of a mill (Olin), pounds per cubic inch at 68 °F";
const SOLDER_TABLE: &str = "printed: table of solder alloys, alasir.com";
const SOLDER_SHEET: &str = "printed: properties of solder alloys, Multicore data sheet, 2007";

#[rustfmt::skip]
const PRINTED: &[Printed] = &[
    Printed { note: "nickel silver", parts: &[("Cu", 550.0), ("Ni", 180.0), ("Zn", 270.0)], density: 8.70, give: 0.04, source: "printed: Olin C77000 data sheet" },
    Printed { note: "brass", parts: &[("Cu", 700.0), ("Zn", 300.0)], density: 8.53, give: 0.04, source: COPPER_GUIDE },
    Printed { note: "brass", parts: &[("Cu", 660.0), ("Zn", 340.0)], density: 8.47, give: 0.04, source: COPPER_GUIDE },
    Printed { note: "red brass", parts: &[("Cu", 850.0), ("Zn", 150.0)], density: 8.75, give: 0.04, source: COPPER_GUIDE },
    Printed { note: "cupronickel, 30 per cent", parts: &[("Cu", 695.0), ("Ni", 300.0), ("Fe", 5.0)], density: 8.94, give: 0.04, source: "printed: Hussey C71500 data sheet" },
    Printed { note: "tin-lead, solder", parts: &[("Sn", 630.0), ("Pb", 370.0)], density: 8.40, give: 0.04, source: SOLDER_TABLE },
    Printed { note: "tin-lead", parts: &[("Sn", 500.0), ("Pb", 500.0)], density: 8.87, give: 0.04, source: SOLDER_TABLE },
    Printed { note: "lead-tin", parts: &[("Pb", 600.0), ("Sn", 400.0)], density: 9.28, give: 0.05, source: SOLDER_TABLE },
    Printed { note: "lead-tin", parts: &[("Pb", 700.0), ("Sn", 300.0)], density: 9.70, give: 0.05, source: SOLDER_SHEET },
    Printed { note: "lead-tin, print doubtful", parts: &[("Pb", 800.0), ("Sn", 200.0)], density: 10.00, give: 0.22, source: SOLDER_SHEET },
    Printed { note: "lead-tin, print doubtful", parts: &[("Pb", 850.0), ("Sn", 150.0)], density: 10.20, give: 0.28, source: SOLDER_SHEET },
    Printed { note: "tin-antimony, white metal", parts: &[("Sn", 950.0), ("Sb", 50.0)], density: 7.20, give: 0.08, source: SOLDER_SHEET },
    Printed { note: "pewter", parts: &[("Sn", 915.0), ("Sb", 62.0), ("Cu", 23.0)], density: 7.30, give: 0.04, source: "printed: makeitfrom.com, pewter type 2" },
];

/// Every metal to compare with, lightest first: `standards` are the alloys of the series on file.
pub fn all<'a>(standards: impl Iterator<Item = &'a [(String, f64)]>) -> Vec<Mixture> {
    let mut out: Vec<Mixture> = Vec::new();
    for parts in standards {
        let words = alloy::in_words(parts);
        let known = out.iter().any(|mixture| mixture.words == words);
        let Some(density) = alloy::density(parts).filter(|_| !known && !parts.is_empty()) else { continue };
        out.push(Mixture {
            words,
            note: "coin metal on file".into(),
            parts: parts.to_vec(),
            density: density.value,
            give: density.give,
            basis: "worked out from the parts: volumes add".into(),
        });
    }
    for printed in PRINTED {
        let parts: Vec<(String, f64)> =
            printed.parts.iter().map(|(symbol, share)| (symbol.to_string(), *share)).collect();
        let (words, note) = (alloy::in_words(&parts), printed.note.to_string());
        out.push(Mixture {
            words,
            note,
            parts,
            density: printed.density,
            give: printed.give,
            basis: printed.source.into(),
        });
    }
    for element in ELEMENTS {
        out.push(Mixture {
            words: element.name.into(),
            note: "pure metal".into(),
            parts: vec![(element.symbol.into(), 1000.0)],
            density: element.density,
            give: element.spread,
            basis: "printed tables of the elements".into(),
        });
    }
    out.sort_by(|a, b| a.density.total_cmp(&b.density).then_with(|| a.words.cmp(&b.words)));
    // A standard of one metal alone and the element are one.
    out.dedup_by(|later, earlier| later.parts == earlier.parts);
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_mixture_comes_to_a_thousand_and_the_lightest_is_first() {
        let silver = [("Ag".to_string(), 900.0), ("Cu".to_string(), 100.0)];
        let all = all([&silver[..], &silver[..]].into_iter());
        assert_eq!(all.iter().filter(|mixture| mixture.words == "silver 900, copper 100").count(), 1);
        assert!(all.windows(2).all(|pair| pair[0].density <= pair[1].density));
        for mixture in &all {
            let sum: f64 = mixture.parts.iter().map(|(_, share)| share).sum();
            assert!((sum - 1000.0).abs() < 1e-9, "{} comes to {sum}", mixture.words);
        }
    }
}
