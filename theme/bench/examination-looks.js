// @ts-check
/* The looks of an examination as they stand in the page: each from the template, with what is recorded of it in its fields. */
(function (/** @type {BenchGlobal} */ tm) {
  "use strict";
  const root = document.documentElement.dataset.root ?? "";
  const TOOLS = /** @type {Record<string, string>} */ ({ weight: "scales", density: "scales", tilt: "photo-measure", offset: "photo-measure", "die-axis": "photo-measure" });

  /** @param {string} name @param {Record<string, any>} [props] @param {(Node | string)[]} inside @returns {any} */
  const el = (name, props, ...inside) => {
    const node = Object.assign(document.createElement(name), props);
    node.append(...inside);
    return node;
  };
  tm.el = el;

  tm.looks = (it, country, issue, recordId, heard) => {
    const { checks, page, pictures } = country.issues[issue];
    const { capital, groups, list, measured } = tm.examination;
    const template = /** @type {HTMLTemplateElement} */ (document.getElementById("look-form"));
    /** @type {any[]} */
    const nodes = [];
    let current = -1;

    /** A way to answer. @param {number} look @param {string} value @param {string} key @param {string} text @param {string} [basis] */
    function way(look, value, key, text, basis) {
      const radio = el("input", { type: "radio", name: `look-${look}`, value, onchange: () => heard.chosen(look, value) });
      const sign = el("kbd", { ariaHidden: "true" }, key);
      return el("label", { className: "way" }, radio, sign, el("span", {}, text, ...(basis ? [el("small", {}, basis)] : [])));
    }

    /** @param {number} look */
    function build(look) {
      const { check: place, number, at, place: where } = checks[look];
      const check = country.checks[place];
      /** @type {any} */
      const node = /** @type {any} */ (template.content.cloneNode(true)).firstElementChild;
      const $ = (/** @type {string} */ name) => node.querySelector(`.${name}`);
      node.id = `look-${look}`;
      node.ariaLabel = $("asked").textContent = check.ask;
      number ? ($("num").textContent = number) : $("num").remove();
      const how = [capital(where), check.magnification && `${check.magnification}×`, check.light, check.tool];
      const seen = pictures.filter((one) => one.shows.includes(check.id)).map(({ id, name }) => el("a", { href: `${root}bench/picture.html#${id}`, target: "_blank" }, `picture: ${name}`));
      $("page").before(...[...how, ...seen].flatMap((part) => (part ? [el("span", {}, part)] : [])));
      $("page").firstChild.href = `${root}${page}#${check.id}`;
      $("page").firstChild.ariaLabel = `On the coin’s page: ${check.ask}`;
      if (!check.decisive) $("decisive").remove();
      if (at) $("spot").firstChild.style.cssText = `left:${50 + 44 * at.reach * Math.sin((at.clock * Math.PI) / 6)}%;top:${50 - 44 * at.reach * Math.cos((at.clock * Math.PI) / 6)}%`;
      else $("spot").remove();
      $("ways").ariaLabel = check.ask;
      $("ways").prepend(...check.findings.map(({ say, basis }, finding) => way(look, String(finding), String(finding < 9 ? finding + 1 : ""), say, country.bases[basis])));
      $("nones").prepend(way(look, "not seen", "x", "not seen"), way(look, "cannot tell", "c", "cannot tell"));
      $("noted").onchange = () => heard.written(look, "note", $("noted").value.trim());
      $("photo").onchange = () => heard.written(look, "photo", $("photo").value.trim());
      if (check.quantity) {
        $("reading").ariaLabel = `${check.ask} In ${check.unit}`;
        $("reading").onchange = $("doubt").onchange = () => heard.measured(look);
        $("reading").setAttribute("aria-describedby", ($("wrong").id = `wrong-${look}`));
        $("unit").textContent = check.unit;
        const tool = TOOLS[check.quantity];
        tool ? ($("tool").href = `${tool}.html#record=${recordId}`) : $("tool").remove();
        if (tool === "scales") $("tool").textContent = "On the scales";
      } else $("measure").remove();
      for (const kind of ["focusin", "pointerdown"]) node.addEventListener(kind, () => go(look, false));
      return (nodes[look] = node);
    }

    /** @type {BenchLooks["go"]} */
    function go(look, move) {
      nodes[current]?.removeAttribute("aria-current");
      nodes[(current = look)].setAttribute("aria-current", "true");
      if (!move) return;
      const fold = nodes[look].closest("details.from");
      if (fold) fold.open = true;
      nodes[look].focus({ preventScroll: true });
      nodes[look].scrollIntoView({ block: innerWidth < 1100 ? "start" : "center" });
    }

    /** The ranges on file with the measurement on them. @param {EvidenceCheck} check @param {RecordedMeasurement} m */
    function line({ ranges, own }, m) {
      const to = (/** @type {number} */ low, /** @type {number} */ high) => `${Number(low.toPrecision(4))} to ${Number(high.toPrecision(4))} ${m.unit}`;
      const [x, u] = [m.value ?? 0, 2 * (m.uncertainty ?? 0)];
      const bars = ranges.map((r, place) => {
        const [low, high] = "sd" in r ? [r.mean - 2 * r.sd, r.mean + 2 * r.sd] : [r.low, r.high];
        const label = capital(list(it.hypotheses.filter((_, who) => own[who] === place).map((h) => h.title)));
        return { class: own[0] === place ? "law" : "false", label, low, high, at: "sd" in r ? r.mean : null, words: to(low, high) };
      });
      return tm.line({ unit: m.unit, bars, seen: { label: "Measured, k = 2", low: x - u, high: x + u, at: x, words: to(x - u, x + u) } });
    }

    const parts = groups(country, issue);
    document.getElementById("exam-looks")?.replaceChildren(...parts.map(({ title, folded, looks }) => {
      const head = el("h2", {}, title);
      const all = looks.map(build);
      if (folded) return el("details", { className: "from", looks }, el("summary", {}, head, el("small")), ...all);
      return el("section", {}, head, ...(country.checks[checks[looks[0]].check].quantity ? [el("p", { className: "how" }, "Another unit may follow the number: 95.7 gr, 0.97 in. ± is the standard uncertainty; left empty, one of the last digit typed.")] : []), ...all);
    }));

    return {
      order: parts.flatMap(({ looks }) => looks),
      node: (look) => nodes[look],
      current: () => current,
      go,
      fill(look, record) {
        const check = it.checks[look];
        const $ = (/** @type {string} */ name) => nodes[look].querySelector(`.${name}`);
        const found = record.findings.find((f) => f.check === check.key);
        const value = found && (found.answer === "seen" ? String(check.say.indexOf(found.say)) : found.answer);
        for (const radio of nodes[look].querySelectorAll("[type=radio]")) radio.checked = radio.value === value;
        $("noted").value = found?.note ?? "";
        $("photo").value = found?.photo ?? "";
        if (found?.note || found?.photo) $("extra").open = true;
        if (!check.quantity) return;
        const m = measured(check, record);
        const typed = (/** @type {string} */ name) => m?.readings.find((one) => one.name === name);
        const write = (/** @type {string} */ name, /** @type {{ typed: string, unit: string } | undefined} */ one, /** @type {unknown} */ else_) => {
          if (document.activeElement !== $(name)) $(name).value = one ? `${one.typed}${one.unit === m?.unit ? "" : ` ${one.unit}`}` : else_ ?? "";
        };
        write("reading", typed("reading"), m && Number(m.value?.toPrecision(6)));
        write("doubt", typed("uncertainty"), typed("reading") ? "" : m?.uncertainty && Number(m.uncertainty.toPrecision(2)));
        $("line").replaceChildren(...(m && check.ranges.length ? [line(check, m)] : []));
      },
      mark(given) {
        nodes.forEach((node, look) => node.classList.toggle("done", Boolean(given[look])));
        for (const fold of document.querySelectorAll("details.from")) {
          const { looks } = /** @type {any} */ (fold);
          const small = fold.querySelector("small");
          if (small) small.textContent = `${looks.length} look${looks.length > 1 ? "s" : ""}, ${looks.filter((/** @type {number} */ look) => given[look]).length} answered`;
        }
      },
    };
  };
})((window.Tellmark ??= {}));
