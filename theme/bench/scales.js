// @ts-check
/* The page of the scales: fields → units.js, weighing.js, alloys.js → results on number lines → the open examination. */
(function (/** @type {BenchGlobal} */ tm) {
  "use strict";
  /** @typedef {{ values: number[], readings: RecordedMeasurement["readings"], step: number }} Typed */
  const KEPT = "tellmark-scales", UNITS = ["mass", "length", "heat"], CHOICES = ["country", "series", "standard"];
  const OWN = { weight: "g", density: "g/cm³", diameter: "mm", thickness: "mm", wire: "mm", vessel: "mm", "die-axis": "°", temperature: "°C", pressure: "hPa", humidity: "%" };
  const form = /** @type {HTMLFormElement} */ (document.getElementById("scales"));
  const NONE = { id: "", title: "", page: "", standards: /** @type {KnownStandard[]} */ ([]), at: 0, issue: /** @type {KnownIssue | null} */ (null), country: /** @type {CountryKnowledge | null} */ (null) };
  let coin = NONE;
  /** @type {SiteKnowledge | null} */
  let site = null;

  const own = (/** @type {string} */ quantity) => OWN[/** @type {keyof typeof OWN} */ (quantity)] ?? "g";
  const get = (/** @type {string} */ name) => /** @type {any} */ (form.elements.namedItem(name));
  const box = (/** @type {string} */ id) => /** @type {HTMLElement} */ (document.getElementById(id));
  const say = (/** @type {(Node | string)[]} */ ...words) => box("said").replaceChildren(...words);
  const law = () => coin.standards[coin.at] ?? null;
  /** @param {string} name @param {string} kind @param {(Node | string)[]} inside */
  function node(name, kind, ...inside) {
    const one = document.createElement(name);
    if (kind) one.className = kind;
    one.append(...inside);
    return one;
  }
  /** @param {string} href @param {string} text */
  function anchor(href, text) {
    const one = document.createElement("a");
    one.href = href;
    one.textContent = text;
    return one;
  }

  /** Says what is wrong at a field; nothing if it is right again. @param {string} name @param {string} words */
  function wrong(name, words) {
    const place = box(`${name}-trouble`);
    if (place.textContent !== words) place.textContent = words;
    get(name).setAttribute("aria-invalid", String(!!words));
    const fold = place.closest("details");
    if (words && fold) fold.open = true;
    return null;
  }
  /** In which unit a field is read and shown when none is typed. @param {string} unit */
  const chosen = (unit) => ({ g: get("mass").value, mm: get("length").value, "°C": get("heat").value })[unit] ?? unit;

  /** Readings of a field; null while it is empty or wrong. @param {string} name @param {string} [quantity] @returns {Typed | null} */
  function read(name, quantity = name) {
    wrong(name, "");
    const parts = get(name).value.split(";").filter((/** @type {string} */ part) => part.trim());
    const all = parts.map((/** @type {string} */ part) => tm.units.parse(part, quantity, chosen(own(quantity))));
    const bad = all.findIndex((/** @type {any} */ one) => one.trouble);
    if (bad >= 0) return wrong(name, `${parts.length > 1 ? `Reading ${bad + 1}: ` : ""}${all[bad].trouble}`);
    const label = box(`${name}-trouble`).closest(".fields")?.querySelector(`label[for="${name}"]`)?.textContent ?? name;
    return parts.length ? { values: all.map((/** @type {any} */ one) => one.value), readings: all.map((/** @type {any} */ { typed, unit }) => ({ name: label, typed, unit })), step: Math.min(...all.map((/** @type {any} */ one) => one.step)) } : null;
  }
  const single = (/** @type {string} */ name, /** @type {string} */ quantity, otherwise = 0) => read(name, quantity)?.values[0] ?? otherwise;
  const gauge = (/** @type {number} */ step) => ({ step: single("step", "step", step), scatter: single("scatter", "doubt"), calibration: single("calibration", "doubt") });
  /** A field that may stay empty must still be right: no result is reckoned past a fault. @param {string[]} names */
  const faulty = (...names) => names.some((name) => box(`${name}-trouble`).textContent);
  const limit = (/** @type {string} */ name) => Number(get(name).value) / Math.sqrt(3);

  /** `26.731 ± 0.008 g`, two digits of the uncertainty, and so in the chosen unit. @param {number} value @param {number} U @param {string} unit */
  function plusMinus(value, U, unit) {
    const write = (/** @type {string} */ unit) => {
      const places = Math.min(6, Math.max(0, 1 - Math.floor(Math.log10(tm.units.to(U, unit) || 1))));
      return `${tm.units.show(value, unit, places).replace(unit, "").trim()} ± ${tm.units.show(U, unit, places)}`;
    };
    return chosen(unit) === unit ? write(unit) : `${write(unit)} (${write(chosen(unit))})`;
  }
  const short = (/** @type {number} */ value, /** @type {string} */ unit) => tm.units.show(Number(value.toPrecision(5)), unit);

  /** The standard and what the issue's hypotheses expect; equal ranges are one bar. @param {string} quantity @returns {any[]} */
  function bars(quantity) {
    const unit = own(quantity), { weight = null, alloy = null, diameter = null, thickness = null, axis = "" } = law() ?? {}, out = [];
    const standard = (/** @type {string} */ label, /** @type {number} */ at, /** @type {number} */ give, words = give ? plusMinus(at, give, unit).replace(/ \(.*/, "") : short(at, unit)) => out.push({ class: "law", label, low: at - give, high: at + give, at, words });
    if (quantity === "weight" && weight) {
      standard("Law and deviation", weight.grams, weight.deviation, `${weight.grams.toFixed(3)} ± ${weight.deviation.toFixed(3)} g${weight.stated ? "" : ", taken as 1 %: the law read states none"}`);
      out.push({ class: "wear", label: "Honest wear commonly", low: weight.worn, high: weight.grams - weight.deviation, words: `to about ${weight.worn.toFixed(2)} g` });
    }
    if (quantity === "density" && alloy?.density) standard("Alloy of the standard", alloy.density, alloy.give ?? 0);
    if (quantity === "diameter" && diameter) standard("Standard", diameter, 0);
    if (quantity === "thickness" && thickness) standard("Standard", thickness, 0);
    if (quantity === "die-axis" && axis) standard(`Standard: ${axis}`, axis === "coin" ? 180 : 0, 0);
    /** @type {Map<string, { low: number, high: number, of: KnownHypothesis[], words: string }>} */
    const same = new Map();
    for (const { check, ranges } of coin.issue?.checks ?? []) {
      if (coin.country?.checks[check].quantity !== quantity) continue;
      for (const [at, range] of ranges) {
        const [low, high] = "mean" in range ? [range.mean - 2 * range.sd, range.mean + 2 * range.sd] : [range.low, range.high];
        const words = `${unit === "°" ? short(low, unit) : short(low, unit).split(" ")[0]} to ${short(high, unit)}`, one = same.get(words) ?? { low, high, of: [], words };
        const known = coin.issue?.hypotheses[at];
        if (known) same.set(words, { ...one, of: [...one.of, known] });
      }
    }
    for (const { of, ...range } of same.values()) {
      const genuine = of.some((one) => one.kind === "genuine"), altered = of.filter((one) => one.kind === "alteration"), family = of.filter((one) => one.kind === "family");
      if (genuine && !family.length && out.length && (quantity === "weight" || quantity === "density")) continue;
      const label = [genuine ? "Genuine" : "", ...family.map((one) => one.title), altered.length > 1 ? `${altered.length} alterations` : (altered[0]?.title ?? "")].filter(Boolean).join(", ");
      out.push({ class: genuine ? "law" : family.length ? "false" : "other", label, ...range });
    }
    return out;
  }

  /** Shows a result, or the standard alone while there is none. @param {string} quantity
   * @param {{ said: string, note: string, kind?: string, got?: any, more?: Node[], readings?: Typed["readings"], method: string }} [it] */
  function show(quantity, it) {
    const place = box(`${quantity}-result`), lines = bars(quantity), unit = own(quantity);
    const open = [...place.querySelectorAll("details")].map((one) => one.open);
    if (!it) return place.replaceChildren(lines.length ? tm.line({ unit, bars: lines }) : node("p", "how", quantity === "edge" && law()?.edge ? `Standard: ${law().edge}.` : ""));
    const { said, note, kind, got, more = [], readings = [], method } = it, put = node("button", "put", "Put into the examination");
    put.setAttribute("type", "button");
    put.setAttribute("aria-label", `Put into the examination: ${quantity.replace("-", " ")}`);
    put.onclick = () => carry({ id: quantity, quantity: /** @type {any} */ (quantity), value: got ? (unit === "°" ? round(got.value) : got.value) : null, uncertainty: got?.u ?? null, unit: got ? unit : "", readings, method, words: `${said}${got ? " (k = 2)" : ""}. ${note}`.trim(), at: "" });
    const seen = got && { label: "Measured, k = 2", low: got.low ?? got.value - got.U, high: got.high ?? got.value + got.U, at: got.value, words: said };
    place.replaceChildren(node("p", "value-said", said), node("p", `verdict ${kind ?? ""}`, note), ...(got ? [tm.line({ unit, bars: lines, seen })] : []), ...more, ...(got ? [budget(got, unit)] : []), put);
    place.querySelectorAll("details").forEach((one, at) => (one.open = open[at] ?? false));
  }

  /** Every input of a result, to be unfolded. @param {any} got @param {string} unit */
  function budget({ terms, u, U }, unit) {
    const head = ["Input", "Value", "Standard uncertainty u", "How evaluated", "Sensitivity c", `|c·u|, ${unit}`, "Share"];
    const row = (/** @type {string[]} */ cells, /** @type {string} */ first) => node("tr", "", ...cells.map((cell, at) => node(at ? first : "th", "", cell)));
    const figure = (/** @type {number} */ value, /** @type {number} */ digits) => (Math.abs(value) < 1e-6 ? value.toFixed(8) : String(Number(value.toPrecision(digits)))).replace("-", "−");
    const rows = terms.map((/** @type {any} */ one) => row([one.name, `${figure(one.value, 7)} ${one.unit}`, figure(one.u, 2), one.how, figure(one.c, 4), figure(one.part, 2), `${(one.share * 100).toFixed(1)} %`], "td"));
    const wide = node("div", "wide", node("table", "budget", node("thead", "", row(head, "th")), node("tbody", "", ...rows)));
    Object.entries({ tabindex: "0", role: "region", "aria-label": "Budget of uncertainty" }).forEach(([name, value]) => wide.setAttribute(name, value));
    return node("details", "more", node("summary", "", "Budget of uncertainty"), wide, node("p", "how", `Combined: u = ${figure(u, 2)} ${unit}. Expanded: U = 2u = ${figure(U, 2)} ${unit}, about 95 %. After JCGM 100:2008 (GUM); A from repeats, B from what is known otherwise.`));
  }

  function weigh() {
    const typed = read("weight"), weight = law()?.weight;
    const balance = gauge(typed?.step ?? 0);
    if (!typed || faulty("step", "scatter", "calibration")) return show("weight"), null;
    const got = tm.weighing.measure(typed.values, "In air", "g", balance), off = weight ? got.value - weight.grams : 0, sign = off < 0 ? "−" : "+";
    const judged = weight ? tm.weighing.against(got.value, got.U, weight) : { kind: "", words: "" };
    show("weight", { said: plusMinus(got.value, got.U, "g"), note: weight ? `${sign}${Math.abs(off).toFixed(3)} g, ${sign}${((Math.abs(off) / weight.grams) * 100).toFixed(1)} %, from the legal ${weight.grams.toFixed(3)} g (${weight.words}). ${judged.words}` : "", kind: judged.kind, got, readings: typed.readings, method: "balance" });
    return typed;
  }

  /** The density's inputs; null while one is missing or wrong, which is then said at its field. @param {Typed | null} air */
  function immersed(air) {
    const wet = read("liquid", "reading"), warm = read("temperature"), wire = single("wire", "wire"), vessel = single("vessel", "vessel", 60), hPa = single("pressure", "pressure"), damp = single("humidity", "humidity", 50);
    wrong("fluid", "");
    if (wet && !get("weight").value.trim()) wrong("weight", "For the density the weight in air is expected too.");
    if (wet && !get("temperature").value.trim()) wrong("temperature", "The liquid’s temperature is expected, such as 20 °C.");
    if (!wet || !air || !warm || faulty("wire", "vessel", "pressure", "humidity")) return null;
    const temperature = tm.weighing.mean(warm.values), fluid = tm.water.liquid(get("fluid").value, temperature);
    if (fluid.trouble) return wrong("temperature", fluid.trouble);
    const gas = hPa ? tm.water.air(hPa, damp, temperature) : tm.water.ROOM;
    if (gas.trouble) return wrong(/hPa/.test(gas.trouble) ? "pressure" : /humidity/.test(gas.trouble) ? "humidity" : "temperature", gas.trouble);
    const got = tm.weighing.density({ setup: get("setup").value, air: air.values, liquid: wet.values, gauge: gauge(Math.max(air.step, wet.step)), fluid, temperature, warmth: limit("warmth"), gas, hanger: wire ? { wires: Number(get("wires").value), wire, vessel } : null });
    if (got.trouble) return wrong(got.field === "air" ? "weight" : got.field, got.trouble);
    return { got: { ...got, value: got.density }, fluid, readings: [...air.readings, ...wet.readings, ...warm.readings] };
  }

  /** @param {Typed | null} air */
  function hydrostatic(air) {
    const hung = get("setup").value === "hung", alloy = law()?.alloy;
    box("liquid-label").textContent = hung ? "Reading, hung in the liquid" : "Reading, vessel with the coin in it";
    const all = immersed(air);
    if (!all) return show("density");
    const { got, fluid, readings } = all, { fits, excluded } = tm.alloys.fits(got.low, got.high, site?.alloys ?? []);
    const out = alloy?.density && !tm.alloys.fits(got.low, got.high, [alloy]).fits.length;
    const list = (/** @type {string} */ title, /** @type {any[]} */ items) => node("details", "more", node("summary", "", title), node("ul", "plain", ...items.map((one) => node("li", "", `${one.words}: ${one.density.toFixed(2)} ± ${one.give.toFixed(2)}${/on file|pure metal/.test(one.note) ? "" : `; ${one.note}`}`))));
    const silver = alloy?.parts.Ag || fits.some((/** @type {any} */ one) => one.parts.Ag);
    const more = [
      ...got.cautions.map((/** @type {string} */ text) => node("p", "how", text)),
      ...(silver ? [node("p", "", tm.alloys.finenessWords(tm.alloys.fineness(got.value, got.u, site?.alloys)))] : []),
      list(`Fits ${fits.length} of the ${fits.length + excluded.length} metals on file`, fits), list(`Excludes ${excluded.length}`, excluded),
      node("h3", "", "What it cannot tell apart"), node("ul", "plain", ...tm.alloys.twins(got.low, got.high).map((/** @type {string} */ text) => node("li", "", text))),
    ];
    const ends = got.u / got.value > 0.03 ? `; ${got.low.toFixed(2)} to ${got.high.toFixed(2)}` : "";
    show("density", { said: plusMinus(got.value, got.U, "g/cm³") + ends, note: alloy?.density ? `${out ? "Does not fit" : "Fits"} the standard’s alloy (${alloy.words})${out ? "." : "; so do others."}` : "", kind: out ? "heavy" : "", got, more, readings, method: `${hung ? "hung in" : "vessel on the pan,"} ${fluid.words.split(" of ")[0].replace("distilled or deionised ", "")}` });
  }

  /** @param {"diameter" | "thickness"} quantity */
  function span(quantity) {
    const typed = read(quantity), standard = law()?.[quantity];
    if (!typed) return show(quantity);
    const got = tm.weighing.measure(typed.values, "Calipers", "mm", { step: typed.step, scatter: 0, calibration: limit("calipers") });
    const spread = typed.values.length > 1 ? `Mean of ${typed.values.length} readings, ${tm.units.show(got.spread, "mm", 2)} apart at most. ` : "";
    show(quantity, { said: plusMinus(got.value, got.U, "mm"), note: spread + (standard ? `${tm.units.show(got.value - standard, "mm", 2)} from the standard ${standard} mm.` : ""), got, readings: typed.readings, method: "calipers" });
  }

  const round = (/** @type {number} */ degrees) => ((degrees % 360) + 360) % 360;
  function axis() {
    const typed = read("die-axis"), standard = law()?.axis;
    if (!typed) return show("die-axis");
    // Readings on both sides of upright, 358 and 2, have their mean there and not at 180; and it is drawn near the standard.
    const near = typed.values.map((value) => value - 360 * Math.round((value - typed.values[0]) / 360));
    const got = tm.weighing.measure(near, "Die axis", "°", { step: typed.step, scatter: 0, calibration: limit("turn") });
    got.value -= 360 * Math.round((got.value - (standard === "coin" ? 180 : 0)) / 360);
    const turned = round(got.value), upright = turned < 90 || turned > 270, off = Math.abs(upright ? Math.min(turned, 360 - turned) : turned - 180);
    const said = `${tm.units.show(turned, "°", 0)} ± ${tm.units.show(got.U, "°", 0)}`;
    show("die-axis", { said, note: `${off.toFixed(0)}° from ${upright ? "medal alignment (0°)" : "coin alignment (180°)"}.${standard ? ` Standard: ${standard} alignment.` : ""}`, kind: standard && upright !== (standard === "medal") ? "heavy" : "", got, readings: typed.readings, method: get("turn").selectedOptions[0].text });
  }

  function reckon() {
    hydrostatic(weigh());
    span("diameter");
    span("thickness");
    axis();
    const pull = get("magnet").value, rim = get("edge").value.trim().slice(0, 400), magnet = tm.alloys.magnet(pull === "attracted", law()?.alloy?.parts ?? null);
    show("magnet", pull && { said: pull, note: `${magnet.words} Common practice.`, kind: magnet.against ? "heavy" : "", method: "magnet" });
    show("edge", rim && { said: rim, note: law()?.edge ? `Standard: ${law().edge}.` : "", method: "seen" });
  }

  const opened = () => {
    const id = tm.shelf.asked().record || tm.drawer.current();
    return id ? tm.drawer.open(id) : { record: null, trouble: "" };
  };
  /** Into the open examination if it is of this coin, or into one begun for it. @param {RecordedMeasurement} measurement */
  function carry(measurement) {
    const { record, trouble } = opened(), now = new Date().toISOString(), ours = record && (!coin.issue || record.coin.issue === coin.id);
    if (!ours && (!coin.issue || !coin.country || !site)) return say(trouble || "No examination is open. Open one, or the scales from the page of an issue.");
    const into = ours ? record : tm.record.fresh(coin.id, /** @type {any} */ (coin.country), /** @type {any} */ (site), tm.drawer.newId(), now);
    const lost = tm.drawer.save(tm.record.measure(into, { ...measurement, at: now }));
    if (lost) return say(lost);
    if (!ours) tm.drawer.setCurrent(into.id);
    keep();
    say(ours ? "" : "An examination was begun. ", `The ${measurement.quantity.replace("-", " ")} is in the examination of `, anchor(`examination.html#record=${into.id}`, into.coin.reference || into.coin.title), ".");
  }

  /** @returns {Record<string, Record<string, string>>} */
  function kept() {
    try {
      return { ...JSON.parse(tm.remembered(KEPT) ?? "{}") };
    } catch {
      return {};
    }
  }
  /** Readings belong to one piece: to its examination once there is one. */
  const piece = () => (opened().record?.coin.issue === coin.id && opened().record?.id) || coin.id || "-";
  function keep() {
    const { units: _, ...all } = kept(), fields = /** @type {Record<string, string>} */ (Object.fromEntries([...new FormData(form)].filter(([name]) => !CHOICES.includes(name))));
    [piece(), coin.id].forEach((key) => delete all[key]);
    tm.remember(KEPT, JSON.stringify({ ...Object.fromEntries(Object.entries(all).slice(-40)), [piece()]: fields, units: Object.fromEntries(UNITS.map((name) => [name, fields[name]])) }));
  }
  function recall() {
    const all = kept(), fields = { ...all.units, ...(all[piece()] ?? all[coin.id]) };
    form.reset();
    for (const [name, value] of Object.entries(fields)) if (get(name) && !CHOICES.includes(name)) get(name).value = value;
  }

  function shown() {
    const one = law(), many = !coin.issue && coin.standards.length > 1;
    box("coin-over").textContent = coin.id ? "On the scales" : "No coin is chosen; the scales work all the same";
    box("coin-now").replaceChildren(...(coin.id ? [anchor((document.documentElement.dataset.root ?? "") + coin.page, coin.title), node("span", "", [one?.weight?.words, one?.alloy?.words, one?.diameter ? `${one.diameter} mm` : "", one ? `Standard: ${coin.country?.bases[one.basis]}` : ""].filter(Boolean).join(" · "))] : []));
    recall();
    box("years").hidden = !many;
    if (many) get("standard").replaceChildren(...coin.standards.map(({ from, to }, at) => new Option(from === to ? String(from) : `${from}–${to}`, String(at), at === coin.at, at === coin.at)));
    reckon();
  }

  function begin() {
    const { issue, series } = tm.shelf.asked(), id = issue || series || opened().record?.coin.issue || "";
    form.hidden = false;
    /** @type {HTMLDetailsElement} */ (box("pick")).open = !id;
    coin = NONE;
    if (!id) return shown();
    tm.shelf.country(tm.shelf.countryOf(id), (country) => {
      const of = country?.issues[id] ?? null, series = of?.series ?? id, one = country?.series[series];
      if (!country || !one) say("This coin is not on file, or its knowledge cannot be read. Choose a series.");
      else coin = { id, title: of?.title ?? one.title, page: of?.page ?? country.entries[series]?.page ?? "", standards: one.standards, at: of ? (of.standard ?? -1) : one.standards.length - 1, issue: of, country };
      shown();
    });
  }

  /** @param {string} name @param {[string, string][]} options */
  function fill(name, options) {
    get(name).replaceChildren(new Option("choose", ""), ...options.map(([value, text]) => new Option(text, value)));
    get(name).disabled = !options.length;
  }

  form.addEventListener("input", ({ target }) => {
    if (CHOICES.includes(/** @type {any} */ (target).name)) return;
    keep();
    reckon();
  });
  // Heard when a field is left, not at every key.
  form.addEventListener("change", ({ target }) => {
    const parts = /** @type {Element} */ (target).closest(".pan")?.querySelectorAll(".value-said, .verdict") ?? [];
    box("heard").textContent = [...parts].map((one) => one.textContent).join(". ");
  });
  form.addEventListener("submit", (event) => event.preventDefault());
  get("country").addEventListener("change", () => tm.shelf.country(get("country").value, (country) => fill("series", Object.entries(country?.series ?? {}).map(([id, one]) => [id, one.title]))));
  get("series").addEventListener("change", () => get("series").value && (location.hash = get("series").value));
  get("standard").addEventListener("change", () => {
    coin.at = Number(get("standard").value);
    reckon();
  });
  box("clear").addEventListener("click", () => {
    const units = UNITS.map((name) => get(name).value);
    form.reset();
    UNITS.forEach((name, at) => (get(name).value = units[at]));
    keep();
    shown();
    say("The readings are cleared.");
    get("weight").focus();
  });
  addEventListener("hashchange", begin);
  tm.shelf.site((known) => {
    site = known;
    if (!known) say("The list of metals cannot be read; the folder may not be complete.");
    fill("country", (known?.countries ?? []).map(({ key, title }) => [key, title]));
    fill("series", []);
    begin();
  });
})((window.Tellmark ??= {}));
