// @ts-check
/* The record of one coin's examination: begun, added to, read, merged. Pure: no clock, no chance, no page but its sentences.
   What it reads is what bench/record.schema.json says; tests/records/ holds both to that. */
((/** @type {BenchGlobal} */ tm) => {
  "use strict";
  const { say } = tm;
  const has = (/** @type {object} */ table, /** @type {string} */ key) => Object.hasOwn(table, key);
  /** @type {<T>(table: Record<string, T>, key: string) => T | undefined} */
  const own = (table, key) => (has(table, key) ? table[key] : undefined);
  const isTable = (/** @type {any} */ value) => typeof value === "object" && value !== null && !Array.isArray(value);

  /** Characters of one record, and of a file of many: a browser keeps about five million in all. */
  const MOST = 2e6, MOST_ALL = 2e7, DEEPEST = 24, MOST_TOLD = 12;
  /** @typedef {[fits: (it: any) => boolean, ...values: number[]]} Kind Whether a value is one, and what stands in the gaps of the sentence that says what is expected. */
  /** @type {(most: number) => Kind} */
  const text = (most) => [(it) => typeof it === "string" && (it.length <= most || Array.from(it).length <= most), most];
  /** @type {(shape: RegExp) => Kind} */
  const like = (shape) => [(it) => typeof it === "string" && shape.test(it)];
  /** @type {(low: number) => Kind} */
  const number = (low) => [(it) => typeof it === "number" && it >= low && it <= 1e9, low, 1e9];
  /** Said by the sentence `a-` and the name. @type {Record<string, Kind>} */
  const KINDS = {
    any: [() => true], one: [(it) => it === 1], short: text(500), long: text(20000), size: number(-1e9), spread: number(0),
    count: [(it) => Number.isInteger(it) && it >= 0 && it <= 1e6, 1e6],
    at: like(/^\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])T([01]\d|2[0-3]):[0-5]\d:[0-5]\d(\.\d{3})?Z$/),
    day: like(/^(\d{4}-\d\d-\d\d)?$/),
    uuid: like(/^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/),
    sha256: like(/^[0-9a-f]{64}$/),
    issue: like(/^(issues(\/[a-z0-9-]+)+)?$/),
    page: like(/^(issues(\/[a-z0-9-]+)+\.html)?$/),
  };
  /** Tables by name: `key:kind`; a key alone is of the kind of its own name, or else `short`. After a key, `?` says that it
   *  may be missing; after a kind, that it may be null. `*9`: a list of at most nine. Words are joined by `|`, with `_` for a
   *  space. @type {Record<string, string>} */
  const TABLES = {
    record: "format:tellmark-examination| version:one id:uuid made:at changed:at coin examiner knowledge findings:finding*500 measurements:measurement*500 support:stand*200 contradictions:against*500 opinion:opinion? pictures:picture*500 earlier:state*5000 also?:twin*100",
    coin: "issue title page reference description:long at",
    examiner: "name reference at",
    knowledge: "revision program entries:entry*1000",
    entry: "id title sha256 reviewed:day",
    finding: "check ask:long finding:count? answer:seen|not_seen|cannot_tell say:long basis:long place? speaks?:long note:long photo at",
    measurement: "id quantity:weight|diameter|thickness|density|tilt|offset|die-axis|magnet|edge value:size? uncertainty:spread? unit readings:reading*200 method words:long at",
    reading: "name typed unit",
    stand: "hypothesis title log10:size words",
    against: "hypothesis title check say:long",
    opinion: "opinion:genuine|forged|altered|undecided as title host reasons:long warnings:long*100 at",
    picture: "name width:count height:count words:long marks:any at",
    state: "what:finding|measurement|opinion|coin|examiner|picture|support|more at was:any",
    support: "at knowledge support:stand*200 contradictions:against*500",
    more: "", twin: "id:uuid made:at",
  };
  const OURS = TABLES.record.split(" ").map((key) => key.split(/\W/)[0]);
  /** What can change, and the key by which one is told from others. @type {Record<string, string>} */
  const KEPT = { finding: "check", measurement: "id", picture: "name", opinion: "", coin: "", examiner: "" };
  /** Where in a record the newest of it stands. */
  const placeOf = (/** @type {string} */ what) => (KEPT[what] ? `${what}s` : what);

  /** @typedef {(path: string, found: unknown, ...wanted: BenchSaying) => false} Tell It is told, and is not sound. */

  /** @param {string} kind @param {any} value @param {string} path @param {Tell} tell @returns {unknown} */
  const fit = (kind, value, path, tell) => {
    const [, name, nil, most] = /^(.*?)(\?)?(?:\*(\d+))?$/.exec(kind) ?? [];
    if (nil && value === null) return;
    if (most) return Array.isArray(value) && value.length <= +most ? value.forEach((it, at) => fit(name, it, `${path}[${at}]`, tell)) : tell(path, value, "a-list", most);
    const words = name.includes("|") && name.replace(/_/g, " ").split("|").filter(Boolean);
    const [fits, ...values] = KINDS[name] ?? [isTable];
    if (words ? !words.includes(value) : !fits(value)) return tell(path, value, nil ? "or-null" : "as-said", words ? ["one-of", words.join(", ")] : [has(KINDS, name) ? `a-${name}` : "a-table", ...values]);
    if (!has(TABLES, name)) return;
    for (const [, key, optional, inner] of TABLES[name].matchAll(/(\w+)(\??):?(\S*)/g)) {
      const at = path + (path && ".") + key;
      if (has(value, key)) fit(inner || (has(KINDS, key) || has(TABLES, key) ? key : "short"), value[key], at, tell);
      else if (!optional) tell(at, undefined, "to-be-there");
    }
    if (name === "state" && has(TABLES, value.what)) fit(value.what, value.was, `${path}.was`, tell);
    if (name === "more" && Object.keys(value).length !== 1) tell(path, value, "a-table-of-one");
  };

  /** Whether it can be looked at further: nothing too deep, no infinite number. @param {any} value @param {string} path @param {number} depth @param {Tell} tell @returns {boolean} */
  const sound = (value, path, depth, tell) => {
    if (typeof value === "number" && !Number.isFinite(value)) return tell(path, value, "a-finite");
    if (typeof value !== "object" || value === null) return true;
    if (depth > DEEPEST) return tell(path.slice(0, 60), undefined, "no-deeper", DEEPEST);
    if (has(value, "__proto__")) return tell(path, undefined, "no-proto");
    return Object.keys(value).every((key) => sound(value[key], Array.isArray(value) ? `${path}[${key}]` : path + (path && ".") + key, depth + 1, tell));
  };

  /** @param {any} value @returns {string[]} */
  const check = (value) => {
    /** @type {string[]} */
    const troubles = [];
    /** @type {Tell} */
    const tell = (path, found, ...wanted) => {
      const other = typeof found === "object" && found;
      const shown = other ? "" : typeof found === "number" ? `${found}` : JSON.stringify(found) ?? "";
      troubles.push(say(other ? "amiss-else" : shown ? "amiss-found" : "amiss", path || say("the-whole"), wanted, shown.length > 60 ? `${shown.slice(0, 60)}…` : shown));
      return false;
    };
    if (sound(value, "", 0, tell)) fit("record", value, "", tell);
    if (!troubles.length && JSON.stringify(value).length > MOST) tell("", undefined, "a-long", MOST);
    return troubles.length > MOST_TOLD ? [...troubles.slice(0, MOST_TOLD), say("more-amiss", troubles.length - MOST_TOLD)] : troubles;
  };

  /** What is wrong with a text that is no JSON. @param {string} body @param {unknown} error */
  const damage = (body, error) => {
    if (!/^[[{]/.test(body)) return say(body ? "foreign-start" : "empty");
    if (!/[\]}]$/.test(body)) return say("breaks-off", body.length);
    // Where the engine does not say, it is what is no token.
    const token = /[\s{}[\],:]+|"[^"\\\0-\x1f]*(?:\\.[^"\\\0-\x1f]*)*"|-?\d[\d.eE+-]*|true|false|null/y;
    let spot = 0;
    while (token.test(body)) spot = token.lastIndex;
    const lines = body.slice(0, +(/position (\d+)/.exec(`${error}`)?.[1] ?? spot)).split("\n");
    return say("damaged", lines.length, lines[lines.length - 1].length + 1);
  };

  /** A key that stands twice in one table: of the two, reading would keep only the last. @param {string} body */
  const twice = (body) => {
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
  };

  /** @param {string} given @param {boolean} alone a text within a file of many @returns {ReadRecord[]} */
  const readAll = (given, alone) => {
    /** A record, or what is told of why there is none. @type {(trouble: string | string[], text?: string, later?: boolean, record?: any) => ReadRecord} */
    const told = (trouble, text = given, later = false, record = null) => ({ record, troubles: [trouble].flat(), later, text });
    /** @param {any} value @param {string} kept */
    const judge = (value, kept) => {
      if (!isTable(value) || value.format !== "tellmark-examination") return told(say("foreign"), kept);
      if (Number.isInteger(value.version) && value.version > 1) return told(say("later", value.version), kept, true);
      const troubles = check(value);
      return told(troubles, kept, false, troubles.length ? null : value);
    };
    try {
      if (given.length > (alone ? MOST : MOST_ALL)) return [told(say("too-large", given.length))];
      const body = given.replace(/^\uFEFF/, "").trim();
      let value;
      try {
        value = JSON.parse(body);
      } catch (error) {
        return [told(damage(body, error))];
      }
      const key = twice(body);
      if (key !== null) return [told(say("twice", JSON.stringify(key.slice(0, 60))))];
      if (alone || !Array.isArray(value)) return [judge(value, given)];
      // A text in a file of many is a record that could not be read where it was kept.
      return value.length ? value.flatMap((it) => (typeof it === "string" ? readAll(it, true) : judge(it, JSON.stringify(it)))) : [told(say("none-held"))];
    } catch {
      return [told(say("too-deep"))];
    }
  };

  const when = (/** @type {string} */ at) => Date.parse(at) || 0;
  const byTime = (/** @type {any} */ one, /** @type {any} */ other) => when(one.at) - when(other.at) || (same(one) < same(other) ? -1 : 1);
  const [last, first] = [1, -1].map((way) => (/** @type {string} */ one, /** @type {string} */ other) => ((when(one) - when(other) || (one < other ? -1 : 1)) * way < 0 ? other : one));

  /** One text for all ways to write a value. @param {any} value @returns {string} */
  const same = (value) => {
    if (Array.isArray(value)) return `[${value.map(same)}]`;
    return isTable(value) ? `{${Object.keys(value).sort().map((key) => JSON.stringify(key) + same(value[key]))}}` : JSON.stringify(value);
  };

  const keyOf = (/** @type {string} */ what, /** @type {any} */ was) => (what === "more" ? Object.keys(was)[0] : KEPT[what] ? String(was[KEPT[what]]) : "");

  /** The record with a new state of something, or without it; the old one goes to `earlier`. A clock that was set back must
   *  not make the new state the older one. @param {any} record @param {string} what @param {string} key @param {any} now a state, or the time it was taken back */
  const put = (record, what, key, now) => {
    const place = placeOf(what);
    const held = [record[place]].flat();
    const old = held.find((it) => it && keyOf(what, it) === key);
    const gone = typeof now === "string";
    if (old ? !gone && what !== "opinion" && same({ ...old, at: "" }) === same({ ...now, at: "" }) : gone) return record;
    const past = record.earlier.filter((/** @type {any} */ it) => it.what === what && keyOf(what, it.was) === key).map((/** @type {any} */ it) => it.was);
    const newest = Math.max(0, ...[...past, ...(old ? [old] : [])].map((it) => when(it.at)));
    let at = gone ? now : now.at;
    if (when(at) <= newest) at = new Date(newest + 1).toISOString();
    const next = gone ? [] : [{ ...now, at }];
    const value = !KEPT[what] ? next[0] : old ? held.flatMap((it) => (it === old ? next : [it])) : [...held, ...next];
    return { ...record, changed: last(record.changed, at), [place]: value, earlier: old ? [...record.earlier, { what, at, was: old }] : record.earlier };
  };

  const kept = (/** @type {string} */ what) => (/** @type {any} */ record, /** @type {any} */ state) => put(record, what, keyOf(what, state), state);
  const takenBack = (/** @type {string} */ what) => (/** @type {any} */ record, /** @type {string} */ key, /** @type {string} */ now) => put(record, what, key, now);
  const weighed = (/** @type {any} */ { knowledge, support, contradictions }) => ({ knowledge, support, contradictions });
  const weighing = (/** @type {any} */ it) => ({ at: it.changed, ...weighed(it) });

  /** @param {string} issue @param {CountryKnowledge} country @param {SiteKnowledge} site */
  const known = (issue, country, site) => {
    const entries = (own(country.issues, issue)?.entries ?? []).flatMap((id) => {
      const { title = "", sha256 = "", reviewed = "" } = own(country.entries, id) ?? {};
      return sha256 ? { id, title, sha256, reviewed } : [];
    });
    return { revision: site.revision, program: site.program, entries };
  };

  /** Every state of everything in a record, with the time it ceased to hold, empty if it holds. @param {any} record @returns {EarlierState[]} */
  const states = (record) => [
    ...record.earlier,
    ...Object.keys(KEPT).flatMap((what) => [record[placeOf(what)]].flat().filter(Boolean).map((was) => ({ what, at: "", was }))),
    { what: "support", at: "", was: weighing(record) },
    ...Object.keys(record).filter((key) => !OURS.includes(key)).map((key) => ({ what: "more", at: "", was: { [key]: record[key] } })),
  ];

  /** The states of one thing, oldest first. Each ceased to hold when that was recorded, and never later than the next one
   *  began: this depends only on which states there are, so records can be merged in any order. @param {EarlierState[]} found @param {string} made */
  const inOrder = (found, made) => {
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
  };

  tm.record = {
    fresh(issue, country, site, id, now) {
      const { title = "", page = "" } = own(country.issues, issue) ?? {};
      return {
        format: "tellmark-examination", version: 1, id, made: now, changed: now,
        coin: { issue, title, page, reference: "", description: "", at: now }, examiner: { name: "", reference: "", at: now },
        knowledge: known(issue, country, site), findings: [], measurements: [], support: [], contradictions: [], opinion: null, pictures: [], earlier: [],
      };
    },
    read(given) {
      const all = readAll(given, false);
      return all.length === 1 ? all[0] : { record: null, troubles: [say("many-held", all.length)], later: false, text: given };
    },
    readAll: (given) => readAll(given, false),
    check,
    write(record) {
      const [trouble] = check(record);
      if (trouble) throw new Error(trouble);
      return JSON.stringify(record);
    },
    answer: kept("finding"),
    unanswer: takenBack("finding"),
    measure: kept("measurement"),
    unmeasure: takenBack("measurement"),
    opine: kept("opinion"),
    attach: kept("picture"),
    detach: takenBack("picture"),
    describe: (record, coin, examiner, now) => put(put(record, "coin", "", { ...record.coin, ...coin, at: now }), "examiner", "", { ...record.examiner, ...examiner, at: now }),
    weigh(record, support, contradictions, country, site, now) {
      const old = record.support.length && record.knowledge.revision !== site.revision ? [{ what: /** @type {const} */ ("support"), at: record.changed, was: weighing(record) }] : [];
      return { ...record, changed: last(record.changed, now), knowledge: known(record.coin.issue, country, site), support, contradictions, earlier: [...record.earlier, ...old] };
    },
    merge(one, other) {
      const [base, twin] = [one, other].sort((a, b) => when(a.made) - when(b.made) || (a.id < b.id ? -1 : 1));
      /** @type {Map<string, EarlierState[]>} */
      const groups = new Map();
      for (const state of [base, twin].flatMap(states)) {
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
        // What every record has cannot be taken back.
        if (!at || !["finding", "measurement", "picture", "opinion"].includes(what)) {
          sorted.pop();
          if (what === "support" || what === "more") Object.assign(out, what === "more" ? was : weighed(was));
          else if (KEPT[what]) out[placeOf(what)].push(was);
          else out[what] = was;
        }
        out.earlier.push(...sorted.filter((it) => it.what !== "support" || it.was.support.length || it.was.contradictions.length));
      }
      for (const place of ["findings", "measurements", "pictures", "earlier"]) out[place].sort(byTime);
      return out;
    },
    stale({ opinion, findings, measurements, earlier }) {
      return Boolean(opinion) && [...findings, ...measurements, ...earlier.filter(({ what }) => /^(find|meas)/.test(what))].some(({ at }) => when(at) > when(/** @type {RecordedOpinion} */ (opinion).at));
    },
    changes(record, country) {
      const then = new Map(record.knowledge.entries.map((entry) => [entry.id, entry]));
      return [...new Set([...then.keys(), ...(own(country.issues, record.coin.issue)?.entries ?? [])])].flatMap((id) => {
        const old = then.get(id);
        const now = own(country.entries, id);
        if (old?.sha256 === now?.sha256) return [];
        return [{ id, title: now?.title ?? old?.title ?? id, what: old && now ? "changed" : old ? "gone" : "new", was: old?.reviewed ?? "", now: now?.reviewed ?? "" }];
      });
    },
  };
})((window.Tellmark ??= {}));
