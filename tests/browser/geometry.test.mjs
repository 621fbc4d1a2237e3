// The geometry of photographs against published and reference-library values, in plain Node.
//
// Values: facts/geometry.json. Each block names the library and version that computed it, or the paper that prints it.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { fileURLToPath } from "node:url";
import vm from "node:vm";

const here = (/** @type {string} */ path) => fileURLToPath(new URL(path, import.meta.url));
const facts = JSON.parse(readFileSync(here("facts/geometry.json"), "utf8"));
const context = vm.createContext({});
vm.runInContext("globalThis.window = globalThis;", context);
vm.runInContext(readFileSync(here("../../theme/bench/geometry.js"), "utf8"), context);
/** @type {any} */
const geometry = context.Tellmark.geometry;

const DEGREE = Math.PI / 180;
/** Relative where large, absolute near nought. @param {number} got @param {number} wanted @param {number} give @param {string} what */
function near(got, wanted, give, what) {
  assert.ok(Math.abs(got - wanted) <= give * Math.max(1, Math.abs(wanted)), `${what}: ${got}, not ${wanted}`);
}
const all = (/** @type {ArrayLike<number>} */ got, /** @type {number[]} */ wanted, /** @type {number} */ give, /** @type {string} */ what) =>
  wanted.forEach((x, i) => near(got[i], x, give, `${what}, ${i + 1}`));
const refused = (/** @type {any} */ answer, /** @type {RegExp} */ words, /** @type {string} */ what) => assert.match(answer.trouble, words, what);

// A circle by Taubin's method: numpy 2.4.6, by singular values as N. Chernov writes it; the scripts take Newton's way. By least squared distances: scipy 1.17.1, and as Gander, Golub and Strebel (1994) print it.
test("circles: the algebraic start and the least squared distances, as the reference libraries and the paper have them", () => {
  assert.ok(facts.circle.length > 3 && facts.circle.every((/** @type {any} */ one) => one.taubin.length === 3));
  for (const one of facts.circle) {
    // Six decimals are on file.
    all(geometry.algebraicCircle(one.points), one.taubin, 6e-7, `${one.id} algebraic`);
    const fit = geometry.circle(one.points, 0.1);
    all([fit.cx, fit.cy, fit.a], one.geometric, 1e-6, `${one.id} geometric`);
    near(fit.rms, one.geometric_rms_residual, 1e-6, `${one.id} rms`);
    if (one.published_geometric) all([fit.cx, fit.cy, fit.a], one.published_geometric, 5e-5 / 4, `${one.id} as printed`);
  }
});

test("circles that cannot be fitted are refused in words", () => {
  const words = /** @type {Record<string, RegExp>} */ ({
    "four collinear points": /on one line/,
    "two points": /Three different points are needed; there are 2/,
    "four identical points": /there is 1/,
    "one point": /there is 1/,
    "not a number": /Point 2 has no place/,
  });
  for (const one of facts.circle_bad) {
    assert.ok(words[one.case], one.case);
    refused(geometry.circle(one.points.map((/** @type {any[]} */ p) => p.map((x) => x ?? NaN)), 1), words[one.case], one.case);
  }
  refused(geometry.circle([], 1), /there are 0/, "no points");
  refused(geometry.circle([[0, 0], [Infinity, 1], [2, 0]], 1), /Point 2/, "infinite");
  // Two clicks nearer than half a pixel are one.
  refused(geometry.circle([[0, 0], [0.3, 0.3], [100, 0]], 1), /there are 2/, "a double click");
  // A line in pixels, not through the origin, with rounding in its last digits.
  refused(geometry.circle([[1200.1, 400.2], [1300.1, 450.2], [1400.1, 500.2], [1700.1, 650.2]], 1), /on one line/, "a slanted line");
  // But a long shallow arc is an arc: 2 degrees of a circle of 5,000 px.
  assert.equal(geometry.circle([-1, -0.5, 0, 0.5, 1].map((x) => [5000 * Math.sin(x * DEGREE), -5000 * Math.cos(x * DEGREE)]), 0.1).trouble, "");
});

// Spread of the radius over 3,000 drawn sets of clicks (numpy 2.4.6; stated good to about 5 per cent). Taubin's fit is nearly the
// least squares one. First-order propagation holds where the spread is small against the radius.
test("the uncertainty of the radius is what drawn clicks scatter by, and short arcs are warned of", () => {
  for (const one of facts.circle_arc) {
    const points = Array.from({ length: one.points }, (_, i) => {
      const step = one.arc_degrees === 360 ? 360 / one.points : one.arc_degrees / (one.points - 1);
      return [500 + one.radius * Math.sin(i * step * DEGREE), 500 - one.radius * Math.cos(i * step * DEGREE)];
    });
    const fit = geometry.circle(points, one.click_sd);
    const give = one.arc_degrees >= 60 ? 0.08 : 0.3;
    assert.ok(Math.abs(fit.ua / one.taubin_sd - 1) < give, `${one.arc_degrees}°: ${fit.ua}, drawn ${one.taubin_sd}`);
    near(fit.arc, one.arc_degrees === 360 ? 330 : one.arc_degrees, 1e-6, "arc");
    assert.equal(fit.warning !== "", one.arc_degrees < 119.9, `${one.arc_degrees}° warned of`);
    if (fit.warning) assert.match(fit.warning, /span only \d+° of the rim.*give or take [\d.]+ px/);
  }
  // C4: the true radius is 50; the fit says 56.5, and says that it may well be that far out.
  const fit = geometry.circle(facts.circle.find((/** @type {any} */ one) => one.id === "C4").points, 0.25);
  assert.ok(Math.abs(fit.a - 50) < 2.5 * fit.ua, `${fit.a} ± ${fit.ua}`);
  assert.match(fit.warning, /not to be trusted/);
});

test("clicks that scatter more than was said count as they scatter", () => {
  const rough = [[100, 3], [71, 71], [-2, 103], [-68, 71], [-104, 0], [-71, -67], [2, -98], [70, -74]];
  const said = geometry.circle(rough, 0.1);
  const honest = geometry.circle(rough, 3);
  assert.ok(said.ua > 0.5 && said.ua <= honest.ua, `${said.ua}, ${honest.ua}`);
});

// Direct: scikit-image 0.26.0 EllipseModel (Halíř and Flusser). Least squared distances: scipy 1.17.1; E3 also as Gander, Golub and Strebel print it.
test("ellipses: the direct fit and the least squared distances", () => {
  const turn = (/** @type {number} */ x) => x - Math.PI * Math.round(x / Math.PI);
  for (const one of facts.ellipse) {
    const direct = geometry.directEllipse(one.points);
    all([...direct.slice(0, 4), turn(direct[4])], one.skimage_ellipsemodel, 2e-6, `${one.id} direct`);
    const fit = geometry.ellipse(one.points, 0.5);
    const got = [fit.cx, fit.cy, fit.a, fit.b, turn(fit.turn)];
    all(got, one.geometric, 5e-6, `${one.id} geometric`);
    near(fit.rms * Math.sqrt(one.points.length), one.geometric_residual_norm, 1e-5, `${one.id} residual`);
    near(geometry.tiltOfAxes(direct[2], direct[3]), one.tilt_from_axes_degrees, 1e-4, `${one.id} tilt`);
    if (one.published_geometric) all(got, one.published_geometric, 1e-4, `${one.id} as printed`);
    if (one.true) assert.ok(Math.abs(fit.a - one.true[2]) < 3 * fit.ua + 1e-6, `${one.id} true axis`);
    if (one.tilt_degrees) near(fit.tilt, one.tilt_degrees, 1e-4, `${one.id} true tilt`);
  }
});

test("ellipses that cannot be fitted are refused in words", () => {
  refused(geometry.ellipse([[0, 0], [10, 0], [10, 10], [0, 10]], 1), /Five different points are needed; there are 4/, "four points");
  refused(geometry.ellipse([[0, 0], [1, 1], [2, 2], [3, 3], [4, 4]], 1), /on one line/, "a line");
  refused(geometry.ellipse([[0, 0], [1, 1], [2, NaN], [3, 3], [4, 4]], 1), /Point 3/, "not a number");
  // Both branches of a hyperbola, x² − y² = 100.
  const branches = [-20, -10, 0, 10, 20].flatMap((y) => [[Math.hypot(10, y), y], [-Math.hypot(10, y), y]]);
  const got = geometry.ellipse(branches, 1);
  assert.ok(got.trouble || got.rms > 2, "an ellipse through a hyperbola does not fit it");
});

test("a leaning coin is told from an upright one, and never by one click out of place", () => {
  const e2 = facts.ellipse.find((/** @type {any} */ one) => one.id === "E2").points;
  assert.ok(geometry.tilted(geometry.circle(e2, 0.5), geometry.ellipse(e2, 0.5)), "20° shows");
  const upright = [[100, 0.4], [70.5, 70.9], [0.3, 99.6], [-70.9, 70.3], [-99.7, 0.2], [-70.4, -71], [0.1, -100.3], [71.1, -70.6]];
  assert.ok(!geometry.tilted(geometry.circle(upright, 0.5), geometry.ellipse(upright, 0.5)), "an upright coin");
  const slipped = upright.map((p, i) => (i === 2 ? [0.3, 108] : p));
  assert.ok(!geometry.tilted(geometry.circle(slipped, 0.5), geometry.ellipse(slipped, 0.5)), "one click out of place");
  const fit = geometry.ellipse(upright, 0.5);
  assert.ok(fit.most > fit.tilt && fit.most < 15, `up to ${fit.most}°`);
});

// cos(tilt) = b/a for a distant camera; computed.
test("axes and tilt", () => {
  for (const one of facts.tilt) near(Math.cos(geometry.tiltOfAxes(1, one.b_over_a) * DEGREE), Math.cos(one.degrees * DEGREE), 1e-7, `${one.degrees}°`);
  near(geometry.tiltOfAxes(1, 0.99), 8.1, 0.005, "0.99, as stated");
  near(geometry.tiltOfAxes(1, 0.999), 2.6, 0.02, "0.999, as stated");
});

// A pinhole camera: computed.
test("a near camera puts the middle of the outline off the centre of the coin", () => {
  for (const one of facts.perspective) {
    const got = geometry.perspective(one.distance_over_radius, one.tilt_degrees);
    all([got.near, got.far, got.off, got.semi], [one.near, one.far, one.centre_offset, one.semi_axis], 1e-6, `${one.tilt_degrees}° at ${one.distance_over_radius}`);
  }
});

test("the lean is taken out and put back", () => {
  const e1 = facts.ellipse.find((/** @type {any} */ one) => one.id === "E1");
  const fit = geometry.ellipse(e1.points, 0.5);
  for (const point of e1.points) {
    const flat = geometry.flat("ellipse", fit.params, point);
    near(Math.hypot(flat[0], flat[1]), 300, 1e-5, "the rim is a circle again");
    all(geometry.seen("ellipse", fit.params, flat), point, 1e-9, "and back");
  }
  assert.deepEqual([...geometry.flat("circle", [10, 20, 5], [13, 16])], [3, -4]);
});

// Angles: computed, atan2(cross, dot).
test("angles", () => {
  for (const one of facts.angle) {
    const got = geometry.angle(one.line1, one.line2);
    near(got.directed, one.directed_degrees, 1e-9, `${one.id} directed`);
    near(got.undirected, one.undirected_degrees, 1e-9, `${one.id} undirected`);
  }
  for (const one of facts.angle_bad) refused(geometry.angle(one.line1, one.line2), /two different points/, one.case);
});

test("the lean of a stroke on its base line, whichever end was clicked first", () => {
  const base = [[0, 100], [200, 100]];
  const right = [[50, 100], [50 + 10 * Math.tan(3 * DEGREE), 90]];
  for (const stroke of [right, [...right].reverse()]) {
    for (const line of [base, [...base].reverse()]) near(geometry.lean(stroke, line), 3, 1e-9, "3° to the right");
  }
  near(geometry.lean([[50, 100], [45, 90]], base), -Math.atan(0.5) / DEGREE, 1e-9, "to the left");
  near(geometry.lean([[0, 0], [5, 0]], base), 90, 1e-9, "lying");
  assert.ok(Number.isNaN(geometry.lean([[1, 1], [1, 1]], base)), "no stroke");
  assert.ok(Number.isNaN(geometry.lean(right, [[1, 1], [1, 1]])), "no base line");
});

// Signed perpendicular offset: computed; shapely 2.2.0 for the distances.
test("offsets from a line", () => {
  for (const one of facts.offset) {
    const got = geometry.offset(one.p, one.q, one.point);
    all([got.offset, got.along, ...got.foot], [one.offset, one.along, ...one.foot], 1e-9, one.id);
  }
  for (const one of facts.offset_bad) refused(geometry.offset(one.p, one.q, one.point), /two different points/, one.case);
});

// Line against a piece of another: computed.
test("where a stroke's line meets a letter", () => {
  const refusals = /** @type {Record<string, RegExp>} */ ({ L7: /no one point/, L10: /do not meet/, L11: /two different points/ });
  for (const one of facts.line_segment) {
    const got = geometry.meets(one.p, one.q, one.a, one.b);
    if (refusals[one.id]) {
      refused(got, refusals[one.id], one.id);
      continue;
    }
    assert.equal(got.trouble, "", one.id);
    assert.equal(got.hit, one.hit, one.id);
    all([got.t, ...got.point], [one.t, ...one.point], 1e-8, one.id);
  }
  refused(geometry.meets([0, 0], [1, 0], [0, 1], [5, 1]), /do not meet/, "parallel");
});

// Clock: image convention, computed.
test("clock and reach", () => {
  for (const one of facts.clock) {
    const got = geometry.place(one.centre, 400, 0, one.point);
    near(got.bearing, one.bearing_degrees, 1e-8, `${one.id} bearing`);
    near(got.hours, one.hours, 1e-8, `${one.id} hours`);
    near(got.radius, one.radius, 1e-7, `${one.id} radius`);
    near(got.reach, one.radius / 400, 1e-7, `${one.id} reach`);
  }
  for (const one of facts.clock_bad) refused(geometry.place(one.centre, 400, 0, one.point), /no clock/, one.case);
  near(geometry.place([0, 0], 10, 350, [0, -5]).hours, 10 / 30, 1e-9, "the top of the coin turned to the left");
});

test("die axis, and the upright from two landmarks", () => {
  for (const one of facts.die_axis.vector) {
    const got = geometry.dieAxis(one.obverse_up, one.obverse_mark, one.reverse_up, one.reverse_mark, one.nominal);
    all([got.rotation, got.hours, got.deviation], [one.rotation_degrees, one.hours, one.deviation_degrees], 1e-6, one.id);
  }
  for (const one of facts.die_axis.up_from_landmarks) {
    const got = geometry.up(one.lower, one.upper, one.reference_bearing);
    all([got.bearing, got.tilt, got.length, got.u], [one.bearing_degrees, one.tilt_clockwise_degrees, one.length, one.u_degrees_for_1px], 5e-6, one.id);
  }
  refused(geometry.up([1, 1], [1, 1], 0), /two different points/, "one landmark twice");
});

// Circular means: computed; scipy's circmean and circstd have the same definitions.
test("means of angles go round the clock", () => {
  for (const one of facts.circular_mean) {
    const got = geometry.circularMean(one.angles);
    if (one.mean_degrees === null) {
      refused(got, /no mean/, one.id);
      continue;
    }
    near(Math.abs(geometry.turned(got.mean - one.mean_degrees)), 0, 1e-5, `${one.id} mean`);
    near(got.length, one.R, 1e-7, `${one.id} R`);
    near(got.sd, one.circular_sd_degrees, 1e-5, `${one.id} sd`);
  }
});

// The law of propagation against clicks drawn here: a small generator with a fixed seed, so that the test is the same every time.
test("uncertainty carried to a place agrees with drawn clicks", () => {
  let state = 12345;
  const even = () => ((state = (Math.imul(state, 1664525) + 1013904223) >>> 0) + 0.5) / 2 ** 32;
  const normal = () => Math.sqrt(-2 * Math.log(even())) * Math.cos(2 * Math.PI * even());
  const rim = Array.from({ length: 8 }, (_, i) => [600 + 400 * Math.cos(i * 45 * DEGREE), 500 + 370 * Math.sin(i * 45 * DEGREE)]);
  const point = [700, 300];
  const click = 1.5;
  const reach = (/** @type {number[]} */ v) => {
    const p = geometry.flat("ellipse", v, [v[5], v[6]]);
    return Math.hypot(p[0], p[1]) / (v[2] + Math.hypot(v[3], v[4]));
  };
  const fit = geometry.ellipse(rim, click);
  const carried = geometry.carry(reach, [...fit.params, ...point], fit.cov, click);
  const drawn = Array.from({ length: 2000 }, () => {
    const moved = [...rim, point].map((p) => p.map((x) => x + click * normal()));
    return reach([...geometry.ellipse(moved.slice(0, 8), click).params, ...moved[8]]);
  });
  const mean = drawn.reduce((a, b) => a + b, 0) / drawn.length;
  const sd = Math.sqrt(drawn.reduce((a, b) => a + (b - mean) ** 2, 0) / (drawn.length - 1));
  near(carried.value, mean, 4 * sd / Math.sqrt(drawn.length) + 1e-4, "value");
  assert.ok(Math.abs(carried.u / sd - 1) < 0.06, `carried ${carried.u}, drawn ${sd}`);
});
