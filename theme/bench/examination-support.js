// @ts-check
/* What the findings support, drawn: a bar on a log scale for each hypothesis, what drives it, what contradicts, where to look next. */
((/** @type {BenchGlobal} */ tm) => {
  "use strict";
  const { make, page, put, say } = tm;
  const { words, ratio } = tm.evidence;
  const { capital, list, phrase, drivers, said } = tm.examination;

  tm.supportPanel = ({ hypotheses, checks }, go) => {
    const title = (/** @type {number} */ who) => hypotheses[who].title;
    /** Whose drivers are shown; none: the leader's. */
    let asked = 0;
    let again = () => {};

    // Genuine stands in the page: the others are measured by it.
    const rows = hypotheses.slice(1).map((_, at) => make("bar", { title: capital(title(at + 1)) }, () => {
      asked = asked === at + 1 ? 0 : at + 1;
      again();
    }));
    put(page.bars, page.bars.firstChild, ...rows);

    /** @param {number[]} support @param {boolean} any */
    const bars = (support, any) => {
      const scale = Math.max(2, Math.ceil(Math.max(...support.map(Math.abs))));
      rows.forEach((row, at) => {
        const log10 = Math.abs(support[at + 1]) < 0.02 ? 0 : support[at + 1];
        const [name, small, track] = row.children;
        const bar = track.firstChild;
        const width = (Math.abs(log10) / scale) * 50;
        bar.className = log10 > 0 ? "more" : "less";
        bar.style.cssText = `width:${width}%;left:${log10 > 0 ? 50 : 50 - width}%`;
        bar.hidden = !log10;
        put(small, log10 ? say(log10 > 0 ? "more" : "less", words(log10).replace(" support", "") || say("no-word"), ratio(log10)) : any ? say("as-genuine") : "");
        name.ariaLabel = say("bar", title(at + 1), phrase(log10, title(at + 1)), ratio(log10));
        name.ariaPressed = String(asked === at + 1);
      });
    };

    /** @param {EvidenceAdvice} advice */
    const advised = ({ check, bits, from, tells, times }) => {
      const { ask, cause, decisive } = checks[check];
      const why = tm.joined("; ", say(tells.length ? "tells" : "tells-little", bits.toFixed(2), title(from), list(tells.map(title))), decisive && say("decisive"), times && say("shares", cause));
      return make("advice", { ask, why }, () => go(check));
    };

    /** A list, of what leads to looks or else cannot; hidden if empty. @param {"against" | "driver" | "besides"} name @param {Record<string, any>[]} lines */
    const part = (name, lines) => {
      const section = page[name];
      section.hidden = !lines.length;
      put(section.lastElementChild, ...lines.map(({ check, ...values }) => make(name, { ...values, ask: checks[check]?.ask }, check >= 0 && (() => go(check)))));
    };

    return function draw(record, weighed, advice) {
      again = () => draw(record, weighed, advice);
      const { support, order, contradictions, parts } = weighed;
      const [best, second] = order;
      const any = parts.some(Boolean);
      // That genuine is ahead of what expects nothing in particular is no news while something on file stands beside it.
      const than = best ? 0 : order.find((who) => who && who < rows.length) ?? second;
      const lead = support[best] - support[than];
      bars(support, any);
      put(page.leader, make(!any ? "lead-none" : words(lead) ? "lead" : "lead-even", { words: capital(words(lead)), one: title(best), other: title(than), ratio: ratio(lead) }), contradictions[0] ? say("count", contradictions.length) : "");
      part("besides", tm.examination.besides({ hypotheses, checks }, record));
      put(page.advice, ...(advice.length ? advice.slice(0, 3).map(advised) : [make("answered")]));
      part("against", contradictions.map(({ hypothesis, check, say }) => ({ check, say, title: capital(title(hypothesis)), how: checks[check].quantity ? `${checks[check].quantity}:` : "never shows:" })));
      const who = asked || best || than;
      put(page.driven, title(who));
      part("driver", drivers(weighed, who).slice(0, 6).map(({ check, log10 }) => ({ check, side: log10 > 0 ? "more" : "less", ratio: ratio(log10), title: log10 > 0 ? title(who) : "genuine", said: said(checks[check], record) })));
    };
  };
})((window.Tellmark ??= {}));
