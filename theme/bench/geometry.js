// @ts-check
/* Plane geometry for photographs of coins: pure. Image coordinates, y down; degrees at the outside, radians within. */
((/** @type {any} */ tm) => {
  "use strict";
  const DEGREE = Math.PI / 180;
  /** Below this much of the rim a radius from clicks by hand is not to be trusted. Degrees. */
  const SHORT = 120;
  /** Two clicks nearer than this are one. px */
  const SAME = 0.5;
  const sum = (/** @type {number[]} */ list) => list.reduce((all, one) => all + one, 0);
  const mod = (/** @type {number} */ x, /** @type {number} */ n) => ((x % n) + n) % n;
  const refuse = (/** @type {string} */ trouble) => ({ trouble });

  /** X of AX = B by elimination with pivots; null where A is singular. @param {number[][]} a @param {number[][]} b */
  function solve(a, b) {
    const n = a.length;
    const m = a.map((row, i) => [...row, ...b[i]]);
    for (let i = 0; i < n; i++) {
      let best = i;
      for (let k = i + 1; k < n; k++) if (Math.abs(m[k][i]) > Math.abs(m[best][i])) best = k;
      if (!(Math.abs(m[best][i]) > 1e-300)) return null;
      [m[i], m[best]] = [m[best], m[i]];
      for (let k = 0; k < n; k++) {
        const f = k === i ? 0 : m[k][i] / m[i][i];
        if (f) m[k] = m[k].map((x, j) => x - f * m[i][j]);
      }
    }
    return m.map((row, i) => row.slice(n).map((x) => x / row[i]));
  }
  const unit = (/** @type {number} */ n) => Array.from({ length: n }, (_, i) => Array.from({ length: n }, (_, j) => +(i === j)));

  /** Derivatives by central differences. @param {(p: number[]) => number[]} f @param {number[]} p @param {number} step */
  function slopes(f, p, step) {
    const columns = p.map((_, j) => {
      const at = (/** @type {number} */ by) => f(p.map((x, k) => (k === j ? x + by : x)));
      const low = at(-step);
      return at(step).map((x, i) => (x - low[i]) / (2 * step));
    });
    return columns[0].map((_, i) => columns.map((column) => column[i]));
  }

  /** JᵀJ. @param {number[][]} j */
  const normal = (j) => j[0].map((_, a) => j[0].map((_, b) => sum(j.map((row) => row[a] * row[b]))));

  /** Levenberg–Marquardt: the parameters with the least sum of squares. @param {(p: number[]) => number[]} f @param {number[]} p @param {number} step */
  function settle(f, p, step) {
    const cost = (/** @type {number[]} */ r) => sum(r.map((x) => x * x));
    let r = f(p);
    let damp = 1e-3;
    for (let round = 0; round < 500 && damp < 1e12; round++) {
      const j = slopes(f, p, step);
      const n = normal(j);
      const g = p.map((_, a) => [-sum(j.map((row, i) => row[a] * r[i]))]);
      const move = solve(n.map((row, a) => row.map((x, b) => (a === b ? x * (1 + damp) + 1e-12 : x))), g);
      const next = move ? p.map((x, a) => x + move[a][0]) : p;
      const there = f(next);
      if (move && cost(there) <= cost(r)) {
        const still = Math.hypot(...move.map((x) => x[0])) < 1e-11 * (Math.hypot(...p) + 1);
        [p, r, damp] = [next, there, damp / 10];
        if (still) break;
      } else damp *= 10;
    }
    return { p, r, j: slopes(f, p, step) };
  }

  /** What can be fitted at all: centre and the two spreads, or a refusal. @param {Spot[]} points @param {number} least */
  function spread(points, least) {
    const bad = points.findIndex((p) => !Number.isFinite(p[0]) || !Number.isFinite(p[1]));
    if (bad >= 0) return refuse(`Point ${bad + 1} has no place.`);
    const apart = points.filter((p, i) => !points.slice(0, i).some((q) => tm.geometry.distance(p, q) < SAME));
    const [x, y] = [0, 1].map((k) => sum(points.map((p) => p[k])) / points.length);
    const [xx, xy, yy] = [0, 1, 2].map((k) => sum(points.map((p) => (k < 2 ? p[0] - x : p[1] - y) * (k ? p[1] - y : p[0] - x))));
    const root = Math.hypot(xx - yy, 2 * xy);
    // The smaller spread from the determinant: the difference would lose it.
    const s1 = Math.sqrt((xx + yy + root) / 2);
    const s2 = s1 ? Math.sqrt(Math.max(0, xx * yy - xy * xy)) / s1 : 0;
    if (apart.length < least) return refuse(`${least === 3 ? "Three" : "Five"} different points are needed; there ${apart.length === 1 ? "is" : "are"} ${apart.length}.`);
    // Exactly collinear clicks leave rounding only, which the determinant shows at half the digits.
    if (!(s2 > 1e-7 * s1)) return refuse("The points lie on one line. Click right round the rim.");
    return { trouble: "", x, y, size: s1 / Math.sqrt(points.length) };
  }

  /** Degrees of the rim between the outermost clicks: all but the widest gap. @param {Spot[]} points @param {Spot} centre */
  function spanned(points, centre) {
    const at = points.map((p) => tm.geometry.bearing(centre, p)).sort((a, b) => a - b);
    return 360 - Math.max(...at.map((x, i) => (i ? x - at[i - 1] : x + 360 - at[at.length - 1])));
  }

  /** Covariance from the clicks: as stated, or as they scatter if that is worse. @param {number[][]} j @param {number[]} r @param {number} click */
  function covariance(j, r, click) {
    const free = r.length - j[0].length;
    const s = Math.max(click, free > 0 ? Math.sqrt(sum(r.map((x) => x * x)) / free) : 0);
    return solve(normal(j), unit(j[0].length))?.map((row) => row.map((x) => x * s * s));
  }

  /**
   * Taubin's circle (1991), nearly free of the pull to small radii that a plain linear fit has on short arcs. As N. Chernov
   * puts it: about the mean, with z = x² + y², the least root of a cubic in the moments, by Newton's steps from nought.
   * @param {Spot[]} points
   */
  function algebraicCircle(points) {
    const [mx, my] = [0, 1].map((k) => sum(points.map((p) => p[k])) / points.length);
    const rows = points.map(([x, y]) => [x - mx, y - my, (x - mx) ** 2 + (y - my) ** 2]);
    const [[xx, xy, xz], [, yy, yz], [, , zz]] = normal(rows).map((row) => row.map((x) => x / points.length));
    const mean = xx + yy;
    const flat = xx * yy - xy * xy;
    const vary = zz - mean * mean;
    const cubic = [xz * (xz * yy - yz * xy) + yz * (yz * xx - xz * xy) - vary * flat, (vary + 4 * flat) * mean - xz * xz - yz * yz, -3 * mean * mean - zz, 4 * mean];
    let root = 0;
    for (let round = 0; round < 99; round++) {
      const [d, c, b, a] = cubic;
      const step = (d + root * (c + root * (b + root * a))) / (c + root * (2 * b + 3 * root * a));
      if (!(Math.abs(step) > 1e-14 * mean)) break;
      root -= step;
    }
    const det = 2 * (root * root - root * mean + flat);
    const [x, y] = [(xz * (yy - root) - yz * xy) / det, (yz * (xx - root) - xz * xy) / det];
    return [mx + x, my + y, Math.sqrt(x * x + y * y + mean)];
  }

  /** @param {Spot[]} points @param {number} click @returns {any} */
  function circle(points, click) {
    const base = /** @type {any} */ (spread(points, 3));
    if (base.trouble) return base;
    const away = (/** @type {number[]} */ p) => points.map((q) => Math.hypot(q[0] - p[0], q[1] - p[1]) - p[2]);
    const { p, r, j } = settle(away, algebraicCircle(points), 1e-5 * base.size);
    return finish("circle", points, p, r, j, click);
  }

  /** @param {"circle" | "ellipse"} shape @param {Spot[]} points @param {number[]} p @param {number[]} r @param {number[][]} j @param {number} click */
  function finish(shape, points, p, r, j, click) {
    const cov = covariance(j, r, click);
    const form = axes(shape, p);
    if (!cov || !p.every(Number.isFinite) || !(form.b > 0)) return refuse(`No ${shape} goes through these points.`);
    const arc = spanned(points, [p[0], p[1]]);
    const ua = carry((q) => axes(shape, q).a, p, cov, 0).u;
    const ratio = carry((q) => axes(shape, q).b / axes(shape, q).a, p, cov, 0);
    const tilt = tiltOfAxes(1, ratio.value);
    const warning = arc < SHORT
      ? `The clicks span only ${arc.toFixed(0)}° of the rim. ${shape === "circle" ? "The radius" : "The outline"} is not to be trusted: ${form.a.toFixed(1)} px, give or take ${(2 * ua).toFixed(1)} px.`
      : "";
    return {
      trouble: "", warning, shape, params: p, cov, cx: p[0], cy: p[1], ...form, ua, arc, tilt,
      rms: Math.sqrt(sum(r.map((x) => x * x)) / r.length),
      utilt: tilt > 0 ? Math.min(90, ratio.u / Math.sin(tilt * DEGREE) / DEGREE) : 0,
      most: shape === "circle" ? 0 : tiltOfAxes(1, Math.max(0, ratio.value - 2 * ratio.u)),
    };
  }

  /** Eigenvalues, real ones only, of a 3 × 3 matrix. @param {number[][]} m */
  function eigenvalues(m) {
    const t = sum(m.map((row, i) => row[i])) / 3;
    const [a, b, c] = m.map((row, i) => row.map((x, j) => (i === j ? x - t : x)));
    const det = a[0] * (b[1] * c[2] - b[2] * c[1]) - a[1] * (b[0] * c[2] - b[2] * c[0]) + a[2] * (b[0] * c[1] - b[1] * c[0]);
    const minors = a[0] * b[1] - a[1] * b[0] + a[0] * c[2] - a[2] * c[0] + b[1] * c[2] - b[2] * c[1];
    const q = Math.sqrt(Math.max(0, -minors / 3));
    const turn = Math.acos(Math.max(-1, Math.min(1, q ? det / (2 * q ** 3) : 0))) / 3;
    return [0, 1, 2].map((k) => t + 2 * q * Math.cos(turn - (2 * Math.PI * k) / 3));
  }
  const cross = (/** @type {number[]} */ a, /** @type {number[]} */ b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];

  /** Halíř and Flusser (1998), on points centred and scaled. @param {Spot[]} points */
  function directEllipse(points) {
    const base = /** @type {any} */ (spread(points, 5));
    if (base.trouble) return null;
    const near = points.map((p) => [(p[0] - base.x) / base.size, (p[1] - base.y) / base.size]);
    const all = normal(near.map(([x, y]) => [x * x, x * y, y * y, x, y, 1]));
    const part = (/** @type {number} */ i, /** @type {number} */ j) => all.slice(i, i + 3).map((row) => row.slice(j, j + 3));
    const low = solve(part(3, 3), part(3, 0))?.map((row) => row.map((x) => -x));
    if (!low) return null;
    const m = part(0, 0).map((row, i) => row.map((x, j) => x + sum(part(0, 3)[i].map((y, k) => y * low[k][j]))));
    const turned = [m[2].map((x) => x / 2), m[1].map((x) => -x), m[0].map((x) => x / 2)];
    for (const value of eigenvalues(turned)) {
      const rows = turned.map((row, i) => row.map((x, j) => (i === j ? x - value : x)));
      const v = [cross(rows[0], rows[1]), cross(rows[0], rows[2]), cross(rows[1], rows[2])].sort((a, b) => Math.hypot(...b) - Math.hypot(...a))[0];
      const [a, b, c] = v;
      const det = 4 * a * c - b * b;
      if (!(det > 0)) continue;
      const [d, e, f] = low.map((row) => sum(row.map((x, i) => x * v[i])));
      const x = (b * e - 2 * c * d) / det;
      const y = (b * d - 2 * a * e) / det;
      const level = -(f + (d * x + e * y) / 2);
      const root = Math.hypot(a - c, b) * Math.sign(a + c);
      const [long, short] = [Math.sqrt((2 * level) / (a + c - root)), Math.sqrt((2 * level) / (a + c + root))];
      if (long >= short) return [x * base.size + base.x, y * base.size + base.y, long * base.size, short * base.size, half(Math.atan2(-b, c - a) / 2 + (a + c < 0 ? Math.PI / 2 : 0))];
    }
    return null;
  }
  /** An axis has no head: into (−π/2, π/2]. */
  const half = (/** @type {number} */ x) => Math.PI / 2 - mod(Math.PI / 2 - x, Math.PI);

  /** Signed distance of a point from an ellipse about the origin; Newton from below never overshoots. @param {number} x @param {number} y @param {number} a @param {number} b */
  function fromEllipse(x, y, a, b) {
    [x, y] = [Math.abs(x), Math.max(Math.abs(y), 1e-12 * b)];
    let t = b * y - b * b;
    for (let round = 0; round < 60; round++) {
      const [u, v] = [(a * x) / (t + a * a), (b * y) / (t + b * b)];
      const step = (u * u + v * v - 1) / (2 * ((u * u) / (t + a * a) + (v * v) / (t + b * b)));
      t += step;
      if (!(Math.abs(step) > 1e-15 * a * a)) break;
    }
    return Math.hypot((x * t) / (t + a * a), (y * t) / (t + b * b)) * Math.sign(t);
  }

  /** @param {string} shape @param {number[]} p */
  function axes(shape, p) {
    if (shape === "circle") return { a: p[2], b: p[2], turn: 0 };
    const gap = Math.hypot(p[3], p[4]);
    return { a: p[2] + gap, b: p[2] - gap, turn: gap ? half(Math.atan2(p[4], p[3]) / 2) : 0 };
  }

  /** The direct fit, then the least sum of squared distances. @param {Spot[]} points @param {number} click @returns {any} */
  function ellipse(points, click) {
    const base = /** @type {any} */ (spread(points, 5));
    if (base.trouble) return base;
    const start = directEllipse(points);
    if (!start) return refuse("No ellipse goes through these points.");
    const away = (/** @type {number[]} */ p) => {
      const { a, b, turn } = axes("ellipse", p);
      const [c, s] = [Math.cos(turn), Math.sin(turn)];
      return points.map(([x, y]) => (b > 0 ? fromEllipse((x - p[0]) * c + (y - p[1]) * s, (y - p[1]) * c - (x - p[0]) * s, a, b) : 1e9 * base.size));
    };
    const [x, y, a, b, turn] = start;
    const gap = (a - b) / 2;
    const { p, r, j } = settle(away, [x, y, (a + b) / 2, gap * Math.cos(2 * turn), gap * Math.sin(2 * turn)], 1e-5 * base.size);
    return finish("ellipse", points, p, r, j, click);
  }

  const tiltOfAxes = (/** @type {number} */ a, /** @type {number} */ b) => Math.acos(Math.min(1, b / a)) / DEGREE;

  /** The shorter axis drawn out (or pressed in) about the centre. @param {string} shape @param {number[]} p @param {number} x @param {number} y @param {boolean} back */
  function along(shape, p, x, y, back) {
    const { a, b, turn } = axes(shape, p);
    const by = (back ? b / a : a / b) - 1;
    const [s, c] = [Math.sin(turn), Math.cos(turn)];
    const across = (y * c - x * s) * by;
    return /** @type {Spot} */ ([x - across * s, y + across * c]);
  }

  /** @param {(values: number[]) => number} f @param {number[]} values @param {number[][]} cov @param {number} click */
  function carry(f, values, cov, click) {
    const value = f(values);
    const slope = values.map((x, i) => {
      const step = 1e-4 * Math.max(1, Math.abs(x) * 1e-3);
      const at = (/** @type {number} */ by) => f(values.map((y, k) => (k === i ? y + by : y)));
      return (at(step) - at(-step)) / (2 * step);
    });
    const fitted = cov.length;
    const variance = sum(cov.map((row, i) => sum(row.map((x, j) => x * slope[i] * slope[j])))) + sum(slope.slice(fitted).map((x) => (x * click) ** 2));
    return { value, u: Math.sqrt(Math.max(0, variance)) };
  }

  const NO_LINE = "A line needs two different points.";
  const turned = (/** @type {number} */ x) => mod(x + 180, 360) - 180;
  /** @param {[Spot, Spot]} line */
  const reach = ([p, q]) => [q[0] - p[0], q[1] - p[1]];

  tm.geometry = /** @type {Geometry} */ ({
    circle, ellipse, algebraicCircle, directEllipse, tiltOfAxes, carry, turned,
    // One click out of place also leans an ellipse, but leaves it a bad fit.
    tilted: (/** @type {any} */ round, /** @type {any} */ oval) => !round.trouble && !oval.trouble && oval.tilt > Math.max(2, 3 * oval.utilt) && oval.arc > SHORT && oval.rms < round.rms / 2,
    flat: (shape, p, [x, y]) => along(shape, p, x - p[0], y - p[1], false),
    seen: (shape, p, [x, y]) => {
      const [u, v] = along(shape, p, x, y, true);
      return [u + p[0], v + p[1]];
    },
    perspective(distance, tilt) {
      const [c, s] = [Math.cos(tilt * DEGREE), Math.sin(tilt * DEGREE)];
      const [near, far] = [(c * distance) / (distance - s), (-c * distance) / (distance + s)];
      return { near, far, off: (near + far) / 2, semi: (near - far) / 2 };
    },
    bearing: (c, p) => (c[0] === p[0] && c[1] === p[1] ? NaN : mod(Math.atan2(p[0] - c[0], c[1] - p[1]) / DEGREE, 360)),
    place(centre, radius, up, point) {
      const bearing = mod(tm.geometry.bearing(centre, point) - up, 360);
      if (Number.isNaN(bearing)) return refuse("At the centre there is no clock.");
      const far = tm.geometry.distance(centre, point);
      return { trouble: "", bearing, hours: bearing / 30, radius: far, reach: far / radius };
    },
    distance: (p, q) => Math.hypot(p[0] - q[0], p[1] - q[1]),
    angle(one, other) {
      const [[a, b], [c, d]] = [reach(one), reach(other)];
      if (!(a || b) || !(c || d)) return refuse(NO_LINE);
      const directed = Math.atan2(a * d - b * c, a * c + b * d) / DEGREE;
      return { trouble: "", directed, undirected: Math.min(Math.abs(directed), 180 - Math.abs(directed)) };
    },
    lean(stroke, base) {
      const made = tm.geometry.angle(base, stroke);
      return made.trouble ? NaN : 90 - mod(180 - made.directed, 180);
    },
    offset(p, q, point) {
      const [dx, dy] = reach([p, q]);
      const length = Math.hypot(dx, dy);
      if (!length) return refuse(NO_LINE);
      const [x, y] = reach([p, point]);
      const far = (dx * x + dy * y) / length;
      return { trouble: "", offset: (dx * y - dy * x) / length, along: far, foot: [p[0] + (far * dx) / length, p[1] + (far * dy) / length] };
    },
    meets(p, q, a, b) {
      const [from, to] = [tm.geometry.offset(p, q, a), tm.geometry.offset(p, q, b)];
      if (from.trouble) return from;
      const size = Math.abs(from.offset) + Math.abs(to.offset);
      if (size < 1e-9 * (Math.abs(from.along) + Math.abs(to.along))) return refuse("The letter's line lies on the stroke's line: there is no one point.");
      if (Math.abs(from.offset - to.offset) < 1e-9 * size) return refuse("The two lines do not meet.");
      const t = from.offset / (from.offset - to.offset);
      return { trouble: "", t, hit: t >= -1e-12 && t <= 1 + 1e-12, point: [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])] };
    },
    up(lower, upper, reference) {
      const bearing = tm.geometry.bearing(lower, upper);
      if (Number.isNaN(bearing)) return refuse(NO_LINE);
      const length = tm.geometry.distance(lower, upper);
      return { trouble: "", bearing, tilt: turned(bearing - reference), length, u: Math.SQRT2 / length / DEGREE };
    },
    dieAxis(obverseUp, obverseMark, reverseUp, reverseMark, nominal) {
      const rotation = mod(reverseUp - reverseMark + obverseUp - obverseMark, 360);
      return { rotation, hours: rotation / 30 || 12, deviation: turned(rotation - nominal) };
    },
    circularMean(angles) {
      const [s, c] = [Math.sin, Math.cos].map((f) => sum(angles.map((x) => f(x * DEGREE))) / angles.length);
      const length = Math.hypot(s, c);
      if (!(length > 1e-9)) return refuse("These angles have no mean: they point all ways.");
      return { trouble: "", mean: mod(Math.atan2(s, c) / DEGREE, 360), length, sd: Math.sqrt(Math.max(0, -2 * Math.log(length))) / DEGREE };
    },
  });
})((window.Tellmark ??= {}));
