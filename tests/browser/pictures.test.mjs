// Pictures: from a coin's page into the viewer and back, nearer and further by keys, two that move together, and pixels that
// an instrument can read from a disk.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { after, describe, test } from "node:test";

import { bench, close, files, textOf } from "./bench.mjs";

after(close);

const COIN = "issues/orrin/half-mark/1911-k";
const VIEWER = "bench/picture.html";
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

/** Waits until the pictures are drawn in full. @param {import("playwright-core").Page} page @param {number} many */
async function drawn(page, many) {
  await page.locator(".openseadragon-canvas").nth(many - 1).waitFor();
  await page.waitForFunction(() => {
    const glasses = [...document.querySelectorAll(".glass")].map((glass) => /** @type {any} */ (window).OpenSeadragon.getViewer(glass));
    return glasses.every((glass) => glass?.world.getItemCount() === 1 && glass.world.getItemAt(0).getFullyLoaded());
  });
}

/** Where each view stands once it has come to rest. @param {import("playwright-core").Page} page @returns {Promise<{ x: number, y: number, zoom: number }[]>} */
function views(page) {
  return page.evaluate(async () => {
    const ports = [...document.querySelectorAll(".glass")].map((glass) => /** @type {any} */ (window).OpenSeadragon.getViewer(glass).viewport);
    const read = () => ports.map((port) => ({ ...port.getCenter(true), zoom: port.getZoom(true) }));
    // The same for five frames: at rest.
    for (let same = 0, before = ""; same < 5; ) {
      await new Promise(requestAnimationFrame);
      const now = JSON.stringify(read());
      same = now === before ? same + 1 : 0;
      before = now;
    }
    return read().map(({ x, y, zoom }) => ({ x, y, zoom }));
  });
}

const near = (/** @type {number} */ a, /** @type {number} */ b) => assert.ok(Math.abs(a - b) < 1e-6 * Math.max(1, Math.abs(b)), `${a} is not ${b}`);

describe("the viewer", () => {
  test("opens from a coin's page with scripts; without them the link leads to the picture itself", async () => {
    for (const scripts of [true, false]) {
      const one = await bench({ scripts });
      const page = await one.open(`${COIN}.html`);
      await page.locator("#photo-reverse-mark a").first().click();
      await page.waitForURL(scripts ? /bench\/picture\.html#issues\/orrin\/half-mark\/1911-k\/reverse-mark$/ : /\/pictures\/.*\.(png|jpg)$/);
      if (scripts) {
        await drawn(page, 2);
        await page.locator("#picture-of a").click();
        await page.waitForURL(/1911-k\.html#photo-reverse-mark$/);
      }
      assert.deepEqual(one.log, []);
      await one.close();
    }
  });

  test("shows the picture: what is on the screen is not one colour", async () => {
    const one = await bench({ still: true });
    const page = await one.open(`${VIEWER}#${COIN}/crack`);
    await drawn(page, 1);
    const shot = await page.locator(".glass").screenshot();
    // An even area is a few hundred bytes of PNG.
    assert.ok(shot.length > 50_000, `${shot.length} bytes`);
    await one.close();
  });

  test("comes nearer, moves and shows all again by keys", async () => {
    const one = await bench({ still: true });
    const page = await one.open(`${VIEWER}#${COIN}/crack`);
    await drawn(page, 1);
    const [whole] = await views(page);
    await page.locator(".openseadragon-canvas").focus();
    await page.keyboard.press("+");
    await page.keyboard.press("+");
    const [closer] = await views(page);
    assert.ok(closer.zoom > whole.zoom * 1.2);
    await page.keyboard.press("ArrowRight");
    await page.keyboard.press("ArrowDown");
    const [aside] = await views(page);
    assert.ok(aside.x > closer.x && aside.y > closer.y);
    await page.keyboard.press("-");
    assert.ok((await views(page))[0].zoom < aside.zoom);
    await page.keyboard.press("0");
    const [again] = await views(page);
    near(again.zoom, whole.zoom);
    near(again.x, whole.x);
    assert.deepEqual(one.log, []);
    await one.close();
  });

  test("moves a true and a false piece together, and apart when told so", async () => {
    const one = await bench({ still: true });
    const page = await one.open(`${VIEWER}#${COIN}/reverse-mark-cemented`);
    await drawn(page, 2);
    assert.deepEqual(await page.locator("#picture-stage figcaption b").allTextContents(), ["True piece", "False piece"]);
    await page.locator(".openseadragon-canvas").nth(1).focus();
    for (const key of ["+", "+", "ArrowRight"]) await page.keyboard.press(key);
    let [left, right] = await views(page);
    assert.ok(right.zoom > 1.2);
    near(left.zoom, right.zoom);
    near(left.x, right.x);
    await page.locator("#picture-tie").uncheck();
    await page.locator(".openseadragon-canvas").first().focus();
    await page.keyboard.press("ArrowLeft");
    const apart = await views(page);
    assert.ok(apart[0].x < left.x);
    near(apart[1].x, right.x);
    // Tied again, they keep the distance they had.
    await page.locator("#picture-tie").check();
    await page.locator(".openseadragon-canvas").first().focus();
    await page.keyboard.press("+");
    [left, right] = await views(page);
    near(right.x - left.x, apart[1].x - apart[0].x);
    near(right.zoom, left.zoom);
    assert.deepEqual(one.log, []);
    await one.close();
  });

  test("lets the view that follows not hold back the one that leads, while both are moving", async () => {
    const one = await bench();
    const page = await one.open(`${VIEWER}#${COIN}/reverse-mark`);
    await drawn(page, 2);
    const [before] = await views(page);
    await page.locator(".openseadragon-canvas").first().focus();
    for (const key of ["+", "+", "+"]) await page.keyboard.press(key);
    const [left, right] = await views(page);
    // Three steps of 1.3 each.
    assert.ok(Math.abs(left.zoom / before.zoom - 1.3 ** 3) < 1e-3, `${left.zoom / before.zoom}`);
    assert.ok(Math.abs(right.zoom / left.zoom - 1) < 1e-3, `${right.zoom} and ${left.zoom}`);
    assert.deepEqual(one.log, []);
    await one.close();
  });

  test("says what is wrong with an address, and does nothing else with it", async () => {
    const one = await bench();
    for (const [hash, words] of [["", "Open a picture from the page of its coin"], ["#<img src=x>", "Open a picture"], ["#../../etc/x", "Open a picture"], [`#${COIN}/no-such`, "no picture of that name"]]) {
      const page = await one.open("reading.html").then(() => one.open(VIEWER + hash));
      await page.locator("#picture-note", { hasText: words }).waitFor();
    }
    assert.deepEqual(one.log, []);
    const page = await one.open(`${VIEWER}#issues/no/such/coin`);
    await page.locator("#picture-note", { hasText: "cannot be read" }).waitFor();
    await one.close();
  });

  test("is clean by the rules of WCAG 2.2 AA and does not scroll sideways", async () => {
    const wrong = [];
    for (const picture of ["reverse-mark", "crack"]) {
      const one = await bench({ still: true });
      const page = await one.open(`${VIEWER}#${COIN}/${picture}`);
      await drawn(page, picture === "crack" ? 1 : 2);
      await page.evaluate(axe);
      for (const width of [1440, 820, 390, 320]) {
        await page.setViewportSize({ width, height: 900 });
        for (const colorScheme of /** @type {const} */ (["light", "dark"])) {
          await page.emulateMedia({ colorScheme, reducedMotion: "reduce" });
          const found = await page.evaluate(async () => {
            const tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];
            const { violations } = await /** @type {any} */ (window).axe.run(document, { runOnly: tags, resultTypes: ["violations"] });
            const over = document.documentElement.scrollWidth > document.documentElement.clientWidth ? ["scrolls sideways"] : [];
            return [...over, ...violations.map((/** @type {any} */ rule) => `${rule.id}: ${rule.nodes[0].target}`)];
          });
          wrong.push(...found.map((line) => `${picture} ${width} ${colorScheme}: ${line}`));
        }
      }
      await one.close();
    }
    assert.deepEqual(wrong, []);
  });
});

describe("for the instruments", () => {
  test("a page opened from disk reads back the pixels of each issue's pictures through the scripts beside them", async () => {
    const one = await bench();
    const page = await one.open("reading.html");
    const album = JSON.parse(/JSON\.parse\('(.*)'\)/s.exec(textOf(`bench/pictures/${COIN}.js`))?.[1].replace(/\\x3c/g, "<").replace(/\\(['\\])/g, "$1") ?? "");
    const scripts = files.filter((file) => file.startsWith("pictures/") && file.endsWith(".js"));
    assert.ok(scripts.length >= album.photos.length);
    for (const script of scripts.slice(0, 4)) {
      const read = await page.evaluate(
        (src) =>
          new Promise((resolve, reject) => {
            /** @type {any} */ (window).Tellmark.picture = (/** @type {string} */ path, /** @type {string} */ data) => {
              const image = new Image();
              image.onload = () => {
                const canvas = document.createElement("canvas");
                [canvas.width, canvas.height] = [image.naturalWidth, image.naturalHeight];
                const pen = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
                pen.drawImage(image, 0, 0);
                const shades = new Set(pen.getImageData(0, 0, canvas.width, canvas.height).data);
                resolve({ path, width: canvas.width, shades: shades.size });
              };
              image.src = data;
            };
            const element = document.createElement("script");
            element.onerror = reject;
            element.src = (document.documentElement.dataset.root ?? "") + src;
            document.head.append(element);
          }),
        script,
      );
      assert.ok(files.includes(read.path) && read.path.startsWith(script.replace(/js$/, "")), read.path);
      assert.ok(read.width > 100 && read.shades > 10, JSON.stringify(read));
    }
    assert.deepEqual(one.log, []);
    await one.close();
  });
});
