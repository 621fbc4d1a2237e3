// @ts-check
/* The drawer: records kept in this browser, one key each and no list beside them that could go out of step. Every failure is
   told in words; nothing is written over that this page has not seen. */
(function (/** @type {BenchGlobal} */ tm) {
  "use strict";
  const KEY = "tellmark-record-", OPEN = "tellmark-open-record";
  const BLOCKED = "This browser keeps nothing: storage is blocked. Export the record to a file before you close the page.";
  const FULL = "The storage of this browser is full; the last change is on this page only. Export the record to a file, or remove others.";
  /** What this page last read or wrote, by id. @type {Map<string, string | null>} */
  const seen = new Map();
  /** @type {Map<string, (record: ExaminationRecord) => void>} */
  const watchers = new Map();

  /** What `work` gives, or null and the trouble in words. @template T @param {(store: Storage) => T} work @returns {[T | null, string]} */
  function on(work) {
    try {
      return [work(localStorage), ""];
    } catch (error) {
      const full = error instanceof DOMException && /quota/i.test(error.name);
      return [null, full ? FULL : BLOCKED];
    }
  }

  const stored = (/** @type {string} */ id) => on((store) => store.getItem(KEY + id));
  const get = (/** @type {string} */ id) => stored(id)[0];
  const set = (/** @type {string} */ id, /** @type {string} */ text) => {
    const trouble = on((store) => store.setItem(KEY + id, text))[1];
    if (!trouble) seen.set(id, text);
    return trouble;
  };

  /** @param {string} id */
  function look(id) {
    const [text, blocked] = stored(id);
    if (text === null) return { record: null, text, trouble: blocked || "There is no such record on this machine." };
    const { record, troubles } = tm.record.read(text);
    if (record && record.id !== id) return { record: null, text, trouble: "It is kept under another record’s name." };
    return { record, text, trouble: troubles.join(" ") };
  }

  tm.drawer = {
    list() {
      const ids = on((store) => Object.keys(store).filter((key) => key.startsWith(KEY)).map((key) => key.slice(KEY.length)))[0] ?? [];
      const lines = ids.map((id) => {
        const { record, trouble } = look(id);
        const { title, reference, issue } = record?.coin ?? { title: "A record that cannot be read", reference: "", issue: "" };
        return { id, title, reference, issue, changed: record?.changed ?? "", opinion: record?.opinion?.opinion ?? "", trouble };
      });
      return lines.sort((one, other) => ((one.changed === other.changed ? one.id < other.id : one.changed > other.changed) ? -1 : 1));
    },
    open(id) {
      const found = look(id);
      if (found.record) seen.set(id, found.text);
      return found;
    },
    save(record) {
      try {
        const { id } = record;
        const { text: kept, record: there } = look(id);
        const text = tm.record.write(record);
        if (kept === null || kept === seen.get(id)) return set(id, text);
        // Another tab, or an import, wrote it since: both are kept.
        if (!there) return on((store) => store.setItem(`${KEY}${id}-damaged-${Date.parse(record.changed)}`, kept))[1] || set(id, text);
        const both = tm.record.merge(record, there);
        const trouble = set(id, tm.record.write(both));
        if (!trouble) watchers.get(id)?.(both);
        return trouble;
      } catch (error) {
        return `The record could not be kept as it stands. ${error instanceof Error ? error.message : ""}`;
      }
    },
    remove(id) {
      seen.delete(id);
      return on((store) => store.removeItem(KEY + id))[1];
    },
    text: get,
    putBack: set,
    watch: (id, done) => void watchers.set(id, done),
    trouble: () => on((store) => (store.setItem("tellmark-try", "1"), store.removeItem("tellmark-try")))[1],
    newId() {
      const digits = Array.from(crypto.getRandomValues(new Uint8Array(16)), (byte) => byte.toString(16).padStart(2, "0")).join("");
      // Version 4, variant 1 of RFC 9562.
      return digits.replace(/^(.{8})(.{4}).(.{3}).(.{3})(.{12})$/, "$1-$2-4$3-8$4-$5");
    },
    current() {
      const id = on((store) => store.getItem(OPEN))[0] ?? "";
      return id && get(id) !== null ? id : "";
    },
    fileName({ title, reference, changed }) {
      const name = (reference || title || "record").normalize("NFC").replace(/[^\p{L}\p{M}\p{N}]+/gu, "-").replace(/^-+|-+$/g, "");
      return `${Array.from(name).slice(0, 60).join("") || "record"}-${changed.slice(0, 10)}.json`;
    },
    give(name, text) {
      const href = URL.createObjectURL(new Blob([text], { type: "application/json" }));
      el("a", { href, download: name }).click();
      setTimeout(() => URL.revokeObjectURL(href), 60000);
    },
    setCurrent: (id) => void on((store) => (id ? store.setItem(OPEN, id) : store.removeItem(OPEN))),
  };

  /** Whether every answer of one is in the other; weighings follow from answers and are not asked for. @param {ExaminationRecord} one @param {ExaminationRecord} other */
  function within(one, other) {
    const { changed, knowledge, support, contradictions } = other;
    const { merge, write } = tm.record;
    return write(merge(other, { ...one, changed, knowledge, support, contradictions })) === write(merge(other, other));
  }

  addEventListener("storage", ({ key, newValue }) => {
    const id = key?.startsWith(KEY) ? key.slice(KEY.length) : "";
    const mine = tm.record.read(seen.get(id) ?? "").record;
    let there = tm.record.read(newValue ?? "").record;
    if (!mine || !there || there.id !== id) return;
    // Tabs are told of each other’s writing a moment late: both may have written at once.
    if (within(mine, there)) seen.set(id, newValue);
    else set(id, tm.record.write((there = tm.record.merge(mine, there))));
    watchers.get(id)?.(there);
  });

  /** The one maker of elements for this script and the pages of records. @type {(name: string, set: any, ...inside: (Node | string)[]) => any} */
  const el = (tm.el = (name, set, ...inside) => {
    const node = Object.assign(document.createElement(name), set);
    node.append(...inside);
    return node;
  });
  tm.named = (/** @type {{ title: string, reference: string }} */ { title, reference }) => [title || "Coin without a page", reference].filter(Boolean).join(", ");
  tm.dated = (/** @type {string} */ at) => `${at.slice(0, 16).replace("T", " ")} UTC`;
  tm.shaped = (/** @type {RecordedOpinion["opinion"]} */ opinion) => `${{ genuine: "●", forged: "✕", altered: "◐", undecided: "○" }[opinion]} ${opinion}`;

  tm.changesNode = (record, knowledge) => {
    const changes = tm.record.changes(record, knowledge);
    if (!changes.length) return null;
    const lines = changes.map(({ title, what, was, now }) => {
      const days = was === now ? `review still dated ${now || "never"}` : `reviewed ${was || "never"} then, ${now || "never"} now`;
      return el("li", {}, `${title}: ${what === "gone" ? "no longer on file" : what === "new" ? `new since${now && `, reviewed ${now}`}` : `changed; ${days}`}`);
    });
    return el("div", { className: "note changes" }, el("p", {}, `${changes.length === 1 ? "This entry has" : "These entries have"} changed since:`), el("ul", {}, ...lines));
  };
})((window.Tellmark ??= {}));
