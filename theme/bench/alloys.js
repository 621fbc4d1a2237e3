// @ts-check
/* A density → what it fits, what it excludes and what it cannot tell apart. It can reject a metal, never prove one. Pure. */
(function (/** @type {BenchGlobal} */ tm) {
  "use strict";
  /** @typedef {SiteKnowledge["alloys"][number]} AlloyOnFile */
  /** Element densities of the periodictable library (after the CRC Handbook, 80th ed.), but silver as most metal tables print it. */
  const SILVER = 10.49, COPPER = 8.96;
  /** Standard uncertainties: prints of either metal, and how far printed silver–copper alloys lie off the rule that volumes add. */
  const OPEN = { silver: 0.005, copper: 0.015, rule: 0.02 };

  /** Metals that lie within 0.1 g/cm³, by printed densities and the rule that volumes add. @type {[low: number, high: number, words: string][]} */
  const GROUPS = [
    [7.13, 7.31, "Tin, pewter, white metal, zinc and chromium lie within 0.2 of each other."],
    [8.65, 8.73, "Nickel silver, brass with little zinc, cadmium and tin with 45 % lead cannot be told apart."],
    [8.87, 8.96, "Copper, cupronickel (75/25 and 88/12), clad copper, nickel, cobalt and tin with 50 % lead cannot be told apart. A magnet finds nickel and cobalt, X-ray lines all."],
    [9.23, 9.28, "The wartime alloy (35 % silver with copper and manganese), lead with 40 % tin and silver of 200 cannot be told apart."],
    [9.75, 9.8, "Bismuth lies on silver of 555 to 590."],
    [9.98, 10.01, "Silver of 720 and lead with 24 % tin cannot be told apart."],
    [10.2, 10.32, "Silver of 835 to 900, molybdenum and lead with some 18 % tin cannot be told apart: hardness, colour of an old scratch and X-ray lines do it."],
  ];
  const ALWAYS = "A core can be trimmed with lead or tungsten to any of these densities, and pores in a cast piece make it light: density can reject a metal, it never proves one.";

  /** Share by mass of the heavy metal in a mixture, if volumes add. @param {number} density @param {number} heavy @param {number} light */
  const share = (density, heavy, light) => (1 / density - 1 / light) / (1 / heavy - 1 / light);

  /** @param {number} low @param {number} high ends of the interval at k = 2 @param {AlloyOnFile[]} alloys */
  function fits(low, high, alloys) {
    const middle = (low + high) / 2;
    const near = [...alloys].sort((a, b) => Math.abs(a.density - middle) - Math.abs(b.density - middle));
    const fit = (/** @type {AlloyOnFile} */ one) => low <= one.density + one.give && high >= one.density - one.give;
    return { fits: near.filter(fit), excluded: near.filter((one) => !fit(one)) };
  }

  /** What cannot be told apart within the interval. @param {number} low @param {number} high */
  function twins(low, high) {
    const out = GROUPS.filter(([from, to]) => low <= to && high >= from).map(([, , words]) => words);
    const middle = (low + high) / 2, lead = share(middle, 11.35, 7.31), tungsten = share(middle, 19.3, COPPER);
    if (lead > 0 && lead < 1) out.push(`Lead with ${((1 - lead) * 100).toFixed(0)} % tin would have this density, if volumes add.`);
    if (tungsten > 0.005 && middle < 12) out.push(`Copper around ${(tungsten * 100).toFixed(0)} % tungsten by mass (${(((tungsten * middle) / 19.3) * 100).toFixed(0)} % by volume) would have it too.`);
    return [...out, ALWAYS];
  }

  /** Parts of silver in a thousand, if the piece is silver and copper only. @param {number} density @param {number} u @param {AlloyOnFile[]} [alloys] */
  function fineness(density, u, alloys = []) {
    const spread = 1 / SILVER - 1 / COPPER, w = share(density, SILVER, COPPER);
    const c = { density: -1 / (density ** 2 * spread), silver: w / (SILVER ** 2 * spread), copper: (1 - w) / (COPPER ** 2 * spread) };
    const doubt = 1000 * Math.hypot(c.density * u, c.density * OPEN.rule, c.silver * OPEN.silver, c.copper * OPEN.copper);
    const value = 1000 * w, low = Math.max(0, value - 2 * doubt), high = Math.min(1000, value + 2 * doubt);
    // Rounded before the comparison: fine silver must not be called denser than silver by the last bit of a float.
    const outside = value < -0.005 ? "below copper" : value > 1000.005 ? "above silver" : "";
    const standards = alloys.filter((one) => one.parts.Ag && Object.keys(one.parts).every((metal) => metal === "Ag" || metal === "Cu")).map((one) => Math.round(one.parts.Ag * 10) / 10);
    return { value, u: doubt, U: 2 * doubt, low, high, c, outside, single: 2 * doubt <= 50 && !outside, standards: [...new Set(standards)].filter((one) => one >= low && one <= high).sort((a, b) => b - a) };
  }

  /** @param {ReturnType<typeof fineness>} f */
  function finenessWords(f) {
    const because = { "below copper": "It is lighter than copper: no silver–copper alloy (zinc, tin, iron, pores?), or a bad weighing.", "above silver": "It is heavier than silver: no silver–copper alloy (lead, tungsten, gold?), or a bad weighing.", "": "" }[f.outside];
    if (because) return because + (f.low < f.high ? ` Within the uncertainty it may still be ${f.outside === "below copper" ? "copper" : "fine silver"}.` : "");
    const range = `${f.low.toFixed(0)} to ${f.high.toFixed(0)}`;
    const inside = f.standards.length ? ` Standards on file within it: ${f.standards.join(", ")}.` : "";
    return `If it is silver and copper only: ${f.single ? `${f.value.toFixed(0)} ± ${f.U.toFixed(0)} in a thousand` : `between ${range} in a thousand, too wide for one figure`}.${inside}`;
  }

  /** Iron, cobalt and nickel are ferromagnetic, 75/25 cupronickel is not: common practice. @param {Record<string, number>} parts @returns {boolean | null} null: not known here */
  const attracted = ({ Fe = 0, Co = 0, Ni = 0 }) => (Fe + Co > 500 || Ni > 900 ? true : Fe + Co === 0 && Ni <= 300 ? false : null);

  /** @param {boolean} pulled @param {Record<string, number> | null} parts of the standard */
  function magnet(pulled, parts) {
    const should = parts ? attracted(parts) : null;
    const says = pulled
      ? "There is iron, steel, nickel or cobalt in it. That excludes a piece wholly of silver, copper, brass, nickel silver, 75/25 cupronickel, tin, lead or zinc."
      : "That excludes a body of nickel, iron or common steel. It says nothing between silver, copper, cupronickel, brass, tin, lead and zinc.";
    return { against: should !== null && should !== pulled, words: `${says}${should === null ? "" : should === pulled ? " As the standard would have it." : ` Against the standard, which is ${should ? "" : "not "}attracted.`}` };
  }

  tm.alloys = { share, fits, twins, fineness, finenessWords, attracted, magnet };
})((window.Tellmark ??= {}));
