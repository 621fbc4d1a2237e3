// @ts-check
/* The drawer: records kept in this browser, one key each and no list beside them that could go out of step. Every failure is
   told in words; nothing is written over that this page has not seen. */
((/** @type {BenchGlobal} */ tm) => {
  "use strict";
  const { el, say } = tm;
  const KEY = "tellmark-record-", OPEN = "tellmark-open-record";
  /** What this page last read or wrote, by id. @type {Map<string, string | null>} */
  const seen = new Map();
  /** @type {Map<string, (record: ExaminationRecord) => void>} */
  const watchers = new Map();

  /** What `work` gives, or null and the trouble in words. @template T @param {(store: Storage) => T} work @returns {[T | null, string]} */
  const on = (work) => {
    try {
      return [work(localStorage), ""];
    } catch (error) {
      const full = error instanceof DOMException && /quota/i.test(error.name);
      return [null, say(full ? "full" : "blocked")];
    }
  };

  const stored = (/** @type {string} */ id) => on((store) => store.getItem(KEY + id));
  const get = (/** @type {string} */ id) => stored(id)[0];
  const set = (/** @type {string} */ id, /** @type {string} */ text) => {
    const trouble = on((store) => store.setItem(KEY + id, text))[1];
    if (!trouble) seen.set(id, text);
    return trouble;
  };

  /** @param {string} id */
  const look = (id) => {
    const [text, blocked] = stored(id);
    if (text === null) return { record: null, text, trouble: blocked || say("no-record") };
    const { record, troubles } = tm.record.read(text);
    if (record && record.id !== id) return { record: null, text, trouble: say("other-name") };
    return { record, text, trouble: troubles.join(" ") };
  };

  tm.drawer = {
    list() {
      const ids = on((store) => Object.keys(store).filter((key) => key.startsWith(KEY)).map((key) => key.slice(KEY.length)))[0] ?? [];
      const lines = ids.map((id) => {
        const { record, trouble } = look(id);
        const { title, reference, issue } = record?.coin ?? { title: say("unreadable"), reference: "", issue: "" };
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
        return say("not-kept", error instanceof Error ? error.message : "");
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
  const within = (one, other) => {
    const { changed, knowledge, support, contradictions } = other;
    const { merge, write } = tm.record;
    return write(merge(other, { ...one, changed, knowledge, support, contradictions })) === write(merge(other, other));
  };

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

  tm.named = (/** @type {{ title: string, reference: string }} */ { title, reference }) => tm.joined(", ", title || say("no-title"), reference);
  tm.dated = (/** @type {string} */ at) => `${at.slice(0, 16).replace("T", " ")} UTC`;
  tm.shaped = (/** @type {RecordedOpinion["opinion"]} */ opinion) => `${{ genuine: "●", forged: "✕", altered: "◐", undecided: "○" }[opinion]} ${opinion}`;

  tm.changesNode = (record, knowledge) => {
    const changes = tm.record.changes(record, knowledge);
    if (!changes.length) return null;
    const lines = changes.map(({ title, what, was, now }) => el("li", "", say(`entry-${what}${was === now && was ? "-same" : ""}`, title, was || say("never"), now || say("never"))));
    return el("div", "note changes", el("p", "", say(changes[1] ? "changes" : "change")), el("ul", "", ...lines));
  };
})((window.Tellmark ??= {}));
