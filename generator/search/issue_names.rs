//! Every way the trade writes an issue: year in full or short, mint by letter or city, value by name, sign or nickname,
//! a variety in its other writings; and the date it was cut over.

use super::terms::terms;
use crate::corpus::Corpus;
use crate::entry::{Country, Entry, Issue, RowLabel, Series};

/// Tokens that name an issue, each once; its own date, mint mark and variety twice, so that they outweigh nicknames.
pub fn identity(corpus: &Corpus, issue: &Issue, series: Option<(&Entry, &Series)>) -> String {
    let row = &issue.row;
    let mut parts = vec![date(row)];
    parts.extend(issue.dated.clone());
    parts.push(row.variety.clone());
    if row.variety.contains(" over ") {
        parts.push(if under(row).is_some() { "overdate over date".into() } else { "overmark".into() });
    }
    if let Some((entry, series)) = series {
        parts.push(series.denomination.clone());
        parts.extend(nicknames(entry));
        if let Some((at, country)) = corpus.country_of(series) {
            parts.extend(mint(country, row));
            parts.push(format!("{} {}", country.name, at.id.stem()));
        }
    }
    let mut tokens: Vec<String> = Vec::new();
    for token in parts.iter().flat_map(|part| terms(part)) {
        // `a` in "three and a half legs" is no mint mark; a mark of its own is added below.
        if !tokens.contains(&token) && token != "a" {
            tokens.push(token);
        }
    }
    tokens.extend(terms(&format!("{} {}", date(row), row.variety)));
    tokens.join(" ")
}

/// `1916 16 D`.
pub fn date(row: &RowLabel) -> String {
    format!("{} {:02} {}", row.year, row.year % 100, row.mint)
}

/// The date that a date was cut over, as `1917 17`. It is no name of the issue, or `1917-D` would find the 1918-D.
pub fn under(row: &RowLabel) -> Option<String> {
    let words: Vec<&str> = row.variety.split(|c: char| c.is_whitespace() || c == ',').collect();
    let number = |text: &str| text.bytes().all(|b| b.is_ascii_digit()) && (1..=4).contains(&text.len());
    let year = row.year.to_string();
    words.windows(3).find_map(|three| {
        let [new, "over", old] = three else { return None };
        let dates = number(old) && number(new) && year.ends_with(new) && old.len() <= year.len();
        let full = dates.then(|| format!("{}{old}", &year[..year.len() - old.len()]))?;
        Some(format!("{full} {}", &full[full.len().saturating_sub(2)..]))
    })
}

/// What the value is called. A nickname with a year in it belongs to one issue, not to its whole series.
pub fn nicknames(series: &Entry) -> Vec<String> {
    let all = series.common.iter().flat_map(|common| &common.also_called);
    all.filter(|name| !terms(name).iter().any(|token| token.len() > 2 && token.starts_with(char::is_numeric)))
        .cloned()
        .collect()
}

/// The city of the mint, if mark and year leave only one; and the letter that mint used at other times, where this issue has none.
fn mint(country: &Country, row: &RowLabel) -> Vec<String> {
    let mut cities: Vec<&str> = country
        .mints
        .iter()
        .filter(|mint| mint.mark == row.mint && mint.open_in(row.year))
        .map(|mint| mint.city.as_str())
        .collect();
    cities.dedup();
    let &[city] = &cities[..] else { return Vec::new() };
    let short = city.split([',', ';', '(']).next().unwrap_or(city).split(" and ").next().unwrap_or(city);
    let mut out = vec![short.trim().to_string()];
    if row.mint.is_empty() {
        let letters = country.mints.iter().filter(|mint| mint.city == city && mint.mark.len() == 1);
        out.extend(letters.map(|mint| mint.mark.clone()));
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_overdate_is_known_by_both_years() {
        let row = RowLabel { year: 1918, mint: "D".into(), variety: "8 over 7".into() };
        assert_eq!(under(&row).unwrap(), "1917 17");
        let row = RowLabel { year: 1815, mint: String::new(), variety: "5 over 2, large eagle".into() };
        assert_eq!(under(&row).unwrap(), "1812 12");
        let row = RowLabel { year: 1938, mint: "D".into(), variety: "D over S".into() };
        assert_eq!(under(&row), None);
        assert_eq!(date(&RowLabel { year: 1905, mint: "Mo".into(), variety: String::new() }), "1905 05 Mo");
    }
}
