// @ts-check
/* One record, to be read and printed. It is shown as it was kept; only what has changed since is looked up. */
(function (/** @type {BenchGlobal} */ tm) {
  "use strict";
  const { drawer } = tm;
  const root = document.documentElement.dataset.root ?? "";
  const $ = (/** @type {string} */ id) => /** @type {any} */ (document.getElementById(`sheet-${id}`));
  const WORDS = /** @type {Record<string, [string, string]>} */ ({ genuine: ["●", "Genuine"], forged: ["✕", "Forged"], altered: ["◐", "Altered"], undecided: ["○", "Undecided"] });
  const PRINTED = 10;

  /** @param {string} name @param {any} set @param {(Node | string)[]} inside @returns {any} */
  function el(name, set, ...inside) {
    const node = Object.assign(document.createElement(name), set);
    node.append(...inside);
    return node;
  }

  const dated = (/** @type {string} */ at) => `${at.slice(0, 16).replace("T", " ")} UTC`;
  const minus = (/** @type {string} */ number) => number.replace(/-/g, "−");
  const small = (/** @type {string} */ words) => (words ? [el("small", {}, words)] : []);
  const row = (/** @type {any} */ head, /** @type {any[][]} */ ...cells) => el("tr", {}, el("th", { scope: "row" }, ...head), ...cells.map((cell) => el("td", {}, ...cell)));

  /** The part is there only if it has something in it. @param {string} id @param {(Node | string)[]} inside */
  function fill(id, inside) {
    $(id).replaceChildren(...inside);
    $(id).closest("section").hidden = !inside.length;
  }

  /** To the second figure of the uncertainty, as the GUM asks. @param {RecordedMeasurement} measurement */
  function sized({ value, uncertainty, unit }) {
    if (value === null) return "";
    if (!uncertainty) return `${minus(String(value))} ${unit}`;
    const places = Math.min(10, Math.max(0, 1 - Math.floor(Math.log10(uncertainty))));
    return `${minus(value.toFixed(places))} ± ${uncertainty.toFixed(places)} ${unit}`;
  }

  /** What a finding spoke for: as recorded, or by the entry as it stands. @param {RecordedFinding} finding @param {EvidenceCase | null} now */
  function speaks({ check, finding, speaks: then }, now) {
    const known = now?.checks.find(({ key }) => key === check);
    if (then || !known || finding === null || finding >= known.say.length) return then ?? "";
    // Against genuine, from a factor of two on; the piece that nothing is known of is left out.
    const logs = known.shares.slice(0, -1).map((shares) => Math.log10(shares[finding] / known.shares[0][finding]));
    const some = (/** @type {(log: number) => boolean} */ fits) => {
      const titles = logs.flatMap((log, at) => (fits(log) ? (now?.hypotheses[at].title ?? []) : []));
      return titles.slice(0, 3).join(", ") + (titles.length > 3 ? ` and ${titles.length - 3} more` : "");
    };
    const [up, down] = [some((log) => log >= 0.3), some((log) => log <= -0.3)];
    return [up && `${up}, rather than genuine`, down && `genuine, rather than ${down}`].filter(Boolean).join("; ") || "tells little";
  }

  /** @param {RecordedOpinion | null} opinion */
  function opinionNodes(opinion) {
    if (!opinion) return [el("p", {}, "None is recorded.")];
    const [shape, word] = WORDS[opinion.opinion];
    const of = [opinion.title, opinion.host && `host: ${opinion.host}`].filter(Boolean).join("; ");
    return [
      el("p", { className: `word ${opinion.opinion}` }, el("b", {}, `${shape} ${word}`), of && ` ${of}`),
      ...opinion.reasons.split(/\n+/).filter(Boolean).map((line) => el("p", {}, line)),
      ...(opinion.warnings.length ? [el("p", { className: "small" }, `Warned of when it was given: ${opinion.warnings.join(" ")}`)] : []),
      el("p", { className: "small" }, `Given ${dated(opinion.at)}`),
    ];
  }

  /** @param {ExaminationRecord} record */
  function facts({ coin, examiner, made, changed, id, also }) {
    const piece = coin.page ? el("a", { href: root + coin.page }, coin.title || coin.page) : coin.title || "not on file";
    const all = [["Examined as", piece], ["Reference", coin.reference], ["Description", coin.description], ["Examiner", examiner.name], ["Examiner’s reference", examiner.reference], ["Begun, last changed", `${dated(made)}, ${dated(changed)}`], ["Record", id], ["Merged with", also?.map((one) => one.id).join(", ")]];
    return all.filter(([, value]) => value).map(([label, value]) => el("div", {}, el("dt", {}, label), el("dd", {}, value)));
  }

  /** @param {EarlierState} state @returns {string} */
  function earlier({ what, at, was }) {
    const said = /** @type {Record<string, () => string>} */ ({
      finding: () => `${was.ask} ${was.answer === "seen" ? was.say : was.answer}`,
      measurement: () => `${was.quantity} ${sized(was)} ${was.words}`,
      opinion: () => `${was.opinion}${was.title ? `, ${was.title}` : ""}. ${was.reasons}`,
      coin: () => [was.title, was.reference, was.description].filter(Boolean).join(", "),
      examiner: () => [was.name, was.reference].filter(Boolean).join(", "),
      picture: () => `${was.name}. ${was.words}`,
      support: () => `by revision ${was.knowledge.revision}: ${was.support.map((/** @type {RecordedSupport} */ one) => `${one.title} ${minus(one.log10.toFixed(2))}`).join(", ")}`,
      more: () => JSON.stringify(was).slice(0, 300),
    })[what]();
    return `${what === "support" ? "As of" : "Until"} ${dated(at)}, ${what}: ${said.trim() || "empty"}`;
  }

  /** @param {ExaminationRecord} record @param {CountryKnowledge | null} country */
  function show(record, country) {
    const { coin, findings, measurements, knowledge } = record;
    const issue = country && Object.hasOwn(country.issues, coin.issue) ? coin.issue : "";
    const now = issue && country ? tm.evidence.prepare(country, issue) : null;
    const name = [coin.title || "Coin without a page", coin.reference].filter(Boolean).join(", ");
    document.title = `Record: ${name} · Tellmark`;
    // Each sheet says which record it is of. Only letters, digits and spaces stand as they are in a text of CSS.
    const said = `${name}. Record ${record.id}`.replace(/[^a-z0-9 ]/gi, (sign) => `\\${sign.charCodeAt(0).toString(16)} `);
    $("page").textContent = `@page { @bottom-left { content: "${said}"; font: 6.5pt sans-serif; } @bottom-right { content: "Sheet " counter(page) " of " counter(pages); font: 6.5pt sans-serif; } }`;
    $("title").textContent = name;
    $("edit").href = `examination.html#record=${record.id}`;
    $("export").onclick = () => drawer.give(drawer.fileName({ ...coin, changed: record.changed }), tm.record.write(record));
    $("stamp").hidden = !(issue && country?.entries[issue]?.demo);
    $("changes").replaceChildren(country ? (tm.changesNode(record, country) ?? "") : el("p", { className: "note" }, "What the site knows of this country cannot be read, so it cannot be told what has changed since."));
    fill("opinion", opinionNodes(record.opinion));
    fill("facts", facts(record));

    const seen = findings.filter(({ answer }) => answer === "seen");
    fill("findings", seen.map((one) => row([one.ask, ...small(one.place ?? "")], [one.say, ...small([one.note, one.photo && `Photograph: ${one.photo}`].filter(Boolean).join(" "))], [speaks(one, now)], [one.basis])));
    const rest = ["not seen", "cannot tell"].flatMap((answer) => {
      const asked = findings.filter((one) => one.answer === answer).map(({ ask, note }) => `${ask}${note ? ` (${note})` : ""}`);
      return asked.length ? [el("b", {}, answer === "not seen" ? "Not seen: " : "Cannot be told: "), `${asked.join(" · ")} `] : [];
    });
    $("unseen").replaceChildren(...rest);
    $("unseen").closest("section").hidden = !findings.length;
    $("findings").parentElement.hidden = !seen.length;

    fill("measurements", measurements.map((one) => row([one.quantity.replace("-", " ")], [sized(one), one.value === null ? one.words : ""], [one.readings.map(({ name: what, typed, unit }) => `${what ? `${what} ` : ""}${typed} ${unit}`.trim()).join("; ")], [one.method, ...(one.value === null ? [] : small(one.words))])));
    const strongest = [...record.support].sort((one, other) => other.log10 - one.log10);
    fill("support", strongest.map((one) => {
      const line = row([one.title], [minus(one.log10.toFixed(2))], [one.words]);
      line.children[1].className = "number";
      return line;
    }));
    fill("contradictions", record.contradictions.map((one) => el("li", {}, el("b", {}, `${one.title}: `), `${findings.find(({ check }) => check === one.check)?.ask ?? ""} ${one.say}`)));
    fill("pictures", [...record.pictures.map((one) => el("li", {}, el("b", {}, one.name), ` ${one.width} × ${one.height} px. ${one.words}`))]);

    const past = record.earlier.filter(({ what, was }) => (what !== "coin" && what !== "examiner") || was.reference || was.description || was.name).map(earlier).reverse();
    fill("earlier", past.map((line) => el("li", {}, line)));
    $("earlier-sum").textContent = `${past.length} kept in the record`;
    $("earlier-print").textContent = past.slice(0, PRINTED).map((line) => (line.length > 160 ? `${line.slice(0, 160)}…` : line)).join(" · ") + (past.length > PRINTED ? ` · and ${past.length - PRINTED} more, kept in the record’s file.` : "");
    $("rests").textContent = `Site revision ${knowledge.revision || "unknown"}, Tellmark ${knowledge.program}. Entries used, with the first 12 digits of the sha256 of each: ${knowledge.entries.map(({ title, sha256, reviewed }) => `${title} ${sha256.slice(0, 12)}${reviewed ? ` (reviewed ${reviewed})` : ""}`).join("; ") || "none"}.`;
    document.getElementById("sheet")?.removeAttribute("hidden");
  }

  function start() {
    const id = tm.shelf.asked().record;
    const { record, trouble } = drawer.open(id);
    document.getElementById("sheet")?.toggleAttribute("hidden", true);
    const why = id ? `${trouble} What is kept on this machine is listed, and can be exported as it is, on ` : "No record is asked for. Choose one on ";
    $("trouble").replaceChildren(...(record ? [] : [el("p", { className: "note bad" }, why, el("a", { href: "index.html" }, "the bench"), ".")]));
    if (record) tm.shelf.country(tm.shelf.countryOf(record.coin.issue), (country) => show(record, country));
    if (id) drawer.watch(id, start);
  }

  $("print").onclick = () => print();
  addEventListener("hashchange", start);
  start();
})((window.Tellmark ??= {}));
