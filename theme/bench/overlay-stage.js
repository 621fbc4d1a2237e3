// @ts-check
/* The stage: the second picture laid on the first. Each is drawn once for a view; a fade only lays two finished sheets on
   each other. What is saved is painted by the same function as what is seen. */
((/** @type {BenchGlobal} */ tm) => {
  "use strict";
  const { rest, sheet, draw, mark, rule, letter, desk } = /** @type {OverlayTools} */ (tm.overlay);
  const { apply, compose } = tm.similarity;
  const EDGE_SIZE = 1400;

  /** Where brightness changes steeply (Sobel's operator), in slices of rows so that no key waits. @param {LaidPicture} picture */
  async function edges(picture) {
    const f = Math.min(1, EDGE_SIZE / Math.max(picture.width, picture.height));
    const ctx = sheet(picture.width * f, picture.height * f, true);
    draw(ctx, picture, [f, 0, 0, f, 0, 0]);
    const { width: w, height: h } = ctx.canvas;
    const grey = new Uint8Array(w * h);
    const steep = new Uint16Array(w * h);
    const tally = new Uint32Array(2048);
    const rows = async (/** @type {(y: number) => void} */ row, from = 0) => {
      for (let y = from, begun = performance.now(); y < h - from; y++) {
        row(y);
        if (performance.now() - begun < 8) continue;
        await rest();
        begun = performance.now();
      }
    };
    await rows((y) => {
      const { data } = ctx.getImageData(0, y, w, 1);
      for (let x = 0; x < w; x++) grey[y * w + x] = (data[4 * x] * 77 + data[4 * x + 1] * 151 + data[4 * x + 2] * 28) >> 8;
    });
    await rows((y) => {
      for (let i = y * w + 1; i < y * w + w - 1; i++) {
        const a = grey[i + w + 1] - grey[i - w - 1];
        const b = grey[i - w + 1] - grey[i + w - 1];
        const across = a + b + 2 * (grey[i + 1] - grey[i - 1]);
        const down = a - b + 2 * (grey[i + w] - grey[i - w]);
        steep[i] = Math.sqrt(across * across + down * down);
        tally[steep[i]] += 1;
      }
    }, 1);
    // From the steepest fifth, which shows faintly, to the steepest fiftieth, which shows fully.
    const [low, high] = [0.8, 0.98].map((share) => {
      let left = share * w * h;
      return tally.findIndex((n) => (left -= n) <= 0);
    });
    await rows((y) => {
      const line = ctx.createImageData(w, 1);
      line.data.fill(255);
      for (let x = 0; x < w; x++) {
        line.data[4 * x + 1] = 64;
        line.data[4 * x + 2] = 30;
        line.data[4 * x + 3] = ((steep[y * w + x] - low) * 255) / Math.max(1, high - low);
      }
      ctx.putImageData(line, 0, y);
    });
    return { canvas: ctx.canvas, scale: f };
  }

  /** @type {OverlayTools["stage"]} */
  function stage(seen) {
    let key = "";
    /** @type {CanvasRenderingContext2D[]} */
    let sheets = [];

    /** @param {HTMLCanvasElement} canvas @param {Plane} map */
    function layers({ width, height }, map) {
      const { lay } = seen();
      const now = JSON.stringify([width, height, map, lay, desk.mode === "edges", desk.pictures.map((one) => [one?.key, !!one?.edges])]);
      if (now === key) return;
      key = now;
      sheets = desk.pictures.map((picture, at) => {
        const ctx = sheets[at]?.canvas.width === width && sheets[at].canvas.height === height ? sheets[at] : sheet(width, height);
        ctx.clearRect(0, 0, width, height);
        const whole = at ? compose(map, lay) : map;
        if (at && desk.mode === "edges") {
          if (!picture?.edges) return ctx;
          const k = 1 / picture.edges.scale;
          ctx.setTransform(...compose(whole, [k, 0, 0, k, 0, 0]));
          ctx.drawImage(picture.edges.canvas, 0, 0);
          ctx.resetTransform();
        } else if (picture) draw(ctx, picture, whole);
        return ctx;
      });
    }

    /** @type {OverlayHooks["paint"]} */
    function paint(ctx, map, k) {
      const { mode, swapped } = desk;
      const fraction = desk.fraction[mode];
      const { width, height } = ctx.canvas;
      layers(ctx.canvas, map);
      const [under, over] = sheets.map((one) => one.canvas);
      const lay = (/** @type {HTMLCanvasElement} */ what, alpha = 1, /** @type {GlobalCompositeOperation} */ how = "source-over") => {
        ctx.globalAlpha = alpha;
        ctx.globalCompositeOperation = how;
        ctx.drawImage(what, 0, 0);
        ctx.globalAlpha = 1;
        ctx.globalCompositeOperation = "source-over";
      };
      ctx.resetTransform();
      ctx.fillStyle = mode === "difference" ? "#000" : "#3b3c3a";
      ctx.fillRect(0, 0, width, height);
      lay(mode === "blink" && swapped ? over : under);
      if (mode === "fade" || mode === "edges") lay(over, fraction / 100);
      if (mode === "split") {
        const x = (width * fraction) / 100;
        ctx.fillRect(x, 0, width, height);
        if (x < width) ctx.drawImage(over, x, 0, width - x, height, x, 0, width - x, height);
        rule(ctx, [x, 0], [x, height], 1.6 * k);
      }
      if (mode === "difference") {
        lay(over, 1, "difference");
        for (let left = fraction; left > 1; left /= 2) lay(ctx.canvas, Math.min(1, left - 1), "lighter");
      }
      if (seen().marks) residuals(ctx, map, k);
    }

    function lengthening() {
      const rms = desk.found.redundancy ? desk.found.rms * seen().scale : 0;
      return rms ? ([1, 2, 5, 10, 20, 50, 100].find((n) => n * rms > 12) ?? 200) : 1;
    }

    /** @type {OverlayHooks["paint"]} */
    function residuals(ctx, map, k) {
      const { overlay, found } = desk;
      const long = lengthening();
      for (const [at, { first, second }] of overlay.landmarks.entries()) {
        const far = found.of(at);
        if (!first || !second || far === undefined) continue;
        const [x, y] = apply(map, first);
        const [u, v] = apply(compose(map, found.map), second);
        rule(ctx, [x, y], [x + (u - x) * long, y + (v - y) * long], 2 * k);
        const odd = found.outlier?.at === at;
        mark(ctx, [x, y], at, `${at + 1}  ${far.toFixed(1)}${odd ? " does not agree" : ""}`, k, { lit: odd, crossed: odd });
      }
      for (const [at, { first, second, state }] of overlay.marks.entries()) {
        const place = first ?? (found.map && apply(found.map, second));
        if (place) mark(ctx, apply(map, place), -1, letter(at), k, { faint: state !== "same", crossed: state === "missing" });
      }
    }

    /** @type {ReturnType<OverlayTools["stage"]>["picture"]} */
    function picture(view, lines) {
      const f = Math.max(1, 1200 / view.width);
      const inner = sheet(view.width * f, view.height * f);
      paint(inner, compose([f, 0, 0, f, 0, 0], view.map), view.k * f);
      const { width, height } = inner.canvas;
      const size = Math.round(width / 62);
      const ctx = sheet(1, 1);
      const rows = lines.flatMap((line) => {
        ctx.font = `${size}px sans-serif`;
        const made = [""];
        for (const word of line.split(" ")) {
          const more = `${made[made.length - 1]} ${word}`.trim();
          if (ctx.measureText(more).width > width - 3 * size) made.push(word);
          else made[made.length - 1] = more;
        }
        return made;
      });
      const out = sheet(width, height + size * (1.45 * rows.length + 1.6));
      out.fillStyle = "#fff";
      out.fillRect(0, 0, out.canvas.width, out.canvas.height);
      out.drawImage(inner.canvas, 0, 0);
      out.fillStyle = "#111";
      out.font = ctx.font;
      rows.forEach((row, at) => out.fillText(row, 1.5 * size, height + size * (1.9 + 1.45 * at)));
      return out.canvas;
    }

    return { paint, picture, lengthening };
  }

  Object.assign(tm.overlay, { edges, stage });
})((window.Tellmark ??= {}));
