// @ts-check
/* Readings → means and density, with the whole budget of uncertainty after the GUM (JCGM 100:2008). Pure.
 * What is said of them are names of the sentences that the page holds, with what stands in their gaps. */
((/** @type {BenchGlobal} */ tm) => {
  "use strict";
  /** A line of the budget: `part` is |c·u|, `share` its part of the variance, `free` its degrees of freedom, `of` the input it belongs to.
   * @typedef {{ of: string, name: BenchSaying, value: number, unit: string, u: number, c: number, part: number, share: number, free: number }} BudgetTerm */
  /** Of a balance or a caliper. `scatter`: known standard deviation of one reading; `calibration`: known standard uncertainty of each reading; 0 if not known.
   * @typedef {{ step: number, scatter: number, calibration: number }} Gauge */
  /** `words`: name of the words for it. @typedef {{ density: number, slope: number, uncertainty: number, words: string }} KnownFluid */
  /** Grams and mm; `warmth`: standard uncertainty of the temperature, K.
   * @typedef {{ setup: "hung" | "vessel", air: number[], liquid: number[], gauge: Gauge, fluid: KnownFluid, temperature: number, warmth: number, gas: KnownFluid, hanger: { wires: number, wire: number, vessel: number } | null }} Weighing */

  const K = 2;
  /** Where the reading in the liquid is not to blame. @type {Record<string, string>} */
  const FIELDS = { "no-air": "weight", "no-liquid": "fluid", "thick-wire": "wire" };
  /** @param {number[]} values */
  const mean = (values) => values.reduce((sum, value) => sum + value, 0) / values.length;

  /** @param {string} of @param {BenchSaying} name @param {number} value @param {string} unit @param {number} u @param {number} c @param {number} [free] @returns {BudgetTerm} */
  const term = (of, name, value, unit, u, c, free = Infinity) => ({ of, name, value, unit, u, c, part: Math.abs(c * u), share: 0, free });

  /** What scatter, rounding and calibration leave open in a mean. @param {string} of @param {BenchSaying} name @param {number[]} values @param {string} unit @param {Gauge} gauge @param {number} c */
  const reading = (of, name, values, unit, { step, scatter, calibration }, c) => {
    const n = values.length, middle = mean(values);
    const seen = Math.sqrt(values.reduce((sum, value) => sum + (value - middle) ** 2, 0) / Math.max(n - 1, 1));
    const part = (/** @type {string} */ what, /** @type {number} */ u, free = Infinity) => term(of, [what, name, n], middle, unit, u, c, free);
    return [
      scatter > 0 ? part("known", scatter / Math.sqrt(n)) : part("scatter", seen / Math.sqrt(n), n - 1),
      part("rounding", step / Math.sqrt(6)), // Nought and reading are both rounded, each evenly over a step.
      part("calibration", calibration),
    ];
  };

  /** Law of propagation for independent inputs (JCGM 100, eq. 10) and effective degrees of freedom (G.4.1). @param {BudgetTerm[]} all */
  const budget = (all) => {
    const terms = all.filter((one) => one.part > 0);
    const variance = terms.reduce((sum, one) => sum + one.part ** 2, 0);
    terms.forEach((one) => (one.share = one.part ** 2 / variance));
    return { terms, u: Math.sqrt(variance), U: K * Math.sqrt(variance), free: variance ** 2 / terms.reduce((sum, one) => sum + one.part ** 4 / one.free, 0) };
  };

  /** @param {number[]} values one or more @param {BenchSaying} name @param {string} unit @param {Gauge} gauge */
  const measure = (values, name, unit, gauge) => ({ value: mean(values), spread: Math.max(...values) - Math.min(...values), ...budget(reading("", name, values, unit, gauge, 1)) });

  /** Exact for readings taken in the same air, whatever weights the balance was set with; `own` is the coin's share of the loss: 1 − n·d²/D²,
   * as the rising level also wets more wire (manuals of balance makers). @param {boolean} hung @param {Record<string, number>} x */
  const model = (hung, x) => x.gas + ((x.fluid - x.gas) * x.air) / ((hung ? x.air - x.liquid : x.liquid) * x.own);

  /** Pull of the liquid's skin on wires, g: π·d·γ/g with γ of water at 20 °C, from memory. @param {number} wires @param {number} wire mm */
  const skin = (wires, wire) => (wires * Math.PI * wire * 0.0728) / 9.80665;

  /** Which field cannot be a coin's, and what is expected there. @param {Weighing} w @param {Record<string, number>} x @returns {{ field: string, trouble: BenchSaying } | null} */
  const amiss = ({ setup, gauge }, x) => {
    const hung = setup === "hung", lost = hung ? x.air - x.liquid : x.liquid, found = model(hung, x), other = model(!hung, x);
    const what =
      !(x.air > 0 && x.air < Infinity) ? "no-air"
      : !Number.isFinite(x.liquid) ? "no-reading"
      : !(x.fluid > 100 * x.gas && x.gas >= 0) ? "no-liquid"
      : !(x.own > 0.5) ? "thick-wire"
      : hung && x.liquid < 0 ? "floats"
      : lost === 0 ? "equal"
      : lost < 0 ? `gain-${setup}`
      : lost < 2.999 * gauge.step ? "three-steps"
      : found > 22.6 ? "too-dense"
      : found >= 2 ? ""
      : other > 2 && other < 22.6 ? `other-than-${setup}`
      : "too-light";
    return what ? { field: FIELDS[what] ?? "liquid", trouble: [what, found.toFixed(2), other.toFixed(2)] } : null;
  };

  /** @param {Weighing} w */
  const density = (w) => {
    const { fluid, gas, hanger, gauge } = w, hung = w.setup === "hung";
    const own = hanger ? 1 - (hanger.wires * hanger.wire ** 2) / hanger.vessel ** 2 : 1;
    const x = { air: mean(w.air), liquid: mean(w.liquid), fluid: fluid.density, gas: gas.density, own };
    const wrong = amiss(w, x);
    if (wrong) return wrong;
    const value = model(hung, x), drive = x.fluid - x.gas, lost = hung ? x.air - x.liquid : x.liquid, loss = lost * own;
    // Hung, the reading in air stands above the line and below it.
    const c = { air: (drive / loss) * (hung ? 1 - x.air / lost : 1), liquid: ((hung ? drive : -drive) * x.air) / (loss * lost), fluid: x.air / loss, gas: 1 - x.air / loss, own: (-drive * x.air) / (loss * own) };
    const pull = hanger ? skin(hanger.wires, hanger.wire) : 0;
    const sum = budget([
      ...reading("air", ["in-air"], w.air, "g", gauge, c.air),
      ...reading("liquid", [`in-${w.setup}`], w.liquid, "g", gauge, c.liquid),
      term("fluid", ["warmth"], w.temperature, "°C", w.warmth, c.fluid * fluid.slope),
      term("fluid", ["density", [fluid.words]], x.fluid, "g/cm³", fluid.uncertainty, c.fluid),
      term("gas", ["air-density", [gas.words]], x.gas, "g/cm³", gas.uncertainty, c.gas),
      term("own", ["rise"], own, "", (1 - own) / 5, c.own),
      term("liquid", ["skin"], pull, "g", pull / 10, c.liquid),
    ]);
    if (sum.u > value / 5) return { field: "liquid", trouble: ["too-open"] };
    /** Each input moved to where the result lies `k` off and is likeliest: the interval stays right when it is no longer symmetric. @param {number} k */
    const end = (k) => {
      /** @type {Record<string, number>} */
      const moved = { ...x };
      for (const one of sum.terms) moved[one.of] += (k * one.part ** 2) / (sum.u * c[/** @type {keyof typeof c} */ (one.of)]);
      return model(hung, moved);
    };
    const cautions = [];
    if (Math.min(w.air.length, w.liquid.length) < 2 && !gauge.scatter) cautions.push("one-reading");
    if (sum.free < 10) cautions.push("few-repeats");
    if (sum.u / value > 0.03) cautions.push("lopsided");
    return { density: value, ...sum, low: end(-K), high: end(K), simple: (x.fluid * x.air) / loss, volume: (loss * (1 - 0.0012 / 8)) / drive, cautions };
  };

  /** What the law and wear say of a weight, as the name of the sentence for it. @param {number} value @param {number} U @param {KnownWeight} law */
  const against = (value, U, { grams, deviation, worn }) => {
    const low = grams - deviation, high = grams + deviation, least = value - U, most = value + U;
    if (least >= low && most <= high) return "within";
    if (most < worn) return "light";
    if (least > high) return "heavy";
    return most >= low ? "open" : least < worn ? "worn-out" : "worn";
  };

  tm.weighing = { mean, measure, density, skin, against };
})((window.Tellmark ??= {}));
