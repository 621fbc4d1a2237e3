//! Days as entries and the command line state them.

/// A calendar day as an entry states it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Day {
    pub year: u16,
    pub month: u8,
    pub day: u8,
}

impl Day {
    /// Reads `2026-04-18`.
    pub fn parse(text: &str) -> Option<Day> {
        let date = text.parse::<toml::value::Datetime>().ok()?;
        if date.time.is_some() || date.offset.is_some() {
            return None;
        }
        date.date.map(|date| Day { year: date.year, month: date.month, day: date.day })
    }
}

impl std::fmt::Display for Day {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(out, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}
