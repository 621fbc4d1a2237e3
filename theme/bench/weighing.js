// @ts-check
/* Readings of a balance → weight and density, with the whole budget of uncertainty after the GUM (JCGM 100:2008). Pure. */
(function (/** @type {BenchGlobal} */ tm) {
  "use strict";
  /** One line of a budget: `part` is |sensitivity · u|, `share` its part of the variance, both filled in at the end; `free` degrees of freedom.
   * @typedef {{ name: string, value: number, unit: string, u: number, how: string, c: number, part: number, share: number, free: number }} Term */
  /** @typedef {{ density: number, slope: number, uncertainty: number, words: string }} Known */
  /** `scatter`: what one reading is known to scatter by (standard deviation), 0 if not known; `calibration`: standard uncertainty of each reading, 0 if not known.
   * @typedef {{ step: number, scatter: number, calibration: number }} Balance */
  /** `warmth`: standard uncertainty of the temperature in K; lengths in mm.
   * @typedef {{ setup: "hung" | "vessel", air: number[], liquid: number[], balance: Balance, fluid: Known, temperature: number, warmth: number, gas: Known, hanger: { wires: number, wire: number, vessel: number } | null }} Weighing */

  const K = 2;
  /** @param {number[]} values */
  const mean = (values) => values.reduce((sum, value) => sum + value, 0) / values.length;

  /** @param {string} name @param {number} value @param {string} unit @param {number} u @param {string} how @param {number} c @param {number} [free] @returns {Term} */
  const term = (name, value, unit, u, how, c, free = Infinity) => ({ name, value, unit, u, how, c, part: Math.abs(c * u), share: 0, free });

  /** What repeats, rounding and calibration leave open in the mean of readings. `tared`: the nought was rounded too.
   * @param {string} name @param {number[]} values @param {string} unit @param {Balance} balance @param {number} c @param {boolean} tared @returns {Term[]} */
  function reading(name, values, unit, balance, c, tared) {
    const n = values.length, middle = mean(values);
    const spread = Math.sqrt(values.reduce((sum, value) => sum + (value - middle) ** 2, 0) / (n - 1));
    const rounding = balance.step / Math.sqrt(tared ? 6 : 12);
    return [
      balance.scatter > 0
        ? term(`${name}, scatter`, middle, unit, balance.scatter / Math.sqrt(n), `known scatter of the balance, over √${n} (B)`, c)
        : term(`${name}, scatter`, middle, unit, n > 1 ? spread / Math.sqrt(n) : 0, `${n} readings: standard deviation over √${n} (A)`, c, n - 1),
      term(`${name}, rounding`, middle, unit, rounding, tared ? "step over √6: nought and load are rounded (B)" : "step over √12 (B)", c),
      term(`${name}, calibration`, middle, unit, balance.calibration, "as given (B)", c),
    ];
  }

  /** Law of propagation for inputs that do not depend on each other (JCGM 100, eq. 10), and effective degrees of freedom (G.4.1). @param {Term[]} all */
  function budget(all) {
    const terms = all.filter((one) => one.part > 0);
    const variance = terms.reduce((sum, one) => sum + one.part ** 2, 0);
    terms.forEach((one) => (one.share = one.part ** 2 / variance));
    const free = variance ** 2 / terms.reduce((sum, one) => sum + one.part ** 4 / one.free, 0);
    return { terms, uncertainty: Math.sqrt(variance), expanded: K * Math.sqrt(variance), free };
  }

  /** Mean of readings of one thing, with its uncertainty. @param {number[]} values @param {string} name @param {string} unit @param {Balance} balance */
  function measure(values, name, unit, balance) {
    return { value: mean(values), spread: Math.max(...values) - Math.min(...values), ...budget(reading(name, values, unit, balance, 1, false)) };
  }

  /** Loss of weight in the liquid, and the share of it that is the coin's own: the rising level also wets more wire (balance makers' manuals: 1 − n·d²/D²).
   * @param {Weighing} weighing */
  function lift({ setup, air, liquid, hanger }) {
    const coin = mean(air), shown = mean(liquid);
    return { coin, shown, lost: setup === "hung" ? coin - shown : shown, own: hanger ? 1 - (hanger.wires * hanger.wire ** 2) / hanger.vessel ** 2 : 1 };
  }

  /** Pull of the liquid's skin on the wires, in grams: π·d·γ/g, γ of water at 20 °C from memory. @param {number} wires @param {number} wire mm */
  const skin = (wires, wire) => (wires * Math.PI * wire * 0.0728) / 9.80665;

  /** The field that is wrong and what is expected there, if the readings cannot be a coin's. @param {Weighing} w @returns {{ field: string, trouble: string } | null} */
  function trouble(w) {
    const { coin, shown, lost } = lift(w);
    const say = (/** @type {string} */ field, /** @type {string} */ words) => ({ field, trouble: words });
    if (!w.air.length || !(coin > 0)) return say("air", "The coin’s weight in air is expected, above nought.");
    if (!w.liquid.length || !Number.isFinite(shown)) return say("liquid", "The reading in the liquid is expected.");
    if (!(w.fluid.density > 10 * w.gas.density)) return say("fluid", "A liquid far denser than air is expected.");
    if (w.setup === "hung" && shown < 0) return say("liquid", "Below nought a coin would float. Was the hanger tared in the liquid, or was the vessel on the pan?");
    if (lost === 0) return say("liquid", "No weight is lost in the liquid: the coin was not immersed, or the reading was copied.");
    if (w.setup === "hung" && lost < 0) return say("liquid", "A coin cannot weigh more in the liquid than in air. Are the two readings swapped?");
    if (w.setup === "vessel" && lost < 0) return say("liquid", "The vessel must weigh more with the coin hung in it. Was it tared without the coin?");
    const density = (/** @type {number} */ loss) => w.gas.density + ((w.fluid.density - w.gas.density) * coin) / loss;
    const found = density(lost), other = density(coin - shown === lost ? shown : coin - shown);
    if (lost < 2.999 * w.balance.step) return say("liquid", "The loss of weight is under three steps of the balance: too little to reckon with. Use a finer balance.");
    if (found > 22.6) return say("liquid", `That would be ${found.toFixed(1)} g/cm³, above osmium, the densest metal (22.6). Weigh again.`);
    if (found < 2) return say("liquid", `That would be ${found.toFixed(2)} g/cm³, lighter than any coin metal.${other >= 2 && other <= 22.6 ? ` Was ${w.setup === "hung" ? "the vessel on the pan" : "the coin hung from the balance"}? Then it is ${other.toFixed(2)}.` : " Weigh again."}`);
    return null;
  }

  /** ρ = ρa + (ρl − ρa)·m / (loss·own): exact for readings taken in the same air, whatever weights the balance was set with.
   * @param {Weighing} w */
  function density(w) {
    const wrong = trouble(w);
    if (wrong) return wrong;
    const { coin, shown, lost, own } = lift(w);
    const drive = w.fluid.density - w.gas.density, loss = lost * own, hung = w.setup === "hung";
    const value = w.gas.density + (drive * coin) / loss;
    // Hung, the reading in air stands above and below the line.
    const c = { air: hung ? (drive / loss) * (1 - coin / lost) : drive / loss, liquid: ((hung ? 1 : -1) * drive * coin) / (loss * lost), fluid: coin / loss, gas: 1 - coin / loss, own: (-drive * coin) / (loss * own) };
    const { fluid, gas, hanger, balance } = w;
    const sum = budget([
      ...reading("In air", w.air, "g", balance, c.air, w.balance.scatter >= 0),
      ...reading(hung ? "Hung in the liquid" : "Vessel with the coin in it", w.liquid, "g", balance, c.liquid, true),
      term("Temperature of the liquid", w.temperature, "°C", w.warmth, "thermometer: limit over √3 (B)", c.fluid * fluid.slope),
      term(`Density of ${fluid.words}`, fluid.density, "g/cm³", fluid.uncertainty, "formula and purity (B)", c.fluid),
      term(`Density of ${gas.words}`, gas.density, "g/cm³", gas.uncertainty, "range of rooms, or formula (B)", c.gas),
      ...(hanger ? [
        term("Wire wetted by the rise", own, "", (1 - own) / 5, "a fifth of the correction: judgement (B)", c.own),
        term("Liquid’s skin on the wire", skin(hanger.wires, hanger.wire), "g", skin(hanger.wires, hanger.wire) / 10, "a tenth of the pull: judgement (B)", c.liquid),
      ] : []),
    ]);
    return { density: value, ...sum, ...ends(w, value, sum), without: (fluid.density * coin) / loss, volume: (coin / value) / (1 - gas.density / value), cautions: cautions(w, value, sum, shown) };
  }
  tm.weighing = { K, density, measure, skin, lift };
})((window.Tellmark ??= {}));
