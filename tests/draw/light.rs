//! A surface → its brightness under one low lamp: a matt share, a broad and a tight highlight, light of the room,
//! shadows cast along the surface, hollows darker than their surroundings, and the turning sheen of flow lines.

use super::numbers::{P, bell, exp, length, step, turn};
use super::relief::{Relief, blur};

/// Where the lamp stands: the direction its light comes from, as an hour on the clock of the picture (or of the coin),
/// and how high, in degrees above the plane of the coin.
#[derive(Clone, Copy)]
pub struct Lamp {
    pub clock: f64,
    pub height: f64,
}

impl Lamp {
    /// The same lamp seen from a coin that lies turned clockwise by `degrees` in the picture.
    pub fn seen_from(self, degrees: f64) -> Lamp {
        Lamp { clock: (self.clock - degrees / 30.0).rem_euclid(12.0), ..self }
    }

    /// Towards the lamp: right, down, up.
    pub fn direction(self) -> (f64, f64, f64) {
        let ((sin, cos), (rise, flat)) = (turn(self.clock * 30.0), turn(self.height));
        (sin * flat, -cos * flat, rise)
    }
}

/// Brightness of each sample; 1 is a white card under the lamp. `view` points to the camera, in the coin's frame.
pub fn lit(relief: &mut Relief, lamp: Lamp, view: (f64, f64, f64)) -> Vec<f64> {
    let (w, h, pitch) = (relief.w, relief.h, relief.window.step);
    relief.z = blur(&relief.z, w, h, 1);
    let samples = |mm: f64| ((mm / pitch).round() as usize).max(2);
    let near = blur(&relief.z, w, h, samples(0.036));
    let far = blur(&relief.z, w, h, samples(0.15));
    let light = lamp.direction();
    let seen = shadows(relief, light);
    let mut tone = vec![0.0; w * h];
    for j in 0..h {
        for i in 0..w {
            let at = j * w + i;
            let z = &relief.z;
            let (left, right) = (j * w + i.saturating_sub(1), j * w + (i + 1).min(w - 1));
            let (above, below) = (j.saturating_sub(1) * w + i, (j + 1).min(h - 1) * w + i);
            let (gx, gy) = ((z[right] - z[left]) * 0.5 / pitch, (z[below] - z[above]) * 0.5 / pitch);
            let size = (gx * gx + gy * gy + 1.0).sqrt();
            let n = (-gx / size, -gy / size, 1.0 / size);
            let towards = (n.0 * light.0 + n.1 * light.1 + n.2 * light.2).max(0.0);
            let facing = 2.0 * (n.0 * view.0 + n.1 * view.1 + n.2 * view.2);
            let r = (facing * n.0 - view.0, facing * n.1 - view.1, facing * n.2 - view.2);
            let glance = r.0 * light.0 + r.1 * light.1 + r.2 * light.2;
            let (broad, tight) = (exp((glance - 1.0) * 3.2), exp((glance - 1.0) * 26.0));
            let room = 0.05 + 0.11 * (0.5 + 0.5 * r.2) + 0.05 * r.1.abs();
            let hollow = (near[at] - z[at]).max(0.0) * 11.0 + (far[at] - z[at]).max(0.0) * 5.0;
            let p = (relief.window.low.0 + i as f64 * pitch, relief.window.low.1 + j as f64 * pitch);
            let sheen = relief.lustre * sheen(p, light, view) * n.2 * n.2 * n.2;
            let bright = towards * 0.62 + broad * 0.5 + tight * 0.62 * relief.gloss[at] + sheen;
            let room = room * (1.0 - 0.3 * (1.0 - seen[at]));
            tone[at] = (room + bright * seen[at]) * relief.skin[at] / (1.0 + hollow);
        }
    }
    tone
}

/// Lines that run out from the centre throw light where they stand across its direction: two bright sectors that
/// turn with the lamp.
fn sheen(p: P, light: (f64, f64, f64), view: (f64, f64, f64)) -> f64 {
    let far = length(p.0, p.1);
    if far < 1e-6 {
        return 0.0;
    }
    let half = (light.0 + view.0, light.1 + view.1, light.2 + view.2);
    let size = (half.0 * half.0 + half.1 * half.1 + half.2 * half.2).sqrt();
    let along = (half.0 * p.0 + half.1 * p.1) / (far * size);
    bell(along, 0.24) * step(0.4, 4.5, far)
}

/// How much of the lamp each sample sees.
fn shadows(relief: &Relief, light: (f64, f64, f64)) -> Vec<f64> {
    let (w, h, pitch, z) = (relief.w, relief.h, relief.window.step, &relief.z);
    let flat = length(light.0, light.1);
    let (ux, uy, rise) = (light.0 / flat, light.1 / flat, light.2 / flat * pitch);
    let most = z.iter().copied().fold(f64::MIN, f64::max);
    let mut out = vec![1.0; w * h];
    // Steps along the ray, in samples: (how far, offset right, offset down).
    let mut rays = Vec::new();
    let mut far = 2.0;
    while far * pitch < 0.8 {
        rays.push((far, (ux * far).round() as isize, (uy * far).round() as isize));
        far = far * 1.09 + 0.6;
    }
    for j in 0..h {
        for i in 0..w {
            let base = z[j * w + i];
            let mut blocked = 0.0_f64;
            for (far, dx, dy) in &rays {
                let rise = rise * far;
                let (x, y) = (i as isize + dx, j as isize + dy);
                if base + rise > most || x < 0 || y < 0 || x >= w as isize || y >= h as isize {
                    break;
                }
                let above = z[y as usize * w + x as usize] - base - rise;
                if above > 0.0 {
                    blocked = blocked.max(above / (pitch * (0.6 + far * 0.06)));
                }
            }
            out[j * w + i] = 1.0 - 0.86 * blocked.min(1.0);
        }
    }
    blur(&out, w, h, 1)
}
