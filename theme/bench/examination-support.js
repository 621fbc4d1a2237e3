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
        const log10 = support[at + 1];
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
      const why = [say(tells.length ? "tells" : "tells-little", bits.toFixed(2), title(from), list(tells.map(title))), decisive && say("decisive"), times && say("shares", cause)];
      return make("advice", { ask, why: why.filter(Boolean).join("; ") }, () => go(check));
    };

    /** A list of what leads to looks; hidden if empty. @param {"against" | "driver"} name @param {Record<string, any>[]} lines */
    const part = (name, lines) => {
      const section = page[name];
      section.hidden = !lines.length;
      put(section.lastElementChild, ...lines.map(({ check, ...values }) => make(name, { ...values, ask: checks[check].ask }, () => go(check))));
    };

    return function draw(record, weighed, advice) {
      again = () => draw(record, weighed, advice);
      const { support, order: [best, second], contradictions, parts } = weighed;
      const any = parts.some(Boolean);
      const than = best ? 0 : second;
      const lead = support[best] - support[than];
      bars(support, any);
      put(page.leader, make(!any ? "lead-none" : words(lead) ? "lead" : "lead-even", { words: capital(words(lead)), one: title(best), other: title(than), ratio: ratio(lead) }));
      put(page.advice, ...(advice.length ? advice.slice(0, 3).map(advised) : [make("answered")]));
      part("against", contradictions.map(({ hypothesis, check, say }) => ({ check, say, title: capital(title(hypothesis)), how: checks[check].quantity ? `${checks[check].quantity}:` : "never shows:" })));
      const who = asked || best || second;
      put(page.driven, title(who));
      part("driver", drivers(weighed, who).slice(0, 6).map(({ check, log10 }) => ({ check, side: log10 > 0 ? "more" : "less", ratio: ratio(log10), title: log10 > 0 ? title(who) : "genuine", said: said(checks[check], record) })));
    };
  };
})((window.Tellmark ??= {}));
