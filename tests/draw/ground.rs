//! What every struck face has: a field with lines of flow, the border of beads, the rim and its outer edge.

use super::numbers::{angle, cloud, length, step, wrapped};
use super::relief::Relief;
use std::f64::consts::TAU;

/// Places of the border, as shares of the radius.
pub const BEADS: f64 = 0.949;
pub const BEAD_HALF: f64 = 0.0155;
pub const RIM: f64 = 0.974;
pub const BEAD_COUNT: f64 = 92.0;

/// A struck field: fine lines where metal ran out from the centre of the coin. `strength` 1 for a fresh coin.
pub fn field(relief: &mut Relief, strength: f64) {
    let seed = relief.seed;
    // Wavelengths across and along the lines (mm) and their share of the height.
    let sizes: Vec<(f64, f64, f64, u32)> =
        [(0.017, 0.67, 0.5, 0), (0.036, 1.26, 0.75, 1), (0.083, 1.97, 0.9, 2), (0.19, 2.8, 1.3, 3)]
            .into_iter()
            .filter(|size| relief.shows(size.0))
            .collect();
    relief.each(|p, z, skin, _| {
        let far = length(p.0, p.1);
        let around = angle(p.1, p.0) / TAU;
        let mut lines = 0.0;
        for (across, along, share, k) in &sizes {
            // A whole number of lines goes round where they are set, eight millimetres from the centre.
            let cells = (TAU * 8.0 / across).round();
            lines += share * wrapped(around * cells, far / along, cells as i64, seed + k);
        }
        let uneven = 0.36 + 0.2 * cloud(p.0 / 0.75, p.1 / 0.75, seed + 6);
        *z += lines * strength * 0.0055 * uneven * step(0.6, 4.0, far);
        *z += cloud(p.0 / 1.3, p.1 / 1.3, seed + 13) * 0.012;
        *skin *= 1.0 + cloud(p.0 / 0.48, p.1 / 0.48, seed + 4) * 0.025;
    });
}

/// Beads, the rim inside and the rounded outer edge, for a coin of this radius (mm).
pub fn border(relief: &mut Relief, radius: f64) {
    let seed = relief.seed;
    let (ring, half) = (BEADS * radius, BEAD_HALF * radius);
    relief.each(|p, z, skin, gloss| {
        let far = length(p.0, p.1);
        if far < ring - 2.0 * half {
            return;
        }
        let around = angle(p.1, p.0) / TAU * BEAD_COUNT;
        let off = (around - around.round()) * TAU * ring / BEAD_COUNT;
        let d = length(off, far - ring) / half;
        *z += 0.075 * (1.0 - d * d).max(0.0).sqrt() * step(1.0, 0.8, d);
        let rim = step(RIM * radius - 0.06, RIM * radius + 0.06, far);
        *z += 0.13 * rim;
        // The outer edge falls away within a fifth of a millimetre.
        let over = ((far - (radius - 0.2)) / 0.2).clamp(0.0, 1.0);
        *z -= 0.15 * over * over;
        *z += 0.003 * rim * cloud(p.0 / 0.2, p.1 / 0.2, seed + 61);
        *skin *= 1.0 - 0.2 * super::numbers::bell(far - RIM * radius + 0.03, 0.06);
        *gloss += 0.2 * rim;
    });
}

/// The hair-fine ring of a turned die, swallowed by whatever stands higher.
pub fn lathe_ring(relief: &mut Relief, distance: f64) {
    relief.each(|p, z, _, _| {
        let d = length(p.0, p.1) - distance;
        if d.abs() < 0.08 && *z < 0.03 {
            *z += 0.011 * super::numbers::bell(d, 0.02);
        }
    });
}
