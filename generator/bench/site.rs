//! What is true of the whole site: which state of the knowledge it is, its countries, the metals a density is compared with.

use std::collections::BTreeMap;

use serde::Serialize;

use super::{Sums, hex};
use crate::corpus::{Corpus, title};
use crate::entry::Entry;
use crate::reckon::mixtures;

#[derive(Serialize)]
pub struct Site {
    revision: String,
    program: &'static str,
    countries: Vec<Named>,
    alloys: Vec<Alloy>,
}

#[derive(Serialize)]
struct Named {
    key: String,
    title: String,
}

#[derive(Serialize)]
struct Alloy {
    words: String,
    note: String,
    parts: BTreeMap<String, f64>,
    density: f64,
    give: f64,
    basis: String,
}

pub fn site(corpus: &Corpus, countries: &[&Entry], sums: &Sums) -> Site {
    let all: String = sums.iter().map(|(id, sum)| format!("{sum}  {id}\n")).collect();
    let standards = corpus.all_series().flat_map(|(_, series)| &series.standards).map(|one| one.alloy.as_slice());
    let thousandth = |number: f64| (number * 1000.0).round() / 1000.0;
    Site {
        revision: hex(all.as_bytes())[..16].to_string(),
        program: env!("CARGO_PKG_VERSION"),
        countries: countries
            .iter()
            .map(|entry| Named { key: entry.id.stem().to_string(), title: title(corpus, entry) })
            .collect(),
        alloys: mixtures::all(standards)
            .into_iter()
            .map(|mixture| Alloy {
                words: mixture.words,
                note: mixture.note,
                parts: mixture.parts.into_iter().collect(),
                density: thousandth(mixture.density),
                give: thousandth(mixture.give),
                basis: mixture.basis,
            })
            .collect(),
    }
}
