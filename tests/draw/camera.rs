//! Where the camera stands → which point of the coin is seen at which place of the picture, both ways.
//!
//! Places in a picture are in px from its upper left corner, x right, y down; the middle of the first picture point is
//! at (0.5, 0.5). Places on the coin are in mm from its centre, x to three o'clock, y to six. The camera is far away:
//! a tilted coin shows as an ellipse, without perspective, and its relief is too low to shift anything.

use super::numbers::{P, turn};
use super::relief::Window;

#[derive(Clone, Copy)]
pub struct Camera {
    pub size: (usize, usize),
    pub px_per_mm: f64,
    /// Place of the coin's centre in the picture; it may lie outside.
    pub centre: P,
    /// How far twelve o'clock is turned clockwise from the top of the picture, degrees.
    pub turn: f64,
    /// Degrees by which the coin leans away from the camera, and the direction of the axis it leans about, degrees
    /// clockwise from the right of the picture.
    pub lean: f64,
    pub axis: f64,
}

impl Camera {
    /// The whole of a coin, in a square picture.
    pub fn whole(size: usize, radius: f64, fill: f64) -> Camera {
        let half = size as f64 / 2.0;
        Camera {
            size: (size, size),
            px_per_mm: half * fill / radius,
            centre: (half, half),
            turn: 0.0,
            lean: 0.0,
            axis: 0.0,
        }
    }

    /// A detail: the point of the coin that is in the middle, and the width of the picture in mm.
    pub fn detail(middle: P, width_mm: f64, turn_by: f64) -> Camera {
        let size = DETAIL;
        let camera = Camera {
            size,
            px_per_mm: size.0 as f64 / width_mm,
            centre: (0.0, 0.0),
            turn: turn_by,
            lean: 0.0,
            axis: 0.0,
        };
        let (x, y) = camera.in_picture(middle);
        Camera { centre: (size.0 as f64 / 2.0 - x, size.1 as f64 / 2.0 - y), ..camera }
    }

    pub fn in_picture(&self, p: P) -> P {
        let (sin, cos) = turn(self.turn);
        let q = (self.px_per_mm * (p.0 * cos - p.1 * sin), self.px_per_mm * (p.0 * sin + p.1 * cos));
        let (across, short) = self.shortening();
        let off = (q.0 * across.0 + q.1 * across.1) * (1.0 - short);
        (self.centre.0 + q.0 - off * across.0, self.centre.1 + q.1 - off * across.1)
    }

    /// From the picture back to the coin.
    pub fn back(&self) -> Back {
        let (across, short) = self.shortening();
        let (sin, cos) = turn(self.turn);
        let way = |q: P| {
            let off = (q.0 * across.0 + q.1 * across.1) * (1.0 / short - 1.0);
            let q = ((q.0 + off * across.0) / self.px_per_mm, (q.1 + off * across.1) / self.px_per_mm);
            (q.0 * cos + q.1 * sin, q.1 * cos - q.0 * sin)
        };
        Back { centre: self.centre, right: way((1.0, 0.0)), down: way((0.0, 1.0)) }
    }

    /// Direction across the axis, in the picture, and by how much lengths in it are shortened.
    pub fn shortening(&self) -> (P, f64) {
        let (sin, cos) = turn(self.axis);
        ((-sin, cos), turn(self.lean).1)
    }

    /// Towards the camera, in the coin's frame: right, down, up.
    pub fn view(&self) -> (f64, f64, f64) {
        let (across, _) = self.shortening();
        let (rise, short) = turn(self.lean);
        let (sin, cos) = turn(self.turn);
        (rise * (across.0 * cos + across.1 * sin), rise * (across.1 * cos - across.0 * sin), short)
    }

    /// The part of a coin that has to be drawn for this picture, with a margin for shadows.
    pub fn window(&self, radius: f64) -> Window {
        const MARGIN: f64 = 0.3;
        let (w, h) = (self.size.0 as f64, self.size.1 as f64);
        let corners = [(0.0, 0.0), (w, 0.0), (0.0, h), (w, h)].map(|p| self.back().on_coin(p));
        let least = |of: fn(&P) -> f64| corners.iter().map(of).fold(f64::MAX, f64::min) - MARGIN;
        let most = |of: fn(&P) -> f64| corners.iter().map(of).fold(f64::MIN, f64::max) + MARGIN;
        let edge = radius + 0.06;
        Window {
            low: (least(|p| p.0).max(-edge), least(|p| p.1).max(-edge)),
            high: (most(|p| p.0).min(edge), most(|p| p.1).min(edge)),
            step: 0.5 / self.px_per_mm,
        }
    }

    /// Length of the longer half axis of the rim in the picture (px), of the shorter, and the longer one's direction.
    pub fn ellipse(&self, radius: f64) -> (f64, f64, f64) {
        let long = radius * self.px_per_mm;
        (long, long * self.shortening().1, self.axis)
    }
}

/// What one px to the right and one px down are on the coin (mm).
#[derive(Clone, Copy)]
pub struct Back {
    centre: P,
    right: P,
    down: P,
}

impl Back {
    pub fn on_coin(&self, p: P) -> P {
        let (x, y) = (p.0 - self.centre.0, p.1 - self.centre.1);
        (x * self.right.0 + y * self.down.0, x * self.right.1 + y * self.down.1)
    }
}

/// Size of a close-up in px.
pub const DETAIL: (usize, usize) = (640, 480);
