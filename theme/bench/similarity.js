// @ts-check
/* The similarity that lays points on points, after S. Umeyama (1991), IEEE Transactions on Pattern Analysis and Machine
   Intelligence 13, 376–380; in the plane it has a closed form. A map is [a, b, c, d, e, f] as a canvas takes it. Pure. */
((/** @type {BenchGlobal} */ tm) => {
  "use strict";
  const ROUNDING = 1e-22;
  /** @typedef {[number, number]} Point @typedef {[number, number, number, number, number, number]} Plane */

  /** @param {Plane} m @param {Point} p @returns {Point} */
  const apply = (m, p) => [m[0] * p[0] + m[2] * p[1] + m[4], m[1] * p[0] + m[3] * p[1] + m[5]];

  /** First `inner`, then `outer`. @param {Plane} outer @param {Plane} inner @returns {Plane} */
  function compose(outer, [p, q, r, s, e, f]) {
    const [a, b, c, d] = outer;
    return [a * p + c * q, b * p + d * q, a * r + c * s, b * r + d * s, ...apply(outer, [e, f])];
  }

  /** @param {Plane} m @returns {Plane} */
  function inverse([a, b, c, d, e, f]) {
    const det = a * d - b * c;
    return [d / det, -b / det, -c / det, a / det, (c * f - d * e) / det, (b * e - a * f) / det];
  }

  /** @param {Point[]} points */
  function cloud(points) {
    const mean = (/** @type {0 | 1} */ at) => points.reduce((sum, p) => sum + p[at], 0) / points.length;
    const [x, y] = [mean(0), mean(1)];
    const spread = points.reduce((sum, p) => sum + (p[0] - x) ** 2 + (p[1] - y) ** 2, 0);
    // Points that differ by rounding only are one.
    return { x, y, spread, same: spread <= points.reduce((sum, p) => sum + p[0] ** 2 + p[1] ** 2, 0) * 1e-24 };
  }

  /** @param {Point[]} src @param {Point[]} dst */
  function refusal(src, dst) {
    const spread = "are all at one place. Set them apart.";
    if (src.length !== dst.length) return "Set each landmark in both pictures.";
    if (![...src, ...dst].flat().every(Number.isFinite)) return "A landmark's place is no number.";
    if (src.length < 2) return "Two landmarks are needed in both, three to have a residual.";
    if (cloud(src).same) return `The landmarks of the second picture ${spread}`;
    if (cloud(dst).same) return `The scale would be 0: the landmarks of the first picture ${spread}`;
    return "";
  }

  /** Null where no rotation does better than another. @param {Point[]} src @param {Point[]} dst @param {boolean} mirrored */
  function solve(src, dst, mirrored) {
    const [from, to, hand] = [cloud(src), cloud(dst), mirrored ? -1 : 1];
    let [c, s] = [0, 0];
    src.forEach((p, at) => {
      const [x, y, u, v] = [p[0] - from.x, hand * (p[1] - from.y), dst[at][0] - to.x, dst[at][1] - to.y];
      c += (x * u + y * v) / from.spread;
      s += (x * v - y * u) / from.spread;
    });
    if (Math.hypot(c, s) <= 1e-9 * Math.sqrt(to.spread / from.spread)) return null;
    /** @type {Plane} */
    const turn = [c, s, -hand * s, hand * c, 0, 0];
    const [x, y] = apply(turn, [from.x, from.y]);
    const map = compose([1, 0, 0, 1, to.x - x, to.y - y], turn);
    const residuals = src.map((p, at) => {
      const [u, v] = apply(map, p);
      return Math.hypot(u - dst[at][0], v - dst[at][1]);
    });
    const sum = residuals.reduce((all, r) => all + r * r, 0);
    return { map, residuals, sum: sum <= ROUNDING * to.spread ? 0 : sum, scale: Math.hypot(c, s), degrees: (Math.atan2(s, c) * 180) / Math.PI };
  }

  /**
   * The landmark without which others agree best, if hardly by chance: its shift is two unknowns more,
   * so even errors do it with chance (sum without / sum with)^(n − 3), times n for the worst of n.
   * @param {Point[]} src @param {Point[]} dst @param {boolean} mirrored @param {number} sum
   */
  function outlier(src, dst, mirrored, sum) {
    const n = src.length;
    if (n < 4 || !sum) return null;
    const left = src.map((_, at) => {
      const [a, b] = [src, dst].map((list) => list.filter((__, place) => place !== at));
      return (refusal(a, b) ? null : solve(a, b, mirrored)?.sum) ?? Infinity;
    });
    const least = Math.min(...left);
    return n * (least / sum) ** (n - 3) < 0.01 ? { at: left.indexOf(least), rms: Math.sqrt(least / (n - 1)) } : null;
  }

  /**
   * Lays `src` on `dst`, or says why not. Degrees go clockwise in a picture, where y points down.
   * `mirrored` flips y of `src` first. `redundancy`: numbers beyond unknowns; 0: any fit is exact.
   * `better`: rms of the other hand if five times as good.
   * @param {Point[]} src @param {Point[]} dst @param {boolean} [mirrored]
   */
  function fit(src, dst, mirrored = false) {
    const why = refusal(src, dst);
    if (why) return { why };
    const n = src.length;
    const found = solve(src, dst, mirrored);
    const other = solve(src, dst, !mirrored)?.sum ?? Infinity;
    if (!found) return { why: "No rotation fits better than another. Is one picture mirrored?" };
    const { sum, ...rest } = found;
    return {
      why, ...rest, mirrored, redundancy: 2 * n - 4, rms: Math.sqrt(sum / n), better: sum > 25 * other ? Math.sqrt(other / n) : null,
      outlier: outlier(src, dst, mirrored, sum),
    };
  }

  tm.similarity = { fit, apply, compose, inverse };
})((window.Tellmark ??= {}));
