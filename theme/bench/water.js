// @ts-check
/* Densities of what a coin is weighed in, in g/cm³, with standard uncertainties; refused where their formulas end. Pure.
 * Words are names of what the page says. */
((/** @type {BenchGlobal} */ tm) => {
  "use strict";
  /** `slope` per K. @typedef {{ density: number, slope: number, uncertainty: number, words: string, trouble?: undefined } | { field: string, trouble: BenchSaying, density?: undefined }} Fluid */

  /** Air-free water at 101325 Pa, 0 to 40 °C: Tanaka and others, Metrologia 38 (2001) 301. @param {number} t °C */
  const tanaka = (t) => 0.99997495 * (1 - ((t - 3.983035) ** 2 * (t + 301.797)) / (522528.9 * (t + 69.34881)));

  /** Pure ethanol, 15 to 30 °C: a parabola within 0.000001 of the equation of state of Schroeder and others (2014). @param {number} t °C */
  const ethanol = (t) => 0.78942189 - 8.55642e-4 * (t - 20) - 4.61534e-7 * (t - 20) ** 2;

  /** Allowances: dissolved air and weather, 0.000005; hard tap water up to 0.0004 dense (known in the trade, no source);
   * ethanol labelled 99.5 % may hold 0.5 % water, which is 0.0015 (printed tables: 0.790 pure, 0.805 at 95 % by mass).
   * @type {Record<string, [of: (t: number) => number, from: number, to: number, uncertainty: number]>} */
  const LIQUIDS = {
    water: [tanaka, 0, 40, 5e-6],
    tap: [tanaka, 0, 40, 0.0004 / Math.sqrt(3)],
    ethanol: [ethanol, 15, 30, 0.0015 / Math.sqrt(3)],
  };

  /** @param {string} words @param {number} t °C @returns {Fluid} */
  const liquid = (words, t) => {
    const [of, from, to, uncertainty] = LIQUIDS[words], warm = (t - 32) / 1.8;
    if (t >= from && t <= to) return { density: of(t), slope: (of(t + 0.01) - of(t - 0.01)) / 0.02, uncertainty, words };
    return { field: "temperature", trouble: [warm >= from && warm <= to ? "no-density-warm" : "no-density", [words], from, to, t, warm.toFixed(1)] };
  };

  /** Moist air by the simplified formula of OIML R 111-1 (2004), E.3. The full one, CIPM-2007, differs by less than 0.0003 of it in this range:
   * 0.000003 in a coin's density. @param {number} hPa @param {number} humidity % @param {number} t °C @returns {Fluid} */
  const air = (hPa, humidity, t) => {
    const field = !(hPa >= 600 && hPa <= 1100) ? "pressure" : !(humidity >= 0 && humidity <= 80) ? "humidity" : !(t >= 10 && t <= 30) ? "temperature" : "";
    if (field) return { field, trouble: ["no-air-density"] };
    return { density: (0.34848 * hPa - 0.009 * humidity * Math.exp(0.061 * t)) / (273.15 + t) / 1000, slope: 0, uncertainty: 5e-6, words: "air" };
  };

  /** Where pressure is not known: the convention of balance makers, and a spread that covers rooms near sea level (1.14 to 1.24 kg/m³). */
  const ROOM = { density: 0.0012, slope: 0, uncertainty: 5e-5, words: "room" };

  tm.water = { liquid, air, ROOM };
})((window.Tellmark ??= {}));
