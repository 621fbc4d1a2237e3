// @ts-check
/* The record of one coin's examination: begun, added to, read, merged. Pure: no clock, no chance, no page. What it reads is
   what bench/record.schema.json says; tests/records/ holds both to that. */
(function (/** @type {BenchGlobal} */ tm) {
  "use strict";
  const has = (/** @type {object} */ table, /** @type {string} */ key) => Object.hasOwn(table, key);
  const isTable = (/** @type {any} */ value) => typeof value === "object" && value !== null && !Array.isArray(value);

  /** Characters of one record, and of a file of many: a browser keeps about five million in all. */
  const MOST = 2e6, MOST_ALL = 2e7, DEEPEST = 24, MOST_TOLD = 12;
  /** @typedef {[string, (it: any) => boolean]} Kind What is expected in words, and whether a value is that. */
  /** @type {(most: number) => Kind} */
  const text = (most) => [`a text of at most ${most} characters`, (it) => typeof it === "string" && (it.length <= most || Array.from(it).length <= most)];
  /** @type {(shape: RegExp, wanted: string) => Kind} */
  const like = (shape, wanted) => [wanted, (it) => typeof it === "string" && shape.test(it)];
  /** @type {(low: number) => Kind} */
  const number = (low) => [`a number from ${low} to 1000000000`, (it) => typeof it === "number" && it >= low && it <= 1e9];
  /** @type {Record<string, Kind>} */
  const KINDS = {
    any: ["", () => true], one: ["1", (it) => it === 1], short: text(500), long: text(20000), size: number(-1e9), spread: number(0),
    count: ["a whole number from 0 to 1000000", (it) => Number.isInteger(it) && it >= 0 && it <= 1e6],
    time: like(/^\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])T([01]\d|2[0-3]):[0-5]\d:[0-5]\d(\.\d{3})?Z$/, "a time such as 2026-04-18T10:05:00.000Z"),
    day: like(/^(\d{4}-\d\d-\d\d)?$/, "a day such as 2026-04-18, or an empty text"),
    uuid: like(/^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/, "a UUID in lower-case letters"),
    sum: like(/^[0-9a-f]{64}$/, "64 hexadecimal digits"),
    issue: like(/^(issues(\/[a-z0-9-]+)+)?$/, "the id of an issue, such as issues/us/dime/1916-d"),
    page: like(/^(issues(\/[a-z0-9-]+)+\.html)?$/, "a page of this site, such as issues/us/dime/1916-d.html"),
  };
  /** Tables by name: `key:kind`. After a key, `?` says that it may be missing; after a kind, that it may be null. `*9`: a list
   *  of at most nine. Words are joined by `|`, with `_` for a space. @type {Record<string, string>} */
  const TABLES = {
    record: "format:tellmark-examination| version:one id:uuid made:time changed:time coin:coin examiner:examiner knowledge:knowledge findings:finding*500 measurements:measurement*500 support:stand*200 contradictions:against*500 opinion:opinion? pictures:picture*500 earlier:state*5000 also?:twin*100",
    coin: "issue:issue title:short page:page reference:short description:long at:time",
    examiner: "name:short reference:short at:time",
    knowledge: "revision:short program:short entries:entry*1000",
    entry: "id:short title:short sha256:sum reviewed:day",
    finding: "check:short ask:long finding:count? answer:seen|not_seen|cannot_tell say:long basis:long place?:short speaks?:long note:long photo:short at:time",
    measurement: "id:short quantity:weight|diameter|thickness|density|tilt|offset|die-axis|magnet|edge value:size? uncertainty:spread? unit:short readings:reading*200 method:short words:long at:time",
    reading: "name:short typed:short unit:short",
    stand: "hypothesis:short title:short log10:size words:short",
    against: "hypothesis:short title:short check:short say:long",
    opinion: "opinion:genuine|forged|altered|undecided as:short title:short host:short reasons:long warnings:long*100 at:time",
    picture: "name:short width:count height:count words:long marks:any at:time",
    state: "what:finding|measurement|opinion|coin|examiner|picture|support|more at:time was:any",
    support: "at:time knowledge:knowledge support:stand*200 contradictions:against*500",
    more: "", twin: "id:uuid made:time",
  };
  const OURS = TABLES.record.split(" ").map((key) => key.replace(/\??:.*/, ""));
  /** Where the newest of what can change stands, and by what it is told from others. @type {Record<string, [string, string]>} */
  const KEPT = { finding: ["findings", "check"], measurement: ["measurements", "id"], picture: ["pictures", "name"], opinion: ["opinion", ""], coin: ["coin", ""], examiner: ["examiner", ""] };

  /** @typedef {(path: string, found: unknown, wanted: string) => void} Tell */

  /** @param {string} kind @param {any} value @param {string} path @param {Tell} tell @returns {void} */
  function fit(kind, value, path, tell) {
    const [, name, nil, most] = /^(.*?)(\?)?(?:\*(\d+))?$/.exec(kind) ?? [];
    if (nil && value === null) return;
    if (most) return Array.isArray(value) && value.length <= +most ? value.forEach((it, at) => fit(name, it, `${path}[${at}]`, tell)) : tell(path, value, `a list of at most ${most}`);
    const words = name.includes("|") && name.replace(/_/g, " ").split("|").filter(Boolean);
    const [wanted, fits] = words ? [`one of ${words.join(", ")}`, (/** @type {any} */ it) => words.includes(it)] : KINDS[name] ?? ["a table", isTable];
    if (!fits(value)) return tell(path, value, wanted + (nil ? ", or null" : ""));
    if (!has(TABLES, name)) return;
    for (const part of TABLES[name].split(" ").filter(Boolean)) {
      const [key, inner] = part.split(":");
      const at = path + (path && ".") + key.replace("?", "");
      if (has(value, key.replace("?", ""))) fit(inner, value[key.replace("?", "")], at, tell);
      else if (!key.endsWith("?")) tell(at, undefined, "to be there");
    }
    if (name === "state" && has(TABLES, value.what)) fit(value.what, value.was, `${path}.was`, tell);
    if (name === "more" && Object.keys(value).length !== 1) tell(path, value, "a table of one key");
  }

  /** Whether it can be looked at further: nothing too deep, no infinite number. @param {any} value @param {string} path @param {number} depth @param {Tell} tell @returns {boolean} */
  function sound(value, path, depth, tell) {
    if (typeof value === "number" && !Number.isFinite(value)) return tell(path, value, "a finite number"), false;
    if (typeof value !== "object" || value === null) return true;
    if (depth > DEEPEST) return tell(path.slice(0, 60), undefined, `nothing nested deeper than ${DEEPEST}`), false;
    if (has(value, "__proto__")) return tell(path, undefined, "no key named __proto__"), false;
    return Object.keys(value).every((key) => sound(value[key], Array.isArray(value) ? `${path}[${key}]` : path + (path && ".") + key, depth + 1, tell));
  }

  /** @param {any} value @returns {string[]} */
  function check(value) {
    /** @type {string[]} */
    const troubles = [];
    /** @type {Tell} */
    const tell = (path, found, wanted) => {
      const shown = typeof found === "object" && found ? "something else" : typeof found === "number" ? String(found) : JSON.stringify(found);
      troubles.push(`${path || "The whole"}: expected ${wanted}${shown ? `; found ${shown.length > 60 ? `${shown.slice(0, 60)}…` : shown}` : ""}.`);
    };
    if (sound(value, "", 0, tell)) fit("record", value, "", tell);
    if (!troubles.length && JSON.stringify(value).length > MOST) tell("", undefined, `at most ${MOST} characters`);
    return troubles.length > MOST_TOLD ? [...troubles.slice(0, MOST_TOLD), `${troubles.length - MOST_TOLD} more like these.`] : troubles;
  }

  /** What is wrong with a text that is no JSON. @param {string} body @param {unknown} error */
  function damage(body, error) {
    if (!/^[[{]/.test(body)) return body ? "This is no record of Tellmark: it does not begin as one." : "The file is empty.";
    if (!/[\]}]$/.test(body)) return `The file is damaged: it breaks off after ${body.length} characters.`;
    // Where the engine does not say, it is what is no token.
    const token = /[\s{}[\],:]+|"[^"\\\0-\x1f]*(?:\\.[^"\\\0-\x1f]*)*"|-?\d[\d.eE+-]*|true|false|null/y;
    let spot = 0;
    while (token.test(body)) spot = token.lastIndex;
    const at = Number(/position (\d+)/.exec(String(error))?.[1] ?? spot);
    const lines = body.slice(0, at).split("\n");
    return `The file is damaged at line ${lines.length}, character ${lines[lines.length - 1].length + 1}.`;
  }

  /** A key that stands twice in one table: of the two, reading would keep only the last. @param {string} body */
  function twice(body) {
    /** @type {Set<string>[]} */
    const open = [];
    for (const [token, colon] of body.matchAll(/"[^"\\]*(?:\\.[^"\\]*)*"(\s*:)?|[{}]/g)) {
      if (token === "{") open.unshift(new Set());
      else if (token === "}") open.shift();
      else if (colon) {
        const key = JSON.parse(token.slice(0, -colon.length));
        if (open[0].has(key)) return key;
        open[0].add(key);
      }
    }
    return null;
  }

  /** @param {string} given @param {boolean} alone a text within a file of many @returns {ReadRecord[]} */
  function readAll(given, alone) {
    const no = (/** @type {string[]} */ troubles, later = false, kept = given) => ({ record: null, troubles, later, text: kept });
    /** @param {any} value @param {string} kept */
    const judge = (value, kept) => {
      if (!isTable(value) || value.format !== "tellmark-examination") return no(["This is no record of Tellmark: its format does not say so."], false, kept);
      if (Number.isInteger(value.version) && value.version > 1) return no([`Made by a later Tellmark (version ${value.version} of the record; this one reads 1); nothing changed.`], true, kept);
      const troubles = check(value);
      return troubles.length ? no(troubles, false, kept) : { record: value, troubles, later: false, text: kept };
    };
    try {
      if (given.length > (alone ? MOST : MOST_ALL)) return [no([`The file is too large for a record: ${given.length} characters.`])];
      const body = given.replace(/^\uFEFF/, "").trim();
      let value;
      try {
        value = JSON.parse(body);
      } catch (error) {
        return [no([damage(body, error)])];
      }
      const key = twice(body);
      if (key !== null) return [no([`The key ${JSON.stringify(key.slice(0, 60))} stands twice in one table: one of the two would be lost.`])];
      if (alone || !Array.isArray(value)) return [judge(value, given)];
      // A text in a file of many is a record that could not be read where it was kept.
      return value.length ? value.flatMap((it) => (typeof it === "string" ? readAll(it, true) : judge(it, JSON.stringify(it)))) : [no(["The file holds no record."])];
    } catch {
      return [no(["The file is nested too deep, or too large, to be a record."])];
    }
  }

  const when = (/** @type {string} */ at) => Date.parse(at) || 0;
  const byTime = (/** @type {any} */ one, /** @type {any} */ other) => when(one.at) - when(other.at) || (same(one) < same(other) ? -1 : 1);
  const [last, first] = [1, -1].map((way) => (/** @type {string} */ one, /** @type {string} */ other) => ((when(one) - when(other) || (one < other ? -1 : 1)) * way < 0 ? other : one));

  /** One text for all ways to write a value. @param {any} value @returns {string} */
  function same(value) {
    if (Array.isArray(value)) return `[${value.map(same)}]`;
    return isTable(value) ? `{${Object.keys(value).sort().map((key) => JSON.stringify(key) + same(value[key]))}}` : JSON.stringify(value);
  }

  const keyOf = (/** @type {string} */ what, /** @type {any} */ was) => (what === "more" ? Object.keys(was)[0] : String(was[KEPT[what]?.[1]] ?? ""));

  /** The record with a new state of something, or without it; the old one goes to `earlier`. A clock that was set back must
   *  not make the new state the older one. @param {any} record @param {string} what @param {string} key @param {any} now a state, or the time it was taken back */
  function put(record, what, key, now) {
    const [place, by] = KEPT[what];
    const held = [record[place]].flat();
    const old = held.find((it) => it && keyOf(what, it) === key);
    const gone = typeof now === "string";
    if (old ? !gone && same({ ...old, at: "" }) === same({ ...now, at: "" }) : gone) return record;
    const past = record.earlier.filter((/** @type {any} */ it) => it.what === what && keyOf(what, it.was) === key).map((/** @type {any} */ it) => it.was);
    const newest = Math.max(0, ...[...past, ...(old ? [old] : [])].map((it) => when(it.at)));
    let at = gone ? now : now.at;
    if (when(at) <= newest) at = new Date(newest + 1).toISOString();
    const next = gone ? [] : [{ ...now, at }];
    const value = !by ? next[0] : old ? held.flatMap((it) => (it === old ? next : [it])) : [...held, ...next];
    return { ...record, changed: last(record.changed, at), [place]: value, earlier: old ? [...record.earlier, { what, at, was: old }] : record.earlier };
  }

  const weighing = (/** @type {any} */ it) => ({ at: it.changed, knowledge: it.knowledge, support: it.support, contradictions: it.contradictions });

  /** @param {string} issue @param {CountryKnowledge} country @param {SiteKnowledge} site */
  function known(issue, country, site) {
    const ids = has(country.issues, issue) ? country.issues[issue].entries : [];
    const entries = ids.filter((id) => has(country.entries, id)).map((id) => {
      const { title, sha256, reviewed } = country.entries[id];
      return { id, title, sha256, reviewed };
    });
    return { revision: site.revision, program: site.program, entries };
  }

  /** Every state of everything in a record, with the time it ceased to hold, empty if it holds. @param {any} record @returns {EarlierState[]} */
  const states = (record) => [
    ...record.earlier,
    ...Object.keys(KEPT).flatMap((what) => [record[KEPT[what][0]]].flat().filter(Boolean).map((was) => ({ what, at: "", was }))),
    { what: "support", at: "", was: weighing(record) },
    ...Object.keys(record).filter((key) => !OURS.includes(key)).map((key) => ({ what: "more", at: "", was: { [key]: record[key] } })),
  ];

  /** The states of one thing, oldest first. Each ceased to hold when that was recorded, and never later than the next one
   *  began: this depends only on which states there are, so records can be merged in any order. @param {EarlierState[]} found @param {string} made */
  function inOrder(found, made) {
    /** @type {Map<string, EarlierState>} */
    const each = new Map();
    for (const it of found) {
      const old = each.get(same(it.was));
      each.set(same(it.was), { ...old, ...it, at: old?.at && it.at ? first(old.at, it.at) : old?.at || it.at });
    }
    const sorted = [...each.values()].sort((one, other) => byTime(one.was, other.was));
    return sorted.map((it, at) => {
      // A weighing holds for the moment it was made.
      const next = it.what === "support" ? it.was.at : at + 1 < sorted.length && (sorted[at + 1].was.at ?? made);
      return next ? { ...it, at: it.at ? first(it.at, next) : next } : it;
    });
  }

  tm.record = {
    fresh(issue, country, site, id, now) {
      const coin = has(country.issues, issue) ? country.issues[issue] : { title: "", page: "" };
      return {
        format: "tellmark-examination", version: 1, id, made: now, changed: now,
        coin: { issue, title: coin.title, page: coin.page, reference: "", description: "", at: now }, examiner: { name: "", reference: "", at: now },
        knowledge: known(issue, country, site), findings: [], measurements: [], support: [], contradictions: [], opinion: null, pictures: [], earlier: [],
      };
    },
    read(given) {
      const all = readAll(given, false);
      return all.length === 1 ? all[0] : { record: null, troubles: [`The file holds ${all.length} records, not one.`], later: false, text: given };
    },
    readAll: (given) => readAll(given, false),
    check,
    write(record) {
      const [trouble] = check(record);
      if (trouble) throw new Error(trouble);
      return JSON.stringify(record);
    },
    answer: (record, finding) => put(record, "finding", finding.check, finding),
    unanswer: (record, key, now) => put(record, "finding", key, now),
    measure: (record, measurement) => put(record, "measurement", measurement.id, measurement),
    unmeasure: (record, id, now) => put(record, "measurement", id, now),
    opine: (record, opinion) => put(record, "opinion", "", opinion),
    attach: (record, picture) => put(record, "picture", picture.name, picture),
    detach: (record, name, now) => put(record, "picture", name, now),
    describe: (record, coin, examiner, now) => put(put(record, "coin", "", { ...record.coin, ...coin, at: now }), "examiner", "", { ...record.examiner, ...examiner, at: now }),
    weigh(record, support, contradictions, country, site, now) {
      const old = record.support.length && record.knowledge.revision !== site.revision ? [{ what: /** @type {const} */ ("support"), at: record.changed, was: weighing(record) }] : [];
      return { ...record, changed: last(record.changed, now), knowledge: known(record.coin.issue, country, site), support, contradictions, earlier: [...record.earlier, ...old] };
    },
    merge(one, other) {
      const [base, twin] = [one, other].sort((a, b) => when(a.made) - when(b.made) || (a.id < b.id ? -1 : 1));
      /** @type {Map<string, EarlierState[]>} */
      const groups = new Map();
      for (const state of [...states(base), ...states(twin)]) {
        const name = `${state.what} ${keyOf(state.what, state.was)}`;
        groups.set(name, [...(groups.get(name) ?? []), state]);
      }
      /** @type {any} */
      const out = { ...base, changed: last(base.changed, twin.changed), findings: [], measurements: [], pictures: [], opinion: null, earlier: [] };
      const also = new Map([base, twin].flatMap((it) => [...(it.also ?? []), { id: it.id, made: it.made }]).map((it) => [it.id, it]));
      also.delete(base.id);
      if (also.size) out.also = [...also.values()].sort((a, b) => (a.id < b.id ? -1 : 1));
      for (const found of groups.values()) {
        const sorted = inOrder(found, base.made);
        const { what, at, was } = sorted[sorted.length - 1];
        const [place, by] = KEPT[what] ?? [];
        // What every record has cannot be taken back.
        if (!at || !["finding", "measurement", "picture", "opinion"].includes(what)) {
          sorted.pop();
          if (what === "support") ({ knowledge: out.knowledge, support: out.support, contradictions: out.contradictions } = was);
          else if (what === "more") Object.assign(out, was);
          else out[place] = by ? [...out[place], was] : was;
        }
        out.earlier.push(...sorted.filter((it) => it.what !== "support" || it.was.support.length || it.was.contradictions.length));
      }
      for (const place of ["findings", "measurements", "pictures", "earlier"]) out[place].sort(byTime);
      return out;
    },
    changes(record, country) {
      const then = new Map(record.knowledge.entries.map((entry) => [entry.id, entry]));
      const ids = has(country.issues, record.coin.issue) ? country.issues[record.coin.issue].entries : [];
      return [...new Set([...then.keys(), ...ids])].flatMap((id) => {
        const old = then.get(id);
        const now = has(country.entries, id) ? country.entries[id] : undefined;
        if (old?.sha256 === now?.sha256) return [];
        return [{ id, title: now?.title ?? old?.title ?? id, what: old && now ? "changed" : old ? "gone" : "new", was: old?.reviewed ?? "", now: now?.reviewed ?? "" }];
      });
    },
  };
})((window.Tellmark ??= {}));
