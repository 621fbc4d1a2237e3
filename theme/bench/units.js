// @ts-check
/* What is typed into a field → the bench's own unit (g, mm, °, °C, g/cm³), or what is expected there instead. Pure, but for
 * the page's sentences. */
((/** @type {BenchGlobal} */ tm) => {
  "use strict";
  const { say } = tm;
  /** Own unit, exact factor as digits and power of ten, other spellings in the singular. 1 lb = 0.45359237 kg, 1 yd = 0.9144 m, both exact since 1959.
   * @type {Record<string, [own: string, digits: bigint, power: number, spelt: string]>} */
  const UNITS = {
    g: ["g", 1n, 0, "gram|gramme"], gr: ["g", 6479891n, -8, "grain"],
    dwt: ["g", 155517384n, -8, "pennyweight"], "oz t": ["g", 311034768n, -7, "ozt|troy ounce|troy oz|oz troy"],
    "oz av": ["g", 28349523125n, -9, "avoirdupois ounce|oz avdp"],
    mm: ["mm", 1n, 0, "millimetre|millimeter"], in: ["mm", 254n, -1, "inch|inches|\"|″"], mil: ["mm", 254n, -4, "thou"],
    "°": ["°", 1n, 0, "º|deg|degree"], "°C": ["°C", 1n, 0, "c|ºc|celsius"], "°F": ["°C", 1n, 0, "f|ºf|deg f|fahrenheit"],
    "g/cm³": ["g/cm³", 1n, 0, "g/cm3|g/cc|g/ml"], hPa: ["hPa", 1n, 0, "mbar"], "%": ["%", 1n, 0, ""],
  };
  /** What each quantity may be. @type {Record<string, [own: string, low: number, high: number]>} */
  const QUANTITIES = {
    weight: ["g", 0.02, 2000], reading: ["g", -2000, 2000], step: ["g", 1e-5, 1],
    diameter: ["mm", 3, 150], thickness: ["mm", 0.1, 30], offset: ["mm", -30, 30],
    wire: ["mm", 0.01, 5], vessel: ["mm", 15, 500],
    tilt: ["°", -180, 180], "die-axis": ["°", 0, 360], temperature: ["°C", 0, 40],
    density: ["g/cm³", 0.5, 22.6], pressure: ["hPa", 500, 1100], humidity: ["%", 0, 100],
    // Standard uncertainties, by the unit of what they are of.
    "doubt g": ["g", 0, 1], "doubt mm": ["mm", 0, 5], "doubt °": ["°", 0, 90], "doubt g/cm³": ["g/cm³", 0, 10],
  };
  /** One of them or several: `grain`, `grains`. @param {string} word */
  const unitOf = (word) => Object.keys(UNITS).find((unit) => [unit.toLowerCase(), ...UNITS[unit][3].split("|").flatMap((one) => [one, `${one}s`])].includes(word));

  /** Correctly rounded: the decimal is worked out whole before it becomes a number. @param {bigint} digits @param {number} power @param {string} unit */
  const exact = (digits, power, unit) => {
    if (unit !== "°F") return Number(`${digits * UNITS[unit][1]}e${power + UNITS[unit][2]}`);
    const parts = 10 ** Math.max(-power, 0);
    return ((Number(`${digits}e${power + Math.max(-power, 0)}`) - 32 * parts) * 5) / (9 * parts);
  };

  /** A value in the bench's own unit, in another. @param {number} value @param {string} unit */
  const to = (value, unit) => (unit === "°F" ? (value * 9) / 5 + 32 : UNITS[unit] ? (value / Number(UNITS[unit][1])) * 10 ** -UNITS[unit][2] : value);

  /** To so many decimals; without them up to six, and no idle noughts. @param {number} value @param {string} unit @param {number} [decimals] */
  const show = (value, unit, decimals) => {
    const turned = to(value, unit);
    if (!Number.isFinite(turned)) return "—";
    const text = decimals === undefined ? String(Number(turned.toFixed(6))) : turned.toFixed(decimals);
    return `${/[1-9]/.test(text) ? text.replace("-", "−") : text.replace("-", "")}${unit === "°" ? "" : " "}${unit}`;
  };

  /** `step`: one of the last digit typed, own unit. @param {string} text @param {string} quantity @param {string} unit where none is typed
   * @returns {{ value: number, typed: string, unit: string, step: number, trouble?: undefined } | { trouble: string, value?: undefined }} */
  const parse = (text, quantity, unit) => {
    const [own, low, high] = QUANTITIES[quantity], name = say(`a-${quantity.split(" ")[0]}`);
    const not = (/** @type {BenchSaying} */ ...why) => ({ trouble: say("expected", why, name, show(low, own), show(high, own)) });
    const said = text.trim().replace(/^[−–]/, "-");
    if (!said) return not("unwritten");
    const found = /^(-?)\+?(\d{0,15})([.,]?)(?<=[\d.,])(\d{0,15})(?:e([+-]?\d{1,3}))?(?![\d.,])\s*(.*)$/i.exec(said);
    if (!found || !(found[2] + found[4])) return not(/\d/.test(said) ? "one-number" : "no-number");
    const [, sign, whole, point, part, exponent = "0", rest] = found;
    if (point === "," && part.length === 3 && /^[1-9]\d{0,2}$/.test(whole)) return not("comma", whole, part);
    const word = rest.toLowerCase().replace(/[.\s]+/g, " ").trim();
    const used = word ? unitOf(word) : unit;
    if (!used) return not(/^(oz|ounces?)$/.test(word) ? "ounce" : "no-unit", rest);
    if (UNITS[used][0] !== own) return not("other-unit", used, name);
    const power = Number(exponent) - part.length;
    const value = exact(BigInt(sign + whole + part), power, used);
    const typed = said.slice(0, said.length - rest.length).trim();
    const warm = used === "°C" && value > high ? (value - 32) / 1.8 : NaN;
    if (value === 0 && low > 0) return not("nought");
    if (value < 0 && low >= 0 && own !== "°C") return not("negative", typed);
    if (!(value >= low && value <= high)) return not(warm <= high ? "warm" : "out-of-range", typed, used, show(warm, "°C", 1));
    return { value, typed, unit: used, step: used === "°F" ? 10 ** power / 1.8 : exact(1n, power, used) };
  };

  /** The bench's own unit of a quantity, or of none of them: nothing. @param {string} quantity */
  const own = (quantity) => QUANTITIES[quantity]?.[0] ?? "";

  /** To the second figure of the uncertainty, as the GUM has it: `26.731 ± 0.008 g`. @param {number} value @param {number | null} u @param {string} own @param {string} [unit] the unit to write it in */
  const pair = (value, u, own, unit = own) => {
    if (!u) return show(value, unit);
    const places = Math.min(6, Math.max(0, 1 - Math.floor(Math.log10(to(u, unit)))));
    return `${show(value, unit, places).replace(unit, "").trim()} ± ${show(u, unit, places)}`;
  };
  /** Five figures. @param {number} value @param {string} unit */
  const short = (value, unit) => show(Number(value.toPrecision(5)), unit);
  /** Four. @param {number} low @param {number} high @param {string} unit */
  const range = (low, high, unit) => {
    const [from, to] = [low, high].map((end) => show(Number(end.toPrecision(4)), unit));
    return say("range", from.replace(unit, "").trim(), to);
  };

  tm.units = { parse, show, to, own, pair, short, range };
})((window.Tellmark ??= {}));
