// @ts-check
/* The examination's page: a record opened or begun, kept after every change, worked with the keyboard, ended with an opinion. */
(function (/** @type {BenchGlobal} */ tm) {
  "use strict";
  const { drawer, el, evidence, examination: exam } = tm;
  const root = document.documentElement.dataset.root ?? "";
  const $ = (/** @type {string} */ id) => /** @type {any} */ (document.getElementById(id));
  const now = () => new Date().toISOString();
  const DESCRIBED = ["coin-reference", "coin-description", "examiner-name", "examiner-reference"];
  /** Fields by what their uncertainty is a kind of; others take a plain number. */
  const DOUBT = /** @type {Record<string, string>} */ ({ weight: "doubt", diameter: "play", thickness: "play", offset: "play" });

  /** @type {CountryKnowledge} */ let country;
  /** @type {SiteKnowledge} */ let site;
  /** @type {ExaminationRecord} */ let record;
  /** @type {EvidenceCase} */ let it;
  /** @type {BenchLooks} */ let looks;
  /** @type {ReturnType<BenchGlobal["supportPanel"]>} */ let panel;
  /** @type {(EvidenceAnswer | null)[]} */ let given = [];
  /** @type {EvidenceWeighed} */ let weighed;
  /** @type {EvidenceAdvice[]} */ let advice = [];
  /** Each puts one change back, and names its look. @type {(() => number)[]} */ const undo = [];
  let prefilled = "";

  const issue = () => country.issues[record.coin.issue];
  const known = (/** @type {number} */ look) => country.checks[issue().checks[look].check];
  const found = (/** @type {number} */ look) => record.findings.find((f) => f.check === it.checks[look].key);
  const button = (/** @type {string} */ text, /** @type {() => void} */ onclick) => el("button", { type: "button", onclick }, text);

  function draw() {
    given = exam.answers(it, record);
    weighed = evidence.weigh(it, given);
    advice = evidence.next(it, given, weighed);
    looks.mark(given);
    panel(record, weighed, advice);
    warn();
  }

  /** After every change: weighed, drawn, kept. @param {ExaminationRecord} next */
  function keep(next) {
    record = next;
    draw();
    const { support, contradictions } = exam.kept(it, weighed);
    record = tm.record.weigh(record, support, contradictions, country, site, now());
    store();
  }

  function store() {
    const trouble = drawer.save(record);
    tell(trouble);
    drawer.setCurrent(record.id);
    if (!trouble && tm.shelf.asked().record !== record.id) setTimeout(() => location.replace(`#record=${record.id}`));
  }

  /** What went wrong stands at the top, with the way to lose nothing. @param {string} trouble */
  const tell = (trouble) => $("exam-trouble").replaceChildren(...(trouble ? [el("p", { className: "note bad" }, `${trouble} `, button("Export the record now", download))] : []));

  function download() {
    const href = URL.createObjectURL(new Blob([tm.record.write(record)], { type: "application/json" }));
    el("a", { href, download: `${record.coin.issue.split("/").slice(1).join("-")}-${record.id.slice(0, 8)}.json` }).click();
    setTimeout(() => URL.revokeObjectURL(href), 1e4);
  }

  /** @param {number} look @param {Partial<RecordedFinding>} change */
  function answer(look, change) {
    const { key, ask } = it.checks[look];
    const old = found(look);
    const next = /** @type {RecordedFinding} */ ({ check: key, ask, finding: null, answer: "seen", say: "", basis: "", note: "", photo: "", place: issue().checks[look].place, ...old, ...change, at: now() });
    const empty = next.answer === "seen" && !next.say && !next.note && !next.photo;
    undo.push(() => (keep(old ? tm.record.answer(record, { ...old, at: now() }) : tm.record.unanswer(record, key, now())), look));
    keep(empty ? tm.record.unanswer(record, key, now()) : tm.record.answer(record, next));
    looks.fill(look, record);
  }

  /** @param {number} look @param {string} value */
  function choose(look, value) {
    const finding = known(look).findings[Number(value)];
    if (finding) answer(look, { finding: Number(value), answer: "seen", say: finding.say, basis: country.bases[finding.basis], speaks: exam.speaks(it, look, Number(value)) });
    else if (/^(not seen|cannot tell)$/.test(value)) answer(look, { finding: null, answer: /** @type {any} */ (value), say: "", basis: "", speaks: "" });
  }

  /** @param {string} text @param {Quantity} quantity @param {string} unit */
  function uncertain(text, quantity, unit) {
    if (DOUBT[quantity]) return tm.units.parse(text, DOUBT[quantity], unit);
    const value = Number(text.replace(",", "."));
    return value >= 0 && value < 1000 ? { value, typed: text.trim(), unit } : { trouble: `An uncertainty is a number in ${unit}, such as 0.02.` };
  }

  /** @param {number} look */
  function measure(look) {
    const unit = known(look).unit;
    const quantity = /** @type {Quantity} */ (known(look).quantity);
    const [value, doubt, wrong] = ["reading", "doubt", "wrong"].map((name) => /** @type {any} */ (looks.node(look).querySelector(`.${name}`)));
    const one = value.value.trim() ? tm.units.parse(value.value, quantity, unit) : null;
    const two = one && !one.trouble && doubt.value.trim() ? uncertain(doubt.value, quantity, unit) : null;
    wrong.textContent = one?.trouble ?? two?.trouble ?? "";
    value.ariaInvalid = String(Boolean(one?.trouble));
    doubt.ariaInvalid = String(Boolean(two?.trouble));
    const old = exam.measured(it.checks[look], record);
    if (wrong.textContent || (!one && !old)) return;
    const id = it.checks[look].key;
    undo.push(() => (keep(old ? tm.record.measure(record, { ...old, at: now() }) : tm.record.unmeasure(record, id, now())), look));
    const readings = [{ name: "reading", typed: one?.typed, unit: one?.unit }, ...(two ? [{ name: "uncertainty", typed: two.typed, unit: two.unit }] : [])];
    const open = found(look)?.answer === "seen" ? record : tm.record.unanswer(record, id, now());
    keep(one ? tm.record.measure(open, { id, quantity, value: one.value, uncertainty: two?.value ?? one.step, unit, readings, method: "", words: "", at: now() }) : tm.record.unmeasure(record, /** @type {any} */ (old).id, now()));
    looks.fill(look, record);
  }

  /* The opinion */

  const opinion = () => /** @type {any} */ (document.querySelector("[name=opinion]:checked"))?.value ?? "";
  const as = () => ($("exam-as-part").hidden ? "" : $("exam-as").value);
  const warnings = () => (opinion() ? exam.warnings(it, given, weighed, opinion(), as()) : []);

  function warn() {
    $("exam-warnings").replaceChildren(...warnings().map((text) => el("p", { className: "note bad" }, text)));
    // Reasons that nobody has edited go with the findings.
    if (opinion() && $("exam-reasons").value === prefilled) prefill();
  }

  function prefill() {
    const basis = (/** @type {number} */ look) => country.bases[known(look).basis ?? -1] ?? "no basis stated";
    $("exam-reasons").value = prefilled = exam.reasons(it, record, weighed, opinion(), as(), basis);
  }

  /** Forged asks for a family, altered for an alteration and the host. */
  function ask() {
    const kind = { forged: "family", altered: "alteration" }[/** @type {string} */ (opinion())] ?? "";
    const { hypotheses, hosts } = issue();
    const last = $("exam-as").value;
    $("exam-as").replaceChildren(el("option", { value: "" }, "not named"), ...hypotheses.filter((h) => h.kind === kind).map(({ key, title }) => el("option", { value: key }, title)));
    if (hypotheses.some((h) => h.kind === kind && h.key === last)) $("exam-as").value = last;
    $("exam-as-part").hidden = !kind;
    $("exam-as-part").firstElementChild.textContent = exam.capital(kind);
    $("exam-host-part").hidden = kind !== "alteration";
    const own = hypotheses.find((h) => h.key === $("exam-as").value)?.hosts ?? [];
    $("exam-hosts").replaceChildren(...[...new Set([...own, ...hosts])].map((value) => el("option", { value })));
    warn();
  }

  /** @param {Event} event */
  function opine(event) {
    event.preventDefault();
    if (!opinion()) return void ($("exam-kept").textContent = "Choose one of the four words first.");
    const title = it.hypotheses.find(({ key }) => as() && key === as())?.title ?? "";
    const host = $("exam-host-part").hidden ? "" : $("exam-host").value.trim();
    keep(tm.record.opine(record, { opinion: opinion(), as: as(), title, host, reasons: $("exam-reasons").value, warnings: warnings(), at: now() }));
    $("exam-kept").textContent = $("exam-trouble").firstChild ? "On this page only: see the top." : `Recorded: ${opinion()}${title && `, ${title}`}.`;
  }

  /* The beginning */

  /** The whole record into the page, also when another tab or instrument changed it. @param {ExaminationRecord} next */
  function show(next) {
    const same = record?.id === next.id;
    const before = same ? record.opinion : null;
    const last = same ? looks.current() : -1;
    record = next;
    if (!same) {
      undo.length = 0;
      $("exam-kept").textContent = prefilled = "";
      $("exam-opinion").reset();
    }
    it = evidence.prepare(country, record.coin.issue);
    looks = tm.looks(it, country, record.coin.issue, record.id, { chosen: choose, written: (look, name, text) => answer(look, { [name]: text }), measured: measure });
    panel = tm.supportPanel(it, (look) => looks.go(look, true));
    const { coin, examiner } = record;
    $("exam-title").textContent = coin.title;
    document.title = `${coin.title} · Examination · Tellmark`;
    $("exam-over").lastElementChild.href = root + issue().page;
    for (const link of document.querySelectorAll("[data-page]")) /** @type {any} */ (link).href = `${/** @type {any} */ (link).dataset.page}.html#record=${record.id}`;
    [coin.reference, coin.description, examiner.name, examiner.reference].forEach((text, at) => ($(DESCRIBED[at]).value = text));
    $("exam-stamp").hidden = !country.entries[coin.issue]?.demo;
    $("exam-notes").replaceChildren(tm.changesNode(record, country) ?? "");
    looks.order.forEach((look) => looks.fill(look, record));
    $("exam").hidden = false;
    $("exam-begin").hidden = true;
    looks.go(looks.order.includes(last) ? last : looks.order[0], false);
    draw();
    // An opinion that is being written is not overwritten.
    if (record.opinion && record.opinion.at !== before?.at) reopen(record.opinion);
    tell(drawer.trouble());
    drawer.watch(record.id, show);
  }

  /** @param {RecordedOpinion} said */
  function reopen(said) {
    $(`opinion-${said.opinion}`).checked = true;
    ask();
    $("exam-as").value = said.as;
    ask();
    $("exam-host").value = said.host;
    $("exam-reasons").value = said.reasons;
  }

  /** @param {(Node | string)[]} lines */
  function say(...lines) {
    $("exam").hidden = true;
    $("exam-begin").hidden = false;
    $("exam-begin").replaceChildren(...lines);
    /** @type {HTMLElement | null} */ ($("exam-begin").querySelector("button, a"))?.focus();
  }

  function begin() {
    const asked = tm.shelf.asked();
    if (record && asked.record === record.id) return;
    const held = asked.record ? drawer.open(asked.record) : { record: null, trouble: "" };
    const coin = held.record?.coin.issue ?? asked.issue;
    if (!coin) return say(el("p", {}, held.trouble), $("exam-none").content.cloneNode(true));
    tm.shelf.site((all) => tm.shelf.country(tm.shelf.countryOf(coin), (there) => {
      if (!all || !there) return say(el("p", {}, "What the site knows of this country cannot be read. If its folder was moved or copied in part, copy it again."), button("Try again", begin));
      [site, country] = [all, there];
      if (!there.issues[coin]) return say(el("p", {}, `${held.record?.coin.title ?? coin} is not on file in this site. `, held.record ? el("a", { href: `record.html#record=${held.record.id}` }, "The record can still be read and printed.") : ""));
      if (held.record) return drawer.setCurrent(held.record.id), show(held.record);
      const fresh = () => show(tm.record.describe(tm.record.fresh(coin, country, site, drawer.newId(), now()), {}, { name: tm.remembered("tellmark-examiner") ?? "" }, now()));
      const open = drawer.list().filter((one) => one.issue === coin && !one.opinion && !one.trouble);
      if (!open.length) return fresh();
      const when = (/** @type {string} */ at) => new Date(at).toLocaleString("en-GB", { dateStyle: "medium", timeStyle: "short" });
      say(el("p", {}, `${there.issues[coin].title}: go on with an unfinished examination, or begin with another piece?`), ...open.slice(0, 5).map((one) => button(`Go on: ${one.reference || "no reference"}, ${when(one.changed)}`, () => void (location.hash = `record=${one.id}`))), button("Begin a new one", fresh));
    }));
  }

  /* Keys */

  function help() {
    const hidden = ($("exam-keys").hidden = !$("exam-keys").hidden);
    $("exam-help").ariaExpanded = String(!hidden);
    if (!hidden) $("exam-keys").focus();
  }

  function back() {
    const look = undo.pop()?.();
    if (look === undefined) return;
    looks.fill(look, record);
    looks.go(look, true);
  }

  function toOpinion() {
    $("opinion").scrollIntoView();
    $("opinion").querySelector("input:checked, input").focus({ preventScroll: true });
  }

  const step = (/** @type {number} */ by) => {
    const look = looks.order[looks.order.indexOf(looks.current()) + by];
    if (look !== undefined) looks.go(look, true);
  };
  const next = () => advice.length && looks.go(advice[0].check, true);
  const pick = (/** @type {string} */ value) => choose(looks.current(), value);
  /** @type {Record<string, () => void>} */
  const MOVES = { n: () => step(1), p: () => step(-1), j: next, u: back, o: toOpinion, "?": help, 0: () => pick("not seen"), x: () => pick("not seen"), c: () => pick("cannot tell") };

  /** Single keys, only while no field has the focus. @param {KeyboardEvent} event */
  function key(event) {
    if ($("exam").hidden || event.ctrlKey || event.metaKey || event.altKey || event.isComposing) return;
    const target = /** @type {any} */ (event.target);
    const node = looks.node(looks.current());
    const value = /** @type {HTMLInputElement | null} */ (node.querySelector(".reading"));
    if (target.matches("textarea, select, input:not([type=radio], [type=checkbox])")) {
      if (event.key !== "Enter" || !target.closest(".exam-look")) return;
      event.preventDefault();
      // Leaving the field is what keeps it.
      target.blur();
      /** @type {HTMLElement} */ (node.querySelector("[aria-invalid=true]") ?? node).focus({ preventScroll: true });
      return;
    }
    const digit = /^[0-9]$/.test(event.key) || (value && /^[-.,]$/.test(event.key));
    if (!$("exam-single").checked || !(digit || MOVES[event.key]) || (target.closest("#opinion") && /^[0-9xc]$/.test(event.key))) return;
    // The digit itself is left to the field, as the first of its number.
    if (digit && value) return value.focus(), value.select();
    event.preventDefault();
    (MOVES[event.key] ?? (() => pick(String(Number(event.key) - 1))))();
  }

  const described = () => {
    const [reference, description, name, own] = DESCRIBED.map((id) => $(id).value.trim());
    tm.remember("tellmark-examiner", name);
    keep(tm.record.describe(record, { reference, description }, { name, reference: own }, now()));
  };

  for (const id of DESCRIBED) $(id).onchange = described;
  $("exam-single").checked = tm.remembered("tellmark-keys") !== "off";
  $("exam-single").onchange = () => tm.remember("tellmark-keys", $("exam-single").checked ? "on" : "off");
  for (const [id, does] of Object.entries({ next, undo: back, help, export: download, fill: prefill })) $(`exam-${id}`).onclick = does;
  $("exam-opinion").onsubmit = opine;
  $("exam-opinion").onchange = (/** @type {any} */ { target }) => (target.name === "opinion" || target === $("exam-as")) && ask();
  // What is passed to another instrument must be there when it opens.
  $("exam").onclick = (/** @type {any} */ { target }) => target.closest("a[href*='#record=']") && store();
  // A field that is still being written is kept; reasons are, when the opinion is recorded.
  addEventListener("pagehide", () => /** @type {HTMLElement | null} */ (document.activeElement)?.blur());
  addEventListener("beforeunload", (event) => ![prefilled, record?.opinion?.reasons ?? ""].includes($("exam-reasons").value) && event.preventDefault());
  addEventListener("keydown", key);
  addEventListener("hashchange", begin);
  begin();
})((window.Tellmark ??= {}));
