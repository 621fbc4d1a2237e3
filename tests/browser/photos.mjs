// What the tests of photo measure share: picture files made byte by byte, a coin drawn with known numbers, the demo pictures with
// their truth, and a hand that opens, clicks and reads.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { deflateSync } from "node:zlib";

import { files } from "./bench.mjs";

export const PAGE = "bench/photo-measure.html";
export const COIN = "issues/orrin/half-mark/1911-k";
assert.ok(files.includes(PAGE), "the page is in the site");

/** @typedef {import("playwright-core").Page} Page */
export const text = (/** @type {Page} */ page, /** @type {string} */ id) => page.locator(`#${id}`).textContent().then((words) => (words ?? "").trim());

// Files, made here byte by byte as their formats say.

/** @param {number} value @param {number} n */
export const big = (value, n) => Array.from({ length: n }, (_, i) => Math.floor(value / 256 ** (n - 1 - i)) % 256);
export const small = (/** @type {number} */ value, /** @type {number} */ n) => big(value, n).reverse();
export const ascii = (/** @type {string} */ word) => Array.from(word, (c) => c.charCodeAt(0));

/** A chunk of PNG (W3C, Portable Network Graphics, 5.3). @param {string} name @param {Iterable<number>} data */
export function chunk(name, data) {
  const body = [...ascii(name), ...data];
  return [...big(body.length - 4, 4), ...body, ...big(checksum(Buffer.from(body)), 4)];
}
/** CRC of PNG, annex D. @param {Buffer} bytes */
export function checksum(bytes) {
  let crc = 0xffffffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit++) crc = crc & 1 ? 0xedb88320 ^ (crc >>> 1) : crc >>> 1;
  }
  return (crc ^ 0xffffffff) >>> 0;
}
export const PNG = [0x89, ...ascii("PNG\r\n\x1a\n")];
export const header = (/** @type {number} */ width, /** @type {number} */ height) => chunk("IHDR", [...big(width, 4), ...big(height, 4), 8, 2, 0, 0, 0]);
/** One grey; each row begins with its filter, none. @param {number} width @param {number} height */
export const png = (width, height) => Buffer.from([...PNG, ...header(width, height), ...chunk("IDAT", deflateSync(Buffer.from(Array.from({ length: height }, () => [0, ...Array(3 * width).fill(90)]).flat()))), ...chunk("IEND", [])]);
/** 60,000 × 60,000 px in a few kilobytes: the file is small, what it unpacks to is not. */
export const bomb = Buffer.from([...PNG, ...header(60000, 60000), ...chunk("IDAT", deflateSync(Buffer.alloc(2e6))), ...chunk("IEND", [])]);
/** GIF89a of two frames, red and then blue, 8 × 8; each frame one code after another without a table (codes of 3 bits, cleared each time). */
export function gif() {
  const frame = (/** @type {number} */ colour) => {
    const codes = Array.from({ length: 64 }, () => [4, colour]).flat();
    const bits = [...codes, 5].flatMap((code) => [0, 1, 2].map((bit) => (code >> bit) & 1));
    const bytes = Array.from({ length: Math.ceil(bits.length / 8) }, (_, i) => bits.slice(8 * i, 8 * i + 8).reduce((all, bit, k) => all | (bit << k), 0));
    return [0x21, 0xf9, 4, 4, ...small(10, 2), 0, 0, 0x2c, 0, 0, 0, 0, ...small(8, 2), ...small(8, 2), 0, 2, bytes.length, ...bytes, 0];
  };
  return Buffer.from([...ascii("GIF89a"), ...small(8, 2), ...small(8, 2), 0x81, 0, 0, 255, 0, 0, 0, 0, 255, 0, 255, 0, 0, 0, 0, ...frame(0), ...frame(1), 0x3b]);
}
/** 8 × 8 px in four inks: baseline JPEG (ITU-T T.81, annex B) with Adobe's note of no transform. Tables with one code each, of
 *  one bit: a difference of nought, and the end of a block. */
export const INKS = Buffer.from([
  0xff, 0xd8, 0xff, 0xee, 0, 14, ...ascii("Adobe"), 0, 100, 0, 0, 0, 0, 0,
  0xff, 0xdb, 0, 67, 0, ...Array(64).fill(1),
  0xff, 0xc0, 0, 20, 8, 0, 8, 0, 8, 4, ...[1, 2, 3, 4].flatMap((id) => [id, 0x11, 0]),
  ...[0, 0x10].flatMap((table) => [0xff, 0xc4, 0, 20, table, 1, ...Array(15).fill(0), 0]),
  0xff, 0xda, 0, 14, 4, ...[1, 2, 3, 4].flatMap((id) => [id, 0]), 0, 63, 0, 0, 0xff, 0xd9,
]);

/** The camera's note “turn by 90° to the right” (Exif 2.32, tag 0x0112 = 6) put into a JPEG. @param {Buffer} jpeg */
export function turned(jpeg) {
  const tiff = [...ascii("II"), ...small(42, 2), ...small(8, 4), ...small(1, 2), ...small(0x112, 2), ...small(3, 2), ...small(1, 4), ...small(6, 2), 0, 0, ...small(0, 4)];
  const body = [...ascii("Exif"), 0, 0, ...tiff];
  return Buffer.concat([jpeg.subarray(0, 2), Buffer.from([0xff, 0xe1, ...big(body.length + 2, 2), ...body]), jpeg.subarray(2)]);
}

/** A picture drawn in the page. @param {Page} page @param {string} body of a function of the pen @param {number} width @param {number} height @param {string} type @returns {Promise<Buffer>} */
export async function drawn(page, body, width, height, type) {
  const base64 = await page.evaluate(async ([code, w, h, mime]) => {
    const canvas = document.createElement("canvas");
    [canvas.width, canvas.height] = [Number(w), Number(h)];
    new Function("pen", String(code))(canvas.getContext("2d"));
    const blob = /** @type {Blob} */ (await new Promise((done) => canvas.toBlob(done, String(mime), 0.9)));
    const url = /** @type {string} */ (await new Promise((done) => {
      const reader = new FileReader();
      reader.onload = () => done(reader.result);
      reader.readAsDataURL(blob);
    }));
    return url.split(",")[1];
  }, [body, width, height, type]);
  return Buffer.from(base64, "base64");
}

/** @param {Page} page @param {string} name @param {Buffer} bytes @param {string} [input] */
export async function give(page, name, bytes, input = "file") {
  await page.locator("#about").evaluate((node) => (node.dataset.was = node.textContent ?? ""));
  await page.setInputFiles(`#${input}`, { name, mimeType: "application/octet-stream", buffer: bytes });
}
/** Opened and on the screen. @param {Page} page @param {string} name @param {Buffer} bytes */
export async function opened(page, name, bytes) {
  await give(page, name, bytes);
  await page.waitForFunction((wanted) => document.getElementById("about")?.textContent?.startsWith(wanted), name);
  await settled(page);
}
/** The picture is on the stage, which has come to rest: its transform is the same for three frames. Until another picture is there,
 *  the transform of the one before stands. @param {Page} page */
export async function settled(page) {
  const seen = await page.evaluateHandle(() => ({ at: "", frames: 0 }));
  // Asked at each frame. A promise would not do: it is taken for an answer as it is.
  await page.waitForFunction((last) => {
    const world = /** @type {any} */ (window).OpenSeadragon.getViewer(document.querySelector("#stage .ground"))?.world;
    const whole = world?.getItemCount() && world.getItemAt(0).getFullyLoaded();
    const at = (whole && document.querySelector(".lines")?.getAttribute("transform")) || "";
    last.frames = at && at === last.at ? last.frames + 1 : 0;
    last.at = at;
    return last.frames >= 3;
  }, seen);
  await seen.dispose();
}
/** Refused. @param {Page} page @param {string} name @param {Buffer} bytes */
export async function refused(page, name, bytes) {
  await give(page, name, bytes);
  await page.waitForFunction((wanted) => document.getElementById("trouble")?.textContent?.includes(wanted), name);
  return text(page, "trouble");
}

/** Where a place of the image is on the page. @param {Page} page @param {number[]} at */
export async function onPage(page, at) {
  await page.locator("#stage").scrollIntoViewIfNeeded();
  return page.evaluate(([x, y]) => {
    const [zoom, , , , left, top] = (document.querySelector(".lines")?.getAttribute("transform") ?? "").match(/-?[\d.e-]+/g)?.map(Number) ?? [];
    const box = /** @type {Element} */ (document.querySelector(".openseadragon-canvas")).getBoundingClientRect();
    return /** @type {[number, number]} */ ([box.left + left + zoom * x, box.top + top + zoom * y]);
  }, at);
}
/** Whole pixels of the screen, as a hand's click would be. @param {Page} page @param {number[][]} places */
export async function click(page, ...places) {
  for (const at of places) {
    const [x, y] = await onPage(page, at);
    await page.mouse.click(Math.round(x), Math.round(y));
  }
}
export const tool = (/** @type {Page} */ page, /** @type {string} */ name) => page.locator(`[data-tool=${name}]`).click();
export const value = (/** @type {Page} */ page, /** @type {number} */ n) => page.locator("#results > li").nth(n).locator(".value").innerText();
export const numbers = (/** @type {string} */ words) => (words.replace(/−/g, "-").match(/-?\d+(\.\d+)?/g) ?? []).map(Number);

// A coin drawn with known numbers. Its clicks are found in its pixels, not taken from the numbers.
export const TRUE = { x: 1510, y: 1385, radius: 1120, lean: 14, along: 35, up: 6, hours: 6.2, reach: 0.78, tilt: 2.7, meets: 0.62 };
export const DEGREE = Math.PI / 180;
/** Drawn flat, seen leaning by TRUE.lean about the axis at TRUE.along. The stroke leans by TRUE.tilt on the line to the centre; each end of it is a dot. */
export const COIN_DRAWING = `
  const t = ${JSON.stringify(TRUE)}, d = Math.PI / 180;
  pen.fillStyle = "#101418"; pen.fillRect(0, 0, 3000, 2800);
  pen.translate(t.x, t.y); pen.rotate(t.along * d); pen.scale(1, Math.cos(t.lean * d)); pen.rotate((t.up - t.along) * d);
  const disc = (x, y, r, c) => { pen.fillStyle = c; pen.beginPath(); pen.arc(x, y, r, 0, 7); pen.fill(); };
  const at = (h, r) => [t.radius * r * Math.sin(h * 30 * d), -t.radius * r * Math.cos(h * 30 * d)];
  disc(0, 0, t.radius, "#b8b8b8");
  disc(...at(0, 0.8), 16, "#f00");
  const [x, y] = at(t.hours, t.reach);
  disc(x, y, 16, "#0f0");
  // Outwards along the line from the centre, turned clockwise as seen.
  const way = (t.hours * 30 + t.tilt) * d, dx = Math.sin(way), dy = -Math.cos(way);
  disc(x + 150 * dx, y + 150 * dy, 16, "#00f"); disc(x - 150 * dx, y - 150 * dy, 16, "#ff0");
  // A letter beside it, whose upright the stroke's line (from the blue to the yellow dot, and on) meets at TRUE.meets of its height.
  const px = x - 500 * dx, py = y - 500 * dy, ux = Math.cos(way + 0.3), uy = Math.sin(way + 0.3);
  disc(px - 200 * t.meets * ux, py - 200 * t.meets * uy, 16, "#f0f"); disc(px + 200 * (1 - t.meets) * ux, py + 200 * (1 - t.meets) * uy, 16, "#0ff");`;

/** Middles of the coloured dots, and places on the rim where the dark ground begins, by looking at pixels. @param {Page} page @param {Buffer} bytes */
export const seen = (page, bytes) => page.evaluate(async (base64) => {
  const image = new Image();
  image.src = `data:image/png;base64,${base64}`;
  await image.decode();
  const canvas = document.createElement("canvas");
  [canvas.width, canvas.height] = [image.width, image.height];
  const pen = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
  pen.drawImage(image, 0, 0);
  const { data } = pen.getImageData(0, 0, image.width, image.height);
  /** @type {Record<string, number[]>} */
  const dots = {};
  for (let i = 0; i < data.length; i += 4) {
    const [r, g, b] = [data[i], data[i + 1], data[i + 2]].map((c) => (c > 250 ? 1 : c < 5 ? 0 : 9));
    if (r + g + b > 2 || r + g + b === 0) continue;
    const dot = (dots[`${r}${g}${b}`] ??= [0, 0, 0]);
    dot[0] += ((i / 4) % image.width) + 0.5;
    dot[1] += Math.floor(i / 4 / image.width) + 0.5;
    dot[2] += 1;
  }
  const rim = [20, 65, 110, 155, 200, 245, 290, 335].map((degrees) => {
    const [dx, dy] = [Math.sin((degrees * Math.PI) / 180), -Math.cos((degrees * Math.PI) / 180)];
    let far = 600;
    while (data[4 * (Math.floor(1385 + far * dy) * image.width + Math.floor(1510 + far * dx))] > 90) far += 0.25;
    return [1510 + far * dx, 1385 + far * dy];
  });
  return { dots: Object.fromEntries(Object.entries(dots).map(([name, [x, y, n]]) => [name, [x / n, y / n]])), rim };
}, bytes.toString("base64"));

/** @param {Page} page @param {Buffer} bytes */
export async function measured(page, bytes) {
  const { dots, rim } = await seen(page, bytes);
  assert.equal(Object.keys(dots).length, 6, "all dots found");
  await opened(page, "coin.png", bytes);
  await page.locator("input[name=face][value=reverse]").check();
  await click(page, ...rim);
  await tool(page, "top");
  await click(page, dots["100"]);
  return { dots, rim };
}

// The demo pictures, drawn by the repository's own code, each with the numbers it was drawn from beside it: tests/draw/truth/.
export const beside = (/** @type {string} */ path) => fileURLToPath(new URL(`../../${path}`, import.meta.url));
/** @param {string} name */
export function demo(name) {
  const truth = JSON.parse(readFileSync(beside(`tests/draw/truth/${name}.json`), "utf8"));
  const { radius_px: radius, centre_px: centre, rotation_deg: up, ellipse } = truth;
  const lean = (ellipse?.tilt_deg ?? 0) * DEGREE;
  const axis = (ellipse?.major_axis_deg ?? 0) * DEGREE;
  /** Clock and reach to the image. @param {number} hours @param {number} reach */
  const at = (hours, reach) => {
    const bearing = (hours * 30 + up) * DEGREE;
    const [x, y] = [radius * reach * Math.sin(bearing), -radius * reach * Math.cos(bearing)];
    const [along, across] = [x * Math.cos(axis) + y * Math.sin(axis), (y * Math.cos(axis) - x * Math.sin(axis)) * Math.cos(lean)];
    return [centre[0] + along * Math.cos(axis) - across * Math.sin(axis), centre[1] + along * Math.sin(axis) + across * Math.cos(axis)];
  };
  return { truth, at, bytes: readFileSync(beside(`entries/demo/photos/orrin/${name}.png`)) };
}
/** Wheels in on a place until a pixel of the picture is at least so many of the screen. @param {Page} page @param {number[]} at @param {number} least */
export async function zoomOn(page, at, least) {
  const zoom = () => page.locator(".lines").evaluate((node) => Number(/matrix\(([\d.]+)/.exec(node.getAttribute("transform") ?? "")?.[1]));
  for (let turns = 0; turns < 30 && (await zoom()) < least; turns++) {
    await page.mouse.move(...(await onPage(page, at)));
    await page.mouse.wheel(0, -100);
    await settled(page);
  }
  assert.ok((await zoom()) >= least, "zoomed in");
}

/** Says in the shard, as it lies in memory, what a check means. @param {Page} page @param {string} id @param {string} against */
export const means = (page, id, against) => page.evaluate(([check, word]) => new Promise((done) => {
  /** @type {any} */ (window).Tellmark.shelf.country("orrin", (/** @type {any} */ country) => {
    country.checks.find((/** @type {any} */ one) => one.id === check).against = word;
    done(null);
  });
}), [id, against]);
