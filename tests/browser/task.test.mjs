// The examiner at the bench, with the keyboard alone: from the folder on disk to the place on the coin.

import assert from "node:assert/strict";
import { existsSync } from "node:fs";
import { join } from "node:path";
import { after, test } from "node:test";

import { bench, close, issues, kinds, site } from "./bench.mjs";
import { answered } from "./lookup.mjs";

after(close);

const DIME = "issues/us/dime/1916-d.html";
const field = "#lookup";
const focused = (/** @type {import("playwright-core").Page} */ page) => page.evaluate(() => document.activeElement?.id ?? "");
const results = (/** @type {import("playwright-core").Page} */ page) => page.locator("#lookup-results [role=option]");
assert.ok(existsSync(join(site, DIME)), "the reference collection is in the site");

test("from the front page to the issue in nine keys, and by Tab to the look of its first pin", async () => {
  const one = await bench();
  const page = await one.open("index.html");
  let keys = 0;
  const press = async (/** @type {string} */ key) => {
    keys += 1;
    await page.keyboard.press(key);
  };
  const begun = performance.now();
  // A page gives the focus by itself when it is first drawn, which may be after it has loaded.
  await page.waitForFunction(() => document.activeElement?.id === "lookup");
  for (const key of "16d dime") await press(key);
  const arrived = page.waitForURL((url) => url.href.endsWith(DIME), { waitUntil: "domcontentloaded" });
  await press("Enter");
  await arrived;
  const opened = performance.now();
  const typed = keys;
  assert.match(await page.locator("h1").innerText(), /^1916-D dime/);

  // Tab to the pins; the way past the strip shortens it.
  let stops = 0;
  const onPin = () => page.evaluate(() => Boolean(document.activeElement?.closest(".disc")));
  await press("Tab");
  await press("Enter");
  while (!(await onPin())) {
    await press("Tab");
    stops += 1;
    assert.ok(stops < 60, "a pin is reached");
  }
  const wanted = await page.evaluate(() => document.activeElement?.getAttribute("href") ?? "");
  assert.match(wanted, /^#/);
  await press("Enter");
  await page.waitForFunction((hash) => location.hash === hash, wanted);
  await inSight(page, wanted);
  console.log(`1916-D dime: ${typed} keys and ${(opened - begun).toFixed(0)} ms to the page; ${keys} keys in all to the first pin's look (${stops} stops); ${(performance.now() - begun).toFixed(0)} ms`);
  assert.equal(typed, 9);

  await page.keyboard.press("/");
  assert.equal(await focused(page), "lookup", "/ comes back to the field");
  assert.deepEqual(one.log, []);
  await one.close();
});

/** The target of the address is on the screen, below the strip. @param {import("playwright-core").Page} page @param {string} hash */
async function inSight(page, hash) {
  await page.waitForFunction((id) => {
    const top = document.getElementById(decodeURIComponent(id.slice(1)))?.getBoundingClientRect().top ?? -1;
    const strip = document.querySelector(".strip");
    return top >= (strip ? strip.getBoundingClientRect().bottom - 4 : 0) && top < innerHeight - 40;
  }, hash);
}

test("words of one of its looks open the page at that look", async () => {
  const one = await bench();
  const page = await one.open(DIME);
  const asked = await page.locator(".look h3").nth(4).evaluate((node) => node.lastElementChild?.textContent?.trim() ?? "");
  await page.keyboard.press("/");
  await page.keyboard.type(`${asked} 1916-d`);
  await answered(page);
  const hits = await results(page).evaluateAll((nodes) => nodes.map((node) => node.getAttribute("href") ?? ""));
  const at = hits.findIndex((href) => href.includes(`${DIME}#`));
  assert.ok(at >= 0, `${asked}: ${hits.join(" ")}`);
  for (let step = 0; step <= at; step++) await page.keyboard.press("ArrowDown");
  await page.keyboard.press("Enter");
  await page.waitForFunction(() => location.hash.length > 1);
  await inSight(page, await page.evaluate(() => location.hash));
  assert.deepEqual(one.log, []);
  await one.close();
});

test("the front page names the last pages opened on this machine, the newest first", async () => {
  const one = await bench();
  const second = issues.find((page) => page.startsWith("issues/us/five-cents/")) ?? issues[0];
  let page = await one.open("index.html");
  assert.equal(await page.locator("#recent-part").isVisible(), false, "nothing was opened yet");
  await one.open(DIME);
  page = await one.open(second);
  await page.locator(".wordmark").click();
  await page.waitForURL(/\/index\.html$/);
  const named = await page.locator("#recent a").evaluateAll((nodes) => nodes.map((node) => node.getAttribute("href")));
  assert.deepEqual(named, [second, DIME]);
  await one.open(DIME);
  await page.goBack();
  assert.equal(await page.locator("#recent a").first().getAttribute("href"), DIME, "also when going back");
  await one.close();
});

test("the dim bench is remembered on the next page", async () => {
  const one = await bench();
  const paper = () => page.evaluate(() => getComputedStyle(document.body).backgroundColor);
  const page = await one.open(DIME);
  const bright = await paper();
  assert.equal(await page.locator("#dim").innerText(), "Dim");
  await page.locator("#dim").focus();
  await page.keyboard.press("Enter");
  const dim = await paper();
  assert.notEqual(dim, bright);
  await one.open(kinds.series);
  assert.equal(await paper(), dim);
  await page.locator("#dim").click();
  await one.open(kinds.front);
  assert.equal(await paper(), bright);
  await one.close();
});

test("an issue prints on one sheet: two sides of A4 at most", async () => {
  // A fixed sample: the famous, the fullest, the barest, the invented.
  const every = Math.max(1, Math.floor(issues.length / 11));
  const sample = [...new Set([DIME, ...issues.filter((_, at) => at % every === 0)])].slice(0, 12);
  const one = await bench();
  const counts = [];
  for (const path of sample) {
    const page = await one.open(path);
    const bytes = await page.pdf({ preferCSSPageSize: true });
    const sides = bytes.toString("latin1").match(/\/Type\s*\/Page(?!s)/g)?.length ?? 0;
    assert.ok(/MediaBox\s*\[0 0 59[45]/.test(bytes.toString("latin1")), "A4");
    counts.push(`${sides} ${path}`);
    assert.ok(sides >= 1, path);
  }
  console.log(counts.join("\n"));
  assert.deepEqual(counts.filter((line) => Number(line.split(" ")[0]) > 2), []);
  await one.close();
});
