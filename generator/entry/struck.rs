//! The date and mint list of a series, row by row.

use super::basis::Basis;
use super::fields::{Fields, integer_of};
use crate::diagnostic::Code;
use crate::source::Span;

/// Rows of the date and mint list that stand on one basis.
#[derive(Clone, Debug)]
pub struct Struck {
    pub basis: Basis,
    pub rows: Vec<Row>,
}

/// One date, mint and variety.
#[derive(Clone, Debug)]
pub struct Row {
    pub label: RowLabel,
    /// Not known, or not counted apart, if `None`.
    pub pieces: Option<u64>,
    pub remark: Option<String>,
    pub span: Span,
}

/// Names a row within its series.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct RowLabel {
    pub year: i32,
    pub mint: String,
    pub variety: String,
}

impl RowLabel {
    /// Reads `1918-D 8 over 7`.
    pub fn parse(text: &str) -> Option<RowLabel> {
        let text = text.trim();
        let (date, variety) = text.split_once(' ').unwrap_or((text, ""));
        let (year, mint) = date.split_once('-').unwrap_or((date, ""));
        let valid = year.len() == 4 && year.bytes().all(|b| b.is_ascii_digit());
        Some(RowLabel { year: year.parse().ok().filter(|_| valid)?, mint: mint.into(), variety: variety.trim().into() })
    }

    /// `1918-D`, without the variety.
    pub fn date(&self) -> String {
        if self.mint.is_empty() { self.year.to_string() } else { format!("{}-{}", self.year, self.mint) }
    }
}

impl std::fmt::Display for RowLabel {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        out.write_str(&self.date())?;
        if self.variety.is_empty() { Ok(()) } else { write!(out, " {}", self.variety) }
    }
}

impl Struck {
    pub(super) fn read(mut fields: Fields<'_, '_>) -> Option<Struck> {
        let basis = fields.basis("basis");
        let mut rows = Vec::new();
        if !fields.has("rows") {
            fields.missing("rows", "[[1916, \"D\", 264000]]");
        }
        for item in fields.array("rows").into_iter().flatten() {
            let span = fields.reader.span(item.span());
            match read_row(item.get_ref(), span) {
                Some(row) => rows.push(row),
                None => fields.reader.error(
                    Code::BadValue,
                    span,
                    "this row is not a year, a mint mark and a number of pieces",
                    "write [1916, \"D\", 264000], then a variety and a remark if there are any: [1942, \"D\", 0, \"2 over 1\", \"…\"]",
                ),
            }
        }
        fields.finish();
        Some(Struck { basis: basis?, rows })
    }
}

fn read_row(value: &toml::de::DeValue<'_>, span: Span) -> Option<Row> {
    let items: Vec<_> = value.as_array()?.iter().map(|item| item.get_ref()).collect();
    let (&[year, mint, pieces], rest) = items.split_first_chunk::<3>()?;
    let year = integer_of(year).filter(|year| (1000..=2100).contains(year))?;
    let pieces = u64::try_from(integer_of(pieces)?).ok()?;
    let words: Vec<String> = rest.iter().map(|item| item.as_str().map(str::to_string)).collect::<Option<_>>()?;
    if words.len() > 2 {
        return None;
    }
    let mut words = words.into_iter();
    Some(Row {
        label: RowLabel {
            year: year as i32,
            mint: mint.as_str()?.to_string(),
            variety: words.next().unwrap_or_default(),
        },
        pieces: (pieces > 0).then_some(pieces),
        remark: words.next().filter(|remark| !remark.is_empty()),
        span,
    })
}

#[cfg(test)]
mod tests {
    use super::RowLabel;

    #[test]
    fn a_row_label_reads_as_it_is_shown() {
        for text in ["1916", "1916-D", "1918-D 8 over 7", "1937-D three legs"] {
            assert_eq!(RowLabel::parse(text).unwrap().to_string(), text);
        }
        assert_eq!(RowLabel::parse("916-D"), None);
        assert_eq!(RowLabel::parse("dime"), None);
    }
}
