// Pictures good and bad, as the reader of first bytes takes them in Node, and as the page does in Chromium.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { after, describe, test } from "node:test";
import { fileURLToPath } from "node:url";
import vm from "node:vm";

import { bench, close } from "./bench.mjs";
import { ascii, big, bomb, chunk, click, drawn, gif, give, header, INKS, numbers, onPage, opened, PAGE, PNG, png, refused, small, text, tool, turned, value } from "./photos.mjs";

after(close);

/** @typedef {import("playwright-core").Page} Page */

// The pure reader of first bytes.
const context = vm.createContext({});
vm.runInContext("globalThis.window = globalThis;", context);
vm.runInContext(readFileSync(fileURLToPath(new URL("../../theme/bench/picture-file.js", import.meta.url)), "utf8"), context);
/** @type {(bytes: Uint8Array, name: string) => any} */
const sniff = context.Tellmark.sniff;

describe("what the first bytes of a file say", () => {
  // Sizes as the formats state them: PNG (W3C) 11.2.1; GIF89a 18, 20; JPEG (ITU-T T.81) B.2.2; WebP (RFC 9649) 2.5 to 2.7; BMP as Windows has it; AVIF's ispe (ISO/IEC 23008-12).
  const webp = (/** @type {number[]} */ body) => Buffer.from([...ascii("RIFF"), ...small(body.length + 4, 4), ...ascii("WEBP"), ...body]);
  const frame = (/** @type {number} */ parts) => [0xff, 0xc0, ...big(8 + 3 * parts, 2), 8, ...big(300, 2), ...big(400, 2), parts, ...Array(3 * parts).fill(1)];
  const jpeg = (/** @type {number[]} */ head, /** @type {number[]} */ end) => Buffer.from([0xff, 0xd8, ...head, 0xff, 0xda, 0, 8, 1, 1, 0, 0, 63, 0, 1, 2, 3, 0xff, 0, 9, ...end]);
  const END = [0xff, 0xd9];

  test("kind and size", () => {
    /** @type {[string, Buffer, string, number, number][]} */
    const cases = [
      ["a.png", png(7, 5), "PNG", 7, 5],
      ["a.gif", gif(), "GIF", 8, 8],
      ["a.jpg", jpeg(frame(3), END), "JPEG", 400, 300],
      ["thumbnail before the picture.jpg", jpeg([0xff, 0xe1, 0, 10, 0xff, 0xd8, 0xff, 0xc0, 0, 0xff, 0xd9, 0, ...frame(3)], END), "JPEG", 400, 300],
      ["a.webp", webp([...ascii("VP8X"), ...small(10, 4), 0, 0, 0, 0, ...small(1999, 3), ...small(999, 3)]), "WebP", 2000, 1000],
      ["b.webp", webp([...ascii("VP8L"), ...small(5, 4), 0x2f, ...small((299 & 0x3fff) | (199 << 14), 4)]), "WebP", 300, 200],
      ["c.webp", webp([...ascii("VP8 "), ...small(10, 4), 0, 0, 0, 0x9d, 1, 0x2a, ...small(640, 2), ...small(480, 2)]), "WebP", 640, 480],
      ["a.bmp", Buffer.from([...ascii("BM"), ...small(54, 4), 0, 0, 0, 0, ...small(54, 4), ...small(40, 4), ...small(20, 4), ...small(2 ** 32 - 10, 4), ...Array(28).fill(0)]), "BMP", 20, 10],
      ["a.avif", Buffer.from([...big(24, 4), ...ascii("ftypavif"), ...Array(12).fill(0), ...big(20, 4), ...ascii("ispe"), 0, 0, 0, 0, ...big(800, 4), ...big(600, 4)]), "AVIF", 800, 600],
    ];
    for (const [name, bytes, type, width, height] of cases) {
      const got = sniff(bytes, name);
      assert.deepEqual([got.trouble, got.type, got.width, got.height, [...got.notes].filter((note) => !note.startsWith("It moves"))], ["", type, width, height, []], name);
    }
  });

  test("what is refused, and why", () => {
    /** @type {[string, Buffer, RegExp][]} */
    const cases = [
      ["nothing.jpg", Buffer.alloc(0), /“nothing\.jpg” is empty/],
      ["letter.jpg", Buffer.from("Dear colleague"), /no picture that can be opened here. JPEG, PNG/],
      ["vector.svg", Buffer.from("<svg xmlns='http://www.w3.org/2000/svg'/>"), /no picture that can be opened here/],
      ["half.png", png(300, 200).subarray(0, 60), /breaks off: the end of the PNG is missing/],
      ["head.png", Buffer.from(PNG), /breaks off/],
      ["half.gif", gif().subarray(0, 60), /breaks off/],
      ["half.jpg", jpeg(frame(3), []), /breaks off: the end of the JPEG is missing/],
      ["head.jpg", Buffer.from([0xff, 0xd8, 0xff, 0xe0]), /breaks off/],
      ["half.webp", webp([...ascii("VP8X"), ...Array(40).fill(0)]).subarray(0, 40), /breaks off/],
      ["none.png", png(0, 0), /0 × 0 pixels. It is damaged/],
      ["flat.jpg", jpeg([0xff, 0xc0, 0, 11, 8, 0, 0, 1, 144, 1, 1, 1, 1], END), /400 × 0 pixels/],
      ["bomb.png", bomb, /60000 × 60000 pixels, 3600 megapixels. At most 120 megapixels/],
      ["long.png", Buffer.from([...PNG, ...header(40000, 10), ...chunk("IEND", [])]), /32000 pixels a side/],
      ["photo.heic", Buffer.from([...big(24, 4), ...ascii("ftypheic"), 0, 0, 0, 0]), /HEIC, which browsers do not show. Save it as JPEG or PNG/],
      ["raw.nef", Buffer.from([...ascii("MM"), 0, 42, 0, 0, 0, 8]), /TIFF or a camera's raw file/],
      ["scan.pdf", Buffer.from("%PDF-1.7"), /PDF/],
    ];
    for (const [name, bytes, words] of cases) assert.match(sniff(bytes, name).trouble, words, name);
  });

  test("what is opened with a word", () => {
    assert.match(sniff(png(3, 3), "coin.jpg").notes[0], /Named \.jpg, but it is a PNG/);
    assert.match(sniff(gif(), "coin.gif").notes[0], /It moves; its first frame/);
    assert.match(sniff(jpeg(frame(4), END), "coin.jpg").notes[0], /printing inks \(CMYK\)/);
    assert.match(sniff(turned(jpeg(frame(3), END)), "coin.jpg").notes[0], /noted a rotation/);
    assert.deepEqual([...sniff(jpeg(frame(3), END), "COIN.JPEG").notes], []);
    const moving = Buffer.from([...PNG, ...header(3, 3), ...chunk("acTL", [...big(2, 4), ...big(0, 4)]), ...chunk("IEND", [])]);
    assert.match(sniff(moving, "coin.png").notes[0], /It moves/);
  });

  test("no bytes make it fail", () => {
    // A small generator with a fixed seed; half of the files begin as a picture does.
    let state = 7;
    const next = () => (state = (Math.imul(state, 1664525) + 1013904223) >>> 0) >>> 24;
    const starts = [png(4, 4), gif(), jpeg(frame(3), END), webp([...ascii("VP8X"), 1, 2, 3]), Buffer.from([...big(24, 4), ...ascii("ftypavif")]), turned(jpeg(frame(3), END))];
    for (let round = 0; round < 4000; round++) {
      const bytes = round % 2 ? Uint8Array.from({ length: next() }, next) : Uint8Array.from(starts[round % starts.length]);
      for (let n = 0; n < 3 && bytes.length; n++) bytes[(next() * 256 + next()) % bytes.length] = next();
      const got = sniff(bytes, "x");
      assert.equal(typeof got.trouble, "string");
      assert.ok(got.trouble || (got.width > 0 && got.height > 0 && got.width * got.height <= 120e6), "opened only with a size that can be");
    }
  });
});

test("bad pictures each give their message, nothing fails, and the open marks stay", async () => {
  const one = await bench({ still: true });
  const page = await one.open(PAGE);
  const jpeg = await drawn(page, "pen.fillStyle='#777';pen.fillRect(0,0,640,480);", 640, 480, "image/jpeg");
  await opened(page, "good.jpg", jpeg);
  await click(page, [100, 100], [500, 100], [300, 400]);
  assert.equal(await page.locator(".on-rim").count(), 3);
  const said = await text(page, "rim-said");
  assert.match(said, /^Radius \d/);

  const broken = Buffer.from([...PNG, ...header(64, 64), ...chunk("IDAT", [1, 2, 3, 4, 5, 6]), ...chunk("IEND", [])]);
  /** @type {[string, Buffer, RegExp][]} */
  const cases = [
    ["empty.jpg", Buffer.alloc(0), /is empty/],
    ["letter.png", Buffer.from("not a picture"), /no picture/],
    ["broken.png", broken, /cannot be read: it is damaged/],
    ["truncated.jpg", jpeg.subarray(0, jpeg.length / 2), /breaks off/],
    ["zero.png", png(0, 0), /0 × 0/],
    ["bomb.png", bomb, /3600 megapixels/],
    ["phone.heic", Buffer.from([...big(24, 4), ...ascii("ftypheic"), 0, 0, 0, 0]), /HEIC/],
    ["marks.json", Buffer.from("{"), /no file of marks/],
  ];
  for (const [name, bytes, words] of cases) {
    assert.match(await refused(page, name, bytes), words, name);
    assert.equal(await page.locator(".on-rim").count(), 3, `marks kept after ${name}`);
    assert.equal(await text(page, "rim-said"), said, `fit kept after ${name}`);
    assert.match(await text(page, "about"), /^good\.jpg · 640 × 480 px/, name);
  }
  // A damaged picture makes no noise beyond its message.
  assert.deepEqual(one.log, []);
  await one.close();
});

/** Colour of the stage at a place of the image. @param {Page} page @param {number[]} at */
async function colour(page, at) {
  const [x, y] = await onPage(page, at);
  return page.evaluate(([left, top]) => {
    const canvas = /** @type {HTMLCanvasElement} */ (document.querySelector(".openseadragon-canvas canvas"));
    const box = canvas.getBoundingClientRect();
    const scale = canvas.width / box.width;
    const one = document.createElement("canvas");
    const pen = /** @type {CanvasRenderingContext2D} */ (one.getContext("2d", { willReadFrequently: true }));
    pen.drawImage(canvas, (box.left - left) * scale, (box.top - top) * scale);
    return Array.from(pen.getImageData(0, 0, 1, 1).data).slice(0, 3).map(Number);
  }, [x, y]);
}

test("animated, four-ink, misnamed and turned pictures are opened, said to be so, and measured as shown", async () => {
  const one = await bench({ still: true });
  const page = await one.open(PAGE);
  await opened(page, "moving.gif", gif());
  assert.match(await text(page, "notes"), /It moves; its first frame is shown/);
  const [red, , blue] = await colour(page, [4, 4]);
  assert.ok(red > 200 && blue < 60, `the first frame, red: ${red}, ${blue}`);

  await opened(page, "inks.jpg", INKS);
  assert.match(await text(page, "notes"), /CMYK/);
  assert.match(await text(page, "about"), /8 × 8 px/);

  await opened(page, "named.jpg", png(40, 30));
  assert.match(await text(page, "notes"), /Named \.jpg, but it is a PNG/);

  // Stored 400 × 300 with a red patch in the stored top left corner; turned to the right that is the top right of 300 × 400.
  const stored = await drawn(page, "pen.fillStyle='#08f';pen.fillRect(0,0,400,300);pen.fillStyle='#f00';pen.fillRect(0,0,80,80);", 400, 300, "image/jpeg");
  await opened(page, "phone.jpg", turned(stored));
  assert.match(await text(page, "about"), /300 × 400 px/);
  assert.match(await text(page, "notes"), /noted a rotation/);
  const [inPatch] = await colour(page, [260, 40]);
  const [outside] = await colour(page, [40, 40]);
  assert.ok(inPatch > 200 && outside < 60, `${inPatch}, ${outside}`);
  await tool(page, "distance");
  await click(page, [220, 80], [300, 80]);
  const [px] = numbers(await value(page, 0));
  assert.ok(Math.abs(px - 80) <= 1, `the patch is 80 px wide as shown: ${px}`);
  assert.deepEqual(one.log, []);
  await one.close();
});
