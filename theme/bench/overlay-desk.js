// @ts-check
/* The state of the page, undoing, and pictures that are opened: the examiner's own files, or the site's reference pictures. */
((/** @type {BenchGlobal} */ tm) => {
  "use strict";
  const { SIDES, fresh, read, bring, letter, levels, alike, slot } = /** @type {OverlayTools} */ (tm.overlay);
  const { root, put, byId } = tm;
  const LISTS = /** @type {const} */ (["landmarks", "marks"]);
  const trouble = (/** @type {number} */ number, /** @type {string} */ words) => void (document.querySelectorAll("#overlay .trouble")[number].textContent = words);
  /** Bytes of a file that are read at most. */
  const MOST = 4e8;
  /** States before and after the present one. @type {string[][]} */
  const kept = [[], []];
  /** What was set on other pairs of pictures since the page was opened, by their slot, should the browser keep nothing. @type {Map<string, string>} */
  const aside = new Map();
  const anything = () => LISTS.some((list) => desk.overlay[list].length > 0);
  /** Keeps what is set under the names of its pictures, until they are opened again. */
  function keep() {
    const where = slot(desk.overlay);
    if (!desk.overlay.pictures.some(({ width }) => width) || !(anything() || aside.has(where))) return;
    const words = JSON.stringify(desk.overlay);
    aside.set(where, words);
    tm.remember(where, words);
    byId("unkept").hidden = tm.remembered(where) === words;
  }
  let [last, opened] = ["", 0];
  /** What was asked for last in each of the two places. */
  const asked = [0, 0];

  /** @type {OverlayTools["MODES"]} */
  const MODES = {
    fade: [0, 100, 50, "Second picture", " %"], blink: [0.5, 2.5, 1, "There and back, a second", " ×"], split: [0, 100, 50, "Line", " %"],
    difference: [1, 8, 2, "Brightened", " ×"], edges: [0, 100, 100, "Edges of the second", " %"],
  };

  let touched = document.querySelector("#overlay section");
  addEventListener("pointerdown", ({ target }) => void (touched = (target instanceof Element && target.closest("#overlay section")) || touched), true);

  /** @type {OverlayDesk} */
  const desk = {
    overlay: fresh(), found: bring(fresh()), chosen: null, pictures: [null, null], cross: [[0, 0], [0, 0]], panes: [],
    mode: "fade", fraction: Object.fromEntries(Object.entries(MODES).map(([mode, range]) => [mode, range[2]])), swapped: false,
    refresh: () => {}, hung: () => {},
    say(...words) {
      put(byId("overlay-status"), ...words.map((one) => (one instanceof Node ? one.cloneNode(true) : one)));
      // Seen beside what was touched last; read aloud from one place that never moves.
      const section = document.activeElement?.closest("#overlay section") ?? touched;
      document.querySelectorAll("#overlay .said").forEach((line) => put(line, ...(section?.contains(line) ? words : [])));
    },
    name: ({ list, at }) => (list === "marks" ? `Mark ${letter(at)}` : `Landmark ${at + 1}`),

    change(what, how) {
      const before = JSON.stringify(desk.overlay);
      how();
      if (!what || what !== last) kept[0].push(before);
      last = what;
      kept[1] = [];
      if (kept[0].length > 300) kept[0].shift();
      desk.found = bring(desk.overlay);
      keep();
      desk.refresh();
    },
    set(overlay) {
      [desk.overlay, desk.chosen, last] = [overlay, null, ""];
      kept[0].length = kept[1].length = 0;
      desk.found = bring(overlay);
      keep();
      desk.refresh();
    },
    aside(overlay) {
      aside.set(slot(overlay), JSON.stringify(overlay));
      tm.remember(slot(overlay), JSON.stringify(overlay));
    },
    pause: () => void (last = ""),
    canStep: (way) => !!kept[way < 0 ? 0 : 1].length,
    step(way) {
      const state = kept[way < 0 ? 0 : 1].pop();
      if (!state) return;
      kept[way < 0 ? 1 : 0].push(JSON.stringify(desk.overlay));
      // Pictures stay as they hang: only marks are undone.
      desk.overlay = { ...JSON.parse(state), pictures: desk.overlay.pictures };
      desk.found = bring(desk.overlay);
      keep();
      desk.choose(null);
      desk.say(way < 0 ? "Undone." : "Done again.");
    },

    choose(which) {
      desk.chosen = which && { list: which.list, at: which.at };
      last = "";
      if (which) {
        SIDES.forEach((side, at) => {
          const place = desk.overlay[which.list][which.at][side];
          if (place) desk.panes[at].look((desk.cross[at] = place));
        });
        desk.say(`${desk.name(which)} chosen.`);
      }
      desk.refresh();
    },
    remove(which) {
      if (!which) return;
      desk.chosen = null;
      desk.change("", () => desk.overlay[which.list].splice(which.at, 1));
      desk.say(`${desk.name(which)} taken away.`);
    },

    async give(files, number) {
      // Two at once are the first and the second; one goes where it was given.
      for (const [at, file] of files.slice(0, 2).entries()) await open(file, files.length > 1 ? at : number);
    },

    fromSite(path, number, name) {
      const script = document.createElement("script");
      let here = false;
      wanted[path] = (data) => {
        here = true;
        const [head, body] = data.split(",");
        open(new File([Uint8Array.from(atob(body), (one) => one.charCodeAt(0))], name, { type: head.slice(5).split(";")[0] }), number, path);
      };
      script.onload = script.onerror = () => {
        script.remove();
        if (!here) sealed(path, name, number);
      };
      script.src = `${root}${path.replace(/\.[^.]+$/, "")}.js`;
      document.head.append(script);
    },
  };

  /** @type {Record<string, (data: string) => void>} */
  const wanted = {};
  const before = tm.picture;
  // Called by the script beside each picture of the site. A canvas that drew a picture's file from disk cannot be read back;
  // one that drew the same bytes out of a script can.
  tm.picture = (/** @type {string} */ path, /** @type {string} */ data) => {
    before?.(path, data);
    wanted[path]?.(data);
  };

  /** @param {File} file @param {number} number @param {string} [src] Of a reference picture. */
  async function open(file, number, src = "") {
    const name = file.name || "pasted picture";
    const turn = (asked[number] += 1);
    desk.say(`Opening ${name} …`);
    let why = `“${name}” has more than ${MOST / 1e6} megabytes: save a smaller copy.`;
    try {
      const bytes = file.size > MOST ? null : new Uint8Array(await file.arrayBuffer());
      const facts = bytes && tm.sniff(bytes, name);
      why = facts?.trouble ?? why;
      if (bytes && !why) {
        why = `“${name}” cannot be read: it is damaged, or of a kind this browser does not know.`;
        // From the bytes, not from an image on the page: it is decoded beside the page, which goes on meanwhile.
        const bitmap = await createImageBitmap(new Blob([bytes], { type: facts.mime }));
        const sum = await crypto.subtle?.digest("SHA-256", bytes);
        const sha256 = sum ? Array.from(new Uint8Array(sum), (x) => x.toString(16).padStart(2, "0")).join("") : "";
        // A small picture may be ready before a large one that was asked for earlier.
        return turn === asked[number] ? await hang({ name, width: bitmap.width, height: bitmap.height, sha256, bitmap, src }, number, false, facts.notes.join(" ")) : bitmap.close();
      }
    } catch {
      // Said below.
    }
    trouble(number, why + (desk.pictures[number] ? " The picture before it and all marks are kept." : ""));
    desk.say("");
  }

  /** A picture drawn from its file: good to look at only. @param {string} path @param {string} name @param {number} number */
  async function sealed(path, name, number) {
    const image = new Image();
    image.src = root + path;
    try {
      await image.decode();
      const bitmap = await createImageBitmap(image);
      await hang({ name, width: bitmap.width, height: bitmap.height, sha256: "", bitmap, src: path }, number, true, "The copy of this picture that can be saved from is missing in this folder. It can be laid over and looked at, but not drawn as edges or saved as a picture.");
    } catch {
      trouble(number, `${name} cannot be read. The folder of the site may not be complete.`);
    }
  }

  /**
   * A picture is hung. What was set on another one is not laid on it, but kept for its own; what was set on these two before
   * is laid on them again.
   * @param {{ name: string, width: number, height: number, sha256: string, bitmap: ImageBitmap, src: string }} got @param {number} number @param {boolean} sealed @param {string} note
   */
  async function hang({ name, width, height, sha256, bitmap, src }, number, sealed, note) {
    const picture = { name, src, width, height, levels: await levels(bitmap, sealed), sealed, edges: null, key: (opened += 1) };
    const [side, was] = [SIDES[number], desk.overlay.pictures[number]];
    const now = { name, width, height, sha256 };
    const moved = was.width > 0 && !alike(was, now) && LISTS.some((list) => desk.overlay[list].some((item) => item[side]));
    desk.pictures[number]?.levels.forEach((level) => level.close());
    desk.pictures[number] = picture;
    desk.cross[number] = [width / 2, height / 2];
    desk.chosen = null;
    /** @type {Overlay} */
    const next = JSON.parse(JSON.stringify(desk.overlay));
    next.pictures[number] = now;
    const before = alike(was, now) || !next.pictures.every((one) => one.width) ? null : read(aside.get(slot(next)) ?? tm.remembered(slot(next)) ?? "").overlay;
    const again = before && (before.landmarks.length || before.marks.length);
    if (again) Object.assign(next, before, { pictures: next.pictures });
    else if (moved) LISTS.forEach((list) => {
      const items = /** @type {any[]} */ (next[list]);
      items.forEach((item) => (item[side] = null));
      items.splice(0, items.length, ...items.filter((item) => item.first || item.second));
    });
    // What can be undone belongs to the pictures that hang.
    if (again || moved) desk.set(next);
    else desk.overlay.pictures[number] = now;
    trouble(number, note);
    desk.hung(number);
    const put = moved ? ` It is not the picture before it, so what was set on that one was put aside: it comes back when “${was.name}” is opened here again.` : "";
    desk.say(`${name} is open as the ${side} picture.${put}${again ? " What was set on these two pictures was kept, and is laid on them again." : ""}`);
  }

  Object.assign(tm.overlay, { desk, MODES });
})((window.Tellmark ??= {}));
