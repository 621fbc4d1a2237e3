// @ts-check
/* The look-up field of every page: a combobox over the search index. Scripts of the index are added as they are needed. */
((/** @type {TellmarkGlobal} */ tm) => {
  "use strict";
  const MOST = 10;
  const root = document.documentElement.dataset.root ?? "";

  /** @type {Map<string, "asked" | "here" | "lost">} */
  const scripts = new Map();
  /** @type {() => void} Asks again when the last wanted script has arrived. */
  let resume = () => {};

  /** @param {string} name */
  function add(name) {
    scripts.set(name, "asked");
    const script = document.createElement("script");
    script.src = `${root}search/${name}.js`;
    script.onload = () => settle(script, name, "here");
    script.onerror = () => settle(script, name, "lost");
    document.head.append(script);
  }

  /** @param {HTMLScriptElement} script @param {string} name @param {"here" | "lost"} state */
  function settle(script, name, state) {
    scripts.set(name, state);
    script.remove();
    resume();
  }

  /** The answer once its scripts are there. @param {string} query @param {(answer: TellmarkHit[] | "lost") => void} done */
  function ask(query, done) {
    const step = () => {
      const { wait, hits } = tm.find(query, MOST);
      if (!wait.length) {
        resume = () => {};
        done(hits);
      } else if (wait.some((name) => scripts.get(name) === "lost")) {
        // Tried again with the next key: a drive may have been asleep.
        wait.filter((name) => scripts.get(name) === "lost").forEach((name) => scripts.delete(name));
        resume = () => {};
        done("lost");
      } else {
        wait.filter((name) => !scripts.has(name)).forEach(add);
      }
    };
    resume = step;
    step();
  }

  /** @param {HTMLInputElement} field @param {HTMLElement} list @param {HTMLElement} status @param {HTMLFormElement} form */
  function start(field, list, status, form) {
    /** @type {HTMLAnchorElement[]} */
    let options = [];
    let chosen = -1;
    /** @type {"" | "asked" | "answered"} What is known of the text in the field. */
    let state = "";
    let openFirst = false;

    const attributes = { role: "combobox", "aria-autocomplete": "list", "aria-controls": list.id, "aria-expanded": "false" };
    Object.entries(attributes).forEach(([name, value]) => field.setAttribute(name, value));

    /** @param {string} text */
    function say(text) {
      if (status.textContent !== text) status.textContent = text;
    }

    /** @param {boolean} open */
    function show(open) {
      list.hidden = !open;
      field.setAttribute("aria-expanded", String(open));
      if (!open) choose(-1);
    }

    /** @param {number} at */
    function choose(at) {
      options[chosen]?.setAttribute("aria-selected", "false");
      chosen = at;
      const option = options[at];
      if (option) {
        option.setAttribute("aria-selected", "true");
        option.scrollIntoView({ block: "nearest" });
        field.setAttribute("aria-activedescendant", option.id);
      } else {
        field.removeAttribute("aria-activedescendant");
      }
    }

    /** @param {TellmarkHit[] | "lost"} answer */
    function answered(answer) {
      state = "answered";
      options = answer === "lost" ? [] : answer.map(option);
      chosen = -1;
      field.removeAttribute("aria-activedescendant");
      list.replaceChildren(...options);
      if (answer === "lost") {
        line("trouble", "Part of the search index cannot be read. The folder may not be complete; the lists on the front page lead everywhere.");
        say("Part of the search index cannot be read.");
      } else if (!options.length) {
        line("none", "Nothing found. Try a date with its mint mark, or one word less.");
        say("Nothing found.");
      } else {
        say(options.length === MOST ? `The best ${MOST} are shown.` : options.length === 1 ? "One found." : `${options.length} found.`);
      }
      show(true);
      if (openFirst) go(0);
    }

    /** A line that is no result. @param {string} kind @param {string} text */
    function line(kind, text) {
      list.append(piece("li", kind, text));
      list.lastElementChild?.setAttribute("role", "presentation");
    }

    /** @param {TellmarkHit} hit @param {number} at */
    function option(hit, at) {
      const link = document.createElement("a");
      link.href = `${root}${hit.url}`;
      link.id = `lookup-${at}`;
      link.tabIndex = -1;
      link.setAttribute("role", "option");
      link.setAttribute("aria-selected", "false");
      link.append(piece("span", "title", hit.title), piece("span", "kind", hit.demo ? `${hit.kind}, invented` : hit.kind));
      if (hit.note) link.append(piece("span", "note", hit.note));
      return link;
    }

    /** @param {number} at */
    function go(at) {
      openFirst = false;
      options[at]?.click();
    }

    function typed() {
      openFirst = false;
      const query = field.value;
      // One sign is too little to look up, and would only fetch what is not wanted.
      if (Array.from(query.trim()).length < 2) {
        resume = () => {};
        state = "";
        say("");
        show(false);
        return;
      }
      state = "asked";
      ask(query, answered);
    }

    /** @param {KeyboardEvent} event */
    function key(event) {
      if (event.isComposing) return;
      const open = !list.hidden && options.length > 0;
      const last = options.length - 1;
      /** @type {Record<string, () => void>} */
      const moves = {
        ArrowDown: () => (open ? choose(chosen < last ? chosen + 1 : 0) : typed()),
        ArrowUp: () => choose(chosen > 0 ? chosen - 1 : last),
        Home: () => choose(0),
        End: () => choose(last),
      };
      if (event.key === "Escape") {
        event.preventDefault();
        field.value = "";
        typed();
      } else if (event.key === "Enter") {
        event.preventDefault();
        // Before the answer is there, the first result is opened when it comes.
        if (state === "asked") openFirst = true;
        else if (state === "answered") go(Math.max(chosen, 0));
      } else if (moves[event.key] && (open || event.key === "ArrowDown") && !event.ctrlKey && !event.metaKey && !event.altKey && !event.shiftKey) {
        // Home and End stay with the text until a result is chosen.
        if (event.key.startsWith("Arrow") || chosen >= 0) {
          event.preventDefault();
          moves[event.key]();
        }
      }
    }

    field.addEventListener("input", typed);
    field.addEventListener("keydown", key);
    field.addEventListener("focus", () => {
      if (list.hidden && field.value.trim()) typed();
    });
    form.addEventListener("submit", (event) => event.preventDefault());
    form.addEventListener("focusout", (event) => {
      if (!(event.relatedTarget instanceof Node && form.contains(event.relatedTarget))) show(false);
    });
    // A press on a result must not take the focus, or the list would close before the click.
    list.addEventListener("pointerdown", (event) => event.preventDefault());
    list.addEventListener("mousedown", (event) => event.preventDefault());
    list.addEventListener("click", () => show(false));
    document.addEventListener("keydown", (event) => {
      const busy = event.target instanceof Element && event.target.closest("input, textarea, select, [contenteditable]");
      if (event.key === "/" && !busy && !event.ctrlKey && !event.metaKey && !event.altKey) {
        event.preventDefault();
        field.focus();
        field.select();
      }
    });
    // A text kept by the browser, or given in the address.
    const given = new URLSearchParams(location.search).get("q");
    if (given && !field.value) field.value = given;
    if (given || (field.value && document.activeElement === field)) typed();
  }

  /** @param {string} name @param {string} kind @param {string} text */
  function piece(name, kind, text) {
    const node = document.createElement(name);
    node.className = kind;
    node.textContent = text;
    return node;
  }

  const field = document.getElementById("lookup");
  const list = document.getElementById("lookup-results");
  const status = document.getElementById("lookup-status");
  const form = document.getElementById("lookup-form");
  if (field instanceof HTMLInputElement && list && status && form instanceof HTMLFormElement) start(field, list, status, form);
})((window.Tellmark ??= {}));
