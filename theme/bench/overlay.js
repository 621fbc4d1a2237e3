// @ts-check
/* The page: the pictures one on the other, the numbers and lists, what is kept. */
((/** @type {BenchGlobal} */ tm) => {
  "use strict";
  const tools = /** @type {OverlayTools} */ (tm.overlay);
  const { SIDES, KINDS, MODES, desk, repeated, judge, alike, words, mark, letter } = tools;
  const { byId: $, el, put, root } = tm;
  const all = (/** @type {string} */ what) => /** @type {any[]} */ ([...document.querySelectorAll(`#overlay ${what}`)]);

  // The stage
  /** Before there is a fit the second picture lies in the middle of the first, as high. @returns {Plane} */
  function lay() {
    const [a, b] = desk.pictures;
    if (desk.found.map || !a || !b) return desk.found.map ?? [1, 0, 0, 1, 0, 0];
    const s = a.height / b.height;
    return [s, 0, 0, s, (a.width - s * b.width) / 2, 0];
  }
  const stage = tools.stage(() => ({ lay: lay(), marks: $("show-marks").checked, scale: board.scale() }));
  const board = tools.viewer($("stage"), {
    paint: stage.paint,
    key(event) {
      const [least, most] = MODES[desk.mode];
      const way = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1 }[event.key];
      const pick = Object.keys(MODES)[Number(event.key) - 1];
      if (way && !event.shiftKey) slide(desk.fraction[desk.mode] + (way * (most - least)) / 50);
      else if (event.key === " ") swap();
      else if (pick) show(pick);
      else return false;
      return true;
    },
    grab(p) {
      const wide = $("stage").clientWidth;
      const off = board.screen(p)[0] - (wide * desk.fraction.split) / 100;
      return desk.mode === "split" && Math.abs(off) < 18 ? (to) => slide((board.screen(to)[0] / wide) * 100) : null;
    },
  });

  /** @param {number} to */
  function slide(to) {
    const { mode, fraction } = desk;
    const [least, most, , , unit] = MODES[mode];
    $("fraction").value = fraction[mode] = Math.max(least, Math.min(most, to));
    $("fraction-says").textContent = `${most > 10 ? Math.round(fraction[mode]) : fraction[mode].toFixed(1)}${unit}`;
    if (timer) blink(true);
    board.redraw();
  }

  /** @param {string} mode */
  function show(mode) {
    blink(false);
    [desk.mode, desk.swapped] = [mode, false];
    const [min, max, , label] = MODES[mode];
    Object.assign($("fraction"), { min, max, step: max > 10 ? 1 : 0.1, hidden: mode === "blink" && calm.matches });
    $("fraction-label").textContent = label;
    all("[name=mode]").forEach((one) => (one.checked = one.value === mode));
    $("blinking").hidden = mode !== "blink";
    $("blink").hidden = calm.matches;
    seen();
    slide(desk.fraction[mode]);
    if (mode === "edges") trace();
  }

  // At most 2.5 times there and back in a second, never before it is asked for, only by hand where less motion is wished.
  const calm = matchMedia("(prefers-reduced-motion: reduce)");
  let timer = 0;
  function swap() {
    if (desk.mode !== "blink") return;
    desk.swapped = !desk.swapped;
    seen();
    board.redraw();
  }
  const seen = () => void ($("seen").textContent = `Seen now: the ${SIDES[Number(desk.swapped)]} picture${desk.pictures[Number(desk.swapped)] ? `, ${desk.pictures[Number(desk.swapped)]?.name}` : ""}.`);
  /** @param {boolean} on */
  function blink(on) {
    clearInterval(timer);
    timer = on && !calm.matches ? setInterval(swap, 500 / desk.fraction.blink) : 0;
    $("blink").setAttribute("aria-pressed", String(!!timer));
  }

  async function trace() {
    const picture = desk.pictures[1];
    if (!picture || picture.edges) return;
    if (picture.sealed) return desk.say("The edges of this reference picture cannot be drawn: its copy for that is missing in this folder.");
    desk.say("Edges are being drawn …");
    picture.edges = await tools.edges(picture);
    desk.say("Edges are drawn.");
    board.redraw();
  }

  // Numbers and lists
  /** @param {string} name @param {...(string | Node)} inner @returns {any} */
  const node = (name, ...inner) => tm.el(name, {}, ...inner);
  /** @param {string | Node} inner @param {() => void} onclick @param {string} [label] */
  function button(inner, onclick, label) {
    const made = Object.assign(node("button", inner), { type: "button", onclick });
    if (label) made.setAttribute("aria-label", label);
    return made;
  }

  function notes() {
    const { overlay, found } = desk;
    const list = [];
    const note = (/** @type {(string | Node)[]} */ ...inner) => list.push(node("li", ...inner));
    if (found.why) note(found.why);
    else if (!found.redundancy) note("Two landmarks always fit: a third shows how well.");
    if (found.better != null) note(`${found.mirrored ? "Without the mirror" : "As a mirror image"} it fits far better: ${found.better.toFixed(2)} instead of ${found.rms.toFixed(1)} px rms. `, button(found.mirrored ? "Do not mirror" : "Mirror the second", () => desk.change("", () => (overlay.mirrored = !overlay.mirrored))));
    if (found.outlier) {
      const { at, rms } = found.outlier;
      note(node("b", `Landmark ${at + 1}`), ` does not agree with the others: without it the residual is ${rms.toFixed(2)} instead of ${found.rms.toFixed(2)} px rms. `, button("Look at it", () => desk.choose({ list: "landmarks", at })), " ", button("Leave it out", () => desk.change("", () => (overlay.landmarks[at].off = true))));
    }
    return list;
  }

  /** @param {OverlayChoice} which @param {(string | Node)[]} cells */
  function row(which, cells) {
    const { list, at } = which;
    const name = desk.name(which);
    const drawn = tools.sheet(44, 34);
    mark(drawn, [14, 20], list === "marks" ? -1 : at, list === "marks" ? letter(at) : `${at + 1}`, 1);
    const head = Object.assign(node("th", button(drawn.canvas, () => desk.choose(which), name)), { scope: "row" });
    const made = node("tr", head, ...cells.map((cell) => node("td", cell)), node("td", button("×", () => desk.remove(which), `Take ${name.toLowerCase()} away`)));
    if (desk.chosen?.list === list && desk.chosen.at === at) made.className = "lit";
    return made;
  }

  const px = (/** @type {Spot | null} */ p) => (p ? p.map((x) => x.toFixed(1)).join(", ") : "–");
  /** @param {OverlayLandmark} item @param {number} at */
  function landmark(item, at) {
    const used = Object.assign(node("input"), { type: "checkbox", checked: !item.off, onchange: () => desk.change("", () => (item.off = !item.off)) });
    used.setAttribute("aria-label", `Landmark ${at + 1} used`);
    const odd = desk.found.outlier?.at === at ? "✕ " : "";
    const made = row({ list: "landmarks", at }, [px(item.first), px(item.second), odd + (desk.found.of(at)?.toFixed(2) ?? "–"), used]);
    if (odd) made.classList.add("odd");
    return made;
  }

  /** @param {OverlayMark} item @param {number} at */
  function repeat(item, at) {
    const name = `Mark ${letter(at)}`;
    const kind = node("select", ...Object.entries(KINDS).map(([value, word]) => new Option(word, value, false, value === item.kind)));
    kind.setAttribute("aria-label", `${name} is a`);
    kind.onchange = () => desk.change("", () => (item.kind = kind.value));
    const both = item.first && item.second;
    const { far, words: judged } = judge(desk.overlay, desk.found, item);
    const state = (/** @type {"same" | "missing"} */ to, /** @type {string} */ word) => {
      const made = button(word, () => desk.change("", () => (item.state = to)), `${name}: ${word.toLowerCase()}`);
      made.setAttribute("aria-pressed", String(item.state === to));
      return made;
    };
    const answer = both ? judged : node("span", state("same", "There"), " ", state("missing", "Not there"));
    const apart = Number.isNaN(far) ? "–" : far.toFixed(2);
    return row({ list: "marks", at }, [kind, answer, apart]);
  }

  desk.refresh = () => {
    const { overlay, found } = desk;
    const focus = document.activeElement?.getAttribute("aria-label");
    $("turned").textContent = found.map ? tools.turn(found) : "–";
    $("scaled").textContent = found.map ? found.scale.toFixed(4) : "–";
    $("rms").textContent = !found.map ? "–" : found.redundancy ? `${found.rms.toFixed(2)} px, ${found.used.length} landmarks` : "none yet";
    $("mirrored").checked = overlay.mirrored;
    $("says").replaceChildren(...notes());
    for (const [id, rows] of /** @type {[string, any[]][]} */ ([["landmarks", overlay.landmarks.map(landmark)], ["marks", overlay.marks.map(repeat)]])) {
      $(id).tBodies[0].replaceChildren(...rows);
      $(id).hidden = !rows.length;
    }
    $("counted").textContent = overlay.marks.length ? repeated(overlay, found).words : "";
    const long = stage.lengthening();
    $("lengthened").textContent = long > 1 ? `Residuals are drawn ${long} times as long.` : "";
    // Switched off altogether they would lose the focus.
    $("undo").ariaDisabled = String(!desk.canStep(-1));
    $("redo").ariaDisabled = String(!desk.canStep(1));
    for (const view of [...desk.panes, board]) view.redraw();
    // Rows are made anew: whoever was in one stays there.
    if (focus && document.activeElement === document.body) all(`[aria-label="${CSS.escape(focus)}"]`)[0]?.focus();
  };
  desk.hung = (number) => {
    const picture = /** @type {LaidPicture} */ (desk.pictures[number]);
    all(".pane-name")[number].textContent = `${picture.name}, ${picture.width} × ${picture.height} px`;
    all(".empty")[number].hidden = true;
    all(".empty")[2].hidden = desk.pictures.every(Boolean);
    desk.panes[number].show(picture);
    if (!number) board.show(picture);
    desk.refresh();
    if (desk.mode === "edges") trace();
  };

  // What is kept
  /** @param {Blob} blob @param {string} name */
  function save(blob, name) {
    const link = Object.assign(node("a"), { href: URL.createObjectURL(blob), download: name });
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 60000);
    desk.say(`Saved as ${name}.`);
  }
  const stem = () => `overlay-${desk.overlay.pictures.map(({ name }) => name.replace(/\.[^.]*$/, "").replace(/[^\p{L}\p{N}]+/gu, "-") || "none").join("-")}`;

  async function savePicture() {
    const { overlay, found, mode, fraction, pictures } = desk;
    if (!pictures[0] || !pictures[1]) return desk.say("Open two pictures first.");
    if (pictures.some((one) => one?.sealed)) return desk.say("This cannot be saved as a picture: the copy of the reference picture that can be saved from is missing in this folder. The landmarks can be saved.");
    const shown = mode === "blink" ? `the ${SIDES[Number(desk.swapped)]} picture` : `${mode}, ${MODES[mode][3].toLowerCase()} ${$("fraction-says").textContent}`;
    const lines = [...(await heading()), ...words(overlay, found, shown), ...($("show-marks").checked && $("lengthened").textContent ? [$("lengthened").textContent] : []), "Supports, and never replaces, examination of the piece by a qualified examiner. Tellmark."];
    const canvas = stage.picture(board.view(), lines);
    const blob = await new Promise((done) => canvas.toBlob(done, "image/png"));
    if (!blob) return desk.say("The browser could not make the picture. Make its window smaller and try again.");
    const { scale, degrees, mirrored, rms } = found;
    const facts = JSON.stringify({ overlay, fit: found.map ? { scale, degrees, mirrored, rms } : null, mode, fraction: fraction[mode] });
    const bytes = new Uint8Array(await blob.arrayBuffer());
    save(new Blob(tools.withText(bytes, [["Description", lines.join("\n")], ["Comment", facts]]), { type: "image/png" }), `${stem()}.png`);
  }

  /** @param {string} name @param {string} body */
  function reopen(name, body) {
    const { overlay, why } = tools.read(body);
    if (!overlay) return desk.say(`${name}: ${why} What is set on the page is kept.`);
    const named = overlay.pictures.map(({ name, width, height }) => `${name || "an unnamed picture"}, ${width} × ${height} px`).join("; ");
    // Marks of other pictures are no marks of these.
    if (overlay.pictures.some((one, at) => one.width && desk.pictures[at] && !alike(one, desk.overlay.pictures[at]))) {
      desk.aside(overlay);
      return desk.say(`${name} belongs to other pictures: ${named}. Open those, and its landmarks are laid on them; these keep their own.`);
    }
    overlay.pictures = overlay.pictures.map((one, at) => (desk.pictures[at] ? desk.overlay.pictures[at] : one));
    desk.chosen = null;
    desk.change("", () => (desk.overlay = overlay));
    desk.say(`Reopened: set on ${named}.${desk.pictures.every(Boolean) ? "" : " Open these pictures too."}`);
  }

  // The coin, and its examination

  /** @type {CountryKnowledge | null} */
  let country = null;
  /** @type {SiteKnowledge | null} */
  let site = null;
  let coin = "";
  const current = () => {
    const id = tm.shelf.asked().record || tm.drawer.current();
    return id ? tm.drawer.open(id) : { record: null, trouble: "" };
  };

  function toRecord() {
    const { overlay, found, pictures } = desk;
    const { record, trouble } = current();
    const ours = record && (!coin || record.coin.issue === coin);
    if (!ours && !(country?.issues[coin] && site)) return trouble ? desk.say(trouble) : desk.say("No examination is open, and no coin is known to begin one for. Choose the coin on ", el("a", { href: "index.html" }, "the bench"), ", then come back: what is set here is kept, and laid on these pictures again.");
    const at = new Date().toISOString();
    const into = ours ? record : tm.record.fresh(coin, /** @type {CountryKnowledge} */ (country), /** @type {SiteKnowledge} */ (site), tm.drawer.newId(), at);
    const { width = 0, height = 0 } = pictures[0] ?? {};
    const failed = tm.drawer.save(tm.record.attach(into, { name: stem(), width, height, words: words(overlay, found, "").join(" "), marks: overlay, at }));
    if (failed) return desk.say(failed);
    if (!ours) tm.drawer.setCurrent(into.id);
    desk.say(ours ? "" : "An examination was begun. ", "Put into the examination of ", el("a", { href: `examination.html#record=${into.id}` }, into.coin.reference || into.coin.title || "a coin not named"), ".");
  }

  /** Entries of pictures, by the script that tells of them. @type {Record<string, any>} */
  const albums = {};
  tm.album ??= (/** @type {string} */ entry, /** @type {any} */ album) => void (albums[entry] = album);
  /** Credit and licence of a reference picture, from the list of its entry's pictures. @param {string} src */
  async function credit(src) {
    const id = country?.issues[coin]?.pictures.find((one) => one.src === src)?.id ?? "";
    const entry = id.slice(0, id.lastIndexOf("/"));
    if (entry && !albums[entry]) await new Promise((done) => {
      const script = Object.assign(document.createElement("script"), { src: `${root}bench/pictures/${entry}.js`, onload: done, onerror: done });
      document.head.append(script);
    });
    const photo = albums[entry]?.photos.find((/** @type {any} */ one) => one.id === id.slice(entry.length + 1));
    return photo ? [photo.private ? "Private, not to be published." : "", photo.credit].filter(Boolean).join(" ") : "";
  }

  /** What stands above the numbers in a saved picture: the coin, the day, whose the reference pictures are. */
  async function heading() {
    const { record } = current();
    const known = country?.issues[coin];
    const named = [known?.title ?? record?.coin.title, record && (!coin || record.coin.issue === coin) ? record.coin.reference : ""].filter(Boolean).join(", ");
    const lines = [`${$("invented")?.hidden === false ? "Invented: this coin, its country and its forgeries do not exist. " : ""}${named ? `Coin: ${named}. ` : ""}Made on ${new Date().toISOString().slice(0, 10)}.`];
    for (const [at, picture] of desk.pictures.entries()) {
      const whose = picture?.src ? await credit(picture.src) : "";
      if (picture?.src) lines.push(`The ${SIDES[at]} picture is a reference picture of Tellmark: ${whose || "its credit and licence are not in this folder"}.`);
    }
    return lines;
  }

  // What the address asks for: reference pictures of an issue, an overlay kept in a record
  function known() {
    const asked = tm.shelf.asked();
    const record = asked.record ? current().record : null;
    const kept = record?.pictures.filter(({ marks }) => /** @type {any} */ (marks)?.format === "tellmark-overlay").pop();
    if (kept) reopen(kept.name, JSON.stringify(kept.marks));
    const issue = asked.issue || record?.coin.issue || (asked.series ? "" : current().record?.coin.issue) || "";
    [coin, country] = [issue, null];
    if (!issue) return;
    tm.shelf.site((found) => (site = found));
    tm.shelf.country(issue, (know) => {
      country = know;
      const entry = know?.issues[issue];
      const count = entry?.pictures.length ?? 0;
      put($("overlay-issue"), ...(entry ? [el("a", { href: root + entry.page }, entry.title), `: ${count} reference ${count === 1 ? "picture" : "pictures"} on file.`] : ["The coin named in the address is not on file here."]));
      for (const select of all(".known")) {
        select.hidden = !count;
        put(select, select.options[0], ...(entry?.pictures ?? []).map(({ src, name }) => new Option(name, src)));
      }
      const signs = (entry?.signs ?? []).map(({ text, place }) => node("li", place ? `${text} (${place})` : text));
      put($("signs"), ...(signs.length ? [node("h3", "Markers of the true dies on file"), node("ul", ...signs)] : []));
    });
  }

  /** @type {Record<string, () => void>} */
  const clicks = {
    undo: () => desk.step(-1), redo: () => desk.step(1), swap, blink: () => blink(!timer), "save-picture": savePicture, "to-record": toRecord,
    "save-marks": () => save(new Blob([JSON.stringify(desk.overlay, null, 1)], { type: "application/json" }), `${stem()}.json`),
  };
  Object.entries(clicks).forEach(([id, act]) => ($(id).onclick = act));
  $("mirrored").onchange = () => desk.change("", () => (desk.overlay.mirrored = $("mirrored").checked));
  $("fraction").oninput = () => slide(Number($("fraction").value));
  $("show-marks").onchange = board.redraw;
  $("open-marks").onchange = () => {
    const [file] = $("open-marks").files;
    // Landmarks are short: of what is longer the beginning is enough to refuse it.
    file?.slice(0, 1e6).text().then((/** @type {string} */ body) => reopen(file.name, body));
    $("open-marks").value = "";
  };
  all("[name=mode]").forEach((one) => (one.onchange = () => show(one.value)));
  all("[data-zoom]").forEach((one) => {
    const view = one.closest("[data-side]") ? desk.panes[SIDES.indexOf(one.closest("[data-side]").dataset.side)] : board;
    one.onclick = () => (Number(one.dataset.zoom) ? view.zoom(Number(one.dataset.zoom)) : view.fit());
  });
  document.addEventListener("keydown", (event) => {
    const letter = event.key.toLowerCase();
    if (!(event.ctrlKey || event.metaKey) || !"zy".includes(letter) || /** @type {Element} */ (event.target).matches("[type=text]")) return;
    event.preventDefault();
    desk.step(letter === "y" || event.shiftKey ? 1 : -1);
  });
  calm.onchange = () => show(desk.mode);
  addEventListener("hashchange", known);
  show("fade");
  known();
  desk.refresh();
})((window.Tellmark ??= {}));
