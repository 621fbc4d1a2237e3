// What is typed into the bench's fields: exact units, decimal commas, and what is expected where a text is refused.
// facts/units.json: the yard of 0.9144 m and the pound of 0.45359237 kg (exact, 1 July 1959; NBS Circular 572, addendum), the
// grain of 1/7000 lb (NIST Handbook 44, appendix C), worked out as fractions and compared with the library pint 0.24.4.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import vm from "node:vm";

import { speaker } from "./sentences.mjs";

const read = (/** @type {string} */ path) => readFileSync(new URL(path, import.meta.url), "utf8");
const context = vm.createContext({ Tellmark: { say: speaker("scales") } });
vm.runInContext("globalThis.window = globalThis;", context);
vm.runInContext(read("../../theme/bench/units.js"), context);
const units = context.Tellmark.units;
const facts = JSON.parse(read("facts/units.json"));
/** @type {Record<string, string>} Names of the facts → symbols of the page; the others are not taken at a bench. */
const SYMBOL = { grain: "gr", pennyweight: "dwt", "troy ounce": "oz t", "avoirdupois ounce": "oz av", inch: "in", "thousandth of an inch (mil, thou)": "mil" };

test("each factor is the exact one", () => {
  let held = 0;
  for (const one of facts.unit) {
    const symbol = SYMBOL[one.name];
    if (!symbol) continue;
    // A thousandth of an inch is below every range here, so a thousand of them is asked for.
    const many = symbol === "mil" ? 1000 : 1;
    const got = units.parse(`${many} ${symbol}`, one.to === "g" ? "weight" : "diameter", symbol);
    assert.equal(got.value, Number(one.exact) * many, one.name);
    held += 1;
  }
  assert.equal(held, 6);
});

test("worked conversions come out to the last digit, and go back to what was typed", () => {
  assert.ok(facts.mass_vector.length >= 10 && facts.length_vector.length >= 6);
  for (const one of facts.mass_vector) {
    const unit = SYMBOL[one.unit];
    const got = units.parse(`${one.value} ${unit}`, "weight", "g");
    assert.equal(got.value, Number(one.grams), `${one.value} ${one.unit}`);
    assert.equal(units.show(got.value, unit), `${Number(one.value)} ${unit}`);
  }
  for (const one of facts.length_vector) {
    const unit = SYMBOL[one.unit];
    const quantity = Number(one.mm) < 1 ? "wire" : Number(one.mm) < 3 ? "thickness" : "diameter";
    const got = units.parse(`${one.value} ${unit}`, quantity, "mm");
    assert.equal(got.value, Number(one.mm), `${one.value} ${one.unit}`);
    assert.equal(units.show(got.value, unit), `${Number(one.value)} ${unit}`);
  }
});

test("grams and millimetres shown in other units are the published ones", () => {
  for (const one of facts.back_vector) {
    assert.ok(Math.abs(units.to(Number(one.grams), "gr") - one.grains) < 6e-7, `${one.grams} g in grains`);
    assert.ok(Math.abs(units.to(Number(one.grams), "oz t") - one.troy_ounces) < 6e-10, `${one.grams} g in troy ounces`);
  }
  for (const one of facts.back_length_vector) assert.ok(Math.abs(units.to(Number(one.mm), "in") - one.inches) < 6e-8, `${one.mm} mm in inches`);
  // ITS-90 intervals: 0 °C is 32 °F, 100 °C 212 °F; 20 °C is 68 °F.
  assert.equal(units.to(20, "°F"), 68);
});

test("what is typed survives being stored and shown, over and over", () => {
  let seed = 12345;
  const next = () => (seed = (seed * 1103515245 + 12345) % 2147483648) / 2147483648;
  for (const unit of ["g", "gr", "dwt", "oz t", "oz av"]) {
    for (let i = 0; i < 400; i++) {
      const typed = String(Number((1 + next() * 50).toFixed(i % 6)));
      let text = `${typed} ${unit}`;
      for (let round = 0; round < 5; round++) text = units.show(units.parse(text, "weight", "g").value, unit);
      assert.equal(text, `${typed} ${unit}`);
    }
  }
  for (let i = 0; i < 400; i++) {
    const typed = String(Number((0.2 + next() * 3).toFixed(1 + (i % 5))));
    assert.equal(units.show(units.parse(typed, "diameter", "in").value, "in"), `${typed} in`);
    const warm = String(Number((33 + next() * 70).toFixed(i % 3)));
    assert.equal(units.show(units.parse(`${warm} F`, "temperature", "°C").value, "°F"), `${warm} °F`);
  }
});

test("units may be written as people write them, and what was typed is kept", () => {
  const takes = (/** @type {string} */ text, /** @type {string} */ quantity, /** @type {string} */ unit, /** @type {number} */ value, /** @type {string} */ typed, /** @type {string} */ used) => {
    const { value: got, typed: kept, unit: in_ } = units.parse(text, quantity, unit);
    assert.deepEqual([got, kept, in_], [value, typed, used], text);
  };
  takes("38.58 gr", "weight", "g", 2.4999419478, "38.58", "gr");
  takes("38.58 Grains", "weight", "g", 2.4999419478, "38.58", "gr");
  takes("1.5 dwt", "weight", "g", 2.33276076, "1.5", "dwt");
  takes("1 oz. t.", "weight", "g", 31.1034768, "1", "oz t");
  takes("0.705 in", "diameter", "mm", 17.907, "0.705", "in");
  takes('0.705"', "diameter", "mm", 17.907, "0.705", "in");
  takes("68 °F", "temperature", "°C", 20, "68", "°F");
  takes("68F", "temperature", "°C", 20, "68", "°F");
  takes(" 2.50g ", "weight", "gr", 2.5, "2.50", "g");
  takes("−0.3", "tilt", "°", -0.3, "-0.3", "°");
  takes("412.5", "weight", "gr", 26.729550375, "412.5", "gr");
  assert.equal(units.parse("26.73", "weight", "g").step, 0.01);
});

test("a decimal comma is one when it can be nothing else", () => {
  assert.equal(units.parse("2,50 g", "weight", "g").value, 2.5);
  assert.equal(units.parse("26,73", "weight", "g").value, 26.73);
  assert.equal(units.parse("0,705", "diameter", "in").value, 17.907);
  assert.equal(units.parse("26,7295", "weight", "g").value, 26.7295);
  assert.match(units.parse("1,234", "weight", "g").trouble, /1\.234 or 1234/);
  assert.match(units.parse("26,730", "weight", "g").trouble, /26\.730 or 26730/);
  for (const text of ["1,234.5", "1.234,5", "1,2,3", "1.2.3"]) assert.match(units.parse(text, "weight", "g").trouble, /One number/, text);
});

test("what cannot be is refused, with what is expected, and never becomes a number", () => {
  const bad = ["", "   ", "abc", "NaN", "Infinity", "-Infinity", "-5", "-0.00001", "0", "0.00", "-0", "1e9", "1e999", "1e-999", "1e-9", "999999999999999999", ".", ",", "-", "+", "e5", "0x10", "1/2 in", "5 mm", "5 °C", "5 kg", "5 g 3 gr", "1 2", "½", "٥", "5\u0000", "1_000", "<b>1</b>"];
  for (const text of bad) {
    const got = units.parse(text, "weight", "g");
    assert.equal(got.value, undefined, JSON.stringify(text));
    assert.match(got.trouble, /^.+\. Expected: a weight from 0\.02 g to 2000 g\.$/, JSON.stringify(text));
    assert.doesNotMatch(got.trouble, /NaN|undefined/, JSON.stringify(text));
  }
  assert.match(units.parse("5 oz", "weight", "g").trouble, /oz t.*oz av/, "the two ounces differ by 9.7 per cent");
  assert.match(units.parse("0.00", "weight", "g").trouble, /Nought/);
  assert.match(units.parse("-5", "weight", "g").trouble, /negative/);
});

test("a temperature that can only be in Fahrenheit is named as such", () => {
  assert.match(units.parse("68", "temperature", "°C").trouble, /68 °F.*20\.0 °C/);
  assert.doesNotMatch(units.parse("200", "temperature", "°C").trouble, /°F/);
  for (const text of ["-1", "41", "200 F", "-40 F", "1e-999 °F"]) assert.equal(units.parse(text, "temperature", "°C").value, undefined, text);
});

test("no value is shown as NaN, and no nought as less than nought", () => {
  for (const value of [NaN, Infinity, -Infinity]) assert.equal(units.show(value, "g", 2), "—");
  assert.equal(units.show(-0.001, "g", 2), "0.00 g");
  assert.equal(units.show(-0.25, "mm", 2), "−0.25 mm");
  assert.equal(units.show(180, "°"), "180°");
});
