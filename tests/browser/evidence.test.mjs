// The weight of evidence in plain Node, held to outside values (facts/evidence.json, each with its source), to the
// generator's own shares (../likelihood.json, which ../likelihood.rs reads too), and to what must hold for any checks.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { describe, test } from "node:test";
import vm from "node:vm";

import { speaker } from "./sentences.mjs";

const read = (/** @type {string} */ path) => readFileSync(new URL(path, import.meta.url), "utf8");
const facts = JSON.parse(read("facts/evidence.json"));
const context = vm.createContext({ Tellmark: { say: speaker("examination"), joined: (/** @type {string} */ between, /** @type {any[]} */ ...parts) => parts.filter(Boolean).join(between) } });
vm.runInContext("globalThis.window = globalThis;", context);
for (const name of ["units.js", "evidence.js", "examination-case.js"]) vm.runInContext(read(`../../theme/bench/${name}`), context, { filename: name });
/** @type {any} */
const { evidence, examination } = context.Tellmark;

const near = (/** @type {number} */ got, /** @type {number} */ wanted, within = 1e-9, /** @type {unknown} */ what = "") =>
  assert.ok(Math.abs(got - wanted) <= within, `${JSON.stringify(what)}: ${got}, not ${wanted}`);
const sum = (/** @type {number[]} */ list) => list.reduce((a, b) => a + b, 0);

/** A country of one issue. A check is findings, each with what hypotheses expect of it, or a quantity and ranges. @param {string[]} keys @param {any[]} checks */
function country(keys, checks) {
  const known = checks.map((check, at) => ({
    id: `c${at}`, from: "issues/x/y/z", ask: check.ask ?? `look ${at}`, cause: check.cause ?? "", decisive: check.decisive ?? false,
    magnification: null, light: "", tool: check.tool ?? "", quantity: check.quantity ?? "", unit: "", basis: null,
    findings: (check.expect ?? []).map((_, f) => ({ say: `finding ${f}`, basis: 0 })),
  }));
  const placed = checks.map((check, at) => ({ check: at, number: at + 1, place: "", at: null, expect: check.expect ?? [], ranges: check.ranges ?? [] }));
  const hypotheses = keys.map((key) => ({ key, kind: key.split(":")[0], title: key, entry: "", hosts: [] }));
  return { checks: known, issues: { "issues/x/y/z": { hypotheses, checks: placed } } };
}
const prepare = (/** @type {string[]} */ keys, /** @type {any[]} */ checks) => evidence.prepare(country(keys, checks), "issues/x/y/z");
const TWO = ["genuine", "family:f"];
const find = (/** @type {number} */ finding) => ({ finding });

describe("shares of findings", () => {
  test("are those of the generator", () => {
    for (const { written, shares } of JSON.parse(read("../likelihood.json")).cases) {
      const got = evidence.spread(written);
      assert.equal(got.length, shares.length);
      shares.forEach((share, at) => near(got[at], share, 1e-15, written));
    }
  });

  test("count k of n after Jeffreys", () => {
    for (const { k, n, jeffreys_mean } of facts.frequency.vectors) near(evidence.spread([[k, n], [n - k, n]])[0], jeffreys_mean, 1e-8, { k, n });
  });

  test("give the likelihood ratio of two counts, also where a feature is absent, and never infinity", () => {
    for (const { k1, n1, k2, n2, lr_jeffreys, lr_if_absent_jeffreys } of facts.lr_from_counts.vectors) {
      const it = prepare(TWO, [{ expect: [[[0, [k2, n2]], [1, [k1, n1]]], [[0, [n2 - k2, n2]], [1, [n1 - k1, n1]]]] }]);
      near(10 ** evidence.weigh(it, [find(0)]).support[1] / lr_jeffreys, 1, 1e-6, { k1, n1 });
      near(10 ** evidence.weigh(it, [find(1)]).support[1] / lr_if_absent_jeffreys, 1, 1e-5, { k1, n1 });
    }
  });
});

describe("words", () => {
  test("are the bands of ENFSI (2015), lower ≤ ratio < upper", () => {
    for (const { words, lower, upper, decibans_lower } of facts.enfsi.bands) {
      assert.equal(evidence.words(Math.log10(lower)), words);
      assert.equal(evidence.words(-Math.log10(lower)), words);
      near(10 * Math.log10(lower), decibans_lower, 1e-4);
      if (upper) assert.notEqual(evidence.words(Math.log10(upper)), words);
    }
    assert.equal(evidence.words(Math.log10(1.999)), "");
  });

  test("of the vectors", () => {
    for (const { lr, favours, enfsi_words } of facts.enfsi.vectors) {
      const got = evidence.words(Math.log10(lr));
      // A ratio of 0 claims certainty: refused, so it has no words.
      assert.equal(got, /refuse|none/.test(enfsi_words) ? "" : `${enfsi_words} support`, `ratio ${lr}`);
      if (favours !== "neither") assert.equal(lr > 1 ? "H1" : "H2", favours);
    }
    for (const odd of [NaN, Infinity, -Infinity]) {
      assert.equal(evidence.words(odd), "");
      assert.equal(evidence.ratio(odd), "");
    }
  });

  test("stand beside the number", () => {
    const shown = [[0, "1.0"], [0.301, "2.0"], [-0.301, "2.0"], [1, "10"], [0.9999, "10"], [2.5682, "370"], [3.6, "4,000"], [5.9999, "1,000,000"], [7.3, ">1,000,000"], [-6.999, ">1,000,000"], [400, ">1,000,000"], [Infinity, ""]];
    for (const [log10, text] of shown) assert.equal(evidence.ratio(log10), text, String(log10));
  });
});

describe("weights add", () => {
  test("decibans and bits of a ratio", () => {
    for (const { lr, decibans, bits } of facts.weight.vectors) {
      near(10 * Math.log10(lr), decibans, 1e-6);
      near(Math.log2(lr), bits, 1e-6);
    }
  });

  test("of independent findings, as the support of several looks does", () => {
    for (const { lrs, total_decibans } of facts.weight.sums) {
      // A look whose first finding has shares p / ratio and p under the two.
      const it = prepare(TWO, lrs.map(() => ({ expect: [[], []] })));
      it.checks.forEach((check, at) => {
        const low = 0.4 / Math.max(lrs[at], 1 / lrs[at]);
        const [a, b] = lrs[at] > 1 ? [low, 0.4] : [0.4, low];
        check.shares = [[a, 1 - a], [b, 1 - b], [0.5, 0.5]];
      });
      const { support } = evidence.weigh(it, lrs.map(() => find(0)));
      assert.equal(support[0], 0);
      near(10 * support[1], total_decibans, 1e-5, lrs);
    }
  });

  test("do not overflow: 400 findings of ratio 10", () => {
    const it = prepare(TWO, Array.from({ length: 400 }, () => ({ expect: [[], []] })));
    for (const check of it.checks) check.shares = [[0.05, 0.95], [0.5, 0.5], [0.5, 0.5]];
    near(evidence.weigh(it, it.checks.map(() => find(0))).support[1], 400, 1e-9);
  });
});

describe("findings of one cause", () => {
  const look = (/** @type {string} */ cause) => ({ cause, expect: [[], []] });
  const answered = (/** @type {string} */ cause) => {
    const it = prepare(TWO, [look(cause), look(cause)]);
    for (const check of it.checks) check.shares = [[0.08, 0.92], [0.8, 0.2], [0.5, 0.5]];
    return 10 ** evidence.weigh(it, [find(0), find(0)]).support[1];
  };
  test("count once where one repeats the other, and in full where they are independent", () => {
    const [independent, repeat, ...between] = facts.dependence.vectors;
    near(answered(""), independent.joint_lr, 1e-9);
    near(answered("one die"), repeat.joint_lr, 1e-9);
    // What correlation gives lies between: one cause counted once claims the least of them all.
    for (const { correlation, joint_lr } of between) {
      near((0.8 ** 2 + correlation * 0.8 * 0.2) / (0.08 ** 2 + correlation * 0.08 * 0.92), joint_lr, 1e-5);
      assert.ok(joint_lr >= answered("one die") - 1e-9 && joint_lr < answered(""));
    }
  });
});

describe("information", () => {
  test("entropies", () => {
    for (const { p, bits } of facts.information.entropy.vectors) near(evidence.entropy(p), bits, 1e-8, p);
  });

  test("gains of the play-tennis table", () => {
    const { columns, rows, entropy, ...gains } = facts.information.tennis;
    const count = (/** @type {string[][]} */ some, /** @type {number} */ column, /** @type {string} */ value) => some.filter((row) => row[column] === value).length / some.length;
    near(evidence.entropy([9 / 14, 5 / 14]), entropy);
    for (const name of columns.slice(0, 4)) {
      const column = columns.indexOf(name);
      const values = [...new Set(rows.map((row) => row[column]))];
      const classes = ["yes", "no"].map((play) => rows.filter((row) => row[4] === play));
      const gain = evidence.information(classes.map((some) => values.map((value) => count(some, column, value))), classes.map((some) => some.length / 14));
      near(gain, gains[`gain_${name}`], 1e-8, name);
      near(gain, gains[`printed_${name}`], 5e-5, name);
    }
  });

  test("the odd ball among twelve: what a first weighing tells of 24 hypotheses", () => {
    const { total_bits, weighings } = facts.information.balls;
    near(Math.log2(24), total_bits);
    for (const { left, right, probabilities, bits } of weighings) {
      const outcome = Array.from({ length: 24 }, (_, at) => {
        const [ball, heavy] = [at % 12, at < 12];
        if (ball >= left + right) return [0, 0, 1];
        return (ball < left) === heavy ? [1, 0, 0] : [0, 1, 0];
      });
      near(evidence.information(outcome), bits, 1e-8, probabilities);
    }
  });

  test("tests with error rates, and a channel with noise", () => {
    for (const { prior, sens, spec, bits } of facts.information.binary_test.vectors) {
      near(evidence.information([[sens, 1 - sens], [1 - spec, spec]], [prior, 1 - prior]), bits, 1e-8, { prior, sens, spec });
    }
    near(evidence.information([[0.9, 0.1], [0.1, 0.9]]), facts.information.channel.capacity_0_1);
    near(evidence.information([[0.85, 0.15], [0.15, 0.85]]), facts.information.channel.capacity_0_15);
  });

  test("the next test of three hypotheses, and that gains do not add", () => {
    const rows = (/** @type {number[]} */ yes) => yes.map((p) => [p, 1 - p]);
    const byName = Object.fromEntries(facts.information.next_test.vectors.map((v) => [v.test, v]));
    for (const { test: name, prior, p_yes_given, gain_bits } of Object.values(byName)) near(evidence.information(rows(p_yes_given), prior), gain_bits, 1e-8, name);
    const both = (/** @type {number[]} */ a, /** @type {number[]} */ b) => a.map((p, at) => [p * b[at], p * (1 - b[at]), (1 - p) * b[at], (1 - p) * (1 - b[at])]);
    const { prior, p_yes_given: weight } = byName["weight within tolerance"];
    const sums = facts.information.next_test.gains_do_not_add;
    near(evidence.information(both(weight, byName["density in range"].p_yes_given), prior), sums.weight_and_density, 1e-8);
    near(evidence.information(both(weight, byName["die matches a known genuine die"].p_yes_given), prior), sums.weight_and_die, 1e-8);
    assert.ok(sums.weight_and_density < sums.weight_alone + sums.density_alone);
  });
});

describe("measured checks", () => {
  test("the normal tail is that of the C library", () => {
    for (const { z, q } of facts.normal.vectors) near(evidence.tail(z) / q, 1, 1e-12, z);
    assert.equal(evidence.tail(60), 0);
  });

  test("a range measured with uncertainty is uniform convolved with a normal", () => {
    for (const { low, high, x, u, density } of facts.convolved.vectors) near(evidence.density({ low, high }, x, u) / density, 1, 1e-7, { low, high, x, u });
  });

  test("a mean and sd measured with uncertainty add in quadrature", () => {
    // Sd 3, uncertainty 4: normal of sd 5.
    near(evidence.density({ mean: 0, sd: 3 }, 5, 4), Math.exp(-0.5) / (5 * Math.sqrt(2 * Math.PI)), 1e-15);
    // A weight's range with a tail for pieces worn nearly smooth: a tenth of them, by our own choice; whole together.
    const worn = { low: 6, high: 6.3, tail: 5.5 };
    near(evidence.density(worn, 6.1, 0.001), 0.9 / 0.3, 1e-9);
    near(evidence.density(worn, 5.8, 0.001), 0.1 / 0.5, 1e-9);
    near(sum(Array.from({ length: 2000 }, (_, at) => evidence.density(worn, 5 + at * 0.001, 0.01) * 0.001)), 1, 1e-6);
    assert.equal(evidence.outside(worn, 5.8, 0.01), 0, "no contradiction of a genuine piece");
    near(evidence.outside(worn, 5.4, 0.01), 10, 1e-9);
    assert.equal(evidence.outside({ mean: 0, sd: 3 }, 10, 4), 2);
    assert.equal(evidence.outside({ low: 1, high: 2 }, 1.5, 0.1), 0);
    near(evidence.outside({ low: 1, high: 2 }, 2.5, 0.1), 5, 1e-12);
  });

  const weight = { quantity: "weight", ranges: [[0, { low: 6.0, high: 6.3 }], [1, { low: 4.6, high: 5.3 }]] };
  const THREE = [...TWO, "alteration:a"];

  test("speak for the range they fall in, as one look does and no louder", () => {
    const it = prepare(THREE, [weight]);
    const at = (/** @type {number} */ value, uncertainty = 0.01) => evidence.weigh(it, [{ value, uncertainty }]);
    // .98 of its own range, .01 of the other, .01 of the span elsewhere: from the lightest range to a fifth above the genuine middle.
    const elsewhere = 1 / (6.15 * 1.2 - 4.6);
    const ratio = (/** @type {number} */ own, /** @type {number} */ other) => Math.log10((0.98 / own + 0.01 * elsewhere) / (0.01 / own + 0.01 * elsewhere));
    near(at(6.15).support[1], -ratio(0.3), 1e-9);
    near(at(5).support[1], ratio(0.7), 1e-9);
    assert.ok(ratio(0.3) < Math.log10(98) && ratio(0.7) < Math.log10(98), ".98 against .01 is the most that one check can say");
    // No range: both ranges and "elsewhere" equally likely.
    near(at(6.15).support[2], Math.log10((1 / 0.3 + elsewhere) / 3 / (0.98 / 0.3 + 0.01 * elsewhere)), 1e-9);
    assert.equal(at(6.15).support[2], at(6.15).support[3], "a hypothesis without a range expects what another false piece does");
    assert.deepEqual([...at(6.15).contradictions].map((c) => c.hypothesis), [1]);
    const far = at(5.6);
    assert.deepEqual([...far.contradictions].map((c) => c.hypothesis), [0, 1]);
    assert.ok(far.support[3] > 1, "between the ranges, another false piece is supported");
  });

  test("with a hopeless uncertainty say nothing", () => {
    const { support, contradictions } = evidence.weigh(prepare(THREE, [weight]), [{ value: 6.1, uncertainty: 500 }]);
    support.forEach((log) => near(log, 0, 1e-3));
    assert.equal(contradictions.length, 0);
  });

  test("within three combined uncertainties contradict nothing", () => {
    const it = prepare(THREE, [weight]);
    assert.equal(evidence.weigh(it, [{ value: 6.3 + 0.0299, uncertainty: 0.01 }]).contradictions.filter((c) => c.hypothesis === 0).length, 0);
    assert.equal(evidence.weigh(it, [{ value: 6.3 + 0.0301, uncertainty: 0.01 }]).contradictions.filter((c) => c.hypothesis === 0).length, 1);
  });

  test("die axes go round the circle", () => {
    const it = prepare(TWO, [{ quantity: "die-axis", ranges: [[0, { low: -15, high: 15 }], [1, { low: 165, high: 195 }]] }]);
    const [a, b] = [355, 5].map((value) => evidence.weigh(it, [{ value, uncertainty: 2 }]));
    near(a.support[1], b.support[1], 1e-9);
    assert.ok(a.support[1] < -1.5);
    assert.equal([...a.contradictions].map((c) => c.hypothesis).join(), "1");
  });

  test("alike for two hypotheses tell them not apart, and the next measurement knows it", () => {
    const same = { low: 6, high: 6.3 };
    const it = prepare(TWO, [{ quantity: "weight", ranges: [[0, same], [1, { ...same }]] }]);
    assert.equal(evidence.weigh(it, [{ value: 6.1, uncertainty: 0.01 }]).support[1], 0);
    near(evidence.information(it.checks[0].forecast.slice(0, 2)), 0, 1e-12);
  });

  test("without any range count nothing and are not advised", () => {
    const it = prepare(TWO, [{ quantity: "tilt", ranges: [] }]);
    assert.deepEqual([...evidence.weigh(it, [{ value: 3, uncertainty: 1 }]).support], [0, 0, 0]);
    assert.equal(evidence.next(it, [null], evidence.weigh(it, [null])).length, 0);
  });
});

describe("contradictions", () => {
  test("are the findings that a hypothesis never shows, by name; none of fifty is not never", () => {
    const it = prepare([...TWO, "family:g"], [{ expect: [[[0, "never"], [1, "usual"], [2, [0, 50]]], [[0, "always"]]] }]);
    const { contradictions, support } = evidence.weigh(it, [find(0)]);
    assert.deepEqual(JSON.parse(JSON.stringify(contradictions)), [{ hypothesis: 0, check: 0, say: "finding 0" }]);
    assert.ok(support[1] > 1.5);
    near(support[2], Math.log10(0.5 / 51 / (0.01 / 0.99)), 1e-9);
  });
});

describe("what to look at next", () => {
  const sharp = { expect: [[[0, "always"], [1, "never"]], [[0, "never"], [1, "always"]]] };
  const dull = { expect: [[[0, "usual"], [1, "sometimes"]], [[0, "seldom"], [1, "sometimes"]]] };
  const even = { expect: [[], []] };
  const advice = (/** @type {any[]} */ checks, /** @type {any[]} */ answers = checks.map(() => null)) => {
    const it = prepare(TWO, checks);
    return [...evidence.next(it, answers, evidence.weigh(it, answers))];
  };

  test("is what tells most about the hypotheses still standing", () => {
    const list = advice([even, dull, sharp]);
    assert.deepEqual(list.map((a) => a.check), [2, 1, 0]);
    const shares = ["always", "never"].map((word, at) => evidence.spread(at ? ["never", "always"] : ["always", "never"]));
    near(list[0].bits, evidence.information([...shares, [0.5, 0.5]]), 1e-12);
    assert.equal(list[0].from, 0);
    assert.equal(list[0].tells[0], 1, "it tells genuine from the family first");
  });

  test("is cheap and without contact on a tie", () => {
    assert.deepEqual(advice([{ ...sharp, tool: "a certain piece" }, sharp]).map((a) => a.check), [1, 0]);
  });

  test("among looks that cost the same, is never one that tells less, however near the tie", () => {
    const words = ["always", "usual", "sometimes", "seldom", "never"];
    // From the dullest to the sharpest: the order of the entries is the wrong one.
    const checks = words.flatMap((one) => words.map((other) => ({ expect: [[[0, one], [1, other]], [[0, other], [1, one]]] })));
    const sorted = advice(checks).map(({ check }) => checks[check]).reverse();
    const bits = advice(sorted).map((a) => a.bits);
    assert.equal(bits.length, 25);
    assert.ok(bits.some((x, at) => at && x < bits[at - 1] && bits[at - 1] - x < 0.1), "some lie near each other");
    assert.deepEqual(bits, [...bits].sort((a, b) => b - a));
  });

  test("leaves out what was answered, also by cannot tell", () => {
    assert.deepEqual(advice([sharp, dull], [{}, null]).map((a) => a.check), [1]);
  });

  test("counts a further look at one cause for less, and never for more", () => {
    const blind = { expect: [[], []], cause: "mark" };
    const alone = advice([{ ...dull, cause: "mark" }])[0].bits;
    const after = advice([{ ...dull, cause: "mark" }, blind], [null, find(0)]).find((a) => a.check === 0);
    const free = advice([{ ...dull, cause: "date" }, blind], [null, find(0)]).find((a) => a.check === 0);
    assert.equal(after.times, 1);
    assert.equal(free.bits, alone);
    assert.ok(after.bits < alone / 2 && after.bits > 0, `${after.bits} of ${alone}`);
  });

  test("turns to the rivals that remain once others fell behind a hundredfold", () => {
    const it = prepare(["genuine", "family:f", "family:g"], [
      { expect: [[[0, "always"], [1, "never"], [2, "always"]], [[0, "never"], [1, "always"], [2, "never"]]] },
      { expect: [[[0, "always"], [1, "never"], [2, "always"]], [[0, "never"], [1, "always"], [2, "never"]]] },
      { expect: [[[0, "always"], [1, "never"]], [[1, "always"], [0, "never"]]] },
      { expect: [[[0, "always"], [2, "never"]], [[2, "always"], [0, "never"]]] },
    ]);
    const answers = [find(0), find(0), null, null];
    const weighed = evidence.weigh(it, answers);
    assert.ok(!weighed.standing.includes(1));
    assert.equal(evidence.next(it, answers, weighed)[0].check, 3);
  });

  test("is nothing where no look is left", () => assert.deepEqual(advice([sharp], [find(1)]), []));
});

describe("whatever the checks", () => {
  // A small generator of numbers, so that every run sees the same thousand cases.
  let seed = 20260418;
  const chance = () => {
    seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0;
    return seed / 2 ** 32;
  };
  const pick = (/** @type {any[]} */ list) => list[Math.floor(chance() * list.length)];
  const expected = () => (chance() < 0.2 ? (() => { const n = 1 + Math.floor(chance() * 60); return [Math.floor(chance() * (n + 1)), n]; })() : pick(["always", "usual", "sometimes", "seldom", "never"]));
  const range = () => (chance() < 0.5 ? { low: 5 + chance(), high: 6.2 + chance() } : { mean: 6 + chance(), sd: 0.01 + chance() / 5 });

  function world() {
    const keys = Array.from({ length: 1 + Math.floor(chance() * 8) }, (_, at) => (at ? `family:${at}` : "genuine"));
    const some = (/** @type {() => any} */ make) => keys.flatMap((_, who) => (chance() < 0.6 ? [[who, make()]] : []));
    const checks = Array.from({ length: 1 + Math.floor(chance() * 7) }, () => ({
      cause: pick(["", "", "mark", "die"]), decisive: chance() < 0.3,
      ...(chance() < 0.3 ? { quantity: pick(["weight", "tilt", "die-axis", "density"]), ranges: some(range) } : { expect: Array.from({ length: 1 + Math.floor(chance() * 4) }, () => some(expected)) }),
    }));
    const answers = checks.map((check) => {
      if (chance() < 0.3) return pick([null, {}, { finding: -1 }, { finding: 99 }, { value: NaN, uncertainty: 1 }, { value: Infinity }]);
      return check.quantity ? { value: pick([6, 6.2, 0, -5, 1e9, chance() * 12]), uncertainty: pick([0.01, 0, NaN, 1e6, undefined, -1]) } : find(Math.floor(chance() * check.expect.length));
    });
    return { keys, checks, answers };
  }

  test("shares add up to 1, genuine is 0, all is finite, and the order does not matter", () => {
    let counted = 0;
    for (let round = 0; round < 1000; round++) {
      const { keys, checks, answers } = world();
      const it = prepare(keys, checks);
      for (const check of it.checks) {
        for (const row of [...check.shares, ...check.forecast]) {
          near(sum([...row]), 1, 1e-9);
          assert.ok(row.every((share) => share >= 0 && share <= 1));
        }
        assert.ok(check.shares.every((row) => row.every((share) => share > 0)), "no likelihood is zero");
      }
      const weighed = evidence.weigh(it, answers);
      const next = evidence.next(it, answers, weighed);
      const text = JSON.stringify([weighed, next], (_, x) => (typeof x === "number" && !Number.isFinite(x) ? "NOT A NUMBER" : x));
      assert.doesNotMatch(text, /NOT A NUMBER|NaN|Infinity/, JSON.stringify({ keys, checks, answers }));
      assert.equal(weighed.support[0], 0);
      assert.equal(weighed.support.length, keys.length + 1);
      // No check says more than a single "never" can.
      for (const row of weighed.parts) for (const log of row ?? []) assert.ok(Math.abs(log) < 5, `${log}`);
      for (const { bits } of next) assert.ok(bits >= 0 && bits <= Math.log2(keys.length + 1) + 1e-9);

      const order = checks.map((_, at) => ({ at, key: chance() })).sort((a, b) => a.key - b.key).map(({ at }) => at);
      const turned = evidence.weigh(prepare(keys, order.map((at) => checks[at])), order.map((at) => answers[at]));
      weighed.support.forEach((log, who) => near(turned.support[who], log, 1e-9));
      counted += weighed.parts.filter(Boolean).length;
    }
    assert.ok(counted > 1500, `${counted} answers counted`);
  });

  test("one cause counts once: any number of the same look says what one says", () => {
    for (let round = 0; round < 200; round++) {
      const { keys, checks, answers } = world();
      const at = checks.findIndex((check, i) => !check.quantity && answers[i]?.finding >= 0 && answers[i].finding < check.expect.length);
      if (at < 0) continue;
      const check = { ...checks[at], cause: "same" };
      const once = evidence.weigh(prepare(keys, [check]), [answers[at]]).support;
      const often = evidence.weigh(prepare(keys, Array(5).fill(check)), Array(5).fill(answers[at])).support;
      once.forEach((log, who) => near(often[who], log, 1e-12));
    }
  });

  test("20 hypotheses and 30 checks are weighed well within a frame", () => {
    const keys = Array.from({ length: 20 }, (_, at) => (at ? `family:${at}` : "genuine"));
    const checks = Array.from({ length: 30 }, (_, at) => (at < 5 ? { quantity: "weight", ranges: keys.map((_, who) => [who, range()]) } : { cause: `c${at % 12}`, expect: [0, 1, 2, 3].map(() => keys.map((_, who) => [who, expected()])) }));
    const it = prepare(keys, checks);
    const answers = checks.map((check, at) => (at % 2 ? null : check.quantity ? { value: 6.1, uncertainty: 0.01 } : find(1)));
    const times = Array.from({ length: 41 }, () => {
      const start = performance.now();
      evidence.next(it, answers, evidence.weigh(it, answers));
      return performance.now() - start;
    }).sort((a, b) => a - b);
    console.log(`weighed and advised in ${times[20].toFixed(2)} ms (median of 41)`);
    assert.ok(times[20] < 16);
  });
});

describe("what an examination makes of a record", () => {
  const keys = ["genuine", "family:f", "alteration:a"];
  const one = country(keys, [
    { ask: "Is there a seam?", decisive: true, expect: [[[0, "never"], [1, "usual"]], [[0, "always"], [1, "seldom"]]] },
    { ask: "Is there a line?", expect: [[[0, "usual"], [2, "never"]], [[0, "seldom"], [2, "always"]]] },
    { quantity: "weight", ask: "What does it weigh?", ranges: [[0, { low: 6, high: 6.3 }], [2, { low: 6, high: 6.3 }]] },
  ]);
  const it = evidence.prepare(one, "issues/x/y/z");
  const finding = (/** @type {number} */ look, /** @type {string} */ say, answer = "seen") => ({ check: it.checks[look].key, ask: "", finding: 0, answer, say, basis: "p. 1", note: "", photo: "", at: "2026-04-18T10:00:00Z" });
  const weight = (/** @type {number} */ value, /** @type {string} */ at) => ({ id: at, quantity: "weight", value, uncertainty: 0.01, unit: "g", readings: [], method: "", words: "", at });
  const record = (/** @type {any[]} */ findings, /** @type {any[]} */ measurements = []) => ({ findings, measurements });
  const plain = (/** @type {any} */ value) => JSON.parse(JSON.stringify(value));
  const warned = (/** @type {any} */ of, /** @type {string} */ opinion, as = "") => {
    const given = examination.answers(it, of);
    return plain(examination.warnings(it, given, evidence.weigh(it, given), opinion, as).map(filled));
  };
  // A warning's sentence stands in the page, with gaps; a sentence that is not there, or a gap without a value, fails.
  const page = read("../../theme/bench/examination.html");
  const filled = (/** @type {[string, Record<string, string>]} */ [name, values]) => {
    const sentence = page.split(`<template id="make-${name}">`)[1].split("</template>")[0].replace(/<[^>]+>/g, "");
    return sentence.replace(/\{(\w+)\}/g, (_, gap) => {
      assert.ok(values[gap], `${name}: ${gap}`);
      return values[gap];
    });
  };

  test("takes findings by their words, and the newest measurement", () => {
    assert.deepEqual(plain(examination.answers(it, record([finding(0, "finding 1")], [weight(6.1, "2026-04-18T10:00:00Z"), weight(6.2, "2026-04-18T11:00:00Z")]))), [{ finding: 1 }, null, { value: 6.2, uncertainty: 0.01 }]);
  });

  test("leaves open a look whose recorded words are no longer on file, and counts nothing for not seen and cannot tell", () => {
    assert.deepEqual(plain(examination.answers(it, record([finding(0, "words of an older entry"), finding(1, "", "cannot tell")], [weight(6.1, "a")]))), [null, {}, { value: 6.1, uncertainty: 0.01 }]);
    assert.deepEqual(plain(examination.answers(it, record([finding(2, "", "not seen")], [weight(6.1, "a")]))), [null, null, {}]);
  });

  test("warns of nothing but what stands against an opinion", () => {
    const seam = record([finding(0, "finding 0"), finding(1, "finding 0")]);
    assert.deepEqual(warned(seam, "forged"), []);
    assert.deepEqual(warned(seam, "forged", "family:f"), ["The findings do not separate “family:f” from “Another false piece, not on file”."]);
    assert.match(warned(seam, "genuine").join("\n"), /^It runs against the findings: they are .+ under “family:f” as under “genuine”[^]+Against “genuine”: finding 0/);
    assert.match(warned(seam, "altered", "alteration:a").join("\n"), /Against “alteration:a”: finding 0/);
    assert.deepEqual(warned(seam, "undecided"), []);
    assert.match(warned(record([]), "genuine").join("\n"), /Nothing that counts[^]+Decisive looks without a finding: Is there a seam\?/);
    assert.match(warned(record([finding(0, "", "cannot tell")]), "undecided").join("\n"), /Decisive looks without a finding/, "cannot tell is no finding");
    // The weight is the same for the two, so it cannot separate them.
    assert.match(warned(record([finding(0, "finding 1")], [weight(6.1, "a")]), "genuine").join("\n"), /do not separate “genuine” from “alteration:a”/);
  });

  test("says what a finding speaks for and against", () => {
    assert.equal(examination.speaks(it, 0, 0), "family:f, rather than genuine", "nothing is written of the alteration");
    assert.equal(examination.speaks(it, 0, 1), "genuine, rather than family:f");
    assert.equal(examination.speaks(it, 1, 0), "genuine, rather than alteration:a");
    const even = evidence.prepare(country(TWO, [{ expect: [[], []] }]), "issues/x/y/z");
    assert.equal(examination.speaks(even, 0, 0), "");
  });

  test("gives reasons with the number and the basis of each", () => {
    const of = record([finding(0, "finding 0")], [weight(6.1, "a")]);
    const given = examination.answers(it, of);
    const text = examination.reasons(it, of, evidence.weigh(it, given), "forged", "family:f", () => "the law of 1900");
    assert.match(text, /^Is there a seam\? Finding 0: [\d.]+ times as likely under “family:f” as under “genuine”\. \[p\. 1\]$/m);
    assert.match(text, /^What does it weigh\? 6\.100 ± 0\.010 g: [\d.]+ times as likely under “genuine” as under “family:f”\. \[the law of 1900\]$/m);
  });

  test("keeps support for every hypothesis but genuine, and nothing before anything was found", () => {
    const kept = (/** @type {any} */ of) => plain(examination.kept(it, evidence.weigh(it, examination.answers(it, of))));
    assert.deepEqual(kept(record([])), { support: [], contradictions: [] });
    const { support, contradictions } = kept(record([finding(0, "finding 0")]));
    assert.deepEqual(support.map((/** @type {any} */ s) => s.hypothesis), ["family:f", "alteration:a", "another"]);
    assert.match(support[0].words, /^moderate support for family:f over genuine$/);
    assert.deepEqual(contradictions, [{ hypothesis: "genuine", title: "genuine", check: "issues/x/y/z#c0", say: "finding 0" }]);
  });
});
