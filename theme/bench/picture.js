// @ts-check
/* One picture of the reference, or a true and a false one side by side, as near as one likes. Which is in the address:
   #issues/orrin/half-mark/1911-k/reverse-mark */
((/** @type {any} */ tm) => {
  "use strict";

  /** @typedef {{ src: string, width: number, height: number }} Sized */
  /** @typedef {{ path: string, size: number, overlap: number, format: string }} Tiles */
  /** @typedef {{ id: string, words: string, side: "true" | "false" | "", pair: string, whole: Sized, small: Sized, tiles: Tiles | null, shows: { text: string, at: string }[], credit: string, private: boolean }} Photo */
  /** @typedef {{ title: string, page: string, demo: boolean, photos: Photo[] }} Album */
  /** @typedef {{ x: number, y: number, zoom: number }} View */

  /** Entry and photo that an address asks for; null if it asks for none. @param {string} hash @returns {{ entry: string, photo: string } | null} */
  tm.askedPicture = (hash) => {
    const found = /^#((?:[a-z0-9-]+\/)+[a-z0-9-]+)\/([a-z0-9-]+)$/.exec(hash);
    return found && { entry: found[1], photo: found[2] };
  };

  /** What is shown: the photo alone, or the true piece and then the false one. @param {Album} album @param {string} id @returns {Photo[]} */
  tm.shownTogether = (album, id) => {
    const one = album.photos.find((photo) => photo.id === id);
    const other = one && one.pair && album.photos.find((photo) => photo.id === one.pair);
    if (!one) return [];
    return other ? [one, other].sort((a, b) => Number(b.side === "true") - Number(a.side === "true")) : [one];
  };

  /** Where one view goes when the other moves: as far off and as much nearer as when they were tied. @param {View} moved @param {{ dx: number, dy: number, times: number }} tie @returns {View} */
  tm.follow = (moved, tie) => ({ x: moved.x + tie.dx, y: moved.y + tie.dy, zoom: moved.zoom * tie.times });

  /** A picture as the viewer takes it: whole, or in tiles whose layout is written down here, since a page on a disk may not read it from a file. @param {Photo} photo @param {string} root @param {any} maker */
  tm.tileSource = (photo, root, maker) => {
    const { tiles, whole } = photo;
    if (!tiles) return { type: "image", url: root + whole.src, buildPyramid: true };
    return new maker.DziTileSource({ width: whole.width, height: whole.height, tileSize: tiles.size, tileOverlap: tiles.overlap, tilesUrl: `${root}${tiles.path}_files/`, fileFormat: tiles.format, minLevel: 8 });
  };

  if (typeof document === "undefined") return;
  const root = document.documentElement.dataset.root ?? "";
  const OSD = /** @type {any} */ (window).OpenSeadragon;
  const quiet = matchMedia("(prefers-reduced-motion: reduce)").matches;
  const at = (/** @type {string} */ id) => /** @type {HTMLElement} */ (document.getElementById(id));
  /** @type {Record<string, Album>} */
  const albums = {};
  /** @type {any[]} */
  let viewers = [];
  /** How the second view stands to the first while they move together; null when each moves alone. @type {{ dx: number, dy: number, times: number } | null} */
  let tie = null;

  tm.album = (/** @type {string} */ entry, /** @type {Album} */ album) => {
    albums[entry] = album;
  };

  /** @param {string} name @param {Record<string, any>} [props] @param {...(Node | string)} inside */
  function el(name, props = {}, ...inside) {
    const { attr = {}, ...rest } = props;
    const made = Object.assign(document.createElement(name), rest);
    for (const [key, value] of Object.entries(attr)) made.setAttribute(key, String(value));
    made.append(...inside);
    return made;
  }

  function say(/** @type {string} */ words) {
    at("picture-note").textContent = words;
  }

  function open() {
    const asked = tm.askedPicture(location.hash);
    for (const viewer of viewers) viewer.destroy();
    viewers = [];
    tie = null;
    at("picture-stage").replaceChildren();
    at("picture-bar").hidden = at("picture-more").hidden = true;
    if (!asked) return say("Open a picture from the page of its coin: click it there.");
    const unread = () => say("The list of this page’s pictures cannot be read. Is the folder of the reference complete?");
    if (albums[asked.entry]) return show(asked.entry, asked.photo);
    say("Opening…");
    const script = document.createElement("script");
    script.src = `${root}bench/pictures/${asked.entry}.js`;
    script.onload = () => (albums[asked.entry] ? show(asked.entry, asked.photo) : unread());
    script.onerror = unread;
    document.head.append(script);
  }

  /** @param {string} entry @param {string} id */
  function show(entry, id) {
    const album = albums[entry];
    /** @type {Photo[]} */
    const photos = tm.shownTogether(album, id);
    const back = el("a", { href: `${root}${album.page}${photos.length ? `#photo-${id}` : ""}`, textContent: album.title });
    at("picture-of").replaceChildren(back);
    at("invented").hidden = !album.demo;
    if (!photos.length) return say("This page has no picture of that name.");
    say("");
    const name = photos.length === 2 ? "A true piece and a false one" : photos[0].words;
    at("picture-name").textContent = name;
    document.title = `${photos.map((photo) => photo.words).join(" and ")} · ${album.title} · Tellmark`;
    const stage = at("picture-stage");
    stage.classList.toggle("two", photos.length === 2);
    stage.replaceChildren(...photos.map((photo) => pane(photo, album, photos.length === 2)));
    viewers = photos.map((photo, number) => viewer(photo, number));
    bar(photos.length === 2);
    more(entry, album, photos);
  }

  /** @param {Photo} photo @param {Album} album @param {boolean} named */
  function pane(photo, album, named) {
    const sides = { true: "True piece", false: "False piece", "": "" };
    const side = sides[photo.side] ? [el("b", { className: photo.side, textContent: sides[photo.side] }), " "] : [];
    const words = el("span", {}, ...side, ...(named ? [`${photo.words} `] : []));
    const shows = photo.shows.flatMap((one, at) => [at ? ", " : "Shows ", el("a", { href: `${root}${album.page}${one.at}`, textContent: one.text })]);
    const file = el("a", { href: root + photo.whole.src, textContent: `file, ${photo.whole.width} × ${photo.whole.height} px` });
    const line = el("small", {}, ...(photo.private ? [el("b", { textContent: "Private, not to be published" }), " · "] : []), ...shows, ...(shows.length ? [" · "] : []), ...(photo.credit ? [`${photo.credit} · `] : []), file);
    return el("figure", {}, el("div", { className: "glass", id: `glass-${photo.id}` }), el("figcaption", {}, words, line));
  }

  /** @param {Photo} photo @param {number} number */
  function viewer(photo, number) {
    const made = OSD({
      element: document.getElementById(`glass-${photo.id}`),
      tileSources: tm.tileSource(photo, root, OSD),
      drawer: "canvas", prefixUrl: "", showNavigationControl: false, crossOriginPolicy: false, loadTilesWithAjax: false,
      animationTime: quiet ? 0 : 0.4, springStiffness: 9, zoomPerScroll: 1.25, visibilityRatio: 0.4, maxZoomPixelRatio: 12, minZoomImageRatio: 0.5,
      gestureSettingsMouse: { clickToZoom: false, dblClickToZoom: true }, imageLoaderLimit: 4,
    });
    const canvas = made.canvas;
    canvas.setAttribute("role", "application");
    canvas.setAttribute("aria-label", `${photo.words}. Arrow keys move it, plus and minus come nearer and go back, 0 shows all of it.`);
    made.addHandler("open-failed", () => say(`${photo.words}: the picture cannot be opened.`));
    made.addHandler("canvas-key", (/** @type {any} */ event) => step(event, made.viewport));
    for (const touch of ["canvas-key", "canvas-press", "canvas-scroll", "canvas-pinch", "canvas-double-click"]) made.addHandler(touch, () => (leader = number));
    made.addHandler("viewport-change", () => number === leader && viewers.length === 2 && pull());
    return made;
  }

  /** A key is one step, and a key held down many: the library's own way moves only while a key is held. @param {any} event @param {any} port */
  function step(event, port) {
    const { key, ctrlKey, metaKey, altKey } = event.originalEvent;
    const size = port.getBounds();
    const by = (/** @type {number} */ x, /** @type {number} */ y) => port.panBy(new OSD.Point(x * size.width, y * size.height));
    /** @type {Record<string, () => void>} */
    const steps = {
      ArrowLeft: () => by(-0.12, 0), ArrowRight: () => by(0.12, 0), ArrowUp: () => by(0, -0.12), ArrowDown: () => by(0, 0.12),
      "+": () => port.zoomBy(1.3), "=": () => port.zoomBy(1.3), "-": () => port.zoomBy(1 / 1.3), _: () => port.zoomBy(1 / 1.3), "−": () => port.zoomBy(1 / 1.3),
      0: () => port.goHome(),
    };
    event.preventDefaultAction = true;
    if (ctrlKey || metaKey || altKey || !steps[key]) return;
    steps[key]();
    if (key !== "0") port.applyConstraints();
    event.preventDefault = true;
  }

  /** @param {any} viewer @returns {View} */
  function view(viewer) {
    const { x, y } = viewer.viewport.getCenter(true);
    return { x, y, zoom: viewer.viewport.getZoom(true) };
  }

  /** Which view was touched last: it leads, and is never pulled back by the one that follows it. */
  let leader = 0;
  /** The other view follows the leader, frame by frame. */
  function pull() {
    if (!tie) return;
    const back = { dx: -tie.dx, dy: -tie.dy, times: 1 / tie.times };
    const to = tm.follow(view(viewers[leader]), leader ? back : tie);
    const other = viewers[1 - leader].viewport;
    other.zoomTo(to.zoom, undefined, true);
    other.panTo(new OSD.Point(to.x, to.y), true);
  }

  /** @param {boolean} two */
  function bar(two) {
    const each = (/** @type {(port: any) => void} */ act) => () => {
      // Of two that are tied, moving the first moves both.
      leader = 0;
      for (const one of tie ? viewers.slice(0, 1) : viewers) act(one.viewport);
    };
    const button = (/** @type {string} */ text, /** @type {string} */ label, /** @type {() => void} */ onclick) => el("button", { type: "button", textContent: text, onclick, attr: { "aria-label": label } });
    const parts = [
      button("−", "Go back", each((port) => port.zoomBy(1 / 1.5))),
      button("+", "Come nearer", each((port) => port.zoomBy(1.5))),
      button("Whole", "Whole picture", each((port) => port.goHome())),
      button("1 : 1", "1 : 1, one pixel of the picture to one of the screen", each((port) => port.zoomTo(port.imageToViewportZoom(1 / (window.devicePixelRatio || 1))))),
    ];
    if (two) {
      const box = /** @type {HTMLInputElement} */ (el("input", { type: "checkbox", checked: true, id: "picture-tie" }));
      box.onchange = () => {
        const [one, other] = viewers.map(view);
        tie = box.checked ? { dx: other.x - one.x, dy: other.y - one.y, times: other.zoom / one.zoom } : null;
      };
      tie = { dx: 0, dy: 0, times: 1 };
      parts.push(el("label", {}, box, " Move together"));
    }
    parts.push(el("span", { className: "keys" }, "Drag, wheel; or arrow keys, ", el("kbd", { textContent: "+" }), " ", el("kbd", { textContent: "−" }), " ", el("kbd", { textContent: "0" })));
    at("picture-bar").replaceChildren(...parts);
    at("picture-bar").hidden = false;
  }

  /** @param {string} entry @param {Album} album @param {Photo[]} shown */
  function more(entry, album, shown) {
    const rest = album.photos.filter((photo) => !shown.includes(photo));
    const items = rest.map((photo) => el("li", {}, el("a", { href: `#${entry}/${photo.id}` }, el("img", { src: root + photo.small.src, width: photo.small.width, height: photo.small.height, alt: "", loading: "lazy" }), photo.words)));
    /** @type {Element} */ (at("picture-more").querySelector("ul")).replaceChildren(...items);
    at("picture-more").hidden = !rest.length;
  }

  addEventListener("hashchange", open);
  open();
})((window.Tellmark ??= {}));
