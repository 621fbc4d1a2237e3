// @ts-check
/* The page: the pictures one on the other, the numbers and lists, what is kept. */
((/** @type {BenchGlobal} */ tm) => {
  "use strict";
  const tools = /** @type {OverlayTools} */ (tm.overlay);
  const { SIDES, KINDS, MODES, desk, repeated, words, mark, letter } = tools;
  const $ = (/** @type {string} */ id) => /** @type {any} */ (document.getElementById(id));
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
    slide(desk.fraction[mode]);
    if (mode === "edges") trace();
  }

  // At most 2.5 times there and back in a second, never before it is asked for, only by hand where less motion is wished.
  const calm = matchMedia("(prefers-reduced-motion: reduce)");
  let timer = 0;
  function swap() {
    if (desk.mode !== "blink") return;
    desk.swapped = !desk.swapped;
    board.redraw();
  }
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
  function node(name, ...inner) {
    const made = document.createElement(name);
    made.append(...inner);
    return made;
  }
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
    const state = (/** @type {"same" | "missing"} */ to, /** @type {string} */ word) => {
      const made = button(word, () => desk.change("", () => (item.state = to)), `${name}: ${word.toLowerCase()}`);
      made.setAttribute("aria-pressed", String(item.state === to));
      return made;
    };
    const answer = both ? "at the same place" : node("span", state("same", "There"), " ", state("missing", "Not there"));
    const apart = both && desk.found.map ? repeated({ ...desk.overlay, marks: [item] }, desk.found.map).rms.toFixed(2) : "–";
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
    $("counted").textContent = overlay.marks.length ? repeated(overlay, found.map).words : "";
    const long = stage.lengthening();
    $("lengthened").textContent = long > 1 ? `Residuals are drawn ${long} times as long.` : "";
    $("undo").disabled = !desk.canStep(-1);
    $("redo").disabled = !desk.canStep(1);
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
    const lines = [...words(overlay, found, shown), ...($("show-marks").checked && $("lengthened").textContent ? [$("lengthened").textContent] : []), "Supports, and never replaces, examination of the piece by a qualified examiner. Tellmark."];
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
    const was = overlay.pictures;
    const wrong = was.filter(({ width, height }, at) => width && desk.pictures[at] && (desk.pictures[at].width !== width || desk.pictures[at].height !== height));
    overlay.pictures = was.map((one, at) => (desk.pictures[at] ? desk.overlay.pictures[at] : one));
    desk.chosen = null;
    desk.change("", () => (desk.overlay = overlay));
    const named = (/** @type {typeof was} */ list) => list.map(({ name, width, height }) => `${name || "an unnamed picture"}, ${width} × ${height} px`).join("; ");
    desk.say(wrong.length ? `Reopened, but set on pictures of another size: ${named(wrong)}.` : `Reopened: set on ${named(was)}.${desk.pictures.every(Boolean) ? "" : " Open these pictures too."}`);
  }

  function toRecord() {
    const { overlay, found, pictures } = desk;
    const { record, trouble } = tm.drawer.open(tm.drawer.current());
    if (!record) return desk.say(tm.drawer.current() ? trouble : "No examination is open. Begin one on the page Examination, then come back: save the landmarks before you go.");
    const { width = 0, height = 0 } = pictures[0] ?? {};
    const failed = tm.drawer.save(tm.record.attach(record, { name: stem(), width, height, words: words(overlay, found, "").join(" "), marks: overlay, at: new Date().toISOString() }));
    desk.say(failed || `Put into the examination of ${record.coin.title || "a coin not named"}.`);
  }

  // What the address asks for: reference pictures of an issue, an overlay kept in a record
  function known() {
    const asked = tm.shelf.asked();
    const record = asked.record ? tm.drawer.open(asked.record).record : null;
    const kept = record?.pictures.filter(({ marks }) => /** @type {any} */ (marks)?.format === "tellmark-overlay").pop();
    if (kept) reopen(kept.name, JSON.stringify(kept.marks));
    const issue = asked.issue || record?.coin.issue;
    if (!issue) return;
    tm.shelf.country(tm.shelf.countryOf(issue), (know) => {
      const coin = know?.issues[issue];
      const count = coin?.pictures.length ?? 0;
      $("overlay-issue").textContent = coin ? `${coin.title}: ${count} reference ${count === 1 ? "picture" : "pictures"} on file.` : "The coin named in the address is not on file here.";
      for (const select of all(".known")) {
        select.hidden = !count;
        select.replaceChildren(select.options[0], ...(coin?.pictures ?? []).map(({ src, name }) => new Option(name, src)));
      }
      const signs = (coin?.signs ?? []).map(({ text, place }) => node("li", place ? `${text} (${place})` : text));
      $("signs").replaceChildren(...(signs.length ? [node("h3", "Markers of the true dies on file"), node("ul", ...signs)] : []));
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
