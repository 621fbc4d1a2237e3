// @ts-check
/* The looks of an examination as they stand in the page: each from the template, with what is recorded of it in its fields. */
((/** @type {BenchGlobal} */ tm) => {
  "use strict";
  const { make, put, root, say } = tm;
  const by = (/** @type {Iterable<Element>} */ nodes, /** @type {(node: Element) => string} */ name) => Object.fromEntries(Array.from(nodes, (node) => [name(node), node]));
  /** The page's own elements by id, without its `exam-`. @type {Record<string, any>} */
  const page = by(document.querySelectorAll("[id]"), ({ id }) => id.replace("exam-", ""));

  tm.page = page;

  tm.looks = (it, country, issue, heard) => {
    const { checks, page: printed, pictures } = country.issues[issue];
    const { capital, groups, list, measured } = tm.examination;
    /** @type {any[]} */
    const nodes = [];
    /** The elements of each look by their class. @type {Record<string, any>[]} */
    const parts = [];
    let current = -1;

    /** @param {number} look */
    const build = (look) => {
      const { check: place, number, at, place: where } = checks[look];
      const { id, ask, unit, quantity, decisive, magnification, light, tool, findings } = country.checks[place];
      const node = (nodes[look] = make("look", { look, id, printed, root, ask, unit, number, none: say(quantity ? "not-measured" : "not-seen"), ...at }));
      /** @type {Record<string, any>} */
      const own = (parts[look] = by(node.querySelectorAll("[class]"), ({ className }) => className));
      own.page.before(...[capital(where), magnification && `${magnification}×`, light, tool].filter(Boolean).map((text) => make("how", { text })));
      for (const picture of pictures) if (picture.shows.includes(id)) own.page.before(make("picture", { ...picture, root }));
      own.ways.prepend(...findings.map(({ say, basis }, finding) => make("way", { look, finding, say, key: finding < 9 ? finding + 1 : "", basis: country.bases[basis] })));
      // What a look has not, its form lacks.
      const has = { num: number, spot: at, decisive, measure: quantity, scales: /weight|density/.test(quantity), "photo-measure": /tilt|offset|axis/.test(quantity) };
      for (const [name, there] of Object.entries(has)) if (!there) own[name].remove();
      node.onchange = (/** @type {any} */ { target }) => {
        if (target.type === "radio") heard.chosen(look, target.value);
        else if (target.name) heard.written(look, { [target.name]: target.value.trim() });
        else heard.measured(look, own);
      };
      node.onpointerdown = () => go(look, false);
      node.addEventListener("focusin", node.onpointerdown);
      return node;
    };

    /** @type {BenchLooks["go"]} */
    const go = (look, move) => {
      if (nodes[current]) nodes[current].ariaCurrent = null;
      const node = nodes[(current = look)];
      node.ariaCurrent = "true";
      if (!move) return;
      const fold = node.closest("details");
      if (fold) fold.open = true;
      node.focus({ preventScroll: true });
      node.scrollIntoView({ block: innerWidth < 1100 ? "start" : "center" });
    };

    /** The ranges on file with the measurement on them. @param {EvidenceCheck} check @param {RecordedMeasurement} m */
    const line = ({ ranges, own }, { value, uncertainty, unit }) => {
      const bar = (/** @type {number} */ low, /** @type {number} */ high) => ({ low, high, words: tm.units.range(low, high, unit) });
      const [x, u] = [value ?? 0, 2 * (uncertainty ?? 0)];
      const bars = ranges.map((range, place) => ({
        class: own[0] === place ? "law" : "false", ...bar(...tm.evidence.reach(range, 2)), at: "sd" in range ? range.mean : null,
        label: capital(list(it.hypotheses.filter((_, who) => own[who] === place).map(({ title }) => title))),
      }));
      return tm.line({ unit, bars, seen: { label: say("measured"), at: x, ...bar(x - u, x + u) } });
    };

    const all = groups(country, issue).map(({ kind, title, looks }) => {
      const node = make(kind, { title });
      node.append(...looks.map(build));
      return { node, looks };
    });
    put(page.looks, ...all.map(({ node }) => node));

    return {
      order: all.flatMap(({ looks }) => looks),
      node: (look) => nodes[look],
      current: () => current,
      go,
      fill(look, record) {
        const check = it.checks[look];
        const own = parts[look];
        const { answer, say = "", note = "", photo = "" } = record.findings.find((f) => f.check === check.key) ?? {};
        const value = answer === "seen" ? String(check.say.indexOf(say)) : answer;
        for (const radio of own.ways.querySelectorAll("[type=radio]")) radio.checked = radio.value === value;
        own.noted.value = note;
        own.photo.value = photo;
        if (note || photo) own.extra.open = true;
        if (!check.quantity) return;
        const m = measured(check, record);
        const typed = (/** @type {string} */ name) => m?.readings.find((one) => one.name === name);
        const write = (/** @type {any} */ field, /** @type {{ typed: string, unit: string } | undefined} */ one, /** @type {number | null | undefined} */ number, digits = 6) => {
          if (document.activeElement !== field) field.value = one ? `${one.typed}${one.unit === m?.unit ? "" : ` ${one.unit}`}` : number ? Number(number.toPrecision(digits)) : number ?? "";
        };
        const reading = typed("reading");
        // One reading from another instrument stands as it was typed there; the mean of several, as a number.
        write(own.reading, reading ?? (m?.readings.length === 1 ? m.readings[0] : undefined), m?.value);
        write(own.doubt, typed("uncertainty"), reading ? null : m?.uncertainty, 2);
        own.reading.defaultValue = own.reading.value;
        put(own.from, m?.method ?? "");
        put(own.line, ...(m && check.ranges.length ? [line(check, m)] : []));
      },
      mark(given) {
        nodes.forEach((node, look) => node.classList.toggle("done", Boolean(given[look])));
        for (const { node, looks } of all) {
          const small = node.querySelector("summary > small");
          if (small) put(small, say("of-all", looks.filter((look) => given[look]).length, looks.length));
        }
      },
    };
  };
})((window.Tellmark ??= {}));
