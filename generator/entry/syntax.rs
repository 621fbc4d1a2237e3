//! What the TOML reader says, in an author's words.

use std::ops::Range;

/// A syntax error as an author sees it: where, what is wrong, and what to type instead.
pub struct Plain {
    pub range: Range<usize>,
    pub message: String,
    pub hint: &'static str,
}

const QUOTES: &str = "prose goes between ''' and '''; names and words between \" and \", which are straight";

/// Known messages in plain words; others as the reader puts them.
pub fn plain(reported: &str, range: Range<usize>, text: &str) -> Plain {
    let says = |part: &str| reported.contains(part);
    let (message, hint) = if says("duplicate key") {
        ("this key or table is written twice", "keep one; where several tables are meant, each has [[double brackets]]")
    } else if says("must be quoted") {
        ("a word or a text stands here without quotes", QUOTES)
    } else if says("invalid multi-line") {
        ("the prose that begins here has no end", "close it with ''' after its last word")
    } else if says("invalid basic string") || says("invalid literal string") {
        (
            "this string is not closed on its line, or has a \\ in it that means nothing",
            "close it with a quote; prose goes between ''' and '''",
        )
    } else if says("invalid date") {
        ("there is no such day", "write year, month and day: 2026-04-18")
    } else if says("key with no value") {
        ("this key has no value", "write key = value")
    } else if says("unclosed array table") || says("unclosed table") {
        ("this header is not closed", "write [summary] for one table, [[check]] for one of several")
    } else if says("unclosed array") {
        ("a list has no end before this", "close it with ]")
    } else if says("recurse") {
        ("brackets are nested too deep here", "no key of an entry needs more than a few")
    } else {
        let message = format!("this is not well-formed TOML: {reported}");
        return Plain { range, message, hint: QUOTES };
    };
    // Prose without an end is noticed at the end of the file, but the mistake is where it begins.
    let range = match text.get(..range.start).and_then(|before| before.rfind("'''").or(before.rfind("\"\"\""))) {
        Some(start) if says("invalid multi-line") => start..start + 3,
        _ => range,
    };
    Plain { range, message: message.into(), hint }
}
