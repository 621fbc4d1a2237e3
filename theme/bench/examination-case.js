// @ts-check
/* What an examination makes of a record: answers to weigh, what drives the support, words for it. Pure. */
(function (/** @type {BenchGlobal} */ tm) {
  "use strict";
  const { words, ratio } = tm.evidence;
  const TWO = Math.log10(2);
  const quoted = (/** @type {EvidenceCase} */ it, /** @type {number} */ who) => `“${it.hypotheses[who].title}”`;

  /** What an opinion says the piece is. @param {EvidenceCase} it @param {string} opinion @param {string} as */
  function meant(it, opinion, as) {
    const kinds = { genuine: /^genuine/, forged: /^(family|another)/, altered: /^alteration/ }[opinion];
    return it.hypotheses.flatMap(({ key }, who) => (kinds?.test(key) && (!as || key === as) ? [who] : []));
  }

  tm.examination = {
    groups(country, issue) {
      /** @type {Map<string, number[]>} */
      const found = new Map([["Weigh and measure", []], ["Where to look", []]]);
      country.issues[issue].checks.forEach(({ check, number }, look) => {
        const { quantity, from } = country.checks[check];
        const title = quantity ? "Weigh and measure" : number ? "Where to look" : `If you suspect: ${country.entries[from]?.title ?? from}`;
        found.set(title, [...(found.get(title) ?? []), look]);
      });
      return [...found].filter(([, looks]) => looks.length).map(([title, looks]) => ({ title, folded: title.startsWith("If"), looks }));
    },

    measured: (check, record) => record.measurements.filter((m) => m.quantity === check.quantity && m.value !== null).sort((a, b) => (a.at < b.at ? 1 : -1))[0],

    answers: (it, record) => it.checks.map((check) => {
      const said = record.findings.find((f) => f.check === check.key);
      if (said && said.answer !== "seen") return {};
      const m = tm.examination.measured(check, record);
      if (m) return { value: m.value ?? NaN, uncertainty: m.uncertainty ?? 0 };
      const finding = said ? check.say.indexOf(said.say) : -1;
      return finding < 0 ? null : { finding };
    }),

    said(check, record) {
      const m = tm.examination.measured(check, record);
      if (!m) return record.findings.find((f) => f.check === check.key)?.say ?? "";
      return `${Number((m.value ?? 0).toPrecision(6))}${m.uncertainty ? ` ± ${Number(m.uncertainty.toPrecision(2))}` : ""}${m.unit === "°" ? "" : " "}${m.unit}`;
    },

    speaks(it, look, finding) {
      const shares = it.checks[look].shares.map((row) => row[finding]);
      const most = Math.max(...shares);
      const those = (/** @type {(share: number) => boolean} */ which) => tm.examination.list(it.hypotheses.flatMap(({ title }, who) => (which(shares[who]) ? [title] : [])));
      const against = those((share) => share <= most / 10);
      return against && `for ${those((share) => share > Math.max(most / 2, 1 / it.checks[look].say.length))}; against ${against}`;
    },

    phrase(log10, title) {
      const [one, other] = log10 > 0 ? [title, "genuine"] : ["genuine", title];
      return words(log10) ? `${words(log10)} for ${one} over ${other}` : "no support worth a word either way";
    },

    drivers: ({ parts }, who, against = 0) => parts
      .flatMap((row, check) => (row ? [{ check, log10: row[who] - row[against] }] : []))
      .filter(({ log10 }) => Math.abs(log10) > 0.04)
      .sort((a, b) => Math.abs(b.log10) - Math.abs(a.log10)),

    warnings(it, given, { support, order, contradictions, parts }, opinion, as) {
      const name = (/** @type {number} */ who) => quoted(it, who);
      const mine = meant(it, opinion, as);
      const own = order.find((who) => mine.includes(who));
      const others = order.filter((who) => !mine.includes(who));
      const any = parts.some(Boolean);
      const out = any ? [] : ["Nothing that counts has been found yet."];
      if (opinion === "altered" && own === undefined) out.push("No alteration is on file for this coin, so nothing was weighed for one.");
      if (own !== undefined && any) {
        const ahead = support[others[0]] - support[own];
        if (ahead >= TWO) out.push(`It runs against the findings: they are ${ratio(ahead)} times as likely under ${name(others[0])} as under ${name(own)} (${words(ahead)}).`);
        const close = others.filter((who) => Math.abs(support[who] - support[own]) < TWO);
        if (close.length) out.push(`The findings do not separate ${name(own)} from ${tm.examination.list(close.map(name))}.`);
        for (const one of contradictions) if (one.hypothesis === own) out.push(`Against ${name(own)}: ${one.say}. (${it.checks[one.check].ask})`);
      }
      const open = it.checks.filter((check, look) => check.decisive && !parts[look]).map((check) => check.ask);
      if (open.length) out.push(`Decisive looks without a finding: ${open.slice(0, 3).join(" · ")}${open.length > 3 ? ` · and ${open.length - 3} more` : ""}`);
      return out;
    },

    reasons(it, record, weighed, opinion, as, basis) {
      const mine = meant(it, opinion, as);
      const own = weighed.order.find((who) => mine.includes(who)) ?? weighed.order[0];
      const against = own ? 0 : weighed.order.find((who) => who && !mine.includes(who)) ?? 0;
      return tm.examination.drivers(weighed, own, against).slice(0, 8).map(({ check: look, log10 }) => {
        const check = it.checks[look];
        const [one, other] = log10 > 0 ? [own, against] : [against, own];
        const from = record.findings.find((f) => f.check === check.key)?.basis || basis(look);
        return `${check.ask} ${tm.examination.capital(tm.examination.said(check, record))}: ${ratio(log10)} times as likely under ${quoted(it, one)} as under ${quoted(it, other)}. [${from}]`;
      }).join("\n");
    },

    kept: (it, { support, parts, contradictions }) => ({
      support: parts.some(Boolean) ? it.hypotheses.slice(1).map(({ key, title }, at) => ({ hypothesis: key, title, log10: support[at + 1], words: tm.examination.phrase(support[at + 1], title) })) : [],
      contradictions: contradictions.map(({ hypothesis: who, check, say }) => ({ hypothesis: it.hypotheses[who].key, title: it.hypotheses[who].title, check: it.checks[check].key, say })),
    }),

    list: (names) => (names.length < 2 ? names.join() : names.length > 4 ? `${names.slice(0, 3).join(", ")} and ${names.length - 3} more` : `${names.slice(0, -1).join(", ")} and ${names.at(-1)}`),
    capital: (text) => text.charAt(0).toUpperCase() + text.slice(1),
  };
})((window.Tellmark ??= {}));
