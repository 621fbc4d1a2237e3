// Water, air, hydrostatic weighing, its budget of uncertainty, and what a density says of a metal, held to outside values.
// facts/water-density.json: Tanaka and others, Metrologia 38 (2001) 301; IAPWS-95 by the library iapws 1.5.5; CIPM-2007 (Picard and
// others, Metrologia 45 (2008) 149); ethanol by CoolProp 8.0.0 (Schroeder and others 2014).
// facts/hydrostatic.json: formulas of balance makers' manuals, JCGM 100 and 101:2008, worked with uncertainties 3.2.3 and numpy 2.4.6.
// facts/metals.json: element densities of periodictable 2.1.0, printed alloys, mixtures worked out by additive volume.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import vm from "node:vm";

import { speaker } from "./sentences.mjs";

const read = (/** @type {string} */ path) => readFileSync(new URL(path, import.meta.url), "utf8");
const say = speaker("scales");
const context = vm.createContext({ Tellmark: { say } });
vm.runInContext("globalThis.window = globalThis;", context);
for (const name of ["water", "weighing", "alloys", "line"]) vm.runInContext(read(`../../theme/bench/${name}.js`), context);
const { water, weighing, alloys } = context.Tellmark;
// The words are the page's: what a script says is the name of a sentence there, and what stands in its gaps.
const words = (/** @type {BenchSaying} */ saying) => say(...saying);
/** The groups of metals as the generator has them. @type {SiteKnowledge["inseparable"]} */
const groups = [...read("../../generator/reckon/mixtures.rs").matchAll(/Inseparable \{ low: ([\d.]+), high: ([\d.]+), words: "(.+?)" \}/g)].map(([, low, high, text]) => ({ low: Number(low), high: Number(high), words: text }));
const fluids = JSON.parse(read("facts/water-density.json"));
const facts = JSON.parse(read("facts/hydrostatic.json"));
const metals = JSON.parse(read("facts/metals.json"));

const near = (/** @type {number} */ got, /** @type {number} */ want, /** @type {number} */ give, what = "") =>
  assert.ok(Math.abs(got - want) <= give, `${what}: ${got} for ${want}, ${Math.abs(got - want)} off, ${give} allowed`);
const last = (/** @type {number} */ want) => 0.51 * 10 ** -(String(want).split(".")[1]?.length ?? 0);

/** mulberry32 (public domain) and Box–Muller. @param {number} seed */
function chance(seed) {
  const flat = () => {
    seed = (seed + 0x6d2b79f5) | 0;
    let t = Math.imul(seed ^ (seed >>> 15), 1 | seed);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  return { flat, normal: () => Math.sqrt(-2 * Math.log(1 - flat())) * Math.cos(2 * Math.PI * flat()) };
}

/** A vector's weighing; the standard uncertainty of a reading is given whole, as a calibration. @param {any} one @param {"hung" | "vessel"} setup */
function weighed(one, setup) {
  const gas = { density: one.rho_air, slope: 0, uncertainty: one.u_rho_air, words: "air" };
  const fluid = { ...water.liquid("water", one.t_C), uncertainty: 0 };
  return { setup, air: [one.m_air], liquid: [setup === "hung" ? one.m_water : one.reading], gauge: { step: 0, scatter: 0, calibration: one.u_m }, fluid, temperature: one.t_C, warmth: one.u_t, gas, hanger: null };
}
const term = (/** @type {any} */ got, /** @type {string} */ name) => {
  const found = got.terms.find((/** @type {any} */ one) => words(one.name).startsWith(name));
  if (found) assert.match(words([`${found.name[0]}-how`, ...found.name.slice(1)]), /\([AB]\)$/, `${name}: how it was evaluated`);
  assert.ok(found, `${name} is in the budget`);
  return found;
};

test("water is Tanaka's at every degree and half degree, and IAPWS-95 within what the two differ by", () => {
  const rows = [...fluids.water.table.rows, ...fluids.water.table_half.rows];
  assert.ok(rows.length >= 55);
  for (const [t, tanaka, iapws] of rows) {
    const got = water.liquid("water", t).density * 1000;
    near(got, tanaka, 6e-7, `${t} °C`);
    near(got, iapws, fluids.water.comparison.max_abs_difference_kg_m3 + 1e-6, `${t} °C, IAPWS-95`);
  }
  for (const [t, , , , beta] of fluids.water.table.rows) near((-water.liquid("water", t).slope / water.liquid("water", t).density) * 1e6, beta, 0.002, `expansion at ${t} °C`);
  for (const one of fluids.water.published) near(water.liquid("water", one.t_C).density * 1000, one.rho_kg_m3, last(one.rho_kg_m3), one.source);
  assert.ok(Math.abs(water.liquid("water", 20).density * 1000 - fluids.water.not_the_same_formula.value_20C) > 0.02, "not the look-alike formula");
});

test("ethanol is within 0.001 kg/m³ of the equation of state, and its expansion within half a per cent", () => {
  for (const one of fluids.solvent.ethanol) {
    const got = water.liquid("ethanol", one.t_C);
    near(got.density * 1000, one.rho_kg_m3, 0.001, `${one.t_C} °C`);
    near((-got.slope / got.density) * 1000, one.beta_1e_3_per_K, 0.005, `expansion at ${one.t_C} °C`);
  }
});

test("air is the simplified formula's, and within 0.0003 of CIPM-2007 wherever it is not refused", () => {
  const full = fluids.air.cipm2007_full;
  /** The full formula, written out here from its published constants. @param {number} hPa @param {number} rh @param {number} t */
  const cipm = (hPa, rh, t) => {
    const p = hPa * 100, T = t + 273.15;
    const psv = Math.exp(full.A * T * T + full.B * T + full.C + full.D / T);
    const xv = ((rh / 100) * (1.00062 + 3.14e-8 * p + 5.6e-7 * t * t) * psv) / p;
    const z = 1 - (p / T) * (full.z_a0 + full.z_a1 * t + full.z_a2 * t * t + (full.z_b0 + full.z_b1 * t) * xv + (full.z_c0 + full.z_c1 * t) * xv * xv) + (p / T) ** 2 * (full.z_d + full.z_e * xv * xv);
    return ((p * 28.96546e-3) / (z * full.R * T)) * (1 - xv * (1 - full.Mv_kg_mol / 28.96546e-3));
  };
  for (const one of fluids.air.vector) {
    near(water.air(one.p_hPa, one.rh_percent, one.t_C).density * 1000, one.simplified_kg_m3, 6e-7, one.note);
    near(cipm(one.p_hPa, one.rh_percent, one.t_C), one.cipm2007_kg_m3, 1e-6, "the full formula of this test");
  }
  let worst = 0;
  for (let p = 600; p <= 1100; p += 20) for (let h = 0; h <= 80; h += 10) for (let t = 10; t <= 30; t++) worst = Math.max(worst, Math.abs((water.air(p, h, t).density * 1000) / cipm(p, h, t) - 1));
  assert.ok(worst < 0.0003 && worst > 0.0002, `the worst is ${worst}`);
  assert.equal(water.ROOM.density * 1000, fluids.air.typical.rho_kg_m3);
});

test("outside their ranges water, ethanol and air are refused, and a Fahrenheit reading is guessed", () => {
  for (const t of [-0.1, 40.1, NaN, Infinity, 1e9]) assert.match(words(water.liquid("water", t).trouble), /from 0 to 40 °C/);
  for (const t of [14.9, 30.1, NaN]) assert.match(words(water.liquid("ethanol", t).trouble), /from 15 to 30 °C/);
  assert.match(words(water.liquid("water", 68).trouble), /68 °F would be 20\.0 °C/);
  for (const [p, h, t] of [[599, 50, 20], [1101, 50, 20], [1013, -1, 20], [1013, 81, 20], [1013, 50, 9], [1013, 50, 31], [NaN, 50, 20], [1013, NaN, 20], [1013, 50, NaN]]) {
    const { field, trouble } = water.air(p, h, t);
    assert.equal(field, p >= 600 && p <= 1100 ? (h >= 0 && h <= 80 ? "temperature" : "humidity") : "pressure");
    assert.match(words(trouble), /600 to 1100 hPa, from 10 to 30 °C and for a humidity of 0 to 80 %/, `${p} ${h} ${t}`);
  }
});

test("density, sensitivities, contributions and uncertainty of each hung weighing", () => {
  assert.ok(facts.vector.length >= 15);
  for (const one of facts.vector) {
    const got = weighing.density(weighed(one, "hung"));
    near(got.density, one.density, 6e-6, one.id);
    near(got.simple, one.density_without_air, 6e-6, `${one.id} without air`);
    // The uncertainty of a reading is printed rounded, and the whole scales with it.
    const rounded = (one.u * last(one.u_m)) / one.u_m;
    near(got.u, one.u, 6e-7 + (String(one.u_m).length > 8 ? rounded : 9e-7), `${one.id} u`);
    near(got.U, one.U2, 6e-7 + 2 * (String(one.u_m).length > 8 ? rounded : 9e-7), `${one.id} U`);
    near(got.terms.reduce((/** @type {number} */ sum, /** @type {any} */ line) => sum + line.share, 0), 1, 1e-12, "shares");
    if (one.c_m_air === undefined) continue;
    near(got.volume, one.volume_cm3, 6e-6, `${one.id} volume`);
    near(term(got, "In air").c, one.c_m_air, 6e-6, `${one.id} c air`);
    near(term(got, "Hung").c, one.c_m_water, 6e-6, `${one.id} c water`);
    near(term(got, "Temperature").c, one.c_t, 2e-6, `${one.id} c t`);
    near(term(got, "Density of air").c, one.c_rho_a, 6e-6, `${one.id} c air density`);
    near(term(got, "In air").part, one.part_m_air, 1.5e-6, `${one.id} part air`);
    near(term(got, "Hung").part, one.part_m_water, 1.5e-6, `${one.id} part water`);
    near(term(got, "Temperature").part, one.part_t, 1.5e-6, `${one.id} part t`);
    near(term(got, "Density of air").part, one.part_rho_air, 1.5e-6, `${one.id} part air density`);
    near(got.density, one.uncertainties_density, 6e-6, `${one.id}, package uncertainties`);
    near(got.u, one.uncertainties_u, 1.5e-6, `${one.id}, package uncertainties`);
  }
  const known = weighing.density({ ...weighed(facts.vector[0], "hung"), fluid: { ...water.liquid("water", 20), uncertainty: 1e-4 } });
  near(term(known, "Density of distilled").c, facts.vector[0].c_rho_w, 6e-6, "c liquid density");
});

test("the same for the vessel on the pan", () => {
  for (const one of facts.vessel_vector) {
    const got = weighing.density(weighed(one, "vessel"));
    near(got.density, one.density, 6e-6, one.id);
    near(got.simple, one.density_without_air, 6e-6, one.id);
    near(got.u, one.u, 1.5e-6, one.id);
    near(term(got, "In air").c, one.c_m_air, 6e-6, one.id);
    near(term(got, "Vessel").c, one.c_reading, 6e-6, one.id);
  }
});

test("the interval's ends are those of the published Monte Carlo, lopsided where the budget is wide", () => {
  for (const one of facts.vector) {
    const got = weighing.density(weighed(one, "hung"));
    // k = 2 covers 95.45 %, the published limits 95 %; rectangular inputs have shorter tails still.
    const give = (one.distribution === "normal" ? 0.03 : 0.06) * one.U2 + 6e-4;
    near(got.low, one.mc_low95, give, `${one.id} low`);
    near(got.high, one.mc_high95, give, `${one.id} high`);
    near(got.u, one.mc_u, 0.005 * one.mc_u + 6e-6, `${one.id} u by Monte Carlo`);
    assert.equal(got.cautions.some((/** @type {string} */ name) => /lopsided/.test(words([name]))), one.u / one.density > 0.03, `${one.id} warns`);
  }
});

test("the law of propagation agrees with a Monte Carlo of this test's own", () => {
  const draws = 200_000, random = chance(20261125);
  for (const [setup, air, shown, hanger] of /** @type {[any, number, number, any][]} */ ([["hung", 26.73, 24.146, { wires: 2, wire: 0.7, vessel: 76 }], ["vessel", 5, 0.558, { wires: 1, wire: 0.2, vessel: 60 }], ["hung", 6.25, 5.65, null]])) {
    const input = { setup, air: [air], liquid: [shown], gauge: { step: 0.001, scatter: 0.0007, calibration: 0.0003 }, fluid: water.liquid("tap", 22), temperature: 22, warmth: 0.3, gas: water.ROOM, hanger };
    const got = weighing.density(input);
    const off = (/** @type {number} */ u) => u * random.normal();
    let sum = 0, squares = 0;
    for (let i = 0; i < draws; i++) {
      // Every source is drawn for itself and the published formula applied; sensitivities are nowhere used.
      const reading = (/** @type {number} */ value) => value + off(0.0007) + (random.flat() - random.flat()) * 0.001 + off(0.0003);
      const m = reading(air);
      const own = hanger ? 1 - (hanger.wires * hanger.wire ** 2) / hanger.vessel ** 2 : 1;
      const pull = hanger ? (Math.PI * hanger.wires * hanger.wire * 0.0728) / 9.80665 : 0;
      const r = reading(shown) + off(pull / 10);
      const t = 22 + off(0.3);
      const rhoW = water.liquid("water", t).density + off(0.0004 / Math.sqrt(3)), rhoA = 0.0012 + off(5e-5);
      const rho = rhoA + ((rhoW - rhoA) * m) / ((setup === "hung" ? m - r : r) * (own + off((1 - own) / 5)));
      sum += rho;
      squares += rho * rho;
    }
    const middle = sum / draws, u = Math.sqrt(squares / draws - middle ** 2);
    near(got.u / u, 1, 0.01, `${setup}: u ${got.u} by law, ${u} by chance`);
    near(got.density, middle, 0.02 * got.u + got.u ** 2 / got.density, setup);
  }
});

test("repeats, rounding and known scatter as the GUM has them", () => {
  // JCGM 100:2008, 4.2.3 and 4.3.7: s/√n; a reading with both ends rounded d/√6.
  const gauge = { step: 0.01, scatter: 0, calibration: 0 };
  const got = weighing.measure([5.01, 5.03, 5.02], ["as-said", "Weight"], "g", gauge);
  near(got.value, 5.02, 1e-12);
  near(term(got, "Weight: scatter").u, 0.01 / Math.sqrt(3), 1e-12);
  assert.equal(term(got, "Weight: scatter").free, 2);
  near(term(got, "Weight: rounding").u, 0.01 * facts.uncertainty.gum.resolution_factor_tared, 1e-8);
  // Welch–Satterthwaite by hand: (a² + b²)² / (a⁴/2), rounding being known for certain.
  const a = 0.01 / Math.sqrt(3), b = 0.01 / Math.sqrt(6);
  near(got.free, (a * a + b * b) ** 2 / (a ** 4 / 2), 1e-9);
  near(term(weighing.measure([5, 5, 5, 5], ["as-said", "Weight"], "g", { step: 0, scatter: 0.02, calibration: 0 }), "Weight: scatter").u, 0.01, 1e-12);
  assert.equal(weighing.measure([5], ["as-said", "Weight"], "g", { step: 0, scatter: 0, calibration: 0 }).u, 0, "nothing known, nothing claimed");
  const one = facts.formula.hanger_correction, fluid = water.liquid("water", 20);
  const base = { setup: "hung", air: [26.73], liquid: [24.146], gauge, fluid, temperature: 20, warmth: 0, gas: water.ROOM };
  const own = term(weighing.density({ ...base, hanger: { wires: one.example_n, wire: one.example_d_mm, vessel: one.example_D_mm } }), "Rise").value;
  near(own, one.example_corr, 6e-8);
  near(own, one.printed_value, 6e-6, one.source);
  near(weighing.skin(1, facts.formula.surface_tension.d_mm) * 1000, facts.formula.surface_tension.pull_mg, 0.001);
  near(weighing.skin(1, facts.formula.surface_tension.d_mm_2) * 1000, facts.formula.surface_tension.pull_mg_2, 0.001);
  assert.match(weighing.density({ ...base, hanger: null }).cautions.map((/** @type {string} */ name) => words([name])).join(), /three times or more/);
});

test("what balances of a given step can do, as tabled", () => {
  let held = 0;
  for (const one of facts.capability) {
    // The table takes one reading in air and one in water, each with both ends rounded, and nothing else.
    const loss = (one.mass_g * (water.liquid("water", 20).density - 0.0012)) / (10.3139 - 0.0012);
    const got = weighing.density({ setup: "hung", air: [one.mass_g], liquid: [one.mass_g - loss], gauge: { step: one.step_g, scatter: 0, calibration: 0 }, fluid: { ...water.liquid("water", 20), uncertainty: 0 }, temperature: 20, warmth: 0.5 / Math.sqrt(3), gas: water.ROOM, hanger: null });
    if (loss < 3 * one.step_g || one.u_density_900 / 10.3139 > 0.2) assert.ok(got.trouble, `${one.mass_g} g on ${one.step_g} g is refused`);
    else near(got.u, one.u_density_900, 0.01 * one.u_density_900 + 6e-5, `${one.mass_g} g on ${one.step_g} g`), (held += 1);
  }
  assert.ok(held >= 14, `${held}`);
});

test("readings that cannot be a coin's are named at their field", () => {
  const say = (/** @type {number} */ air, /** @type {number} */ liquid, setup = "hung") =>
    weighing.density({ setup, air: [air], liquid: [liquid], gauge: { step: 0.01, scatter: 0, calibration: 0 }, fluid: water.liquid("water", 20), temperature: 20, warmth: 0.3, gas: water.ROOM, hanger: null });
  /** @type {Record<string, [string, RegExp]>} */
  const answers = {
    "equal readings": ["liquid", /immersed.*copied/], "water reading larger": ["liquid", /swapped/], floats: ["liquid", /float.*tared.*vessel/], "zero mass": ["weight", /above nought/],
    "negative air reading": ["weight", /above nought/], "difference below 3 steps": ["liquid", /three steps/], "buoyancy entered as water reading": ["liquid", /vessel on the pan\? Then it is 10\.29/],
    "not a number": ["weight", /above nought/], "density above 22.6": ["liquid", /24\.9.*osmium/],
  };
  assert.equal(facts.bad_input.length, Object.keys(answers).length);
  for (const one of facts.bad_input) {
    const number = (/** @type {any} */ value) => (typeof value === "number" ? value : NaN);
    const got = say(number(one.m_air), number(one.m_water));
    const [field, expected] = answers[one.case];
    assert.equal(got.field, field, one.case);
    assert.match(words(got.trouble), expected, one.case);
    assert.equal(got.density, undefined, one.case);
    assert.doesNotMatch(words(got.trouble), /NaN|Infinity/, one.case);
  }
  assert.match(words(say(5, -0.56, "vessel").trouble), /not less/);
  assert.match(words(say(5, 4.44, "vessel").trouble), /hung from the balance\? Then it is 8\.9/);
  assert.match(words(say(5, 5.2, "vessel").trouble), /lighter than any coin\. Weigh again/);
  assert.match(words(say(5, NaN).trouble), /reading in the liquid/);
  assert.equal(weighing.density({ ...weighed(facts.vector[0], "hung"), fluid: { density: 0.001, slope: 0, uncertainty: 0, words: "air" } }).field, "fluid");
});

test("no readings whatever, however wild, give a number that is none", () => {
  const random = chance(7), wild = [0, -1, 1e-9, 1e9, NaN, Infinity, -Infinity, 5, 4.44, 0.56, 26.73];
  const pick = () => (random.flat() < 0.5 ? wild[Math.floor(random.flat() * wild.length)] : random.flat() * 30);
  for (let i = 0; i < 20_000; i++) {
    const many = () => Array.from({ length: 1 + Math.floor(random.flat() * 3) }, pick);
    const got = weighing.density({ setup: random.flat() < 0.5 ? "hung" : "vessel", air: many(), liquid: many(), gauge: { step: 0.01, scatter: 0, calibration: 0 }, fluid: water.liquid("water", 20), temperature: 20, warmth: 0.3, gas: water.ROOM, hanger: null });
    if (got.trouble) continue;
    for (const key of ["density", "u", "U", "low", "high", "simple", "volume"]) assert.ok(Number.isFinite(got[key]), `${key} ${got[key]}`);
    assert.ok(got.low <= got.density && got.density <= got.high && got.low > 0);
  }
});

const told = (/** @type {any} */ fineness) => alloys.finenessWords(fineness).map(words).join(" ");

test("silver fineness back from density, with its uncertainty", () => {
  assert.equal(alloys.share(facts.fineness.formula.rho_ag, 10.49, 8.96), 1);
  let held = 0;
  for (const one of facts.fineness.vector) {
    // One vector leaves the allowance for the rule out; the page never does.
    const got = alloys.fineness(one.density, one.u_density, [], one.u_model);
    if (one.u_model === 0.02) assert.deepEqual(got, alloys.fineness(one.density, one.u_density), "the page's own allowance");
    near(got.value, one.fineness_per_mille, 6e-4, one.id);
    near(got.u, one.u_per_mille, 6e-4, one.id);
    near(got.c.density, one.c_rho, 1e-6, one.id);
    near(got.c.silver, one.c_rho_ag, 1e-6, one.id);
    near(got.c.copper, one.c_rho_cu, 1e-6, one.id);
    assert.equal(got.outside !== "", one.raw_outside_0_1, one.id);
    assert.match(told(got), one.raw_outside_0_1 ? /no silver–copper alloy/ : /^If it is silver and copper only/, one.id);
    assert.equal(one.answer.startsWith("in range") ? "" : one.answer.slice(0, 12).replace(" ", "-"), got.outside, one.id);
    held += 1;
  }
  assert.equal(held, facts.fineness.vector.length);
  for (const one of facts.fineness.from_weighing) {
    const vector = facts.vector.find((/** @type {any} */ other) => other.id === one.vector);
    // H18's weighing is not in the file: its density to four places is.
    const got = alloys.fineness(vector?.density ?? one.density, vector?.u ?? 0);
    near(got.value, one.fineness_per_mille, 0.06, one.vector);
    if (vector) near(got.u, one.u_per_mille, 0.06, one.vector);
  }
  const wide = alloys.fineness(10.3, 0.12, [{ parts: { Ag: 900, Cu: 100 } }, { parts: { Ag: 835, Cu: 165 } }, { parts: { Ag: 350, Cu: 560, Mn: 90 } }]);
  assert.match(told(wide), /too wide for one figure\. Standards on file within it: 900, 835\./);
});

test("mixtures that imitate a density are the ones worked out by additive volume", () => {
  const set = metals.reference_set;
  assert.ok(metals.mimic.length >= 70);
  for (const one of metals.mimic) {
    const share = (/** @type {number} */ density) => alloys.share(density, set[one.heavy], set[one.light]);
    // The target is printed to four decimals, which two metals of almost one density feel.
    const rounded = Math.abs(share(one.target_density + 5e-5) - share(one.target_density));
    near(share(one.target_density), one.heavy_mass_fraction, 5.1e-5 + rounded, `${one.target} by ${one.heavy} in ${one.light}`);
  }
});

test("metals that cannot be told apart are said to be so", () => {
  const said = (/** @type {number} */ density, give = 0.03) => alloys.twins(density - give, density + give, groups).map(words).join(" ");
  for (const density of [8.96, 8.953, 8.945, 8.902, 8.9]) assert.match(said(density), /Copper, cupronickel .* nickel, cobalt .* cannot be told apart/);
  for (const density of [8.7, 8.73, 8.65]) assert.match(said(density), /Nickel silver, brass/);
  for (const density of [7.3, 7.2, 7.19, 7.13]) assert.match(said(density), /Tin, pewter, white metal, zinc and chromium/);
  assert.match(said(10.31), /molybdenum and lead with some 18 % tin/);
  assert.match(said(10.3139), /Lead with 18 % tin .* Copper around 2[45] % tungsten by mass \(13 % by volume\)/, metals.mimic_notes.tungsten);
  assert.match(said(10), /720 and lead with 24 % tin/);
  assert.match(said(9.25), /wartime alloy/);
  assert.match(said(9.78), /Bismuth lies on silver of 555 to 590/, metals.mimic_notes.bismuth);
  assert.equal(alloys.twins(18, 18.1, []).length, 0, "nothing is said of a density that no mixture here has");
  assert.match(read("../../theme/bench/scales.html"), /<ul class="plain twins"><li>[^<]*density can reject a metal, it never proves one\.<\/li>/, "and this always");
  assert.equal(groups.length, 7);
  assert.equal(metals.inseparable.length, 6);
});

test("an alloy fits when its range and the interval at k = 2 meet", () => {
  const silver = { words: "silver 900, copper 100", parts: { Ag: 900, Cu: 100 }, density: 10.3139, give: 0.03 };
  const nickel = { words: "nickel", parts: { Ni: 1000 }, density: 8.902, give: 0.006 };
  const names = (/** @type {any[]} */ list) => list.map((one) => one.words).join();
  assert.equal(names(alloys.fits(10.3, 10.36, [nickel, silver]).fits), silver.words);
  assert.equal(names(alloys.fits(10.3, 10.36, [nickel, silver]).excluded), nickel.words);
  assert.equal(names(alloys.fits(10.3438, 10.4, [silver]).fits), silver.words, "a hair within");
  assert.equal(names(alloys.fits(10.2, 10.284, [silver]).fits), silver.words, "a hair within, from below");
  assert.equal(names(alloys.fits(10.2, 10.2838, [silver]).fits), "", "a hair beyond, from below");
  assert.equal(names(alloys.fits(10.3441, 10.4, [silver]).fits), "", "a hair beyond");
  assert.equal(names(alloys.fits(8.85, 10.4, [silver, nickel]).fits), "silver 900, copper 100,nickel", "nearest to the middle first");
});

test("nickel is drawn by a magnet, 75/25 cupronickel is not", () => {
  // metals.json, xray_notes.nickel; for the others: common practice, no source.
  assert.match(metals.xray_notes.nickel, /Nickel is ferromagnetic at room temperature; Cu 75 Ni 25 is not/);
  assert.equal(alloys.attracted({ Ni: 999 }), true);
  assert.equal(alloys.attracted({ Cu: 750, Ni: 250 }), false);
  assert.equal(alloys.attracted({ Ag: 900, Cu: 100 }), false);
  assert.equal(alloys.attracted({ Cu: 500, Ni: 500 }), null);
  assert.equal(alloys.attracted({ Fe: 980, Co: 0 }), true);
  const stands = (/** @type {boolean} */ pulled, /** @type {Record<string, number> | null} */ parts) => words([pulled ? "attracted" : "not attracted", [alloys.magnet(pulled, parts) || "right"]]);
  assert.match(stands(true, { Cu: 750, Ni: 250 }), /iron, steel, nickel or cobalt .* Against the standard, which is not attracted\./);
  assert.match(stands(false, { Ni: 1000 }), /Against the standard, which is attracted\./);
  assert.match(stands(true, { Ni: 1000 }), /As the standard would have it\./);
  assert.match(stands(false, { Ag: 900, Cu: 100 }), /says nothing between silver, copper, cupronickel, brass, tin, lead and zinc \(common practice\)\. As the standard/);
  for (const parts of [null, { Cu: 500, Ni: 500 }]) assert.doesNotMatch(stands(true, parts), /tandard/, "of an alloy not known here nothing is said");
});

test("a weight is judged with its uncertainty against law and wear", () => {
  // Round numbers, invented for this test.
  const law = { grams: 2.5, deviation: 0.1, worn: 2.35 };
  const kind = (/** @type {number} */ value, /** @type {number} */ U) => weighing.against(value, U, law);
  assert.deepEqual([kind(2.5, 0.01), kind(2.405, 0.004), kind(2.595, 0.004)], ["within", "within", "within"]);
  assert.deepEqual([kind(2.4, 0.01), kind(2.6, 0.01), kind(2.5, 0.2)], ["open", "open", "open"]);
  assert.deepEqual([kind(2.38, 0.01), kind(2.355, 0.01)], ["worn", "worn-out"]);
  assert.deepEqual([kind(2.3, 0.01), kind(2.611, 0.01)], ["light", "heavy"]);
  assert.match(words([kind(2.355, 0.01)]), /at the end of what honest wear/);
});

test("the number line has round ticks, as the printed pages have", () => {
  const labels = (/** @type {number} */ low, /** @type {number} */ high) => context.Tellmark.ticks(low, high).map((/** @type {any} */ one) => one.label).join(" ");
  // The case of the printed line's own test: 26.632 to 26.827 with its margin.
  assert.equal(labels(26.6164, 26.8426), "26.65 26.70 26.75 26.80");
  assert.equal(labels(-16, 16), "-10 0 10");
  assert.equal(labels(9.9, 10.9), "10.0 10.2 10.4 10.6 10.8");
});
