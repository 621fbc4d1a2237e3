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
  const measured = (check, record) => record.measurements.filter((m) => m.quantity === check.quantity && m.value !== null && !(/^photo-/.test(m.id) && check.against && !m.id.endsWith(check.against))).sort((a, b) => (a.at < b.at ? 1 : -1))[0];
  const finding = (/** @type {EvidenceCheck} */ check, /** @type {ExaminationRecord} */ record) => record.findings.find((f) => f.check === check.key);

  /** @type {E["said"]} */
  const said = (check, record) => {
    const m = measured(check, record);
    return m ? tm.units.pair(m.value ?? 0, m.uncertainty, m.unit) : finding(check, record)?.say ?? "";
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
      return tm.joined("; ", up && say("up", up), down && say("down", down));
    },

    warnings(it, given, { support, order, contradictions, parts }, opinion, as) {
      const name = (/** @type {number} */ who) => quoted(it, who);
      const mine = meant(it, opinion, as);
      const leading = order.find((who) => mine.includes(who));
      const others = order.filter((who) => !mine.includes(who));
      const any = parts.some(Boolean);
      /** @type {ExaminationWarning[]} */
      const out = any ? [] : [["nothing-found"]];
      if (opinion === "altered" && !as) out.push([leading === undefined ? "no-alteration" : "unnamed"]);
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
      if (open.length) out.push(["undecided-looks", { looks: open.join(" · ") }]);
      return out;
    },

    reasons(it, record, { order, parts }, opinion, as, basis) {
      const mine = meant(it, opinion, as);
      const own = order.find((who) => mine.includes(who)) ?? order[0];
      // Of the others, each finding against the one that it tells from best.
      const lines = (/** @type {1 | -1} */ way) => parts.flatMap((row, look) => {
        const most = (/** @type {number[]} */ row) => order.filter((who) => who !== own && !mine.includes(who)).map((who) => ({ look, who, log10: way * (row[own] - row[who]) })).sort((a, b) => b.log10 - a.log10 || a.who - b.who)[0];
        return row ? [most(row)] : [];
      }).filter(({ log10 }) => log10 > 0.1).sort((a, b) => b.log10 - a.log10).slice(0, 8).map(({ look, who, log10 }) => {
        const check = it.checks[look], [one, other] = way > 0 ? [own, who] : [who, own];
        return say("reason", check.ask, capital(said(check, record)), ratio(log10), quoted(it, one), quoted(it, other), finding(check, record)?.basis || basis(look));
      });
      return [["pro", lines(1)], ["contra", lines(-1)]].flatMap(([name, all]) => (all[0] ? [say(String(name), quoted(it, own)), ...all] : [])).join("\n");
    },

    kept: (it, { support, parts, contradictions }, basis) => ({
      support: parts.some(Boolean) ? it.hypotheses.slice(1).map(({ key, title }, at) => ({ hypothesis: key, title, log10: support[at + 1], words: phrase(support[at + 1], title) })) : [],
      contradictions: contradictions.map(({ hypothesis: who, check, say }) => ({ hypothesis: it.hypotheses[who].key, title: it.hypotheses[who].title, check: it.checks[check].key, say: it.checks[check].quantity ? `${it.checks[check].quantity}: ${say} [${basis(check)}]` : say })),
    }),

    besides: (it, record) => record.measurements.filter(({ quantity }) => !it.checks.some((check) => check.quantity === quantity && check.ranges.length)),

    measured, said, phrase, drivers, list, capital,
  };
})((window.Tellmark ??= {}));
