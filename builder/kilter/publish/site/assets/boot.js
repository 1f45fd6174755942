// Runs before the first paint: what the reader chose for this device stands on the page's element.
// Small on purpose, for the page waits for it; the panel that changes the choice is display.js.
"use strict";
(() => {
  const KEY = "kilter-display";
  const ALLOWED = { theme: ["light", "dark"], contrast: ["more"], size: ["115", "130", "150", "175", "200"], hand: ["left"] };
  const root = document.documentElement;

  function read() {
    try {
      const kept = JSON.parse(localStorage.getItem(KEY) ?? "{}");
      return kept !== null && typeof kept === "object" ? kept : {};
    } catch {
      return {};
    }
  }

  function apply(chosen = read()) {
    for (const [name, values] of Object.entries(ALLOWED)) {
      if (values.includes(chosen[name])) root.dataset[name] = chosen[name];
      else delete root.dataset[name];
    }
  }

  // Storage may be full or forbidden: the choice then holds for this page.
  function keep(chosen) {
    apply(chosen);
    try {
      localStorage.setItem(KEY, JSON.stringify(chosen));
    } catch { /* said above */ }
  }

  root.dataset.js = "yes";
  apply();
  // Where a run goes on, the whole page does not show first and then jump to its step. Given up where no script comes.
  if (location.hash === "#run") {
    root.dataset.entering = "yes";
    setTimeout(() => { delete root.dataset.entering; }, 4000);
  }
  addEventListener("storage", (event) => { if (event.key === KEY || event.key === null) apply(); });
  addEventListener("pageshow", (event) => { if (event.persisted) apply(); });
  globalThis.kilterDisplay = { keep, now: () => ({ ...root.dataset }) };
})();
