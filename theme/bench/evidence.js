// @ts-check
/* The weight of evidence. Pure: what the entries expect and what the examiner found → support of each hypothesis
   against genuine, as log10 of the likelihood ratio. No priors, and nothing here is a chance of being genuine. */
(function (/** @type {BenchGlobal} */ tm) {
  "use strict";
  /** @type {Record<string, number>} */
  const SHARES = { always: 0.98, usual: 0.85, sometimes: 0.4, seldom: 0.1, never: 0.01 };
  /** Combined standard uncertainties beyond which a measurement contradicts a range. */
  const K = 3;
  /** A hypothesis this many powers of ten behind the best no longer stands. */
  const BEHIND = 2;
  /** How far a false piece may plausibly lie from the genuine middle, as a share of it: our own choice, no source. */
  const ROOM = /** @type {Record<string, number>} */ ({ weight: 0.2, thickness: 0.2, diameter: 0.05, density: 0.3 });
  /** Cheap and without contact first: looking, then turning or weighing, then calipers, then wetting. */
  const COST = /** @type {Record<string, number>} */ ({ weight: 1, "die-axis": 1, tilt: 1, offset: 1, diameter: 2, thickness: 2, density: 3 });
  const BINS = 60;
  const NAMES = /** @type {[number, string][]} */ ([[6, "extremely strong"], [4, "very strong"], [3, "strong"], [2, "moderately strong"], [1, "moderate"], [Math.log10(2), "weak"]]);
  const sum = (/** @type {number[]} */ list) => list.reduce((a, b) => a + b, 0);
  const best = (/** @type {number[]} */ list) => list.indexOf(Math.max(...list));

  /** Must agree with `generator/reckon/likelihood.rs`. A count of k in n is (k + ½) / (n + 1), after Jeffreys. @param {(Expected | null)[]} written */
  function spread(written) {
    const known = written.map((e) => (e === null ? null : typeof e === "string" ? SHARES[e] : (e[0] + 0.5) / (e[1] + 1)));
    const open = known.filter((share) => share === null).length;
    if (open === known.length) return known.map(() => 1 / open);
    const left = open ? Math.max((1 - sum(known.map((share) => share ?? 0))) / open, SHARES.never) : 0;
    const filled = known.map((share) => share ?? left);
    const total = sum(filled);
    return filled.map((share) => share / total);
  }

  /** Upper tail of the standard normal: a series of positive terms near the middle, a continued fraction outside. @param {number} z @returns {number} */
  function tail(z) {
    if (z < 0) return 1 - tail(-z);
    if (z > 38) return 0;
    const bell = Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);
    if (z < 4) {
      let term = z;
      let all = z;
      for (let n = 3; term > all * 1e-17; n += 2) all += term *= (z * z) / n;
      return 0.5 - bell * all;
    }
    let below = z;
    for (let n = 60; n; n--) below = z + n / below;
    return bell / below;
  }
  /** Mass of the standard normal between a and b. @param {number} a @param {number} b */
  const between = (a, b) => (a > 0 ? tail(a) - tail(b) : b < 0 ? tail(-b) - tail(-a) : 1 - tail(b) - tail(-a));

  const ends = (/** @type {KnownRange} */ r) => ("sd" in r ? [r.mean - 3 * r.sd, r.mean + 3 * r.sd] : [r.low, r.high]);
  const middle = (/** @type {KnownRange} */ r) => ("sd" in r ? r.mean : (r.low + r.high) / 2);

  /** Density at x of a range, measured with standard uncertainty u > 0. @param {KnownRange} r @param {number} x @param {number} u */
  function density(r, x, u) {
    const width = "sd" in r ? 0 : r.high - r.low;
    if ("low" in r && width > u * 1e-6) return Math.max(0, between((x - r.high) / u, (x - r.low) / u)) / width;
    const s = "sd" in r ? Math.hypot(r.sd, u) : u;
    return Math.exp(-(((x - middle(r)) / s) ** 2) / 2) / (s * Math.sqrt(2 * Math.PI));
  }

  /** Combined uncertainties by which x lies outside; 0 inside a range. @param {KnownRange} r @param {number} x @param {number} u */
  const outside = (r, x, u) => ("sd" in r ? Math.abs(x - r.mean) / Math.hypot(r.sd, u) : Math.max(0, r.low - x, x - r.high) / u);

  /** Degrees around the circle, brought next to the range. @param {EvidenceCheck} check @param {KnownRange} r @param {number} x */
  const turned = (check, r, x) => (check.quantity === "die-axis" ? x - 360 * Math.round((x - middle(r)) / 360) : x);

  /** Where a piece that nothing is known of may lie. @param {KnownRange[]} ranges @param {KnownRange | null} genuine @param {string} quantity @returns {[number, number]} */
  function plausible(ranges, genuine, quantity) {
    if (quantity === "die-axis") return [0, 360];
    const all = ranges.flatMap(ends);
    const [low, high] = [Math.min(...all), Math.max(...all)];
    const room = (ROOM[quantity] ?? 0) * (genuine ? middle(genuine) : (low + high) / 2) || high - low || 1;
    const about = ROOM[quantity] && genuine ? middle(genuine) : 0;
    return about ? [Math.min(low, about - room), Math.max(high, about + room)] : [low - room, high + room];
  }

  /**
   * A measured check is a look whose findings are the ranges on file and "elsewhere": a hypothesis always shows its
   * own and never the others, and one without a range expects nothing in particular. So one measurement never says
   * more than one look can.
   * @param {PlacedCheck} placed @param {KnownCheck} known @param {number} count
   */
  function measured(placed, known, count) {
    /** @type {KnownRange[]} */
    const ranges = [];
    const own = Array(count).fill(-1);
    for (const [who, range] of placed.ranges) {
      const same = ranges.findIndex((r) => JSON.stringify(r) === JSON.stringify(range));
      own[who] = same < 0 ? ranges.push(range) - 1 : same;
    }
    const shares = own.map((mine) => spread([...ranges.map((_, at) => (mine < 0 ? null : mine === at ? "always" : "never")), mine < 0 ? null : "never"]));
    const span = ranges.length ? plausible(ranges, own[0] < 0 ? null : ranges[own[0]], known.quantity) : /** @type {[number, number]} */ ([0, 1]);
    return { ranges, own, shares, span };
  }

  /** @param {CountryKnowledge} country @param {string} id @returns {EvidenceCase} */
  function prepare(country, id) {
    const issue = country.issues[id];
    const hypotheses = [...issue.hypotheses.map(({ key, title }) => ({ key, title })), { key: "another", title: "Another false piece, not on file" }];
    const checks = issue.checks.map((placed) => {
      const known = country.checks[placed.check];
      const { quantity } = known;
      const cost = quantity ? COST[quantity] : known.tool ? 1 : 0;
      const base = { key: `${known.from}#${known.id}`, ask: known.ask, cause: known.cause, decisive: known.decisive, quantity, cost };
      /** @type {EvidenceCheck} */
      let check;
      if (quantity) check = { ...base, ...measured(placed, known, hypotheses.length), never: [], say: [] };
      else {
        const expect = hypotheses.map((_, who) => placed.expect.map((finding) => finding.find(([h]) => h === who)?.[1] ?? null));
        check = { ...base, ranges: [], own: [], span: [0, 1], shares: expect.map(spread), never: expect.map((row) => row.map((e) => e === "never")), say: known.findings.map((f) => f.say) };
      }
      check.forecast = quantity ? forecast(check) : check.shares;
      return check;
    });
    return { hypotheses, checks };
  }

  /** Shares of the steps of a measured check's span, for the information it promises if it is measured well. @param {EvidenceCheck} check */
  function forecast(check) {
    const [low, high] = check.span;
    const step = (high - low) / BINS;
    const bins = Array.from({ length: BINS }, (_, at) => low + (at + 0.5) * step);
    const masses = check.ranges.map((r) => bins.map((x) => density(r, turned(check, r, x), step / 2) * step));
    return check.shares.map((shares) => {
      const row = bins.map((_, at) => shares[check.ranges.length] / BINS + sum(masses.map((mass, k) => shares[k] * mass[at])));
      const total = sum(row);
      return row.map((share) => share / total);
    });
  }

  /** log10 of the likelihood of an answer under each hypothesis; null if it counts nothing. @param {EvidenceCheck} check @param {EvidenceAnswer | null} answer */
  function likelihoods(check, answer) {
    if (!answer) return null;
    if (!check.quantity) {
      const at = answer.finding ?? -1;
      return check.say[at] === undefined ? null : check.shares.map((shares) => Math.log10(shares[at]));
    }
    const { value: x, uncertainty } = answer;
    if (!check.ranges.length || !Number.isFinite(x)) return null;
    const at = /** @type {number} */ (x);
    const u = least(check, uncertainty);
    const circle = check.quantity === "die-axis";
    // The span is widened to hold whatever was measured, so that no likelihood is zero.
    const span = circle ? { low: at - 180, high: at + 180 } : { low: Math.min(check.span[0], at), high: Math.max(check.span[1], at) };
    const parts = [...check.ranges.map((r) => density(r, turned(check, r, at), u)), density(span, at, u)];
    return check.shares.map((shares) => Math.log10(sum(shares.map((share, k) => share * parts[k]))));
  }

  /** No measurement is exact: at least a ten-thousandth of the span. @param {EvidenceCheck} check @param {number | undefined} u */
  const least = (check, u) => Math.max(Number.isFinite(u) ? Math.abs(/** @type {number} */ (u)) : 0, (check.span[1] - check.span[0]) * 1e-4);

  /** @param {EvidenceCase} it @param {(EvidenceAnswer | null)[]} answers @returns {EvidenceWeighed} */
  function weigh(it, answers) {
    const logs = it.checks.map((check, at) => likelihoods(check, answers[at] ?? null));
    /** @type {Record<string, number>} */
    const counted = {};
    it.checks.forEach(({ cause }, at) => logs[at] && cause && (counted[cause] = (counted[cause] ?? 0) + 1));
    // Findings of one cause share one voice: the mean of their logarithms.
    const parts = logs.map((row, at) => row && row.map((log) => (log - row[0]) / (counted[it.checks[at].cause] ?? 1)));
    const support = it.hypotheses.map((_, who) => sum(parts.map((row) => row?.[who] ?? 0)));
    const top = Math.max(...support);
    const order = support.map((_, who) => who).sort((a, b) => support[b] - support[a] || a - b);
    // Two at least, so that the leader is still tried against its nearest rival.
    const standing = order.filter((who, at) => at < 2 || support[who] > top - BEHIND);
    return { support, parts, counted, order, standing, contradictions: contradictions(it, answers) };
  }

  /** @param {EvidenceCase} it @param {(EvidenceAnswer | null)[]} answers @returns {EvidenceWeighed["contradictions"]} */
  function contradictions(it, answers) {
    return it.checks.flatMap((check, at) => {
      const { finding = -1, value = NaN, uncertainty } = answers[at] ?? {};
      return it.hypotheses.flatMap((_, who) => {
        if (!check.quantity) return check.never[who][finding] ? [{ hypothesis: who, check: at, say: check.say[finding] }] : [];
        const range = check.ranges[check.own[who]];
        const far = range && Number.isFinite(value) ? outside(range, turned(check, range, value), least(check, uncertainty)) : 0;
        return far > K ? [{ hypothesis: who, check: at, say: `${far < 1000 ? far.toPrecision(2) : "over 1000"} combined uncertainties outside what is expected` }] : [];
      });
    });
  }

  /** Bits. @param {number[]} p */
  const entropy = (p) => -sum(p.map((x) => (x > 0 ? x * Math.log2(x) : 0))) + 0;

  /** Mutual information, in bits, between a finding and the hypotheses: shares[hypothesis][finding]. @param {number[][]} shares @param {number[]} [weights] */
  function information(shares, weights = shares.map(() => 1 / shares.length)) {
    const mixed = shares[0].map((_, at) => sum(shares.map((row, who) => weights[who] * row[at])));
    return Math.max(0, entropy(mixed) - sum(shares.map((row, who) => weights[who] * entropy(row))));
  }

  /** A further finding of a cause that has spoken `times` times counts only 1 / (times + 1). @param {number[]} row @param {number} times */
  function softened(row, times) {
    const soft = row.map((share) => share ** (1 / (times + 1)));
    const total = sum(soft);
    return soft.map((share) => share / total);
  }

  /** Unanswered checks, the most telling first. @param {EvidenceCase} it @param {(EvidenceAnswer | null)[]} answers @param {EvidenceWeighed} weighed @returns {EvidenceAdvice[]} */
  function next(it, answers, weighed) {
    const { standing, counted } = weighed;
    const advice = it.checks.flatMap((check, at) => {
      if (answers[at] || (check.quantity && !check.ranges.length)) return [];
      const times = counted[check.cause] ?? 0;
      const rows = standing.map((who) => (times ? softened(check.forecast[who], times) : check.forecast[who]));
      const apart = rows.map((row) => information([rows[0], row]));
      // What it separates: the leader from whom, or else the pair it tells apart best.
      const from = apart.some((bits) => bits > 0.05) ? 0 : best(rows.map((row) => Math.max(...rows.map((other) => information([row, other])))));
      const tells = rows.map((row, who) => ({ who, bits: information([rows[from], row]) })).filter(({ bits }) => bits > 0.05).sort((a, b) => b.bits - a.bits);
      return [{ check: at, bits: information(rows), from: standing[from], tells: tells.map(({ who }) => standing[who]), times }];
    });
    // A twentieth of a bit is no difference.
    const step = (/** @type {EvidenceAdvice} */ a) => Math.round(a.bits * 20);
    const rank = (/** @type {EvidenceAdvice} */ a) => it.checks[a.check].cost - (it.checks[a.check].decisive ? 0.5 : 0);
    return advice.sort((a, b) => step(b) - step(a) || rank(a) - rank(b) || a.check - b.check);
  }

  /** ENFSI (2015) words: lower ≤ ratio < upper, read off the larger of the ratio and its inverse; none below 2. @param {number} log10 */
  function words(log10) {
    const size = Math.abs(log10) + 1e-12;
    const name = Number.isFinite(size) ? NAMES.find(([from]) => size >= from)?.[1] : "";
    return name ? `${name} support` : "";
  }

  /** The ratio itself, two figures, never below 1. @param {number} log10 */
  function ratio(log10) {
    const size = Math.abs(log10);
    if (!Number.isFinite(size)) return "";
    if (size >= 6) return `${(10 ** (size % 1)).toFixed(1)} × 10^${Math.floor(size)}`;
    const number = 10 ** size;
    return number < 9.95 ? number.toFixed(1) : Number(number.toPrecision(2)).toLocaleString("en");
  }

  tm.evidence = { spread, words, ratio, entropy, information, density, outside, tail, prepare, weigh, next };
})((window.Tellmark ??= {}));
