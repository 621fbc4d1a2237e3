//! Ranges on one scale, as HTML rows: text stays text at every width, and a reader without sight hears the numbers.

use std::fmt::Write;

use super::escape;

/// A scale with the ranges shown on it, all in one unit.
pub struct NumberLine {
    pub unit: &'static str,
    pub bars: Vec<Bar>,
}

/// One range; `at` marks the value itself where there is one.
pub struct Bar {
    /// `law`, `wear`, `false` or `other`: how it is drawn.
    pub class: &'static str,
    pub label: String,
    pub low: f64,
    pub high: f64,
    pub at: Option<f64>,
    /// The numbers in words.
    pub words: String,
}

/// A mark under the scale.
pub struct Tick {
    pub value: f64,
    pub label: String,
}

impl NumberLine {
    fn ends(&self) -> (f64, f64) {
        let low = self.bars.iter().map(|bar| bar.low).fold(f64::INFINITY, f64::min);
        let high = self.bars.iter().map(|bar| bar.high).fold(f64::NEG_INFINITY, f64::max);
        let margin = ((high - low) * 0.08).max(1e-6);
        (low - margin, high + margin)
    }

    /// Four to eight round numbers within the scale.
    pub fn ticks(&self) -> Vec<Tick> {
        let (low, high) = self.ends();
        let rough = (high - low) / 5.0;
        let power = 10f64.powf(rough.log10().floor());
        let step = [1.0, 2.0, 5.0, 10.0].iter().map(|m| m * power).find(|step| *step >= rough).unwrap_or(10.0 * power);
        let decimals = (-step.log10().floor()).max(0.0) as usize;
        let mut out = Vec::new();
        let mut value = (low / step).ceil() * step;
        while value <= high {
            out.push(Tick { value, label: format!("{value:.decimals$}") });
            value += step;
        }
        out
    }
}

/// The scale as HTML; empty without bars.
pub fn number_line(line: &NumberLine) -> String {
    if line.bars.is_empty() {
        return String::new();
    }
    let (low, high) = line.ends();
    let share = |value: f64| format!("{:.1}", (value - low) / (high - low) * 100.0);
    let mut out = String::from("<div class=\"scale\">");
    for bar in &line.bars {
        let width = format!("{:.1}", (bar.high - bar.low) / (high - low) * 100.0);
        let at = bar.at.map_or(String::new(), |at| format!("<i class=\"at\" style=\"left:{}%\"></i>", share(at)));
        let _ = write!(
            out,
            "<div class=\"row {}\"><span class=\"name\">{}</span><span class=\"track\"><i class=\"bar\" style=\"left:{}%;width:{width}%\"></i>{at}</span><span class=\"value\">{}</span></div>",
            bar.class,
            bar.label,
            share(bar.low),
            escape(&bar.words)
        );
    }
    out.push_str("<div class=\"row axis\" aria-hidden=\"true\"><span class=\"name\"></span><span class=\"track\">");
    for tick in line.ticks() {
        let _ = write!(out, "<i class=\"tick\" style=\"left:{}%\">{}</i>", share(tick.value), tick.label);
    }
    out.push_str("</span></div></div>");
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ticks_are_round_and_few() {
        let bar =
            Bar { class: "law", label: "law".into(), low: 26.632, high: 26.827, at: Some(26.73), words: String::new() };
        let ticks = NumberLine { unit: "g", bars: vec![bar] }.ticks();
        assert!((3..=8).contains(&ticks.len()));
        assert_eq!(ticks[0].label, "26.65");
    }
}
