// Brings parts of the page up to date from the server without leaving it: whoever fires "witness:parts" names the address.
// A part somebody is typing in stays as it is, unless all are asked for. "witness:shown" follows when they stand,
// "witness:unreached" where no answer comes.
"use strict";
(() => {
  let latest = 0;

  const typing = (part) =>
    part.contains(document.activeElement) || [...part.querySelectorAll("input:not([type=hidden])")].some((field) => field.value !== field.defaultValue);

  // What somebody has unfolded stays so.
  function keepOpen(old, fresh) {
    for (const fold of old.querySelectorAll("details[open][data-fold]")) {
      const same = [...fresh.querySelectorAll("details[data-fold]")].find((other) => other.dataset.fold === fold.dataset.fold);
      if (same) same.open = true;
    }
  }

  addEventListener("witness:parts", async ({ detail: { address, all } }) => {
    const turn = ++latest;
    let page;
    try {
      const answer = await fetch(address);
      if (answer.ok) page = new DOMParser().parseFromString(await answer.text(), "text/html");
    } catch {
      // No answer: the page stays as it is.
    }
    if (turn !== latest) return;
    if (!page) return dispatchEvent(new CustomEvent("witness:unreached"));
    for (const part of document.querySelectorAll("[data-part]")) {
      const fresh = page.getElementById(part.id);
      if (!fresh || (!all && typing(part))) continue;
      keepOpen(part, fresh);
      part.replaceWith(document.importNode(fresh, true));
    }
    dispatchEvent(new CustomEvent("witness:shown", { detail: { all } }));
  });
})();
