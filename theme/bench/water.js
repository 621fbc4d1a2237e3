// @ts-check
/* Densities of what a coin is weighed in, in g/cm³, with standard uncertainties; refused where their formulas end. Pure. */
(function (/** @type {BenchGlobal} */ tm) {
  "use strict";
  /** @typedef {{ density: number, slope: number, uncertainty: number, words: string, trouble?: undefined } | { trouble: string, density?: undefined }} Fluid `slope` per K. */

  /** Air-free water at 101325 Pa, 0 to 40 °C: Tanaka and others, Metrologia 38 (2001) 301. @param {number} t °C */
  const tanaka = (t) => 0.99997495 * (1 - ((t - 3.983035) ** 2 * (t + 301.797)) / (522528.9 * (t + 69.34881)));

  /** Pure ethanol, 15 to 30 °C: a parabola within 0.000001 of the equation of state of Schroeder and others (2014). @param {number} t °C */
  const ethanol = (t) => 0.78942189 - 8.55642e-4 * (t - 20) - 4.61534e-7 * (t - 20) ** 2;

  /** Allowances: dissolved air and weather, 0.000005; hard tap water up to 0.0004 dense (known in the trade, no source);
   * ethanol labelled 99.5 % may hold 0.5 % water, which is 0.0015 (printed tables: 0.790 pure, 0.805 at 95 % by mass).
   * @type {Record<string, { of: (t: number) => number, from: number, to: number, uncertainty: number, words: string }>} */
  const LIQUIDS = {
    water: { of: tanaka, from: 0, to: 40, uncertainty: 5e-6, words: "distilled or deionised water" },
    tap: { of: tanaka, from: 0, to: 40, uncertainty: 0.0004 / Math.sqrt(3), words: "tap water" },
    ethanol: { of: ethanol, from: 15, to: 30, uncertainty: 0.0015 / Math.sqrt(3), words: "ethanol of 99.5 % or better" },
  };

  /** @param {string} name @param {number} t °C @returns {Fluid} */
  function liquid(name, t) {
    const { of, from, to, uncertainty, words } = LIQUIDS[name];
    if (!(t >= from && t <= to)) {
      const warm = (t - 32) / 1.8;
      return { trouble: `The density of ${words} is on file from ${from} to ${to} °C.${warm >= from && warm <= to ? ` ${t} °F would be ${warm.toFixed(1)} °C.` : ""}` };
    }
    return { density: of(t), slope: (of(t + 0.01) - of(t - 0.01)) / 0.02, uncertainty, words };
  }

  /** Moist air by the simplified formula of OIML R 111-1 (2004), E.3. The full one, CIPM-2007, differs by less than 0.0003 of it in this range:
   * 0.000003 in a coin's density. @param {number} hPa @param {number} humidity % @param {number} t °C @returns {Fluid} */
  function air(hPa, humidity, t) {
    if (!(hPa >= 600 && hPa <= 1100)) return { trouble: "The density of air is worked out from 600 to 1100 hPa." };
    if (!(humidity >= 0 && humidity <= 80)) return { trouble: "The density of air is worked out for a humidity of 0 to 80 %." };
    if (!(t >= 10 && t <= 30)) return { trouble: "The density of air is worked out from 10 to 30 °C." };
    const density = (0.34848 * hPa - 0.009 * humidity * Math.exp(0.061 * t)) / (273.15 + t) / 1000;
    return { density, slope: 0, uncertainty: 5e-6, words: "air, from pressure, humidity and temperature" };
  }

  /** Where pressure is not known: the convention of balance makers, and a spread that covers rooms near sea level (1.14 to 1.24 kg/m³). */
  const ROOM = { density: 0.0012, slope: 0, uncertainty: 5e-5, words: "air of a room near sea level" };

  tm.water = { liquid, air, ROOM };
})((window.Tellmark ??= {}));
