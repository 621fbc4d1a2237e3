//! Numbers → SVG, as strings. Knows nothing of entries beyond places and landmarks; draws with the page's own colours.

mod alignment;
mod axis;
mod digit;
mod disc;
mod drawing;
mod edge;
mod number_line;
mod overdate;
mod pins;
mod profile;
mod surface;

pub use digit::reshaped;
pub use disc::{Disc, Pin, Spot, dial, disc, midst, point};
pub use drawing::drawing;
pub use number_line::{Bar, NumberLine, Tick, number_line};

/// Escapes text for SVG and HTML, attributes included.
pub fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            _ => out.push(c),
        }
    }
    out
}

/// A coordinate with one decimal at most: a tenth of a unit is less than a screen shows.
fn n(number: f64) -> String {
    let rounded = (number * 10.0).round() / 10.0;
    if rounded == 0.0 { "0".into() } else { format!("{rounded}") }
}
