//! Strokes and outlines → distance of a point to them (mm, negative inside).

use super::numbers::{P, exp, length, ln, turn};

/// A stroke of a letter or device: from `a` to `b`, with half its width at each end.
#[derive(Clone, Copy)]
pub struct Stroke {
    pub a: P,
    pub b: P,
    pub half: P,
    pub square: bool,
}

impl Stroke {
    fn distance(&self, p: P) -> f64 {
        let (dx, dy) = (self.b.0 - self.a.0, self.b.1 - self.a.1);
        let long = length(dx, dy).max(1e-9);
        let (ux, uy) = (dx / long, dy / long);
        let (qx, qy) = (p.0 - self.a.0, p.1 - self.a.1);
        let (along, across) = (qx * ux + qy * uy, (qy * ux - qx * uy).abs());
        if self.square {
            let (ox, oy) = ((along - long / 2.0).abs() - long / 2.0, across - self.half.0);
            return length(ox.max(0.0), oy.max(0.0)) + ox.max(oy).min(0.0);
        }
        let t = (along / long).clamp(0.0, 1.0);
        length(along - t * long, across) - (self.half.0 + (self.half.1 - self.half.0) * t)
    }
}

/// A stroke with square ends.
pub fn bar(a: P, b: P, half: f64) -> Stroke {
    Stroke { a, b, half: (half, half), square: true }
}

/// A stroke with round ends that may grow or shrink.
pub fn taper(a: P, b: P, from: f64, to: f64) -> Stroke {
    Stroke { a, b, half: (from, to), square: false }
}

/// A curve of short strokes about a centre, thick where it runs upright. Degrees from the right, clockwise.
pub fn bow(out: &mut Vec<Stroke>, centre: P, radii: P, (from, to): P, (thin, thick): P) {
    const PIECES: u32 = 22;
    let at = |i: u32| {
        let (sin, cos) = turn(from + (to - from) * f64::from(i) / f64::from(PIECES));
        let upright = if cos.abs() < 1e-9 { 0.0 } else { exp(1.4 * ln(cos.abs())) };
        ((centre.0 + radii.0 * cos, centre.1 + radii.1 * sin), thin + (thick - thin) * upright)
    };
    for i in 0..PIECES {
        let ((a, wa), (b, wb)) = (at(i), at(i + 1));
        out.push(taper(a, b, wa, wb));
    }
}

/// Strokes and filled outlines that stand or lie on the metal as one.
#[derive(Clone, Default)]
pub struct Shape {
    pub strokes: Vec<Stroke>,
    pub fills: Vec<Vec<P>>,
}

impl Shape {
    pub fn of(strokes: impl IntoIterator<Item = Stroke>) -> Shape {
        Shape { strokes: strokes.into_iter().collect(), fills: Vec::new() }
    }

    /// A line of even width through points.
    pub fn line(points: &[P], half: f64) -> Shape {
        Shape::of(points.windows(2).map(|w| taper(w[0], w[1], half, half)))
    }

    pub fn with(mut self, other: Shape) -> Shape {
        self.strokes.extend(other.strokes);
        self.fills.extend(other.fills);
        self
    }

    pub fn distance(&self, p: P) -> f64 {
        let strokes = self.strokes.iter().map(|s| s.distance(p)).fold(f64::MAX, f64::min);
        self.fills.iter().map(|outline| to_outline(outline, p)).fold(strokes, f64::min)
    }

    /// The corners of a box that holds it.
    pub fn bounds(&self) -> (P, P) {
        let ends = self.strokes.iter().flat_map(|s| {
            let w = s.half.0.max(s.half.1);
            [(s.a, w), (s.b, w)]
        });
        let corners = self.fills.iter().flatten().map(|p| (*p, 0.0));
        ends.chain(corners).fold(((f64::MAX, f64::MAX), (f64::MIN, f64::MIN)), |(low, high), (p, w)| {
            ((low.0.min(p.0 - w), low.1.min(p.1 - w)), (high.0.max(p.0 + w), high.1.max(p.1 + w)))
        })
    }

    /// Sized, turned clockwise about the origin, then moved.
    pub fn placed(&self, at: P, size: f64, degrees: f64) -> Shape {
        let (sin, cos) = turn(degrees);
        let put = |p: P| (at.0 + size * (p.0 * cos - p.1 * sin), at.1 + size * (p.0 * sin + p.1 * cos));
        let stroke = |s: &Stroke| Stroke { a: put(s.a), b: put(s.b), half: (s.half.0 * size, s.half.1 * size), ..*s };
        Shape {
            strokes: self.strokes.iter().map(stroke).collect(),
            fills: self.fills.iter().map(|outline| outline.iter().map(|p| put(*p)).collect()).collect(),
        }
    }
}

fn to_outline(outline: &[P], p: P) -> f64 {
    let (mut nearest, mut inside) = (f64::MAX, false);
    for (i, a) in outline.iter().enumerate() {
        let b = outline[(i + 1) % outline.len()];
        let (dx, dy, qx, qy) = (b.0 - a.0, b.1 - a.1, p.0 - a.0, p.1 - a.1);
        let t = ((qx * dx + qy * dy) / (dx * dx + dy * dy).max(1e-12)).clamp(0.0, 1.0);
        let (rx, ry) = (qx - t * dx, qy - t * dy);
        nearest = nearest.min(rx * rx + ry * ry);
        if (a.1 > p.1) != (b.1 > p.1) && qx < dx * qy / dy {
            inside = !inside;
        }
    }
    let distance = nearest.sqrt();
    if inside { -distance } else { distance }
}

/// Points along the lines and curves of a path: `M x,y`, `L x,y`, `C` with three points, `Z`; a list for each `M`.
/// The letters are those of the open standard for paths in drawings, so a series' landmark can be copied here.
pub fn path(d: &str) -> Vec<Vec<P>> {
    let mut out: Vec<Vec<P>> = Vec::new();
    let mut words = d.split_whitespace().peekable();
    let point = |word: &str| {
        let (x, y) = word.split_once(',').expect("a point is x,y");
        (x.parse().expect("a number"), y.parse().expect("a number"))
    };
    while let Some(word) = words.next() {
        match word.split_at(1) {
            ("M", at) => out.push(vec![point(at)]),
            ("L", at) => out.last_mut().expect("a path starts with M").push(point(at)),
            ("Z", _) => {
                let line = out.last_mut().expect("a path starts with M");
                line.push(line[0]);
            }
            ("C", at) => {
                let line = out.last_mut().expect("a path starts with M");
                let (a, b) = (line[line.len() - 1], point(at));
                let mut next = || point(words.next().expect("a curve has three points"));
                let (c, e) = (next(), next());
                line.extend((1..=14).map(|i| curve(a, b, c, e, f64::from(i) / 14.0)));
            }
            _ => panic!("a path has no step {word}"),
        }
    }
    out
}

fn curve(a: P, b: P, c: P, d: P, t: f64) -> P {
    let u = 1.0 - t;
    let (wa, wb, wc, wd) = (u * u * u, 3.0 * u * u * t, 3.0 * u * t * t, t * t * t);
    (wa * a.0 + wb * b.0 + wc * c.0 + wd * d.0, wa * a.1 + wb * b.1 + wc * c.1 + wd * d.1)
}
