// The examination in the browser: by keyboard from the first look to the recorded opinion, and what may go wrong on the way.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { after, describe, test } from "node:test";

import { bench, close } from "./bench.mjs";
import { within } from "./slow.mjs";

after(close);

const COIN = "issues/orrin/half-mark/1911-k";
/** @typedef {import("playwright-core").Page} Page */
const text = (/** @type {Page} */ page, /** @type {string} */ at) => page.locator(at).innerText();

/** The page of one coin, ready. @param {Parameters<typeof bench>[0]} [wish] @param {string} [coin] */
async function examine(wish, coin = COIN) {
  const one = await bench(wish);
  const page = await one.open(`bench/examination.html#${coin}`);
  await page.locator("#exam").waitFor();
  const press = async (/** @type {string[]} */ ...keys) => {
    for (const key of keys) await page.keyboard.press(key);
  };
  return { ...one, page, press };
}

/** Records kept in this browser, once what waits for its turn is written. @param {Page} page @returns {Promise<any[]>} */
const kept = (page) => page.evaluate(async () => {
  await new Promise((done) => setTimeout(done));
  return Object.keys(localStorage).filter((key) => /^tellmark-record-/.test(key)).map((key) => JSON.parse(localStorage.getItem(key) ?? ""));
});

const warned = (/** @type {Page} */ page) => text(page, "#exam-warnings");
const asked = (/** @type {Page} */ page) => page.locator("[aria-current=true] .asked").innerText();

/** A country of its own, with as many hypotheses and looks as wished. @param {Page} page @param {number} hypotheses @param {number} looks */
function invent(page, hypotheses, looks) {
  return page.evaluate(([many, checks]) => {
    const words = ["always", "usual", "sometimes", "seldom", "never"];
    const who = Array.from({ length: many }, (_, at) => ({ key: at ? `family:zz/f${at}` : "genuine", kind: at ? "family" : "genuine", title: at ? `Invented family ${at}` : "genuine", entry: "", hosts: [] }));
    const know = Array.from({ length: checks }, (_, at) => ({
      id: `look-${at}`, from: "issues/zz/a/b", ask: `Invented look ${at}?`, cause: at % 3 ? "" : "one cause", decisive: false, magnification: 10, light: "", tool: "",
      quantity: at === 1 ? "weight" : "", unit: at === 1 ? "g" : "", basis: 0, findings: at === 1 ? [] : [0, 1, 2, 3].map((f) => ({ say: `finding ${f}`, basis: 0 })),
    }));
    const placed = know.map((check, at) => ({
      check: at, number: at + 1, place: "the reverse", at: { face: "reverse", clock: at % 12, reach: 0.7, about: false },
      expect: check.findings.map((_, f) => who.map((__, h) => [h, words[(h * 7 + f * 3 + at) % 5]])), ranges: check.quantity ? who.map((_, h) => [h, { low: 5 + h * 0.1, high: 5.4 + h * 0.1 }]) : [],
    }));
    const tm = /** @type {any} */ (window).Tellmark;
    tm.shelve("zz", {
      key: "zz", title: "Invented", bases: ["Common practice"], series: {}, checks: know, entries: { "issues/zz/a/b": { title: "Invented coin", page: "index.html", sha256: "0".repeat(64), reviewed: "", demo: true } },
      issues: { "issues/zz/a/b": { title: "Invented coin", page: "index.html", series: "series/zz/a", year: 1900, row: "1900", standard: null, hypotheses: who, checks: placed, signs: [], hosts: [], pictures: [], entries: ["issues/zz/a/b"] } },
    });
    location.hash = "issues/zz/a/b";
  }, [hypotheses, looks]);
}

test("a 1911 with a mark cemented on is examined by keyboard alone, from its page to the recorded opinion", async () => {
  const begun = performance.now();
  const one = await bench();
  const page = await one.open(`${COIN}.html`);
  let keys = 0;
  const press = async (/** @type {string[]} */ ...all) => {
    for (const key of all) {
      keys += 1;
      await page.keyboard.press(key);
    }
  };
  // 1. From the coin's page to its examination.
  const way = page.locator("a", { hasText: "Examine a coin" });
  while (!(await way.evaluate((node) => node === document.activeElement))) {
    await press("Tab");
    assert.ok(keys < 60, "the way to the examination is reached");
  }
  await press("Enter");
  await page.locator("#exam").waitFor();
  const there = keys;
  assert.equal(await text(page, "h1"), "1911-K half mark");
  assert.equal(await text(page, "#exam-leader"), "Nothing found yet, so nothing is supported.");

  // 2. Weigh and measure: a digit begins the number, Enter keeps it, n goes on.
  assert.match(await asked(page), /weigh/);
  await press(..."6.21", "Enter", "n", ..."24.6", "Enter", "n", ..."1.54", "Enter");
  await press("n", "x");
  assert.match(await asked(page), /density/);
  await press("n");
  assert.match(await asked(page), /upright of the K/);
  await press(..."-6", "Tab", "1", "Enter");
  assert.equal(await page.locator("[aria-current=true] .reading").inputValue(), "-6");
  assert.equal(await page.evaluate(() => document.activeElement?.classList.contains("exam-look")), true, "Enter gives the keys back");
  await press("n", ..."1.3", "Enter", "n", "5", "Enter");

  // 3. The looks, in order.
  await press("n");
  assert.match(await asked(page), /mint mark sit/);
  await press("3", "n");
  assert.match(await asked(page), /crack/);
  await press("2", "n", "1", "n", "2", "n");
  assert.match(await asked(page), /foot of the mark/);
  await press("1", "u");
  assert.equal(await page.locator("[aria-current=true] input:checked").count(), 0, "undone");
  await press("3", "n", "1", "n", "1", "n", "2");

  // 4. Where looking tells most: a fold opens by itself.
  await press("j");
  assert.equal(await page.locator("[aria-current=true]").isVisible(), true);
  await press("c");

  // 5. What it supports.
  const leader = await text(page, "#exam-leader");
  assert.match(leader, /support for Mark cemented on \(Orrin\) over genuine: the findings are [\d,]+ times as likely/);
  const against = await text(page, "#exam-against");
  assert.match(against, /Genuine never shows: on top of the field, with a seam at its foot/);
  assert.match(await text(page, "#exam-driver"), /What drives it: Mark cemented on/i);

  // 6. The opinion: altered, the alteration, the host, reasons as they were filled in.
  await press("o", "ArrowDown", "ArrowDown");
  if (await page.locator("#opinion-altered").isChecked() === false) await press("ArrowDown");
  assert.ok(await page.locator("#opinion-altered").isChecked());
  await press("Tab", "ArrowDown");
  assert.equal(await page.locator("#exam-as").inputValue(), "alteration:orrin/mark-cemented");
  await press("Tab", ..."1911");
  const reasons = await page.locator("#exam-reasons").inputValue();
  assert.match(reasons, /On top of the field, with a seam at its foot[^:]*: [\d.]+ times as likely under “Mark cemented on \(Orrin\)” as under “genuine”\. \[.+\]/);
  assert.equal((await text(page, "#exam-warnings")).includes("runs against"), false);
  await press("Enter");
  assert.equal(await text(page, "#exam-kept"), "Recorded: altered, Mark cemented on (Orrin).");

  // 7. What is kept.
  const [record, ...others] = await kept(page);
  assert.equal(others.length, 0);
  assert.equal(record.coin.issue, COIN);
  assert.deepEqual({ ...record.opinion, reasons: "", warnings: [], at: "" }, { opinion: "altered", as: "alteration:orrin/mark-cemented", title: "Mark cemented on (Orrin)", host: "1911", reasons: "", warnings: [], at: "" });
  assert.equal(record.opinion.reasons, reasons);
  const weight = record.measurements.find((/** @type {any} */ m) => m.quantity === "weight");
  assert.deepEqual([weight.value, weight.uncertainty, weight.unit], [6.21, 0.01, "g"]);
  const tilt = record.measurements.find((/** @type {any} */ m) => m.quantity === "tilt");
  assert.deepEqual([tilt.value, tilt.uncertainty], [-6, 1]);
  assert.deepEqual(record.measurements.map((/** @type {any} */ m) => `${m.quantity} ${m.value}`), ["weight 6.21", "diameter 24.6", "thickness 1.54", "tilt -6", "offset 1.3", "die-axis 5"]);
  assert.equal(record.findings.length, 10);
  const best = record.support.toSorted((/** @type {any} */ a, /** @type {any} */ b) => b.log10 - a.log10)[0];
  assert.equal(best.hypothesis, "alteration:orrin/mark-cemented");
  assert.ok(page.url().endsWith(`#record=${record.id}`));

  // 8. Reopened, it is as it was.
  await page.reload();
  await page.locator("#exam").waitFor();
  assert.equal(await text(page, "#exam-leader"), leader);
  assert.equal(await page.locator("#exam-reasons").inputValue(), reasons);
  assert.equal(await page.locator("#exam-host").inputValue(), "1911");
  const took = (performance.now() - begun) / 1000;
  console.log(`examined in ${keys} keys (${there} to the page), ${took.toFixed(1)} s`);
  assert.ok(keys < 110, `${keys} keys`);
  assert.ok(took < 90, `${took} s`);
  assert.deepEqual(one.log, []);
  await one.close();
});

describe("keys", () => {
  test("choose, say not seen and cannot tell, step, undo and show themselves", async () => {
    const { page, press, close: end, log } = await examine();
    const checked = () => page.locator("[aria-current=true] input:checked").evaluateAll((nodes) => nodes.map((node) => /** @type {HTMLInputElement} */ (node).value).join());
    for (let step = 0; step < 7; step++) await press("n");
    assert.match(await asked(page), /mint mark sit/);
    await press("2");
    assert.equal(await checked(), "1");
    await press("x");
    assert.equal(await checked(), "not seen");
    await press("c");
    assert.equal(await checked(), "cannot tell");
    assert.match(await text(page, "#exam-leader"), /^Nothing found yet/, "neither counts");
    await press("0", "u", "u", "u");
    assert.equal(await checked(), "1");
    await press("u");
    assert.equal(await checked(), "");
    await press("9");
    assert.equal(await checked(), "", "there is no ninth finding");
    await press("p");
    assert.doesNotMatch(await asked(page), /mint mark sit/);
    await press("?");
    assert.ok(await page.locator("#exam-keys").isVisible());
    await press("?");
    assert.equal(await page.locator("#exam-keys").isVisible(), false);
    for (let step = 0; step < 40; step++) await press("p");
    assert.match(await asked(page), /weigh/, "before the first there is none");
    assert.deepEqual(log, []);
    await end();
  });

  test("are only text in a field, and can be switched off", async () => {
    const { page, press, close: end } = await examine();
    await page.locator(".exam-coin summary").click();
    await page.locator("#coin-reference").focus();
    await press(..."jnux1?");
    assert.equal(await page.locator("#coin-reference").inputValue(), "jnux1?");
    assert.match(await asked(page), /weigh/);
    await page.locator("#exam-help").click();
    await page.locator("#exam-single").uncheck();
    await page.locator("#exam-title").click();
    await press("n", "j", "c");
    assert.match(await asked(page), /weigh/);
    assert.equal(await page.locator(".exam-look input:checked").count(), 0);
    await page.reload();
    await page.locator("#exam").waitFor();
    assert.equal(await page.locator("#exam-single").isChecked(), false, "remembered");
    await end();
  });

  test("with Ctrl stay the browser's", async () => {
    const { page, press, close: end } = await examine();
    await press("Control+c");
    assert.equal(await page.locator(".exam-look input:checked").count(), 0);
    await end();
  });
});

describe("measurements", () => {
  test("are drawn on the ranges on file, in any unit, with the last digit as uncertainty unless one is given", async () => {
    const { page, press, close: end, log } = await examine();
    await press(..."95.7 gr", "Enter");
    const line = page.locator("#exam-looks .scale").first();
    assert.match(await line.innerText(), /Measured, k = 2\s+6\.188 to 6\.214 g/);
    assert.match(await line.innerText(), /Grey castings\s+4\.6 to 5\.3 g/);
    const [record] = await kept(page);
    assert.equal(record.measurements[0].value, 6.201255687, "95.7 × 0.06479891 g, exact by the definition of the grain");
    assert.deepEqual(record.measurements[0].readings, [{ name: "reading", typed: "95.7", unit: "gr" }]);
    await page.reload();
    await page.locator("#exam").waitFor();
    assert.equal(await page.locator(".reading").first().inputValue(), "95.7 gr");
    await page.locator(".doubt").first().fill("0.05");
    await press("Enter");
    assert.equal((await kept(page))[0].measurements[0].uncertainty, 0.05);
    await page.locator(".reading").first().fill("");
    await press("Enter");
    assert.equal((await kept(page))[0].measurements.length, 0);
    assert.equal(await page.locator("#exam-looks .scale").count(), 0);
    await press("u");
    assert.equal((await kept(page))[0].measurements[0].uncertainty, 0.05, "undo brings it back");
    assert.deepEqual(log, []);
    await end();
  });

  test("lead on to the next look with n, without Enter; letters of a unit stay letters", async () => {
    const { page, press, close: end } = await examine();
    await press(..."95.7 grains", "n", ..."0.97 in", "n", ..."1.5", "n");
    const [record] = await kept(page);
    assert.deepEqual(record.measurements.map((/** @type {any} */ it) => [it.quantity, it.readings[0].typed, it.readings[0].unit]), [["weight", "95.7", "gr"], ["diameter", "0.97", "in"], ["thickness", "1.5", "mm"]]);
    assert.equal(record.measurements[0].method, "typed at the examination");
    assert.equal(record.measurements[0].words, "Uncertainty taken as one of the last digit typed.");
    await press(..."abc");
    await page.locator("[aria-current=true] .reading").fill("abc 1");
    await press("n");
    assert.equal(await page.locator("[aria-current=true] .reading").getAttribute("aria-invalid"), "true", "what is wrong is not left behind");
    await end();
  });

  test("end with “not measured”, and come back with undo", async () => {
    const { page, press, close: end } = await examine();
    await press(..."6.21", "Enter", "x");
    assert.match(await page.locator("[aria-current=true] .nones").innerText(), /not measured/);
    let [record] = await kept(page);
    assert.deepEqual([record.measurements.length, record.findings[0].answer], [0, "not seen"]);
    assert.equal(await page.locator("[aria-current=true] .reading").inputValue(), "");
    await press("u");
    [record] = await kept(page);
    assert.deepEqual([record.measurements[0].value, record.findings.length], [6.21, 0]);
    assert.equal(await page.locator("[aria-current=true] .reading").inputValue(), "6.21");
    await end();
  });

  test("refused, say that the one before still counts", async () => {
    const { page, press, close: end } = await examine();
    await press(..."6.20", "Enter");
    await page.locator(".reading").first().fill("-6");
    await press("Enter");
    assert.match(await page.locator(".wrong").first().innerText(), /negative.*6\.200 ± 0\.010 g still counts\./);
    assert.equal((await kept(page))[0].measurements[0].value, 6.2);
    await end();
  });

  test("from the scales keep their readings when only the uncertainty is changed; what no look weighs is listed and warned of", async () => {
    const one = await bench();
    const page = await one.open(`bench/scales.html#${COIN}`);
    await page.locator("#weight").fill("95.7 gr; 95.6 gr; 95.8 gr");
    await page.locator("#weight-result .put").click();
    await page.locator("#magnet").selectOption("attracted");
    await page.locator("#magnet-result .put").click();
    await page.locator("#said a").click();
    await page.locator("#exam").waitFor();
    assert.match(await page.locator("#exam-besides").innerText(), /magnet: attracted\. There is iron, steel, nickel or cobalt in it/);
    assert.equal(await page.locator(".from").first().innerText(), "balance");
    await page.locator(".doubt").first().fill("0.01");
    await page.keyboard.press("Enter");
    const [record] = await kept(page);
    const weights = record.measurements.filter((/** @type {any} */ it) => it.quantity === "weight");
    assert.equal(weights.length, 1);
    assert.deepEqual(weights[0].readings.map((/** @type {any} */ it) => [it.name, it.typed, it.unit]), [["Weight in air", "95.7", "gr"], ["Weight in air", "95.6", "gr"], ["Weight in air", "95.8", "gr"], ["uncertainty", "0.01", "g"]]);
    assert.deepEqual([weights[0].uncertainty, weights[0].method], [0.01, "balance"]);
    await page.locator("#opinion-genuine").check();
    assert.match(await warned(page), /Weighed by no look, so judge it yourself: magnet, attracted/);
    await one.close();
  });

  for (const [typed, wanted] of /** @type {const} */ ([["-3", /negative/], ["0.00", /Nought/], ["abc", /number is expected/i], ["1e9", /out of range/], ["6,120", /point/], ["6 mm", /does not measure/]])) {
    test(`${typed} is refused at the field, and nothing is kept`, async () => {
      const { page, press, close: end } = await examine();
      const value = page.locator(".reading").first();
      await value.fill(typed);
      await press("Enter");
      assert.match(await page.locator(".exam-look .wrong").first().innerText(), wanted);
      assert.equal(await value.getAttribute("aria-invalid"), "true");
      assert.equal(await value.evaluate((node) => node === document.activeElement), true, "the focus stays where the trouble is");
      assert.equal((await kept(page)).length, 0);
      assert.doesNotMatch(await text(page, "main"), /NaN|Infinity|undefined/);
      await end();
    });
  }
});

describe("records", () => {
  test("of an unfinished examination are offered again; a new one may be begun beside it", async () => {
    const { page, press, open, close: end } = await examine();
    await press(..."6.2", "Enter");
    await page.locator(".exam-coin summary").click();
    await page.locator("#coin-reference").fill("Tray 7");
    await page.locator("#coin-reference").blur();
    await open("index.html");
    await open(`bench/examination.html#${COIN}`);
    await page.locator("#exam-begin button").first().waitFor();
    assert.match(await text(page, "#exam-begin"), /Go on: Tray 7/);
    assert.equal(await page.evaluate(() => document.activeElement?.textContent?.startsWith("Go on: Tray 7")), true);
    await press("Enter");
    await page.locator("#exam").waitFor();
    assert.equal(await page.locator(".reading").first().inputValue(), "6.2");
    assert.equal(await page.locator("#coin-reference").inputValue(), "Tray 7");
    await open("index.html");
    await open(`bench/examination.html#${COIN}`);
    await page.getByRole("button", { name: "Begin a new one" }).click();
    await page.locator("#exam").waitFor();
    assert.equal(await page.locator(".reading").first().inputValue(), "");
    await press("n", ..."24.5", "Enter");
    assert.equal((await kept(page)).length, 2);
    await end();
  });

  test("keep a note and where the photograph is, with or without a finding", async () => {
    const { page, press, close: end } = await examine();
    const look = page.locator(".exam-look", { hasText: "Does a crack run" });
    await look.locator("summary").click();
    await look.locator(".noted").fill("worn there");
    await look.locator(".photo").fill("IMG 2041");
    await press("Enter");
    let [record] = await kept(page);
    assert.deepEqual([record.findings[0].note, record.findings[0].photo, record.findings[0].finding, record.findings[0].say], ["worn there", "IMG 2041", null, ""]);
    assert.match(await text(page, "#exam-leader"), /^Nothing found yet/, "a note is no finding");
    await press("2");
    [record] = await kept(page);
    assert.deepEqual([record.findings[0].note, record.findings[0].finding, record.findings[0].say], ["worn there", 1, "none to be seen"]);
    await end();
  });

  test("that cannot be kept are said at the top, and saved to a file at once", async () => {
    const one = await bench();
    await one.context.addInitScript(() => {
      Storage.prototype.setItem = () => {
        throw new DOMException("full", "QuotaExceededError");
      };
    });
    const page = await one.open(`bench/examination.html#${COIN}`);
    await page.locator("#exam").waitFor();
    await page.keyboard.type("6.2");
    await page.keyboard.press("Enter");
    assert.match(await text(page, "#exam-trouble"), /storage/i);
    const [download] = await Promise.all([page.waitForEvent("download"), page.getByRole("button", { name: "Export the record now" }).click()]);
    assert.match(download.suggestedFilename(), /^1911-K-half-mark-\d{4}-\d\d-\d\d\.json$/);
    const record = JSON.parse(readFileSync(await download.path(), "utf8"));
    assert.equal(record.measurements[0].value, 6.2);
    await one.close();
  });

  test("of another tab are taken over, and what is being written is not lost", async () => {
    const { page, press, context, base, close: end } = await examine();
    await press(..."6.2", "Enter", "o", "Space");
    await page.locator("#exam-reasons").fill("my own words");
    const second = await context.newPage();
    await second.goto(page.url());
    await second.locator("#exam").waitFor();
    await second.keyboard.press("n");
    await second.keyboard.type("24.6");
    await second.keyboard.press("Enter");
    await page.waitForFunction(() => /** @type {HTMLInputElement} */ (document.querySelectorAll(".reading")[1]).value === "24.6");
    assert.equal(await page.locator("#exam-reasons").inputValue(), "my own words");
    assert.ok(base);
    await end();
  });

  test("of another coin in the same page begin clean", async () => {
    const { page, press, close: end } = await examine();
    await press(..."6.2", "Enter");
    await page.locator("#opinion-forged").check();
    await invent(page, 3, 5);
    await page.locator("h1", { hasText: "Invented coin" }).waitFor();
    assert.equal(await page.locator("[name=opinion]:checked").count(), 0);
    assert.equal(await page.locator("#exam-reasons").inputValue(), "");
    await press("u");
    assert.equal((await kept(page)).length, 1, "undo does not reach back to another piece");
    assert.equal((await kept(page))[0].measurements.length, 1);
    await end();
  });

  test("are there for the other instruments before anything was found", async () => {
    const { page, close: end } = await examine();
    assert.equal((await kept(page)).length, 0, "a page that was only opened leaves nothing behind");
    await page.locator(".exam-tools [data-page=scales]").click();
    await page.waitForURL(/scales\.html#record=/);
    const id = page.url().split("=")[1];
    assert.deepEqual((await kept(page)).map((record) => record.id), [id]);
    await end();
  });

  test("of a field still being written are kept when the page is left", async () => {
    const { page, context, base, close: end } = await examine();
    await page.locator(".reading").first().fill("6.2");
    await page.goto(`${base}index.html`);
    // A page writes its last while the next one comes, which may be told of it later.
    await page.waitForFunction(() => Object.keys(localStorage).some((key) => /^tellmark-record-/.test(key)));
    assert.equal((await kept(page))[0]?.measurements[0]?.value, 6.2);
    assert.ok(context);
    await end();
  });

  test("asked for by an address that holds none lead back to the bench", async () => {
    const one = await bench();
    for (const hash of ["", "#record=00000000-0000-4000-8000-000000000000", "#issues/orrin/half-mark/none", "#issues/nowhere/x/y", "#%E0%A4%A"]) {
      const page = await one.open("index.html");
      await page.goto(`${one.base}bench/examination.html${hash}`);
      await page.locator("#exam-begin").waitFor();
      assert.equal(await page.locator("#exam").isVisible(), false, hash);
      assert.match(await text(page, "#exam-begin"), /Look a coin up|not on file|cannot be read/, hash);
      assert.doesNotMatch(await text(page, "#exam-begin"), /undefined|null/);
    }
    await one.close();
  });
});

describe("the opinion", () => {
  test("is warned of when it runs against the findings, and is recorded all the same", async () => {
    const { page, press, close: end } = await examine();
    const look = page.locator(".exam-look", { hasText: "How does the mint mark sit" });
    await look.locator("[type=radio]").nth(2).check();
    await page.locator("#opinion-genuine").check();
    assert.match(await warned(page), /runs against the findings: they are \d+ times as likely under “Mark cemented on \(Orrin\)” as under “genuine” \(\w+ support\)/);
    assert.match(await warned(page), /Against “genuine”: on top of the field/);
    assert.match(await warned(page), /Decisive looks without a finding: .+/);
    await page.getByRole("button", { name: "Record the opinion" }).click();
    const [record] = await kept(page);
    assert.equal(record.opinion.opinion, "genuine");
    assert.equal(record.opinion.warnings.length, 4);
    assert.match(record.opinion.warnings[3], /coin’s reference or the examiner’s name is missing/);
    const decisive = await page.locator(".exam-look:has(.decisive) .asked").allInnerTexts();
    for (const ask of decisive.slice(1)) assert.ok(record.opinion.warnings.join("\n").includes(ask), `kept whole: ${ask}`);
    // What is found afterwards does not pass for what the opinion was given on.
    await press("n", "1");
    assert.match(await text(page, "#exam-kept"), /changed after the opinion was recorded/);
    await end();
  });

  test("is warned of when the findings cannot separate, and when nothing was found", async () => {
    const { page, close: end } = await examine();
    await page.locator("#opinion-genuine").check();
    assert.match(await warned(page), /Nothing that counts has been found yet/);
    const look = page.locator(".exam-look", { hasText: "Does a crack run" });
    await look.locator("[type=radio]").nth(0).check();
    assert.match(await warned(page), /do not separate “genuine” from “Harbour transfer dies”/);
    await page.locator("#opinion-forged").check();
    await page.locator("#exam-as").selectOption({ label: "Harbour transfer dies" });
    assert.match(await warned(page), /do not separate “Harbour transfer dies” from “genuine”/);
    await end();
  });

  test("takes its reasons from the findings until they are edited", async () => {
    const { page, close: end } = await examine();
    await page.locator(".exam-look", { hasText: "Does a crack run" }).locator("[type=radio]").nth(1).check();
    await page.locator("#opinion-altered").check();
    const first = await page.locator("#exam-reasons").inputValue();
    assert.match(first, /None to be seen: .+\[Common practice\]/);
    await page.locator(".exam-look", { hasText: "How does the mint mark sit" }).locator("[type=radio]").nth(2).check();
    assert.match(await page.locator("#exam-reasons").inputValue(), /seam at its foot/);
    await page.locator("#exam-reasons").fill("Seen by two of us.");
    await page.locator(".exam-look", { hasText: "foot of the mark" }).locator("[type=radio]").nth(2).check();
    assert.equal(await page.locator("#exam-reasons").inputValue(), "Seen by two of us.");
    await page.locator("#exam-fill").click();
    assert.match(await page.locator("#exam-reasons").inputValue(), /joint runs round it/);
    const hosts = await page.locator("#exam-hosts option").evaluateAll((nodes) => nodes.map((node) => node.getAttribute("value")));
    assert.ok(hosts.includes("1911") && hosts.includes("1914-K"));
    await end();
  });

  test("must be one of the four words", async () => {
    const { page, close: end } = await examine();
    await page.getByRole("button", { name: "Record the opinion" }).click();
    assert.match(await text(page, "#exam-kept"), /Choose one of the four words/);
    assert.equal((await kept(page)).length, 0);
    await end();
  });
});

describe("any number of hypotheses", () => {
  test("one: genuine is weighed against another false piece", async () => {
    const { page, press, close: end } = await examine();
    await invent(page, 1, 4);
    await page.locator("h1", { hasText: "Invented coin" }).waitFor();
    assert.equal(await page.locator("#exam-bars li").count(), 2);
    await press("j", "1");
    assert.match(await text(page, "#exam-leader"), /genuine|another false piece/i);
    assert.doesNotMatch(await text(page, "main"), /NaN|Infinity|undefined/);
    await end();
  });

  test("twenty, with thirty looks: a key is drawn within a frame", async () => {
    const { page, close: end, log } = await examine();
    await invent(page, 19, 30);
    await page.locator("h1", { hasText: "Invented coin" }).waitFor();
    assert.equal(await page.locator("#exam-bars li").count(), 20);
    assert.equal(await page.locator(".exam-look").count(), 30);
    // From the key to the layout that follows it: all that stands between a key and the next frame but the paint.
    const { times, yard } = await page.evaluate(async () => {
      /** @type {number[]} */
      const out = Array(29).fill(Infinity);
      // A fixed piece of work, to tell how fast this machine is at the moment.
      const work = () => {
        const start = performance.now();
        let x = 1;
        for (let i = 0; i < 3e6; i++) x = (x * 16807) % 2147483647;
        return x > 0 ? performance.now() - start : NaN;
      };
      let yard = Infinity;
      const press = (/** @type {string} */ key) => document.body.dispatchEvent(new KeyboardEvent("keydown", { key, bubbles: true, cancelable: true }));
      // Each look's key in five rounds: what the machine does besides is not the key's.
      for (let round = 0; round < 5; round++) {
        for (let look = 0; look < 29; look++) {
          press("n");
          document.body.offsetHeight;
          const start = performance.now();
          press(String(((look + round) % 4) + 1));
          document.getElementById("exam-support")?.getBoundingClientRect();
          out[look] = Math.min(out[look], performance.now() - start);
          if (document.activeElement instanceof HTMLInputElement) document.activeElement.blur();
          // The record is written when the key is done.
          await new Promise((done) => setTimeout(done));
        }
        for (let look = 0; look < 29; look++) press("p");
        yard = Math.min(yard, work());
      }
      return { times: out.sort((a, b) => a - b), yard };
    });
    // Where the number was measured, the fixed work took YARD ms; a machine that is slower, or busy, is allowed as much more.
    const YARD = 54;
    const slowest = times[28] * Math.min(1, YARD / yard);
    console.log(`a key to support laid out anew: ${times[14].toFixed(1)} ms in the middle, ${times[28].toFixed(1)} ms for the slowest of 29 looks; the fixed work ${yard.toFixed(1)} ms`);
    within(slowest, 1000 / 60, "a key to support laid out anew, of the slowest look");
    assert.ok((await page.locator(".exam-look.done").count()) > 20);
    assert.deepEqual(log, []);
    await end();
  });
});

describe("everyone", () => {
  const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
  const violations = (/** @type {Page} */ page) => page.evaluate(async () => {
    const found = await /** @type {any} */ (window).axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"], resultTypes: ["violations"] });
    return found.violations.flatMap((/** @type {any} */ rule) => rule.nodes.slice(0, 3).map((/** @type {any} */ node) => `${rule.id} ${node.any[0]?.data?.contrastRatio ?? ""} (${rule.nodes.length}): ${node.target.join(" ")}`));
  });

  test("the rules of WCAG 2.2 AA that a program can check hold in every state", async () => {
    const { page, press, close: end } = await examine({ still: true });
    await page.evaluate(axe);
    const wrong = [];
    const look = async (/** @type {string} */ state) => {
      for (const width of [1440, 820, 390]) {
        await page.setViewportSize({ width, height: 900 });
        for (const light of /** @type {const} */ (["light", "dark"])) {
          await page.emulateMedia({ colorScheme: light, reducedMotion: "reduce" });
          for (const line of await violations(page)) wrong.push(`${state} ${width} ${light}: ${line}`);
        }
      }
    };
    await look("empty");
    await press("?", ..."6.2", "Enter");
    await page.locator(".reading").nth(1).fill("-1");
    await press("Enter");
    for (const fold of await page.locator("details.from > summary").all()) await fold.click();
    await page.locator(".exam-look", { hasText: "How does the mint mark sit" }).locator("[type=radio]").nth(2).check();
    await page.locator("#opinion-altered").check();
    await page.locator("#exam-bars button").nth(1).click();
    await look("full");
    await end();
    assert.deepEqual(wrong.slice(0, 20), [], `${wrong.length} in all`);
  });

  for (const [width, why] of /** @type {const} */ ([[320, "320 px wide"], [640, "1280 px wide at 200 % zoom"]])) {
    test(`nothing scrolls sideways when ${why}`, async () => {
      const { page, press, close: end } = await examine({ width, height: 700, still: true });
      await press(..."6.2", "Enter", "?");
      await page.locator("#opinion-altered").check();
      const over = await page.evaluate(() => {
        const most = document.documentElement.clientWidth;
        const wide = [...document.querySelectorAll("main *")].find((node) => node.getBoundingClientRect().right > most + 1 && !node.closest(".unseen"));
        return document.documentElement.scrollWidth > most ? `${document.documentElement.scrollWidth}: ${wide?.tagName} ${wide?.className}` : "";
      });
      assert.equal(over, "");
      await end();
    });
  }

  test("whatever takes the focus is in sight, and says what it is", async () => {
    for (const width of [1440, 390]) {
      const { page, press, close: end } = await examine({ width, height: 800, still: true });
      const wrong = [];
      for (let step = 0; step < 130; step++) {
        await press("Tab");
        const seen = await page.evaluate(() => {
          const at = document.activeElement;
          if (!at || at === document.body) return "end";
          const box = at.getBoundingClientRect();
          const strip = document.querySelector(".strip");
          const top = strip && !strip.contains(at) && getComputedStyle(strip).position === "sticky" ? strip.getBoundingClientRect().bottom : 0;
          const leader = document.getElementById("exam-leader");
          const low = leader && getComputedStyle(leader).position === "fixed" ? leader.getBoundingClientRect().top : innerHeight;
          const name = `${at.tagName}.${at.className} ${at.textContent?.trim().slice(0, 30)}`;
          if (at.closest("main") && (box.bottom <= top || box.top >= low)) return `out of sight: ${name}`;
          if (at.matches("input, select, textarea") && !/** @type {HTMLInputElement} */ (at).labels?.length && !at.getAttribute("aria-label")) return `without a name: ${name}`;
          return "";
        });
        if (seen === "end") break;
        if (seen) wrong.push(`${width}: ${seen}`);
      }
      assert.deepEqual(wrong.slice(0, 10), []);
      await end();
    }
  });

  test("without scripts the page says what it needs", async () => {
    const one = await bench({ scripts: false });
    const page = await one.open(`bench/examination.html#${COIN}`);
    assert.match(await text(page, "main"), /work by scripts/);
    await one.close();
  });
});
