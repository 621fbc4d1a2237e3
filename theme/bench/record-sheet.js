// @ts-check
/* One record, to be read and printed. It is shown as it was kept; only what has changed since is looked up. */
((/** @type {BenchGlobal} */ tm) => {
  "use strict";
  const { drawer, el, joined, make, put, root, say, dated } = tm;
  const $ = (/** @type {string} */ id) => tm.byId(`sheet-${id}`);
  const sheet = tm.byId("sheet");

  const minus = (/** @type {string} */ number) => number.replace(/-/g, "−");

  /** The part is there only if it has something in it. @param {string} id @param {(Node | string)[]} inside */
  const fill = (id, inside) => {
    put($(id), ...inside);
    $(id).closest("section").hidden = !inside.length;
  };

  const sized = (/** @type {RecordedMeasurement} */ { value, uncertainty, unit }) => (value === null ? "" : tm.units.pair(value, uncertainty, unit));

  /** @param {RecordedOpinion | null} opinion @param {boolean} stale */
  const opinionNodes = (opinion, stale) => {
    if (!opinion) return [el("p", "", say("no-opinion"))];
    const { opinion: word, title, host, reasons, warnings, at } = opinion;
    return [
      make("opinion", { word, shaped: tm.shaped(word), as: joined("; ", title, host && say("host", host)) }),
      ...(stale ? [el("p", "note bad", say("stale"))] : []),
      ...reasons.split(/\n+/).filter(Boolean).map((line) => el("p", "", line)),
      ...[warnings[0] ? say("warned", warnings.join(" ")) : "", say("given", dated(at))].filter(Boolean).map((line) => el("p", "small", line)),
    ];
  };

  /** Into the places of the page, in their order. @param {ExaminationRecord} record */
  const facts = ({ coin, examiner, made, changed, id, also }) => {
    const piece = coin.page ? el("a", { href: root + coin.page }, coin.title || coin.page) : coin.title || say("not-on-file");
    const all = [piece, coin.reference, coin.description, examiner.name, examiner.reference, `${dated(made)}, ${dated(changed)}`, id, joined(", ", ...(also?.map((one) => one.id) ?? []))];
    $("facts").querySelectorAll("dd").forEach((/** @type {any} */ place, /** @type {number} */ at) => {
      put(place, all[at]);
      // What every record should have is left to be filled in by hand.
      place.parentElement.hidden = !all[at] && at !== 1 && at !== 3;
    });
  };

  /** @param {EarlierState} state @returns {string} */
  const earlier = ({ what, at, was }) => {
    const support = () => say("by-revision", was.knowledge.revision, joined(", ", ...was.support.map((/** @type {RecordedSupport} */ one) => `${one.title} ${minus(one.log10.toFixed(2))}`)));
    // Each kind of state has some of these.
    const parts = () => joined(", ", was.ask, was.answer === "seen" ? was.say : was.answer, was.opinion, was.quantity, was.quantity && sized(was), was.name, was.title, was.reference, was.description, was.words, was.reasons);
    const said = what === "support" ? support() : what === "more" ? JSON.stringify(was).slice(0, 300) : parts();
    return say(what === "support" ? "as-of" : "until", dated(at), what, said || say("nothing"));
  };

  /** @param {ExaminationRecord} record @param {CountryKnowledge | null} country */
  const show = (record, country) => {
    const { coin, findings, measurements, knowledge } = record;
    const name = tm.named(coin);
    document.title = say("tab", name);
    // Each sheet says which record it is of. Only letters, digits and spaces stand as they are in a text of CSS.
    const said = say("foot", name, record.id).replace(/[^a-z0-9 ]/gi, (sign) => `\\${sign.charCodeAt(0).toString(16)} `);
    put($("page"), say("page-rule").replace("…", () => said));
    put($("title"), name);
    $("edit").href = `examination.html#record=${record.id}`;
    $("export").onclick = () => drawer.give(drawer.fileName({ ...coin, changed: record.changed }), tm.record.write(record));
    put($("changes"), country ? (tm.changesNode(record, country) ?? "") : el("p", "note", say("unknown")));
    fill("opinion", opinionNodes(record.opinion, tm.record.stale(record)));
    facts(record);

    const seen = findings.filter(({ answer }) => answer === "seen");
    fill("findings", seen.map((one) => make("finding", { ...one, noted: joined(" ", one.note, one.photo && say("photograph", one.photo)), speaks: one.speaks || (one.speaks === "" ? say("tells-little") : "") })));
    for (const answer of ["not seen", "cannot tell"]) {
      const asked = findings.filter((one) => one.answer === answer);
      const place = $(answer.replace(" ", "-"));
      place.parentElement.hidden = !asked.length;
      put(place, asked.map(({ ask, note }) => ask + (note && ` (${note})`)).join(" · "));
    }
    $("not-seen").closest("section").hidden = !findings.length;
    $("findings").parentElement.hidden = !seen.length;

    fill("measurements", measurements.map((one) => make("measurement", { ...one, quantity: one.quantity.replace("-", " "), sized: sized(one) || one.words, typed: one.readings.map(({ name: what, typed, unit }) => joined(" ", what, typed, unit)).join("; "), words: one.value === null ? "" : one.words })));
    const strongest = [...record.support].sort((one, other) => other.log10 - one.log10);
    fill("support", strongest.map((one) => make("support", { ...one, log10: minus(one.log10.toFixed(2)) })));
    fill("contradictions", record.contradictions.map((one) => make("contradiction", { ...one, ask: findings.find(({ check }) => check === one.check)?.ask })));
    fill("pictures", record.pictures.map((one) => make("picture", one)));

    const past = record.earlier.filter(({ what, was }) => (what !== "coin" && what !== "examiner") || was.reference || was.description || was.name).map(earlier).reverse();
    fill("earlier", past.map((line) => el("li", "", line)));
    put($("earlier-sum"), say("past", past.length));
    put($("rests"), say("rests", knowledge.revision || say("unknown-revision"), knowledge.program, knowledge.entries.map(({ title, sha256, reviewed }) => `${title} ${sha256.slice(0, 12)}${reviewed && say("reviewed", reviewed)}`).join("; ") || say("none")));
    sheet.hidden = false;
  };

  const start = () => {
    const id = tm.shelf.asked().record;
    const { record, trouble } = drawer.open(id);
    sheet.hidden = true;
    $("trouble").hidden = !!record;
    put($("why"), say(id ? "listed" : "choose", trouble));
    if (record) tm.shelf.country(record.coin.issue, (country) => show(record, country));
    if (id) drawer.watch(id, start);
  };

  $("print").onclick = () => print();
  onhashchange = start;
  start();
})((window.Tellmark ??= {}));
