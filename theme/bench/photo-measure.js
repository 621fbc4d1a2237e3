// @ts-check
/* Photo measure: the page. What follows from the marks is photo-measure-marks.js, what is drawn of them photo-measure-drawing.js; the picture is on the stage of glass.js. */
((/** @type {BenchGlobal} */ tm) => {
  "use strict";
  const { KINDS, fresh, read, reckon, compare, counts: offered, passed, faceOf } = /** @type {PhotoMarks} */ (tm.photoMarks);
  const glass = /** @type {Glass} */ (tm.glass);
  const { byId: $, el, put: into, root } = tm;
  /** As shown: twice the standard uncertainty, like every ± of the page. @param {number} u */
  const doubled = (u) => String(Number((2 * u).toPrecision(6)));
  const now = () => new Date().toISOString();

  let photo = fresh("");
  /** @type {MarkedPhoto[]} */
  let past = [];
  /** @type {MarkedPhoto[]} */
  let future = [];
  /** Before a drag; and the mark the arrow keys moved last, whose steps are undone as one. @type {MarkedPhoto | null} */
  let before = null;
  let nudged = "";
  /** What the next click marks. @type {"" | "rim" | "top" | MeasureKind} */
  let tool = "";
  /** @type {OpenPicture | null} */
  let picture = null;
  /** Marks that wait for their picture. @type {MarkedPhoto[]} */
  let waiting = [];
  /** @type {CountryKnowledge | null} */
  let country = null;
  /** @type {SiteKnowledge | null} */
  let site = null;
  /** @type {KnownIssue | null} */
  let issue = null;
  /** @type {ReckonedPhoto} */
  let found = reckon(photo, null);

  // The stage takes its size from the page, so the page is shown first.
  $("measure").hidden = false;
  const stage = glass.stage($("stage"), { place, move, choose: refreshPrompt, remove: (id) => id && remove(id), give: take });

  // What changes, and how it is taken back.

  /** @param {Partial<MarkedPhoto>} by */
  function change(by) {
    past.push(photo);
    if (past.length > 200) past.shift();
    future = [];
    nudged = "";
    photo = { ...photo, ...by };
    refresh();
  }
  /** @param {MarkedPhoto[]} from @param {MarkedPhoto[]} to @param {string} word */
  function travel(from, to, word) {
    const there = from.pop();
    if (!there) return stage.say(`Nothing to ${word}.`);
    to.push(photo);
    photo = there;
    nudged = "";
    refresh();
    stage.say(`${word === "undo" ? "Undone" : "Done again"}.`);
  }

  /** @param {Spot[]} list @param {number} at @param {Spot | null} spot */
  const put = (list, at, spot) => (spot ? list.map((old, i) => (i === at ? spot : old)) : list.filter((_, i) => i !== at));
  /** The photograph with one mark elsewhere, or without it. @param {string} id @param {Spot | null} spot @returns {Partial<MarkedPhoto>} */
  function withMark(id, spot) {
    const [whose, place] = id.split(":");
    if (whose === "rim" || whose === "top") return { [whose]: put(photo[whose], +place, spot) };
    // A measurement without one of its points is none.
    const measures = photo.measures.flatMap((one) => (one.id !== whose ? [one] : spot ? [{ ...one, points: put(one.points, +place, spot) }] : []));
    return { measures };
  }
  /** The nearest place of the picture. @param {Spot} at @returns {Spot} */
  const within = ([x, y]) => [Math.max(0, Math.min(photo.picture.width, x)), Math.max(0, Math.min(photo.picture.height, y))];
  /** @param {string} id @param {Spot} at @param {boolean} done */
  function move(id, at, done) {
    if (done && (before || nudged !== id)) {
      past.push(before ?? photo);
      future = [];
      nudged = before ? "" : id;
      before = null;
    } else if (!done) before ??= photo;
    photo = { ...photo, ...withMark(id, within(at)) };
    refresh();
  }
  /** @param {string} id */
  function remove(id) {
    change(withMark(id, null));
    // Marks after it have taken the names before theirs.
    stage.choose("");
    stage.say("Taken away.");
  }

  /** @param {Spot} at @param {string} over */
  function place(at, over) {
    if (!tool) return stage.choose(over);
    const inside = within(at);
    // The border of the picture itself may be meant, by a hand that is a pixel of the screen off.
    if (!picture || Math.hypot(at[0] - inside[0], at[1] - inside[1]) * stage.zoom() > 1.5) {
      complain("That place is outside the photograph: nothing was marked.");
      return stage.say($("trouble").textContent);
    }
    complain("");
    at = inside;
    // No click is better than half a pixel of the screen.
    const coarse = Math.ceil(5 / stage.zoom()) / 10;
    if (coarse > photo.click) {
      photo = { ...photo, click: coarse };
      $("coarse").textContent = `Set to ± ${doubled(coarse)} px, a pixel of the screen at this zoom. Zoom in or nudge the marks for better, then lower it.`;
    }
    if (tool === "rim") change({ rim: [...photo.rim, at] });
    else if (tool === "top") {
      const need = photo.topBy === "landmark" ? 1 : 2;
      const top = photo.top.length >= need ? [at] : [...photo.top, at];
      if (top.length === need) tool = "";
      change({ top });
    } else {
      const open = photo.measures.find((one) => one.points.length < KINDS[one.kind].asks.length);
      const measures = photo.measures.filter((one) => one !== open);
      const one = open?.kind === tool ? open : { id: tm.drawer.newId(), kind: tool, name: "", points: [] };
      change({ measures: [...measures, { ...one, points: [...one.points, at] }] });
    }
    stage.say($("prompt").textContent);
  }

  // What is said.

  function refreshPrompt() {
    const words = prompt();
    if ($("prompt").textContent !== words) $("prompt").textContent = words;
  }
  function prompt() {
    if (!picture) return waiting.length ? `The marks wait for “${waiting[0].picture.name}”: open it.` : "Open a photograph to begin.";
    if (tool === "rim") return photo.rim.length < 3 ? `Rim: ${photo.rim.length} of 3 or more places marked. Click right round the outer edge.` : `Rim: ${photo.rim.length} places. More make it surer; then mark the top.`;
    if (tool === "top") return photo.topBy === "landmark" ? "Top: click what stands at 12 o’clock." : photo.top.length === 1 ? "Top: click the head of the upright." : "Top: click the foot of something upright.";
    if (tool) {
      const open = photo.measures.find((one) => one.kind === tool && one.points.length < KINDS[one.kind].asks.length);
      return `${KINDS[tool].title}: click ${KINDS[tool].asks[open?.points.length ?? 0]}.`;
    }
    if (!photo.rim.length) return "Mark the rim first, unless only angles are wanted.";
    return "Choose what to measure. Marks can be dragged.";
  }

  function panel() {
    const rim = /** @type {any} */ (found.rim);
    $("rim-said").textContent = !rim ? "" : rim.trouble || [
      `Radius ${rim.a.toFixed(1)} ± ${(2 * rim.ua).toFixed(1)} px.`,
      photo.rim.length > rim.params.length ? `The clicks lie ${rim.rms.toFixed(1)} px off it (root mean square).` : rim.shape === "circle" ? "With three clicks nothing is left to check it by: mark more." : "With five clicks nothing is left to check it by: mark more.",
      rim.shape === "circle" ? "" : rim.tilt > 2 * rim.utilt ? `The coin leans by ${rim.tilt.toFixed(1)}° ± ${(2 * rim.utilt).toFixed(1)}°, taken out below.` : `It leans by less than ${Math.ceil(rim.most)}°.`,
    ].join(" ");
    const far = rim?.shape === "ellipse" && rim.tilt > 5 ? `Taken as seen from afar. From ten coin radii the middle would lie ${tm.geometry.perspective(10, rim.tilt).off.toFixed(3)} radius off. ` : "";
    $("rim-warn").textContent = rim && !rim.trouble ? far + rim.warning : "";
    $("leans").hidden = !found.leans;
    $("top-said").textContent = Number.isNaN(found.up.value) ? "" : `The top stands ${(Math.abs(tm.geometry.turned(found.up.value))).toFixed(1)}° ${tm.geometry.turned(found.up.value) < 0 ? "to the left" : "to the right"} of the picture’s, ± ${(2 * found.up.u).toFixed(1)}°.`;
    const { trouble, standard } = diameter();
    $("diameter").setAttribute("aria-invalid", String(Boolean(trouble)));
    $("diameter-said").textContent = trouble || [standard, Number.isNaN(found.scale) ? "" : `One pixel is ${found.scale.toPrecision(3)} mm.`].join(" ");
    for (const [name, value] of /** @type {[string, string][]} */ ([["face", photo.face], ["shape", photo.shape], ["top-by", photo.topBy]])) {
      for (const one of document.querySelectorAll(`input[name=${name}]`)) /** @type {HTMLInputElement} */ (one).checked = /** @type {any} */ (one).value === value;
    }
    for (const [id, value] of [["diameter", photo.diameter], ["click", doubled(photo.click)]]) if (document.activeElement !== $(id)) $(id).value = value;
    for (const one of document.querySelectorAll("[data-tool]")) one.setAttribute("aria-pressed", String(/** @type {any} */ (one).dataset.tool === tool));
    // A button that is switched off altogether loses the focus.
    $("undo").ariaDisabled = String(!past.length);
    $("redo").ariaDisabled = String(!future.length);
    results();
  }

  /** Millimetres, from what is typed or from the law. */
  function diameter() {
    const law = issue && country && issue.standard !== null ? country.series[issue.series].standards[issue.standard].diameter : null;
    if (!photo.diameter.trim()) return { mm: law, trouble: "", standard: law ? `${law} mm by the standard of the series. A worn or clipped piece is smaller: measure it.` : "Without a diameter lengths are in pixels." };
    const got = /** @type {any} */ (tm.units.parse(photo.diameter, "diameter", "mm"));
    return { mm: got.trouble ? null : got.value, trouble: got.trouble ?? "", standard: law ? `The standard says ${law} mm.` : "" };
  }

  function results() {
    const list = $("results");
    // The field being typed in is left alone.
    if (list.contains(document.activeElement) && document.activeElement instanceof HTMLInputElement && document.activeElement.type === "text" && list.children.length === photo.measures.length) return;
    const held = document.activeElement?.id;
    list.replaceChildren(...found.results.map((one, n) => {
      const measure = photo.measures[n];
      const edit = (/** @type {Partial<Measure> | null} */ by) => change({ measures: photo.measures.flatMap((m) => (m.id === one.id ? (by ? [{ ...m, ...by }] : []) : [by?.counts && found.results.some((r) => r.id === m.id && r.quantity === one.quantity && r.against === one.against) ? { ...m, counts: false } : m])) });
      const name = el("input", { type: "text", id: `name-${one.id}`, value: one.name, ariaLabel: `Name of result ${n + 1}`, onchange: () => edit({ name: name.value.trim().slice(0, 100) }) });
      const says = issue && country && !one.trouble && (measure.kind !== "distance" || measure.counts) ? compare(one, issue, country, photo.face) : [];
      const asked = issue && country ? offered(one, issue, country) : "";
      const counts = el("input", { type: "checkbox", id: `counts-${one.id}`, checked: Boolean(measure.counts), onchange: () => edit({ counts: counts.checked }) });
      return el("li", {}, el("span", { className: "num" }, String(n + 1)), el("div", {},
        name,
        one.words ? el("p", { className: "value" }, one.words) : "",
        one.trouble ? el("p", { className: "how" }, one.trouble) : "",
        says.length ? el("ul", {}, ...says.map(({ lean, words }) => el("li", { className: lean }, `${words}.`))) : "",
        asked ? el("label", { className: "counts" }, counts, el("span", {}, `It is the coin’s ${asked}, for the examination`)) : "",
        el("p", { className: "row" }, el("button", { type: "button", id: `show-${one.id}`, onclick: () => measure.points[0] && stage.look(measure.points[0], 1) }, "Show"), el("button", { type: "button", id: `delete-${one.id}`, onclick: () => edit(null), ariaLabel: `Delete ${one.name}` }, "Delete"))));
    }));
    if (held && list.contains($(held))) $(held).focus();
    else if (held?.startsWith("delete-")) (list.querySelector("[id^=delete-]") ?? $("tools").firstChild).focus();
    $("put").disabled = !picture || !found.results.some((one) => one.words);
  }

  function refresh() {
    found = reckon(photo, diameter().mm);
    const { marks, lines } = tm.photoDrawing(photo, found, issue);
    stage.marks(marks, lines);
    panel();
    refreshPrompt();
    keep();
  }

  // Pictures and marks, opened and kept.

  const key = (/** @type {MarkedPhoto["picture"]} */ p) => `tellmark-marks-${p.sha256 || `${p.name} ${p.bytes} ${p.width} ${p.height}`}`;
  function keep() {
    const where = key(photo.picture);
    if (!picture || !(photo.rim.length || photo.top.length || photo.measures.length || tm.remembered(where))) return;
    const words = JSON.stringify(photo);
    tm.remember(where, words);
    $("unkept").hidden = tm.remembered(where) === words;
  }
  /** @param {MarkedPhoto["picture"]} p @param {MarkedPhoto["picture"]} q */
  const same = (p, q) => (p.sha256 && q.sha256 ? p.sha256 === q.sha256 : p.width === q.width && p.height === q.height && p.bytes === q.bytes && p.name === q.name);
  const complain = (/** @type {string} */ words) => void ($("trouble").textContent = words);

  /** @param {File} file */
  async function take(file) {
    complain("");
    if (/\.json$/i.test(file.name)) return openMarks(file);
    $("prompt").textContent = `Opening “${file.name}”…`;
    await arrived(glass.open(file));
  }
  let asked = 0;
  /** @param {Promise<OpenPicture | Refused>} coming @param {MarkedPhoto["face"] | ""} [face] */
  async function arrived(coming, face = "") {
    const turn = ++asked;
    const got = await coming;
    // A smaller one asked for later may be here first.
    if (turn !== asked) return "bitmap" in got ? glass.close(got) : undefined;
    if ("trouble" in got && got.trouble) {
      // What was open stays open.
      complain(got.trouble);
      return refreshPrompt();
    }
    const next = /** @type {OpenPicture} */ (got);
    if (picture) glass.close(picture);
    picture = next;
    $("empty").hidden = true;
    const { name, width, height, bytes, sha256 } = next;
    const mine = { name, width, height, bytes, sha256 };
    const kept = waiting.find((one) => same(one.picture, mine)) ?? read(tm.remembered(key(mine)) ?? "").photo;
    waiting = waiting.filter((one) => one !== kept);
    photo = kept ? { ...kept, issue: photo.issue || kept.issue } : { ...fresh(photo.issue), face: face || photo.face, click: photo.click, diameter: photo.diameter, picture: mine };
    [past, future, before, nudged] = [[], [], null, ""];
    tool = photo.rim.length ? "" : "rim";
    $("coarse").textContent = "";
    stage.show(next);
    $("about").textContent = [name, `${width} × ${height} px`, `${((width * height) / 1e6).toFixed(1)} megapixels`].join(" · ");
    $("notes").replaceChildren(...[...next.notes, ...(kept ? ["Its marks were kept, and are laid on it again."] : [])].map((note) => el("li", {}, note)));
    refresh();
  }

  /** @param {File} file */
  async function openMarks(file) {
    const { photo: got, trouble } = file.size > 2e6 ? { photo: null, trouble: "It is too large for a file of marks." } : read(await file.text().catch(() => ""));
    if (!got) return complain(`“${file.name}”: ${trouble}`);
    if (picture && same(got.picture, photo.picture)) {
      change({ ...got, issue: photo.issue || got.issue });
      return stage.say("The marks are on the photograph.");
    }
    waiting = [got];
    if (picture) complain(`“${file.name}” belongs to “${got.picture.name}”, ${got.picture.width} × ${got.picture.height} px. Open that photograph; this one keeps its own marks.`);
    refreshPrompt();
  }
  function saveMarks() {
    const link = el("a", { href: URL.createObjectURL(new Blob([JSON.stringify(photo, null, 1)], { type: "application/json" })), download: `${photo.picture.name.replace(/\.[^.]*$/, "") || "photograph"} marks.json` });
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 60000);
  }

  // The coin, and its examination.

  const opened = () => {
    const id = tm.shelf.asked().record || tm.drawer.current();
    return id ? tm.drawer.open(id).record : null;
  };
  function meet() {
    const asked = tm.shelf.asked();
    const record = opened();
    const id = asked.issue || (asked.record || !asked.series ? record?.coin.issue ?? "" : "");
    for (const one of record?.pictures ?? []) {
      const { photo: marks } = read(JSON.stringify(one.marks ?? null));
      if (marks && !waiting.some((other) => same(other.picture, marks.picture))) waiting.push(marks);
    }
    photo = { ...photo, issue: id };
    [issue, country] = [null, null];
    into($("coin"), id ? "…" : "No coin chosen. Come from a coin’s page to compare with what is on file.");
    if (!id) return shown();
    tm.shelf.site((known) => (site = known));
    tm.shelf.country(id, (known) => {
      [country, issue] = [known, known?.issues[id] ?? null];
      into($("coin"), ...(issue ? [el("a", { href: root + issue.page }, issue.title), ...(record && record.coin.issue === id ? [el("span", {}, record.coin.reference || "its open examination")] : [])] : ["What is on file on this coin cannot be read. The folder may not be complete."]));
      shown();
    });
  }
  function shown() {
    const pictures = issue?.pictures ?? [];
    $("ours").hidden = !pictures.length;
    into($("site-picture"), el("option", { value: "" }, "choose"), ...pictures.map((one) => el("option", { value: one.src }, one.name)));
    refresh();
  }
  function putIn() {
    const say = (/** @type {(Node | string)[]} */ ...words) => into($("put-said"), ...words);
    const record = opened();
    const ours = record && (!photo.issue || record.coin.issue === photo.issue);
    if (!ours && !(issue && country && site)) return say("No examination is open. Open one, or come here from the page of a coin.");
    const at = now();
    let entry = ours ? record : tm.record.fresh(photo.issue, /** @type {CountryKnowledge} */ (country), /** @type {SiteKnowledge} */ (site), tm.drawer.newId(), at);
    const told = found.results.filter((one) => one.words).map((one) => `${one.name}: ${one.words}`);
    const counted = found.results.filter((one, n) => photo.measures[n].counts && (issue && country ? offered(one, issue, country) : ""));
    for (const one of counted) {
      const { name, words, quantity, against, unit } = one;
      const { value, u } = passed(one);
      entry = tm.record.measure(entry, { id: `photo-${quantity}-${against}`, quantity: /** @type {Quantity} */ (quantity), value, uncertainty: u, unit, readings: [{ name, typed: words.slice(0, 400), unit: "" }], method: "photograph", words: `${KINDS[photo.measures[found.results.indexOf(one)].kind].title}, on ${photo.picture.name}: ${words} (k = 2)`, at });
    }
    entry = tm.record.attach(entry, { name: photo.picture.name, width: photo.picture.width, height: photo.picture.height, words: `${photo.face}. ${told.join("; ")}`.slice(0, 20000), marks: photo, at });
    const lost = tm.drawer.save(entry);
    if (lost) return say(lost);
    if (!ours) tm.drawer.setCurrent(entry.id);
    const what = counted.length ? `The ${counted.map((one) => one.quantity).join(" and the ")}, and the marks with ${told.length === 1 ? "one result" : `${told.length} results`}, are` : `The marks with ${told.length === 1 ? "one result" : `${told.length} results`} are`;
    say(ours ? "" : "An examination was begun. ", `${what} in the examination of `, el("a", { href: `examination.html#record=${entry.id}` }, entry.coin.reference || entry.coin.title), ".");
  }

  // Handles.

  /** @param {any} next */
  function choose(next) {
    tool = tool === next ? "" : next;
    const half = photo.measures.filter((one) => one.points.length < KINDS[one.kind].asks.length && one.kind !== tool);
    if (half.length) change({ measures: photo.measures.filter((one) => !half.includes(one)) });
    panel();
    refreshPrompt();
    if (tool && picture) stage.viewer.canvas.focus();
  }
  $("tools").append(...Object.entries(KINDS).map(([kind, { title }]) => {
    const button = el("button", { type: "button" }, title);
    button.dataset.tool = kind;
    return button;
  }));
  document.querySelectorAll("[data-tool]").forEach((one) => one.addEventListener("click", () => choose(/** @type {HTMLElement} */ (one).dataset.tool)));
  /** @type {[string, string, (value: any) => void][]} */
  const handles = [
    ["undo", "click", () => travel(past, future, "undo")],
    ["redo", "click", () => travel(future, past, "redo")],
    ["save", "click", saveMarks],
    ["whole", "click", () => stage.fit()],
    ["closer", "click", () => stage.zoomBy(1.5)],
    ["farther", "click", () => stage.zoomBy(1 / 1.5)],
    ["put", "click", putIn],
    ["empty", "click", () => $("file").click()],
    ["take-ellipse", "click", () => change({ shape: "ellipse" })],
    ["face", "change", (value) => change({ face: value })],
    ["shape", "change", (value) => change({ shape: value })],
    ["top-by", "change", (value) => change({ topBy: value, top: [] })],
    ["diameter", "input", (value) => change({ diameter: value.slice(0, 40) })],
    ["click", "input", (value) => {
      const px = Number(value.replace(",", "."));
      $("click").setAttribute("aria-invalid", String(!(px > 0 && px <= 100)));
      if (px > 0 && px <= 100) change({ click: px / 2 });
    }],
    ["site-picture", "change", (value) => {
      const one = issue?.pictures.find((p) => p.src === value);
      if (one && issue && country) arrived(glass.site(root + one.src, one.alt), faceOf(one, issue, country));
    }],
  ];
  for (const [id, name, act] of handles) $(id).addEventListener(name, (/** @type {any} */ event) => act(event.target.value));
  for (const [id, act] of /** @type {[string, (file: File) => void][]} */ ([["file", take], ["marks-file", openMarks]])) {
    $(id).addEventListener("change", () => {
      if ($(id).files[0]) act($(id).files[0]);
      $(id).value = "";
    });
  }
  addEventListener("keydown", (event) => {
    const name = event.key.toLowerCase();
    if (!(event.ctrlKey || event.metaKey) || event.altKey || (event.target instanceof HTMLInputElement && event.target.type === "text")) return;
    if (name === "z" || name === "y") {
      event.preventDefault();
      if (name === "y" || event.shiftKey) travel(future, past, "redo");
      else travel(past, future, "undo");
    } else if (name === "s" && picture) {
      event.preventDefault();
      saveMarks();
    }
  });
  addEventListener("keydown", (event) => {
    if (event.key === "Escape" && tool && !stage.chosen()) choose("");
  });
  addEventListener("hashchange", meet);
  meet();
})((window.Tellmark ??= {}));
