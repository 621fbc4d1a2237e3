// @ts-check
/* Marks, lines and places on file, as the stage is to draw them: pure. */
((/** @type {any} */ tm) => {
  "use strict";
  const { KINDS, onImage } = /** @type {PhotoMarks} */ (tm.photoMarks);

  /** @param {RimFit} fit */
  function outline({ cx, cy, a, b, turn }) {
    const [x, y] = [a * Math.cos(turn), a * Math.sin(turn)];
    const arc = `A${a} ${b} ${(turn * 180) / Math.PI} 0 1`;
    return `M${cx + x} ${cy + y}${arc} ${cx - x} ${cy - y}${arc} ${cx + x} ${cy + y}`;
  }

  /** @type {(photo: MarkedPhoto, found: ReckonedPhoto, issue: KnownIssue | null) => { marks: StageMark[], lines: StageLine[] }} */
  tm.photoDrawing = (photo, found, issue) => {
    /** @type {StageMark[]} */
    const marks = [];
    /** @type {StageLine[]} */
    const lines = [];
    const fit = found.rim && !found.rim.trouble ? /** @type {RimFit} */ (found.rim) : null;
    if (fit) lines.push({ d: outline(fit), look: "rim" });
    const twelve = onImage(found, 0, 1);
    if (fit && twelve) lines.push({ d: `M${fit.cx} ${fit.cy}L${twelve}`, look: "up" });
    for (const pin of pins(issue, photo.face)) {
      const at = onImage(found, pin.at.clock, pin.at.reach);
      if (at) marks.push({ id: `pin:${marks.length}`, at, name: "", label: pin.label, look: `pin${pin.at.about ? " about" : ""}`, fixed: true });
    }
    photo.rim.forEach((at, i) => marks.push({ id: `rim:${i}`, at, name: `Rim ${i + 1}`, label: "", look: "on-rim" }));
    photo.top.forEach((at, i) => marks.push({ id: `top:${i}`, at, name: photo.topBy === "landmark" ? "Top" : i ? "Head of the upright" : "Foot of the upright", label: i || photo.topBy === "landmark" ? "12" : "", look: "on-top" }));
    photo.measures.forEach(({ id, kind, points }, n) => {
      points.forEach((at, i) => marks.push({ id: `${id}:${i}`, at, name: `${KINDS[kind].title} ${n + 1}, ${KINDS[kind].asks[i]}`, label: i ? "" : String(n + 1), look: "on-measure" }));
      for (let i = 0; i + 1 < points.length; i += 2) lines.push({ d: `M${points[i]}L${points[i + 1]}`, look: i ? "base" : "stroke" });
    });
    return { marks, lines };
  };

  /** Where the coin's page says to look on this face; places with a number first, each place once. @param {KnownIssue | null} issue @param {string} face */
  function pins(issue, face) {
    if (!issue) return [];
    const all = [...issue.checks.map((one) => ({ at: one.at, label: one.number ? String(one.number) : "·" })), ...issue.signs.map((one) => ({ at: one.at, label: "true" }))];
    /** @type {{ at: FacePoint, label: string }[]} */
    const out = [];
    for (const { at, label } of all) {
      if (!at || at.face !== face) continue;
      const there = out.find((one) => one.at.clock === at.clock && one.at.reach === at.reach);
      if (!there) out.push({ at, label });
      else if (!/true|·/.test(label) || (label === "true" && !there.label.includes("true"))) there.label = there.label === "·" ? label : `${there.label}, ${label}`;
    }
    return out;
  }
})((window.Tellmark ??= {}));
