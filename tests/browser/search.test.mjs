// The look-up: the same answers as `tellmark find`, little to load, quick, and whole by keyboard.

import assert from "node:assert/strict";
import { existsSync, readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { after, before, describe, test } from "node:test";
import vm from "node:vm";
import { chromium } from "playwright-core";

import { answered } from "./lookup.mjs";
import { queries } from "./queries.mjs";
import { openReader } from "./reader.mjs";
import { entries, project, run, site } from "./site.mjs";
import { slowDown, slowPage, within } from "./slow.mjs";

const LIMIT = 10;
let root = "";
let asked = [];
/** What the tool answers, by query. */
let told = new Map();

before(() => {
  root = site();
  asked = queries(entries);
  const lines = run(["find", "-", "--entries", entries, "--limit", String(LIMIT), "--format", "json"], asked.join("\n") + "\n");
  const answers = lines.trimEnd().split("\n").map((line) => JSON.parse(line));
  assert.equal(answers.length, asked.length);
  told = new Map(asked.map((query, at) => [query, answers[at]]));
});

describe("the reader", () => {
  test("makes the tokens of the vectors", () => {
    const { tm } = openReader(root);
    const vectors = JSON.parse(readFileSync(join(project, "tests/terms.json"), "utf8"));
    assert.ok(vectors.length >= 120);
    for (const { text, terms } of vectors) assert.deepEqual([...tm.terms(text)], terms, JSON.stringify(text));
  });

  test("answers as `tellmark find` does, in the same order", () => {
    assert.ok(asked.length >= 300, `${asked.length} queries`);
    const reader = openReader(root);
    let slowest = { took: 0, query: "" };
    let found = 0;
    for (const query of asked) {
      const { hits, took } = reader.find(query, LIMIT);
      assert.deepEqual(JSON.parse(JSON.stringify(hits)), told.get(query), query.slice(0, 80));
      found += hits.length > 0 ? 1 : 0;
      if (took > slowest.took) slowest = { took, query: query.slice(0, 40) };
    }
    console.log(`${asked.length} queries, ${found} with results; slowest ${slowest.took.toFixed(1)} ms in Node: ${slowest.query}`);
    assert.ok(found >= 250);
  });

  test("loads at most 80 KB for a first look-up typed key by key", () => {
    for (const query of ["16d dime", "18 over 17 quarter", "3 legs 37"]) {
      const reader = openReader(root);
      // The page does not ask for a single sign.
      for (let end = 2; end <= query.length; end++) reader.find(query.slice(0, end), LIMIT);
      const bytes = reader.bytes() + readFileSync(join(root, "look/lookup.js")).length;
      console.log(`${query}: ${(bytes / 1024).toFixed(1)} KB in ${reader.loaded.size + 1} scripts`);
      if (query === "16d dime") assert.ok(bytes <= 80 * 1024, `${bytes} bytes`);
    }
  });
});

test("every document leads to a page, and to a place on it, that exist", () => {
  const found = new Map();
  const names = readdirSync(join(root, "search")).filter((name) => name.startsWith("d-"));
  const context = vm.createContext({ Tellmark: { shard: (_, groups) => groups.forEach(note) } });
  const note = ([head, , , , items]) => {
    for (let at = 0; at < items.length; at += 2) {
      const [path, anchor] = head.endsWith(".html") ? [head, items[at]] : [`${head}${items[at]}.html`, ""];
      found.set(path, [...(found.get(path) ?? []), anchor]);
    }
  };
  names.forEach((name) => vm.runInContext(readFileSync(join(root, "search", name), "utf8"), context));
  assert.ok(found.size > 500);
  const lost = [];
  for (const [path, anchors] of found) {
    const text = existsSync(join(root, path)) ? readFileSync(join(root, path), "utf8") : "";
    if (!text) lost.push(path);
    lost.push(...anchors.filter((anchor) => anchor && !text.includes(` id="${anchor}"`)).map((anchor) => `${path}#${anchor}`));
  }
  assert.deepEqual(lost, []);
});

const browserPath = process.env.CHROMIUM ?? "/usr/bin/chromium";

describe("the page", { skip: existsSync(browserPath) ? false : "no Chromium here" }, () => {
  /** @type {import("playwright-core").Browser} */
  let browser;
  before(async () => {
    browser = await chromium.launch({ executablePath: browserPath, args: ["--no-sandbox"] });
  });
  after(() => browser?.close());

  /** A page from disk that keeps what goes wrong on it and what leaves the folder. */
  async function open(path = "index.html", prepare = async () => {}) {
    const context = await browser.newContext();
    await slowDown(context);
    const page = await context.newPage();
    await slowPage(page);
    const wrong = [];
    page.on("console", (message) => message.type() === "error" && wrong.push(message.text()));
    page.on("pageerror", (error) => wrong.push(String(error)));
    page.on("request", (request) => {
      if (!/^(file|data):/.test(request.url())) wrong.push(`left the folder: ${request.url()}`);
    });
    await prepare(page);
    await page.goto(pathToFileURL(join(root, path)).href);
    return { page, wrong, field: page.locator("#lookup"), options: page.locator("#lookup-results [role=option]") };
  }

  test("answers forty of the queries as the tool does", async () => {
    const { page, wrong } = await open();
    const some = asked.filter((query) => query.trim().length >= 2 && query.length < 200 && told.get(query).length > 0);
    const sample = some.filter((_, at) => at % Math.floor(some.length / 40) === 0).slice(0, 40);
    assert.equal(sample.length, 40);
    for (const query of sample) {
      const urls = await page.evaluate(async (text) => {
        const field = /** @type {HTMLInputElement} */ (document.getElementById("lookup"));
        const list = document.getElementById("lookup-results");
        list.replaceChildren();
        field.value = text;
        field.dispatchEvent(new Event("input"));
        while (!list.childElementCount) await new Promise((next) => setTimeout(next, 2));
        return Array.from(list.querySelectorAll("a"), (link) => link.getAttribute("href"));
      }, query);
      assert.deepEqual(urls, told.get(query).map((hit) => hit.url), query);
    }
    assert.deepEqual(wrong, []);
  });

  test("answers a key within a frame once the scripts are there", async () => {
    const { page, wrong, field } = await open();
    await field.pressSequentially("16d dime");
    await answered(page);
    const times = await page.evaluate((typed) => {
      const field = /** @type {HTMLInputElement} */ (document.getElementById("lookup"));
      const times = [];
      for (let round = 0; round < 5; round++) {
        for (let end = 2; end <= typed.length; end++) {
          field.value = typed.slice(0, end);
          const start = performance.now();
          field.dispatchEvent(new Event("input"));
          document.getElementById("lookup-results")?.getBoundingClientRect();
          times.push(performance.now() - start);
        }
      }
      return times.sort((a, b) => a - b);
    }, "16d dime");
    const [middle, worst] = [times[times.length >> 1], times.at(-1)];
    console.log(`a key: ${middle.toFixed(1)} ms in the middle, ${worst.toFixed(1)} ms at worst, layout included; 16 ms are wanted`);
    // A wide margin: other work on the machine counts against it.
    within(middle, 16, "a key, in the middle");
    within(worst, 400, "a key, at worst");
    assert.deepEqual(wrong, []);
  });

  test("is whole by keyboard", async () => {
    const { page, wrong, field, options } = await open();
    await page.locator("body").click({ position: { x: 2, y: 2 } });
    await page.keyboard.press("/");
    assert.equal(await page.evaluate(() => document.activeElement?.id), "lookup");
    assert.equal(await field.inputValue(), "");
    await page.keyboard.type("16d dime");
    await answered(page);
    assert.equal(await field.getAttribute("role"), "combobox");
    assert.equal(await field.getAttribute("aria-expanded"), "true");
    assert.match(await page.locator("#lookup-status").textContent(), /10 are shown|found/);
    const chosen = () => page.locator("#lookup-results [aria-selected=true] .title").allTextContents();
    assert.deepEqual(await chosen(), []);
    const titles = await options.locator(".title").allTextContents();
    assert.equal(titles[0], "1916-D dime");
    await page.keyboard.press("ArrowDown");
    assert.deepEqual(await chosen(), [titles[0]]);
    assert.equal(await field.getAttribute("aria-activedescendant"), "lookup-0");
    await page.keyboard.press("ArrowDown");
    assert.deepEqual(await chosen(), [titles[1]]);
    await page.keyboard.press("End");
    assert.deepEqual(await chosen(), [titles.at(-1)]);
    await page.keyboard.press("Home");
    assert.deepEqual(await chosen(), [titles[0]]);
    await page.keyboard.press("ArrowUp");
    assert.deepEqual(await chosen(), [titles.at(-1)]);
    await page.keyboard.press("Escape");
    assert.equal(await field.inputValue(), "");
    assert.equal(await page.locator("#lookup-results").isVisible(), false);
    assert.equal(await field.getAttribute("aria-expanded"), "false");
    assert.deepEqual(wrong, []);
  });

  test("Enter opens the first result, even when typed before the answer is there", async () => {
    const { page, wrong, field } = await open("glossary/index.html");
    await field.focus();
    await page.keyboard.type("16d dime");
    await page.keyboard.press("Enter");
    await page.waitForURL(/issues\/us\/dime\/1916-d\.html$/);
    assert.deepEqual(wrong, []);
  });

  test("a check opens at its place, from any depth, and issues are remembered on the front page", async () => {
    const { page, wrong, field, options } = await open("issues/us/dime/1921-d.html");
    await field.fill("1916-D dime foot of the D");
    await answered(page);
    const check = options.filter({ has: page.locator(".kind", { hasText: "check" }) }).first();
    const href = await check.getAttribute("href");
    assert.match(href, /^\.\.\/\.\.\/\.\.\/issues\/.*#/);
    await check.click();
    await page.waitForURL(/#/);
    const anchor = new URL(page.url()).hash.slice(1);
    assert.equal(await page.locator(`[id="${anchor}"]`).count(), 1);
    await page.goto(pathToFileURL(join(root, "index.html")).href);
    const recent = await page.locator("#recent a").evaluateAll((links) => links.map((link) => [link.textContent, link.getAttribute("href")]));
    assert.deepEqual(recent, [
      ["1916-D dime Winged Head dime, United States", "issues/us/dime/1916-d.html"],
      ["1921-D dime Winged Head dime, United States", "issues/us/dime/1921-d.html"],
    ]);
    assert.deepEqual(wrong, []);
  });

  test("shows nothing of earlier pages where there are none, or memory is refused", async () => {
    const { page, wrong } = await open();
    assert.equal(await page.locator("#recent-part").isVisible(), false);
    assert.deepEqual(wrong, []);
    const refused = await open("issues/us/dime/1916-d.html", (page) =>
      page.addInitScript(() => Object.defineProperty(window, "localStorage", { get: () => { throw new Error("refused"); } })),
    );
    assert.deepEqual(refused.wrong, []);
  });

  test("says so when part of the index cannot be read, and tries again", async () => {
    let broken = true;
    const { page, field, options } = await open("index.html", (page) =>
      page.route(/search\/t-.*\.js$/, (route) => (broken ? route.abort() : route.continue())),
    );
    await field.fill("16d dime");
    await answered(page);
    assert.match(await page.locator("#lookup-results .trouble").textContent(), /cannot be read/);
    assert.match(await page.locator("#lookup-status").textContent(), /cannot be read/);
    broken = false;
    await field.press("End");
    await field.press("Backspace");
    await field.pressSequentially("e");
    await options.first().waitFor();
    assert.equal(await options.first().locator(".title").textContent(), "1916-D dime");
  });

  test("invented coins are marked in the list, and nothing found is said", async () => {
    const { page, field, options } = await open();
    const demo = [...told.values()].flat().find((hit) => hit.demo);
    await field.fill("orrin half mark 1911");
    await answered(page);
    if (demo) assert.match(await options.first().locator(".kind").textContent(), /invented/);
    await field.fill("zzzzqqq");
    await page.locator("#lookup-results .none").waitFor();
    assert.equal(await page.locator("#lookup-status").textContent(), "Nothing found.");
  });
});
