//! Numbers without chance and without a platform: noise from hashes, and sine, exponential, logarithm and angle from
//! the four operations and the square root alone, which every machine rounds alike. The same pictures come out
//! everywhere.

use std::f64::consts::{FRAC_PI_2, FRAC_PI_4, LN_2, PI, SQRT_2};

pub type P = (f64, f64);

/// What is left of π/2 after its nearest number.
const REST_OF_QUARTER: f64 = 6.123_233_995_736_766e-17;

/// Sine and cosine of an angle in radians, good to about 1e-14 for angles of a few turns.
pub fn sin_cos(angle: f64) -> (f64, f64) {
    let quarters = (angle / FRAC_PI_2).round();
    let r = angle - quarters * FRAC_PI_2 - quarters * REST_OF_QUARTER;
    let q = r * r;
    let series = |first: f64, from: u32| {
        let (mut sum, mut term) = (0.0, first);
        for i in 0..9_u32 {
            sum += term;
            let n = f64::from(from + 2 * i);
            term *= -q / (n * (n + 1.0));
        }
        sum
    };
    let (sin, cos) = (series(r, 2), series(1.0, 1));
    match (quarters as i64).rem_euclid(4) {
        0 => (sin, cos),
        1 => (cos, -sin),
        2 => (-sin, -cos),
        _ => (-cos, sin),
    }
}

/// Sine and cosine of an angle in degrees.
pub fn turn(degrees: f64) -> (f64, f64) {
    sin_cos(degrees / 180.0 * PI)
}

/// The exponential; nothing below -700.
pub fn exp(x: f64) -> f64 {
    if x < -700.0 {
        return 0.0;
    }
    let twos = (x / LN_2).round();
    let r = x - twos * LN_2;
    let (mut sum, mut term) = (1.0, 1.0);
    // A plain count: a range is slow where nothing is optimised, and this runs for every sample.
    let mut count = 1.0;
    while count < 14.0 {
        term *= r / count;
        sum += term;
        count += 1.0;
    }
    sum * f64::from_bits(((twos as i64 + 1023) as u64) << 52)
}

/// The natural logarithm of a positive number.
pub fn ln(x: f64) -> f64 {
    let bits = x.to_bits();
    let mut twos = ((bits >> 52) & 0x7FF) as i64 - 1023;
    let mut m = f64::from_bits((bits & 0x000F_FFFF_FFFF_FFFF) | (1023 << 52));
    if m > SQRT_2 {
        m /= 2.0;
        twos += 1;
    }
    let s = (m - 1.0) / (m + 1.0);
    let (mut sum, mut power) = (0.0, s);
    for i in 0..14_u32 {
        sum += power / f64::from(2 * i + 1);
        power *= s * s;
    }
    2.0 * sum + twos as f64 * LN_2
}

/// `x` to the power `y`, nothing from nothing.
pub fn pow(x: f64, y: f64) -> f64 {
    if x <= 0.0 { 0.0 } else { exp(y * ln(x)) }
}

/// Angle of a point seen from the origin, in radians, -π to π.
pub fn angle(y: f64, x: f64) -> f64 {
    if x == 0.0 && y == 0.0 {
        return 0.0;
    }
    let steep = y.abs() > x.abs();
    let mut t = if steep { x.abs() / y.abs() } else { y.abs() / x.abs() };
    // Twice halved, the angle is below 12° and its series short.
    for _ in 0..2 {
        t /= 1.0 + (1.0 + t * t).sqrt();
    }
    let (mut sum, mut power) = (0.0, t);
    for i in 0..12_u32 {
        sum += power / f64::from(2 * i + 1);
        power *= -t * t;
    }
    let mut a = 4.0 * sum;
    if steep {
        a = FRAC_PI_2 - a;
    }
    if x < 0.0 {
        a = 2.0 * FRAC_PI_4 * 2.0 - a;
    }
    if y < 0.0 { -a } else { a }
}

pub fn length(x: f64, y: f64) -> f64 {
    (x * x + y * y).sqrt()
}

/// From 0 to 1 between two values, without a corner.
pub fn step(from: f64, to: f64, at: f64) -> f64 {
    let t = ((at - from) / (to - from)).clamp(0.0, 1.0);
    t * t * (3.0 - 2.0 * t)
}

/// A bell of height 1.
pub fn bell(distance: f64, width: f64) -> f64 {
    let t = distance / width;
    if t.abs() > 4.0 { 0.0 } else { exp(-t * t) }
}

/// A number in 0..1 from a lattice point.
pub fn hash(x: i64, y: i64, seed: u32) -> f64 {
    let mut v =
        (x as u32).wrapping_mul(0x9E37_79B1) ^ (y as u32).wrapping_mul(0x85EB_CA77) ^ seed.wrapping_mul(0xC2B2_AE3D);
    v = (v ^ (v >> 15)).wrapping_mul(0x7FEB_352D);
    v = (v ^ (v >> 15)).wrapping_mul(0x846C_A68B);
    f64::from(v ^ (v >> 16)) / f64::from(u32::MAX)
}

/// Smooth noise in -1..1.
pub fn noise(x: f64, y: f64, seed: u32) -> f64 {
    wrapped(x, y, i64::MAX, seed)
}

/// Smooth noise in -1..1 that comes round to its start after `cells` along x.
pub fn wrapped(x: f64, y: f64, cells: i64, seed: u32) -> f64 {
    let (cx, cy) = (x.floor(), y.floor());
    let ease = |t: f64| t * t * (3.0 - 2.0 * t);
    let (u, v) = (ease(x - cx), ease(y - cy));
    let j = cy as i64;
    let (i, next) = ((cx as i64).rem_euclid(cells), (cx as i64 + 1).rem_euclid(cells));
    let row = |j: i64| {
        let a = hash(i, j, seed);
        a + (hash(next, j, seed) - a) * u
    };
    let low = row(j);
    (low + (row(j + 1) - low) * v) * 2.0 - 1.0
}

/// Noise of three sizes, in -1..1.
pub fn cloud(x: f64, y: f64, seed: u32) -> f64 {
    noise(x, y, seed) * 0.55 + noise(x * 2.1, y * 2.1, seed + 1) * 0.3 + noise(x * 4.3, y * 4.3, seed + 2) * 0.15
}
