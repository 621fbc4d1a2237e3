// A slower machine, for finding tests that read before a page is done:
//
//   TELLMARK_SLOW=6 node --test tests/browser/record.test.mjs
//
// The processor of every page is that many times slower, and whatever a page must wait for comes 300 ms late. Tests that
// measure time give their numbers in this mode and do not judge them.

import assert from "node:assert/strict";

const rate = Number(process.env.TELLMARK_SLOW ?? 1);
export const slow = rate > 1;

/** A time that was measured is at most this, on a machine that was not slowed down. @param {number} took @param {number} most @param {string} what */
export const within = (took, most, what) => assert.ok(slow || took <= most, `${what}: ${took.toFixed(1)} ms, and ${most} at most`);

/** @param {import("playwright-core").BrowserContext} context */
export async function slowDown(context) {
  if (!slow) return;
  await context.addInitScript(late, 300);
  await context.route(/\/bench\/(know|pictures)\/[^?]*\.js|\/search\/[^?]*\.js/, (route) => void setTimeout(() => route.continue().catch(() => {}), 300));
}

/** @param {import("playwright-core").Page} page */
export async function slowPage(page) {
  if (slow) await (await page.context().newCDPSession(page)).send("Emulation.setCPUThrottlingRate", { rate });
}

/** Runs in the page, before its scripts. @param {number} ms */
function late(ms) {
  const w = /** @type {any} */ (window);
  const wait = () => new Promise((done) => setTimeout(done, ms));
  for (const [of, name] of [[Blob.prototype, "text"], [Blob.prototype, "arrayBuffer"], [w, "createImageBitmap"], [HTMLImageElement.prototype, "decode"]]) {
    const work = of[name];
    of[name] = async function (/** @type {any[]} */ ...given) {
      await wait();
      return work.apply(this, given);
    };
  }
  for (const [of, name] of [[FileReader.prototype, "readAsText"], [FileReader.prototype, "readAsArrayBuffer"], [FileReader.prototype, "readAsDataURL"], [HTMLCanvasElement.prototype, "toBlob"]]) {
    const work = /** @type {any} */ (of)[name];
    /** @type {any} */ (of)[name] = function (/** @type {any[]} */ ...given) {
      void wait().then(() => work.apply(this, given));
    };
  }
  const image = /** @type {any} */ (Object.getOwnPropertyDescriptor(HTMLImageElement.prototype, "src"));
  Object.defineProperty(HTMLImageElement.prototype, "src", { ...image, set(url) { void wait().then(() => image.set.call(this, url)); } });
  Object.defineProperty(w, "onhashchange", { set: (/** @type {any} */ done) => w.addEventListener("hashchange", done) });
  // What another tab has written, and what the address now asks for, is told of late, too.
  const listen = w.addEventListener;
  w.addEventListener = (/** @type {string} */ what, /** @type {any} */ done, /** @type {any} */ how) =>
    listen.call(w, what, /^(storage|hashchange)$/.test(what) ? (/** @type {Event} */ event) => void wait().then(() => done(event)) : done, how);
}
