//! An issue: one date and mint, and variety, of a series. The page an examiner opens.

use super::basis::Basis;
use super::check::{Check, Hypothesis};
use super::fields::Fields;
use super::id::Reference;
use super::prose::Prose;
use super::statement::Sign;
use super::struck::RowLabel;
use crate::source::Span;

#[derive(Clone, Debug)]
pub struct Issue {
    pub series: Reference,
    /// Year, mint and variety, as a row of the series' list.
    pub row: RowLabel,
    pub year_span: Span,
    pub mint_span: Span,
    pub variety_span: Span,
    /// What the coin itself shows, if not the year.
    pub dated: Option<String>,
    pub mintage: Option<Mintage>,
    pub genuine: Vec<Sign>,
    pub forgeries: Vec<Forgery>,
    pub alterations: Vec<Altered>,
    pub checks: Vec<Check>,
    pub unseparated: Vec<Unseparated>,
}

/// More on the number struck than the series' list says.
#[derive(Clone, Debug)]
pub struct Mintage {
    pub pieces: Option<u64>,
    pub text: Option<Prose>,
    pub basis: Basis,
}

/// A forgery family known on this issue.
#[derive(Clone, Debug)]
pub struct Forgery {
    pub family: Reference,
    pub text: Prose,
    pub basis: Basis,
    pub span: Span,
}

/// An alteration known on this issue, with the genuine issues it starts from.
#[derive(Clone, Debug)]
pub struct Altered {
    pub pattern: Reference,
    pub hosts: Vec<Reference>,
    pub text: Option<Prose>,
    pub basis: Basis,
    pub span: Span,
}

/// Two hypotheses that no check here tells apart, and why that stands.
#[derive(Clone, Debug)]
pub struct Unseparated {
    pub between: Vec<Hypothesis>,
    pub why: Prose,
    pub span: Span,
}

impl Issue {
    pub(super) fn read(fields: &mut Fields<'_, '_>) -> Option<Issue> {
        let series = fields.need_text("series", "\"us/dime-winged-head\"");
        if !fields.has("year") {
            fields.missing("year", "1916");
        }
        let year = fields.year("year");
        let mint = fields.text("mint").map(|(mint, _)| mint).unwrap_or_default();
        let variety = fields.text("variety").map(|(variety, _)| variety).unwrap_or_default();
        let year_span = fields.span_of("year");
        let mint_span = if fields.has("mint") { fields.span_of("mint") } else { year_span };
        let variety_span = if fields.has("variety") { fields.span_of("variety") } else { mint_span };
        let dated = fields.text("dated").map(|(dated, _)| dated);
        let mintage = fields.table("mintage", "this mintage").and_then(Mintage::read);
        let genuine = Sign::list(fields, "genuine", "this diagnostic");
        let forgeries = fields.tables("forgery", "this forgery").into_iter().filter_map(Forgery::read).collect();
        let alterations =
            fields.tables("alteration", "this alteration").into_iter().filter_map(Altered::read).collect();
        let checks = Check::list(fields);
        let unseparated = fields.tables("unseparated", "this note").into_iter().filter_map(Unseparated::read).collect();
        let (series, span) = series?;
        Some(Issue {
            series: Reference { text: series, span },
            row: RowLabel { year: year?, mint, variety },
            year_span,
            mint_span,
            variety_span,
            dated,
            mintage,
            genuine,
            forgeries,
            alterations,
            checks,
            unseparated,
        })
    }
}

impl Mintage {
    fn read(mut fields: Fields<'_, '_>) -> Option<Mintage> {
        let pieces = fields.integer("pieces");
        if pieces.is_some_and(|pieces| pieces <= 0) {
            fields.wrong(
                "pieces",
                "a number of pieces is above 0",
                "leave `pieces` out if it is not known, and say so in `text`",
            );
        }
        let text = fields.prose("text");
        if !fields.has("pieces") && !fields.has("text") {
            fields.missing("pieces", "84_000, or text = '''…'''");
        }
        let basis = fields.basis("basis");
        fields.finish();
        Some(Mintage { pieces: pieces.and_then(|pieces| u64::try_from(pieces).ok()), text, basis: basis? })
    }
}

impl Forgery {
    fn read(mut fields: Fields<'_, '_>) -> Option<Forgery> {
        let family = fields.need_text("family", "\"the id of an entry in families/\"");
        let text = fields.need_prose("text");
        let basis = fields.basis("basis");
        let span = fields.span;
        fields.finish();
        let (family, family_span) = family?;
        Some(Forgery { family: Reference { text: family, span: family_span }, text: text?, basis: basis?, span })
    }
}

impl Altered {
    fn read(mut fields: Fields<'_, '_>) -> Option<Altered> {
        let pattern = fields.need_text("pattern", "\"the id of an entry in alterations/\"");
        let hosts = fields.references("hosts");
        let text = fields.prose("text");
        let basis = fields.basis("basis");
        let span = fields.span;
        fields.finish();
        let (pattern, pattern_span) = pattern?;
        Some(Altered { pattern: Reference { text: pattern, span: pattern_span }, hosts, text, basis: basis?, span })
    }
}

impl Unseparated {
    fn read(mut fields: Fields<'_, '_>) -> Option<Unseparated> {
        let between: Vec<Hypothesis> =
            fields.references("between").into_iter().filter_map(|name| Hypothesis::read(&fields, name)).collect();
        if between.len() != 2 {
            fields.wrong(
                "between",
                "two hypotheses are wanted here",
                "write between = [\"family:a\", \"alteration:b\"]",
            );
        }
        let why = fields.need_prose("why");
        let span = fields.span;
        fields.finish();
        Some(Unseparated { between: (between.len() == 2).then_some(between)?, why: why?, span })
    }
}

/// Used by pages and search as the name of the date: `1918-D 8 over 7`.
impl std::fmt::Display for Issue {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.row.fmt(out)
    }
}

#[cfg(test)]
mod tests {
    use super::RowLabel;

    #[test]
    fn rows_sort_by_year_then_mint_then_variety() {
        let label = |text: &str| RowLabel::parse(text).unwrap();
        assert!(
            label("1916") < label("1916-D") && label("1916-D") < label("1916-D x") && label("1916-S") < label("1917")
        );
    }
}
