// @ts-check
/* What an overlay consists of, read, written, counted, put in words, and words put into a PNG. Pure; types in overlay.d.ts. */
((/** @type {BenchGlobal} */ tm) => {
  "use strict";
  const { fit, apply } = tm.similarity;
  const SIDES = /** @type {const} */ (["first", "second"]);
  const KINDS = { hollow: "hollow", lump: "lump", line: "raised line" };
  const LIMITS = /** @type {const} */ ([["landmarks", 99], ["marks", 999]]);
  const counted = (/** @type {unknown} */ n, /** @type {unknown} */ one) => `${n} ${one}${n === 1 ? "" : "s"}`;
  const text = (/** @type {unknown} */ value) => (typeof value === "string" ? value.slice(0, 200) : "");
  const whole = (/** @type {any} */ n) => (Number.isInteger(n) && n > 0 && n < 1e6 ? n : 0);

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
          else overlay.marks.push({ first, second, kind: Object.hasOwn(KINDS, item.kind) ? item.kind : "hollow", state: ["same", "missing"].includes(item.state) ? item.state : "open" });
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

    repeated({ marks }, map) {
      const same = marks.filter(({ state }) => state === "same");
      const far = same.flatMap(({ first, second }) => {
        if (!map || !first || !second) return [];
        const [x, y] = apply(map, second);
        return [(x - first[0]) ** 2 + (y - first[1]) ** 2];
      });
      const rms = Math.sqrt(far.reduce((sum, d) => sum + d, 0) / far.length);
      const kinds = Object.entries(KINDS).map(([kind, word]) => counted(same.filter((mark) => mark.kind === kind).length, word)).filter((words) => !words.startsWith("0"));
      const missing = marks.filter(({ state }) => state === "missing").length;
      let words = `${counted(same.length, "mark")} at the same place`;
      if (far.length) words += ` within ${rms.toFixed(1)} px rms${far.length < same.length ? ` (${far.length} placed in both)` : ""}`;
      if (kinds.length) words += `: ${kinds.join(", ")}`;
      return { same: same.length, placed: far.length, rms, missing, words: `${words}. ${missing} looked for and not found.` };
    },

    words(overlay, found, shown) {
      const { turn, repeated } = /** @type {OverlayTools} */ (tools);
      const [first, second] = overlay.pictures.map(({ name, width, height }) => `${name || "none"} (${width} × ${height} px)`);
      const fitted = `Second picture turned ${turn(found)}, scaled by ${found.scale?.toFixed(4)}, ${found.mirrored ? "" : "not "}mirrored. ${counted(found.used.length, "landmark")}, residual ${found.redundancy ? `${found.rms.toFixed(2)} px rms of the first picture` : "none: two always fit"}.`;
      const lines = [`First picture: ${first}. Second picture: ${second}.`, found.why ? `Not brought together: ${found.why}` : fitted];
      if (found.outlier) lines.push(`Landmark ${found.outlier.at + 1} does not agree with the others.`);
      if (shown) lines.push(`Shown: ${shown}.`);
      if (overlay.marks.length) lines.push(repeated(overlay, found.map).words);
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
