// @ts-check
/* The bench's first page: the records kept on this machine, and their way in and out. */
((/** @type {BenchGlobal} */ tm) => {
  "use strict";
  const { drawer, record: records, el, make, put, say, named, dated } = tm;
  const $root = tm.byId("records");
  const $ = (/** @type {string} */ id) => tm.byId(`records-${id}`);
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
    const said = opinion ? tm.shaped(opinion) : say("none-yet");
    const node = make(trouble ? "damaged" : "row", { ...line, name, said, coin: named({ ...line, reference: "" }), when: dated(line.changed) });
    node.id = `records-of-${id}`;
    const todo = node.lastElementChild;
    const give = () => drawer.give(trouble ? `record-as-kept-${id}.json` : drawer.fileName(line), drawer.text(id) ?? "");
    const ask = () => {
      const keep = button("keep", name, () => (put(todo, ...usual), todo.lastElementChild.focus()));
      put(todo, say("ask"), button("remove", name, () => remove(id, name)), keep);
      keep.focus();
    };
    todo.append(button(trouble ? "export-kept" : "export", name, give), button("removing", name, ask));
    const usual = [...todo.children];
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
    const gone = removed.map((one) => {
      const node = make("gone", one);
      node.lastElementChild.append(button("put-back", one.name, () => putBack(one)));
      return node;
    });
    put($("list"), ...gone, ...lines.map(row));
    $("list").parentElement.hidden = !lines.length && !gone.length;
    $("none").hidden = !($("all").hidden = !lines.length);
    const blocked = drawer.trouble();
    put($("trouble"), ...(blocked ? [el("p", "note bad", blocked)] : []));
    const current = lines.find(({ id, trouble }) => id === drawer.current() && !trouble);
    $("open").hidden = !current;
    if (current) put($("open"), make("open", { id: current.id, name: named(current) }));
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
    if (!record) {
      const line = make("refused", { file });
      line.children[1].append(...troubles.map((trouble) => el("li", "", trouble)));
      return line;
    }
    const name = named(record.coin);
    const step = { record, into: "" };
    const ids = (/** @type {ExaminationRecord} */ one) => [one.id, ...(one.also ?? []).map(({ id }) => id)];
    const own = here.find((one) => ids(one).some((id) => ids(record).includes(id)));
    steps.push(step);
    if (own) {
      step.into = own.id;
      return make(own.changed === record.changed ? "same" : "merged", { name });
    }
    const twins = here.filter(({ coin }) => coin.issue && coin.issue === record.coin.issue);
    const line = make("added", { name });
    if (twins.length) {
      const label = make("twins"), choice = label.lastElementChild;
      choice.append(...twins.map((one) => new Option(say("twin", named(one.coin), dated(one.changed).slice(0, -4)), one.id)));
      choice.onchange = () => (step.into = choice.value);
      line.append(" ", label);
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

  const close = (/** @type {string} */ words) => {
    $("plan").hidden = true;
    told(words);
    $("files").focus();
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
    show();
    close([say("done", added, merged), ...lost].join(" "));
  };

  $("all").onclick = exportAll;
  $("do").onclick = take;
  $("not").onclick = () => close(say("nothing"));
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
