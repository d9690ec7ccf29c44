// Brings parts of the page up to date from the server without leaving it: whoever fires "witness:parts" names the address.
// A part somebody is typing in stays as it is, unless all are asked for. "witness:shown" follows when they stand,
// "witness:unreached" where no answer comes. What comes waits while somebody types: no figure is to wait
// for a page.
"use strict";
(() => {
  const PAUSE = 200;
  let latest = 0;
  let touched = -Infinity;
  addEventListener("keydown", () => (touched = performance.now()), true);

  // What the server last sent of each part: the same needs not be put up again.
  const sent = new Map();

  // Lets what was typed go first.
  async function quiet() {
    for (let wait = 0; wait >= 0; wait = touched + PAUSE - performance.now()) {
      await new Promise((go) => setTimeout(go, wait));
    }
  }

  const typing = (part) =>
    part.contains(document.activeElement) || [...part.querySelectorAll("input:not([type=hidden])")].some((field) => field.value !== field.defaultValue);

  // What somebody has unfolded stays so.
  function keepOpen(old, fresh) {
    for (const fold of old.querySelectorAll("details[open][data-fold]")) {
      const same = [...fresh.querySelectorAll("details[data-fold]")].find((other) => other.dataset.fold === fold.dataset.fold);
      if (same) same.open = true;
    }
  }

  function putUp(id, page, all) {
    const [part, fresh] = [document.getElementById(id), page.getElementById(id)];
    if (!part || !fresh || (!all && typing(part))) return;
    const markup = fresh.outerHTML;
    if (sent.get(id) === markup) return;
    sent.set(id, markup);
    keepOpen(part, fresh);
    part.replaceWith(document.importNode(fresh, true));
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
    await quiet();
    if (turn !== latest) return;
    for (const { id } of document.querySelectorAll("[data-part]")) putUp(id, page, all);
    dispatchEvent(new CustomEvent("witness:shown", { detail: { all } }));
  });
})();
