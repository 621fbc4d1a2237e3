// @ts-check
// Added by `tellmark preview` alone; no published page has it.
(function () {
  "use strict";
  const own = /** @type {HTMLScriptElement} */ (document.currentScript);
  const edition = own.dataset.edition;
  const address = own.dataset.events || "";
  /** @type {EventSource | null} */
  let events = null;

  // Only pages in view listen: a browser opens few connections to one host. One that comes back into view is told the
  // latest edition at once.
  function listen() {
    if (events) events.close();
    events = null;
    if (document.visibilityState === "hidden") return;
    events = new EventSource(address);
    events.addEventListener("edition", (event) => {
      if (event.data === edition) return;
      if (events) events.close();
      location.reload();
    });
  }

  document.addEventListener("visibilitychange", listen);
  window.addEventListener("pageshow", (event) => {
    if (event.persisted) listen();
  });
  listen();
})();
