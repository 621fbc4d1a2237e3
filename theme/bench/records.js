// @ts-check
/* The bench's first page: the records kept on this machine, and their way in and out. */
(function (/** @type {BenchGlobal} */ tm) {
  "use strict";
  const { drawer, record: records } = tm;
  const $ = (/** @type {string} */ id) => /** @type {any} */ (document.getElementById(`records-${id}`));
  const SHAPES = /** @type {Record<string, string>} */ ({ genuine: "●", forged: "✕", altered: "◐", undecided: "○" });
  /** Larger than any file of records, in bytes. */
  const MOST = 8e7;

  /** @param {string} name @param {any} set @param {(Node | string)[]} inside @returns {any} */
  function el(name, set, ...inside) {
    const node = Object.assign(document.createElement(name), set);
    node.append(...inside);
    return node;
  }

  /** A button whose name says what it is for, as there is one in each line. @param {string} words @param {string} of @param {() => void} onclick */
  const button = (words, of, onclick) => el("button", { type: "button", onclick, ariaLabel: `${words}: ${of}` }, words);
  const say = (/** @type {string} */ words) => void ($("said").textContent = words);
  const named = (/** @type {{ title: string, reference: string }} */ { title, reference }) => [title || "a coin without a page", reference].filter(Boolean).join(", ");
  const dated = (/** @type {string} */ at) => at.slice(0, 16).replace("T", " ");

  /** Records taken out while this page is open, to be put back. @type {{ id: string, name: string, text: string }[]} */
  const removed = [];

  /** @param {DrawerLine} line @returns {HTMLElement} */
  function row(line) {
    const { id, trouble, opinion } = line;
    const name = trouble ? `${line.title} (${id})` : named(line);
    const todo = el("td", { className: "todo" });
    const node = el("tr", { id: `record-${id}` });
    const give = () => drawer.give(trouble ? `record-as-kept-${id}.json` : drawer.fileName(line), drawer.text(id) ?? "");
    const ask = () => {
      const keep = button("Keep it", name, () => (todo.replaceChildren(...usual), todo.lastElementChild.focus()));
      todo.replaceChildren("Remove it from this machine?", button("Remove", name, () => remove(id, name)), keep);
      keep.focus();
    };
    const usual = [...(trouble ? [] : [el("a", { href: `record.html#record=${id}`, ariaLabel: `Print: ${name}` }, "Print")]), button(trouble ? "Export as it is kept" : "Export", name, give), button("Remove…", name, ask)];
    todo.append(...usual);
    if (trouble) node.append(el("td", { colSpan: 4, className: "bad" }, el("b", {}, line.title), ` ${trouble} It is kept as it is.`), todo);
    else {
      node.append(
        el("th", { scope: "row" }, el("a", { href: `examination.html#record=${id}` }, line.title || "Coin without a page")), el("td", {}, line.reference),
        el("td", { className: `word ${opinion}` }, opinion ? `${SHAPES[opinion]} ${opinion}` : "none yet"), el("td", {}, el("time", { dateTime: line.changed }, `${dated(line.changed)} UTC`)), todo,
      );
    }
    return node;
  }

  /** @param {string} id @param {string} name */
  function remove(id, name) {
    const text = drawer.text(id);
    const trouble = drawer.remove(id);
    if (!trouble && text !== null) removed.unshift({ id, name, text });
    show();
    say(trouble || `Removed: ${name}. It can be put back until this page is closed.`);
    document.querySelector(/** @type {any} */ (".gone button"))?.focus();
  }

  /** @param {typeof removed[0]} one */
  function putBack(one) {
    const { record } = records.read(one.text);
    // It may have been imported again since.
    const trouble = record && drawer.text(one.id) !== null ? drawer.save(record) : drawer.putBack(one.id, one.text);
    if (!trouble) removed.splice(removed.indexOf(one), 1);
    show();
    say(trouble || `Put back: ${one.name}.`);
    $("said").parentElement.querySelector(`[id="record-${CSS.escape(one.id)}"] a, [id="record-${CSS.escape(one.id)}"] button`)?.focus();
  }

  function show() {
    const lines = drawer.list();
    const gone = removed.map((one) => el("tr", { className: "gone" }, el("td", { colSpan: 4 }, `Removed: ${one.name}`), el("td", { className: "todo" }, button("Put back", one.name, () => putBack(one)))));
    $("list").replaceChildren(...gone, ...lines.map(row));
    $("list").parentElement.hidden = !lines.length && !gone.length;
    $("none").hidden = lines.length > 0;
    $("all").hidden = !lines.length;
    const blocked = drawer.trouble();
    $("trouble").replaceChildren(...(blocked ? [el("p", { className: "note bad" }, blocked)] : []));
    const current = lines.find(({ id, trouble }) => id === drawer.current() && !trouble);
    $("open").hidden = !current;
    if (current) $("open").replaceChildren("Open now: ", el("a", { href: `examination.html#record=${current.id}` }, named(current)), ". The other instruments pass their results to it.");
  }

  function exportAll() {
    const lines = drawer.list();
    const unread = lines.filter(({ trouble }) => trouble).length;
    // What cannot be read goes into the file as the text it is.
    const texts = lines.map(({ id, trouble }) => (trouble ? JSON.stringify(drawer.text(id) ?? "") : drawer.text(id)));
    drawer.give(`tellmark-records-${new Date().toISOString().slice(0, 10)}.json`, `[${texts.join(",\n")}]\n`);
    say(`${lines.length} exported to one file${unread ? `, ${unread} of them as the text that cannot be read` : ""}.`);
  }

  /** @typedef {{ record: ExaminationRecord, into: string }} Step */

  /** What one thing in a file will do, as a line of the plan. @param {ReadRecord} found @param {string} file @param {ExaminationRecord[]} here @param {Step[]} steps */
  function planned({ record, troubles }, file, here, steps) {
    if (!record) return el("li", { className: "bad" }, el("b", {}, file), el("ul", {}, ...troubles.map((trouble) => el("li", {}, trouble))), "Nothing is taken from it.");
    const name = named(record.coin);
    const step = { record, into: "" };
    const ids = (/** @type {ExaminationRecord} */ one) => [one.id, ...(one.also ?? []).map(({ id }) => id)];
    const own = here.find((one) => ids(one).some((id) => ids(record).includes(id)));
    steps.push(step);
    if (own) {
      step.into = own.id;
      return el("li", {}, el("b", {}, name), own.changed === record.changed ? " is here already, as last changed then; what differs is added." : ` is here already: both are merged. The newer answers stand, the others are kept as earlier ones.`);
    }
    const twins = here.filter(({ coin }) => coin.issue && coin.issue === record.coin.issue);
    const line = el("li", {}, el("b", {}, name), " is new here, and is added. ");
    if (twins.length) {
      const options = twins.map((one) => el("option", { value: one.id }, `the same piece as ${named(one.coin)} (${dated(one.changed)}): merge them`));
      line.append(el("label", {}, "There are records of the same issue. It is ", el("select", { onchange: (/** @type {any} */ event) => (step.into = event.target.value) }, el("option", { value: "" }, "another piece: keep both"), ...options)));
    }
    return line;
  }

  /** @type {Step[]} */
  let steps = [];

  /** @param {Iterable<File>} files */
  async function look(files) {
    const here = drawer.list().flatMap(({ id }) => drawer.open(id).record ?? []);
    steps = [];
    const lines = [];
    for (const file of files) {
      const text = file.size > MOST ? null : await file.text().catch(() => null);
      const all = text === null ? [{ record: null, troubles: [file.size > MOST ? `The file is too large for records: ${file.size} bytes.` : "The file cannot be read."], later: false, text: "" }] : records.readAll(text);
      lines.push(...all.map((found, at) => planned(found, all.length > 1 ? `${file.name}, number ${at + 1}` : file.name, here, steps)));
    }
    if (!lines.length) return;
    $("plan").querySelector("ul").replaceChildren(...lines);
    $("do").hidden = !steps.length;
    $("do").textContent = steps.length === 1 ? "Import this record" : `Import these ${steps.length} records`;
    $("plan").hidden = false;
    $("plan").focus();
    say("");
  }

  function take() {
    let added = 0, merged = 0;
    const lost = [];
    for (const { record, into } of steps) {
      const old = into ? drawer.open(into).record : null;
      let whole = old ? records.merge(old, record) : record;
      // Also what came under this name from another file, or from another tab, since the plan was made.
      const there = whole.id !== into ? drawer.open(whole.id).record : null;
      if (there) whole = records.merge(whole, there);
      const trouble = drawer.save(whole);
      if (trouble) lost.push(`${named(record.coin)}: ${trouble}`);
      else if (old || there) merged += 1;
      else added += 1;
      if (!trouble && old && whole.id !== old.id) {
        // All of it is in the older record now, which gives the name.
        if (drawer.current() === old.id) drawer.setCurrent(whole.id);
        drawer.remove(old.id);
      }
    }
    $("plan").hidden = true;
    show();
    say([`${added} added, ${merged} merged.`, ...lost].join(" "));
  }

  $("all").onclick = exportAll;
  $("do").onclick = take;
  $("not").onclick = () => (($("plan").hidden = true), say("Nothing was changed."));
  $("files").onchange = () => void look([...$("files").files]).then(() => ($("files").value = ""));
  addEventListener("dragover", (event) => event.preventDefault());
  addEventListener("drop", (event) => {
    event.preventDefault();
    if (event.dataTransfer) void look([...event.dataTransfer.files]);
  });
  addEventListener("storage", show);
  addEventListener("pageshow", (event) => event.persisted && show());
  document.getElementById("records")?.removeAttribute("hidden");
  show();
})((window.Tellmark ??= {}));
