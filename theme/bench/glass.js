// @ts-check
/*
 * The picture stage. `tm.glass.open(file)` or `tm.glass.site(url, name)` promise a picture, or `{ trouble }` in words;
 * `tm.glass.stage(host, wishes)` makes the stage; then `stage.show(picture)`, and `stage.marks(marks, lines)` at every change.
 * Drawing, zoom and pan are OpenSeadragon's: measured at 60 frames a second with 24 megapixels and no GPU.
 */
((/** @type {any} */ tm) => {
  "use strict";
  const SVG = "http://www.w3.org/2000/svg";
  /** Share of the stage's width, and px at most. */
  const LOUPE = [0.34, 150];
  /** Bytes of a file that are read at most. */
  const MOST = 4e8;

  /** @param {string} name @param {Record<string, string | number>} [with_] @param {Element[]} [inside] */
  function svg(name, with_ = {}, inside = []) {
    const node = document.createElementNS(SVG, name);
    Object.entries(with_).forEach(([key, value]) => node.setAttribute(key, String(value)));
    node.append(...inside);
    return node;
  }

  const hex = (/** @type {ArrayBuffer} */ buffer) => Array.from(new Uint8Array(buffer), (x) => x.toString(16).padStart(2, "0")).join("");

  /** @param {string} url @param {OpenPicture} picture @returns {Promise<OpenPicture>} */
  async function decode(url, picture) {
    const image = new Image();
    image.src = url;
    await image.decode();
    // As shown: a browser turns by the camera's note before it tells the size.
    const bitmap = await createImageBitmap(image);
    return { ...picture, width: bitmap.width, height: bitmap.height, url, bitmap };
  }

  /** @param {ImageBitmap} bitmap @returns {Promise<string>} */
  function still(bitmap) {
    const canvas = document.createElement("canvas");
    [canvas.width, canvas.height] = [bitmap.width, bitmap.height];
    canvas.getContext("2d")?.drawImage(bitmap, 0, 0);
    return new Promise((done, lost) => canvas.toBlob((blob) => (blob ? done(URL.createObjectURL(blob)) : lost(new Error("no room"))), "image/png"));
  }

  /** @param {File} file @returns {Promise<OpenPicture | Refused>} */
  async function open(file) {
    const name = file.name || "pasted picture";
    if (file.size > MOST) return { trouble: `“${name}” has ${Math.round(file.size / 1e6)} megabytes. At most ${MOST / 1e6} are read: save a smaller copy.` };
    let url = "";
    try {
      const bytes = new Uint8Array(await file.arrayBuffer());
      const facts = tm.sniff(bytes, name);
      if (facts.trouble) return { trouble: facts.trouble };
      url = URL.createObjectURL(new Blob([bytes], { type: facts.mime }));
      const sha256 = await crypto.subtle?.digest("SHA-256", bytes).then(hex, () => "") ?? "";
      const picture = await decode(url, { ...facts, name, bytes: bytes.length, sha256, url, bitmap: /** @type {any} */ (null) });
      if (!facts.moves) return picture;
      URL.revokeObjectURL(url);
      return { ...picture, url: await still(picture.bitmap) };
    } catch {
      URL.revokeObjectURL(url);
      return { trouble: `“${name}” cannot be read: it is damaged, moved, too large for this machine, or of a kind this browser does not know.` };
    }
  }

  /** @param {string} url @param {string} name @returns {Promise<OpenPicture | Refused>} */
  const site = (url, name) =>
    decode(url, { name, type: "", width: 0, height: 0, notes: [], bytes: 0, sha256: "", url, bitmap: /** @type {any} */ (null) }).catch(() => ({ trouble: `The picture ${name} of this site cannot be read. The folder may not be complete.` }));

  /** @param {HTMLElement} host @param {StageWishes} wishes @returns {Stage} */
  function stage(host, wishes) {
    const ground = document.createElement("div");
    ground.className = "ground";
    const said = document.createElement("p");
    said.className = "unseen";
    said.setAttribute("role", "status");
    const loupe = document.createElement("canvas");
    loupe.className = "loupe";
    loupe.hidden = true;
    host.append(ground, loupe, said);
    const slow = matchMedia("(prefers-reduced-motion: reduce)").matches;
    // Clicks mark; a drag soon after a tap moves the picture, too.
    const gestures = { clickToZoom: false, dblClickToZoom: false, dblClickDragToZoom: false, flickEnabled: false };
    const viewer = /** @type {any} */ (window).OpenSeadragon({
      element: ground, drawer: "canvas", showNavigationControl: false, immediateRender: true, animationTime: slow ? 0 : 0.25,
      visibilityRatio: 0.05, minZoomImageRatio: 0.5, maxZoomPixelRatio: 24, zoomPerScroll: 1.25, crossOriginPolicy: false,
      gestureSettingsMouse: gestures, gestureSettingsTouch: gestures, gestureSettingsPen: gestures, gestureSettingsUnknown: gestures,
    });
    const point = (/** @type {number} */ x, /** @type {number} */ y) => new /** @type {any} */ (window).OpenSeadragon.Point(x, y);
    const field = /** @type {HTMLElement} */ (viewer.canvas);
    field.setAttribute("role", "application");
    field.setAttribute("aria-label", "Photograph. Arrow keys move it, Enter marks the cross in the middle, Page Down chooses a mark, which arrow keys then move.");
    const drawn = svg("g", { class: "lines" });
    const spots = svg("g", { class: "spots" });
    const middle = svg("path", { class: "middle", d: "M-16 0H-4M4 0H16M0-16V-4M0 4V16" });
    const over = /** @type {SVGSVGElement} */ (svg("svg", { class: "over", "aria-hidden": "true" }, [drawn, spots, middle]));
    field.append(over);

    /** @type {OpenPicture | null} */
    let picture = null;
    /** @type {StageMark[]} */
    let marks = [];
    let chosen = "";
    /** @type {{ id: string, from: Spot, by: Spot, moved: boolean } | null} */
    let held = null;
    /** The last touch was a key on the picture. */
    let keyed = false;

    const port = () => (picture && viewer.world.getItemCount() ? viewer.viewport : null);
    const zoom = () => port()?.viewportToImageZoom(viewer.viewport.getZoom(true)) ?? 1;
    /** @returns {Spot} */
    function toImage(/** @type {number} */ x, /** @type {number} */ y) {
      const at = viewer.viewport.viewerElementToImageCoordinates(point(x, y));
      return [at.x, at.y];
    }
    /** @param {Spot} at @returns {Spot} */
    function toScreen([x, y]) {
      const at = viewer.viewport.pixelFromPoint(viewer.viewport.imageToViewportCoordinates(x, y), true);
      return [at.x, at.y];
    }
    /** @param {PointerEvent} event @returns {Spot} */
    function pointed(event) {
      const box = field.getBoundingClientRect();
      return [event.clientX - box.left, event.clientY - box.top];
    }
    const centre = () => /** @type {Spot} */ ([field.clientWidth / 2, field.clientHeight / 2]);

    /** Everything drawn over the picture follows it. */
    function follow() {
      if (!port()) return;
      const [x, y] = toScreen([0, 0]);
      drawn.setAttribute("transform", `matrix(${zoom()} 0 0 ${zoom()} ${x} ${y})`);
      marks.forEach((mark, i) => spots.children[i]?.setAttribute("transform", `translate(${toScreen(mark.at).join(" ")})`));
      middle.setAttribute("transform", `translate(${centre().join(" ")})`);
      // Whoever goes by keys looks at the cross, or at the mark that is chosen, wherever the mouse was left.
      if (!keyed || held) return;
      const mark = marks.find((one) => one.id === chosen);
      magnify(mark?.at ?? toImage(...centre()), mark ? toScreen(mark.at) : centre());
    }
    ["update-viewport", "open", "resize", "animation"].forEach((name) => viewer.addHandler(name, follow));

    /** @param {StageMark[]} next @param {StageLine[]} lines */
    function redraw(next, lines) {
      marks = next;
      if (!marks.some((mark) => mark.id === chosen)) chosen = "";
      drawn.replaceChildren(...lines.flatMap((line) => ["halo ", ""].map((under) => svg("path", { d: line.d, class: under + line.look, "vector-effect": "non-scaling-stroke" }))));
      spots.replaceChildren(...marks.map((mark) => {
        const label = svg("text", { x: 9, y: -8 });
        label.textContent = mark.label;
        // Twice: a light line under a dark one shows on any metal.
        const inside = ["halo", "cross"].map((look) => svg("path", { class: look, d: "M-9 0H-2M2 0H9M0-9V-2M0 2V9" }));
        return svg("g", { class: `spot ${mark.look}${mark.fixed ? " fixed" : ""}${mark.id === chosen ? " chosen" : ""}`, "data-mark": mark.id }, [svg("circle", { r: 13 }), ...inside, label]);
      }));
      follow();
    }

    /** @param {Spot} at Image @param {Spot} by Screen */
    function magnify(at, by) {
      const pen = loupe.getContext("2d");
      if (!picture || !pen) return;
      const size = Math.min(LOUPE[1], Math.round(LOUPE[0] * field.clientWidth));
      const dots = size * devicePixelRatio;
      if (loupe.width !== dots) {
        loupe.width = loupe.height = dots;
        loupe.style.width = loupe.style.height = `${size}px`;
      }
      const across = size / Math.min(24, Math.max(2, 4 * zoom()));
      pen.imageSmoothingEnabled = across > 40;
      pen.clearRect(0, 0, dots, dots);
      pen.drawImage(picture.bitmap, at[0] - across / 2, at[1] - across / 2, across, across, 0, 0, dots, dots);
      for (const [wide, colour] of /** @type {[number, string][]} */ ([[3, "#fff"], [1, "#000"]])) {
        [pen.lineWidth, pen.strokeStyle] = [wide, colour];
        pen.beginPath();
        for (const [x, y] of [[0, 1], [1, 0]]) {
          for (const way of [-1, 1]) {
            pen.moveTo(dots / 2 + way * x * 5, dots / 2 + way * y * 5);
            pen.lineTo(dots / 2 + way * x * dots, dots / 2 + way * y * dots);
          }
        }
        pen.stroke();
      }
      const beside = (/** @type {number} */ x, /** @type {number} */ room) => (x + 24 + size > room ? x - 24 - size : x + 24);
      loupe.style.transform = `translate(${Math.max(0, beside(by[0], field.clientWidth))}px, ${Math.max(0, beside(by[1], field.clientHeight))}px)`;
      loupe.hidden = false;
    }

    /** @param {string} id */
    function choose(id) {
      chosen = marks.some((mark) => mark.id === id) ? id : "";
      for (const spot of spots.children) spot.classList.toggle("chosen", spot.getAttribute("data-mark") === chosen);
      loupe.hidden = true;
      const mark = marks.find((one) => one.id === chosen);
      if (mark) {
        say(`${mark.name} chosen.`);
        if (port()) magnify(mark.at, toScreen(mark.at));
      }
      wishes.choose(chosen);
    }
    const say = (/** @type {string} */ words) => void (said.textContent = words);

    over.addEventListener("pointerdown", (event) => {
      const id = event.target instanceof Element && event.target.closest(".spot:not(.fixed)")?.getAttribute("data-mark");
      const mark = marks.find((one) => one.id === id);
      if (!mark || event.button) return;
      event.stopPropagation();
      event.preventDefault();
      field.focus();
      const [x, y] = toImage(...pointed(event));
      held = { id: mark.id, from: pointed(event), by: [mark.at[0] - x, mark.at[1] - y], moved: false };
      over.setPointerCapture(event.pointerId);
    });
    over.addEventListener("pointermove", (event) => {
      if (!held) return;
      event.stopPropagation();
      const [x, y] = toImage(...pointed(event));
      const [left, top] = pointed(event);
      if (!held.moved && Math.hypot(left - held.from[0], top - held.from[1]) < 3) return;
      if (!held.moved) choose(held.id);
      held.moved = true;
      const at = /** @type {Spot} */ ([x + held.by[0], y + held.by[1]]);
      wishes.move(held.id, at, false);
      magnify(at, pointed(event));
    });
    field.addEventListener("blur", () => (loupe.hidden ||= keyed, keyed = false));
    const release = (/** @type {PointerEvent} */ event) => {
      if (!held) return;
      event.stopPropagation();
      const mark = marks.find((one) => one.id === held?.id);
      if (held.moved && mark) wishes.move(mark.id, mark.at, true);
      // A press without a drag may be meant for a new mark beside this one: the page knows.
      else if (event.type === "pointerup") wishes.place(toImage(...held.from), held.id);
      held = null;
    };
    over.addEventListener("pointerup", release);
    over.addEventListener("pointercancel", release);
    field.addEventListener("pointermove", (event) => {
      keyed = false;
      if (!held && port() && event.pointerType !== "touch") magnify(toImage(...pointed(event)), pointed(event));
    });
    field.addEventListener("pointerleave", () => (loupe.hidden = true));
    viewer.addHandler("canvas-click", (/** @type {any} */ event) => {
      if (event.quick && port()) wishes.place(toImage(event.position.x, event.position.y), "");
    });

    /** @param {number} dx @param {number} dy @param {boolean} fine */
    function arrow(dx, dy, fine) {
      const mark = marks.find((one) => one.id === chosen);
      if (mark && !mark.fixed) {
        const step = fine ? 0.1 : 1;
        const at = /** @type {Spot} */ ([mark.at[0] + dx * step, mark.at[1] + dy * step]);
        wishes.move(mark.id, at, true);
        magnify(at, toScreen(at));
        say(`${at[0].toFixed(1)}, ${at[1].toFixed(1)}`);
      } else {
        const share = fine ? 0.01 : 0.1;
        viewer.viewport.panBy(viewer.viewport.deltaPointsFromPixels(point(dx * share * field.clientWidth, dy * share * field.clientHeight)), slow);
        viewer.viewport.applyConstraints();
      }
    }
    const zoomBy = (/** @type {number} */ by) => void viewer.viewport.zoomBy(by).applyConstraints();
    const step = (/** @type {number} */ by) => {
      const free = marks.filter((mark) => !mark.fixed);
      if (!free.length) return;
      const at = free.findIndex((mark) => mark.id === chosen);
      choose(free[(at < 0 && by < 0 ? free.length - 1 : at + by + free.length) % free.length].id);
    };
    /** @type {Record<string, (fine: boolean) => void>} */
    const keys = {
      ArrowLeft: (fine) => arrow(-1, 0, fine),
      ArrowRight: (fine) => arrow(1, 0, fine),
      ArrowUp: (fine) => arrow(0, -1, fine),
      ArrowDown: (fine) => arrow(0, 1, fine),
      "+": () => zoomBy(1.5),
      "=": () => zoomBy(1.5),
      "-": () => zoomBy(1 / 1.5),
      0: () => viewer.viewport.goHome(slow),
      Enter: () => wishes.place(toImage(...centre()), ""),
      PageUp: () => step(-1),
      PageDown: () => step(1),
      Escape: () => choose(""),
      Delete: () => chosen && wishes.remove(chosen),
      Backspace: () => chosen && wishes.remove(chosen),
    };
    host.addEventListener("keydown", (event) => {
      if (event.target !== field || event.ctrlKey || event.metaKey || event.altKey || !keys[event.key] || !port() || (event.key === "Escape" && !chosen)) return;
      event.preventDefault();
      event.stopPropagation();
      keyed = true;
      keys[event.key](event.shiftKey);
      follow();
    }, true);

    /** @param {DataTransfer | null} data */
    const take = (data) => {
      const file = data?.files[0];
      if (file) wishes.give(file);
      return Boolean(file);
    };
    // Anywhere on the page: a file dropped beside the stage would otherwise take the place of the page.
    addEventListener("dragover", (event) => event.preventDefault());
    addEventListener("drop", (event) => {
      event.preventDefault();
      take(event.dataTransfer);
    });
    addEventListener("paste", (event) => take(event.clipboardData) && event.preventDefault());

    return {
      viewer, toImage, toScreen, say, choose, zoom, zoomBy,
      chosen: () => chosen,
      marks: redraw,
      fit: () => viewer.viewport.goHome(slow),
      look(at, least = 0) {
        const view = viewer.viewport;
        view.panTo(view.imageToViewportCoordinates(...at), slow);
        if (zoom() < least) view.zoomTo(view.imageToViewportZoom(least), undefined, slow);
      },
      show(next) {
        picture = next;
        loupe.hidden = true;
        choose("");
        viewer.open({ type: "image", url: next.url, crossOriginPolicy: false, ajaxWithCredentials: false });
      },
    };
  }

  tm.glass = /** @type {Glass} */ ({
    sniff: (bytes, name) => tm.sniff(bytes, name),
    open, site, stage,
    close(picture) {
      if (picture.url.startsWith("blob:")) URL.revokeObjectURL(picture.url);
      picture.bitmap.close();
    },
  });
})((window.Tellmark ??= {}));
