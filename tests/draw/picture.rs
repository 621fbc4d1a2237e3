//! Brightness over the coin → a picture file: what the camera sees, the table the coin lies on and its edge, a film's
//! curve, a little grain, and a PNG of few tones.

use super::camera::{Back, Camera};
use super::light::{Lamp, lit};
use super::numbers::{P, angle, cloud, length, noise, pow, sin_cos, step, turn};
use super::relief::Relief;

/// What the picture is taken of, besides the surface itself.
#[derive(Clone, Copy)]
pub struct Setting {
    pub radius: f64,
    pub thickness: f64,
    pub reeds: f64,
    pub metal: Metal,
    /// Tones in the file: more are finer and larger.
    pub tones: usize,
    /// How bright the picture is taken.
    pub exposure: f64,
}

#[derive(Clone, Copy, PartialEq)]
pub enum Metal {
    Silver,
    CopperNickel,
    Tin,
}

/// The picture's file.
pub fn photograph(mut relief: Relief, camera: &Camera, lamp: Lamp, setting: &Setting) -> Vec<u8> {
    let tone = lit(&mut relief, lamp.seen_from(camera.turn), camera.view());
    let fine = if relief.window.high.0 - relief.window.low.0 > setting.radius { 3 } else { 2 };
    let (w, h) = camera.size;
    let (back, around) = (camera.back(), Surroundings::new(camera, lamp, setting));
    let mut light = Vec::with_capacity(w * h);
    let scale = 1.0 / w.max(h) as f64;
    for y in 0..h {
        for x in 0..w {
            let mut sum = 0.0;
            for k in 0..fine * fine {
                let at = |i: usize, first: usize| first as f64 + (i as f64 + 0.5) / fine as f64;
                let p = (at(k % fine, x), at(k / fine, y));
                let on = back.on_coin(p);
                sum += if length(on.0, on.1) <= setting.radius {
                    sample(&relief, &tone, on)
                } else {
                    around.brightness(p)
                };
            }
            let (u, v) = (x as f64 * scale - 0.47, y as f64 * scale - 0.47);
            let lens = 1.05 - 0.3 * (u * u + v * v) - 0.1 * (u + v);
            let mean = sum / (fine * fine) as f64 * lens * setting.exposure;
            // A film's curve: soft at both ends.
            let curve = pow((mean / (mean + 0.42) * 1.42).clamp(0.0, 1.0), 1.22);
            light.push(curve + noise(x as f64 * 0.71, y as f64 * 0.71, relief.seed + 201) * 0.006);
        }
    }
    encode(&light, camera.size, setting)
}

/// Brightness between four samples.
fn sample(relief: &Relief, tone: &[f64], p: P) -> f64 {
    let place = |v: f64, low: f64, count: usize| {
        let t = ((v - low) / relief.window.step).clamp(0.0, (count - 1) as f64 - 1e-6);
        (t as usize, t - t.floor())
    };
    let (i, u) = place(p.0, relief.window.low.0, relief.w);
    let (j, v) = place(p.1, relief.window.low.1, relief.h);
    let at = j * relief.w + i;
    let upper = tone[at] + (tone[at + 1] - tone[at]) * u;
    let lower = tone[at + relief.w] + (tone[at + relief.w + 1] - tone[at + relief.w]) * u;
    upper + (lower - upper) * v
}

/// What is seen beside the upper face: the coin's edge, if it is tilted to the camera, or the table with its shadow.
struct Surroundings<'a> {
    camera: &'a Camera,
    back: Back,
    setting: &'a Setting,
    /// Towards the lamp, in the picture's frame and in the coin's.
    light: (f64, f64, f64),
    light_on_coin: (f64, f64, f64),
    /// By how much the lower face is shifted in the picture, px.
    shift: P,
}

impl<'a> Surroundings<'a> {
    fn new(camera: &'a Camera, lamp: Lamp, setting: &'a Setting) -> Self {
        let (across, _) = camera.shortening();
        let sunk = turn(camera.lean).0 * setting.thickness * camera.px_per_mm;
        Surroundings {
            camera,
            back: camera.back(),
            setting,
            light: lamp.direction(),
            light_on_coin: lamp.seen_from(camera.turn).direction(),
            shift: (across.0 * sunk, across.1 * sunk),
        }
    }

    fn brightness(&self, p: P) -> f64 {
        const STEPS: u32 = 12;
        if self.camera.lean != 0.0 {
            for k in 1..=STEPS {
                let down = f64::from(k) / f64::from(STEPS);
                let on = self.back.on_coin((p.0 - self.shift.0 * down, p.1 - self.shift.1 * down));
                if length(on.0, on.1) <= self.setting.radius {
                    return self.edge(on, down);
                }
            }
        }
        self.table(p)
    }

    /// The reeded wall, darker towards the table.
    fn edge(&self, on: P, down: f64) -> f64 {
        let light = self.light_on_coin;
        let facing = ((on.0 * light.0 + on.1 * light.1) / length(on.0, on.1)).max(0.0);
        let (sin, cos) = sin_cos(angle(on.1, on.0) * self.setting.reeds);
        (0.1 + 0.5 * facing) * (0.62 + 0.3 * cos + 0.2 * sin) * (1.0 - 0.5 * down)
    }

    /// Dark felt, with the coin's shadow on it.
    fn table(&self, p: P) -> f64 {
        let (camera, light) = (self.camera, self.light);
        let radius = self.setting.radius * camera.px_per_mm;
        let flat = length(light.0, light.1);
        let long = 0.75 * self.setting.thickness * camera.px_per_mm * flat / light.2;
        let (ux, uy) = (-light.0 / flat, -light.1 / flat);
        let q = (p.0 - camera.centre.0, p.1 - camera.centre.1);
        // The nearest of all discs between the coin and the far end of its shadow.
        let along = (q.0 * ux + q.1 * uy).clamp(0.0, long);
        let d = length(q.0 - ux * along, q.1 - uy * along) - radius;
        let soft = radius * (0.012 + 0.05 * along / long);
        let shadow = step(soft, -soft, d);
        let close = 0.25 * step(radius * 0.05, 0.0, length(q.0, q.1) - radius);
        let felt = 0.19 + 0.022 * cloud(p.0 / 3.4, p.1 / 2.6, 7);
        felt * (1.0 - 0.72 * shadow) * (1.0 - close)
    }
}

fn encode(light: &[f64], (w, h): (usize, usize), setting: &Setting) -> Vec<u8> {
    let most = (setting.tones - 1) as f64;
    let points: Vec<u8> = light.iter().map(|l| (l * most).round().clamp(0.0, most) as u8).collect();
    let palette: Vec<u8> = (0..setting.tones).flat_map(|i| colour(setting.metal, i as f64 / most)).collect();
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, w as u32, h as u32);
    encoder.set_color(png::ColorType::Indexed);
    encoder.set_depth(png::BitDepth::Eight);
    encoder.set_palette(palette);
    encoder.set_deflate_compression(png::DeflateCompression::Level(9));
    encoder.set_filter(png::Filter::NoFilter);
    let mut writer = encoder.write_header().expect("a PNG header can be made");
    writer.write_image_data(&points).expect("a PNG can be made");
    writer.finish().expect("a PNG can be closed");
    bytes
}

/// From near black over the grey of the metal to a warm white.
fn colour(metal: Metal, t: f64) -> [u8; 3] {
    let middle = match metal {
        Metal::Silver => [[74.0, 71.0, 69.0], [140.0, 134.0, 126.0], [207.0, 201.0, 189.0]],
        Metal::CopperNickel => [[76.0, 70.0, 63.0], [143.0, 132.0, 116.0], [210.0, 198.0, 176.0]],
        Metal::Tin => [[70.0, 71.0, 74.0], [131.0, 132.0, 134.0], [196.0, 196.0, 194.0]],
    };
    let stops = [
        (0.0, [17.0, 16.0, 17.0]),
        (0.3, middle[0]),
        (0.55, middle[1]),
        (0.8, middle[2]),
        (1.0, [255.0, 251.0, 242.0]),
    ];
    let i = stops.iter().rposition(|(at, _)| *at <= t).unwrap_or(0).min(stops.len() - 2);
    let ((a, low), (b, high)) = (stops[i], stops[i + 1]);
    let share = (t - a) / (b - a);
    [0, 1, 2].map(|c| (low[c] + (high[c] - low[c]) * share).round() as u8)
}
