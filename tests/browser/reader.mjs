// The scripts of the look-up in plain Node: a stand-in for the page that adds the index's scripts from disk.

import { readFileSync } from "node:fs";
import { join } from "node:path";
import vm from "node:vm";

/** A reader over a built site, and what it has loaded so far. */
export function openReader(site) {
  const context = vm.createContext({});
  vm.runInContext("globalThis.window = globalThis;", context);
  const loaded = new Map();
  const load = (path) => {
    const text = readFileSync(join(site, path), "utf8");
    loaded.set(path, Buffer.byteLength(text));
    vm.runInContext(text, context, { filename: path });
  };
  ["look/terms.js", "look/reader.js"].forEach(load);
  const tm = context.Tellmark;

  /** The answer, and the time its last, complete step took, in milliseconds. */
  const find = (query, limit = 10) => {
    for (let round = 0; round < 20; round++) {
      const start = performance.now();
      const { wait, hits } = tm.find(query, limit);
      const took = performance.now() - start;
      if (!wait.length) return { hits, took };
      wait.forEach((name) => load(`search/${name}.js`));
    }
    throw new Error(`the reader never stops asking for scripts: ${query}`);
  };
  return { tm, find, loaded, bytes: () => [...loaded.values()].reduce((sum, size) => sum + size, 0) };
}
