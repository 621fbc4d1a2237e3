//! What is photographed, from where and under which lamp; the list of all pictures.

use super::camera::Camera;
use super::deeds::Repeat;
use super::letters::Sign;
use super::light::Lamp;
use super::numbers::P;
use super::picture::{Metal, Setting, photograph};
use super::relief::Relief;
use super::{details, edges, half_mark, two_mark, whole};

pub struct Scene {
    /// Stem of the file.
    pub name: &'static str,
    /// The entry that it belongs to, and the face.
    pub entry: &'static str,
    pub face: &'static str,
    /// What is to be seen, in a sentence.
    pub shown: &'static str,
    pub camera: Camera,
    pub lamp: Lamp,
    pub setting: Setting,
    pub seed: u32,
    pub lustre: f64,
    pub draw: fn(&mut Relief),
    pub notes: Notes,
}

/// What the pictures' truth says beyond the camera and the lamp.
#[derive(Default)]
pub struct Notes {
    pub points: Vec<Point>,
    pub mark: Option<Mark>,
    pub repeats: Vec<Repeat>,
    pub own: Vec<Repeat>,
    /// Another picture of pieces from the same dies, and its camera.
    pub twin: Option<(&'static str, Camera)>,
    /// How far the last digit hangs below the line of the date, mm.
    pub hangs: Option<f64>,
}

/// A named place of the coin.
pub struct Point {
    pub name: &'static str,
    pub what: &'static str,
    pub at: P,
}

pub struct Mark {
    pub sign: Sign,
    /// How far its upright is turned to the right from the line to the centre, degrees.
    pub lean: f64,
    /// The two feet of neighbouring letters that the base line joins.
    pub base: (P, P),
    pub base_is: &'static str,
}

pub const SILVER: Setting = Setting {
    radius: half_mark::RADIUS,
    thickness: half_mark::THICKNESS,
    reeds: half_mark::REEDS,
    metal: Metal::Silver,
    tones: 56,
    exposure: 0.76,
};

/// The lamp of the bench: low, from the upper left.
pub const BENCH_LAMP: Lamp = Lamp { clock: 10.1, height: 21.0 };

impl Scene {
    /// A close-up of a half mark. Seventy-two millimetres wide when it is enlarged as `times` says.
    pub fn detail(name: &'static str, (middle, times, turn): (P, f64, f64), seed: u32, draw: fn(&mut Relief)) -> Scene {
        Scene {
            name,
            entry: "",
            face: "",
            shown: "",
            camera: Camera::detail(middle, 72.0 / times, turn),
            lamp: BENCH_LAMP,
            setting: SILVER,
            seed,
            lustre: 0.1,
            draw,
            notes: Notes::default(),
        }
    }

    pub fn of(self, entry: &'static str, face: &'static str, shown: &'static str) -> Scene {
        Scene { entry, face, shown, ..self }
    }

    pub fn point(mut self, name: &'static str, what: &'static str, at: P) -> Scene {
        self.notes.points.push(Point { name, what, at });
        self
    }

    /// The picture's file.
    pub fn picture(&self) -> Vec<u8> {
        let mut relief = Relief::new(self.camera.window(self.setting.radius), self.seed);
        relief.lustre = self.lustre;
        (self.draw)(&mut relief);
        photograph(relief, &self.camera, self.lamp, &self.setting)
    }
}

/// All pictures, in the order in which they are drawn.
pub fn all() -> Vec<Scene> {
    let mut out = whole::scenes();
    out.extend(details::scenes());
    out.extend(two_mark::scenes());
    out.extend(edges::scenes());
    out
}
