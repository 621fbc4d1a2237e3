// @ts-check
/* The weight of evidence: what entries expect and what was found → support of each hypothesis against genuine. Pure, but for the page's sentences.
   What each part takes and gives is written in bench.d.ts. */
((/** @type {BenchGlobal} */ tm) => {
  "use strict";
  const { say } = tm;
  /** @typedef {BenchEvidence} E */
  /** @typedef {Record<string, number>} Table */
  const { abs, exp, max, min, round } = Math;
  const SHARES = /** @type {Table} */ ({ always: 0.98, usual: 0.85, sometimes: 0.4, seldom: 0.1, never: 0.01 });
  /** How far from the genuine middle a false piece may plausibly lie, as a share of it: our own choice, no source. */
  const ROOM = /** @type {Table} */ ({ weight: 0.2, thickness: 0.2, diameter: 0.05, density: 0.3 });
  const COST = /** @type {Table} */ ({ diameter: 2, thickness: 2, density: 3 });
  const BANDS = Object.entries({ "extremely strong": 6, "very strong": 4, strong: 3, "moderately strong": 2, moderate: 1, weak: Math.log10(2) });
  const BINS = 60;
  /** What wets, needs a laboratory or takes an hour. */
  const COSTLY = /water|liquid|hydrostatic|X-ray|analy/i;
  /** Of genuine weights, what a piece worn nearly smooth has: our own choice, no source. */
  const SMOOTH = 0.1;

  const sum = (/** @type {number[]} */ list) => list.reduce((a, b) => a + b, 0);
  const whole = (/** @type {number[]} */ list, total = sum(list)) => list.map((x) => x / total);

  /** @type {E["spread"]} */
  const spread = (written) => {
    const known = written.map((e) => (e === null ? e : typeof e === "string" ? SHARES[e] : (e[0] + 0.5) / (e[1] + 1)));
    const open = known.filter((share) => share === null).length;
    if (open === known.length) return known.map(() => 1 / open);
    const left = open ? max((1 - sum(known.map((share) => share ?? 0))) / open, SHARES.never) : 0;
    return whole(known.map((share) => share ?? left));
  };

  /** A series of positive terms near the middle, a continued fraction outside. @type {E["tail"]} */
  const tail = (z) => {
    if (z < 0) return 1 - tail(-z);
    const bell = exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);
    let all = z;
    if (z < 4) {
      for (let n = 3, term = z; term > all * 1e-17; n += 2) all += term *= (z * z) / n;
      return 0.5 - bell * all;
    }
    for (let n = 60; n; n--) all = z + n / all;
    return bell / all;
  };
  /** Of the standard normal, from a up to b. @param {number} a @param {number} b */
  const mass = (a, b) => (a > 0 ? tail(a) - tail(b) : b < 0 ? tail(-b) - tail(-a) : 1 - tail(b) - tail(-a));

  /** From where to where a range reaches, a mean to so many standard deviations. @type {E["reach"]} */
  const reach = (r, deviations) => ("sd" in r ? [r.mean - deviations * r.sd, r.mean + deviations * r.sd] : [r.low, r.high]);
  const middle = (/** @type {KnownRange} */ r) => sum(reach(r, 0)) / 2;
  const spreadOf = (/** @type {any} */ r, /** @type {number} */ u) => Math.hypot(r.sd ?? 0, u);

  /** @type {E["density"]} */
  const density = (r, x, u) => {
    const [low, high] = reach(r, 0);
    if (r.tail) return (1 - SMOOTH) * density({ low, high }, x, u) + SMOOTH * density({ low: r.tail, high: low }, x, u);
    if (high - low > u * 1e-6) return max(0, mass((x - high) / u, (x - low) / u)) / (high - low);
    const s = spreadOf(r, u);
    return exp(-(((x - middle(r)) / s) ** 2) / 2) / (s * Math.sqrt(2 * Math.PI));
  };

  /** @type {E["outside"]} */
  const outside = (r, x, u) => {
    const [low, high] = reach(r, 0);
    return max(0, (r.tail ?? low) - x, x - high) / spreadOf(r, u);
  };

  /** Degrees around the circle are brought next to the range. @param {{ quantity: string }} check @param {KnownRange} r @param {number} x */
  const near = (check, r, x) => (check.quantity === "die-axis" ? x - 360 * round((x - middle(r)) / 360) : x);
  /** No measurement is exact: at least a ten-thousandth of the span. @param {EvidenceCheck} check @param {number} [u] */
  const least = (check, u = 0) => max(isFinite(u) ? abs(u) : 0, (check.span[1] - check.span[0]) * 1e-4);

  /** @param {KnownRange[]} ranges @param {KnownRange} genuine @param {string} quantity @returns {[number, number]} */
  const plausible = (ranges, genuine, quantity) => {
    if (quantity === "die-axis") return [0, 360];
    const all = ranges.flatMap((r) => reach(r, 3));
    const room = genuine && ROOM[quantity] * middle(genuine);
    if (room) all.push(middle(genuine) - room, middle(genuine) + room);
    const [low, high] = [min(...all), max(...all)];
    const more = room ? 0 : high - low || 1;
    return all.length ? [low - more, high + more] : [0, 1];
  };

  /** @param {PlacedCheck["ranges"]} placed @param {string} quantity @param {number} count */
  const measured = (placed, quantity, count) => {
    /** @type {KnownRange[]} */
    const ranges = [];
    const own = Array(count).fill(-1);
    for (const [who, range] of placed) {
      const same = ranges.findIndex((r) => JSON.stringify(r) === JSON.stringify(range));
      own[who] = same < 0 ? ranges.push(range) - 1 : same;
    }
    const shares = own.map((mine) => spread([...ranges, null].map((_, at) => (mine < 0 ? null : mine === at ? "always" : "never"))));
    return { ranges, own, shares, span: plausible(ranges, ranges[own[0]] ?? ranges[0], quantity) };
  };

  /** @type {E["prepare"]} */
  const prepare = (country, id) => {
    const issue = country.issues[id];
    const hypotheses = [...issue.hypotheses, { key: "another", title: "Another false piece, not on file" }];
    const checks = issue.checks.map(({ check: at, expect, ranges }) => {
      const known = country.checks[at];
      const quantity = known.quantity;
      const expected = hypotheses.map((_, who) => expect.map((finding) => finding.find(([h]) => h === who)?.[1] ?? null));
      const check = {
        ...known, key: `${known.from}#${known.id}`, cost: quantity ? COST[quantity] ?? 1 : COSTLY.test(known.tool) ? 3 : Number(known.tool > ""), say: known.findings.map((f) => f.say),
        never: expected.map((row) => row.map((e) => e === "never")), ...measured(ranges, quantity, hypotheses.length),
      };
      const shares = quantity ? check.shares : expected.map(spread);
      return { ...check, shares, forecast: quantity ? forecast(check) : shares };
    });
    return { hypotheses, checks };
  };

  /** Likelihood under each hypothesis of a measurement x with uncertainty u. @param {Omit<EvidenceCheck, "forecast">} check @param {number} x @param {number} u @param {number} elsewhere */
  const under = (check, x, u, elsewhere) => {
    const heights = [...check.ranges.map((r) => density(r, near(check, r, x), u)), elsewhere];
    return check.shares.map((shares) => sum(heights.map((height, k) => height * shares[k])));
  };

  /** What a good measurement may give, in steps of the span. @param {Omit<EvidenceCheck, "forecast">} check */
  const forecast = (check) => {
    const [low, high] = check.span;
    const step = (high - low) / BINS;
    const rows = Array.from({ length: BINS }, (_, at) => under(check, low + (at + 0.5) * step, step / 2, 1 / (high - low)));
    return check.shares.map((_, who) => whole(rows.map((row) => row[who])));
  };

  /** log10 of the likelihood under each hypothesis; null if the answer counts nothing. @param {EvidenceCheck} check @param {EvidenceAnswer | null} answer */
  const likelihoods = (check, answer) => {
    const { finding = -1, value: x = NaN, uncertainty } = answer ?? {};
    if (!check.quantity) return finding in check.say ? check.shares.map((shares) => Math.log10(shares[finding])) : null;
    if (!check.ranges.length || !isFinite(x)) return null;
    const u = least(check, uncertainty);
    // The span is widened to hold whatever was measured, so that no likelihood is zero.
    const elsewhere = check.quantity === "die-axis" ? 1 / 360 : density({ low: min(check.span[0], x), high: max(check.span[1], x) }, x, u);
    return under(check, x, u, elsewhere).map(Math.log10);
  };

  /** @type {E["weigh"]} */
  const weigh = ({ hypotheses, checks }, answers) => {
    const logs = checks.map((check, at) => likelihoods(check, answers[at]));
    const counted = /** @type {Table} */ (Object.create(null));
    checks.forEach(({ cause }, at) => logs[at] && cause && (counted[cause] = (counted[cause] ?? 0) + 1));
    // Findings of one cause share one voice: the mean of their logarithms.
    const parts = logs.map((row, at) => row && row.map((log) => (log - row[0]) / (counted[checks[at].cause] ?? 1)));
    const support = hypotheses.map((_, who) => sum(parts.map((row) => row?.[who] ?? 0)));
    const order = [...support.keys()].sort((a, b) => support[b] - support[a] || a - b);
    const standing = order.filter((who, at) => at < 2 || support[order[0]] - support[who] < 2);
    const contradictions = checks.flatMap((check, at) => hypotheses.flatMap((_, hypothesis) => {
      const say = against(check, answers[at], hypothesis);
      return say ? [{ hypothesis, check: at, say }] : [];
    }));
    return { support, parts, counted, order, standing, contradictions };
  };

  /** What contradicts a hypothesis, in words, or nothing. @param {EvidenceCheck} check @param {EvidenceAnswer | null} answer @param {number} who */
  const against = (check, answer, who) => {
    const { finding = -1, value: x = NaN, uncertainty } = answer ?? {};
    if (!check.quantity) return check.never[who][finding] && check.say[finding];
    const range = check.ranges[check.own[who]];
    const far = range && outside(range, near(check, range, x), least(check, uncertainty));
    return far > 3 && far < Infinity && say("outside", Number(min(far, 1000).toPrecision(2)), tm.units.range(...reach(range, 2), check.unit));
  };

  /** @type {E["entropy"]} */
  const entropy = (p) => sum(p.map((x) => (x > 0 ? -x * Math.log2(x) : 0)));

  /** @type {E["information"]} */
  const information = (shares, weights = shares.map(() => 1 / shares.length)) => {
    const mixed = shares[0].map((_, at) => sum(shares.map((row, who) => weights[who] * row[at])));
    return max(0, entropy(mixed) - sum(shares.map((row, who) => weights[who] * entropy(row))));
  };

  /** @type {E["next"]} */
  const next = ({ checks }, answers, { standing, counted }) => {
    const advice = checks.flatMap(({ quantity, ranges, cause, forecast: rows }, check) => {
      if (answers[check] || (quantity && !ranges.length)) return [];
      const times = counted[cause] ?? 0;
      const soft = standing.map((who) => (times ? whole(rows[who].map((share) => share ** (1 / (times + 1)))) : rows[who]));
      // Told from whom: the leader, unless the look is about others only; and only what it tells about as clearly.
      const from = (/** @type {number} */ who) => soft.map((row) => information([soft[who], row]));
      let [first, apart] = [0, from(0)];
      if (max(...apart) < 0.05) for (const who of soft.keys()) if (max(...from(who)) > max(...apart)) [first, apart] = [who, from(who)];
      const clear = max(0.01, max(...apart) / 2);
      const tells = [...soft.keys()].filter((who) => apart[who] > clear).sort((a, b) => apart[b] - apart[a]);
      return [{ check, bits: information(soft), from: standing[first], tells: tells.map((who) => standing[who]), times }];
    });
    const rank = (/** @type {EvidenceAdvice} */ a) => checks[a.check].cost - Number(checks[a.check].decisive) / 2;
    return advice.sort((a, b) => round(b.bits * 10) - round(a.bits * 10) || rank(a) - rank(b) || b.bits - a.bits);
  };

  /** @type {E["words"]} */
  const words = (log10) => {
    const [name] = BANDS.find(([, from]) => abs(log10) + 1e-12 >= from) ?? [];
    return name && isFinite(log10) ? `${name} support` : "";
  };

  /** @type {E["ratio"]} */
  const ratio = (log10) => {
    const size = abs(log10);
    // Above a million the number says no more than its word.
    return size < 0.9977 ? (10 ** size).toFixed(1) : size < Infinity ? (size > 6 ? ">" : "") + Number((10 ** min(size, 6)).toPrecision(2)).toLocaleString("en") : "";
  };

  tm.evidence = { spread, words, ratio, entropy, information, density, outside, reach, tail, prepare, weigh, next };
})((window.Tellmark ??= {}));
