// @ts-check
/* Marks on a photograph of a coin and what follows from them: pure. Every result carries the uncertainty of all clicks it rests on. */
((/** @type {any} */ tm) => {
  "use strict";
  const geometry = /** @type {Geometry} */ (tm.geometry);
  /** Clicks of one instrument at most, and of one file. */
  const MOST = 200;

  /** @type {PhotoMarks["KINDS"]} */
  const KINDS = {
    place: { title: "Clock and reach", asks: ["the point"] },
    tilt: { title: "Tilt on a base line", against: "base-line", asks: ["one end of the stroke", "its other end", "one end of the base line", "its other end"] },
    turn: { title: "Tilt from the line to the centre", against: "centre", asks: ["one end of the stroke", "its other end", "the middle of the mark"] },
    meets: { title: "Stroke meets letter", asks: ["one end of the stroke", "its other end", "the foot of the letter", "its head"] },
    offset: { title: "Offset from a line", against: "line", asks: ["one end of the line", "its other end", "the point"] },
    distance: { title: "Distance", against: "points", asks: ["one end", "the other end"] },
    angle: { title: "Angle", asks: ["one end of the first line", "its other end", "one end of the second line", "its other end"] },
  };

  /** What a check may mean by its quantity, in words. @type {Record<string, string>} */
  const AGAINST = { "base-line": "on a base line", centre: "from the line to the centre", line: "from a line", points: "between two points" };

  /** @type {PhotoMarks["fresh"]} */
  const fresh = (issue) => ({
    format: "tellmark-marks", version: 1, picture: { name: "", width: 0, height: 0, bytes: 0, sha256: "" }, issue, face: "obverse",
    shape: "circle", click: 1, diameter: "", rim: [], topBy: "landmark", top: [], measures: [],
  });

  const isText = (/** @type {any} */ x) => typeof x === "string" && x.length <= 500;
  const isSpot = (/** @type {any} */ x) => Array.isArray(x) && x.length === 2 && x.every((y) => Number.isFinite(y) && Math.abs(y) < 1e6);
  const areSpots = (/** @type {any} */ x, /** @type {number} */ most) => Array.isArray(x) && x.length <= most && x.every(isSpot);
  /** The first thing that is not as it should be. @param {any} x */
  function wrong(x) {
    if (x?.format !== "tellmark-marks") return "It is no file of marks.";
    if (x.version !== 1) return "It was saved by a later version of this page.";
    const { picture: p, measures } = x;
    if (!p || !isText(p.name) || !isText(p.sha256) || ![p.width, p.height, p.bytes].every((y) => Number.isFinite(y) && y >= 0)) return "It does not say which picture it belongs to.";
    if (!isText(x.issue) || !isText(x.diameter) || !["obverse", "reverse"].includes(x.face) || !["circle", "ellipse"].includes(x.shape) || !["landmark", "upright"].includes(x.topBy)) return "Part of it is missing.";
    if (!(x.click > 0 && x.click <= 50)) return "Its uncertainty of a click is out of range.";
    if (!areSpots(x.rim, MOST) || !areSpots(x.top, 2)) return "Marks of its rim are damaged.";
    if (!Array.isArray(measures) || measures.length > MOST) return "Its measurements are damaged.";
    const bad = measures.find((m) => !m || !isText(m.id) || !isText(m.name) || ![undefined, true, false].includes(m.counts) || !Object.hasOwn(KINDS, m.kind) || !areSpots(m.points, KINDS[/** @type {MeasureKind} */ (m.kind)].asks.length));
    return bad || new Set(measures.map((m) => m.id)).size < measures.length ? "One of its measurements is damaged." : "";
  }

  /** @type {PhotoMarks["read"]} */
  function read(text) {
    let found = null;
    try {
      found = JSON.parse(text);
    } catch {
      return { photo: null, trouble: "It is no file of marks, or a damaged one." };
    }
    const trouble = wrong(found);
    return { photo: trouble ? null : found, trouble };
  }

  /** Hours and minutes of a clock: 7.4 is 7:24. @param {number} hours */
  function clock(hours) {
    const minutes = Math.round(hours * 60) % 720;
    return `${Math.floor(minutes / 60) || 12}:${String(minutes % 60).padStart(2, "0")}`;
  }

  /** As many decimals as an uncertainty has two digits of. @param {number} wide @param {number} most */
  const decimals = (wide, most) => (wide > 0 ? Math.min(most, Math.max(0, 1 - Math.floor(Math.log10(wide)))) : 2);

  /** @type {PhotoMarks["passed"]} */
  const passed = ({ value, u }) => {
    const places = decimals(u, 8);
    return { value: Number(value.toFixed(places)) || 0, u: Number(u.toFixed(places)) };
  };

  /** @param {number} value @param {number} u @param {string} unit */
  function give(value, u, unit) {
    const wide = 2 * u;
    const places = decimals(wide, unit ? 4 : 3);
    const gap = unit === "°" || !unit ? "" : " ";
    const text = (/** @type {number} */ x) => (Number(x.toFixed(places)) === 0 ? (0).toFixed(places) : x.toFixed(places)).replace("-", "−") + gap + unit;
    return `${text(value)} ± ${text(wide)}`;
  }

  /** @param {MarkedPhoto} photo */
  function fitted({ rim, shape, click }) {
    if (!rim.length) return null;
    return shape === "ellipse" ? geometry.ellipse(rim, click) : geometry.circle(rim, click);
  }

  /** @type {PhotoMarks["reckon"]} */
  function reckon(photo, diameter) {
    const { shape, click, top, topBy } = photo;
    const rim = fitted(photo);
    const fit = rim && !rim.trouble ? /** @type {RimFit} */ (rim) : null;
    const held = fit ? fit.params : [];
    const cov = fit ? fit.cov : [];
    const n = held.length;
    const knownTop = fit && top.length === (topBy === "landmark" ? 1 : 2) ? top : [];
    const radius = (/** @type {number[]} */ v) => (shape === "circle" ? v[2] : v[2] + Math.hypot(v[3], v[4]));
    const flat = (/** @type {number[]} */ v, /** @type {number} */ i) => {
      const at = /** @type {Spot} */ ([v[i], v[i + 1]]);
      return fit ? geometry.flat(shape, v, at) : at;
    };
    /** Bearing of the coin's top, from values that hold the clicks on it after the rim. @param {number[]} v */
    const upOf = (v) => (knownTop.length < 2 ? geometry.bearing([0, 0], flat(v, n)) : geometry.bearing(flat(v, n), flat(v, n + 2)));
    const base = [...held, ...knownTop.flat()];
    const up = knownTop.length ? geometry.carry(near(upOf, base, 360), base, cov, click) : { value: NaN, u: NaN };
    const scale = fit && diameter ? diameter / (2 * fit.a) : NaN;

    /** @param {Measure} measure @param {number} at @returns {Reckoned} */
    function one(measure, at) {
      const { kind, points } = measure;
      const name = measure.name || `${KINDS[kind].title} ${at + 1}`;
      /** @type {Reckoned} */
      const empty = { id: measure.id, name, trouble: "", words: "", quantity: "", against: "", value: NaN, u: NaN, unit: "", at: null };
      const not = (/** @type {string} */ trouble) => ({ ...empty, trouble });
      const left = KINDS[kind].asks.slice(points.length);
      if (left.length) return not(`Still to mark: ${left[0]}.`);
      const values = [...base, ...points.flat()];
      const p = (/** @type {number[]} */ v, /** @type {number} */ i) => flat(v, base.length + 2 * i);
      const carried = (/** @type {(v: number[]) => number} */ f, /** @type {number} */ round = 0) => geometry.carry(round ? near(f, values, round) : f, values, cov, click);
      const length = (/** @type {Carried} */ c) => (Number.isNaN(scale) ? { ...c, unit: "px" } : { ...c, unit: "mm" });
      const mm = (/** @type {number[]} */ v, /** @type {number} */ px) => (Number.isNaN(scale) ? px : (px * /** @type {number} */ (diameter)) / (2 * radius(v)));
      const tell = (/** @type {Carried & { unit: string }} */ c, /** @type {string} */ after = "", /** @type {Reckoned["quantity"]} */ quantity = "") =>
        Number.isFinite(c.value) && Number.isFinite(c.u) ? { ...empty, ...c, quantity: c.unit === "px" ? /** @type {const} */ ("") : quantity, against: quantity && (KINDS[kind].against ?? ""), words: give(c.value, c.u, c.unit) + after } : not("Two of its points are one: a line needs two different points.");

      if (kind === "place") {
        if (!fit) return not("Mark the rim first.");
        const reach = carried((v) => Math.hypot(...p(v, 0)) / radius(v));
        const far = `reach ${give(reach.value, reach.u, "")}`;
        if (!knownTop.length) return { ...empty, ...reach, words: far, trouble: "Mark the top of the coin for the clock." };
        const turn = carried((v) => geometry.bearing([0, 0], p(v, 0)) - upOf(v), 360);
        if (!Number.isFinite(turn.u) || reach.value < 2 * reach.u) return { ...empty, words: far, ...reach, trouble: "At the centre there is no clock." };
        const hours = (((turn.value % 360) + 360) % 360) / 30;
        return { ...empty, ...reach, words: `${clock(hours)} ± ${Math.max(1, Math.round(turn.u * 4))} min, ${far}`, at: { hours, reach: reach.value } };
      }
      if (kind === "distance") return tell(length(carried((v) => mm(v, geometry.distance(p(v, 0), p(v, 1))))), "", "offset");
      if (kind === "offset") return tell(length(carried((v) => mm(v, Math.abs(number(geometry.offset(p(v, 0), p(v, 1), p(v, 2)), "offset"))))), "", "offset");
      if (kind === "angle") return tell({ ...carried((v) => number(geometry.angle([p(v, 0), p(v, 1)], [p(v, 2), p(v, 3)]), "undirected")), unit: "°" });
      if (kind === "meets") {
        const t = carried((v) => number(geometry.meets(p(v, 0), p(v, 1), p(v, 2), p(v, 3)), "t"));
        const met = geometry.meets(p(values, 0), p(values, 1), p(values, 2), p(values, 3));
        if (met.trouble) return not(met.trouble);
        // A range as long as the letter itself says nothing of where on it: the stroke runs too nearly along it.
        if (4 * t.u > 1) return not("The stroke and the letter run too nearly the same way: where they meet cannot be told from these clicks.");
        return tell({ ...t, unit: "" }, t.value - 2 * t.u > 1 ? " of its height: above it" : t.value + 2 * t.u < 0 ? " of its height: below it" : " of its height, from the foot");
      }
      if (kind === "turn" && !fit) return not("Mark the rim first.");
      const tilt = carried((v) => {
        const [a, b] = [p(v, 0), p(v, 1)];
        const [x, y] = p(v, 2);
        // The base line then runs across the line from the middle of the mark to the centre: an upright need not stand in its middle.
        return geometry.lean([a, b], [[x, y], kind === "turn" ? [x - y, y + x] : p(v, 3)]);
      }, 180);
      return tell({ ...tilt, unit: "°" }, Math.abs(tilt.value) > 2 * tilt.u ? (tilt.value > 0 ? ", to the right" : ", to the left") : "", "tilt");
    }
    const leans = Boolean(fit) && shape === "circle" && photo.rim.length > 5 && geometry.tilted(fit ?? { trouble: "-" }, geometry.ellipse(photo.rim, click));
    return { rim, leans, up, scale, results: photo.measures.map(one) };
  }

  /** A property of what may be a refusal. @param {any} got @param {string} name */
  const number = (got, name) => (got.trouble ? NaN : got[name]);

  /** An angle that does not jump from 359 to 0 while it is varied. @param {(v: number[]) => number} f @param {number[]} values @param {number} round */
  function near(f, values, round) {
    const there = f(values);
    return (/** @type {number[]} */ v) => there + (((f(v) - there + round * 1.5) % round) + round) % round - round / 2;
  }

  /** @type {PhotoMarks["onImage"]} */
  function onImage({ rim, up }, hours, reach) {
    if (!rim || rim.trouble || Number.isNaN(up.value)) return null;
    const fit = /** @type {RimFit} */ (rim);
    const turn = ((hours * 30 + up.value) * Math.PI) / 180;
    return geometry.seen(fit.shape, fit.params, [fit.a * reach * Math.sin(turn), -fit.a * reach * Math.cos(turn)]);
  }

  /** Which tool a check means; empty where it does not say. @param {KnownCheck & { against?: string }} check */
  const meant = (check) => (check.against && Object.hasOwn(AGAINST, check.against) ? check.against : "");
  const either = (/** @type {string} */ quantity) => (quantity === "tilt" ? [AGAINST["base-line"], AGAINST.centre] : [AGAINST.line, AGAINST.points]).join(" or ");

  /** @type {PhotoMarks["counts"]} */
  const counts = ({ quantity, against }, issue, country) => {
    const fits = issue.checks.map((one) => country.checks[one.check]).filter((check) => quantity && check.quantity === quantity && ["", against].includes(meant(check)));
    return fits.length ? `${quantity} ${AGAINST[against]}` : "";
  };

  /** @type {PhotoMarks["faceOf"]} */
  const faceOf = (picture, issue, country) => {
    for (const words of [picture.name, picture.alt, picture.src]) {
      const said = /** @type {MarkedPhoto["face"][]} */ (["obverse", "reverse"]).filter((face) => new RegExp(`(^|[^a-z])${face}([^a-z]|$)`, "i").test(words));
      if (said.length === 1) return said[0];
    }
    // What it shows may all be on one face.
    const faces = new Set(issue.checks.flatMap(({ check, at }) => (at && picture.shows.includes(country.checks[check].id) ? [at.face] : [])));
    return faces.size === 1 ? [...faces][0] : "";
  };

  /** @type {PhotoMarks["compare"]} */
  function compare(result, issue, country, face) {
    const onFace = (/** @type {FacePoint | null} */ at) => !at || at.face === face;
    if (result.at) {
      const { hours, reach } = result.at;
      const spot = (/** @type {number} */ h, /** @type {number} */ r) => /** @type {Spot} */ ([r * Math.sin((h * Math.PI) / 6), -r * Math.cos((h * Math.PI) / 6)]);
      const pins = [
        ...issue.checks.map((one) => ({ at: one.at, what: `${one.number ? `look ${one.number}` : "a look"}: ${country.checks[one.check].ask}` })),
        ...issue.signs.map((one) => ({ at: one.at, what: `true dies: ${one.text}` })),
      ];
      return pins.flatMap(({ at, what }) => {
        if (!at || at.face !== face) return [];
        const far = geometry.distance(spot(hours, reach), spot(at.clock, at.reach));
        return far < 0.15 ? [{ far, lean: /** @type {const} */ ("even"), words: `${far < 0.03 ? "At" : `${far.toFixed(2)} radius from`} the place on file${at.about ? " (about)" : ""} of ${what}`.replace(/[.?]$/, "") }] : [];
      }).sort((a, b) => a.far - b.far).slice(0, 2).map(({ lean, words }) => ({ lean, words }));
    }
    if (!result.quantity) return [];
    return issue.checks.flatMap((placed) => {
      const check = country.checks[placed.check];
      if (check.quantity !== result.quantity || !onFace(placed.at)) return [];
      const means = meant(check);
      const look = placed.number ? ` (look ${placed.number})` : "";
      // Another kind of tilt or offset is another number altogether.
      if (means && means !== result.against) return [{ lean: /** @type {const} */ ("even"), words: `Not compared: the ${check.quantity} on file is ${AGAINST[means]}${look}` }];
      /** Those who show the same stand in one line. @type {Map<string, number[]>} */
      const spans = new Map();
      placed.ranges.forEach(([who, range]) => {
        const [low, high] = "mean" in range ? [range.mean - 2 * range.sd, range.mean + 2 * range.sd] : [range.low, range.high];
        spans.set(`${low} ${high}`, [...(spans.get(`${low} ${high}`) ?? []), who]);
      });
      return [...spans].map(([span, whos]) => {
        const [low, high] = span.split(" ").map(Number);
        const inside = result.value >= low && result.value <= high;
        const touches = result.value + 2 * result.u >= low && result.value - 2 * result.u <= high;
        const true_ = whos.includes(0);
        const others = whos.filter((who) => who).map((who) => `“${issue.hypotheses[who].title}”`);
        const whose = [...(true_ ? ["the true dies"] : []), ...others].join(", ");
        const range = `${Number(low.toFixed(2))} to ${Number(high.toFixed(2))} ${check.unit}`.replace(/-/g, "−").replace(" °", "°");
        if (!means) return { lean: /** @type {const} */ ("even"), words: `On file, without saying whether it is ${either(check.quantity)}: ${range}: ${whose}${look}` };
        const words = `${inside ? "Within" : touches ? "Not clearly outside" : "Outside"} ${range}`;
        /** @type {"true" | "false" | "even"} */
        const lean = !true_ || (touches && !inside) ? "even" : inside ? "true" : "false";
        return { lean, words: `${words}: ${whose}${look}` };
      }).sort((a, b) => Number(a.lean === "even") - Number(b.lean === "even"));
    });
  };

  tm.photoMarks = /** @type {PhotoMarks} */ ({ KINDS, fresh, read, reckon, onImage, compare, counts, passed, faceOf, clock });
})((window.Tellmark ??= {}));
