// @ts-check
/* What every page does before and after it is drawn: the dim bench, and numbers that answer to each other. */
((tm) => {
  "use strict";
  const root = document.documentElement;
  root.classList.add("js");

  /** The choice of dim or bright on this machine, if one was made. @returns {string | null} */
  tm.remembered = (/** @type {string} */ key) => {
    try {
      return localStorage.getItem(key);
    } catch {
      return null;
    }
  };

  /** Keeps a small text on this machine; a browser that refuses loses nothing else. */
  tm.remember = (/** @type {string} */ key, /** @type {string} */ value) => {
    try {
      localStorage.setItem(key, value);
    } catch {
      /* private windows and full disks: the page works without memory */
    }
  };

  const chosen = tm.remembered("tellmark-light");
  if (chosen === "dim" || chosen === "bright") root.classList.add(chosen);

  function isDim() {
    if (root.classList.contains("dim")) return true;
    return !root.classList.contains("bright") && matchMedia("(prefers-color-scheme: dark)").matches;
  }

  function dimButton() {
    const button = document.getElementById("dim");
    if (!button) return;
    const show = () => {
      button.textContent = isDim() ? "Bright" : "Dim";
      button.setAttribute("aria-label", isDim() ? "Bright page" : "Dim page, for a dark bench");
    };
    button.hidden = false;
    show();
    button.addEventListener("click", () => {
      const next = isDim() ? "bright" : "dim";
      root.classList.remove("dim", "bright");
      root.classList.add(next);
      tm.remember("tellmark-light", next);
      show();
    });
  }

  /** A look under the pointer or the keyboard lights its number on the disc. */
  function lightPins() {
    for (const look of document.querySelectorAll(".issue .look")) {
      const number = look.querySelector(".num")?.textContent ?? "";
      const pins = document.querySelectorAll(`.pin[data-pin="${number}"]`);
      const light = (/** @type {boolean} */ on) => pins.forEach((pin) => pin.classList.toggle("lit", on));
      look.addEventListener("pointerenter", () => light(true));
      look.addEventListener("pointerleave", () => light(false));
      look.addEventListener("focusin", () => light(true));
      look.addEventListener("focusout", () => light(false));
    }
  }

  /** A link into a folded part unfolds it. */
  function unfold() {
    const target = location.hash.length > 1 ? document.getElementById(decodeURIComponent(location.hash.slice(1))) : null;
    for (let at = target; at; at = at.parentElement) {
      if (at instanceof HTMLDetailsElement && !at.open) {
        at.open = true;
        target?.scrollIntoView();
      }
    }
  }

  /** With scripts a picture opens in the viewer; without them its link leads to the picture itself. */
  function openInViewer() {
    const viewer = document.querySelector("[data-view]")?.getAttribute("data-view") ?? "";
    for (const link of document.querySelectorAll("[data-view] figure > a")) link.setAttribute("href", viewer + link.parentElement?.id.replace("photo-", ""));
  }

  document.addEventListener("DOMContentLoaded", () => {
    openInViewer();
    dimButton();
    lightPins();
    unfold();
  });
  addEventListener("hashchange", unfold);
})((window.Tellmark ??= {}));
