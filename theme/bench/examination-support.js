// @ts-check
/* What the findings support, drawn: a bar on a log scale for each hypothesis, what drives it, what contradicts, where to look next. */
(function (/** @type {BenchGlobal} */ tm) {
  "use strict";
  const { el } = tm;
  const { words, ratio } = tm.evidence;
  const { capital, list, phrase, drivers, said } = tm.examination;

  tm.supportPanel = ({ hypotheses, checks }, go) => {
    const $ = (/** @type {string} */ id) => /** @type {any} */ (document.getElementById(`exam-${id}`));
    const title = (/** @type {number} */ who) => hypotheses[who].title;
    const look = (/** @type {number} */ at) => el("button", { type: "button", className: "to", ariaLabel: `Go to the look: ${checks[at].ask}`, onclick: () => go(at) }, "look");
    /** Whose drivers are shown; none: the leader's. */
    let asked = 0;
    let again = () => {};
    $("bars").replaceChildren();

    const rows = hypotheses.map((_, who) => {
      const ask = () => ((asked = asked === who ? 0 : who), again());
      const name = el(who ? "button" : "span", who ? { type: "button", onclick: ask } : {}, capital(title(who)));
      const [bar, small] = [el("i"), el("small")];
      $("bars").append(el("li", {}, name, small, el("span", { className: "track", ariaHidden: "true" }, bar)));
      return { name, bar, small };
    });

    /** @param {number[]} support @param {boolean} any */
    function bars(support, any) {
      const scale = Math.max(2, Math.ceil(Math.max(...support.map(Math.abs))));
      rows.forEach(({ name, bar, small }, who) => {
        const log10 = support[who];
        const width = (Math.abs(log10) / scale) * 50;
        bar.className = log10 > 0 ? "more" : "less";
        bar.style.cssText = `width:${width}%;left:${log10 > 0 ? 50 : 50 - width}%`;
        bar.hidden = !log10;
        small.textContent = !who ? "what the others are measured by" : log10 ? `${log10 > 0 ? "▸" : "◂"} ${words(log10).replace(" support", "") || "no word"} ${ratio(log10)}×` : any ? "as likely as genuine" : "";
        if (!who) return;
        name.ariaLabel = `${title(who)}: ${phrase(log10, title(who))}, ${ratio(log10)} times. What drives it`;
        name.ariaPressed = String(asked === who);
      });
    }

    /** @param {EvidenceAdvice} advice @param {number} place */
    function advised({ check, bits, from, tells, times }, place) {
      const { ask, cause, decisive } = checks[check];
      const why = [`${bits.toFixed(2)} bits: ${tells.length ? `tells ${title(from)} from ${list(tells.map(title))}` : "tells little of what still stands"}`, decisive && "decisive", times && `shares its cause, ${cause}, with what was found`];
      return el("p", {}, el("button", { type: "button", onclick: () => go(check) }, ask), el("small", {}, why.filter(Boolean).join("; ")));
    }

    /** @param {string} id @param {Node[]} lines */
    function part(id, lines) {
      $(id).hidden = !lines.length;
      $(id).lastElementChild.replaceChildren(...lines);
    }

    return function draw(record, weighed, advice) {
      again = () => draw(record, weighed, advice);
      const { support, order: [best, second], contradictions, parts } = weighed;
      const lead = support[best] - support[best ? 0 : second];
      const pair = [best, best ? 0 : second].map(title);
      bars(support, parts.some(Boolean));
      $("leader").textContent = !parts.some(Boolean) ? "Nothing found yet, so nothing is supported." : words(lead) ? `${capital(words(lead))} for ${pair[0]} over ${pair[1]}: the findings are ${ratio(lead)} times as likely.` : `The findings do not separate ${pair[0]} from ${pair[1]}.`;
      $("advice").replaceChildren(...(advice.length ? advice.slice(0, 3).map(advised) : [el("p", {}, "Every look is answered.")]));
      part("against", contradictions.map(({ hypothesis, check, say }) => el("li", {}, el("b", {}, capital(title(hypothesis))), ` ${checks[check].quantity ? `${checks[check].quantity}:` : "never shows:"} ${say} `, look(check))));
      const who = asked || best || second;
      $("drivers").firstElementChild.textContent = `What drives it: ${title(who)}`;
      part("drivers", drivers(weighed, who).slice(0, 6).map(({ check, log10 }) => el("li", { className: log10 > 0 ? "more" : "less" }, el("b", {}, `${ratio(log10)}× for ${log10 > 0 ? title(who) : "genuine"}`), ` ${said(checks[check], record)} `, look(check))));
    };
  };
})((window.Tellmark ??= {}));
