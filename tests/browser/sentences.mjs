// What the scripts of the bench say stands in the pages: its sentences for scripts that run in plain Node.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";

const theme = (/** @type {string} */ name) => readFileSync(new URL(`../../theme/bench/${name}`, import.meta.url), "utf8");
const inside = (/** @type {string} */ text) => [...text.matchAll(/<p data-name="([^"]+)">(.*?)<\/p>/g)].map(([, name, words]) => [name, words]);

/** Sentences of several pages: name and text, in their order. */
export const shared = inside(theme("sentences.html"));
/** A page's own. @param {string} page */
export const own = (page) => inside(theme(`${page}.html`));

/** As `filling.js` says them on a page, but a sentence that is not there, or a gap with nothing for it, fails. @param {string} page */
export function speaker(page) {
  const sentences = Object.fromEntries([...shared, ...own(page)]);
  /** @param {any[]} saying @returns {string} */
  const say = (...[name, ...values]) => {
    const text = sentences[name] ?? assert.fail(`${page} has no sentence “${name}”`);
    return text.replace(/\{(\w+)\}/g, (/** @type {string} */ _, /** @type {any} */ gap) => {
      const value = values[gap] ?? assert.fail(`“${name}” has a gap with nothing in it`);
      return Array.isArray(value) ? say(...value) : String(value);
    });
  };
  return say;
}
