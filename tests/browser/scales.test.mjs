// The scales in the browser, from disk: readings to results, faults at their fields, nothing lost, and into the examination.
// facts/hydrostatic.json gives the weighings and what they come to (its sources stand in weighing.test.mjs).

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { after, test } from "node:test";

import { bench, close } from "./bench.mjs";

after(close);

const facts = JSON.parse(readFileSync(new URL("facts/hydrostatic.json", import.meta.url), "utf8"));
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const vector = (/** @type {any[]} */ list, /** @type {string} */ id) => list.find((one) => one.id === id) ?? assert.fail(id);
const DEMO = "bench/scales.html#issues/orrin/half-mark/1911-k";
const DIME = "bench/scales.html#issues/us/dime/1916-d";
/** @typedef {import("playwright-core").Page} Page */

const type = async (/** @type {Page} */ page, /** @type {Record<string, string>} */ fields) => {
  for (const [name, text] of Object.entries(fields)) await page.fill(`#${name}`, text);
};
const said = (/** @type {Page} */ page, /** @type {string} */ quantity) => page.locator(`#${quantity}-result .value-said`).innerText();
const verdict = (/** @type {Page} */ page, /** @type {string} */ quantity) => page.locator(`#${quantity}-result .verdict`).innerText();
const trouble = (/** @type {Page} */ page, /** @type {string} */ name) => page.locator(`#${name}-trouble`).textContent();
const put = (/** @type {Page} */ page, /** @type {string} */ quantity) => page.locator(`#${quantity}-result .put`);
/** The records kept on this machine, read as the site reads them. @param {Page} page @returns {Promise<any[]>} */
const records = (page) => page.evaluate(() => window.Tellmark.drawer.list().map((/** @type {any} */ one) => window.Tellmark.drawer.open(one.id).record));
async function opened(/** @type {string} */ path, wish = {}) {
  const one = await bench(wish);
  const page = await one.open(path);
  await page.waitForSelector("#scales:not([hidden])");
  if (path.includes("#")) await page.waitForSelector("#coin-now a");
  return { ...one, page };
}

test("a weight stands against law, wear and families on one line", async () => {
  const { page, log, close: shut } = await opened(DEMO);
  assert.match(await page.locator("#coin-now").innerText(), /1911-K.*6\.25 grams.*silver 820, copper 180/s);
  assert.deepEqual(await page.locator("#weight-result .name").allInnerTexts().then((all) => all.slice(0, 2)), ["Law and deviation", "Honest wear commonly"], "before any reading");
  await type(page, { weight: "6.25" });
  assert.match(await verdict(page, "weight"), /0\.000 g.*legal 6\.250 g.*Within the legal deviation/);
  const rows = page.locator("#weight-result .scale .row");
  assert.match(await rows.first().innerText(), /Measured, k = 2\s+6\.2500 ± 0\.0082 g/);
  assert.match(await page.locator("#weight-result .false .name").first().innerText(), /\w/, "a family's range is on it");
  assert.deepEqual(await page.locator("#weight-result .track i").evaluateAll((marks) => marks.map((mark) => getComputedStyle(mark, "::before").content).filter((text) => text !== "none" && /\w/.test(text))), [], "no other style of the site puts words on the line");
  for (const [weight, words] of /** @type {[string, RegExp][]} */ ([["6.12", /no more than honest wear/], ["5.50", /Lighter than honest wear/], ["6.50", /Heavier than the law/], ["6.35", /neither inside nor outside/]])) {
    await type(page, { weight });
    assert.match(await verdict(page, "weight"), words, weight);
  }
  assert.deepEqual(log, []);
  await shut();
});

test("density by both set-ups is the published one, with its budget", async () => {
  const { page, log, close: shut } = await opened(DIME);
  const hung = vector(facts.vector, "H05");
  await type(page, { weight: "6.250", liquid: "5.646", temperature: String(hung.t_C) });
  const [value, U] = (await said(page, "density")).match(/[\d.]+/g)?.map(Number) ?? [];
  assert.ok(Math.abs(value - hung.density) <= 0.0006, `${value}`);
  // Half a degree of the thermometer and a step of 0.001 g (two roundings) make nearly what the vector's own budget makes.
  assert.ok(U > 0.015 && U < hung.U2, `${U}`);
  const terms = await page.locator("#density-result .budget tbody th").allTextContents();
  assert.deepEqual(terms, ["In air: rounding", "Hung in the liquid: rounding", "Temperature of the liquid", "Density of distilled or deionised water", "Density of air of a room near sea level"]);
  const shares = (await page.locator("#density-result .budget tbody td:last-child").allTextContents()).map(Number.parseFloat);
  assert.ok(Math.abs(shares.reduce((sum, one) => sum + one, 0) - 100) < 0.3, `${shares}`);
  assert.match(await page.locator("#density-result").innerText(), /Fits the standard’s alloy[^]*If it is silver and copper only: 900 ± \d+ in a thousand[^]*density can reject a metal, it never proves one/);

  const vessel = vector(facts.vessel_vector, "V1");
  await page.check("input[name=setup][value=vessel]");
  await type(page, { weight: "5.00", liquid: "0.56", temperature: String(vessel.t_C) });
  assert.ok(Math.abs(Number.parseFloat(await said(page, "density")) - vessel.density) <= 0.006, await said(page, "density"));
  assert.match(await verdict(page, "density"), /Does not fit the standard’s alloy/);
  assert.match(await page.locator("#density-result").innerText(), /Copper, cupronickel .* nickel, cobalt .* cannot be told apart/);
  assert.deepEqual(log, []);
  await shut();
});

test("readings in any unit, several at once, in the units chosen", async () => {
  const { page, log, close: shut } = await opened(DIME);
  await type(page, { weight: "38.58 gr; 38.60 gr; 38.59 gr" });
  assert.match(await said(page, "weight"), /^2\.500\d* ± [\d.]+ g$/);
  await page.selectOption("[name=mass]", "gr");
  await type(page, { weight: "38,58" });
  assert.match(await said(page, "weight"), /^2\.499\d* ± [\d.]+ g \(38\.580 ± 0\.0?\d+ gr\)$|^2\.499\d* ± [\d.]+ g \(38\.58\d* ± [\d.]+ gr\)$/);
  await page.selectOption("[name=heat]", "°F");
  await page.selectOption("[name=mass]", "g");
  await type(page, { weight: "2.500", liquid: "2.258", temperature: "68" });
  const dime = vector(facts.vector, "H11");
  assert.ok(Math.abs(Number.parseFloat(await said(page, "density")) - dime.density) <= 0.0006, await said(page, "density"));
  await type(page, { diameter: "0.705 in", thickness: "1.34; 1.36; 1.35", "die-axis": "358; 2" });
  assert.match(await said(page, "diameter"), /^17\.9\d* ±/);
  assert.match(await verdict(page, "thickness"), /Mean of 3 readings, 0\.02 mm apart at most/);
  assert.match(await said(page, "die-axis"), /^0° ±/);
  assert.match(await verdict(page, "die-axis"), /0° from medal alignment.*Standard: coin alignment/);
  assert.deepEqual(log, []);
  await shut();
});

test("what cannot be is named at its field, and NaN is nowhere", async () => {
  const { page, log, close: shut } = await opened(DIME);
  const good = { weight: "2.50", liquid: "2.26", temperature: "20" };
  /** @type {[Record<string, string>, string, RegExp][]} */
  const cases = [
    [{ weight: "abc" }, "weight", /A number is expected/], [{ weight: "0.00" }, "weight", /Nought/], [{ weight: "-2.5" }, "weight", /negative/], [{ weight: "1e9" }, "weight", /out of range.*0\.02 g to 2000 g/],
    [{ weight: "1,234" }, "weight", /1\.234 or 1234/], [{ weight: "2.50; 5 mm" }, "weight", /Reading 2: mm does not measure/], [{ weight: "", liquid: "2.26" }, "weight", /weight in air is expected/],
    [{ liquid: "2.60" }, "liquid", /swapped/], [{ liquid: "2.50" }, "liquid", /No weight is lost/], [{ liquid: "2.49" }, "liquid", /three steps/], [{ liquid: "0.24" }, "liquid", /vessel on the pan\? Then it is 10\./], [{ liquid: "-1" }, "liquid", /float/],
    [{ temperature: "68" }, "temperature", /68 °F.*20\.0 °C/], [{ temperature: "" }, "temperature", /expected, such as 20/], [{ temperature: "55" }, "temperature", /0 °C to 40 °C/], [{ pressure: "1" }, "pressure", /500 hPa to 1100 hPa/], [{ step: "0" }, "step", /Nought/],
    [{ diameter: "1e9" }, "diameter", /3 mm to 150 mm/], [{ thickness: "0" }, "thickness", /Nought/], [{ "die-axis": "361" }, "die-axis", /0° to 360°/],
  ];
  // The folds are opened once; their fields can be typed into from then on.
  await page.locator(".fields details:not([open]) > summary").evaluateAll((all) => all.forEach((one) => /** @type {HTMLElement} */ (one).click()));
  for (const [fields, name, words] of cases) {
    await type(page, { ...good, pressure: "", step: "", diameter: "", thickness: "", "die-axis": "" });
    await type(page, fields);
    const label = JSON.stringify(fields);
    assert.match((await trouble(page, name)) ?? "", words, label);
    assert.equal(await page.getAttribute(`#${name}`, "aria-invalid"), "true", label);
    assert.match((await page.getAttribute(`#${name}`, "aria-describedby")) ?? "", new RegExp(`^${name}-trouble$`), label);
    assert.doesNotMatch(await page.locator("main").innerText(), /NaN|Infinity|undefined|null/, label);
    assert.equal(await put(page, ["diameter", "thickness", "die-axis"].includes(name) ? name : "density").count(), 0, `${label}: nothing to put into the examination`);
  }
  await page.selectOption("#fluid", "ethanol");
  await type(page, { ...good, pressure: "", step: "", temperature: "35" });
  assert.match((await trouble(page, "temperature")) ?? "", /ethanol.*15 to 30 °C/);
  await type(page, { temperature: "20", liquid: "2.31" });
  assert.equal(await trouble(page, "temperature"), "");
  assert.match(await said(page, "density"), /^10\./);
  assert.deepEqual(log, []);
  await shut();
});

test("nothing typed is lost on a reload, and one coin's readings are not another's", async () => {
  const { page, open, log, close: shut } = await opened(DIME);
  await type(page, { weight: "2.48; 2.49", liquid: "2.25", temperature: "21", edge: "reeded", "die-axis": "180" });
  await page.check("input[name=setup][value=vessel]");
  await page.selectOption("#magnet", "not attracted");
  await page.selectOption("[name=length]", "in");
  await page.reload();
  await page.waitForSelector("#coin-now a");
  assert.deepEqual(await page.evaluate(() => ["weight", "liquid", "temperature", "edge", "die-axis", "magnet"].map((id) => /** @type {any} */ (document.getElementById(id)).value)), ["2.48; 2.49", "2.25", "21", "reeded", "180", "not attracted"]);
  assert.ok(await page.isChecked("input[name=setup][value=vessel]"));
  await open(DEMO.replace("#", "?other#"));
  await page.waitForSelector("#coin-now a");
  assert.equal(await page.inputValue("#weight"), "");
  assert.equal(await page.inputValue("[name=length]"), "in", "the units chosen stay");
  await open(DIME);
  await page.waitForSelector("#coin-now a");
  assert.equal(await page.inputValue("#weight"), "2.48; 2.49");
  await page.click("#clear");
  assert.equal(await page.inputValue("#weight"), "");
  await page.reload();
  await page.waitForSelector("#coin-now a");
  assert.equal(await page.inputValue("#weight"), "");
  assert.deepEqual(log, []);
  await shut();
});

test("one press puts a result into the examination, as typed; a second weighing keeps the first", async () => {
  const { page, log, close: shut } = await opened(DEMO);
  await type(page, { weight: "96.45 gr", liquid: "5.640 g", temperature: "68 °F" });
  await put(page, "weight").click();
  assert.match(await page.locator("#said").innerText(), /An examination was begun\. The weight was put into the examination of/);
  await put(page, "density").click();
  assert.match(await page.locator("#said").innerText(), /^The density was put into the examination of/);
  await page.selectOption("#magnet", "attracted");
  assert.match(await verdict(page, "magnet"), /Against the standard, which is not attracted/);
  await put(page, "magnet").click();
  const [record, ...others] = await records(page);
  assert.equal(others.length, 0, "one examination");
  assert.equal(record.coin.issue, "issues/orrin/half-mark/1911-k");
  const by = (/** @type {string} */ quantity) => record.measurements.find((/** @type {any} */ one) => one.quantity === quantity);
  assert.deepEqual(by("weight").readings, [{ name: "Weight in air", typed: "96.45", unit: "gr" }]);
  assert.ok(Math.abs(by("weight").value - 6.2498548695) < 1e-9 && by("weight").uncertainty > 0 && by("weight").unit === "g");
  assert.deepEqual(by("density").readings.map((/** @type {any} */ one) => `${one.typed} ${one.unit}`), ["96.45 gr", "5.640 g", "68 °F"]);
  assert.equal(by("density").method, "hung in water");
  assert.deepEqual([by("magnet").value, by("magnet").uncertainty], [null, null]);
  assert.match(by("magnet").words, /^attracted\./);
  await page.reload();
  await page.waitForSelector("#coin-now a");
  assert.equal(await page.inputValue("#weight"), "96.45 gr", "the readings went with the examination");
  await type(page, { weight: "6.24" });
  await put(page, "weight").click();
  const [again] = await records(page);
  assert.equal(again.measurements.filter((/** @type {any} */ one) => one.quantity === "weight").length, 1);
  assert.equal(again.earlier.filter((/** @type {any} */ one) => one.what === "measurement").length, 1);
  // Without a coin in the address the open examination's is taken.
  await page.goto(page.url().replace(/#.*/, "?open"));
  await page.waitForSelector("#coin-now a");
  assert.match(await page.locator("#coin-now").innerText(), /1911-K/);
  assert.deepEqual(log, []);
  await shut();
});

test("a weight on another series' scales does not go into the open examination; one of its own series does", async () => {
  const { page, log, close: shut } = await opened(DEMO);
  await type(page, { weight: "6.25" });
  await put(page, "weight").click();
  const own = DEMO.replace(/#.*/, "#series/orrin/half-mark-harbour"), other = DEMO.replace(/#.*/, "#series/us/dollar-morgan-1878-1921");
  for (const [way, words] of [[other, /The examination that is open is of 1911-K half mark, not of this series/], [own, /The weight was put into the examination of/]]) {
    await page.goto(page.url().replace(/#.*/, String(way).replace(/^[^#]*/, "")));
    await page.reload();
    await page.waitForSelector("#coin-now a");
    await type(page, { weight: "26.7" });
    await put(page, "weight").click();
    assert.match(await page.locator("#said").innerText(), /** @type {RegExp} */ (words));
    const [record] = await records(page);
    assert.equal(record.measurements[0].value, way === other ? 6.25 : 26.7);
  }
  assert.deepEqual(log, []);
  await shut();
});

test("any series can be picked, with its standards by year; without a coin the scales work too", async () => {
  const { page, log, close: shut } = await opened("bench/scales.html");
  await type(page, { weight: "5.00", liquid: "4.443", temperature: "20" });
  assert.match(await said(page, "density"), /^8\.9/);
  await put(page, "density").click();
  assert.match(await page.locator("#said").innerText(), /No examination is open/);
  await page.selectOption("#country", "orrin");
  await page.waitForSelector("#series:enabled");
  await page.selectOption("#series", "series/orrin/half-mark-harbour");
  await page.waitForSelector("#coin-now a");
  assert.match(await page.locator("#coin-now").innerText(), /Harbour half mark/);
  assert.deepEqual(await page.locator("#standard option").allInnerTexts(), ["1904–1912", "1913–1919"]);
  await page.setViewportSize({ width: 320, height: 700 });
  await page.evaluate(() => document.querySelectorAll("details").forEach((one) => (one.open = true)));
  assert.ok((await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth)) <= 0, "long names fit a narrow window");
  await page.selectOption("#standard", "0");
  assert.match(await page.locator("#weight-result .law .value").innerText(), /6\.250 ± 0\.097 g/);
  await page.selectOption("#standard", "1");
  assert.match(await page.locator("#weight-result .law .value").innerText(), /5\.832 ± 0\.052 g/);
  assert.deepEqual(log, []);
  await shut();
});

test("with storage blocked, a broken address or rubbish kept, the scales still weigh", async () => {
  const blocked = await bench();
  await blocked.context.addInitScript(() => Object.defineProperty(window, "localStorage", { get() { throw new DOMException("no", "SecurityError"); } }));
  const page = await blocked.open(DIME);
  await page.waitForSelector("#coin-now a");
  await type(page, { weight: "2.49" });
  assert.match(await said(page, "weight"), /^2\.49/);
  await put(page, "weight").click();
  assert.match(await page.locator("#said").innerText(), /storage is blocked/);
  assert.deepEqual(blocked.log, []);
  await blocked.close();

  for (const rubbish of ["{", "null", "[1,2]", '"text"', '{"issues/us/dime/1916-d":7,"units":"x"}', '{"issues/us/dime/1916-d":{"weight":{"a":1},"setup":"sideways","nothing":"here"}}']) {
    const one = await bench();
    await one.context.addInitScript((text) => localStorage.setItem("tellmark-scales", text), rubbish);
    const other = await one.open(DIME);
    await other.waitForSelector("#coin-now a");
    await type(other, { weight: "2.49" });
    assert.match(await said(other, "weight"), /^2\.49/, rubbish);
    assert.deepEqual(one.log, [], rubbish);
    await one.close();
  }
  const lost = await bench();
  const none = await lost.open("bench/scales.html#issues/us/dime/1716-q");
  await none.waitForSelector("#said:not(:empty)");
  assert.match(await none.locator("#said").innerText(), /not on file/);
  await type(none, { weight: "2.49" });
  assert.match(await said(none, "weight"), /^2\.49/);
  assert.deepEqual(lost.log, []);
  await lost.close();
});

test("everyone can use it: named fields, contrast, reflow to 320 px, in light and dim, with results and faults shown", async () => {
  for (const wish of [{ width: 1440 }, { width: 820, dim: true }, { width: 390 }, { width: 320, dim: true }]) {
    const { page, close: shut } = await opened(DEMO, { ...wish, still: true });
    await type(page, { weight: "6.24; 6.25", liquid: "5.63", temperature: "20", diameter: "24.6", thickness: "x", "die-axis": "10" });
    await page.evaluate(() => document.querySelectorAll("details").forEach((one) => (one.open = true)));
    await page.evaluate(axe);
    const wrong = await page.evaluate(async () => {
      const { violations } = await /** @type {any} */ (window).axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"], resultTypes: ["violations"] });
      return violations.flatMap((/** @type {any} */ rule) => rule.nodes.map((/** @type {any} */ node) => `${rule.id}: ${node.target.join(" ")}`));
    });
    assert.deepEqual(wrong, [], JSON.stringify(wish));
    assert.ok((await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth)) <= 0, `${wish.width} px: nothing sticks out`);
    await shut();
  }
});

test("by keyboard alone: from the weight to the examination", async () => {
  const { page, log, close: shut } = await opened(DEMO);
  await page.focus("#weight");
  await page.keyboard.type("6.25");
  for (let i = 0; i < 3; i++) await page.keyboard.press("Tab");
  assert.equal(await page.evaluate(() => document.activeElement?.textContent), "Put into the examination");
  assert.match((await page.locator("#heard").textContent()) ?? "", /^6\.2500 ± [\d.]+ g\. .*Within the legal deviation/, "the result is heard when the field is left");
  await page.keyboard.press("Enter");
  assert.match(await page.locator("#said").innerText(), /The weight was put into the examination/);
  assert.equal((await records(page)).length, 1);
  assert.deepEqual(log, []);
  await shut();
});
