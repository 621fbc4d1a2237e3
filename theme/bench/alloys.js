// @ts-check
/* A density → what it fits, what it excludes and what it cannot tell apart. It can reject a metal, never prove one. Pure.
 * What is said are names of the sentences that the page holds, with what stands in their gaps. */
((/** @type {BenchGlobal} */ tm) => {
  "use strict";
  /** @typedef {SiteKnowledge["alloys"][number]} AlloyOnFile */
  /** Element densities of the periodictable library (after the CRC Handbook, 80th ed.), but silver as most metal tables print it. */
  const SILVER = 10.49, COPPER = 8.96;
  /** Standard uncertainties: prints of either metal, and how far printed silver–copper alloys lie off the rule that volumes add. */
  const OPEN = { silver: 0.005, copper: 0.015, rule: 0.02 };

  /** Share by mass of the heavy metal in a mixture, if volumes add. @param {number} density @param {number} heavy @param {number} light */
  const share = (density, heavy, light) => (1 / density - 1 / light) / (1 / heavy - 1 / light);

  /** @param {number} low @param {number} high ends of the interval at k = 2 @param {AlloyOnFile[]} alloys */
  const fits = (low, high, alloys) => {
    const off = (/** @type {AlloyOnFile} */ one) => Math.abs(one.density - (low + high) / 2);
    const near = [...alloys].sort((a, b) => off(a) - off(b));
    const fit = (/** @type {AlloyOnFile} */ one) => low <= one.density + one.give && high >= one.density - one.give;
    return { fits: near.filter(fit), excluded: near.filter((one) => !fit(one)) };
  };

  /** What cannot be told apart within the interval: the groups on file, and mixtures of this density.
   * @param {number} low @param {number} high @param {SiteKnowledge["inseparable"]} groups @returns {BenchSaying[]} */
  const twins = (low, high, groups) => {
    const middle = (low + high) / 2, tin = 1 - share(middle, 11.35, 7.31), tungsten = share(middle, 19.3, COPPER);
    const percent = (/** @type {number} */ part) => (part * 100).toFixed(0);
    return [
      ...groups.filter((one) => low <= one.high && high >= one.low).map((one) => /** @type {BenchSaying} */ (["as-said", one.words])),
      .../** @type {BenchSaying[]} */ (tin > 0 && tin < 1 ? [["lead", percent(tin)]] : []),
      .../** @type {BenchSaying[]} */ (tungsten > 0.005 && middle < 12 ? [["tungsten", percent(tungsten), percent((tungsten * middle) / 19.3)]] : []),
    ];
  };

  /** Parts of silver in a thousand, if the piece is silver and copper only. @param {number} density @param {number} u @param {AlloyOnFile[]} [alloys] @param {number} [rule] how far alloys lie off the rule that volumes add */
  const fineness = (density, u, alloys = [], rule = OPEN.rule) => {
    const spread = 1 / SILVER - 1 / COPPER, w = share(density, SILVER, COPPER);
    const c = { density: -1 / (density ** 2 * spread), silver: w / (SILVER ** 2 * spread), copper: (1 - w) / (COPPER ** 2 * spread) };
    const doubt = 1000 * Math.hypot(c.density * u, c.density * rule, c.silver * OPEN.silver, c.copper * OPEN.copper);
    const value = 1000 * w, low = Math.max(0, value - 2 * doubt), high = Math.min(1000, value + 2 * doubt);
    // Rounded before the comparison: fine silver must not be called denser than silver by the last bit of a float.
    const outside = value < -0.005 ? "below-copper" : value > 1000.005 ? "above-silver" : "";
    // The parts of a standard come to a thousand: silver and copper only.
    const standards = alloys.filter(({ parts: { Ag = 0, Cu = 0 } }) => Ag && Ag + Cu > 999.9).map((one) => Math.round(one.parts.Ag * 10) / 10);
    return { value, u: doubt, U: 2 * doubt, low, high, c, outside, standards: [...new Set(standards)].filter((one) => one >= low && one <= high).sort((a, b) => b - a) };
  };

  /** @param {ReturnType<typeof fineness>} f @returns {BenchSaying[]} */
  const finenessWords = ({ outside, value, U, low, high, standards }) => {
    if (outside) return low < high ? [[outside], [`may-be-${outside}`]] : [[outside]];
    const [first, second] = U <= 50 ? [value, U] : [low, high];
    return [[U <= 50 ? "fineness" : "fineness-range", first.toFixed(0), second.toFixed(0)], standards.length ? ["standards", standards.join(", ")] : ["as-said", ""]];
  };

  /** Iron, cobalt and nickel are ferromagnetic, 75/25 cupronickel is not: common practice. @param {Record<string, number>} parts @returns {boolean | null} null: not known here */
  const attracted = ({ Fe = 0, Co = 0, Ni = 0 }) => (Fe + Co > 500 || Ni > 900 ? true : Fe + Co === 0 && Ni <= 300 ? false : null);

  /** How a magnet's pull stands to the standard: as it would have it, against it, or nothing. @param {boolean} pulled @param {Record<string, number> | null} parts of the standard */
  const magnet = (pulled, parts) => {
    const should = parts && attracted(parts);
    return should === null ? "" : should === pulled ? "as-standard" : should ? "should-pull" : "should-not-pull";
  };

  tm.alloys = { share, fits, twins, fineness, finenessWords, attracted, magnet };
})((window.Tellmark ??= {}));
