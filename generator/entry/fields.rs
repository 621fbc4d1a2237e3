//! Reads one TOML table key by key, records each problem and goes on. What nobody asked for is an unknown key.

use std::cell::RefCell;

use toml::Spanned;
use toml::de::{DeArray, DeTable, DeValue};

use super::basis::Basis;
use super::day::Day;
use super::id::{ID_RULE, LocalId, Reference};
use super::prose::Prose;
use crate::diagnostic::{Code, Report, closest};
use crate::source::{FileId, Span};

/// One file being read: its text and the problems found so far.
pub struct Reader<'a> {
    pub file: FileId,
    pub text: &'a str,
    report: RefCell<Report>,
}

impl<'a> Reader<'a> {
    pub fn new(file: FileId, text: &'a str) -> Reader<'a> {
        Reader { file, text, report: RefCell::new(Report::default()) }
    }

    pub fn span(&self, range: std::ops::Range<usize>) -> Span {
        Span { file: self.file, start: range.start, end: range.end }
    }

    pub fn error(&self, code: Code, span: Span, message: impl Into<String>, hint: impl Into<String>) {
        self.report.borrow_mut().error(code, span, message).hint(hint);
    }

    pub fn into_report(self) -> Report {
        self.report.into_inner()
    }
}

/// One table of an entry. [`Fields::finish`] must be called when all its keys have been asked for.
pub struct Fields<'r, 'd> {
    pub reader: &'r Reader<'d>,
    /// What the table is, for messages: "this diagnostic".
    what: &'static str,
    table: &'r DeTable<'d>,
    /// Header or braces of the table; for a whole file, its first key.
    pub span: Span,
    asked: Vec<&'static str>,
}

impl<'r, 'd> Fields<'r, 'd> {
    pub fn new(reader: &'r Reader<'d>, what: &'static str, table: &'r DeTable<'d>, span: Span) -> Self {
        Fields { reader, what, table, span: narrow(reader, span), asked: Vec::new() }
    }

    pub fn has(&self, key: &str) -> bool {
        self.table.contains_key(key)
    }

    pub fn is_table(&self, key: &str) -> bool {
        self.table.get(key).is_some_and(|value| value.get_ref().is_table())
    }

    /// Span of a key's value, or of the table if the key is missing.
    pub fn span_of(&self, key: &str) -> Span {
        self.table.get(key).map_or(self.span, |value| self.reader.span(value.span()))
    }

    pub fn wrong(&self, key: &str, message: impl Into<String>, hint: impl Into<String>) {
        self.reader.error(Code::BadValue, self.span_of(key), message, hint);
    }

    fn value(&mut self, key: &'static str) -> Option<&'r Spanned<DeValue<'d>>> {
        if !self.asked.contains(&key) {
            self.asked.push(key);
        }
        self.table.get(key)
    }

    fn wrong_type(&self, key: &str, wanted: &str, value: &Spanned<DeValue<'d>>) {
        let span = self.reader.span(value.span());
        let found = value.get_ref().type_str();
        self.reader.error(
            Code::WrongType,
            span,
            format!("`{key}` is {}, but {wanted} is wanted", article(found)),
            match wanted {
                "a list of tables" => format!("write [[{key}]] above each, in double brackets"),
                _ => format!("write {key} = {}", example(wanted)),
            },
        );
    }

    /// Reports a key the table cannot do without; `example` is what to add.
    pub fn missing(&self, key: &str, example: &str) {
        self.reader.error(
            Code::MissingKey,
            self.span,
            format!("{} has no `{key}`", self.what),
            match example.strip_prefix("a table: ").or(example.strip_prefix("a list of tables: ")) {
                Some(table) => format!("add {table}"),
                None => format!("add {key} = {example}"),
            },
        );
    }

    pub fn text(&mut self, key: &'static str) -> Option<(String, Span)> {
        let value = self.value(key)?;
        match value.get_ref().as_str() {
            Some(text) => Some((text.to_string(), self.reader.span(value.span()))),
            None => {
                self.wrong_type(key, "a string", value);
                None
            }
        }
    }

    /// A string that must be there and not be blank.
    pub fn need_text(&mut self, key: &'static str, example: &str) -> Option<(String, Span)> {
        if !self.has(key) {
            self.asked.push(key);
            self.missing(key, example);
            return None;
        }
        let (text, span) = self.text(key)?;
        if text.trim().is_empty() {
            self.wrong(key, format!("`{key}` is empty"), format!("write {key} = {example}"));
            return None;
        }
        Some((text, span))
    }

    pub fn prose(&mut self, key: &'static str) -> Option<Prose> {
        let (text, span) = self.text(key)?;
        if text.trim().is_empty() {
            self.wrong(key, format!("`{key}` is empty"), "say it in a sentence, or leave the key out");
            return None;
        }
        Some(Prose::new(text, span, self.reader.text))
    }

    pub fn need_prose(&mut self, key: &'static str) -> Option<Prose> {
        if !self.has(key) {
            self.asked.push(key);
            self.missing(key, "'''…'''");
            return None;
        }
        self.prose(key)
    }

    pub fn local_id(&mut self, key: &'static str) -> Option<(LocalId, Span)> {
        let (text, span) = self.need_text(key, "\"a-name\"")?;
        let id = LocalId::parse(&text);
        if id.is_none() {
            self.reader.error(Code::BadId, span, format!("`{text}` cannot be an id"), format!("use {ID_RULE}"));
        }
        Some((id?, span))
    }

    pub fn boolean(&mut self, key: &'static str) -> Option<bool> {
        let value = self.value(key)?;
        let found = value.get_ref().as_bool();
        if found.is_none() {
            self.wrong_type(key, "true or false", value);
        }
        found
    }

    pub fn integer(&mut self, key: &'static str) -> Option<i64> {
        let value = self.value(key)?;
        let found = integer_of(value.get_ref());
        if found.is_none() {
            self.wrong_type(key, "a whole number", value);
        }
        found
    }

    /// A finite number, whole or not.
    pub fn number(&mut self, key: &'static str) -> Option<f64> {
        let value = self.value(key)?;
        let found = number_of(value.get_ref());
        if found.is_none() {
            self.wrong_type(key, "a number", value);
        }
        found
    }

    /// A number that must be above zero to mean anything.
    pub fn positive(&mut self, key: &'static str) -> Option<f64> {
        let number = self.number(key)?;
        if number <= 0.0 {
            self.wrong(
                key,
                format!("`{key}` is {number}, but must be above 0"),
                "write the value itself, or leave the key out",
            );
            return None;
        }
        Some(number)
    }

    /// A four-digit year.
    pub fn year(&mut self, key: &'static str) -> Option<i32> {
        let year = self.integer(key)?;
        if !(1000..=2100).contains(&year) {
            self.wrong(key, format!("`{key}` is {year}, which is no year of coining"), "write the four-digit year");
            return None;
        }
        Some(year as i32)
    }

    /// A TOML date without time.
    pub fn date(&mut self, key: &'static str) -> Option<Day> {
        let value = self.value(key)?;
        let day = value.get_ref().as_datetime().and_then(|stamp| stamp.date.filter(|_| stamp.time.is_none()));
        if day.is_none() {
            self.wrong_type(key, "a date", value);
        }
        day.map(|date| Day { year: date.year, month: date.month, day: date.day })
    }

    pub fn array(&mut self, key: &'static str) -> Option<&'r DeArray<'d>> {
        self.list(key, "a list")
    }

    fn list(&mut self, key: &'static str, wanted: &str) -> Option<&'r DeArray<'d>> {
        let value = self.value(key)?;
        let found = value.get_ref().as_array();
        if found.is_none() {
            self.wrong_type(key, wanted, value);
        }
        found
    }

    /// A list of strings; empty if the key is missing.
    pub fn texts(&mut self, key: &'static str) -> Vec<(String, Span)> {
        let mut out = Vec::new();
        for item in self.list(key, "a list of strings").into_iter().flatten() {
            match item.get_ref().as_str() {
                Some(text) if !text.trim().is_empty() => out.push((text.to_string(), self.reader.span(item.span()))),
                Some(_) => self.wrong(key, format!("an item of `{key}` is empty"), "remove it"),
                None => self.wrong_type(key, "a list of strings", item),
            }
        }
        out
    }

    pub fn references(&mut self, key: &'static str) -> Vec<Reference> {
        self.texts(key).into_iter().map(|(text, span)| Reference { text, span }).collect()
    }

    pub fn reference(&mut self, key: &'static str) -> Option<Reference> {
        self.text(key).map(|(text, span)| Reference { text, span })
    }

    /// Two years, first not after last.
    pub fn year_range(&mut self, key: &'static str) -> Option<(i32, i32)> {
        let array = self.array(key)?;
        let years: Vec<i64> = array.iter().filter_map(|item| integer_of(item.get_ref())).collect();
        match years[..] {
            [from, to] if array.len() == 2 && from <= to && from >= 1000 && to <= 2100 => {
                Some((from as i32, to as i32))
            }
            _ => {
                self.wrong(
                    key,
                    format!("`{key}` is not a first and a last year"),
                    format!("write {key} = [1904, 1919]"),
                );
                None
            }
        }
    }

    /// One table, `[key]` or `key = { … }`.
    pub fn table(&mut self, key: &'static str, what: &'static str) -> Option<Fields<'r, 'd>> {
        let value = self.value(key)?;
        match value.get_ref().as_table() {
            Some(table) => Some(Fields::new(self.reader, what, table, self.reader.span(value.span()))),
            None => {
                self.wrong_type(key, "a table", value);
                None
            }
        }
    }

    /// All tables of `[[key]]`; empty if there is none.
    pub fn tables(&mut self, key: &'static str, what: &'static str) -> Vec<Fields<'r, 'd>> {
        let mut out = Vec::new();
        for item in self.list(key, "a list of tables").into_iter().flatten() {
            match item.get_ref().as_table() {
                Some(table) => out.push(Fields::new(self.reader, what, table, self.reader.span(item.span()))),
                None => self.wrong_type(key, "a list of tables", item),
            }
        }
        out
    }

    /// The entries of a table whose keys are not fixed, in file order.
    pub fn open_table(&mut self, key: &'static str) -> Vec<(Reference, &'r Spanned<DeValue<'d>>)> {
        let Some(value) = self.value(key) else { return Vec::new() };
        let Some(table) = value.get_ref().as_table() else {
            self.wrong_type(key, "a table", value);
            return Vec::new();
        };
        table
            .iter()
            .map(|(key, value)| {
                (Reference { text: key.get_ref().to_string(), span: self.reader.span(key.span()) }, value)
            })
            .collect()
    }

    /// One of a few words.
    pub fn word<T: Copy>(&mut self, key: &'static str, words: &[(&'static str, T)]) -> Option<T> {
        let (text, span) = self.text(key)?;
        let found = words.iter().find(|(word, _)| *word == text).map(|(_, value)| *value);
        if found.is_none() {
            let all: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
            let hint = match closest(&text, all.iter().copied()) {
                Some(near) => format!("did you mean \"{near}\"? It can be: {}", all.join(", ")),
                None => format!("it can be: {}", all.join(", ")),
            };
            self.reader.error(Code::BadValue, span, format!("`{key}` cannot be \"{text}\""), hint);
        }
        found
    }

    /// The basis of the statement this table makes. Its absence is an error at the table's header.
    pub fn basis(&mut self, key: &'static str) -> Option<Basis> {
        match self.value(key) {
            Some(value) => Basis::read(self.reader, key, value),
            None => {
                self.reader.error(
                    Code::BasisMissing,
                    self.span,
                    format!("{} does not say what it stands on", self.what),
                    "add basis = [{ source = \"…\", at = \"p. …\", read = true }], or basis = \"common-practice\"",
                );
                None
            }
        }
    }

    /// Marks a key as known without reading it.
    pub fn know(&mut self, key: &'static str) {
        self.asked.push(key);
    }

    /// Reports the keys that nobody asked for.
    pub fn finish(self) {
        for (key, _) in self.table.iter() {
            let name = key.get_ref().as_ref();
            if self.asked.contains(&name) {
                continue;
            }
            let hint = match closest(name, self.asked.iter().copied()) {
                Some(near) => format!("did you mean `{near}`?"),
                None => format!("{} can have: {}", self.what, self.asked.join(", ")),
            };
            let span = self.reader.span(key.span());
            self.reader.error(Code::UnknownKey, span, format!("{} has no key `{name}`", self.what), hint);
        }
    }
}

pub fn integer_of(value: &DeValue<'_>) -> Option<i64> {
    let integer = value.as_integer()?;
    i64::from_str_radix(integer.as_str(), integer.radix()).ok()
}

pub fn number_of(value: &DeValue<'_>) -> Option<f64> {
    let number = match value.as_float() {
        Some(float) => float.as_str().parse().ok()?,
        None => integer_of(value)? as f64,
    };
    f64::is_finite(number).then_some(number)
}

/// A table's own span may run over its whole body; its header line, or its opening line, is what an author looks for.
fn narrow(reader: &Reader<'_>, span: Span) -> Span {
    let body = reader.text.get(span.start..span.end).unwrap_or("");
    let first = body.lines().next().unwrap_or("").trim_end();
    Span { end: span.start + first.len().max(usize::from(!body.is_empty())), ..span }
}

fn article(type_name: &str) -> String {
    match type_name {
        "integer" => "an integer".into(),
        "array" => "a list".into(),
        "boolean" => "true or false".into(),
        "datetime" => "a date or time".into(),
        other => format!("a {other}"),
    }
}

fn example(wanted: &str) -> &'static str {
    match wanted {
        "a string" => "\"…\"",
        "true or false" => "true",
        "a whole number" => "1911",
        "a number" => "6.25",
        "a date" => "2026-04-18, without quotes or time",
        "a list" => "[ … ]",
        "a list of strings" => "[\"…\", \"…\"]",
        _ => "{ … }",
    }
}
