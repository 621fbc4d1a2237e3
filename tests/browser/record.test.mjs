// The record: read without harm, merged without loss, kept on this machine, listed, printed on two sheets.

import assert from "node:assert/strict";
import { mkdtempSync, readFileSync, readdirSync, rmSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, describe, test } from "node:test";
import { fileURLToPath } from "node:url";
import vm from "node:vm";

import { bench, close, textOf } from "./bench.mjs";
import { speaker } from "./sentences.mjs";

const examples = fileURLToPath(new URL("../records/", import.meta.url));
const downloads = mkdtempSync(join(tmpdir(), "tellmark-records-"));
after(async () => {
  await close();
  rmSync(downloads, { recursive: true });
});

/** The pure script in plain Node, with what the site knows of the invented country. */
const context = vm.createContext({ kept: {}, say: speaker("index") });
vm.runInContext("globalThis.window = globalThis; globalThis.Tellmark = { say, shelve: (key, knowledge) => { kept[key] = knowledge; } };", context);
for (const file of ["look/bench/record.js", "bench/know/orrin.js", "bench/know/site.js"]) vm.runInContext(textOf(file), context, { filename: file });
const { Tellmark: { record: records }, kept: { orrin, site } } = /** @type {any} */ (context);
// From here on a wish for the clock or for chance is an error.
vm.runInContext("Math.random = () => { throw new Error('chance'); }; Date.now = () => { throw new Error('the clock'); };", context);

const example = (/** @type {string} */ name) => readFileSync(join(examples, `${name}.json`), "utf8");
const names = readdirSync(examples).map((file) => file.replace(".json", ""));
const read = (/** @type {string} */ text) => records.read(text);
const at = (/** @type {number} */ minute) => new Date(Date.UTC(2026, 4, 4, 9, minute)).toISOString();
const ISSUE = "issues/orrin/half-mark/1911-k";
const ID = "0b6f2c1e-7a54-4d7e-9f53-2a6c1d0e8b90";
const OTHER = "5d1c9a70-3f0b-4d0c-8f64-77e0a3b1c2d4";
const fresh = (id = ID, minute = 0) => records.fresh(ISSUE, orrin, site, id, at(minute));
const finding = (/** @type {string} */ check, /** @type {string} */ say, /** @type {number} */ minute) => ({ check, ask: "?", finding: 0, answer: "seen", say, basis: "Common practice", note: "", photo: "", at: at(minute) });
const weight = (/** @type {any} */ value, /** @type {number} */ minute, id = "weight") => ({ id, quantity: "weight", value, uncertainty: 0.001, unit: "g", readings: [{ name: "balance", typed: String(value), unit: "g" }], method: "balance", words: "", at: at(minute) });
const opinion = (/** @type {string} */ word, /** @type {number} */ minute) => ({ opinion: word, as: "", title: "", host: "", reasons: "seen", warnings: [], at: at(minute) });

/** One text for all ways to write a value. @param {any} value @returns {string} */
function same(value) {
  if (Array.isArray(value)) return `[${value.map(same)}]`;
  return value && typeof value === "object" ? `{${Object.keys(value).sort().map((key) => JSON.stringify(key) + same(value[key]))}}` : JSON.stringify(value);
}

describe("reading", () => {
  test("takes what the schema takes and refuses what it refuses: the examples, each by the place that is wrong", () => {
    const wrong = {
      "answer-unknown": /^findings\[0\]\.answer: expected one of seen, not seen, cannot tell; found "yes"\.$/,
      "earlier-misshapen": /^earlier\[0\]\.was\.ask: /,
      "earlier-of-no-kind": /^earlier\[0\]\.what: .*found "mood"/,
      "earlier-two-keys": /^earlier\[0\]\.was: expected a table of one key/,
      "findings-no-list": /^findings: expected a list/,
      "id-no-uuid": /^id: expected a UUID/,
      "issue-outside": /^coin\.issue: .*found "\.\.\/\.\.\/etc"/,
      "later-version": /^Made by a later Tellmark \(version 2 of the record; this one reads 1\); nothing changed\.$/,
      "list-of-notes": /^The file holds 2 records, not one\.$/,
      "number-in-quotes": /^measurements\[0\]\.value: expected a number.*found "NaN"\.$/,
      "number-too-large": /^measurements\[0\]\.value: .*found 1000000000000\.$/,
      "opinion-missing": /^opinion: expected to be there\.$/,
      "opinion-not-of-the-four": /^opinion\.opinion: expected one of genuine, forged, altered, undecided/,
      "other-format": /^This is no record of Tellmark/,
      "page-is-a-script": /^coin\.page: .*found "javascript:alert\(1\)"/,
      "quantity-unknown": /^measurements\[0\]\.quantity: .*found "colour"/,
      "reading-no-text": /^measurements\[0\]\.readings\[0\]\.typed: expected a text.*found 6\.18\.$/,
      "sum-too-short": /^knowledge\.entries\[0\]\.sha256: expected 64 hexadecimal digits/,
      "text-too-long": /^coin\.reference: expected a text of at most 500 characters/,
      "time-without-zone": /^changed: expected a time/,
      "uncertainty-negative": /^measurements\[0\]\.uncertainty: expected a number from 0/,
    };
    assert.deepEqual(names.filter((name) => name.startsWith("bad-")).map((name) => name.slice(4)), Object.keys(wrong));
    for (const [name, words] of Object.entries(wrong)) {
      const found = read(example(`bad-${name}`));
      assert.equal(found.record, null, name);
      assert.match(found.troubles[0], words, name);
      assert.equal(found.text, example(`bad-${name}`), "the text is kept as it stood");
      assert.equal(found.later, name === "later-version");
    }
  });

  test("gives back good records whole, keys of other software included", () => {
    const good = names.filter((name) => name.startsWith("good-"));
    assert.equal(good.length, 4);
    for (const name of good) {
      const { record, troubles } = read(example(name));
      assert.deepEqual([...troubles], [], name);
      assert.deepEqual(JSON.parse(records.write(record)), JSON.parse(example(name)), name);
    }
    const changed = records.answer(read(example("good-other-keys")).record, finding("a#b", "a line", 9));
    assert.deepEqual(JSON.parse(records.write(changed))["x-house"], { shelf: 12, of: ["a", null, true] });
    assert.equal(records.describe(changed, { reference: "7" }, {}, at(10)).coin["x-colour"], "grey");
  });

  test("says what is wrong with a damaged file, and never throws", () => {
    const text = example("good-full");
    const deep = "[".repeat(2e5) + "]".repeat(2e5);
    const nested = (/** @type {number} */ depth) => `${'{"a":'.repeat(depth)}1${"}".repeat(depth)}`;
    const begun = example("good-begun");
    const change = (/** @type {string} */ from, /** @type {string} */ to) => {
      assert.ok(begun.includes(from), from);
      return begun.replace(from, to);
    };
    const cases = /** @type {[string, RegExp][]} */ ([
      ["", /^The file is empty\.$/],
      ["  \n", /^The file is empty\.$/],
      ["\u0089PNG\r\n\u001a\n", /no record of Tellmark/],
      ["Dear Sir", /no record of Tellmark/],
      [text.slice(0, 6000), /^The file is damaged: it breaks off after 6000 characters\.$|^The file is damaged at line \d+/],
      [text.replace('"answer": "seen"', '"answer": seen'), /^The file is damaged at line \d+, character \d+\.$/],
      ["[]", /holds no record/],
      ["null", /no record/], ["1", /no record/], ['"x"', /no record/], ["{}", /no record/],
      [deep, /deep|no record/],
      [change('"findings": []', `"findings": [], "more": ${nested(40)}`), /^more\.a\.a.*expected nothing nested deeper than 24\.$/],
      [change('"findings": []', `"findings": [], "more": ${nested(20000)}`), /nested/],
      [change('"findings": []', '"findings": [], "__proto__": { "isAdmin": true }'), /no key named __proto__/],
      [change('"reference": ""', '"reference": "", "constructor": { "prototype": 1 }, "x": 1e999'), /^coin\.x: expected a finite number; found Infinity\.$/],
      [change('"support": []', '"support": [], "support": []'), /^The key "support" stands twice/],
      [change('"support": []', '"support": [{ "hypothesis": "genuine", "title": "", "log10": -1e400, "words": "" }]'), /^support\[0\]\.log10: expected a finite number; found -Infinity\.$/],
      [change('"support": []', '"support": {"length": 3}'), /^support: expected a list/],
      [change('"pictures": []', `"pictures": ${JSON.stringify(Array(501).fill(1))}`), /^pictures: expected a list of at most 500/],
      [change('"pictures": []', `"pictures": ${JSON.stringify(Array(500).fill(1))}`), /^pictures\[0\]: expected a table; found 1\.$/],
      [change('"description": ""', `"description": "${"<img src=x onerror=alert(1)>".repeat(1000)}"`), /^coin\.description: expected a text of at most 20000 characters/],
      [change('"findings": []', `"findings": [], "x": "${"y".repeat(2_100_000)}"`), /^The whole: expected a text of at most 2000000 characters\.$/],
      [`{"x":"${"y".repeat(20_000_001)}"}`, /too large/],
    ]);
    for (const [given, words] of cases) {
      const { record, troubles } = read(given);
      assert.equal(record, null, given.slice(0, 60));
      assert.match(troubles[0], words, given.slice(0, 60));
      assert.ok(troubles.length <= 13 && troubles.every((/** @type {string} */ line) => line.length < 400), "told in bounds");
    }
    // Every place a file can be cut off at.
    for (let end = 0; end < text.length - 1; end += 7) assert.equal(read(text.slice(0, end)).record, null);
    // Any byte changed: refused in words, or a record that can be written again.
    let taken = 0;
    for (let spot = 0; spot < text.length; spot += 11) {
      const { record, troubles } = read(`${text.slice(0, spot)}\u0007${text.slice(spot + 1)}`);
      if (record) taken += 1;
      assert.ok(record ? records.write(record) : troubles[0], String(spot));
    }
    assert.equal(taken, 0, "a control character is no JSON anywhere");
    assert.equal(/** @type {any} */ ({}).isAdmin, undefined);
    assert.equal(vm.runInContext("({}).isAdmin", context), undefined);
  });

  test("reads a file of many, and the texts in it that could not be read before", () => {
    const all = records.readAll(JSON.stringify([JSON.parse(example("good-full")), JSON.parse(example("bad-later-version")), example("good-begun").slice(0, 100), example("good-begun")]));
    assert.deepEqual([...all].map((one) => Boolean(one.record)), [true, false, false, true]);
    assert.match(all[1].troubles[0], /later Tellmark/);
    assert.match(all[2].troubles[0], /damaged/);
    assert.equal(all[2].text, example("good-begun").slice(0, 100));
  });

  test("takes a text with a byte-order mark and Windows line ends", () => {
    assert.ok(read(`\uFEFF${example("good-full").replace(/\n/g, "\r\n")}`).record);
  });

  test("reads a record of its largest size in the time of a blink", () => {
    const big = { ...fresh(), "x-notes": "n".repeat(1_900_000) };
    const begun = performance.now();
    assert.ok(read(records.write(big)).record);
    const took = performance.now() - begun;
    console.log(`1.9 million characters written and read in ${took.toFixed(0)} ms`);
    assert.ok(took < 1000);
  });
});

describe("writing", () => {
  test("stores no number that is none", () => {
    for (const bad of [NaN, Infinity, -Infinity]) {
      assert.throws(() => records.write(records.measure(fresh(), weight(bad, 1))), /measurements\[0\]\.value: expected a finite number/);
    }
  });

  test("keeps what a new answer takes the place of, and what is taken back", () => {
    let record = fresh();
    record = records.answer(record, finding("a#b", "flat", 1));
    record = records.answer(record, finding("a#b", "raised", 2));
    assert.equal(records.answer(record, finding("a#b", "raised", 3)), record, "the same answer again changes nothing");
    assert.deepEqual([...record.findings].map((one) => one.say), ["raised"]);
    assert.deepEqual([...record.earlier].map((one) => [one.what, one.at, one.was.say]), [["finding", at(2), "flat"]]);
    record = records.unanswer(record, "a#b", at(4));
    assert.equal(record.findings.length, 0);
    assert.equal(record.earlier.length, 2);
    assert.equal(records.unanswer(record, "a#b", at(5)), record);
    record = records.measure(records.measure(record, weight(6.1, 6)), weight(6.2, 7));
    record = records.unmeasure(record, "weight", at(8));
    record = records.opine(records.opine(record, opinion("undecided", 9)), opinion("forged", 10));
    record = records.describe(record, { reference: "A-1" }, { name: "M" }, at(11));
    assert.deepEqual([...record.earlier].map((one) => one.what), ["finding", "finding", "measurement", "measurement", "opinion", "coin", "examiner"]);
    assert.equal(record.changed, at(11));
    assert.equal(read(records.write(record)).troubles.length, 0);
  });

  test("an answer given after the clock was set back is still the newer one", () => {
    const old = records.answer(fresh(), finding("a#b", "flat", 30));
    const now = records.answer(old, finding("a#b", "raised", 5));
    assert.equal(now.findings[0].at, "2026-05-04T09:30:00.001Z");
    assert.equal(records.merge(old, now).findings[0].say, "raised");
    const again = records.answer(records.unanswer(now, "a#b", at(4)), finding("a#b", "flat after all", 3));
    assert.equal(records.merge(again, old).findings[0].say, "flat after all");
  });

  test("an opinion is stale when a finding or a measurement was given, changed or taken back after it, and by nothing else", () => {
    const weight = { id: "w", quantity: "weight", value: 6.2, uncertainty: 0.01, unit: "g", readings: [], method: "", words: "", at: at(1) };
    const opinion = { opinion: "genuine", as: "", title: "", host: "", reasons: "", warnings: [], at: at(10) };
    const given = records.opine(records.measure(records.answer(fresh(), finding("a#b", "flat", 2)), weight), opinion);
    assert.equal(records.stale(records.answer(fresh(), finding("a#b", "flat", 2))), false, "there is none");
    assert.equal(records.stale(given), false);
    assert.equal(records.stale(records.describe(given, { reference: "A-1" }, {}, at(11))), false);
    assert.equal(records.stale(records.answer(given, finding("a#b", "flat", 12))), false, "the same answer again");
    assert.equal(records.stale(records.answer(given, finding("a#b", "raised", 12))), true);
    assert.equal(records.stale(records.unanswer(given, "a#b", at(12))), true);
    assert.equal(records.stale(records.unmeasure(given, "w", at(12))), true);
    const other = records.answer(fresh(), finding("c#d", "seen elsewhere", 13));
    assert.equal(records.stale(records.merge(given, other)), true, "by a merge");
    assert.equal(records.stale(records.opine(records.answer(given, finding("a#b", "raised", 12)), { ...opinion, at: at(14) })), false, "given anew");
  });

  test("a weighing by another state of the knowledge is kept", () => {
    const stood = [{ hypothesis: "genuine", title: "Genuine", log10: 0, words: "" }];
    const first = records.weigh(fresh(), stood, [], orrin, site, at(1));
    assert.equal(records.weigh(first, [], [], orrin, site, at(2)).earlier.length, 0);
    const next = records.weigh(first, [], [], orrin, { ...site, revision: "0000" }, at(3));
    assert.deepEqual([...next.earlier].map((one) => [one.what, one.was.knowledge.revision, one.was.support.length]), [["support", site.revision, 1]]);
    assert.equal(read(records.write(next)).troubles.length, 0);
  });
});

/** A stream of chance that is the same on every run (mulberry32, written from memory). @param {number} seed */
function chance(seed) {
  return () => {
    seed = (seed + 0x6d2b79f5) | 0;
    let mixed = Math.imul(seed ^ (seed >>> 15), 1 | seed);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

/** A record with a few changes of every kind, often of the same things at the same times. @param {() => number} any @param {any} record @param {number} many */
function worked(any, record, many) {
  const pick = (/** @type {any[]} */ list) => list[Math.floor(any() * list.length)];
  for (let step = 0; step < many; step++) {
    const minute = Math.floor(any() * 40);
    const check = pick(["a#b", "a#c", "a#d"]);
    record = pick([
      () => records.answer(record, finding(check, pick(["flat", "raised", "hollow"]), minute)),
      () => records.unanswer(record, check, at(minute)),
      () => records.measure(record, weight(pick([6.1, 6.2]), minute, pick(["weight", "again"]))),
      () => records.unmeasure(record, "weight", at(minute)),
      () => records.opine(record, opinion(pick(["genuine", "forged", "altered", "undecided"]), minute)),
      () => records.describe(record, { reference: pick(["A", "B"]) }, { name: pick(["M", "N"]) }, at(minute)),
      () => records.attach(record, { name: pick(["p", "q"]), width: 1, height: 1, words: "", marks: [Math.floor(any() * 3)], at: at(minute) }),
      () => records.detach(record, "p", at(minute)),
      () => records.weigh(record, [{ hypothesis: "genuine", title: "", log10: pick([0, 1]), words: "" }], [], orrin, pick([site, { ...site, revision: "0000" }]), at(minute)),
      () => ({ ...record, [pick(["x-one", "x-two"])]: pick([1, 2, { a: [3] }]) }),
    ])();
  }
  return record;
}

/** Every state of anything that a record holds. @param {any} record @returns {Set<string>} */
function held(record) {
  const single = [record.coin, record.examiner, record.opinion].filter(Boolean);
  const more = Object.keys(record).filter((key) => key.startsWith("x-")).map((key) => ({ [key]: record[key] }));
  const weighed = record.support.length ? [{ at: record.changed, knowledge: record.knowledge, support: record.support, contradictions: record.contradictions }] : [];
  return new Set([...record.findings, ...record.measurements, ...record.pictures, ...single, ...more, ...weighed, ...record.earlier.map((/** @type {any} */ one) => one.was)].map(same));
}

describe("merging", () => {
  test("keeps the newest answer and every other one", () => {
    const base = records.answer(fresh(), finding("a#b", "flat", 1));
    const one = records.answer(base, finding("a#b", "raised", 5));
    const other = records.opine(records.answer(records.answer(base, finding("a#b", "hollow", 7)), finding("a#c", "two", 8)), opinion("forged", 9));
    const both = records.merge(one, other);
    assert.deepEqual([...both.findings].map((it) => it.say), ["hollow", "two"]);
    assert.deepEqual([...both.earlier].map((it) => [it.was.say, it.at]), [["flat", at(5)], ["raised", at(7)]]);
    assert.equal(both.opinion.opinion, "forged");
  });

  test("does not bring back what was taken back", () => {
    const one = records.answer(fresh(), finding("a#b", "flat", 1));
    const other = records.unanswer(one, "a#b", at(2));
    assert.equal(records.merge(one, other).findings.length, 0);
    assert.equal(records.merge(records.answer(one, finding("a#b", "flat", 1)), other).earlier.length, 1);
  });

  test("two records of one coin become one under the name of the older; the other's name stays known", () => {
    const one = records.answer(fresh(ID, 0), finding("a#b", "flat", 1));
    const other = records.answer(fresh(OTHER, 3), finding("a#b", "raised", 4));
    const both = records.merge(other, one);
    assert.equal(both.id, ID);
    assert.deepEqual(JSON.parse(JSON.stringify(both.also)), [{ id: OTHER, made: at(3) }]);
    assert.equal(both.findings[0].say, "raised");
  });

  test("the order of merging makes no difference, merging again changes nothing, and no state is lost: 400 sets of records", () => {
    let states = 0;
    for (let seed = 1; seed <= 400; seed++) {
      const any = chance(seed);
      const common = worked(any, fresh(), 4);
      const start = () => (any() < 0.3 ? worked(any, fresh(OTHER, seed % 3), 2) : common);
      const [one, other, third] = [start(), start(), start()].map((record) => worked(any, record, 1 + Math.floor(any() * 6)));
      const both = records.merge(one, other);
      assert.ok(same(records.merge(other, one)) === same(both), `commutative, ${seed}`);
      assert.ok(same(records.merge(both, both)) === same(both), `idempotent, ${seed}`);
      assert.ok(same(records.merge(both, one)) === same(both), `absorbing, ${seed}`);
      const all = records.merge(both, third);
      assert.ok(same(records.merge(one, records.merge(other, third))) === same(all), `associative, ${seed}`);
      const kept = held(all);
      for (const state of [one, other, third].flatMap((record) => [...held(record)])) assert.ok(kept.has(state), `lost, ${seed}: ${state.slice(0, 200)}`);
      assert.deepEqual([...records.check(all)], [], String(seed));
      states += kept.size;
    }
    console.log(`${states} states kept`);
    assert.ok(states > 4000);
  });
});

describe("changes since", () => {
  test("names entries that changed, went and came, with their days of review", () => {
    const record = fresh();
    assert.equal(records.changes(record, orrin).length, 0);
    const now = JSON.parse(JSON.stringify(orrin));
    now.entries[ISSUE] = { ...now.entries[ISSUE], sha256: "0".repeat(64), reviewed: "2027-01-02" };
    delete now.entries["families/orrin/grey-castings"];
    now.entries["glossary/new"] = { title: "New", page: "", sha256: "1".repeat(64), reviewed: "", demo: true };
    now.issues[ISSUE].entries.push("glossary/new");
    const found = JSON.parse(JSON.stringify(records.changes(record, now)));
    assert.deepEqual(found.map((/** @type {any} */ one) => [one.id, one.what, one.was, one.now]).sort(), [
      ["families/orrin/grey-castings", "gone", orrin.entries["families/orrin/grey-castings"].reviewed, ""],
      ["glossary/new", "new", "", ""],
      [ISSUE, "changed", orrin.entries[ISSUE].reviewed, "2027-01-02"],
    ]);
  });

  test("hostile names of entries are only names", () => {
    const record = { ...fresh(), knowledge: { revision: "", program: "", entries: ["constructor", "toString"].map((id) => ({ id, title: id, sha256: "0".repeat(64), reviewed: "" })) }, coin: { ...fresh().coin, issue: "issues/constructor" } };
    assert.deepEqual([...records.changes(record, orrin)].map((one) => one.what), ["gone", "gone"]);
  });
});

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];
const THIRD = "11111111-2222-4333-8444-555555555555";

/** A browser whose storage holds these texts from the first. @param {Record<string, string>} texts @param {any} [wish] */
async function drawerOf(texts, wish = {}) {
  const one = await bench({ still: true, ...wish });
  await one.open("bench/index.html");
  await one.page.evaluate((all) => Object.entries(all).forEach(([id, text]) => localStorage.setItem(`tellmark-record-${id}`, text)), texts);
  await one.open("bench/index.html");
  return one;
}

/** The full examination as of the site's knowledge, with more in it than a piece commonly needs. */
function full() {
  const kept = JSON.parse(example("good-full"));
  return records.weigh(kept, kept.support, kept.contradictions, orrin, site, at(50));
}
const written = () => records.write(full());
const stored = (/** @type {import("playwright-core").Page} */ page, id = ID) => page.evaluate((name) => localStorage.getItem(`tellmark-record-${name}`), id);
/** @param {import("playwright-core").Page} page @param {() => Promise<void>} act */
async function download(page, act) {
  const [file] = await Promise.all([page.waitForEvent("download"), act()]);
  const path = join(downloads, `${Math.round(performance.now() * 1000)}`);
  await file.saveAs(path);
  return { name: file.suggestedFilename(), text: readFileSync(path, "utf8") };
}
/** Files chosen, and read: the page shows what they will do once it has read the last. @param {import("playwright-core").Page} page @param {Record<string, string>} files */
async function give(page, files) {
  const plan = page.locator("#records-plan");
  assert.equal(await plan.isVisible(), false, "a plan that is there already would be taken for the one to come");
  await page.locator("#records-files").setInputFiles(Object.entries(files).map(([name, text]) => ({ name, mimeType: "application/json", buffer: Buffer.from(text) })));
  await plan.waitFor();
}

/** A tab in the background draws no frames, so it is asked now and then. */
const ASK = { polling: 100, timeout: 20000 };

describe("the drawer", () => {
  test("storage that is blocked is told, and the page works on", async () => {
    const one = await bench();
    await one.context.addInitScript(() => Object.defineProperty(window, "localStorage", { get() { throw new DOMException("no", "SecurityError"); } }));
    const page = await one.open("bench/index.html");
    assert.match(await page.locator("#records-trouble").innerText(), /storage is blocked.*Export the record to a file/);
    const said = await page.evaluate((text) => [window.Tellmark.drawer.save(JSON.parse(text)), window.Tellmark.drawer.open("x").trouble, window.Tellmark.drawer.current()], written());
    assert.match(said[0], /storage is blocked/);
    assert.match(said[1], /storage is blocked/);
    assert.equal(said[2], "");
    assert.deepEqual(one.log, []);
    await one.close();
  });

  test("storage that is full is told, and what was kept before is as it was", async () => {
    const one = await drawerOf({ [ID]: written() });
    const page = one.page;
    const said = await page.evaluate(([id, text]) => {
      for (let size = 4_000_000, at = 0; size > 10; at++) {
        try { localStorage.setItem(`filler-${at}`, "x".repeat(size)); } catch { size = Math.floor(size / 2); }
      }
      const { drawer, record } = window.Tellmark;
      const mine = record.describe(drawer.open(id).record, { description: "more ".repeat(1000) }, {}, "2026-06-01T00:00:00.000Z");
      return [drawer.save(mine), localStorage.getItem(`tellmark-record-${id}`) === text];
    }, [ID, written()]);
    assert.match(said[0], /storage of this browser is full.*on this page only/);
    assert.equal(said[1], true);
    await one.close();
  });

  test("no number that is none is stored", async () => {
    const one = await drawerOf({ [ID]: written() });
    const said = await one.page.evaluate((id) => {
      const { drawer, record } = window.Tellmark;
      return drawer.save(record.measure(drawer.open(id).record, { id: "n", quantity: "weight", value: NaN, uncertainty: 0, unit: "g", readings: [], method: "", words: "", at: "2026-06-01T00:00:00.000Z" }));
    }, ID);
    assert.match(said, /measurements\[\d\]\.value: expected a finite number/);
    assert.equal(await stored(one.page), written());
    await one.close();
  });

  test("what was written since this page last looked is merged when it saves, and the page is told", async () => {
    const base = full();
    const one = await drawerOf({ [ID]: records.write(base) });
    const theirs = records.write(records.answer(base, finding("one#tab", "theirs", 60)));
    const said = await one.page.evaluate(([id, text, found]) => {
      const { drawer, record } = window.Tellmark;
      const mine = record.answer(drawer.open(id).record, found);
      /** @type {any[]} */
      const told = [];
      drawer.watch(id, (/** @type {any} */ both) => told.push(both));
      // No event comes in the page that writes.
      localStorage.setItem(`tellmark-record-${id}`, String(text));
      const trouble = drawer.save(mine);
      // What it has written itself it goes on from without merging.
      const next = drawer.save(record.answer(told[0], { ...found, check: "two#more", say: "more" }));
      return { trouble, next, told: told.map((both) => both.findings.map((/** @type {any} */ it) => it.say)) };
    }, /** @type {any} */ ([ID, theirs, finding("two#tab", "mine", 61)]));
    assert.equal(said.trouble + said.next, "");
    assert.equal(said.told.length, 1);
    assert.deepEqual(said.told[0].slice(-2), ["theirs", "mine"]);
    assert.deepEqual([...read((await stored(one.page)) ?? "").record.findings].slice(-3).map((it) => it.say), ["theirs", "mine", "more"]);
    await one.close();
  });

  test("two tabs that work on one record, also at once, end with all of both", async () => {
    const one = await drawerOf({ [ID]: written() });
    const tabs = [one.page, await one.context.newPage()];
    await tabs[1].goto(`${one.base}bench/index.html`);
    for (const tab of tabs) {
      await tab.evaluate((id) => {
        const { drawer } = window.Tellmark;
        Object.assign(window, { mine: drawer.open(id).record });
        drawer.watch(id, (/** @type {any} */ record) => Object.assign(window, { mine: record }));
      }, ID);
    }
    /** @param {import("playwright-core").Page} tab @param {string} say */
    const change = (tab, say) => tab.evaluate((found) => {
      const w = /** @type {any} */ (window);
      const next = w.Tellmark.record.answer(w.mine, found);
      w.mine = next;
      return w.Tellmark.drawer.save(next);
    }, finding(`${say}#look`, say, 60));
    await tabs[0].evaluate(() => {
      Object.assign(window, { heard: 0 });
      addEventListener("storage", () => ((/** @type {any} */ (window)).heard += 1));
    });
    const all = [];
    for (const round of ["first", "second", "third"]) {
      const said = [`${round} of one`, `${round} of two`];
      assert.deepEqual(await Promise.all(tabs.map((tab, at) => change(tab, said[at]))), ["", ""]);
      all.push(...said);
      for (const tab of tabs) {
        await tab.waitForFunction(({ id, want }) => {
          const has = (/** @type {any} */ record) => want.every((say) => record.findings.some((/** @type {any} */ it) => it.say === say));
          return has(/** @type {any} */ (window).mine) && has(JSON.parse(localStorage.getItem(`tellmark-record-${id}`) ?? "{}"));
        }, { id: ID, want: all }, ASK);
      }
    }
    const heard = await tabs[0].evaluate(() => /** @type {any} */ (window).heard);
    assert.ok(heard < 60, `the tabs do not answer each other without end: ${heard} times`);
    await one.close();
  });

  test("what damaged text stands under a record's name is set aside when the record is saved", async () => {
    const one = await drawerOf({ [ID]: written().slice(0, 500) });
    assert.equal(await one.page.evaluate((text) => window.Tellmark.drawer.save(JSON.parse(text)), written()), "");
    const keys = await one.page.evaluate(() => Object.keys(localStorage).filter((key) => key.startsWith("tellmark-record-")).sort());
    assert.equal(keys.length, 2);
    assert.match(keys[1], /-damaged-\d+$/);
    assert.equal(await one.page.evaluate((key) => localStorage.getItem(key), keys[1]), written().slice(0, 500));
    await one.close();
  });

  test("new names are UUIDs of version 4", async () => {
    const one = await bench();
    const page = await one.open("bench/index.html");
    const ids = await page.evaluate(() => Array.from({ length: 200 }, () => window.Tellmark.drawer.newId()));
    assert.equal(new Set(ids).size, 200);
    for (const id of ids) assert.match(id, /^[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
    await one.close();
  });
});

describe("the bench's first page", () => {
  test("lists what is kept, the damaged too, and leads on to examination and print", async () => {
    const one = await drawerOf({ [ID]: written(), [THIRD]: records.write(fresh(THIRD, 1)), [OTHER]: written().slice(0, 700) });
    const rows = one.page.locator("#records-list tr");
    assert.deepEqual(await rows.evaluateAll((all) => all.map((row) => row.children[0].textContent?.slice(0, 40))), ["1911-K half mark", "1911-K half mark", "A record that cannot be read The file is"]);
    assert.match(await rows.nth(0).innerText(), /A-117\s+◐ altered\s+2026-05-04 09:50 UTC/);
    assert.match(await rows.nth(1).innerText(), /none yet/);
    assert.equal(await rows.nth(0).locator("th a").getAttribute("href"), `examination.html#record=${ID}`);
    assert.equal(await rows.nth(0).locator("td a").getAttribute("href"), `record.html#record=${ID}`);
    assert.match(await rows.nth(2).innerText(), /breaks off after 700 characters\. It is kept as it is\./);
    const damaged = await download(one.page, () => rows.nth(2).getByRole("button", { name: "Export as it is kept" }).click());
    assert.equal(damaged.text, written().slice(0, 700));
    assert.deepEqual(one.log, []);
    await one.close();
  });

  test("exports one record, and all; another machine takes them in and has the same", async () => {
    const texts = { [ID]: written(), [THIRD]: records.write(fresh(THIRD, 1)), [OTHER]: example("bad-later-version") };
    const one = await drawerOf(texts);
    const single = await download(one.page, () => one.page.getByRole("button", { name: "Export: 1911-K half mark, A-117" }).click());
    assert.equal(single.name, "A-117-2026-05-04.json");
    assert.equal(single.text, texts[ID]);
    const all = await download(one.page, () => one.page.locator("#records-all").click());
    assert.match(all.name, /^tellmark-records-\d{4}-\d\d-\d\d\.json$/);
    assert.equal(JSON.parse(all.text).length, 3);
    await one.close();

    const two = await drawerOf({});
    assert.equal(await two.page.locator("#records-none").isVisible(), true);
    await give(two.page, { "all.json": all.text });
    const plan = await two.page.locator("#records-plan").innerText();
    assert.match(plan, /A-117 is new here, and is added/);
    assert.match(plan, /Made by a later Tellmark \(version 2.*nothing changed\./);
    await two.page.locator("#records-do").click();
    assert.equal(await two.page.locator("#records-said").innerText(), "2 added, 0 merged.");
    assert.equal(await stored(two.page), texts[ID]);
    assert.equal(await stored(two.page, THIRD), texts[THIRD]);
    await two.close();
  });

  test("takes in files that are dropped, merges what it knows, and changes nothing when told so", async () => {
    const mine = full();
    const one = await drawerOf({ [ID]: records.write(mine) });
    const theirs = records.write(records.answer(mine, finding("new#look", "from the file", 70)));
    await one.page.evaluate((text) => {
      const data = new DataTransfer();
      data.items.add(new File([text], "theirs.json"));
      document.body.dispatchEvent(new DragEvent("drop", { dataTransfer: data, bubbles: true, cancelable: true }));
    }, theirs);
    await one.page.locator("#records-plan").waitFor();
    assert.match(await one.page.locator("#records-plan").innerText(), /is here already: both are merged/);
    await one.page.locator("#records-not").click();
    assert.equal(await stored(one.page), records.write(mine));
    await give(one.page, { "theirs.json": theirs });
    await one.page.locator("#records-do").click();
    assert.equal(await one.page.locator("#records-said").innerText(), "0 added, 1 merged.");
    assert.equal(read((await stored(one.page)) ?? "").record.findings.at(-1).say, "from the file");
    await one.close();
  });

  test("offers to merge a record of the same issue, or to keep both", async () => {
    const twin = records.write(records.answer(fresh(OTHER, 20), finding("new#look", "by another hand", 21)));
    for (const merge of [false, true]) {
      const one = await drawerOf({ [ID]: written() });
      await give(one.page, { "twin.json": twin });
      const choice = one.page.locator("#records-plan select");
      assert.deepEqual(await choice.locator("option").allInnerTexts(), ["another piece: keep both", "the same piece as 1911-K half mark, A-117 (2026-05-04 09:50): merge them"]);
      if (merge) await choice.selectOption(ID);
      await one.page.locator("#records-do").click();
      assert.equal(await one.page.locator("#records-list tr").count(), merge ? 1 : 2);
      const kept = read((await stored(one.page)) ?? "").record;
      assert.equal(kept.findings.some((/** @type {any} */ it) => it.say === "by another hand"), merge);
      assert.equal(await stored(one.page, OTHER), merge ? null : twin);
      await one.close();
    }
  });

  test("two files of one record in one import lose nothing of each other", async () => {
    const one = await drawerOf({});
    const [a, b] = [["a#look", 31], ["b#look", 32]].map(([check, minute]) => records.write(records.answer(fresh(), finding(String(check), String(check), Number(minute)))));
    await give(one.page, { "a.json": a, "b.json": b });
    await one.page.locator("#records-do").click();
    assert.deepEqual([...read((await stored(one.page)) ?? "").record.findings].map((it) => it.say), ["a#look", "b#look"]);
    await one.close();
  });

  test("a hostile file is told of in words, as text, and changes nothing", async () => {
    const one = await drawerOf({ [ID]: written() });
    const markup = "<img src=x onerror=window.harmed=1><script>window.harmed=1</scr" + "ipt>";
    const evil = JSON.stringify({ ...fresh(OTHER), id: markup, coin: { ...fresh().coin, page: "javascript:window.harmed=1" } });
    await give(one.page, { [`${markup.replace(/\//g, "")}.json`]: evil, "deep.json": "[".repeat(100000), "cut.json": written().slice(0, 900), "picture.json": "\u0089PNG" });
    const plan = await one.page.locator("#records-plan").innerText();
    for (const words of [/id: expected a UUID in lower-case letters; found "<img src=x/, /coin\.page: expected a page of this site/, /deep\.json/, /breaks off after 900 characters/, /does not begin as one/]) assert.match(plan, words);
    assert.equal(await one.page.locator("#records-do").isVisible(), false);
    assert.equal(await one.page.evaluate(() => /** @type {any} */ (window).harmed), undefined);
    assert.equal(await one.page.locator("#records-plan img, #records-plan script").count(), 0);
    assert.deepEqual(await one.page.evaluate(() => Object.keys(localStorage).filter((key) => key.startsWith("tellmark-record-")).length), 1);
    await one.close();
  });

  test("removes only after asking, and puts back, by keyboard alone", async () => {
    const one = await drawerOf({ [ID]: written() });
    const page = one.page;
    await page.getByRole("button", { name: "Remove…: 1911-K half mark, A-117" }).focus();
    await page.keyboard.press("Enter");
    assert.equal(await page.evaluate(() => document.activeElement?.textContent), "Keep it", "what loses nothing has the focus");
    assert.equal(await stored(page), written());
    await page.keyboard.press("Enter");
    await page.keyboard.press("Enter");
    await page.keyboard.press("Shift+Tab");
    await page.keyboard.press("Enter");
    assert.equal(await stored(page), null);
    assert.match(await page.locator("#records-said").innerText(), /can be put back until this page is closed/);
    assert.equal(await page.evaluate(() => document.activeElement?.textContent), "Put back");
    await page.keyboard.press("Enter");
    assert.equal(await stored(page), written());
    await one.close();
  });
});

describe("the sheet", () => {
  const rich = () => {
    // Every look answered, and each kind of measurement taken.
    let record = full();
    for (const { check, place } of orrin.issues[ISSUE].checks) {
      const { from, id, ask, findings } = orrin.checks[check];
      const one = findings[0];
      if (one) record = records.answer(record, { check: `${from}#${id}`, ask, finding: 0, answer: "seen", say: one.say, basis: orrin.bases[one.basis], place, note: "Clear at ×16, light from the left.", photo: `A-117-${id}.jpg`, at: at(55) });
    }
    for (const [quantity, unit] of [["diameter", "mm"], ["thickness", "mm"], ["offset", "mm"], ["die-axis", "°"]]) record = records.measure(record, { id: quantity, quantity, value: 24.55, uncertainty: 0.012, unit, readings: [{ name: "calipers", typed: "0.9665", unit: "in" }], method: "calipers", words: "", at: at(56) });
    return records.opine(record, { ...record.opinion, reasons: `${record.opinion.reasons}\n`.repeat(4), at: at(57) });
  };

  test("a full examination prints on two sheets of A4 at most, with everything on it", async () => {
    for (const [name, record] of /** @type {[string, any][]} */ ([["as an examiner leaves it", full()], ["with every look seen and noted", rich()]])) {
      assert.ok(record.findings.length >= 14);
      const one = await drawerOf({ [ID]: records.write(record) });
      const page = await one.open(`bench/record.html#record=${ID}`);
      await page.locator("#sheet").waitFor();
      const pdf = await page.pdf({ preferCSSPageSize: true });
      const sheets = pdf.toString("latin1").match(/\/Type\s*\/Page\b(?!s)/g)?.length ?? 0;
      const box = pdf.toString("latin1").match(/\/MediaBox\s*\[0 0 ([\d.]+) ([\d.]+)\]/);
      console.log(`${name}: ${record.findings.length} findings, ${record.measurements.length} measurements, ${sheets} sheets`);
      assert.ok(sheets === 1 || sheets === 2, `${name}: ${sheets} sheets`);
      // ISO 216: A4 is 210 × 297 mm, 595 × 842 points.
      assert.ok(box && Math.abs(Number(box[1]) - 595) < 1.5 && Math.abs(Number(box[2]) - 842) < 1.5);
      await page.emulateMedia({ media: "print" });
      const text = await page.locator("body").innerText();
      const want = ["Altered", "host: 1911 half mark", "A-117", "M. Example", "2026/41", "6.1840 ± 0.0012 g", "balance 6.184 g", "10.280 ± 0.021 g/cm³", "−5.40 ± 0.60°", "not drawn", "Mark cemented on (Orrin)", "3.42", "it is no chance of the piece being genuine", "on top of the field, with a seam at its foot", "A-117-reverse.jpg", site.revision, full().knowledge.entries[0].sha256.slice(0, 12), "Second examiner", "never replaces, examination", name.startsWith("as") ? "Until 2026-05-04 09:45 UTC, opinion: undecided" : "of these the newest twelve are printed", "Common practice", "reverse, 6:15 o’clock, towards the rim"];
      for (const words of want) assert.ok(text.includes(words), `${name}: ${words}`);
      assert.equal(await page.locator("#sheet .tools").isVisible(), false);
      assert.equal(await page.locator("#sheet .changes").count(), 0, "nothing has changed since");
      assert.deepEqual(one.log, []);
      await one.close();
    }
  });

  test("says what has changed since, with both days of review", async () => {
    const old = full();
    old.knowledge.entries[0] = { ...old.knowledge.entries[0], sha256: "0".repeat(64), reviewed: "2020-01-02" };
    const one = await drawerOf({ [ID]: records.write(old) });
    const page = await one.open(`bench/record.html#record=${ID}`);
    const { title, reviewed } = full().knowledge.entries[0];
    assert.equal(await page.locator("#sheet-changes").innerText(), `This entry has changed since:\n\n${title}: changed; reviewed 2020-01-02 then, ${reviewed} now`);
    await one.close();
  });

  test("says what a finding spoke for when it was recorded: something, little, or that the record does not say", async () => {
    const record = full(), { speaks: _, ...silent } = record.findings[1];
    const findings = record.findings.map((/** @type {any} */ it, /** @type {number} */ nth) => (nth === 1 ? { ...silent, answer: "seen" } : { ...it, answer: "seen", speaks: nth ? "" : "digit shaved, rather than genuine" }));
    const one = await drawerOf({ [ID]: records.write({ ...record, findings }) });
    const page = await one.open(`bench/record.html#record=${ID}`);
    await page.locator("#sheet").waitFor();
    const cells = await page.locator("#sheet-findings tr td:nth-of-type(2)").allInnerTexts();
    assert.deepEqual(cells.slice(0, 3), ["digit shaved, rather than genuine", "", "tells little"]);
    await one.close();
  });

  test("shows markup and hostile signs as text, and says why a record cannot be shown", async () => {
    const markup = `<img src=x onerror="window.harmed=1">"; } * { display: none } \\`;
    let evil = records.describe(full(), { reference: markup, description: markup, title: markup }, { name: markup }, at(60));
    evil = records.attach(records.opine(evil, { ...evil.opinion, reasons: markup, title: markup, at: at(61) }), { name: markup, width: 1, height: 1, words: markup, marks: markup, at: at(62) });
    const one = await drawerOf({ [ID]: records.write(evil), [OTHER]: "{" });
    const page = await one.open(`bench/record.html#record=${ID}`);
    await page.locator("#sheet").waitFor();
    assert.ok((await page.locator("#sheet-title").innerText()).includes(markup));
    assert.equal(await page.locator("#sheet img").count(), 0);
    assert.equal(await page.evaluate(() => /** @type {any} */ (window).harmed), undefined);
    assert.equal(await page.evaluate(() => document.getElementById("sheet-page")?.sheet?.cssRules.length), 1, "the signs stay within their text");
    await page.goto(`${one.base}bench/record.html#record=${OTHER}`);
    await page.locator("#sheet-trouble").waitFor();
    assert.match(await page.locator("#sheet-trouble").innerText(), /damaged.*exported as it is, on the bench/);
    assert.equal(await page.locator("#sheet").isVisible(), false);
    await page.goto(`${one.base}bench/record.html`);
    await page.reload();
    assert.match(await page.locator("#sheet-trouble").innerText(), /No record is asked for/);
    await one.close();
  });
});

describe("for everyone", () => {
  test("list, plan, question and sheet keep the rules that a program can check, and do not scroll sideways at 320 px", async () => {
    const wrong = [];
    const one = await drawerOf({ [ID]: written(), [THIRD]: records.write(fresh(THIRD, 1)), [OTHER]: written().slice(0, 700) });
    const { page } = one;
    const states = /** @type {[string, () => Promise<void>][]} */ ([
      ["list", async () => void (await one.open("bench/index.html"))],
      ["plan", () => give(page, { "twin.json": records.write(fresh("22222222-2222-4333-8444-555555555555", 2)), "bad.json": "{" })],
      ["question", () => page.locator("#records-list .todo button", { hasText: "Remove" }).first().click()],
      ["sheet", async () => { await one.open(`bench/record.html#record=${ID}`); await page.locator("#sheet").waitFor(); }],
    ]);
    for (const [state, come] of states) {
      await come();
      await page.evaluate(axe);
      for (const width of [1440, 820, 390, 320]) {
        await page.setViewportSize({ width, height: 900 });
        for (const colorScheme of /** @type {const} */ (["light", "dark"])) {
          await page.emulateMedia({ colorScheme, reducedMotion: "reduce" });
          const found = await page.evaluate(async (tags) => (await /** @type {any} */ (window).axe.run(document, { runOnly: tags, resultTypes: ["violations"] })).violations.map((/** @type {any} */ rule) => `${rule.id}: ${rule.nodes[0].target}`), RULES);
          wrong.push(...found.map((/** @type {string} */ line) => `${state} ${width} ${colorScheme}: ${line}`));
        }
        const over = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
        if (over > 0) wrong.push(`${state} at ${width}: ${over} px too wide`);
      }
      await page.setViewportSize({ width: 1440, height: 900 });
    }
    await one.close();
    assert.deepEqual(wrong, []);
  });

  test("without scripts the page says so, and shows no list that cannot work", async () => {
    const one = await bench({ scripts: false });
    const page = await one.open("bench/index.html");
    assert.match(await page.locator("noscript").innerText(), /switched off/);
    assert.equal(await page.locator("#records").isVisible(), false);
    assert.equal(await page.locator(".instruments a").count(), 4);
    await one.close();
  });
});
