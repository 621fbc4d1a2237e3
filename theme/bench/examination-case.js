// @ts-check
/* What an examination makes of a record: answers to weigh, what drives the support, words for it. Pure, but for the page's sentences. */
((/** @type {BenchGlobal} */ tm) => {
  "use strict";
  const { say } = tm;
  const { words, ratio } = tm.evidence;
  const TWO = Math.log10(2);
  const quoted = (/** @type {EvidenceCase} */ it, /** @type {number} */ who) => `“${it.hypotheses[who].title}”`;

  /** What an opinion says the piece is. @param {EvidenceCase} it @param {string} opinion @param {string} as */
  const meant = (it, opinion, as) => {
    const kinds = { genuine: /^genuine/, forged: /^(family|another)/, altered: /^alteration/ }[opinion];
    return it.hypotheses.flatMap(({ key }, who) => (kinds?.test(key) && (!as || key === as) ? [who] : []));
  };

  /** @typedef {BenchExamination} E */
  /** @type {E["list"]} */
  const list = (names) => {
    const few = names.length > 4 ? 3 : names.length - 1;
    return few < 1 ? names.join() : `${names.slice(0, few).join(", ")} and ${few < names.length - 1 ? `${names.length - few} more` : names[few]}`;
  };
  /** @type {E["capital"]} */
  const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1);

  /** @type {E["measured"]} */
  const measured = (check, record) => record.measurements.filter((m) => m.quantity === check.quantity && m.value !== null).sort((a, b) => (a.at < b.at ? 1 : -1))[0];
  const finding = (/** @type {EvidenceCheck} */ check, /** @type {ExaminationRecord} */ record) => record.findings.find((f) => f.check === check.key);

  /** @type {E["said"]} */
  const said = (check, record) => {
    const m = measured(check, record);
    if (!m) return finding(check, record)?.say ?? "";
    return `${Number((m.value ?? 0).toPrecision(6))}${m.uncertainty ? ` ± ${Number(m.uncertainty.toPrecision(2))}` : ""}${m.unit === "°" ? "" : " "}${m.unit}`;
  };

  /** @type {E["phrase"]} */
  const phrase = (log10, title) => {
    const [one, other] = log10 > 0 ? [title, "genuine"] : ["genuine", title];
    return words(log10) ? say("over", words(log10), one, other) : say("no-support");
  };

  /** @type {E["drivers"]} */
  const drivers = ({ parts }, who, against = 0) => parts
    .flatMap((row, check) => (row ? [{ check, log10: row[who] - row[against] }] : []))
    .filter(({ log10 }) => Math.abs(log10) > 0.04)
    .sort((a, b) => Math.abs(b.log10) - Math.abs(a.log10));

  tm.examination = {
    groups(country, issue) {
      /** Looks by kind, or by the entry that is suspected. @type {Record<string, number[]>} */
      const found = { measures: [], looks: [] };
      country.issues[issue].checks.forEach(({ check, number }, look) => {
        const { quantity, from } = country.checks[check];
        (found[quantity ? "measures" : number ? "looks" : from] ??= []).push(look);
      });
      return Object.entries(found).flatMap(([name, looks]) => {
        const kind = name === "measures" || name === "looks" ? name : "suspicion";
        return looks.length ? [{ kind, title: country.entries[name]?.title ?? name, looks }] : [];
      });
    },

    answers: (it, record) => it.checks.map((check) => {
      const told = finding(check, record);
      if (told && told.answer !== "seen") return {};
      const m = measured(check, record);
      if (m) return { value: m.value ?? NaN, uncertainty: m.uncertainty ?? 0 };
      const place = told ? check.say.indexOf(told.say) : -1;
      return place < 0 ? null : { finding: place };
    }),

    speaks({ checks, hypotheses }, look, place) {
      const shares = checks[look].shares.map((row) => row[place]);
      // Against genuine, from a factor of two on; what nothing is written of says nothing.
      const some = (/** @type {1 | -1} */ way) => list(hypotheses.flatMap(({ title }, who) => (way * Math.log10(shares[who] / shares[0]) > TWO && way * (shares[who] - 1 / checks[look].say.length) > 0 ? [title] : [])));
      const up = some(1), down = some(-1);
      return [up && say("up", up), down && say("down", down)].filter(Boolean).join("; ");
    },

    warnings(it, given, { support, order, contradictions, parts }, opinion, as) {
      const name = (/** @type {number} */ who) => quoted(it, who);
      const mine = meant(it, opinion, as);
      const leading = order.find((who) => mine.includes(who));
      const others = order.filter((who) => !mine.includes(who));
      const any = parts.some(Boolean);
      /** @type {ExaminationWarning[]} */
      const out = any ? [] : [["nothing-found"]];
      if (opinion === "altered" && leading === undefined) out.push(["no-alteration"]);
      if (leading !== undefined && any) {
        const own = name(leading);
        const ahead = (/** @type {number} */ who) => support[who] - support[leading];
        const most = ahead(others[0]);
        if (most >= TWO) out.push(["runs-against", { own, ratio: ratio(most), other: name(others[0]), words: words(most) }]);
        const close = others.filter((who) => Math.abs(ahead(who)) < TWO);
        if (close.length) out.push(["not-separate", { own, others: list(close.map(name)) }]);
        for (const { hypothesis, say, check } of contradictions) if (hypothesis === leading) out.push(["contradicts", { own, say, ask: it.checks[check].ask }]);
      }
      const open = it.checks.filter((check, look) => check.decisive && !parts[look]).map((check) => check.ask);
      if (open.length) out.push(["undecided-looks", { looks: open.slice(0, 3).join(" · ") + (open.length > 3 ? say("and-more", open.length - 3) : "") }]);
      return out;
    },

    reasons(it, record, weighed, opinion, as, basis) {
      const mine = meant(it, opinion, as);
      const own = weighed.order.find((who) => mine.includes(who)) ?? weighed.order[0];
      const against = own ? 0 : weighed.order.find((who) => who && !mine.includes(who)) ?? 0;
      return drivers(weighed, own, against).slice(0, 8).map(({ check: look, log10 }) => {
        const check = it.checks[look];
        const [one, other] = log10 > 0 ? [own, against] : [against, own];
        const from = finding(check, record)?.basis || basis(look);
        return say("reason", check.ask, capital(said(check, record)), ratio(log10), quoted(it, one), quoted(it, other), from);
      }).join("\n");
    },

    kept: (it, { support, parts, contradictions }) => ({
      support: parts.some(Boolean) ? it.hypotheses.slice(1).map(({ key, title }, at) => ({ hypothesis: key, title, log10: support[at + 1], words: phrase(support[at + 1], title) })) : [],
      contradictions: contradictions.map(({ hypothesis: who, check, say }) => ({ hypothesis: it.hypotheses[who].key, title: it.hypotheses[who].title, check: it.checks[check].key, say: it.checks[check].quantity ? `${it.checks[check].quantity}: ${say}` : say })),
    }),

    measured, said, phrase, drivers, list, capital,
  };
})((window.Tellmark ??= {}));
