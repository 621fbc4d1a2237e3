// @ts-check
/* Reads the search index: plans a query and ranks documents exactly as `tellmark find` does. Holds what has arrived,
   and says which scripts are still wanted; fetching them is lookup.js's work. Knows nothing of the page. */
((/** @type {TellmarkGlobal} */ tm) => {
  "use strict";
  const f32 = Math.fround;
  const BODY = 3;
  const alphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
  const value = new Uint8Array(128);
  for (let at = 0; at < 64; at++) value[alphabet.charCodeAt(at)] = at;

  /** @type {Map<string, any>} Scripts that have arrived: the manifest, lines of terms by term, words, blocks. */
  const held = new Map();
  /** @type {TellmarkManifest} */
  let manifest;
  /** @type {string[]} */ let namesFirst = [];
  /** @type {string[]} */ let bodyFirst = [];
  /** @type {Set<string>} */ let stops = new Set();
  /** @type {Map<number, number>} */ let odd = new Map();

  /** Each script of the index calls this once. */
  tm.shard = (name, data) => {
    if (name === "manifest") {
      manifest = data;
      namesFirst = manifest.t.split(" ");
      bodyFirst = manifest.b.split(" ");
      stops = new Set(manifest.stop.split(" "));
      odd = new Map(manifest.odd);
    }
    held.set(name, /^[tb]-/.test(name) ? new Map(data.map(lineOf)) : data);
    if (tm.arrived) tm.arrived(name);
  };

  /** A line of a shard: the term, and its documents in each field. @param {string} line @returns {[string, string[]]} */
  function lineOf(line) {
    const [term, ...lists] = line.split(" ");
    return [term, lists];
  }

  /**
   * The best documents for a query, or the scripts needed first. Call again when they are there.
   * @param {string} query @param {number} limit @returns {TellmarkAnswer}
   */
  tm.find = (query, limit) => {
    /** @type {Set<string>} */
    const wanted = new Set();
    if (!manifest) return { wait: ["manifest"], hits: [] };
    const wants = plan(query, wanted);
    if (wanted.size) return { wait: [...wanted], hits: [] };
    const best = rank(wants, limit);
    const hits = best.flatMap(({ doc, score }) => {
      const shown = shownOf(doc, wanted);
      return shown ? [{ ...shown, score: score / manifest.steps }] : [];
    });
    return wanted.size ? { wait: [...wanted], hits: [] } : { wait: [], hits };
  };

  /* ---- The plan ---- */

  /** @typedef {{ field: number, list: string, share: number }} Clause */
  /** @typedef {{ token: string, exact: Clause[], loose: Clause[], begun: boolean }} Want */

  /** @param {string} query @param {Set<string>} wanted @returns {Want[]} */
  function plan(query, wanted) {
    const all = tm.terms(query).slice(0, manifest.tokens);
    const last = all.pop();
    if (last === undefined) return [];
    const tokens = [...new Set(all)].filter((token) => token !== last && !stops.has(token));
    return [...tokens.map((token) => want(token, false, wanted)), want(last, true, wanted)];
  }

  /** @param {string} token @param {boolean} last @param {Set<string>} wanted @returns {Want} */
  function want(token, last, wanted) {
    const length = Array.from(token).length;
    const mark = /^[a-z]$/.test(token);
    const missing = wanted.size;
    /** @type {Clause[]} */
    const exact = clauses(token, 1, wanted, mark ? [0, 2] : [0, 1, 2]);
    if (!mark && inBody(token, length)) exact.push(...clauses(token, 1, wanted, [BODY]));
    /** @type {Clause[]} */
    let loose = [];
    if (last && !mark && length >= 2) {
      loose = begun("t", token, wanted);
      if (isWord(token) && length >= 4) loose.push(...begun("b", token, wanted));
    }
    const isBegun = loose.length > 0;
    // Slips are guessed only once it is certain that the token itself is nowhere.
    if (wanted.size === missing && !exact.length && !isBegun && length >= 4 && isWord(token)) loose = slipped(token, length, wanted);
    return { token, exact, loose, begun: isBegun };
  }

  /** @param {string} token */
  const isWord = (token) => !/^\p{N}/u.test(token);

  /** Whether prose is asked: for words from three letters, years, and other scripts. @param {string} token @param {number} length */
  const inBody = (token, length) => (isWord(token) ? length >= 3 || /[^\0-\x7f]/.test(token) : length >= 4);

  /** The shard a term would stand in. @param {string[]} firsts @param {string} term */
  function place(firsts, term) {
    let low = 0;
    let high = firsts.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (firsts[middle] <= term) low = middle + 1;
      else high = middle;
    }
    return low - 1;
  }

  /** One term, in some fields. @param {string} term @param {number} share @param {Set<string>} wanted @param {number[]} fields */
  function clauses(term, share, wanted, fields) {
    const letter = fields[0] === BODY ? "b" : "t";
    const at = place(letter === "b" ? bodyFirst : namesFirst, term);
    if (at < 0) return [];
    const shard = need(`${letter}-${at}`, wanted);
    return ofLine(shard?.get(term), letter, share).filter((clause) => fields.includes(clause.field));
  }

  /** @param {string[] | undefined} lists @param {string} letter @param {number} share @returns {Clause[]} */
  function ofLine(lists, letter, share) {
    const all = (lists ?? []).map((list, at) => ({ field: letter === "b" ? BODY : at, list, share }));
    return all.filter((clause) => clause.list);
  }

  /** @param {string} name @param {Set<string>} wanted */
  function need(name, wanted) {
    if (!held.has(name)) wanted.add(name);
    return held.get(name);
  }

  /** Terms that begin with a token and are longer. @param {"t" | "b"} letter @param {string} token @param {Set<string>} wanted */
  function begun(letter, token, wanted) {
    const firsts = letter === "b" ? bodyFirst : namesFirst;
    /** @type {Clause[]} */
    const out = [];
    for (let at = Math.max(0, place(firsts, token)); at < firsts.length && (firsts[at] <= token || firsts[at].startsWith(token)); at++) {
      for (const [term, lists] of need(`${letter}-${at}`, wanted) ?? []) {
        if (term !== token && term.startsWith(token)) out.push(...ofLine(lists, letter, manifest.begun));
      }
    }
    return out;
  }

  /** Terms one slip away: names first, prose only if no name is near. @param {string} token @param {number} length @param {Set<string>} wanted */
  function slipped(token, length, wanted) {
    const lists = [length - 1, length, length + 1].filter((n) => manifest.w.includes(n)).map((n) => need(`w-${n}`, wanted));
    if (lists.includes(undefined)) return [];
    const typed = Array.from(token);
    const near = (/** @type {number} */ which) =>
      lists.flatMap((both) => both[which].split(" ")).filter((term) => term && oneSlip(typed, Array.from(term)));
    const names = near(0);
    if (names.length) return names.flatMap((term) => clauses(term, manifest.slipped, wanted, [0, 1, 2]));
    // A term of the prose that is a name as well would have been found as one.
    return near(1).flatMap((term) => clauses(term, manifest.slipped, wanted, [BODY]));
  }

  /** One letter too many, missing, wrong, or two changed about. @param {string[]} a @param {string[]} b */
  function oneSlip(a, b) {
    const [short, long] = a.length <= b.length ? [a, b] : [b, a];
    if (long.length - short.length > 1) return false;
    let same = 0;
    while (same < short.length && short[same] === long[same]) same++;
    const rest = (/** @type {number} */ i, /** @type {number} */ j) => short.slice(i).join("") === long.slice(j).join("");
    if (long.length > short.length) return rest(same, same + 1);
    if (same === long.length) return false;
    const swapped = short[same] === long[same + 1] && short[same + 1] === long[same];
    return rest(same + 1, same + 1) || (swapped && rest(same + 2, same + 2));
  }

  /* ---- Scores: BM25 in single precision, step by step as tantivy reckons it ---- */

  const K1 = f32(1.2);
  const B = f32(0.75);

  /** Length that a step of tantivy's stands for: one by one up to 40, then in growing strides. @param {number} step */
  const lengthOf = (step) => (step < 40 ? step : 24 + (8 + ((step - 40) & 7)) * 2 ** (((step - 40) >> 3) + 1));

  /** @type {Map<number, Float32Array>} By field. */
  const norms = new Map();

  /** @param {number} field */
  function normsOf(field) {
    let all = norms.get(field);
    if (!all) {
      const average = f32(manifest.average[field]);
      all = new Float32Array(256);
      for (let step = 0; step < 256; step++) {
        all[step] = f32(K1 * f32(0.25 + f32(f32(B * f32(lengthOf(step))) / average)));
      }
      norms.set(field, all);
    }
    return all;
  }

  /** Weight of a term that stands in so many documents. @param {number} n @param {number} boost */
  function weight(n, boost) {
    const ratio = f32(f32(f32(manifest.documents - n) + 0.5) / f32(f32(n) + 0.5));
    const idf = odd.get(n) ?? f32(Math.log(f32(1 + ratio)));
    return f32(f32(idf * f32(1 + K1)) * f32(boost));
  }

  /** @typedef {{ docs: Uint32Array, counts: Uint32Array, steps: Uint8Array }} Postings */
  /** @type {Map<string, Postings>} Lists already read. */
  const read = new Map();

  /** Gap doubled, plus one if a count follows; the count less two; the step of the length. @param {string} text @returns {Postings} */
  function decode(text) {
    const known = read.get(text);
    if (known) return known;
    let at = 0;
    const number = () => {
      let out = 0;
      for (let scale = 1; ; scale *= 32) {
        const group = value[text.charCodeAt(at++)];
        out += (group & 31) * scale;
        if (group < 32) return out;
      }
    };
    const docs = [];
    const counts = [];
    const steps = [];
    for (let next = 0; at < text.length; next++) {
      const head = number();
      next += Math.floor(head / 2);
      docs.push(next);
      counts.push(head % 2 ? number() + 2 : 1);
      steps.push(number());
    }
    const postings = { docs: Uint32Array.from(docs), counts: Uint32Array.from(counts), steps: Uint8Array.from(steps) };
    read.set(text, postings);
    return postings;
  }
  tm.decode = decode;

  /** @param {Clause} clause @param {(doc: number, score: number) => void} each */
  function scores(clause, each) {
    const { docs, counts, steps } = decode(clause.list);
    const norm = normsOf(clause.field);
    const factor = weight(docs.length, manifest.weights[clause.field] * clause.share);
    for (let at = 0; at < docs.length; at++) {
      each(docs[at], f32(factor * f32(counts[at] / f32(counts[at] + norm[steps[at]]))));
    }
  }

  /** Best first: issues named with a date, other pages named by all tokens, then more tokens answered, then the score, then the order of documents. @param {Want[]} wants @param {number} limit */
  function rank(wants, limit) {
    const size = manifest.documents;
    const total = new Float64Array(size);
    const tokens = new Uint8Array(size);
    const named = new Uint8Array(size);
    const begun = new Uint8Array(size);
    for (const want of wants) {
      const exact = new Float64Array(size);
      const loose = new Float64Array(size);
      const names = new Uint8Array(size); // 1: begun by the token · 2: the token itself
      for (const clause of want.exact) {
        scores(clause, (doc, score) => {
          exact[doc] += score;
          if (clause.field < 2) names[doc] |= 2;
        });
      }
      for (const clause of want.loose) {
        scores(clause, (doc, score) => {
          if (score > loose[doc]) loose[doc] = score;
          if (clause.field < 2 && want.begun) names[doc] |= 1;
        });
      }
      for (let doc = 0; doc < size; doc++) {
        const score = exact[doc] + loose[doc];
        if (score > 0) {
          tokens[doc]++;
          total[doc] += score;
          if (names[doc] & 2) named[doc]++;
          else if (names[doc]) begun[doc] = 1;
        }
      }
    }
    const dated = wants.some((want) => /^\p{N}{2}/u.test(want.token));
    /** Issues stand first among the documents. @param {number} doc */
    const tier = (doc) => {
      if (named[doc] === wants.length) return dated && doc < manifest.issues ? 3 : 2;
      return named[doc] + 1 === wants.length && begun[doc] ? 1 : 0;
    };
    const rows = [];
    for (let doc = 0; doc < size; doc++) {
      if (tokens[doc]) rows.push({ doc, tier: tier(doc), tokens: tokens[doc], score: Math.round(total[doc] * manifest.steps) });
    }
    rows.sort((a, b) => b.tier - a.tier || b.tokens - a.tokens || b.score - a.score || a.doc - b.doc);
    return rows.slice(0, limit);
  }

  /** What is shown of a document, once its block is there. @param {number} doc @param {Set<string>} wanted */
  function shownOf(doc, wanted) {
    let at = manifest.d.length - 1;
    while (manifest.d[at] > doc) at--;
    let left = doc - manifest.d[at];
    for (const [head, note, kind, demo, items] of need(`d-${at}`, wanted) ?? []) {
      if (left < items.length / 2) {
        const [tail, title] = items.slice(left * 2, left * 2 + 2);
        const url = head.endsWith(".html") ? `${head}#${tail}` : `${head}${tail}.html`;
        return { url, title, note, kind: manifest.kinds[kind], demo: demo === 1 };
      }
      left -= items.length / 2;
    }
    return undefined;
  }
})((window.Tellmark ??= {}));
