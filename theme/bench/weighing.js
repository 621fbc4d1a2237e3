// @ts-check
/* Readings → means and density, with the whole budget of uncertainty after the GUM (JCGM 100:2008). Pure. */
(function (/** @type {BenchGlobal} */ tm) {
  "use strict";
  /** A line of the budget: `part` is |c·u|, `share` its part of the variance, `free` its degrees of freedom, `of` the input it belongs to.
   * @typedef {{ of: string, name: string, value: number, unit: string, u: number, how: string, c: number, part: number, share: number, free: number }} BudgetTerm */
  /** Of a balance or a caliper. `scatter`: known standard deviation of one reading; `calibration`: known standard uncertainty of each reading; 0 if not known.
   * @typedef {{ step: number, scatter: number, calibration: number }} Gauge */
  /** @typedef {{ density: number, slope: number, uncertainty: number, words: string }} KnownFluid */
  /** Grams and mm; `warmth`: standard uncertainty of the temperature, K.
   * @typedef {{ setup: "hung" | "vessel", air: number[], liquid: number[], gauge: Gauge, fluid: KnownFluid, temperature: number, warmth: number, gas: KnownFluid, hanger: { wires: number, wire: number, vessel: number } | null }} Weighing */

  const K = 2;
  /** @param {number[]} values */
  const mean = (values) => values.reduce((sum, value) => sum + value, 0) / values.length;

  /** @param {string} of @param {string} name @param {number} value @param {string} unit @param {number} u @param {string} how @param {number} c @param {number} [free] @returns {BudgetTerm} */
  const term = (of, name, value, unit, u, how, c, free = Infinity) => ({ of, name, value, unit, u, how, c, part: Math.abs(c * u), share: 0, free });

  /** What scatter, rounding and calibration leave open in a mean. @param {string} of @param {string} name @param {number[]} values @param {string} unit @param {Gauge} gauge @param {number} c */
  function reading(of, name, values, unit, gauge, c) {
    const n = values.length, middle = mean(values);
    const s = Math.sqrt(values.reduce((sum, value) => sum + (value - middle) ** 2, 0) / Math.max(n - 1, 1));
    const known = gauge.scatter > 0;
    return [
      term(of, `${name}: scatter`, middle, unit, (known ? gauge.scatter : s) / Math.sqrt(n), known ? `known scatter over √${n} (B)` : `standard deviation over √${n} (A)`, c, known ? Infinity : n - 1),
      term(of, `${name}: rounding`, middle, unit, gauge.step / Math.sqrt(6), "step over √6, nought and reading both rounded (B)", c),
      term(of, `${name}: calibration`, middle, unit, gauge.calibration, "as given (B)", c),
    ];
  }

  /** Law of propagation for independent inputs (JCGM 100, eq. 10) and effective degrees of freedom (G.4.1). @param {BudgetTerm[]} all */
  function budget(all) {
    const terms = all.filter((one) => one.part > 0);
    const variance = terms.reduce((sum, one) => sum + one.part ** 2, 0);
    terms.forEach((one) => (one.share = one.part ** 2 / variance));
    return { terms, u: Math.sqrt(variance), U: K * Math.sqrt(variance), free: variance ** 2 / terms.reduce((sum, one) => sum + one.part ** 4 / one.free, 0) };
  }

  /** @param {number[]} values one or more @param {string} name @param {string} unit @param {Gauge} gauge */
  const measure = (values, name, unit, gauge) => ({ value: mean(values), spread: Math.max(...values) - Math.min(...values), ...budget(reading("", name, values, unit, gauge, 1)) });

  /** Exact for readings taken in the same air, whatever weights the balance was set with; `own` is the coin's share of the loss: 1 − n·d²/D²,
   * as the rising level also wets more wire (manuals of balance makers). @param {boolean} hung @param {Record<string, number>} x */
  const model = (hung, x) => x.gas + ((x.fluid - x.gas) * x.air) / ((hung ? x.air - x.liquid : x.liquid) * x.own);

  /** Pull of the liquid's skin on wires, g: π·d·γ/g with γ of water at 20 °C, from memory. @param {number} wires @param {number} wire mm */
  const skin = (wires, wire) => (wires * Math.PI * wire * 0.0728) / 9.80665;

  /** Which field cannot be a coin's, and what is expected there. @param {Weighing} w @param {Record<string, number>} x @returns {{ field: string, trouble: string } | null} */
  function amiss(w, x) {
    const hung = w.setup === "hung", lost = hung ? x.air - x.liquid : x.liquid;
    const at = (/** @type {string} */ trouble, field = "liquid") => ({ field, trouble });
    if (!(x.air > 0 && x.air < Infinity)) return at("The coin’s weight in air is expected, above nought.", "air");
    if (!Number.isFinite(x.liquid)) return at("The reading in the liquid is expected.");
    if (!(x.fluid > 100 * x.gas && x.gas >= 0)) return at("A liquid far denser than air is expected.", "fluid");
    if (!(x.own > 0.5)) return at("Wires far thinner than the vessel are expected.", "wire");
    if (hung && x.liquid < 0) return at("Below nought, the coin would float. Was the hanger tared in the liquid? Or was the vessel on the pan?");
    if (lost === 0) return at("No weight is lost in the liquid: was the coin immersed, or the reading copied?");
    if (lost < 0) return at(hung ? "A coin cannot weigh more in the liquid than in air. Are the readings swapped?" : "With the coin hung in it the vessel weighs more, not less. Was it tared before?");
    if (lost < 2.999 * w.gauge.step) return at("The loss of weight is under three steps of the balance, too little to reckon with. A finer balance is wanted.");
    const found = model(hung, x), other = model(!hung, x);
    if (found > 22.6) return at(`That would be ${found.toFixed(1)} g/cm³, above osmium (22.6), the densest metal. Weigh again.`);
    if (found < 2) return at(`That would be ${found.toFixed(2)} g/cm³, lighter than any coin. ${other > 2 && other < 22.6 ? `Was ${hung ? "the vessel on the pan" : "the coin hung from the balance"}? Then it is ${other.toFixed(2)}.` : "Weigh again."}`);
    return null;
  }

  /** @param {Weighing} w */
  function density(w) {
    const { fluid, gas, hanger, gauge } = w, hung = w.setup === "hung";
    const own = hanger ? 1 - (hanger.wires * hanger.wire ** 2) / hanger.vessel ** 2 : 1;
    const x = { air: mean(w.air), liquid: mean(w.liquid), fluid: fluid.density, gas: gas.density, own };
    const wrong = amiss(w, x);
    if (wrong) return wrong;
    const value = model(hung, x), drive = x.fluid - x.gas, lost = hung ? x.air - x.liquid : x.liquid, loss = lost * own;
    // Hung, the reading in air stands above the line and below it.
    const c = { air: (drive / loss) * (hung ? 1 - x.air / lost : 1), liquid: ((hung ? drive : -drive) * x.air) / (loss * lost), fluid: x.air / loss, gas: 1 - x.air / loss, own: (-drive * x.air) / (loss * own) };
    const sum = budget([
      ...reading("air", "In air", w.air, "g", gauge, c.air),
      ...reading("liquid", hung ? "Hung in the liquid" : "Vessel, coin hung in it", w.liquid, "g", gauge, c.liquid),
      term("fluid", "Temperature of the liquid", w.temperature, "°C", w.warmth, "thermometer’s limit over √3 (B)", c.fluid * fluid.slope),
      term("fluid", `Density of ${fluid.words}`, x.fluid, "g/cm³", fluid.uncertainty, "formula and purity (B)", c.fluid),
      term("gas", `Density of ${gas.words}`, x.gas, "g/cm³", gas.uncertainty, "formula, or range of rooms (B)", c.gas),
      ...(hanger ? [
        term("own", "Rise on the wire", own, "", (1 - own) / 5, "a fifth of the correction, by judgement (B)", c.own),
        term("liquid", "Liquid’s skin on the wire", skin(hanger.wires, hanger.wire), "g", skin(hanger.wires, hanger.wire) / 10, "a tenth of the pull, by judgement (B)", c.liquid),
      ] : []),
    ]);
    if (sum.u > value / 5) return { field: "liquid", trouble: "What is left open is over a fifth of the density itself. A finer balance, or steadier readings, are wanted." };
    /** Each input moved to where the result lies `k` off and is likeliest: the interval stays right when it is no longer symmetric. @param {number} k */
    const end = (k) => {
      /** @type {Record<string, number>} */
      const moved = { ...x };
      for (const one of sum.terms) moved[one.of] += (k * one.part ** 2) / (sum.u * c[/** @type {keyof typeof c} */ (one.of)]);
      return model(hung, moved);
    };
    const cautions = [];
    if (Math.min(w.air.length, w.liquid.length) < 2 && !gauge.scatter) cautions.push("One reading does not show how far the next would lie off: weigh dry and wet three times or more.");
    if (sum.free < 10) cautions.push("The repeats are few and rule the budget: k = 2 covers less than 95 %. More readings, or the balance’s known scatter, mend this.");
    if (sum.u / value > 0.03) cautions.push("So wide an interval is lopsided: its ends are worked out from the readings, not as ± U.");
    return { density: value, ...sum, low: end(-K), high: end(K), simple: (x.fluid * x.air) / loss, volume: (loss * (1 - 0.0012 / 8)) / drive, cautions };
  }

  /** What the law and wear say of a weight; `kind` is empty where nothing stands against it. @param {number} value @param {number} U @param {KnownWeight} law */
  function against(value, U, law) {
    const low = law.grams - law.deviation, high = law.grams + law.deviation;
    if (value - U >= low && value + U <= high) return { kind: "", words: "Within the legal deviation." };
    if (value + U < law.worn) return { kind: "light", words: "Lighter than honest wear commonly leaves a piece." };
    if (value - U > high) return { kind: "heavy", words: "Heavier than the law allowed: no wear does that." };
    if (value + U < low) return { kind: "worn", words: value - U < law.worn ? "Under the legal weight, at the end of what honest wear commonly takes." : "Under the legal weight, by no more than honest wear commonly takes." };
    return { kind: "open", words: "The uncertainty reaches past the legal deviation: neither inside nor outside for certain." };
  }

  tm.weighing = { K, mean, measure, density, skin, against };
})((window.Tellmark ??= {}));
