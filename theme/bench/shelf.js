// @ts-check
/* What the site knows, taken down script by script: a page opened from disk can fetch nothing in another way. */
((/** @type {BenchGlobal} */ tm) => {
  "use strict";
  const root = document.documentElement.dataset.root ?? "";
  /** @type {Map<string, any>} What has arrived; null where a script cannot be read. */
  const here = new Map();
  /** @type {Map<string, ((knowledge: any) => void)[]>} */
  const waiting = new Map();

  tm.shelve = (key, knowledge) => void here.set(key, knowledge);

  /** @param {string} key @param {(knowledge: any) => void} done */
  const take = (key, done) => {
    if (here.has(key)) return done(here.get(key));
    const others = waiting.get(key);
    if (others) return void others.push(done);
    waiting.set(key, [done]);
    const script = document.createElement("script");
    script.src = `${root}bench/know/${key}.js`;
    const settle = () => {
      script.remove();
      const knowledge = here.get(key) ?? null;
      waiting.get(key)?.forEach((one) => one(knowledge));
      // A drive may have been asleep: what is not there is asked for again the next time.
      waiting.delete(key);
    };
    script.onload = settle;
    script.onerror = settle;
    document.head.append(script);
  };

  /** Whatever is shown of an invented country says so. @param {CountryKnowledge | null} knowledge */
  const stamp = (knowledge) => {
    const invented = document.getElementById("invented");
    if (invented) invented.hidden = !Object.values(knowledge?.entries ?? {}).some((entry) => entry.demo);
  };

  tm.shelf = {
    country(id, done) {
      const key = id.split("/")[1] ?? id;
      if (!/^[a-z0-9-]+$/.test(key) || key === "site") return done(null);
      take(key, (knowledge) => {
        stamp(knowledge);
        done(knowledge);
      });
    },
    site: (done) => take("site", done),
    asked() {
      // A browser writes these signs as they are.
      const text = location.hash.slice(1);
      const record = /^record=([0-9a-f-]{36})$/.exec(text)?.[1] ?? "";
      const id = /^(issues|series)(\/[a-z0-9-]+)+$/.test(text) ? text : "";
      return { issue: id.startsWith("issues/") ? id : "", series: id.startsWith("series/") ? id : "", record };
    },
  };
})((window.Tellmark ??= {}));
