//! The entries and the arithmetic held to what stands outside: laws, published lists, tables of metals, exact units.
//! The figures are in `tests/facts/`, each with its source. Differences that stand are listed here with their reason; one
//! that no longer stands fails the test too.

mod fixture;

use std::collections::BTreeSet;
use std::fs;
use std::sync::OnceLock;

use fixture::reference;
use serde_json::{Map, Value};
use tellmark::corpus::Corpus;
use tellmark::entry::{BasisKind, Deviation, Row, Series, Standard, Weight, WeightUnit};
use tellmark::reckon::{alloy, standard, units};

fn corpus() -> &'static Corpus {
    static CORPUS: OnceLock<Corpus> = OnceLock::new();
    CORPUS.get_or_init(|| reference().0)
}

type Table = Map<String, Value>;

fn facts(file: &str, table: &str) -> Vec<Table> {
    let text = fs::read_to_string(format!("tests/facts/{file}.toml")).expect("the facts can be read");
    let whole: Value = toml::from_str(&text).expect("the facts are TOML");
    whole[table].as_array().unwrap().iter().map(|row| row.as_object().unwrap().clone()).collect()
}

fn text<'t>(table: &'t Table, key: &str) -> &'t str {
    table[key].as_str().unwrap()
}

fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

fn parts(table: &Table, key: &str) -> Vec<(String, f64)> {
    let listed = table.get(key).and_then(Value::as_object);
    listed.into_iter().flatten().map(|(symbol, share)| (symbol.clone(), number(share))).collect()
}

/// What differs is exactly what is known to differ.
fn assert_known(found: BTreeSet<String>, known: &[(&str, &str)]) {
    let known: BTreeSet<String> = known.iter().map(|(difference, _)| difference.to_string()).collect();
    let new: Vec<_> = found.difference(&known).collect();
    let gone: Vec<_> = known.difference(&found).collect();
    assert!(new.is_empty() && gone.is_empty(), "new: {new:#?}\nno longer so: {gone:#?}");
}

// Units

fn unit(name: &str) -> WeightUnit {
    match name {
        "grain" => WeightUnit::Grain,
        "pennyweight" => WeightUnit::Pennyweight,
        "troy ounce" => WeightUnit::TroyOunce,
        "troy pound" => WeightUnit::TroyPound,
        other => panic!("{other}"),
    }
}

#[test]
fn units_follow_exactly_from_the_pound_of_1959() {
    let all = facts("units", "unit");
    assert_eq!(all.len(), 4);
    for one in all {
        let exact: f64 = text(&one, "grams").parse().unwrap();
        let ours = units::grams_in(unit(text(&one, "name")));
        assert!((ours - exact).abs() <= 1e-15 * exact.max(1.0) * 4.0, "{}: {ours} {exact}", text(&one, "name"));
    }
    assert_eq!(units::GRAIN, 0.06479891);
}

#[test]
fn worked_conversions_agree() {
    for one in facts("units", "vector") {
        let ours = units::grams(Weight::Of { value: number(&one["value"]), unit: unit(text(&one, "unit")) });
        assert!((ours - number(&one["grams"])).abs() < 1e-11, "{one:?}: {ours}");
    }
}

#[test]
fn a_number_of_pieces_to_a_pound_and_a_weight_of_one_piece_agree() {
    // 66 shillings to the troy pound (Act of 56 George III, c. 68) are 87 3/11 grains each.
    let by_pound = units::grams(Weight::Pieces { pieces: 66.0, to: 1.0, unit: WeightUnit::TroyPound });
    let by_grain = units::grams(Weight::Of { value: 960.0 / 11.0, unit: WeightUnit::Grain });
    assert!((by_pound - by_grain).abs() < 1e-12);
    assert!((units::deviation_grams(Deviation::PerMille(3.0), 25.0) - 0.075).abs() < 1e-12);
}

// Metals

#[test]
fn densities_of_metals_are_the_printed_ones_and_their_spread_holds_the_others() {
    let printed = facts("metals", "element");
    assert_eq!(printed.len(), alloy::ELEMENTS.len());
    for one in printed {
        let symbol = text(&one, "symbol");
        let ours = alloy::ELEMENTS.iter().find(|element| element.symbol == symbol).expect(symbol);
        assert_eq!(ours.density, number(&one["used"]), "{symbol}");
        for other in one["printed"].as_array().unwrap() {
            let off = (number(other) - ours.density).abs();
            assert!(off <= ours.spread + 1e-9, "{symbol}: {other} is {off} off, more than {}", ours.spread);
        }
    }
}

#[test]
fn densities_of_mixtures_add_by_volume() {
    for one in facts("metals", "mixture") {
        let ours = alloy::density(&parts(&one, "parts")).expect("known metals").value;
        assert!((ours - number(&one["density"])).abs() < 1e-4, "{}: {ours}", text(&one, "name"));
    }
}

#[test]
fn silver_copper_and_copper_nickel_as_published_lie_within_what_is_allowed() {
    let mut held = 0;
    for one in facts("metals", "published") {
        let list = parts(&one, "parts");
        let ours = alloy::density(&list).expect("known metals");
        let departure = 100.0 * (number(&one["density"]) / ours.value - 1.0);
        assert!((departure - number(&one["departure"])).abs() < 0.011, "{}: {departure}", text(&one, "name"));
        let coinage = |symbols: &[&str]| list.iter().all(|(symbol, _)| symbols.contains(&symbol.as_str()));
        if list.len() > 1 && (coinage(&["Ag", "Cu"]) || coinage(&["Cu", "Ni", "Fe"])) {
            // Printed to two figures after the point.
            let off = (number(&one["density"]) - ours.value).abs() - 0.005;
            assert!(off <= ours.give, "{}: {off} over {}", text(&one, "name"), ours.give);
            held += 1;
        }
    }
    assert!(held >= 14, "{held}");
}

// Laws

/// A standard as the facts and the entries can be compared.
fn differs(law: &Table, one: &Standard) -> Option<String> {
    let grams = units::grams(one.weight?);
    if (grams - number(&law["grams"])).abs() > 1e-4 {
        return Some(format!("{grams:.4} g for {} g", law["grams"]));
    }
    let metal = parts(law, "metal");
    let share = |list: &[(String, f64)], symbol: &str| {
        list.iter().find(|(name, _)| name == symbol).map_or(0.0, |(_, parts)| *parts)
    };
    for (symbol, parts) in &metal {
        if (share(&one.alloy, symbol) - parts).abs() > 0.01 {
            return Some(format!("{symbol} {} for {parts}", share(&one.alloy, symbol)));
        }
    }
    if let Some(silver) = law.get("silver").map(number)
        && (share(&one.alloy, "Ag") - silver).abs() > 0.01
    {
        return Some(format!("silver {} for {silver}", share(&one.alloy, "Ag")));
    }
    let stated = standard::weight(one).filter(|weight| weight.stated).map(|weight| weight.deviation);
    match (law.get("deviation").map(number), stated) {
        (Some(law), Some(ours)) if (law - ours).abs() > 1e-4 => Some(format!("deviation {ours:.4} for {law}")),
        (Some(law), None) => Some(format!("no deviation for {law}")),
        _ => None,
    }
}

fn laws_of(series: &Series, laws: &[Table]) -> Vec<Table> {
    let country = series.country.text.rsplit('/').next().unwrap_or("");
    let fits = |law: &&Table| text(law, "country") == country && text(law, "denomination") == series.denomination;
    laws.iter().filter(fits).cloned().collect()
}

fn years(law: &Table) -> (i32, i32) {
    let years = law["years"].as_array().unwrap();
    (years[0].as_i64().unwrap() as i32, years[1].as_i64().unwrap() as i32)
}

fn struck_between(series: &Series, from: i32, to: i32) -> Vec<i32> {
    let mut years: Vec<i32> = series.rows().iter().map(|(row, _)| row.label.year).collect();
    years.dedup();
    years.into_iter().filter(|year| (from..=to).contains(year)).collect()
}

#[test]
fn every_law_on_a_covered_series_is_in_it() {
    let laws = facts("laws", "law");
    let (mut found, mut compared) = (BTreeSet::new(), BTreeSet::new());
    for (entry, series) in corpus().all_series() {
        for law in laws_of(series, &laws) {
            let (from, to) = years(&law);
            let struck = struck_between(series, from, to);
            let Some((first, last)) = struck.first().zip(struck.last()) else { continue };
            compared.insert(format!("{law:?}"));
            let overlap = |one: &&Standard| one.from <= *last && *first <= one.to;
            let reasons: Vec<_> = series.standards.iter().filter(overlap).map(|one| differs(&law, one)).collect();
            if reasons.iter().any(Option::is_none) {
                continue;
            }
            let also = series.standards.iter().flat_map(|one| &one.also).filter_map(|also| also.weight);
            if also.into_iter().any(|weight| (units::grams(weight) - number(&law["grams"])).abs() < 1e-4) {
                continue;
            }
            let reason = reasons.into_iter().flatten().next().unwrap_or("no standard".into());
            found.insert(format!("{} {from}: {reason}", entry.id.below_kind()));
        }
    }
    assert!(compared.len() > 80, "{}", compared.len());
    assert_known(found, LAWS_THAT_DIFFER);
}

const LAWS_THAT_DIFFER: &[(&str, &str)] = &[
    (
        "cn/dollar-junk-1932-1934 1914: 26.7000 g for 26.6422 g",
        "the law of 1914 ended in 1932, when the new design was first struck to about 26.7 g",
    ),
    (
        "sp/8-reales-pillar-1732-1772 1772: silver 916.67 for 902.78",
        "the law is on the coins before or after a change of design in its last or first year",
    ),
    (
        "sp/8-reales-portrait-1772-1825 1728: silver 902.78 for 916.67",
        "the law is on the coins before or after a change of design in its last or first year",
    ),
    (
        "us/five-cents-jefferson-copper-nickel-1938-1964 1942: 4.9999 g for 5.0 g",
        "the law is on the other metal of the same denomination",
    ),
    (
        "us/five-cents-jefferson-wartime-silver-1942-1945 1873: 5.0000 g for 4.99988 g",
        "the law is on the other metal of the same denomination",
    ),
    (
        "us/three-cents-nickel-1865-1889 1854: 1.9440 g for 0.74648 g",
        "the law is on the other metal of the same denomination",
    ),
    (
        "us/three-cents-silver-1851-1873 1865: 0.7465 g for 1.94397 g",
        "the law is on the other metal of the same denomination",
    ),
    (
        "us/three-cents-silver-1851-1873 1873: 0.7465 g for 1.94397 g",
        "the law is on the other metal of the same denomination",
    ),
];

#[test]
fn every_standard_of_a_series_is_that_of_a_law() {
    let laws = facts("laws", "law");
    let mut found = BTreeSet::new();
    for (entry, series) in corpus().all_series() {
        let laws = laws_of(series, &laws);
        if laws.is_empty() {
            continue;
        }
        for one in &series.standards {
            let struck = struck_between(series, one.from, one.to);
            let Some((first, last)) = struck.first().zip(struck.last()) else { continue };
            let same = laws.iter().any(|law| {
                let (from, to) = years(law);
                from <= *last && *first <= to && differs(law, one).is_none()
            });
            if !same {
                found.insert(format!("{} {} to {}", entry.id.below_kind(), one.from, one.to));
            }
        }
    }
    assert_known(found, STANDARDS_OF_NO_LAW);
}

const STANDARDS_OF_NO_LAW: &[(&str, &str)] = &[
    ("be/5-francs-leopold-i-bare-head-1849-1865 1849 to 1865", "older than the laws collected"),
    ("be/5-francs-leopold-i-laureate-1832-1849 1832 to 1849", "older than the laws collected"),
    ("be/5-francs-leopold-ii-1865-1876 1865 to 1865", "older than the laws collected"),
    ("cn/dollar-dragon-1908-1911 1908 to 1909", "struck before the law that fixed the unit"),
    ("cn/dollar-junk-1932-1934 1932 to 1932", "struck the year before its law"),
    ("cn/dollar-mementos-1912-1927 1912 to 1913", "struck before the law that fixed the unit"),
    ("fr/5-francs-ceres-1849-1851 1849 to 1851", "older than the laws collected"),
    ("fr/5-francs-hercules-an4-an11 1795 to 1802", "older than the laws collected"),
    ("fr/5-francs-napoleon-1803-1815 1803 to 1815", "older than the laws collected"),
    ("fr/5-francs-napoleon-iii-1852-1870 1852 to 1865", "older than the laws collected"),
    ("gb/crown-george-iii-1818-1820 1818 to 1820", "older than the laws collected"),
    ("gb/crown-george-iv-1821-1822 1821 to 1822", "older than the laws collected"),
    ("gb/crown-victoria-gothic-1847-1853 1847 to 1853", "older than the laws collected"),
    ("gb/crown-victoria-young-head-1839-1847 1839 to 1847", "older than the laws collected"),
    ("gb/florin-victoria-godless-1849 1849 to 1849", "older than the laws collected"),
    ("gb/florin-victoria-gothic-1851-1887 1851 to 1869", "older than the laws collected"),
    ("gb/halfcrown-george-iii-bull-head-1816-1817 1816 to 1817", "older than the laws collected"),
    ("gb/halfcrown-george-iii-small-head-1817-1820 1817 to 1820", "older than the laws collected"),
    ("gb/halfcrown-george-iv-bare-head-1824-1829 1824 to 1829", "older than the laws collected"),
    ("gb/halfcrown-george-iv-laureate-1820-1824 1820 to 1824", "older than the laws collected"),
    ("gb/halfcrown-victoria-young-head-1839-1887 1839 to 1869", "older than the laws collected"),
    ("gb/halfcrown-william-iv-1831-1837 1831 to 1837", "older than the laws collected"),
    ("gb/shilling-george-iii-1816-1820 1816 to 1820", "older than the laws collected"),
    ("gb/sixpence-george-iii-1816-1820 1816 to 1820", "older than the laws collected"),
    ("in/rupee-george-vi-1938-1945 1940 to 1945", "debased in the war; the law of it was not collected"),
    ("it/5-lire-vittorio-emanuele-ii-1861-1878 1861 to 1865", "older than the laws collected"),
    ("mx/peso-caballito-1910-1914 1869 to 1914", "the standard of the older peso was kept; its law is listed to 1909"),
    ("mx/un-peso-morelos-1947-1949 1947 to 1949", "the law of it was not collected"),
    ("us/cent-flying-eagle-copper-nickel-1856-1858 1856 to 1856", "pattern pieces, before the law"),
    (
        "us/half-dollar-capped-bust-reeded-edge-1836-1839 1836 to 1836",
        "struck to the coming law, as its further figure says",
    ),
];

// Lists

/// One row as the lists print it: they write a remark, or the year as the coin shows it, together with the variety.
fn is_row(fact: &[Value], row: &Row) -> bool {
    let words = fact[3].as_str().unwrap();
    let named = words == row.label.variety
        || (!row.label.variety.is_empty() && words.contains(&row.label.variety))
        || (row.label.variety.is_empty() && row.remark.is_some());
    fact[0].as_i64() == Some(i64::from(row.label.year))
        && fact[1].as_str() == Some(&row.label.mint)
        && fact[2].as_i64() == Some(row.pieces.unwrap_or(0) as i64)
        && named
}

#[test]
fn every_date_mint_and_mintage_is_as_listed_both_ways() {
    let (mut found, mut rows) = (BTreeSet::new(), 0);
    for file in ["issues-us", "issues-world"] {
        for list in facts(file, "list") {
            let id = text(&list, "series");
            let entry = corpus().get_str(&format!("series/{id}")).unwrap_or_else(|| panic!("no series {id}"));
            let mut ours = entry.series().expect("a series").rows();
            let mut facts: Vec<&Vec<Value>> =
                list["rows"].as_array().unwrap().iter().filter_map(Value::as_array).collect();
            // Rows of the same words first, so that a remark does not take the place of another row.
            facts.sort_by_key(|fact| !ours.iter().any(|(row, _)| fact[3].as_str() == Some(&row.label.variety)));
            for fact in facts {
                rows += 1;
                let exact =
                    ours.iter().position(|(row, _)| is_row(fact, row) && fact[3].as_str() == Some(&row.label.variety));
                let Some(at) = exact.or_else(|| ours.iter().position(|(row, _)| is_row(fact, row))) else {
                    found.insert(format!("{id}: not {} {} {} {}", fact[0], fact[1], fact[2], fact[3]));
                    continue;
                };
                let (row, basis) = ours.remove(at);
                let seen = fact[4].as_str() == Some("seen");
                if seen != (basis.kind() == BasisKind::Read) {
                    found.insert(format!("{id}: {} is {} but {:?}", row.label, fact[4], basis.kind()));
                }
            }
            for (row, _) in ours {
                found.insert(format!("{id}: more: {} {}", row.label, row.pieces.unwrap_or(0)));
            }
        }
    }
    assert!(rows > 4000, "{rows}");
    assert_known(found, ROWS_THAT_DIFFER);
}

const ROWS_THAT_DIFFER: &[(&str, &str)] = &[
    ("ca/50c-george-vi-1937-1952: more: 1947 maple leaf, curved 7 0", "worded otherwise: the next one"),
    (
        "ca/50c-george-vi-1937-1952: not 1947 \"\" 0 \"maple leaf curved right 7 (rare)\"",
        "worded otherwise: the one before",
    ),
    ("pl/5-zlotych-konstytucja-1925: more: 1925 81 beads 0", "worded otherwise: the next one"),
    ("pl/5-zlotych-konstytucja-1925: not 1925 \"\" 0 \"81 pearls\"", "worded otherwise: the one before"),
];

// Mints

#[test]
fn mints_open_and_close_when_history_says() {
    // Common practice, no source: years in which these mints coined for circulation.
    for (country, mark, first, last) in [
        ("us", "CC", 1870, Some(1893)),
        ("us", "O", 1838, Some(1909)),
        ("us", "S", 1854, None),
        ("us", "D", 1906, None),
        ("us", "", 1793, None),
    ] {
        let entry = corpus().get_str(&format!("countries/{country}")).expect(country);
        let mints = entry.country().expect("a country").mints.iter().filter(|mint| mint.mark == mark);
        let years: Vec<_> = mints.flat_map(|mint| mint.years.clone()).collect();
        assert_eq!(years.iter().map(|period| period.0).min(), Some(first), "{country} {mark}");
        assert_eq!(
            years.iter().map(|period| period.1).max_by_key(|end| end.unwrap_or(i32::MAX)),
            Some(last),
            "{country} {mark}"
        );
    }
    let us = corpus().get_str("countries/us").and_then(|entry| entry.country()).expect("the United States");
    let open = |mark: &str, year: i32| us.mints.iter().any(|mint| mint.mark == mark && mint.open_in(year));
    // Closed by law or war: Carson City 1886 to 1888, New Orleans 1862 to 1878.
    assert!(open("CC", 1885) && !open("CC", 1886) && !open("CC", 1888) && open("CC", 1889) && !open("CC", 1894));
    assert!(open("O", 1861) && !open("O", 1862) && !open("O", 1878) && open("O", 1879) && !open("O", 1910));
    assert!(!open("D", 1905) && !open("S", 1853) && !open("S", 1960));
}
