// Says on every page how many readings this tablet has yet to hand over, once one of them did not go at the first try, and
// where one needs somebody.
"use strict";
(() => {
  function show() {
    const said = document.getElementById("owed");
    const all = Unsent.all();
    const asking = all.find(({ state }) => state !== "going");
    said.hidden = !asking && all.every(({ tries }) => tries < 2);
    said.textContent = `${all.length} not yet saved`;
    if (!asking || location.pathname === asking.sheet) return;
    const link = document.createElement("a");
    link.href = `${asking.sheet}?slot=${encodeURIComponent(asking.slot)}#entry`;
    link.textContent = "look at it";
    said.append(" ", link);
  }
  addEventListener("witness:unsent", show);
  addEventListener("pageshow", show);
  show();
})();
