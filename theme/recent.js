// @ts-check
/* The last issue pages opened on this machine, kept in the browser and shown on the front page. Nothing leaves it. */
((/** @type {TellmarkGlobal} */ tm) => {
  "use strict";
  const KEY = "tellmark-recent";
  const MOST = 12;

  /** @typedef {{ path: string, title: string }} Opened */

  /** Of what is kept, only what this script could have written. @param {string | null} text @returns {Opened[]} */
  tm.readRecent = (text) => {
    try {
      const list = JSON.parse(text ?? "[]");
      const fit = (/** @type {any} */ item) => typeof item?.title === "string" && /^issues\/[a-z0-9/-]+\.html$/.test(item.path);
      return Array.isArray(list) ? list.filter(fit).slice(0, MOST) : [];
    } catch {
      return [];
    }
  };

  /** The newest first, each once. @param {Opened[]} list @param {Opened} now @returns {Opened[]} */
  tm.addRecent = (list, now) => [now, ...list.filter((item) => item.path !== now.path)].slice(0, MOST);

  /** @returns {Opened[]} */
  function load() {
    try {
      return tm.readRecent(localStorage.getItem(KEY));
    } catch {
      return [];
    }
  }

  /** The path of this page below the site's folder, if it is an issue. */
  function here() {
    const depth = (document.documentElement.dataset.root ?? "").split("../").length - 1;
    const parts = decodeURIComponent(location.pathname).split("/");
    const path = parts.slice(parts.length - 1 - depth).join("/");
    return /^issues\/[a-z0-9/-]+\.html$/.test(path) ? path : "";
  }

  const path = here();
  if (path) {
    const title = document.title.replace(/ · Tellmark$/, "");
    try {
      localStorage.setItem(KEY, JSON.stringify(tm.addRecent(load(), { path, title })));
    } catch {
      /* private windows and full disks: nothing is kept */
    }
  }

  function show() {
    const list = document.getElementById("recent");
    if (!list) return;
    list.replaceChildren();
    const root = document.documentElement.dataset.root ?? "";
    for (const { path, title } of load()) {
      const link = document.createElement("a");
      link.href = root + path;
      // The name alone can be that of another country's coin: its series and country stand behind it, small.
      const [name, ...rest] = title.split(" · ");
      link.textContent = name;
      if (rest.length) {
        const small = document.createElement("small");
        small.textContent = rest.join(", ");
        link.append(" ", small);
      }
      const item = document.createElement("li");
      item.append(link);
      list.append(item);
    }
    const part = document.getElementById("recent-part");
    if (part) part.hidden = !list.childElementCount;
  }

  show();
  // A page that the browser kept alive while another was read.
  addEventListener("pageshow", (event) => event.persisted && show());
})((window.Tellmark ??= {}));
