//! Signs → strokes: an alphabet of our own with serifs, upright strokes thick and level ones thin, and its setting
//! along an arc of the coin.

use super::numbers::{P, turn};
use super::shape::{Shape, Stroke, bar, bow, taper};

/// A sign on the coin: middle (mm from the centre of the coin, x right, y down), height (mm), and clockwise turn
/// of its upright from the vertical of the coin.
#[derive(Clone, Copy)]
pub struct Sign {
    pub sign: char,
    pub at: P,
    pub size: f64,
    pub turn: f64,
}

impl Sign {
    pub fn shape(&self) -> Shape {
        drawn(self.sign).placed(self.at, self.size, self.turn)
    }

    /// A point of the sign, from its middle in heights, on the coin.
    pub fn point(&self, p: P) -> P {
        let (sin, cos) = turn(self.turn);
        (self.at.0 + self.size * (p.0 * cos - p.1 * sin), self.at.1 + self.size * (p.0 * sin + p.1 * cos))
    }
}

/// Place of a clock direction and a distance from the centre (mm).
pub fn at_clock(clock: f64, distance: f64) -> P {
    let (sin, cos) = turn(clock * 30.0);
    (distance * sin, -distance * cos)
}

/// Letters spread over the arc from one clock direction to another, clockwise, feet to the centre; or with feet
/// outwards where `below`, read from the later direction to the earlier. `_` is a wide gap.
pub fn arc(text: &str, (from, to): P, distance: f64, size: f64, below: bool) -> Vec<Sign> {
    let span = (to - from).rem_euclid(12.0);
    let total: f64 = text.chars().map(advance).sum();
    let mut gone = 0.0;
    let mut out = Vec::new();
    for sign in text.chars() {
        let share = (gone + advance(sign) / 2.0) / total;
        gone += advance(sign);
        let clock = if below { from + span * (1.0 - share) } else { from + span * share };
        let turn = if below { clock * 30.0 - 180.0 } else { clock * 30.0 };
        if sign != ' ' && sign != '_' {
            out.push(Sign {
                sign,
                at: at_clock(clock, distance),
                size,
                turn: (turn + 180.0).rem_euclid(360.0) - 180.0,
            });
        }
    }
    out
}

/// Room that a sign takes along its line, in heights.
fn advance(sign: char) -> f64 {
    match sign {
        'I' => 0.52,
        '·' => 0.62,
        ' ' => 0.9,
        '_' => 1.3,
        'S' => 0.8,
        'E' | 'F' | 'L' => 0.88,
        'M' => 1.3,
        'W' => 1.4,
        'B' | 'T' | 'R' => 0.96,
        _ => 1.02,
    }
}

/// A sign of height 1 about its middle, y down.
pub fn drawn(sign: char) -> Shape {
    let mut out = Vec::new();
    if sign.is_ascii_digit() {
        digit(sign, &mut out);
    } else if "BDGOQRSU".contains(sign) {
        round(sign, &mut out);
    } else {
        straight(sign, &mut out);
    }
    Shape::of(out)
}

fn serif(x0: f64, x1: f64, y: f64) -> Stroke {
    bar((x0, y), (x1, y), 0.032)
}

const TOP: f64 = -0.468;
const FOOT: f64 = 0.468;

fn stem(x: f64) -> [Stroke; 3] {
    [bar((x, -0.5), (x, 0.5), 0.086), serif(x - 0.17, x + 0.17, TOP), serif(x - 0.17, x + 0.17, FOOT)]
}

fn straight(sign: char, out: &mut Vec<Stroke>) {
    match sign {
        'K' => {
            out.push(bar((-0.26, -0.5), (-0.26, 0.5), 0.088));
            out.push(taper((-0.2, 0.1), (0.27, -0.45), 0.045, 0.04));
            out.push(taper((-0.06, -0.06), (0.32, 0.44), 0.07, 0.085));
            out.extend([
                serif(-0.43, -0.09, TOP),
                serif(-0.43, -0.09, FOOT),
                serif(0.12, 0.44, TOP),
                serif(0.14, 0.5, FOOT),
            ]);
        }
        'V' => {
            out.push(taper((-0.3, -0.45), (0.02, 0.44), 0.085, 0.07));
            out.push(taper((0.32, -0.45), (0.02, 0.44), 0.04, 0.045));
            out.extend([serif(-0.48, -0.12, TOP), serif(0.17, 0.47, TOP)]);
        }
        'W' => {
            out.push(taper((-0.5, -0.45), (-0.24, 0.44), 0.08, 0.065));
            out.push(taper((0.0, -0.45), (-0.24, 0.44), 0.04, 0.045));
            out.push(taper((0.0, -0.45), (0.24, 0.44), 0.08, 0.065));
            out.push(taper((0.48, -0.45), (0.24, 0.44), 0.04, 0.045));
            out.extend([serif(-0.66, -0.34, TOP), serif(-0.14, 0.12, TOP), serif(0.34, 0.62, TOP)]);
        }
        'Y' => {
            out.push(taper((-0.3, -0.45), (0.0, 0.02), 0.08, 0.075));
            out.push(taper((0.32, -0.45), (0.0, 0.02), 0.04, 0.045));
            out.push(bar((0.0, 0.0), (0.0, 0.5), 0.086));
            out.extend([serif(-0.47, -0.13, TOP), serif(0.17, 0.46, TOP), serif(-0.17, 0.17, FOOT)]);
        }
        'M' => {
            out.push(bar((-0.42, -0.5), (-0.42, 0.5), 0.036));
            out.push(taper((-0.4, -0.45), (0.0, 0.45), 0.085, 0.06));
            out.push(taper((0.4, -0.45), (0.0, 0.45), 0.035, 0.04));
            out.push(bar((0.42, -0.5), (0.42, 0.5), 0.085));
            out.extend([
                serif(-0.56, -0.3, FOOT),
                serif(0.27, 0.58, FOOT),
                serif(-0.54, -0.36, TOP),
                serif(0.4, 0.58, TOP),
            ]);
        }
        'A' => {
            out.push(taper((0.0, -0.46), (-0.32, 0.46), 0.04, 0.035));
            out.push(taper((0.0, -0.44), (0.3, 0.45), 0.065, 0.088));
            out.push(bar((-0.22, 0.13), (0.22, 0.13), 0.032));
            out.extend([serif(-0.46, -0.18, FOOT), serif(0.15, 0.47, FOOT)]);
        }
        'H' => {
            out.extend(stem(-0.28).into_iter().chain(stem(0.28)));
            out.push(bar((-0.28, 0.0), (0.28, 0.0), 0.035));
        }
        'N' => {
            out.extend([bar((-0.3, -0.5), (-0.3, 0.5), 0.038), bar((0.3, -0.5), (0.3, 0.46), 0.038)]);
            out.push(taper((-0.3, -0.43), (0.3, 0.43), 0.08, 0.075));
            out.extend([serif(-0.45, -0.22, TOP), serif(-0.46, -0.14, FOOT), serif(0.15, 0.46, TOP)]);
        }
        'I' => out.extend(stem(0.0)),
        'T' => {
            out.extend([bar((0.0, -0.5), (0.0, 0.5), 0.088), serif(-0.17, 0.17, FOOT)]);
            out.push(bar((-0.36, -0.465), (0.36, -0.465), 0.035));
            out.extend([bar((-0.36, -0.49), (-0.36, -0.27), 0.03), bar((0.36, -0.49), (0.36, -0.27), 0.03)]);
        }
        'L' => {
            out.extend(stem(-0.22));
            out.extend([bar((-0.22, 0.465), (0.3, 0.465), 0.034), bar((0.29, 0.48), (0.29, 0.24), 0.032)]);
        }
        'E' | 'F' => {
            out.extend(stem(-0.22));
            out.extend([bar((-0.22, -0.465), (0.28, -0.465), 0.034), bar((0.28, -0.48), (0.28, -0.25), 0.03)]);
            out.extend([bar((-0.2, 0.0), (0.13, 0.0), 0.034), bar((0.13, -0.11), (0.13, 0.11), 0.028)]);
            if sign == 'E' {
                out.extend([bar((-0.22, 0.465), (0.31, 0.465), 0.034), bar((0.31, 0.48), (0.31, 0.22), 0.03)]);
            }
        }
        '·' => out.push(taper((0.0, 0.0), (0.001, 0.0), 0.11, 0.11)),
        _ => panic!("no strokes for {sign}"),
    }
}

fn round(sign: char, out: &mut Vec<Stroke>) {
    const PEN: P = (0.036, 0.086);
    match sign {
        'R' | 'B' => {
            out.extend([bar((-0.24, -0.5), (-0.24, 0.5), 0.085), serif(-0.42, -0.06, FOOT), serif(-0.42, -0.2, TOP)]);
            bow(out, (0.0, -0.235), (0.23, 0.235), (-90.0, 90.0), PEN);
            out.extend([bar((-0.24, -0.466), (0.0, -0.466), 0.034), bar((-0.24, 0.0), (0.0, 0.0), 0.034)]);
            if sign == 'R' {
                out.extend([taper((0.02, 0.03), (0.3, 0.45), 0.06, 0.085), serif(0.2, 0.46, FOOT)]);
            } else {
                bow(out, (0.02, 0.233), (0.27, 0.233), (-90.0, 90.0), PEN);
                out.push(bar((-0.24, 0.466), (0.02, 0.466), 0.034));
            }
        }
        'D' => {
            out.extend([bar((-0.26, -0.5), (-0.26, 0.5), 0.085), serif(-0.43, -0.2, FOOT), serif(-0.43, -0.2, TOP)]);
            bow(out, (-0.06, 0.0), (0.4, 0.466), (-90.0, 90.0), PEN);
            out.extend([bar((-0.26, -0.466), (-0.05, -0.466), 0.034), bar((-0.26, 0.466), (-0.05, 0.466), 0.034)]);
        }
        'U' => {
            out.extend([bar((-0.27, -0.5), (-0.27, 0.16), 0.086), bar((0.28, -0.5), (0.28, 0.16), 0.04)]);
            bow(out, (0.005, 0.15), (0.275, 0.32), (0.0, 90.0), (0.036, 0.04));
            bow(out, (0.005, 0.15), (0.275, 0.32), (90.0, 180.0), PEN);
            out.extend([serif(-0.44, -0.1, TOP), serif(0.13, 0.43, TOP)]);
        }
        'G' => {
            bow(out, (0.0, 0.0), (0.34, 0.46), (52.0, 308.0), PEN);
            out.extend([bar((0.26, 0.02), (0.26, 0.42), 0.08), serif(0.1, 0.42, 0.03)]);
            out.push(bar((0.24, -0.44), (0.24, -0.2), 0.03));
        }
        'S' => {
            bow(out, (0.0, -0.235), (0.22, 0.23), (-25.0, -180.0), (0.036, 0.07));
            bow(out, (0.02, 0.235), (0.24, 0.23), (0.0, 155.0), (0.036, 0.075));
            out.push(taper((-0.21, -0.2), (0.0, -0.02), 0.07, 0.082));
            out.push(taper((0.0, -0.02), (0.24, 0.21), 0.082, 0.072));
            out.extend([bar((0.2, -0.45), (0.2, -0.22), 0.03), bar((-0.22, 0.45), (-0.22, 0.2), 0.03)]);
        }
        _ => {
            bow(out, (0.0, 0.0), (0.34, 0.46), (0.0, 360.0), PEN);
            if sign == 'Q' {
                out.push(taper((0.02, 0.2), (0.36, 0.56), 0.05, 0.075));
            }
        }
    }
}

fn digit(sign: char, out: &mut Vec<Stroke>) {
    match sign {
        '0' => bow(out, (0.0, 0.0), (0.31, 0.46), (0.0, 360.0), (0.036, 0.088)),
        '1' => {
            out.push(bar((0.02, -0.5), (0.02, 0.5), 0.09));
            out.push(taper((0.0, -0.46), (-0.19, -0.33), 0.05, 0.025));
            out.push(serif(-0.17, 0.21, FOOT));
        }
        '2' => {
            bow(out, (0.0, -0.2), (0.25, 0.27), (-165.0, 40.0), (0.036, 0.08));
            out.push(taper((0.2, -0.02), (-0.28, 0.42), 0.07, 0.04));
            out.extend([bar((-0.3, 0.44), (0.3, 0.44), 0.06), bar((0.3, 0.5), (0.3, 0.26), 0.03)]);
            out.push(taper((-0.23, -0.16), (-0.231, -0.16), 0.08, 0.08));
        }
        '4' => {
            out.push(taper((0.1, -0.47), (-0.36, 0.2), 0.04, 0.035));
            out.push(bar((-0.42, 0.21), (0.36, 0.21), 0.045));
            out.push(bar((0.12, -0.5), (0.12, 0.5), 0.088));
            out.push(serif(-0.04, 0.28, FOOT));
        }
        '7' => {
            out.push(bar((-0.3, -0.43), (0.33, -0.43), 0.065));
            out.push(bar((-0.28, -0.5), (-0.28, -0.26), 0.03));
            out.push(taper((0.29, -0.41), (-0.02, 0.1), 0.045, 0.075));
            out.push(taper((-0.02, 0.1), (-0.1, 0.45), 0.075, 0.1));
        }
        '9' => {
            bow(out, (0.0, -0.2), (0.25, 0.28), (0.0, 360.0), (0.036, 0.08));
            bow(out, (-0.16, -0.14), (0.41, 0.6), (0.0, 78.0), (0.03, 0.08));
            out.push(taper((-0.12, 0.43), (-0.17, 0.4), 0.045, 0.06));
        }
        _ => panic!("no strokes for {sign}"),
    }
}
