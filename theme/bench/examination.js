// @ts-check
/* The examination's page: a record opened or begun, kept after every change, worked with the keyboard, ended with an opinion. */
((/** @type {BenchGlobal} */ tm) => {
  "use strict";
  const { drawer, evidence, examination: exam, make, page, put, record: records, root, say: sentence } = tm;
  const now = () => new Date().toISOString();
  const DESCRIBED = ["coin-reference", "coin-description", "examiner-name", "examiner-reference"].map((id) => [id, ...id.split("-")]);
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
  /** The keeping that follows the next frame. */
  let later = 0;

  const issue = () => country.issues[record.coin.issue];
  const known = (/** @type {number} */ look) => country.checks[issue().checks[look].check];
  const found = (/** @type {number} */ look) => record.findings.find((f) => f.check === it.checks[look].key);

  const draw = () => {
    given = exam.answers(it, record);
    weighed = evidence.weigh(it, given);
    advice = evidence.next(it, given, weighed);
    looks.mark(given);
    panel(record, weighed, advice);
    warn();
    if (records.stale(record)) put(page.kept, sentence("stale"));
  };

  /** After every change: weighed, drawn, kept. @param {ExaminationRecord} next */
  const keep = (next) => {
    record = next;
    draw();
    const { support, contradictions } = exam.kept(it, weighed, basis);
    record = records.weigh(record, support, contradictions, country, site, now());
    // What was found is seen first, then written down.
    later ||= setTimeout(store);
  };

  const store = () => {
    clearTimeout(later);
    later = 0;
    const trouble = drawer.save(record);
    tell(trouble);
    drawer.setCurrent(record.id);
    if (!trouble && tm.shelf.asked().record !== record.id) setTimeout(() => location.replace(`#record=${record.id}`));
  };

  /** What went wrong stands at the top, with the way to lose nothing. @param {string} trouble */
  const tell = (trouble) => put(page.trouble, ...(trouble ? [make("trouble", { trouble }, download)] : []));

  const download = () => {
    const { coin, changed } = record;
    drawer.give(drawer.fileName({ ...coin, changed }), records.write(record));
  };

  /** Something put, or null for nothing, in the place of what was there, so that undo can put that back.
   * @template T @param {number} look @param {(what: T | null) => ExaminationRecord} set @param {T | null | undefined} old @param {T | null} next */
  const change = (look, set, old, next) => {
    undo.push(() => (keep(set(old ?? null)), look));
    keep(set(next));
    looks.fill(look, record);
  };

  /** @param {number} look @param {Partial<RecordedFinding>} part */
  const answer = (look, part) => {
    const { key: check, ask } = it.checks[look];
    const old = found(look);
    const next = /** @type {RecordedFinding} */ ({ check, ask, finding: null, answer: "seen", say: "", basis: "", note: "", photo: "", place: issue().checks[look].place, ...old, ...part });
    const empty = next.answer === "seen" && !next.say && !next.note && !next.photo;
    // A measurement ends where there is none.
    const m = next.answer !== "seen" && it.checks[look].quantity && exam.measured(it.checks[look], record);
    change(look, (what) => {
      const base = !m ? record : what === next ? records.unmeasure(record, m.id, now()) : records.measure(record, { ...m, at: now() });
      return what ? records.answer(base, { ...what, at: now() }) : records.unanswer(base, check, now());
    }, old, empty ? null : next);
  };

  /** @param {number} look @param {any} value */
  const choose = (look, value) => {
    const finding = known(look).findings[value];
    if (finding) answer(look, { finding: Number(value), answer: "seen", say: finding.say, basis: country.bases[finding.basis], speaks: exam.speaks(it, look, Number(value)) });
    else if (isNaN(value)) answer(look, { finding: null, answer: value, say: "", basis: "", speaks: "" });
  };

  /** @param {number} look @param {Record<string, any>} field */
  const measure = (look, { reading, doubt, wrong }) => {
    const unit = known(look).unit;
    const quantity = /** @type {Quantity} */ (known(look).quantity);
    const old = exam.measured(it.checks[look], record);
    // What came from another instrument and stands as it came keeps its readings.
    const carried = old && reading.value === reading.defaultValue && !old.readings.some(({ name }) => name === "reading");
    const one = carried ? { ...old, step: old.uncertainty, trouble: "" } : reading.value.trim() ? tm.units.parse(reading.value, quantity, unit) : null;
    const two = one && !one.trouble && doubt.value.trim() ? tm.units.parse(doubt.value, `doubt ${unit}`, unit) : null;
    const trouble = one?.trouble || two?.trouble || "";
    put(wrong, trouble && old ? sentence("still", trouble, exam.said(it.checks[look], record)) : trouble);
    reading.ariaInvalid = Boolean(one?.trouble);
    doubt.ariaInvalid = Boolean(two?.trouble);
    if (trouble || (!one && !old)) return;
    const id = it.checks[look].key;
    const named = (/** @type {string} */ name, /** @type {any} */ { typed, unit }) => ({ name, typed, unit });
    const given = two ? [named("uncertainty", two)] : [];
    /** @type {any} */
    const next = one && {
      ...(carried ? old : { id, quantity, value: one.value, unit, method: sentence("typed-here"), words: two ? "" : sentence("last-digit") }),
      uncertainty: two?.value ?? one.step, readings: [...(carried ? old.readings.filter(({ name }) => name !== "uncertainty") : [named("reading", one)]), ...given],
    };
    /** @param {RecordedMeasurement | null} what */
    const set = (what) => {
      if (!what) return records.unmeasure(record, old?.id ?? id, now());
      // "Not seen" and "cannot tell" end where there is a measurement.
      return records.measure(found(look)?.answer === "seen" ? record : records.unanswer(record, id, now()), { ...what, at: now() });
    };
    change(look, set, old, next);
  };

  /* The opinion */

  const opinion = () => page.form.elements.opinion.value;
  const as = () => (page.named.hidden ? "" : page.as.value);
  const warnings = () => (opinion() ? [
    ...exam.warnings(it, given, weighed, opinion(), as()),
    ...exam.besides(it, record).map(({ quantity, words }) => /** @type {ExaminationWarning} */ (["besides-warned", { quantity, words }])),
    .../** @type {ExaminationWarning[]} */ (record.coin.reference && record.examiner.name ? [] : [["unsigned"]]),
  ].map((one) => make(...one)) : []);

  const warn = () => {
    put(page.warnings, ...warnings());
    // Reasons that nobody has edited go with the findings.
    if (opinion() && page.reasons.value === prefilled) prefill();
  };

  const basis = (/** @type {number} */ look) => country.bases[known(look).basis ?? -1] ?? sentence("no-basis");
  const prefill = () => {
    page.reasons.value = prefilled = exam.reasons(it, record, weighed, opinion(), as(), basis);
  };

  /** Forged asks for a family, altered for an alteration and the host. */
  const ask = () => {
    const kind = { forged: "family", altered: "alteration" }[/** @type {string} */ (opinion())] ?? "";
    const { hypotheses, hosts } = issue();
    const some = hypotheses.filter((h) => h.kind === kind);
    const last = page.as.value;
    put(page.as, new Option(sentence("not-named"), ""), ...some.map(({ key, title }) => new Option(title, key)));
    if (some.some(({ key }) => key === last)) page.as.value = last;
    page.named.hidden = !kind;
    put(page.named.firstElementChild, exam.capital(kind));
    page.hosted.hidden = kind !== "alteration";
    const own = hypotheses.find((h) => h.key === page.as.value)?.hosts ?? [];
    put(page.hosts, ...[...new Set([...own, ...hosts])].map((value) => new Option("", value)));
    warn();
  };

  /** @param {Event} event */
  const opine = (event) => {
    event.preventDefault();
    if (!opinion()) return put(page.kept, sentence("choose"));
    const title = as() && page.as.selectedOptions[0].text;
    const host = page.hosted.hidden ? "" : page.host.value.trim();
    keep(records.opine(record, { opinion: opinion(), as: as(), title, host, reasons: page.reasons.value, warnings: warnings().map(({ textContent }) => textContent), at: now() }));
    put(page.kept, sentence(page.trouble.firstChild ? "here-only" : "recorded", tm.joined(", ", opinion(), title)));
  };

  /* The beginning */

  /** The whole record into the page, also when another tab or instrument changed it. @param {ExaminationRecord} next */
  const show = (next) => {
    const same = record?.id === next.id;
    const before = same ? record.opinion : null;
    const last = same ? looks.current() : -1;
    record = next;
    if (!same) {
      undo.length = 0;
      put(page.kept, (prefilled = ""));
      page.form.reset();
    }
    it = evidence.prepare(country, record.coin.issue);
    looks = tm.looks(it, country, record.coin.issue, { chosen: choose, written: answer, measured: measure });
    panel = tm.supportPanel(it, (look) => looks.go(look, true));
    const { coin } = record;
    put(page.title, coin.title);
    document.title = sentence("tab", coin.title);
    page.over.lastElementChild.href = root + issue().page;
    for (const link of document.querySelectorAll("[data-page]")) /** @type {any} */ (link).href = `${/** @type {any} */ (link).dataset.page}.html#record=${record.id}`;
    for (const [id, part, name] of DESCRIBED) page[id].value = /** @type {any} */ (record)[part][name];
    put(page.notes, tm.changesNode(record, country) ?? "");
    looks.order.forEach((look) => looks.fill(look, record));
    page.exam.hidden = false;
    page.begin.hidden = true;
    looks.go(looks.order.includes(last) ? last : looks.order[0], false);
    draw();
    // An opinion that is being written is not overwritten.
    if (record.opinion && record.opinion.at !== before?.at) reopen(record.opinion);
    tell(drawer.trouble());
    drawer.watch(record.id, show);
  };

  /** @param {RecordedOpinion} said */
  const reopen = (said) => {
    for (const name of /** @type {const} */ (["opinion", "as", "host", "reasons"])) {
      // What may be chosen follows from what was chosen before.
      ask();
      page.form.elements[name].value = said[name];
    }
  };

  /** @param {(Node | string)[]} lines */
  const say = (...lines) => {
    page.exam.hidden = true;
    page.begin.hidden = false;
    put(page.begin, ...lines);
    /** @type {HTMLElement | null} */ (page.begin.querySelector("button, a"))?.focus();
  };

  const begin = () => {
    const asked = tm.shelf.asked();
    if (record && asked.record === record.id) return;
    const held = asked.record ? drawer.open(asked.record) : { record: null, trouble: "" };
    const coin = held.record?.coin.issue ?? asked.issue;
    if (!coin) return say(make("none", held));
    tm.shelf.site((all) => tm.shelf.country(coin, (there) => {
      if (!all || !there) return say(make("unread", {}, begin));
      [site, country] = [all, there];
      if (!there.issues[coin]) {
        const gone = make("gone", { title: held.record?.coin.title ?? coin });
        if (held.record) gone.lastChild.href = `record.html${location.hash}`;
        else gone.lastChild.remove();
        return say(gone);
      }
      if (held.record) return drawer.setCurrent(held.record.id), show(held.record);
      const fresh = () => show(records.describe(records.fresh(coin, country, site, drawer.newId(), now()), {}, { name: tm.remembered("tellmark-examiner") ?? "" }, now()));
      const open = drawer.list().filter((one) => one.issue === coin && !one.opinion && !one.trouble);
      if (!open.length) return fresh();
      say(make("unfinished", there.issues[coin]), ...open.slice(0, 5).map(({ id, reference, changed }) => make("go-on", { reference: reference || sentence("no-reference"), when: tm.dated(changed) }, () => (location.hash = `record=${id}`))), make("anew", {}, fresh));
    }));
  };

  /* Keys */

  const back = () => {
    const look = undo.pop()?.();
    if (look === undefined) return;
    looks.fill(look, record);
    looks.go(look, true);
  };

  const toOpinion = () => {
    page.opinion.scrollIntoView();
    page.opinion.querySelector("input:checked, input").focus({ preventScroll: true });
  };

  const step = (/** @type {number} */ by) => {
    const look = looks.order[looks.order.indexOf(looks.current()) + by];
    if (look !== undefined) looks.go(look, true);
  };
  const next = () => advice.length && looks.go(advice[0].check, true);
  const pick = (/** @type {string | number} */ value) => choose(looks.current(), value);
  const help = () => (page.help.click(), page.help.focus());
  const notSeen = () => pick("not seen");
  /** @type {Record<string, () => void>} */
  const MOVES = { n: () => step(1), p: () => step(-1), j: next, u: back, o: toOpinion, "?": help, 0: notSeen, x: notSeen, c: () => pick("cannot tell") };

  /** Single keys, only while no field has the focus. @param {KeyboardEvent} event */
  const key = (event) => {
    if (page.exam.hidden || event.ctrlKey || event.metaKey || event.altKey || event.isComposing) return;
    const target = /** @type {any} */ (event.target);
    const node = looks.node(looks.current());
    const value = /** @type {HTMLInputElement | null} */ (node.querySelector(".reading"));
    if (target.matches("textarea, select, input:not([type=radio], [type=checkbox])")) {
      // No unit begins with the letters that lead on, and none goes on with them once it is whole.
      const whole = () => /^$|[\d\s]$/.test(target.value) || !tm.units.parse(target.value, known(looks.current()).quantity, "").trouble;
      const leads = page.single.checked && target.closest(".measure") && /^[nju]$/.test(event.key) && whole();
      if (!(event.key === "Enter" || leads) || !target.closest(".exam-look")) return;
      event.preventDefault();
      // Leaving the field is what keeps it.
      target.blur();
      const wrong = node.querySelector("[aria-invalid=true]");
      /** @type {HTMLElement} */ (wrong ?? node).focus({ preventScroll: true });
      if (leads && !wrong) MOVES[event.key]();
      return;
    }
    const digit = (value ? /^[-.,\d]$/ : /^\d$/).test(event.key);
    if (!page.single.checked || !(digit || MOVES[event.key]) || (target.closest("#opinion") && /^[0-9xc]$/.test(event.key))) return;
    // The digit itself is left to the field, as the first of its number.
    if (digit && value) return value.focus(), value.select();
    event.preventDefault();
    (MOVES[event.key] ?? (() => pick(Number(event.key) - 1)))();
  };

  const described = () => {
    /** @type {any} */
    const said = { coin: {}, examiner: {} };
    for (const [id, part, name] of DESCRIBED) said[part][name] = page[id].value.trim();
    tm.remember("tellmark-examiner", said.examiner.name);
    keep(records.describe(record, said.coin, said.examiner, now()));
  };

  for (const [id] of DESCRIBED) page[id].onchange = described;
  page.single.checked = tm.remembered("tellmark-keys") !== "off";
  page.single.onchange = () => tm.remember("tellmark-keys", page.single.checked ? "on" : "off");
  for (const [id, does] of Object.entries({ next, undo: back, export: download, fill: prefill })) page[id].onclick = does;
  page.form.onsubmit = opine;
  page.form.onchange = (/** @type {any} */ { target }) => (target.name === "opinion" || target === page.as) && ask();
  // What is passed to another instrument must be there when it opens.
  page.exam.onclick = (/** @type {any} */ { target }) => target.closest("a[href*='#record=']") && store();
  // A field that is still being written is kept; reasons are, when the opinion is recorded.
  onpagehide = () => {
    /** @type {HTMLElement | null} */ (document.activeElement)?.blur();
    if (later) store();
  };
  addEventListener("beforeunload", (event) => (page.trouble.firstChild || ![prefilled, record?.opinion?.reasons ?? ""].includes(page.reasons.value)) && event.preventDefault());
  onkeydown = key;
  onhashchange = begin;
  begin();
})((window.Tellmark ??= {}));
