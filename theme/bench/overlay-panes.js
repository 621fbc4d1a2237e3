// @ts-check
/* The two pictures side by side: clicks and keys that set landmarks and marks, and the glass that enlarges. */
((/** @type {BenchGlobal} */ tm) => {
  "use strict";
  const { SIDES, desk, draw, mark, rule, letter, viewer } = /** @type {OverlayTools} */ (tm.overlay);
  const { apply, inverse } = tm.similarity;
  const NUDGES = /** @type {Record<string, Spot>} */ ({ ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] });
  /** How near a click must be to choose what is there, in screen pixels. */
  const NEAR = 13;

  /** All that is set on one side. @param {OverlaySide} side */
  const set = (side) => /** @type {const} */ (["landmarks", "marks"]).flatMap((list) => desk.overlay[list].flatMap((item, at) => (item[side] ? [{ list, at, place: item[side] }] : [])));
  /** Where something on one side would lie on the other. @param {number} number Of the side it is wanted on. @param {Spot} place @returns {Spot | undefined} */
  const there = (number, place) => desk.found.map && apply(number ? inverse(desk.found.map) : desk.found.map, place);

  /** @param {number} number @param {Spot} p */
  function nearest(number, p) {
    const far = (/** @type {Spot} */ [x, y]) => Math.hypot(x - p[0], y - p[1]);
    const [best] = set(SIDES[number]).sort((a, b) => far(a.place) - far(b.place));
    return best && far(best.place) * desk.panes[number].scale() < NEAR ? best : null;
  }

  /** The nearest place of a picture. @param {{ width: number, height: number }} picture @param {Spot} p @returns {Spot} */
  const within = ({ width, height }, [x, y]) => [Math.max(0, Math.min(width, x)), Math.max(0, Math.min(height, y))];

  /** @param {number} number @param {Spot} p */
  function tap(number, p) {
    const [side, other] = [SIDES[number], SIDES[1 - number]];
    const picture = desk.pictures[number];
    if (!picture) return;
    const [x, y] = within(picture, p);
    // A pixel of the screen beside it is meant for its border.
    if (Math.hypot(x - p[0], y - p[1]) * desk.panes[number].scale() > 1.5) return desk.say(`That place is outside the ${SIDES[number]} picture: nothing was set.`);
    p = [x, y];
    desk.cross[number] = p;
    const hit = nearest(number, p);
    if (hit) return desk.choose(hit);
    const list = /** @type {OverlayList} */ (/** @type {HTMLInputElement} */ (document.querySelector("[name=sets]:checked")).value);
    if (list === "marks" && desk.found.why) return desk.say(`Bring the pictures together first. ${desk.found.why}`);
    const items = /** @type {any[]} */ (desk.overlay[list]);
    // One that lacks its place here gets it, the chosen one before others.
    const lacks = (/** @type {any} */ item) => item && !item[side] && item.state !== "missing";
    let at = desk.chosen?.list === list && lacks(items[desk.chosen.at]) ? desk.chosen.at : items.findIndex(lacks);
    desk.change("", () => {
      if (at < 0) at = items.push({ [side]: p, [other]: null, ...(list === "marks" ? { kind: "", state: "open" } : { off: false }) }) - 1;
      else {
        // The ring taken as it lies is no measurement of its own.
        const ring = list === "marks" && there(number, items[at][other]);
        if (!ring || Math.hypot(ring[0] - p[0], ring[1] - p[1]) > 1e-6) items[at][side] = p;
        if (list === "marks") items[at].state = "same";
      }
      desk.chosen = { list, at };
    });
    const ring = list === "marks" && items[at].state === "open" && there(1 - number, p);
    if (ring) desk.panes[1 - number].look((desk.cross[1 - number] = ring));
    desk.say(`${desk.name({ list, at })} set in the ${side} picture at ${p.map((x) => x.toFixed(1)).join(", ")}.${ring ? ` A ring shows where it would lie in the ${other} one.` : ""}`);
  }

  /** @param {number} number @param {OverlayChoice} which @param {Spot} p */
  const move = (number, which, p) => desk.change(`move ${number} ${which.list} ${which.at}`, () => void (desk.overlay[which.list][which.at][SIDES[number]] = desk.cross[number] = within(/** @type {LaidPicture} */ (desk.pictures[number]), p)));

  /** @param {number} number @param {KeyboardEvent} event */
  function key(number, event) {
    const { chosen } = desk;
    const place = chosen && desk.overlay[chosen.list][chosen.at][SIDES[number]];
    const nudge = NUDGES[event.key];
    if (nudge) {
      const far = place ? (event.shiftKey ? 10 : event.altKey ? 0.1 : 1) : event.altKey ? 1 : 12 / desk.panes[number].scale();
      const [x, y] = place || desk.cross[number];
      /** @type {Spot} */
      const to = [x + nudge[0] * far, y + nudge[1] * far];
      if (chosen && place) move(number, chosen, to);
      desk.panes[number].look((desk.cross[number] = within(/** @type {LaidPicture} */ (desk.pictures[number]), to)));
    } else if (event.key === "Enter") place ? desk.choose(null) : tap(number, desk.cross[number]);
    else if (event.key === "Escape") desk.choose(null);
    else if (event.key === "Delete" || event.key === "Backspace") desk.remove(place ? chosen : null);
    else if (event.key.startsWith("Page")) {
      const here = set(SIDES[number]);
      const now = here.findIndex(({ list, at }) => list === chosen?.list && at === chosen.at);
      const next = event.key === "PageDown" ? now + 1 : Math.max(now, 0) - 1;
      if (here.length) desk.choose(here[(next + here.length) % here.length]);
    } else return false;
    return true;
  }

  /** @param {number} number @param {CanvasRenderingContext2D} ctx @param {Plane} map @param {number} k */
  function marks(number, ctx, map, k) {
    const side = SIDES[number];
    for (const list of /** @type {const} */ (["landmarks", "marks"])) {
      for (const [at, item] of desk.overlay[list].entries()) {
        const lit = desk.chosen?.list === list && desk.chosen.at === at;
        const other = item[SIDES[1 - number]];
        const ring = "state" in item;
        const place = item[side] ?? (ring && other ? there(number, other) : null);
        if (place) mark(ctx, apply(map, place), ring ? -1 : at, ring ? letter(at) : `${at + 1}`, k, { lit, faint: ring ? !item[side] : item.off, crossed: ring && item.state === "missing" });
      }
    }
  }

  /** @param {number} number @param {CanvasRenderingContext2D} ctx @param {Plane} map @param {number} k */
  function paint(number, ctx, map, k) {
    const { width, height } = ctx.canvas;
    ctx.resetTransform();
    ctx.fillStyle = "#3b3c3a";
    ctx.fillRect(0, 0, width, height);
    const picture = desk.pictures[number];
    if (!picture) return;
    draw(ctx, picture, map);
    marks(number, ctx, map, k);
    const pane = desk.panes[number].host;
    const [x, y] = apply(map, desk.cross[number]);
    const focused = pane === document.activeElement;
    if (focused) {
      rule(ctx, [x, 0], [x, height], k);
      rule(ctx, [0, y], [width, y], k);
    }
    // The surroundings of the cross-hair, enlarged, away from it.
    const glass = /** @type {HTMLCanvasElement} */ (pane.querySelector(".loupe"));
    glass.hidden = !(focused || pane.matches(":hover"));
    if (glass.hidden) return;
    glass.classList.toggle("right", x < width / 2);
    const size = (glass.width = glass.height = glass.clientWidth);
    const z = Math.max(3, (5 * map[0]) / k);
    const near = /** @type {CanvasRenderingContext2D} */ (glass.getContext("2d"));
    /** @type {Plane} */
    const closer = [z, 0, 0, z, size / 2 - z * desk.cross[number][0], size / 2 - z * desk.cross[number][1]];
    draw(near, picture, closer);
    marks(number, near, closer, 1);
    near.globalCompositeOperation = "difference";
    near.fillStyle = "#fff";
    near.fillRect(size / 2 - 0.5, 0, 1, size);
    near.fillRect(0, size / 2 - 0.5, size, 1);
  }

  desk.panes = [...document.querySelectorAll("#overlay .pane-side")].map((host, number) => {
    const pane = /** @type {HTMLElement} */ (host.querySelector(".pane"));
    const view = viewer(pane, {
      paint: (ctx, map, k) => paint(number, ctx, map, k),
      tap: (p) => tap(number, p),
      hover: (p) => ((desk.cross[number] = p), view.redraw()),
      key: (event) => !!desk.pictures[number] && key(number, event),
      grab(p) {
        const which = nearest(number, p);
        return which && ((to, end) => ((desk.chosen = { list: which.list, at: which.at }), end ? desk.pause() : move(number, which, to)));
      },
    });
    pane.addEventListener("pointerleave", view.redraw);
    const file = /** @type {HTMLInputElement} */ (host.querySelector("[type=file]"));
    file.onchange = () => (desk.give([...(file.files ?? [])], number), (file.value = ""));
    const known = /** @type {HTMLSelectElement} */ (host.querySelector(".known"));
    known.onchange = () => known.value && desk.fromSite(known.value, number, known.selectedOptions[0].text);
    host.addEventListener("dragover", (event) => event.preventDefault());
    host.addEventListener("drop", (event) => (event.preventDefault(), desk.give([.../** @type {DragEvent} */ (event).dataTransfer?.files ?? []], number)));
    return view;
  });
  document.addEventListener("paste", (event) => {
    const files = [...(event.clipboardData?.files ?? [])];
    const at = desk.panes.findIndex(({ host }) => host === document.activeElement);
    if (files.length) desk.give(files, at >= 0 ? at : desk.pictures[0] && !desk.pictures[1] ? 1 : 0);
  });
})((window.Tellmark ??= {}));
