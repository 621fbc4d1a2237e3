//! A scene → what its picture truly shows, as data: from the same constants that draw it.

use super::camera::Camera;
use super::deeds::{Kind, Repeat};
use super::letters::Sign;
use super::numbers::{P, angle, length, turn};
use super::scenes::{Mark, Scene};
use serde_json::{Map, Value, json};
use std::f64::consts::PI;

/// The text of the picture's file of truth.
pub fn truth(scene: &Scene) -> String {
    let mut out = Map::new();
    let mut put = |key: &str, value: Value| out.insert(key.to_string(), value);
    put(
        "about",
        json!(
            "An invented coin, drawn; numbers from the constants that draw it. Places in px run right and down from the upper left corner of the picture, the middle of its first point being 0.5, 0.5. Angles are degrees, clockwise positive as seen in the picture. Reach is 0 at the centre and 1 at the rim."
        ),
    );
    put("picture", json!(format!("{}.png", scene.name)));
    put("entry", json!(scene.entry));
    put("face", json!(scene.face));
    put("shown", json!(scene.shown));
    let camera = &scene.camera;
    put("size_px", json!([camera.size.0, camera.size.1]));
    let round_coin = scene.setting.radius < 100.0;
    put("mm_per_px", json!((1e9 / camera.px_per_mm).round() / 1e9));
    put("light", json!({ "from_clock_of_the_picture": scene.lamp.clock, "degrees_above_the_coin": scene.lamp.height }));
    if round_coin {
        rim(&mut out, scene);
    }
    details(&mut out, scene);
    let mut text = serde_json::to_string_pretty(&Value::Object(out)).expect("truth is plain data");
    text.push('\n');
    text
}

fn rim(out: &mut Map<String, Value>, scene: &Scene) {
    let (camera, radius) = (&scene.camera, scene.setting.radius);
    let (long, short, axis) = camera.ellipse(radius);
    let whole = camera.in_picture((0.0, 0.0)).0 > 0.0 && long * 2.0 <= camera.size.0 as f64;
    out.insert("rim_in_picture".into(), json!(whole));
    out.insert("diameter_mm".into(), number(2.0 * radius));
    out.insert("centre_px".into(), place(camera.centre));
    out.insert("radius_px".into(), number(long));
    out.insert("rotation_deg".into(), number(camera.turn));
    if camera.lean != 0.0 {
        let ellipse = json!({
            "semi_major_px": number(long),
            "semi_minor_px": number(short),
            "major_axis_deg": number(axis),
            "tilt_deg": number(camera.lean),
            "note": "far camera: an ellipse without perspective; mm_per_px and rotation_deg hold along the longer axis and before the tilt",
        });
        out.insert("ellipse".into(), ellipse);
    }
}

fn details(out: &mut Map<String, Value>, scene: &Scene) {
    let (camera, notes) = (&scene.camera, &scene.notes);
    let mut put = |key: &str, value: Value| out.insert(key.to_string(), value);
    if !notes.points.is_empty() {
        let points = notes.points.iter().map(|point| {
            let mut value = on_face(scene, point.at);
            value.insert("what".into(), json!(point.what));
            (point.name.to_string(), Value::Object(value))
        });
        put("points", Value::Object(points.collect()));
    }
    if let Some(mark) = &notes.mark {
        put("mark", mark_truth(camera, mark));
    }
    if let Some(hangs) = notes.hangs {
        put("last_digit_hangs_below_the_line_mm", number(hangs));
    }
    let marks = |marks: &[Repeat]| Value::Array(marks.iter().map(|mark| repeat(scene, mark)).collect());
    if !notes.repeats.is_empty() {
        put("repeating_marks", marks(&notes.repeats));
    }
    if !notes.own.is_empty() {
        put("marks_of_this_piece_alone", marks(&notes.own));
    }
    if let Some((picture, other)) = &notes.twin {
        put("from_picture", similarity(picture, other, camera));
    }
}

/// Clock, reach and place in the picture.
fn on_face(scene: &Scene, p: P) -> Map<String, Value> {
    let mut out = Map::new();
    if scene.setting.radius < 100.0 {
        let clock = (angle(p.0, -p.1) / PI * 6.0).rem_euclid(12.0);
        out.insert("clock".into(), number(clock));
        out.insert("reach".into(), number(length(p.0, p.1) / scene.setting.radius));
    }
    out.insert("px".into(), place(scene.camera.in_picture(p)));
    out
}

fn repeat(scene: &Scene, mark: &Repeat) -> Value {
    let kind = match mark.kind {
        Kind::Hollow => "hollow",
        Kind::Lump => "lump",
        Kind::Scrape => "raised scrape",
        Kind::Contact => "mark of contact",
    };
    let mut out = Map::new();
    out.insert("id".into(), json!(mark.id));
    out.insert("kind".into(), json!(kind));
    out.append(&mut on_face(scene, mark.at));
    out.insert("half_length_mm".into(), number(mark.size.0));
    out.insert("half_width_mm".into(), number(mark.size.1));
    Value::Object(out)
}

/// Ends of the upright of a K, in heights from its middle.
const UPRIGHT: [P; 2] = [(-0.26, -0.5), (-0.26, 0.5)];

fn mark_truth(camera: &Camera, mark: &Mark) -> Value {
    let Sign { at, .. } = mark.sign;
    let [top, foot] = UPRIGHT.map(|p| mark.sign.point(p));
    let ((a, b), stroke) = (mark.base, (top.0 - foot.0, top.1 - foot.1));
    // Turned from the perpendicular of the base line, to the right positive; on the coin, so without the camera's tilt.
    let base = angle(b.1 - a.1, b.0 - a.0) / PI * 180.0;
    let upright = angle(stroke.0, -stroke.1) / PI * 180.0;
    let (sin, cos) = turn(mark.sign.turn);
    let high = (at.0 + sin * mark.sign.size / 2.0, at.1 - cos * mark.sign.size / 2.0);
    let keel = super::whole::keel_towards(high);
    json!({
        "letter": mark.sign.sign.to_string(),
        "height_mm": number(mark.sign.size),
        "stroke": "the upright of the K, from its top to its foot, along its middle",
        "stroke_px": [place(camera.in_picture(top)), place(camera.in_picture(foot))],
        "base_line": mark.base_is,
        "base_line_px": [place(camera.in_picture(a)), place(camera.in_picture(b))],
        "tilt_to_base_line_deg": number(upright - base),
        "tilt_to_line_to_centre_deg": number(mark.lean),
        "sense": "how far the upright is turned to the right from the perpendicular of the base line, and from the line through the middle of the mark to the centre of the coin",
        "top_px": place(camera.in_picture(high)),
        "keel_px": place(camera.in_picture(keel)),
        "top_to_keel_mm": number(length(high.0 - keel.0, high.1 - keel.1)),
    })
}

/// How places of the other picture come to lie on this one: x' = a x - b y + tx, y' = b x + a y + ty.
fn similarity(picture: &str, other: &Camera, this: &Camera) -> Value {
    let scale = this.px_per_mm / other.px_per_mm;
    let degrees = this.turn - other.turn;
    let (sin, cos) = turn(degrees);
    let (a, b) = (scale * cos, scale * sin);
    let tx = this.centre.0 - (a * other.centre.0 - b * other.centre.1);
    let ty = this.centre.1 - (b * other.centre.0 + a * other.centre.1);
    json!({
        "picture": format!("{picture}.png"),
        "rule": "x' = a x - b y + tx and y' = b x + a y + ty take a place of that picture to this one",
        "scale": number(scale),
        "rotation_deg": number(degrees),
        "translation_px": place((tx, ty)),
        "a": number(a),
        "b": number(b),
    })
}

/// Rounded to a millionth, so that the text is the same everywhere.
fn number(v: f64) -> Value {
    let rounded = (v * 1e6).round() / 1e6;
    json!(if rounded == 0.0 { 0.0 } else { rounded })
}

fn place(p: P) -> Value {
    json!([number(p.0), number(p.1)])
}
