// The site as a folder: whole, quiet, and the same from disk as from a server.

import assert from "node:assert/strict";
import { after, describe, test } from "node:test";
import { posix } from "node:path";

import { bench, close, files, kinds, pages, serve, textOf } from "./bench.mjs";

after(close);

const known = new Set(files);
const attribute = /<[a-z][^<>]*?\s(?:href|src|action)="([^"]*)"/g;
const plain = (/** @type {string} */ text) => text.replace(/&amp;/g, "&").replace(/&quot;/g, '"').replace(/&#39;|&#x27;/g, "'");
const count = (/** @type {string} */ text, /** @type {RegExp} */ shape) => text.match(shape)?.length ?? 0;

/** What a reader of markup can see of each page, read once. */
const read = new Map(
  pages.map((page) => {
    const text = textOf(page);
    const ids = [...text.matchAll(/\sid="([^"]*)"/g)].map((found) => plain(found[1]));
    const links = [...text.matchAll(attribute)].map((found) => plain(found[1]));
    return [page, { text, ids, links }];
  }),
);

/** Several things wrong are shown together, but not thousands. @param {string[]} wrong */
function none(wrong) {
  assert.deepEqual(wrong.slice(0, 20), [], `${wrong.length} in all`);
}

describe("from disk, read as text", () => {
  test("every link and anchor of every page leads somewhere inside the folder", () => {
    const wrong = [];
    let seen = 0;
    for (const [page, { links }] of read) {
      for (const link of links) {
        if (link.startsWith("data:")) continue;
        seen += 1;
        if (/^[a-z][a-z0-9+.-]*:|^\/|\\/i.test(link)) {
          wrong.push(`${page}: ${link} is not relative`);
          continue;
        }
        const [before, anchor] = link.split("#");
        const path = decodeURIComponent(before.split("?")[0]);
        const target = path ? posix.normalize(posix.join(posix.dirname(page), path)) : page;
        if (!known.has(target)) wrong.push(`${page}: ${link} leads to no file`);
        // The bench is told by the anchor which entry to take down.
        else if (anchor?.includes("/") && target.startsWith("bench/")) {
          if (!known.has(`${anchor}.html`)) wrong.push(`${page}: ${link} names no entry`);
        } else if (anchor && !read.get(target)?.ids.includes(decodeURIComponent(anchor))) wrong.push(`${page}: ${link} has no such place`);
      }
    }
    console.log(`${read.size} pages, ${seen} links`);
    none(wrong);
  });

  test("every page has its language, title, one main, one first heading, and no name given twice", () => {
    const wrong = [];
    const titles = new Map();
    for (const [page, { text, ids }] of read) {
      if (!/<html lang="en"/.test(text)) wrong.push(`${page}: no language`);
      const title = text.match(/<title>([^<]+)<\/title>/)?.[1].trim() ?? "";
      if (!title) wrong.push(`${page}: no title`);
      if (!page.startsWith("written/")) {
        if (titles.has(title)) wrong.push(`${page}: the same title as ${titles.get(title)}: ${title}`);
        titles.set(title, page);
      }
      if (count(text, /<main[\s>]/g) !== 1) wrong.push(`${page}: ${count(text, /<main[\s>]/g)} mains`);
      if (count(text, /<h1[\s>]/g) !== 1) wrong.push(`${page}: ${count(text, /<h1[\s>]/g)} first headings`);
      const twice = ids.find((id, at) => ids.indexOf(id) !== at);
      if (twice) wrong.push(`${page}: the name ${twice} is given twice`);
    }
    none(wrong);
  });

  test("no page is heavier than 60 KB", () => {
    const sizes = pages.map((page) => ({ page, size: Buffer.byteLength(read.get(page)?.text ?? "") }));
    none(sizes.filter(({ size }) => size > 60 * 1024).map(({ page, size }) => `${page}: ${size} bytes`));
  });

  test("the scripts of examination, scales and record are under 60 KB in all; so is what one of their pages loads, the look-up's among them", () => {
    const size = (/** @type {string[]} */ paths) => paths.reduce((sum, path) => sum + Buffer.byteLength(textOf(path)), 0);
    const loaded = ["index", "examination", "scales", "record"].map((name) => ({ name, paths: [...textOf(`bench/${name}.html`).matchAll(/<script src="\.\.\/(look\/[^"]+)"/g)].map((match) => match[1]) }));
    const own = [...new Set(loaded.flatMap(({ paths }) => paths))].filter((path) => path.startsWith("look/bench/"));
    assert.ok(own.length > 10 && ["evidence", "examination", "scales", "record", "record-sheet", "records"].every((name) => own.includes(`look/bench/${name}.js`)), own.join(" "));
    console.log(`${own.length} scripts, ${size(own)} bytes; loaded by ${loaded.map(({ name, paths }) => `${name} ${size(paths)}`).join(", ")}`);
    assert.ok(size(own) < 60 * 1024, `${size(own)} bytes`);
    none(loaded.filter(({ paths }) => size(paths) > 60 * 1024).map(({ name }) => name));
  });

  test("scripts are classic: no module, no fetching, no markup from text", () => {
    const wrong = [];
    for (const file of files.filter((name) => name.startsWith("look/") && !name.startsWith("look/vendor/") && name.endsWith(".js"))) {
      const text = textOf(file).replace(/\/\*[\s\S]*?\*\/|\/\/[^\n]*/g, "");
      for (const word of ["innerHTML", "outerHTML", "insertAdjacentHTML", "fetch(", "XMLHttpRequest", "import(", "new Worker", "pushState", "eval("]) {
        if (text.includes(word)) wrong.push(`${file}: ${word}`);
      }
    }
    for (const [page, { text }] of read) if (/<script[^>]*type="module"/.test(text)) wrong.push(`${page}: a module`);
    none(wrong);
  });
});

describe("in the browser", () => {
  test("every page opens from disk without an error and without asking for anything outside the folder", async () => {
    // Entries as written differ in nothing but their text: a tenth of them stands for all.
    const left = pages.filter((page, at) => !page.startsWith("written/") || at % 10 === 0);
    const many = left.length;
    const lanes = await Promise.all([bench(), bench(), bench()]);
    const begun = performance.now();
    await Promise.all(
      lanes.map(async (lane) => {
        for (let page = left.pop(); page; page = left.pop()) await lane.open(page);
      }),
    );
    console.log(`${many} pages opened in ${((performance.now() - begun) / 1000).toFixed(0)} s`);
    none(lanes.flatMap((lane) => lane.log));
    await Promise.all(lanes.map((lane) => lane.close()));
  });

  test("a page of every kind opens from a server on this machine just as it does from disk", async () => {
    const server = await serve();
    const disk = await bench();
    const served = await bench({ base: server.base });
    for (const path of Object.values(kinds)) {
      const words = [];
      for (const from of [disk, served]) {
        const page = await from.open(path);
        words.push(await page.evaluate(() => document.body.innerText));
        assert.equal(await page.locator("main h1").count(), 1, path);
      }
      assert.equal(words[0], words[1], path);
    }
    none([...disk.log, ...served.log]);
    await Promise.all([disk.close(), served.close()]);
    server.stop();
  });
});
