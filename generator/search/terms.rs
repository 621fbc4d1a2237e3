//! Text → tokens, for entries and for queries alike. `theme/terms.js` does the same; `tests/terms.json` holds both to it.

use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

/// Tokens of a text, in order: lower case, without accents, letters apart from digits, small number words as digits.
pub fn terms(text: &str) -> Vec<String> {
    let folded = halves(&fold(text));
    let mut out = Vec::new();
    let mut run = String::new();
    let mut kind = Class::Between;
    for c in folded.chars() {
        let class = class(c);
        if class != kind {
            push(&mut run, &mut out);
            kind = class;
        }
        if class != Class::Between {
            run.push(c);
        }
    }
    push(&mut run, &mut out);
    out
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Class {
    Digit,
    Letter,
    Between,
}

fn class(c: char) -> Class {
    match c {
        c if c.is_numeric() => Class::Digit,
        c if c.is_alphabetic() => Class::Letter,
        _ => Class::Between,
    }
}

fn push(run: &mut String, out: &mut Vec<String>) {
    if !run.is_empty() {
        let digits = NUMBERS.iter().position(|word| word == run).map(|at| (at + 1).to_string());
        out.push(digits.unwrap_or_else(|| run.clone()));
        run.clear();
    }
}

/// The word for a number at its place, from one.
const NUMBERS: &[&str] =
    &["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];

/// Lower case without accents. Signs of money and fractions become words, apostrophes vanish.
fn fold(text: &str) -> String {
    let spelt: String = text.chars().fold(String::new(), |mut out, c| {
        match c {
            '\'' | '’' | '‘' | 'ʼ' | '′' | '`' | '´' | '＇' => {}
            '½' => out.push_str(" half "),
            '¼' => out.push_str(" quarter "),
            '$' => out.push_str(" dollar "),
            '¢' => out.push_str(" c "),
            '£' => out.push_str(" pound "),
            c => out.push(c),
        }
        out
    });
    let lower = spelt.nfkd().collect::<String>().to_lowercase();
    let mut out = String::with_capacity(lower.len());
    for c in lower.chars().filter(|c| !is_combining_mark(*c)) {
        match c {
            'ß' => out.push_str("ss"),
            'æ' => out.push_str("ae"),
            'œ' => out.push_str("oe"),
            'þ' => out.push_str("th"),
            'ł' => out.push('l'),
            'ø' => out.push('o'),
            'đ' | 'ð' => out.push('d'),
            'ı' => out.push('i'),
            'ς' => out.push('σ'),
            c => out.push(c),
        }
    }
    out
}

/// `1/2` and `1/4` on their own become words; `1942/1` and `11/2` do not.
fn halves(text: &str) -> String {
    let chars: Vec<char> = text.chars().collect();
    let digit = |at: Option<usize>| at.and_then(|at| chars.get(at)).is_some_and(|c| c.is_numeric());
    let mut out = String::with_capacity(text.len());
    let mut at = 0;
    while at < chars.len() {
        let word = match chars[at..] {
            ['1', '/' | '⁄', '2', ..] => " half ",
            ['1', '/' | '⁄', '4', ..] => " quarter ",
            _ => "",
        };
        if word.is_empty() || digit(at.checked_sub(1)) || digit(Some(at + 3)) {
            out.push(chars[at]);
            at += 1;
        } else {
            out.push_str(word);
            at += 3;
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::terms;

    #[test]
    fn the_trade_writes_it_in_many_ways() {
        assert_eq!(terms("1916-D 10¢"), ["1916", "d", "10", "c"]);
        assert_eq!(terms("'16 D Ten Cents"), ["16", "d", "10", "cents"]);
        assert_eq!(terms("1918/7"), ["1918", "7"]);
        assert_eq!(terms("2½ Gulden, 1/2 Mark, 1942/1"), ["2", "half", "gulden", "half", "mark", "1942", "1"]);
        assert_eq!(terms("5 Złotych · Fünf · Ærø"), ["5", "zlotych", "funf", "aero"]);
    }
}
