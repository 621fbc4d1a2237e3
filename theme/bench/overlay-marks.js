// @ts-check
/* What an overlay consists of, read, written, counted, put in words, and words put into a PNG. Pure; types in overlay.d.ts. */
((/** @type {BenchGlobal} */ tm) => {
  "use strict";
  const { fit, apply } = tm.similarity;
  const SIDES = /** @type {const} */ (["first", "second"]);
  /** What a mark is said to be; nothing, until the examiner says it. */
  const KINDS = { "": "not said", hollow: "hollow", lump: "lump", line: "raised line" };
  const LIMITS = /** @type {const} */ ([["landmarks", 99], ["marks", 999]]);
  const counted = (/** @type {unknown} */ n, /** @type {unknown} */ one) => `${n} ${one}${n === 1 ? "" : "s"}`;
  const text = (/** @type {unknown} */ value) => (typeof value === "string" ? value.slice(0, 200) : "");
  const whole = (/** @type {any} */ n) => (Number.isInteger(n) && n > 0 && n < 1e6 ? n : 0);

  /*
   * When a mark may be said to lie at the same place in both pictures. The landmarks' residual, by its degrees of freedom
   * (2n − 4), gives the error of one pair along x and along y; a mark has that error of its own, and the fit's at its place,
   * which grows with the distance from the landmarks' middle. The square of its distance over that variance is an F ratio of
   * 2 and 2n − 4 degrees of freedom, whose tail has a closed form. Beyond what 1 pair in 100 of the same mark would reach by
   * chance it is not the same place. Where that is farther than a twentieth of the landmarks' own reach, no claim is made: a
   * mark strewn anywhere over them would then fall within it more often than once in 400.
   */
  const MISSED = 0.01;
  const CHANCE = 1 / 20;
  /** No pair of clicks is better, px of the first picture; a small residual of few landmarks may be luck. */
  const LEAST = 1;

  /** A place, null for none, or undefined for what is neither. @param {any} value @returns {Spot | null | undefined} */
  function place(value) {
    if (value === null || value === undefined) return null;
    if (Array.isArray(value) && value.length === 2 && value.every((x) => Number.isFinite(x) && Math.abs(x) < 1e6)) return [value[0], value[1]];
  }

  /** @param {Uint8Array} bytes */
  function crc(bytes) {
    let sum = ~0;
    for (const byte of bytes) {
      sum ^= byte;
      for (let bit = 0; bit < 8; bit++) sum = (sum >>> 1) ^ (sum & 1 ? 0xedb88320 : 0);
    }
    return ~sum;
  }

  /** @type {Partial<OverlayTools>} */
  const tools = {
    SIDES, KINDS,
    letter: (at) => (at < 26 ? "" : String.fromCharCode(96 + Math.floor(at / 26))) + String.fromCharCode(97 + (at % 26)),
    turn: (found) => `${Math.abs(found.degrees).toFixed(2)}° ${found.degrees < 0 ? "anticlockwise" : "clockwise"}`,

    fresh() {
      const picture = { name: "", width: 0, height: 0, sha256: "" };
      return { format: "tellmark-overlay", version: 1, pictures: [picture, { ...picture }], mirrored: false, landmarks: [], marks: [] };
    },

    read(body) {
      const no = (/** @type {string} */ why) => ({ overlay: null, why });
      let found;
      try {
        found = JSON.parse(body);
      } catch {
        return no("This file is damaged, or was not saved by the overlay.");
      }
      if (found?.format !== "tellmark-overlay") return no("This file holds no landmarks of an overlay.");
      if (found.version !== 1) return no(`This file was saved by a later Tellmark, version ${text(String(found.version))}.`);
      const overlay = /** @type {OverlayTools} */ (tools).fresh();
      overlay.mirrored = found.mirrored === true;
      overlay.pictures = [0, 1].map((at) => {
        const { name, width, height, sha256 } = found.pictures?.[at] ?? {};
        return { name: text(name), width: whole(width), height: whole(height), sha256: text(sha256) };
      });
      for (const [list, most] of LIMITS) {
        const items = found[list] ?? [];
        if (!Array.isArray(items) || items.length > most) return no(`This file has no list of ${list}, or more than ${most}.`);
        for (const [at, item] of items.entries()) {
          const [first, second] = SIDES.map((side) => place(item?.[side]));
          if (first === undefined || second === undefined || !(first || second)) return no(`The places of number ${at + 1} of the ${list} in this file cannot be read.`);
          if (list === "landmarks") overlay.landmarks.push({ first, second, off: item.off === true });
          else overlay.marks.push({ first, second, kind: Object.hasOwn(KINDS, item.kind) ? item.kind : "", state: ["same", "missing"].includes(item.state) ? item.state : "open" });
        }
      }
      return { overlay, why: "" };
    },

    bring({ landmarks, mirrored }) {
      const used = landmarks.flatMap(({ first, second, off }, at) => (first && second && !off ? [at] : []));
      const [first, second] = SIDES.map((side) => used.map((at) => landmarks[at][side]));
      const { residuals, ...found } = fit(second, first, mirrored);
      return { ...found, used, outlier: found.outlier && { at: used[found.outlier.at], rms: found.outlier.rms }, of: (at) => residuals?.[used.indexOf(at)] };
    },

    trust({ landmarks }, found) {
      const no = (/** @type {string} */ why) => ({ why, limit: () => NaN });
      if (!found.map) return no(found.why);
      if (!found.redundancy) return no("Two landmarks always fit: set a third, so that it shows how well.");
      if (found.outlier) return no(`Landmark ${found.outlier.at + 1} does not agree with the others: set it anew, or leave it out.`);
      if (found.better != null) return no(`The other hand fits far better: ${found.mirrored ? "do not mirror" : "mirror"} the second picture.`);
      const spots = /** @type {Spot[]} */ (found.used.map((at) => landmarks[at].first));
      const n = spots.length;
      const [x, y] = [0, 1].map((k) => spots.reduce((sum, p) => sum + p[k], 0) / n);
      const spread = spots.reduce((sum, p) => sum + (p[0] - x) ** 2 + (p[1] - y) ** 2, 0);
      const sigma = Math.max(LEAST, found.rms * Math.sqrt(n / found.redundancy));
      const far = found.redundancy * (MISSED ** (-2 / found.redundancy) - 1);
      const limit = (/** @type {Spot} */ p) => sigma * Math.sqrt(far * (1 + 1 / n + ((p[0] - x) ** 2 + (p[1] - y) ** 2) / spread));
      const room = CHANCE * Math.sqrt(spread / n);
      if (limit([x, y]) > room) return no(`By these landmarks a mark may lie ${limit([x, y]).toFixed(0)} px off and be the same: too far to tell it from chance. More landmarks, set nearer in, narrow it.`);
      return { why: "", limit: (p) => (limit(p) > room ? NaN : limit(p)) };
    },

    judge(overlay, found, { first, second, state }) {
      if (state === "missing") return { is: "missing", far: NaN, words: "not there" };
      if (state !== "same") return { is: "open", far: NaN, words: "" };
      if (!first || !second) return { is: "eye", far: NaN, words: "there by eye, not placed" };
      if (!found.map) return { is: "untold", far: NaN, words: "not said" };
      const [x, y] = apply(found.map, second);
      const far = Math.hypot(x - first[0], y - first[1]);
      const { why, limit } = /** @type {OverlayTools} */ (tools).trust(overlay, found);
      const most = limit(first);
      if (why) return { is: "untold", far, words: "not said" };
      if (Number.isNaN(most)) return { is: "untold", far, words: "not said: too far from the landmarks" };
      return far <= most ? { is: "same", far, words: `at the same place, within ${most.toFixed(1)} px` } : { is: "off", far, words: `not at the same place: over ${most.toFixed(1)} px off` };
    },

    repeated(overlay, found) {
      const { trust, judge } = /** @type {OverlayTools} */ (tools);
      const { why } = trust(overlay, found);
      const judged = overlay.marks.map((mark) => ({ ...judge(overlay, found, mark), kind: mark.kind }));
      const count = (/** @type {string} */ what) => judged.filter(({ is }) => is === what).length;
      const same = judged.filter(({ is }) => is === "same");
      const kinds = Object.entries(KINDS).flatMap(([kind, word]) => {
        const many = same.filter((mark) => mark.kind === kind).length;
        return many ? [kind ? counted(many, word) : `${many} of a kind not said`] : [];
      });
      const untold = count("untold");
      let words = why && untold ? `${counted(untold, "mark")} set in both pictures; whether at the same place is not said. ${why}` : `${counted(same.length, "mark")} at the same place`;
      if (same.length) words += `, at most ${Math.max(...same.map(({ far }) => far)).toFixed(1)} px apart (landmarks: residual ${found.rms.toFixed(1)} px rms): ${kinds.join(", ")}`;
      const also = /** @type {[number, string][]} */ ([[why ? 0 : untold, "too far from the landmarks to say"], [count("off"), "not at the same place, farther off than the landmarks explain"], [count("eye"), "there by eye, not placed"]]);
      const more = also.flatMap(([many, what]) => (many ? [`${many} ${what}.`] : []));
      return { same: same.length, off: count("off"), eye: count("eye"), untold, missing: count("missing"), words: [words.replace(/\.?$/, "."), ...more, `${count("missing")} looked for and not found.`].join(" ") };
    },

    alike: (one, other) => (one.sha256 && other.sha256 ? one.sha256 === other.sha256 : one.width === other.width && one.height === other.height && one.name === other.name),
    slot: ({ pictures }) => `tellmark-overlay-${pictures.map((one) => one.sha256 || (one.width ? `${one.name} ${one.width} ${one.height}` : "none")).join("-")}`,

    words(overlay, found, shown) {
      const { turn, repeated } = /** @type {OverlayTools} */ (tools);
      const [first, second] = overlay.pictures.map(({ name, width, height }) => `${name || "none"} (${width} × ${height} px)`);
      const fitted = `Second picture turned ${turn(found)}, scaled by ${found.scale?.toFixed(4)}, ${found.mirrored ? "" : "not "}mirrored. ${counted(found.used.length, "landmark")}, residual ${found.redundancy ? `${found.rms.toFixed(2)} px rms of the first picture` : "none: two always fit"}.`;
      const lines = [`First picture: ${first}. Second picture: ${second}.`, found.why ? `Not brought together: ${found.why}` : fitted];
      const left = overlay.landmarks.map(({ off }, at) => `${at + 1}: ${off ? "left out" : found.of(at)?.toFixed(2) ?? "not in both"}`);
      if (found.redundancy && left.length) lines.push(`Residual of each landmark, px: ${left.join("; ")}.`);
      if (found.outlier) lines.push(`Landmark ${found.outlier.at + 1} does not agree with the others.`);
      if (shown) lines.push(`Shown: ${shown}.`);
      if (overlay.marks.length) lines.push(repeated(overlay, found).words);
      return lines;
    },

    withText(png, texts) {
      const chunks = texts.map(([key, value]) => {
        const data = new TextEncoder().encode(`iTXt${key}\0\0\0\0\0${value}`);
        const chunk = new Uint8Array(data.length + 8);
        const view = new DataView(chunk.buffer);
        view.setUint32(0, data.length - 4);
        chunk.set(data, 4);
        view.setInt32(data.length + 4, crc(data));
        return chunk;
      });
      // The signature and the header are 33 bytes of every PNG.
      return /** @type {BlobPart[]} */ ([png.slice(0, 33), ...chunks, png.slice(33)]);
    },
  };
  tm.overlay = tools;
})((window.Tellmark ??= {}));
