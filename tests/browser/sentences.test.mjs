// Every sentence that a script of the bench may ask for stands on its page, once, and none stands there that nobody asks for.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { own, shared, speaker } from "./sentences.mjs";

const read = (/** @type {string} */ name) => readFileSync(new URL(`../../theme/bench/${name}`, import.meta.url), "utf8");
/** Names that scripts put together from parts. */
const MADE = /^a-(at|count|day|issue|one|page|sha256|short|size|spread|uuid|weight|reading|step|doubt|diameter|thickness|offset|wire|vessel|tilt|die-axis|temperature|density|pressure|humidity)$|^(gain|other-than|in|reading|method|wanted|axis|may-be|entry)-|-how$|^(not )?attracted$/;
const PAGES = ["index", "examination", "scales", "record", "photo-measure", "overlay"];

/** The scripts of a page. @param {string} page */
const scripts = (page) => [...read(`${page}.html`).matchAll(/look\/bench\/([a-z-]+\.js)"/g)].map(([, name]) => read(name));
/** What a script asks for by its whole name, under the name it has given to the page's `say`. @param {string} text */
const named = (text) => {
  const taken = /^ +const \{[^}]*\bsay(?:: (\w+))?\b[^}]*\} = tm/m.exec(text);
  return taken ? [...text.matchAll(new RegExp(`\\b(?:${taken[1] ?? "say"}|not)\\("([^"]+)"`, "g"))].map(([, name]) => name) : [];
};
const asked = (/** @type {string} */ text, /** @type {string} */ name) => MADE.test(name) || new RegExp(`["'\`]${name}["'\`]|\\b${name}: \\[`).test(text);

for (const page of PAGES) {
  test(`${page}: what its scripts ask for is there, once`, () => {
    const text = scripts(page).join("\n");
    const names = [...shared, ...own(page)].map(([name]) => name);
    assert.deepEqual(names.filter((name, at) => names.indexOf(name) !== at), [], "said twice");
    const wanted = scripts(page).flatMap(named);
    assert.ok(wanted.length > 10, `${wanted.length} asked for`);
    assert.deepEqual(wanted.filter((name) => !names.includes(name)), [], "missing");
    const copied = [...text.matchAll(/\bmake\("([^"]+)"/g)].map(([, name]) => name);
    assert.deepEqual(copied.filter((name) => !read(`${page}.html`).includes(`<template id="make-${name}">`)), [], "templates that are missing");
    assert.deepEqual(own(page).map(([name]) => name).filter((name) => !asked(text, name)), [], "asked for by nobody");
  });
}

test("of the shared sentences, none is asked for by nobody", () => {
  const text = PAGES.flatMap(scripts).join("\n");
  assert.ok(shared.length > 40);
  assert.deepEqual(shared.map(([name]) => name).filter((name) => !asked(text, name)), []);
});

test("the speaker of these tests fails where the page would have nothing to say", () => {
  const say = speaker("scales");
  assert.equal(say("reading", ["nought"], 2), "Reading 2: Nought is no measurement");
  assert.throws(() => say("no such sentence"), /has no sentence/);
  assert.throws(() => say("reading"), /nothing in it/);
});
