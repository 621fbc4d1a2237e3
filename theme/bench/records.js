// @ts-check
/* The bench's first page: the records kept on this machine, and their way in and out. */
((/** @type {BenchGlobal} */ tm) => {
  "use strict";
  const { drawer, record: records, el, put, say, named, dated } = tm;
  const $root = tm.byId("records");
  const $ = (/** @type {string} */ id) => /** @type {any} */ ($root.querySelector(`#records-${CSS.escape(id)}`));
  /** Larger than any file of records, in bytes. */
  const MOST = 8e7;

  /** A button whose name says what it is for, as there is one in each line. @param {string} label @param {string} of @param {() => void} onclick */
  const button = (label, of, onclick) => el("button", { type: "button", onclick, ariaLabel: `${say(label)}: ${of}` }, say(label));
  const told = (/** @type {string} */ said) => put($("said"), said);

  /** Records taken out while this page is open, to be put back. @type {{ id: string, name: string, text: string }[]} */
  const removed = [];

  /** @param {DrawerLine} line @returns {HTMLElement} */
  const row = (line) => {
    const { id, trouble, opinion } = line;
    const name = trouble ? `${line.title} (${id})` : named(line);
    const todo = el("td", "todo");
    const node = el("tr", { id: `records-of-${id}` });
    const give = () => drawer.give(trouble ? `record-as-kept-${id}.json` : drawer.fileName(line), drawer.text(id) ?? "");
    const ask = () => {
      const keep = button("keep", name, () => (put(todo, ...usual), todo.lastElementChild.focus()));
      put(todo, say("ask"), button("remove", name, () => remove(id, name)), keep);
      keep.focus();
    };
    const usual = [button(trouble ? "export-kept" : "export", name, give), button("removing", name, ask)];
    if (trouble) node.append(el("td", { colSpan: 4, className: "bad" }, el("b", "", line.title), say("kept", trouble)), todo);
    else {
      usual.unshift(el("a", { href: `record.html#record=${id}`, ariaLabel: `${say("print")}: ${name}` }, say("print")));
      node.append(
        el("th", { scope: "row" }, el("a", { href: `examination.html#record=${id}` }, named({ ...line, reference: "" }))), el("td", "", line.reference),
        el("td", { className: `word ${opinion}` }, opinion ? tm.shaped(opinion) : say("none-yet")), el("td", "", el("time", { dateTime: line.changed }, dated(line.changed))), todo,
      );
    }
    todo.append(...usual);
    return node;
  };

  /** @param {string} id @param {string} name */
  const remove = (id, name) => {
    const text = drawer.text(id);
    const trouble = drawer.remove(id);
    if (!trouble && text !== null) removed.unshift({ id, name, text });
    show();
    told(trouble || say("removed", name));
    /** @type {any} */ ($root.querySelector(".gone button"))?.focus();
  };

  /** @param {typeof removed[0]} one */
  const putBack = (one) => {
    const { record } = records.read(one.text);
    // It may have been imported again since.
    const trouble = record && drawer.text(one.id) !== null ? drawer.save(record) : drawer.putBack(one.id, one.text);
    if (!trouble) removed.splice(removed.indexOf(one), 1);
    show();
    told(trouble || say("back", one.name));
    $(`of-${one.id}`)?.querySelector("a, button").focus();
  };

  const show = () => {
    const lines = drawer.list();
    const gone = removed.map((one) => el("tr", "gone", el("td", { colSpan: 4 }, say("gone", one.name)), el("td", "todo", button("put-back", one.name, () => putBack(one)))));
    put($("list"), ...gone, ...lines.map(row));
    $("list").parentElement.hidden = !lines.length && !gone.length;
    $("none").hidden = !($("all").hidden = !lines.length);
    const blocked = drawer.trouble();
    put($("trouble"), ...(blocked ? [el("p", "note bad", blocked)] : []));
    const current = lines.find(({ id, trouble }) => id === drawer.current() && !trouble);
    $("open").hidden = !current;
    if (current) put($("open"), say("open"), el("a", { href: `examination.html#record=${current.id}` }, named(current)), say("passed"));
  };

  const exportAll = () => {
    const lines = drawer.list();
    const unread = lines.filter(({ trouble }) => trouble).length;
    // What cannot be read goes into the file as the text it is.
    const texts = lines.map(({ id, trouble }) => (trouble ? JSON.stringify(drawer.text(id) ?? "") : drawer.text(id)));
    drawer.give(`tellmark-records-${new Date().toISOString().slice(0, 10)}.json`, `[${texts.join(",\n")}]\n`);
    told(say(unread ? "exported-unread" : "exported", lines.length, unread));
  };

  /** @typedef {{ record: ExaminationRecord, into: string }} Step */

  /** What one thing in a file will do, as a line of the plan. @param {ReadRecord} found @param {string} file @param {ExaminationRecord[]} here @param {Step[]} steps */
  const planned = ({ record, troubles }, file, here, steps) => {
    if (!record) return el("li", "bad", el("b", "", file), el("ul", "", ...troubles.map((trouble) => el("li", "", trouble))), say("refused"));
    const name = named(record.coin);
    const step = { record, into: "" };
    const ids = (/** @type {ExaminationRecord} */ one) => [one.id, ...(one.also ?? []).map(({ id }) => id)];
    const own = here.find((one) => ids(one).some((id) => ids(record).includes(id)));
    steps.push(step);
    if (own) {
      step.into = own.id;
      return el("li", "", el("b", "", name), say(own.changed === record.changed ? "same" : "merged"));
    }
    const twins = here.filter(({ coin }) => coin.issue && coin.issue === record.coin.issue);
    const line = el("li", "", el("b", "", name), say("added"));
    if (twins.length) {
      const options = twins.map((one) => el("option", { value: one.id }, say("twin", named(one.coin), dated(one.changed).slice(0, -4))));
      line.append(el("label", "", say("twins"), el("select", { onchange: (/** @type {any} */ event) => (step.into = event.target.value) }, el("option", { value: "" }, say("other")), ...options)));
    }
    return line;
  };

  /** @type {Step[]} */
  let steps = [];

  /** @param {Iterable<File>} files */
  const look = async (files) => {
    const here = drawer.list().flatMap(({ id }) => drawer.open(id).record ?? []);
    steps = [];
    const lines = [];
    for (const file of files) {
      const text = file.size > MOST ? null : await file.text().catch(() => null);
      const all = text === null ? [{ record: null, troubles: [say("unread", file.size)], later: false, text: "" }] : records.readAll(text);
      lines.push(...all.map((found, at) => planned(found, all.length > 1 ? say("nth", file.name, at + 1) : file.name, here, steps)));
    }
    if (!lines.length) return;
    const plan = $("plan");
    put(plan.querySelector("ul"), ...lines);
    $("do").hidden = !steps.length;
    put($("do"), say(steps[1] ? "import-all" : "import", steps.length));
    plan.hidden = false;
    plan.focus();
    told("");
  };

  const take = () => {
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
    told([say("done", added, merged), ...lost].join(" "));
  };

  $("all").onclick = exportAll;
  $("do").onclick = take;
  $("not").onclick = () => (($("plan").hidden = true), told(say("nothing")));
  $("files").onchange = () => void look([...$("files").files]).then(() => ($("files").value = ""));
  ondragover = (event) => event.preventDefault();
  ondrop = (event) => {
    event.preventDefault();
    if (event.dataTransfer) void look([...event.dataTransfer.files]);
  };
  // Only of records: showing tries the storage, and two such pages would answer each other without end.
  addEventListener("storage", ({ key }) => (key === null || key.startsWith("tellmark-record-")) && show());
  onpageshow = (event) => event.persisted && show();
  $root.hidden = false;
  show();
})((window.Tellmark ??= {}));
