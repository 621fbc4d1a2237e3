// @ts-check
/* What the page's templates hold, filled: sentences, elements. Scripts name what they say; the words stand in the page. */
((/** @type {BenchGlobal} */ tm) => {
  "use strict";
  const byId = (/** @type {string} */ id) => /** @type {any} */ (document.getElementById(id));
  /** @type {Record<string, string>} */
  const sentences = Object.fromEntries(Array.from(byId("sentences").content.children, (one) => [one.dataset.name, one.textContent]));

  /** A gap in braces takes the value of its name or place; a list there is a sentence itself. @param {string} text @param {any} values */
  const filled = (text, values) => text.replace(/\{(\w+)\}/g, (_, gap) => (Array.isArray(values[gap]) ? say(.../** @type {BenchSaying} */ (values[gap])) : values[gap] ?? ""));
  /** @type {BenchGlobal["say"]} */
  const say = (name, ...values) => filled(sentences[name], values);

  /** @type {BenchGlobal["make"]} */
  const make = (name, values = {}, click) => {
    const node = byId(`make-${name}`).content.firstElementChild.cloneNode(true);
    for (const one of [node, ...node.querySelectorAll("*")]) {
      for (const text of [...one.attributes, ...one.childNodes]) if (text.nodeType < 4 && text.nodeType > 1) text.nodeValue = filled(text.nodeValue, values);
      // An address with gaps is none until they are filled.
      if (one.dataset.href) one.href = one.dataset.href;
    }
    if (click) node.querySelector("button").onclick = click;
    return node;
  };

  /** @type {BenchGlobal["el"]} */
  const el = (name, set, ...inside) => {
    const node = Object.assign(document.createElement(name), typeof set === "string" ? { className: set } : set);
    node.append(...inside);
    return node;
  };

  const put = (/** @type {Element} */ place, /** @type {(Node | string)[]} */ ...inside) => place.replaceChildren(...inside);

  const joined = (/** @type {string} */ between, /** @type {any[]} */ ...parts) => parts.filter(Boolean).join(between);

  Object.assign(tm, { byId, say, make, el, put, joined, root: document.documentElement.dataset.root ?? "" });
})((window.Tellmark ??= {}));
