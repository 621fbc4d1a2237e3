// @ts-check
/* The page of the scales: fields → units.js, weighing.js, alloys.js → results on number lines → the open examination.
 * Sentences, tables and lists stand in the page's templates; here they are only filled. */
((/** @type {BenchGlobal} */ tm) => {
  "use strict";
  /** @typedef {{ values: number[], readings: RecordedMeasurement["readings"], step: number }} Typed */
  const KEPT = "tellmark-scales", NONE = { id: "", title: "", page: "", standards: /** @type {KnownStandard[]} */ ([]), at: 0, issue: /** @type {KnownIssue | null} */ (null), country: /** @type {CountryKnowledge | null} */ (null) };
  const { byId, el, put, say: sentence } = tm, { show: written, own, pair, short, range } = tm.units, { measure, mean } = tm.weighing;
  let coin = NONE;
  /** @type {SiteKnowledge | null} */
  let site = null;

  const form = /** @type {HTMLFormElement} */ (byId("scales"));
  const get = (/** @type {string} */ name) => /** @type {any} */ (form.elements.namedItem(name));
  const law = () => coin.standards[coin.at] ?? null;
  const told = (/** @type {BenchSaying[]} */ sayings) => sayings.map((one) => sentence(...one));
  const say = (/** @type {(Node | string)[]} */ ...words) => put(byId("said"), ...words);

  /** Says what is wrong at a field; nothing if it is right again. @param {string} name @param {BenchSaying} saying */
  const wrong = (name, ...saying) => {
    const place = byId(`${name}-trouble`), words = sentence(...saying);
    if (place.textContent !== words) place.textContent = words;
    get(name).setAttribute("aria-invalid", !!words);
    const fold = place.closest("details");
    if (words && fold) fold.open = true;
    return null;
  };
  /** A field that may stay empty must still be right: no result is reckoned past a fault in its part of the page. @param {string} name */
  const sound = (name) => !get(name).closest(".pan").querySelector("[aria-invalid=true]");
  /** In which unit a field is read and shown when none is typed. @param {string} unit */
  const chosen = (unit) => ({ g: get("mass").value, mm: get("length").value, "°C": get("heat").value })[unit] ?? unit;

  /** Readings of a field; null while it is empty or wrong. @param {string} name @param {string} [quantity] @returns {Typed | null} */
  const read = (name, quantity = name) => {
    const parts = get(name).value.split(";").filter((/** @type {string} */ part) => part.trim());
    /** @type {any[]} */
    const all = parts.map((/** @type {string} */ part) => tm.units.parse(part, quantity, chosen(own(quantity))));
    const bad = all.findIndex((one) => one.trouble);
    wrong(name, bad < 0 ? "right" : all[1] ? "reading" : "as-said", all[bad]?.trouble, bad + 1);
    if (bad >= 0 || !all.length) return null;
    return { values: all.map((one) => one.value), readings: all.map(({ typed, unit }) => ({ name: get(name).labels[0].textContent, typed, unit })), step: Math.min(...all.map((one) => one.step)) };
  };
  const single = (/** @type {string} */ name, /** @type {string} */ quantity, otherwise = 0) => read(name, quantity)?.values[0] ?? otherwise;
  const gauge = (/** @type {number} */ step) => ({ step: single("step", "step", step), scatter: single("scatter", "doubt g"), calibration: single("calibration", "doubt g") });
  /** What an instrument is good to, as a standard uncertainty. @param {string} name */
  const limit = (name) => get(name).value / Math.sqrt(3);
  /** Of an instrument that is known by its limit alone. @param {Typed} typed @param {string} name @param {string} unit @param {string} instrument */
  const held = ({ values, step }, name, unit, instrument) => measure(values, [name], unit, { step, scatter: 0, calibration: limit(instrument) });

  /** And so in the chosen unit. @param {number} value @param {number} U @param {string} unit */
  const plusMinus = (value, U, unit) => pair(value, U, unit) + (chosen(unit) === unit ? "" : ` (${pair(value, U, unit, chosen(unit))})`);
  const signed = (/** @type {number} */ value, /** @type {number} */ places) => {
    const size = Math.abs(value).toFixed(places);
    return (!/[1-9]/.test(size) ? "" : value < 0 ? "−" : "+") + size;
  };

  /** The standard's bars, before those of the issue's hypotheses. @param {string} quantity @returns {any[]} */
  const lawful = (quantity) => {
    const { weight, alloy, diameter, thickness, axis } = law() ?? {}, unit = own(quantity), out = [];
    const bar = (/** @type {BenchSaying} */ label, /** @type {number} */ at, give = 0, words = give ? pair(at, give, unit) : short(at, unit)) => out.push({ class: "law", label: sentence(...label), low: at - give, high: at + give, at, words });
    if (quantity === "weight" && weight) {
      const { grams, deviation, worn } = weight;
      bar(["law-label"], grams, deviation, sentence(weight.stated ? "law" : "law-unstated", grams.toFixed(3), deviation.toFixed(3)));
      out.push({ class: "wear", label: sentence("wear-label"), low: worn, high: grams - deviation, words: sentence("wear", worn.toFixed(2)) });
    }
    if (quantity === "density" && alloy?.density) bar(["alloy-label"], alloy.density, alloy.give ?? 0);
    const length = { diameter, thickness }[quantity];
    if (length) bar(["standard-label"], length);
    if (quantity === "die-axis" && axis) bar(["standard-is", axis], axis === "coin" ? 180 : 0);
    return out;
  };

  /** The standard and what the issue's hypotheses expect; equal ranges are one bar. @param {string} quantity @returns {any[]} */
  const bars = (quantity) => {
    const unit = own(quantity), out = lawful(quantity);
    /** @type {Map<string, { low: number, high: number, of: KnownHypothesis[], words: string }>} */
    const same = new Map();
    for (const { check, ranges } of coin.issue?.checks ?? []) {
      if (coin.country?.checks[check].quantity !== quantity) continue;
      for (const [at, wide] of ranges) {
        const [low, high] = "mean" in wide ? [wide.mean - 2 * wide.sd, wide.mean + 2 * wide.sd] : [wide.low, wide.high];
        const words = String(range(low, high, unit)), one = same.get(words) ?? { low, high, of: [], words };
        const known = coin.issue?.hypotheses[at];
        if (known) one.of.push(known), same.set(words, one);
      }
    }
    const stated = out.length && /^(weight|density)$/.test(quantity);
    for (const { of, ...reach } of same.values()) {
      const titles = (/** @type {KnownHypothesis["kind"]} */ kind) => of.filter((one) => one.kind === kind).map((one) => one.title);
      const genuine = titles("genuine").length, altered = titles("alteration"), family = titles("family");
      if (genuine && !family[0] && stated) continue;
      const label = [...(genuine ? [sentence("genuine")] : []), ...family, ...(altered[1] ? [sentence("alterations", altered.length)] : altered)].join(", ");
      out.push({ class: genuine ? "law" : family[0] ? "false" : "other", label, ...reach });
    }
    return out;
  };

  /** Shows a result, or the standard alone while there is none. @param {string} quantity
   * @param {{ said: string, note: string, kind?: string, got?: any, more?: Node[], readings?: Typed["readings"], method: string }} [it] */
  const show = (quantity, it) => {
    const place = byId(`${quantity}-result`), lines = bars(quantity), unit = own(quantity);
    const folds = () => /** @type {HTMLDetailsElement[]} */ ([...place.querySelectorAll("details")]), open = folds().map((one) => one.open);
    if (!it) return put(place, lines.length ? tm.line({ unit, bars: lines }) : el("p", "how", quantity === "edge" ? edgeOfStandard() : ""));
    const { said, note, kind = "", got, more = [], readings = [], method } = it, button = tm.make("put");
    button.ariaLabel = `${button.textContent}: ${quantity.replace("-", " ")}`;
    button.onclick = () => carry({ id: quantity, quantity: /** @type {any} */ (quantity), value: got ? (unit === "°" ? round(got.value) : got.value) : null, uncertainty: got?.u ?? null, unit: got ? unit : "", readings, method, words: `${said}${got ? " (k = 2)" : ""}. ${note}`.trim(), at: "" });
    const seen = got && { label: sentence("measured"), low: got.low ?? got.value - got.U, high: got.high ?? got.value + got.U, at: got.value, words: said };
    put(place, el("p", "value-said", said), el("p", `verdict ${kind}`, note), ...(got ? [tm.line({ unit, bars: lines, seen }), ...more, budget(got, unit)] : []), button);
    folds().forEach((one, at) => (one.open = open[at] ?? false));
  };

  /** Every input of a result, to be unfolded. @param {any} got @param {string} unit */
  const budget = ({ terms, u, U }, unit) => {
    const sheet = tm.make("budget"), [table, sum] = sheet.querySelectorAll("tbody, .how");
    const figure = (/** @type {number} */ value, /** @type {number} */ digits) => (Math.abs(value) < 1e-6 ? value.toFixed(8) : String(Number(value.toPrecision(digits)))).replace("-", "−");
    for (const { name, value, unit: its, u, c, part, share } of terms) {
      const [what, ...gaps] = name, cells = [`${figure(value, 7)} ${its}`, figure(u, 2), sentence(`${what}-how`, ...gaps), figure(c, 4), `${figure(part, 2)} ${unit}`, `${(share * 100).toFixed(1)} %`];
      table.append(el("tr", "", el("th", "", sentence(what, ...gaps)), ...cells.map((cell) => el("td", "", cell))));
    }
    put(sum, sentence("combined", figure(u, 2), unit, figure(U, 2)));
    return sheet;
  };

  const weigh = () => {
    const typed = read("weight"), weight = law()?.weight, balance = gauge(typed?.step ?? 0);
    if (!typed || !sound("weight")) return show("weight"), null;
    const got = measure(typed.values, ["in-air"], "g", balance), off = got.value - (weight?.grams ?? 0);
    const kind = weight && tm.weighing.against(got.value, got.U, weight);
    show("weight", { said: plusMinus(got.value, got.U, "g"), note: weight ? sentence("off-law", signed(off, 3), signed((off / weight.grams) * 100, 1), weight.grams.toFixed(3), weight.words, [kind]) : "", kind, got, more: typed.values[1] || balance.scatter ? [] : [el("p", "how", sentence("one-weight"))], readings: typed.readings, method: "balance" });
    return typed;
  };

  /** The density's inputs; null while one is missing or wrong, which is then said at its field. @param {Typed | null} air */
  const immersed = (air) => {
    const wet = read("liquid", "reading"), warm = read("temperature"), wire = single("wire", "wire"), vessel = single("vessel", "vessel", 60), hPa = single("pressure", "pressure"), damp = single("humidity", "humidity", 50);
    wrong("fluid", "right");
    for (const name of wet ? ["weight", "temperature"] : []) if (!get(name).value.trim()) wrong(name, `wanted-${name}`);
    if (!wet || !air || !warm || !sound("liquid")) return null;
    const temperature = mean(warm.values), fluid = tm.water.liquid(get("fluid").value, temperature), gas = hPa ? tm.water.air(hPa, damp, temperature) : tm.water.ROOM;
    const got = [fluid, gas].find((one) => one.trouble) ?? tm.weighing.density({ setup: get("setup").value, air: air.values, liquid: wet.values, gauge: gauge(Math.max(air.step, wet.step)), fluid, temperature, warmth: limit("warmth"), gas, hanger: wire ? { wires: Number(get("wires").value), wire, vessel } : null });
    if (got.trouble) return wrong(got.field, .../** @type {BenchSaying} */ (got.trouble));
    return { got: { ...got, value: got.density }, readings: [...air.readings, ...wet.readings, ...warm.readings] };
  };

  /** What else a density says: cautions, silver, the metals it fits and excludes, and those it does not tell apart. @param {any} got */
  const metals = ({ low, high, value, u, cautions }) => {
    const { alloys = [], inseparable = [] } = site ?? {}, alloy = law()?.alloy, { fits, excluded } = tm.alloys.fits(low, high, alloys);
    const sheet = tm.make("metals"), [silver, fold, others, twins] = sheet.querySelectorAll(".silver, details, .twins");
    const list = (/** @type {Element} */ fold, /** @type {any[]} */ items, /** @type {BenchSaying} */ ...title) => {
      put(fold.children[0], sentence(...title));
      fold.children[1].append(...items.map((one) => el("li", "", `${one.words}: ${one.density.toFixed(2)} ± ${one.give.toFixed(2)}${/on file|pure metal/.test(one.note) ? "" : `; ${one.note}`}`)));
    };
    if (alloy?.parts.Ag || fits.some((/** @type {any} */ one) => one.parts.Ag)) put(silver, told(tm.alloys.finenessWords(tm.alloys.fineness(value, u, alloys))).join(" "));
    list(fold, fits, "fits", fits.length, alloys.length);
    list(others, excluded, "excludes", excluded.length);
    twins.prepend(...told(tm.alloys.twins(low, high, inseparable)).map((one) => el("li", "", one)));
    return [...cautions.map((/** @type {string} */ one) => el("p", "how", sentence(one))), sheet];
  };

  /** @param {Typed | null} air */
  const hydrostatic = (air) => {
    const setup = get("setup").value, alloy = law()?.alloy;
    put(byId("liquid-label"), sentence(`reading-${setup}`));
    const all = immersed(air);
    if (!all) return show("density");
    const { got, readings } = all, { low, high, value, u, U } = got, known = alloy?.density;
    const out = known && !tm.alloys.fits(low, high, [alloy]).fits.length;
    const ends = u / value > 0.03 ? `; ${low.toFixed(2)} to ${high.toFixed(2)}` : "";
    show("density", { said: plusMinus(value, U, "g/cm³") + ends, note: known ? sentence(out ? "misfit" : "fit", alloy.words) : "", kind: out ? "heavy" : "", got, more: metals(got), readings, method: sentence(`method-${setup}`, get("fluid").selectedOptions[0].dataset.name) });
  };

  /** @param {"diameter" | "thickness"} quantity */
  const span = (quantity) => {
    const typed = read(quantity), standard = law()?.[quantity];
    if (!typed) return show(quantity);
    const { values, readings } = typed, got = held(typed, "calipers", "mm", "calipers");
    const note = [values.length > 1 ? sentence("mean", values.length, written(got.spread, "mm", 2)) : "", standard ? sentence("off-standard", signed(got.value - standard, 2), standard) : ""];
    show(quantity, { said: plusMinus(got.value, got.U, "mm"), note: note.join(" ").trim(), got, readings, method: "calipers" });
  };

  const round = (/** @type {number} */ degrees) => ((degrees % 360) + 360) % 360;
  const axis = () => {
    const typed = read("die-axis"), standard = law()?.axis;
    if (!typed) return show("die-axis");
    // Readings on both sides of upright, 358 and 2, have their mean there and not at 180; and it is drawn near the standard.
    const first = typed.values[0], near = typed.values.map((value) => value - 360 * Math.round((value - first) / 360));
    const got = held({ ...typed, values: near }, "die-axis", "°", "turn");
    got.value -= 360 * Math.round((got.value - (standard === "coin" ? 180 : 0)) / 360);
    const turned = round(got.value), way = turned < 90 || turned > 270 ? "medal" : "coin", off = way === "coin" ? turned - 180 : Math.min(turned, 360 - turned);
    show("die-axis", { said: `${written(turned, "°", 0)} ± ${written(got.U, "°", 0)}`, note: sentence(`axis-${way}`, Math.abs(off).toFixed(0), standard ? ["axis-standard", standard] : ""), kind: standard && way !== standard ? "heavy" : "", got, readings: typed.readings, method: get("turn").selectedOptions[0].text });
  };

  const edgeOfStandard = () => (law()?.edge ? sentence("edge-standard", law().edge) : "");
  const reckon = () => {
    hydrostatic(weigh());
    span("diameter");
    span("thickness");
    axis();
    const pull = get("magnet").value, rim = get("edge").value.trim().slice(0, 400), stands = tm.alloys.magnet(pull === "attracted", law()?.alloy?.parts ?? null);
    show("magnet", pull && { said: pull, note: sentence(pull, [stands || "right"]), kind: /pull/.test(stands) ? "heavy" : "", method: "magnet" });
    show("edge", rim && { said: rim, note: edgeOfStandard(), method: "seen" });
  };

  const opened = () => {
    const id = tm.shelf.asked().record || tm.drawer.current();
    return id ? tm.drawer.open(id) : { record: null, trouble: "" };
  };
  /** Into the open examination if it is of this coin, or into one begun for it. @param {RecordedMeasurement} measurement */
  const carry = (measurement) => {
    const { record, trouble } = opened(), now = new Date().toISOString(), ours = record && [record.coin.issue, coin.country?.issues[record.coin.issue]?.series, ""].includes(coin.id);
    if (!ours && (!coin.issue || !coin.country || !site)) return say(trouble || sentence(record ? "other-coin" : "no-examination", record?.coin.title ?? ""));
    const into = ours ? record : tm.record.fresh(coin.id, /** @type {any} */ (coin.country), /** @type {any} */ (site), tm.drawer.newId(), now);
    const lost = tm.drawer.save(tm.record.measure(into, { ...measurement, at: now }));
    if (lost) return say(lost);
    if (!ours) tm.drawer.setCurrent(into.id);
    keep();
    say(tm.make(ours ? "carried" : "begun", { what: measurement.quantity.replace("-", " "), id: into.id, title: into.coin.reference || into.coin.title }));
  };

  /** @returns {Record<string, any>} */
  const kept = () => {
    try {
      return { ...JSON.parse(tm.remembered(KEPT) ?? "{}") };
    } catch {
      return {};
    }
  };
  /** Readings belong to one piece: to its examination once there is one. */
  const piece = () => (opened().record?.coin.issue === coin.id && opened().record?.id) || coin.id || "-";
  const fields = () => /** @type {Record<string, string>} */ (Object.fromEntries(/** @type {any} */ (new FormData(form))));
  /** The units chosen stay for every piece. */
  const keep = (these = fields()) => {
    const { units: _, ...all } = kept(), { mass, length, heat } = fields();
    [piece(), coin.id].forEach((key) => delete all[key]);
    tm.remember(KEPT, JSON.stringify({ ...Object.fromEntries(Object.entries(all).slice(-40)), [piece()]: these, units: { mass, length, heat } }));
  };
  const recall = () => {
    const all = kept();
    form.reset();
    for (const [name, value] of Object.entries({ ...all.units, ...(all[piece()] ?? all[coin.id]) })) if (get(name)) get(name).value = value;
  };

  /** @param {string} name @param {[value: string, text: string][]} options */
  const offer = (name, options) => get(name).append(...options.map(([value, text]) => new Option(text, value)));

  const shown = () => {
    const one = law(), many = !coin.issue && coin.standards.length > 1;
    put(byId("coin-over"), sentence(coin.id ? "coin" : "no-coin"));
    put(byId("coin-now"), ...(coin.id ? [el("a", { href: tm.root + coin.page }, coin.title), el("span", "", tm.joined(" · ", one?.weight?.words, one?.alloy?.words, one?.diameter && `${one.diameter} mm`, one && sentence("standard-is", coin.country?.bases[one.basis] ?? "")))] : []));
    recall();
    byId("years").hidden = !many;
    get("standard").length = 0;
    offer("standard", coin.standards.map(({ from, to }, at) => [String(at), from === to ? String(from) : `${from}–${to}`]));
    get("standard").value = coin.at;
    reckon();
  };

  const begin = () => {
    const { issue, series } = tm.shelf.asked(), id = issue || series || opened().record?.coin.issue || "";
    form.hidden = false;
    byId("pick").open = !id;
    coin = NONE;
    if (!id) return shown();
    tm.shelf.country(id, (country) => {
      const of = country?.issues[id] ?? null, series = of?.series ?? id, one = country?.series[series];
      if (!country || !one) say(sentence("not-on-file"));
      else coin = { id, title: of?.title ?? one.title, page: of?.page ?? country.entries[series]?.page ?? "", standards: one.standards, at: of ? (of.standard ?? -1) : one.standards.length - 1, issue: of, country };
      shown();
    });
  };

  // The choices of a coin have no name: they are no readings.
  form.addEventListener("input", ({ target }) => {
    if (!(/** @type {any} */ (target).name)) return;
    keep();
    reckon();
  });
  // Heard when a field is left, not at every key.
  form.addEventListener("change", ({ target }) => {
    const parts = /** @type {Element} */ (target).closest(".pan")?.querySelectorAll(".value-said, .verdict") ?? [];
    put(byId("heard"), [...parts].map((one) => one.textContent).join(". "));
  });
  form.onsubmit = () => false;
  get("country").onchange = () =>
    tm.shelf.country(get("country").value, (country) => {
      get("series").length = 1;
      get("series").disabled = !country;
      offer("series", Object.entries(country?.series ?? {}).map(([id, one]) => [id, one.title]));
    });
  get("series").onchange = () => get("series").value && (location.hash = get("series").value);
  get("standard").onchange = () => {
    coin.at = Number(get("standard").value);
    reckon();
  };
  byId("clear").onclick = () => {
    keep({});
    shown();
    say(sentence("cleared"));
    get("weight").focus();
  };
  onhashchange = begin;
  tm.shelf.site((known) => {
    site = known;
    if (!known) say(sentence("no-metals"));
    offer("country", (known?.countries ?? []).map(({ key, title }) => [key, title]));
    begin();
  });
})((window.Tellmark ??= {}));
