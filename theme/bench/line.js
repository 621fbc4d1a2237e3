// @ts-check
/* Ranges and a measurement on one scale, as rows like those of the printed pages: text stays text at every width, and a reader without sight hears the numbers. */
((/** @type {BenchGlobal} */ tm) => {
  "use strict";
  const { el } = tm;
  /** `class`: `law`, `wear`, `false` or `other`; `at` marks the value itself; `words` are the numbers, said.
   * @typedef {{ class: string, label: string, low: number, high: number, at?: number | null, words: string }} LineBar */
  /** `seen` is the measurement with its interval. @typedef {{ unit: string, bars: LineBar[], seen?: Omit<LineBar, "class"> | null }} LineSpec */

  /** Four to eight round numbers. @param {number} low @param {number} high */
  const ticks = (low, high) => {
    const rough = (high - low) / 5, power = 10 ** Math.floor(Math.log10(rough));
    const step = [1, 2, 5, 10].map((m) => m * power).find((one) => one >= rough) ?? 10 * power;
    const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9)), first = Math.ceil(low / step);
    return Array.from({ length: Math.floor(high / step + 1e-9) - first + 1 }, (_, i) => ({ value: (first + i) * step, label: ((first + i) * step).toFixed(decimals) }));
  };

  /** @param {LineSpec} spec */
  const line = ({ unit, bars, seen }) => {
    const rows = [...(seen ? [{ class: "found", ...seen }] : []), ...bars].filter((bar) => Number.isFinite(bar.low) && Number.isFinite(bar.high) && bar.low <= bar.high);
    const scale = el("div", "scale");
    if (!rows.length) return scale;
    const least = Math.min(...rows.map((bar) => bar.low)), most = Math.max(...rows.map((bar) => bar.high));
    const margin = most > least ? (most - least) * 0.08 : (Math.abs(most) || 60) * 0.05, low = least - margin, wide = most + margin - low;
    const place = (/** @type {string} */ name, /** @type {number} */ from, to = from) => {
      const mark = el("i", name);
      mark.style.left = `${(((from - low) / wide) * 100).toFixed(2)}%`;
      if (to > from) mark.style.width = `${(((to - from) / wide) * 100).toFixed(2)}%`;
      return mark;
    };
    const row = (/** @type {string} */ kind, /** @type {string} */ label, /** @type {HTMLElement[]} */ marks, /** @type {string} */ words) => {
      const one = el("div", `row ${kind}`, el("span", "name", label), el("span", "track", ...marks), el("span", "value", words));
      scale.append(one);
      return one;
    };
    const strip = rows[0].class === "found" ? rows[0] : null;
    for (const bar of rows) {
      const marks = [place("bar", bar.low, bar.high)];
      if (strip && bar !== strip) marks.unshift(place("reach", strip.low, strip.high));
      if (typeof bar.at === "number") marks.push(place("at", bar.at));
      row(bar.class, bar.label, marks, bar.words);
    }
    const axis = row("axis", "", ticks(low, low + wide).map((tick) => {
      const mark = place("tick", tick.value);
      mark.textContent = tick.label;
      return mark;
    }), unit);
    axis.setAttribute("aria-hidden", "true");
    return scale;
  };

  tm.line = line;
  tm.ticks = ticks;
})((window.Tellmark ??= {}));
