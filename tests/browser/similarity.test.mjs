// The similarity from landmark pairs, held to outside values and to what must be true of any such map.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { describe, test } from "node:test";
import vm from "node:vm";

const read = (/** @type {string} */ path) => readFileSync(new URL(path, import.meta.url), "utf8");
// In this realm, so that its lists are the test's lists.
/** @type {any} */ (globalThis).window = {};
vm.runInThisContext(read("../../theme/bench/similarity.js"));
const { fit, apply, compose, inverse } = /** @type {any} */ (globalThis).window.Tellmark.similarity;

const facts = JSON.parse(read("facts/similarity.json"));
const vector = (/** @type {string} */ id) => facts.similarity.find((/** @type {any} */ one) => one.id === id);

/** To the digits that the vector gives. @param {number} got @param {number} want @param {string} what */
function near(got, want, what) {
  const digits = String(want).split(".")[1]?.length ?? 0;
  const give = Math.max(1e-6 * Math.abs(want), digits ? 0.6 * 10 ** -Math.min(digits, 9) : 0, 1e-9);
  assert.ok(Math.abs(got - want) <= give, `${what}: ${got} for ${want}`);
}

/** A repeatable stand-in for chance (mulberry32, public domain). @param {number} seed */
function chance(seed) {
  return () => {
    seed = (seed + 0x6d2b79f5) | 0;
    let t = Math.imul(seed ^ (seed >>> 15), 1 | seed);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}
const even = (/** @type {() => number} */ next) => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());

// scikit-image 0.26.0, SimilarityTransform.from_estimate; S1 is the example of Umeyama (1991).
describe("values of scikit-image 0.26.0 and of Umeyama (1991)", () => {
  assert.ok(facts.similarity.length >= 5);
  for (const one of facts.similarity) {
    test(`${one.id}: ${one.case}`, () => {
      const got = fit(one.src, one.dst);
      assert.equal(got.why, "");
      near(got.scale, one.scale, "scale");
      near(got.degrees, one.rotation_degrees, "rotation");
      one.translation.forEach((/** @type {number} */ t, /** @type {number} */ at) => near(got.map[4 + at], t, "shift"));
      one.residuals.forEach((/** @type {number} */ r, /** @type {number} */ at) => near(got.residuals[at], r, `residual ${at + 1}`));
      near(got.rms, one.rms_residual, "rms");
      near(got.rms ** 2, one.mean_squared_error, "mean squared error");
      // A proper rotation: the determinant is the scale squared, never its opposite.
      near(got.map[0] * got.map[3] - got.map[1] * got.map[2], got.scale ** 2, "determinant");
      assert.equal(got.redundancy, 2 * one.src.length - 4);
    });
  }
});

describe("refused in words", () => {
  assert.ok(facts.similarity_bad.length >= 4);
  // scikit-image 0.26.0 fails on each of these.
  const words = /** @type {Record<string, RegExp>} */ ({
    "no pairs": /Two landmarks are needed/,
    "one pair": /Two landmarks are needed.*three to have a residual/,
    "target points identical": /scale would be 0/,
    "two identical pairs": /second picture are all at one place/,
  });
  for (const one of facts.similarity_bad) {
    test(one.case, () => {
      assert.match(fit(one.src, one.dst).why, words[one.case]);
      assert.match(fit(one.src, one.dst, true).why, words[one.case]);
      assert.deepEqual(Object.keys(fit(one.src, one.dst)), ["why"], "no number comes with a refusal");
    });
  }
  test("places that are no numbers, or are missing", () => {
    assert.match(fit([[0, 0], [1, NaN]], [[0, 0], [1, 1]]).why, /place is no number/);
    assert.match(fit([[0, 0], [1, 1]], [[0, 0], [Infinity, 1]]).why, /place is no number/);
    assert.match(fit([[0, 0], [1, 1]], [[0, 0]]).why, /Set each landmark in both/);
  });
  test("points that differ by rounding only, far from the origin", () => {
    const spot = [[40000.1, 30000.7], [40000.1 + 7e-12, 30000.7]];
    assert.match(fit(spot, [[0, 0], [9, 0]]).why, /at one place/);
  });
  test("an even triangle against its mirror image: no rotation is better than another", () => {
    const third = (/** @type {number} */ hand) => [0, 1, 2].map((at) => [Math.cos((at * 2 * Math.PI) / 3), hand * Math.sin((at * 2 * Math.PI) / 3)]);
    assert.match(fit(third(1), third(-1)).why, /No rotation fits better.*mirrored/);
    assert.ok(fit(third(1), third(-1), true).rms < 1e-12);
  });
});

describe("mirror images", () => {
  test("Umeyama's example and the mirrored photograph: said that the mirror image fits far better, and it does", () => {
    for (const id of ["S1", "S7"]) {
      const { src, dst } = vector(id);
      const proper = fit(src, dst);
      assert.ok(proper.better !== null && proper.better < 1e-6 * proper.rms, id);
      const flipped = fit(src, dst, true);
      near(flipped.rms, 0, "rms");
      near(flipped.scale, 1, "scale");
      near(flipped.map[0] * flipped.map[3] - flipped.map[1] * flipped.map[2], -1, "determinant");
      assert.equal(flipped.better, null);
    }
  });
  test("never said of two landmarks or of a line, which a mirror image fits as well", () => {
    const { src, dst } = vector("S4");
    assert.equal(fit(src, dst).better, null);
    assert.equal(fit(src.slice(0, 2), dst.slice(0, 2)).better, null);
    assert.equal(fit(vector("S5").src, vector("S5").dst).better, null);
  });
  test("said the other way round when a mirror image was asked for and is none", () => {
    const { src, dst, rms_residual: rms } = vector("S5");
    near(fit(src, dst, true).better, rms, "rms of the proper rotation");
  });
});

describe("two landmarks", () => {
  test("always fit exactly, and have nothing left over to say so", () => {
    const got = fit([[100, 200], [700, 250]], [[31, 402], [655, 90]]);
    assert.equal(got.redundancy, 0);
    assert.equal(got.rms, 0);
    assert.equal(got.outlier, null);
  });
});

describe("the landmark that does not agree", () => {
  const { src, dst } = vector("S5");
  test("none among six good ones (S5), none among fewer than four, none in an exact fit (S2)", () => {
    assert.equal(fit(src, dst).outlier, null);
    assert.equal(fit(vector("S2").src, vector("S2").dst).outlier, null);
    assert.equal(fit([[0, 0], [10, 0], [0, 10]], [[0, 0], [10, 0], [6, 14]]).outlier, null);
  });
  test("each of the six, moved by 15 px, is named, and the rms without it is that of the other five", () => {
    for (let at = 0; at < 6; at++) {
      const moved = dst.map((/** @type {number[]} */ p, /** @type {number} */ place) => (place === at ? [p[0] + 12, p[1] - 9] : p));
      const got = fit(src, moved);
      assert.equal(got.outlier?.at, at);
      const rest = (/** @type {number[][]} */ list) => list.filter((_, place) => place !== at);
      near(got.outlier.rms, fit(rest(src), rest(dst)).rms, "rms without it");
    }
  });
  test("by chance in no more than 1 of 100 fits, as the test's level promises (2000 fits with even errors)", () => {
    const next = chance(11);
    let named = 0;
    for (let turn = 0; turn < 2000; turn++) {
      const n = 4 + (turn % 5);
      const from = Array.from({ length: n }, () => [4000 * next(), 3000 * next()]);
      const to = from.map(([x, y]) => [0.9 * x - 0.2 * y + 40 + even(next), 0.2 * x + 0.9 * y - 7 + even(next)]);
      if (fit(from, to).outlier) named += 1;
    }
    console.log(`${named} of 2000 named by chance`);
    assert.ok(named <= 20 + 2.33 * Math.sqrt(20), `${named} of 2000`);
  });
});

describe("true of any such map", () => {
  test("200 turned, scaled, shifted and mirrored sets of points are found again, and led back by the inverse", () => {
    const next = chance(5);
    for (let turn = 0; turn < 200; turn++) {
      const [angle, scale, hand] = [360 * next() - 180, 0.05 + 9 * next(), turn % 2 ? -1 : 1];
      const [c, s] = [scale * Math.cos((angle * Math.PI) / 180), scale * Math.sin((angle * Math.PI) / 180)];
      const map = [c, s, -hand * s, hand * c, 900 * next(), -500 * next()];
      const from = Array.from({ length: 3 + (turn % 6) }, () => [6000 * next(), 4000 * next()]);
      const got = fit(from, from.map((p) => apply(map, p)), hand < 0);
      near(got.scale, scale, "scale");
      near((((got.degrees - angle + 540) % 360) + 360) % 360, 180, "rotation");
      assert.ok(got.rms < 1e-8);
      const p = from[0];
      const back = apply(inverse(got.map), apply(got.map, p));
      const both = apply(compose(inverse(got.map), got.map), p);
      [0, 1].forEach((at) => assert.ok(Math.abs(back[at] - p[at]) < 1e-7 && Math.abs(both[at] - p[at]) < 1e-7));
    }
  });
  test("no map near the one found has a smaller rms (S5)", () => {
    const { src, dst } = vector("S5");
    const got = fit(src, dst);
    const rms = (/** @type {number[]} */ map) => Math.sqrt(src.reduce((/** @type {number} */ sum, /** @type {number[]} */ p, /** @type {number} */ at) => {
      const q = apply(map, p);
      return sum + (q[0] - dst[at][0]) ** 2 + (q[1] - dst[at][1]) ** 2;
    }, 0) / src.length);
    near(rms(got.map), got.rms, "rms");
    for (const [dc, ds, dx, dy] of [[1e-4, 0, 0, 0], [-1e-4, 0, 0, 0], [0, 1e-4, 0, 0], [0, -1e-4, 0, 0], [0, 0, 0.05, 0], [0, 0, 0, -0.05]]) {
      const [c, s, , , x, y] = got.map;
      assert.ok(rms([c + dc, s + ds, -s - ds, c + dc, x + dx, y + dy]) > got.rms);
    }
  });
});
