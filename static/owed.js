// Says on every page how many readings, photos and notes this tablet has yet to hand over, once one of them did not go at
// the first try, and where a reading needs somebody.
"use strict";
(() => {
  let others = { owed: 0 };
  function show() {
    const said = document.getElementById("owed");
    const all = Unsent.all();
    const asking = all.find(({ state }) => state !== "going");
    said.hidden = !asking && !others.owed && all.every(({ tries }) => tries < 2);
    said.textContent = `${all.length + others.owed} not yet saved`;
    const at = asking ? `${asking.sheet}?slot=${encodeURIComponent(asking.slot)}#entry` : others.at;
    if (!at || new URL(at, location.href).pathname === location.pathname) return;
    const link = Made.element("a", "", "look at it");
    link.href = at;
    said.append(" ", link);
  }
  addEventListener("witness:outbox", ({ detail }) => {
    others = detail;
    show();
  });
  addEventListener("witness:unsent", show);
  addEventListener("pageshow", show);
  show();
})();
