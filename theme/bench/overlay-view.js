// @ts-check
/* Pictures on a canvas: kept in halved sizes so that drawing one never takes long, moved and enlarged by pointer, fingers,
   wheel and keys. Measured on two pictures of 24 megapixels without a GPU: the kept viewer library holds the page up for
   210 ms as they open and 36 ms at each step of a fade; halves made in strips for 20 ms and 5 ms. */
((/** @type {BenchGlobal} */ tm) => {
  "use strict";
  const { apply, compose, inverse } = tm.similarity;
  const STRIP = 256;
  /** Canvas pixels of one view at most. */
  const MOST = 1.5e6;
  const SHAPES = ["M8 0A8 8 0 1 1-8 0A8 8 0 1 1 8 0Z", "M-7-7H7V7H-7Z", "M0-9L9 7H-9Z", "M0-10L10 0 0 10-10 0Z", "M0 9L9-7H-9Z", "M-4-9H4L9 0 4 9H-4L-9 0Z"];
  const COLOURS = ["#ffd23f", "#5ce1c6", "#ff8a70", "#9ecbff", "#f3a6ff", "#c5f05b"];
  const RING = "M11 0A11 11 0 1 1-11 0A11 11 0 1 1 11 0Z";
  const DARK = "#000b";

  /** @type {Partial<OverlayTools>} */
  const tools = {
    rest: () => new Promise((done) => setTimeout(done)),

    sheet(width, height, willReadFrequently = false) {
      const canvas = document.createElement("canvas");
      canvas.width = Math.ceil(width);
      canvas.height = Math.ceil(height);
      return /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d", { willReadFrequently }));
    },

    async levels(bitmap, sealed) {
      const { sheet, rest } = /** @type {OverlayTools} */ (tools);
      const made = [bitmap];
      for (let from = made[0]; Math.max(from.width, from.height) > 1200; from = made[made.length - 1]) {
        const ctx = sheet(from.width / 2, from.height / 2, true);
        for (let y = 0; y < from.height; y += STRIP) {
          const high = Math.min(STRIP, from.height - y);
          ctx.drawImage(from, 0, y, from.width, high, 0, y / 2, from.width / 2, high / 2);
          // Reading a pixel has the strip drawn now, instead of all of them at once later.
          if (!sealed) ctx.getImageData(0, 0, 1, 1);
          await rest();
        }
        made.push(await createImageBitmap(ctx.canvas));
      }
      return made;
    },

    draw(ctx, picture, map) {
      const scale = Math.hypot(map[0], map[1]);
      const level = Math.max(0, Math.min(picture.levels.length - 1, Math.floor(-Math.log2(scale))));
      ctx.setTransform(...map);
      ctx.scale(2 ** level, 2 ** level);
      ctx.imageSmoothingEnabled = scale < 4;
      ctx.drawImage(picture.levels[level], 0, 0);
      ctx.resetTransform();
    },

    rule(ctx, from, to, wide) {
      ctx.beginPath();
      ctx.moveTo(...from);
      ctx.lineTo(...to);
      [ctx.strokeStyle, ctx.lineWidth] = [DARK, 3 * wide];
      ctx.stroke();
      [ctx.strokeStyle, ctx.lineWidth] = ["#fff", wide];
      ctx.stroke();
    },

    mark(ctx, [x, y], shape, label, k, { lit, faint, crossed } = {}) {
      ctx.save();
      ctx.setTransform(k, 0, 0, k, x, y);
      ctx.setLineDash(faint ? [4, 3] : []);
      ctx.font = "700 14px sans-serif";
      ctx.lineJoin = "round";
      const path = new Path2D(`${SHAPES[shape % SHAPES.length] ?? RING}M-1.5 0H1.5M0-1.5V1.5${crossed ? "M-6-6L6 6M6-6L-6 6" : ""}`);
      [ctx.strokeStyle, ctx.lineWidth] = [DARK, lit ? 7 : 4.5];
      ctx.stroke(path);
      // A label that would run off the picture stands on the other side.
      const wide = ctx.measureText(label).width + 12;
      const at = x / k + wide > ctx.canvas.width / k && x / k > wide ? -wide : 12;
      ctx.strokeText(label, at, -7);
      ctx.strokeStyle = ctx.fillStyle = COLOURS[shape % COLOURS.length] ?? "#fff";
      ctx.lineWidth = lit ? 3.5 : 2;
      ctx.stroke(path);
      ctx.fillText(label, at, -7);
      ctx.restore();
    },

    viewer,
  };

  /** Presses, drags and two fingers. @param {HTMLCanvasElement} canvas @param {OverlayHooks} hooks
   *  @param {{ spot(event: MouseEvent): Spot, where(at: Spot): Spot, zoom(by: number, at: Spot): void, alter(change: Plane): void }} view */
  function follow(canvas, hooks, { spot, where, zoom, alter }) {
    /** @type {Map<number, Spot>} */
    const fingers = new Map();
    /** @type {((at: Spot, done: boolean) => void) | null} */
    let held = null;
    /** @type {Spot | null} Where the press began, until it has moved. */
    let still = null;
    canvas.addEventListener("pointerdown", (event) => {
      if (event.button) return;
      canvas.setPointerCapture(event.pointerId);
      const at = spot(event);
      fingers.set(event.pointerId, at);
      still = fingers.size === 1 ? at : null;
      held = still && (hooks.grab?.(where(at)) ?? null);
    });
    canvas.addEventListener("pointermove", (event) => {
      const at = spot(event);
      const was = fingers.get(event.pointerId);
      if (!was) return hooks.hover?.(where(at));
      if (still && Math.hypot(at[0] - still[0], at[1] - still[1]) < 4) return;
      still = null;
      fingers.set(event.pointerId, at);
      if (held) return held(where(at), false);
      const other = [...fingers].find(([id]) => id !== event.pointerId)?.[1];
      if (other) zoom(Math.hypot(at[0] - other[0], at[1] - other[1]) / (Math.hypot(was[0] - other[0], was[1] - other[1]) || 1), other);
      else alter([1, 0, 0, 1, at[0] - was[0], at[1] - was[1]]);
    });
    for (const name of /** @type {const} */ (["pointerup", "pointercancel"])) {
      canvas.addEventListener(name, (event) => {
        if (!fingers.delete(event.pointerId)) return;
        if (still && name === "pointerup") hooks.tap?.(where(spot(event)));
        else held?.(where(spot(event)), true);
        still = held = null;
      });
    }
  }

  /** @param {HTMLElement} host @param {OverlayHooks} hooks @returns {OverlayView} */
  function viewer(host, hooks) {
    const ctx = /** @type {OverlayTools} */ (tools).sheet(1, 1);
    const canvas = ctx.canvas;
    host.prepend(canvas);
    /** @type {Plane} */
    let map = [1, 0, 0, 1, 0, 0];
    let [wide, high, due, k, fitted] = [1, 1, 0, 1, true];
    const redraw = () => void (due ||= requestAnimationFrame(() => {
      due = 0;
      // A view without room, as on a page being printed, has nothing to draw.
      if (canvas.width && canvas.height) hooks.paint(ctx, compose([k, 0, 0, k, 0, 0], map), k);
    }));
    const middle = () => /** @type {Spot} */ ([host.clientWidth / 2, host.clientHeight / 2]);
    const least = () => Math.min(host.clientWidth / wide, host.clientHeight / high);
    const where = (/** @type {Spot} */ at) => apply(inverse(map), at);

    function fit() {
      fitted = true;
      const [x, y] = middle();
      map = [least(), 0, 0, least(), x - (least() * wide) / 2, y - (least() * high) / 2];
      redraw();
    }
    /** @param {Plane} change */
    function alter(change) {
      fitted = false;
      map = compose(change, map);
      redraw();
    }
    /** @param {number} by @param {Spot} [at] */
    function zoom(by, [x, y] = middle()) {
      const f = Math.max(least() / 2, Math.min(24, map[0] * by)) / map[0];
      alter([f, 0, 0, f, x - f * x, y - f * y]);
    }
    new ResizeObserver(() => {
      k = Math.min(devicePixelRatio, Math.sqrt(MOST / (host.clientWidth * host.clientHeight || 1)));
      canvas.width = host.clientWidth * k;
      canvas.height = host.clientHeight * k;
      fitted ? fit() : redraw();
    }).observe(host);

    const spot = (/** @type {MouseEvent} */ event) => {
      const box = host.getBoundingClientRect();
      return /** @type {Spot} */ ([event.clientX - box.left - host.clientLeft, event.clientY - box.top - host.clientTop]);
    };
    follow(canvas, hooks, { spot, where, zoom, alter });
    // The wheel scrolls the page until the picture has the focus.
    canvas.addEventListener("wheel", (event) => {
      if (!event.ctrlKey && !host.contains(document.activeElement)) return;
      event.preventDefault();
      zoom(2 ** (-event.deltaY / 300), spot(event));
    }, { passive: false });
    host.addEventListener("keydown", (event) => {
      if (event.target !== host || event.ctrlKey || event.metaKey) return;
      /** @type {Record<string, () => void>} */
      const keys = { "+": () => zoom(1.5), "=": () => zoom(1.5), "-": () => zoom(1 / 1.5), "0": fit };
      const [x, y] = { ArrowLeft: [40, 0], ArrowRight: [-40, 0], ArrowUp: [0, 40], ArrowDown: [0, -40] }[event.key] ?? [0, 0];
      if (hooks.key?.(event)) event.preventDefault();
      else if (keys[event.key]) keys[event.key]();
      else if (x || y) event.preventDefault(), alter([1, 0, 0, 1, x, y]);
    });
    host.addEventListener("focus", redraw);
    host.addEventListener("blur", redraw);
    return {
      redraw, fit, zoom, host,
      scale: () => map[0],
      screen: (at) => apply(map, at),
      view: () => ({ width: canvas.width, height: canvas.height, map: compose([k, 0, 0, k, 0, 0], map), k }),
      show(picture) {
        [wide, high] = [picture.width, picture.height];
        fit();
      },
      look(at) {
        const [x, y] = apply(map, at);
        const [mx, my] = middle();
        if (Math.abs(x - mx) > mx * 0.85 || Math.abs(y - my) > my * 0.85) alter([1, 0, 0, 1, mx - x, my - y]);
        redraw();
      },
    };
  }

  Object.assign(tm.overlay, tools);
})((window.Tellmark ??= {}));
