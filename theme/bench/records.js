// @ts-check
/* The bench's first page: the records kept on this machine, and their way in and out. */
(function (/** @type {BenchGlobal} */ tm) {
  "use strict";
  const { drawer, record: records, el, named, dated } = tm;
  const $root = /** @type {HTMLElement} */ (document.getElementById("records"));
  const $ = (/** @type {string} */ id) => /** @type {any} */ ($root.querySelector(`#records-${CSS.escape(id)}`));
  /** Larger than any file of records, in bytes. */
  const MOST = 8e7;

  /** A button whose name says what it is for, as there is one in each line. @param {string} label @param {string} of @param {() => void} onclick */
  const button = (label, of, onclick) => el("button", { type: "button", onclick, ariaLabel: `${label}: ${of}` }, label);
  const say = (/** @type {string | undefined} */ said) => void ($("said").textContent = said);
  /** The sentences that stand in the page, on its part for records. */
  const words = $root.dataset;

  /** Records taken out while this page is open, to be put back. @type {{ id: string, name: string, text: string }[]} */
  const removed = [];

  /** @param {DrawerLine} line @returns {HTMLElement} */
  function row(line) {
    const { id, trouble, opinion } = line;
    const name = trouble ? `${line.title} (${id})` : named(line);
    const todo = el("td", { className: "todo" });
    const node = el("tr", { id: `records-of-${id}` });
    const give = () => drawer.give(trouble ? `record-as-kept-${id}.json` : drawer.fileName(line), drawer.text(id) ?? "");
    const ask = () => {
      const keep = button("Keep it", name, () => (todo.replaceChildren(...usual), todo.lastElementChild.focus()));
      todo.replaceChildren(words.ask, button("Remove", name, () => remove(id, name)), keep);
      keep.focus();
    };
    const usual = [button(trouble ? "Export as it is kept" : "Export", name, give), button("Remove…", name, ask)];
    if (trouble) node.append(el("td", { colSpan: 4, className: "bad" }, el("b", {}, line.title), ` ${trouble} ${words.kept}`), todo);
    else {
      usual.unshift(el("a", { href: `record.html#record=${id}`, ariaLabel: `Print: ${name}` }, "Print"));
      node.append(
        el("th", { scope: "row" }, el("a", { href: `examination.html#record=${id}` }, named({ ...line, reference: "" }))), el("td", {}, line.reference),
        el("td", { className: `word ${opinion}` }, opinion ? tm.shaped(opinion) : "none yet"), el("td", {}, el("time", { dateTime: line.changed }, dated(line.changed))), todo,
      );
    }
    todo.append(...usual);
    return node;
  }

  /** @param {string} id @param {string} name */
  function remove(id, name) {
    const text = drawer.text(id);
    const trouble = drawer.remove(id);
    if (!trouble && text !== null) removed.unshift({ id, name, text });
    show();
    say(trouble || `Removed: ${name}. ${words.removed}`);
    /** @type {any} */ ($root.querySelector(".gone button"))?.focus();
  }

  /** @param {typeof removed[0]} one */
  function putBack(one) {
    const { record } = records.read(one.text);
    // It may have been imported again since.
    const trouble = record && drawer.text(one.id) !== null ? drawer.save(record) : drawer.putBack(one.id, one.text);
    if (!trouble) removed.splice(removed.indexOf(one), 1);
    show();
    say(trouble || `Put back: ${one.name}.`);
    $(`of-${one.id}`)?.querySelector("a, button").focus();
  }

  function show() {
    const lines = drawer.list();
    const gone = removed.map((one) => el("tr", { className: "gone" }, el("td", { colSpan: 4 }, `Removed: ${one.name}`), el("td", { className: "todo" }, button("Put back", one.name, () => putBack(one)))));
    $("list").replaceChildren(...gone, ...lines.map(row));
    $("list").parentElement.hidden = !lines.length && !gone.length;
    $("none").hidden = !($("all").hidden = !lines.length);
    const blocked = drawer.trouble();
    $("trouble").replaceChildren(...(blocked ? [el("p", { className: "note bad" }, blocked)] : []));
    const current = lines.find(({ id, trouble }) => id === drawer.current() && !trouble);
    $("open").hidden = !current;
    if (current) $("open").replaceChildren("Open now: ", el("a", { href: `examination.html#record=${current.id}` }, named(current)), `. ${words.passed}`);
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
    if (!record) return el("li", { className: "bad" }, el("b", {}, file), el("ul", {}, ...troubles.map((trouble) => el("li", {}, trouble))), words.refused);
    const name = named(record.coin);
    const step = { record, into: "" };
    const ids = (/** @type {ExaminationRecord} */ one) => [one.id, ...(one.also ?? []).map(({ id }) => id)];
    const own = here.find((one) => ids(one).some((id) => ids(record).includes(id)));
    steps.push(step);
    if (own) {
      step.into = own.id;
      return el("li", {}, el("b", {}, name), ` ${own.changed === record.changed ? words.same : words.merged}`);
    }
    const twins = here.filter(({ coin }) => coin.issue && coin.issue === record.coin.issue);
    const line = el("li", {}, el("b", {}, name), ` ${words.added} `);
    if (twins.length) {
      const options = twins.map((one) => el("option", { value: one.id }, `the same piece as ${named(one.coin)} (${dated(one.changed).slice(0, -4)}): merge them`));
      line.append(el("label", {}, `${words.twins} `, el("select", { onchange: (/** @type {any} */ event) => (step.into = event.target.value) }, el("option", { value: "" }, words.other), ...options)));
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
      const all = text === null ? [{ record: null, troubles: [`The file cannot be read, or is too large for records: ${file.size} bytes.`], later: false, text: "" }] : records.readAll(text);
      lines.push(...all.map((found, at) => planned(found, all.length > 1 ? `${file.name}, number ${at + 1}` : file.name, here, steps)));
    }
    if (!lines.length) return;
    const plan = $("plan");
    plan.querySelector("ul").replaceChildren(...lines);
    $("do").hidden = !steps.length;
    $("do").textContent = steps.length === 1 ? "Import this record" : `Import these ${steps.length} records`;
    plan.hidden = false;
    plan.focus();
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
  $("not").onclick = () => (($("plan").hidden = true), say(words.nothing));
  $("files").onchange = () => void look([...$("files").files]).then(() => ($("files").value = ""));
  addEventListener("dragover", (event) => event.preventDefault());
  addEventListener("drop", (event) => {
    event.preventDefault();
    if (event.dataTransfer) void look([...event.dataTransfer.files]);
  });
  // Only of records: showing tries the storage, and two such pages would answer each other without end.
  addEventListener("storage", ({ key }) => (key === null || key.startsWith("tellmark-record-")) && show());
  addEventListener("pageshow", (event) => event.persisted && show());
  $root.hidden = false;
  show();
})((window.Tellmark ??= {}));
