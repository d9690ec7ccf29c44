// What becomes of the readings entered on this sheet: in its row while one is on its way, in the tray where it needs
// somebody, and the last one kept with the way to take it back.
"use strict";
(() => {
  const STATES = { going: "saving", unsent: "not saved yet", odd: "odd", refused: "not saved" };
  const sheet = Walk.sheet;
  const { element } = Made;
  // The last reading entered, and what was last said of one.
  let last;
  let line = [];

  const ofSheet = () => Unsent.all().filter((item) => item.sheet === sheet && !item.undoes);
  // One that was tried and has no answer yet keeps all behind it waiting.
  const isStuck = () => ofSheet().some(({ state, tries }) => state === "going" && tries > 1);
  const stateOf = (item) => (item.state === "going" && isStuck() ? "unsent" : item.state);

  function button(words, act) {
    const made = element("button", "tap", words);
    made.type = "button";
    made.addEventListener("click", act);
    return made;
  }

  function again(item) {
    Unsent.drop(item.key);
    if (item.state === "refused") Walk.drafts.set(item.slot, item.value);
    Walk.visit({ slot: item.slot });
  }

  function trayed(item) {
    const state = stateOf(item);
    const deeds = element("p", "deeds");
    if (state === "odd") deeds.append(button(`Keep ${item.value} as read`, () => Unsent.decide(item.key, { asked: item.value })));
    if (state !== "unsent") deeds.append(button(state === "odd" ? "Read again" : "Type it again", () => again(item)));
    const head = state === "odd" ? "Not kept yet. " : `${item.words}: ${item.value}, ${STATES[state]}. `;
    const said = state === "unsent" ? "The shop's computer does not answer. It is kept on this tablet and sent again by itself." : item.said;
    return element("li", `tray-${state}`, element("strong", "", head), said, deeds);
  }

  // Several things that happen at once are shown once.
  let waits = false;
  function show() {
    if (!waits) queueMicrotask(showNow);
    waits = true;
  }

  // A button is not replaced under the finger while it stays the same.
  function showTray(items) {
    const tray = document.getElementById("tray");
    const now = items.map((item) => `${item.key} ${stateOf(item)}`).join();
    if (!tray || (tray.dataset.shown ?? "") === now) return;
    tray.dataset.shown = now;
    tray.replaceChildren(...items.map(trayed));
  }

  function showNow() {
    waits = false;
    showTray(ofSheet().filter((item) => stateOf(item) !== "going"));
    for (const mark of document.querySelectorAll(".unsaved")) {
      mark.parentElement.classList.remove("is-unsaved");
      mark.remove();
    }
    for (const item of ofSheet()) {
      const words = item.state === "odd" ? `${item.value} looks odd` : `${item.value} ${item.looks && `looks ${item.looks}, `}${STATES[stateOf(item)]}`;
      const read = document.getElementById(`slot-${item.slot}`)?.querySelector(".slot-read");
      read?.classList.add("is-unsaved");
      read?.append(element("span", "unsaved", words));
    }
    const kept = document.getElementById("kept");
    if (line.length && kept.firstChild !== line[0]) kept.replaceChildren(...line);
    const undo = document.querySelector("[data-undo]");
    if (undo) undo.disabled = !last;
  }

  function keptLine(item, { took, number }) {
    const link = element("a", "plain", took === "kept" ? "Not right?" : "Choose");
    link.href = `${sheet.replace(/sheets\/.*/, "readings")}/${number}`;
    const words = took === "kept" ? `Kept: ${item.words}, ` : `Another tablet read ${item.words} too: `;
    return [new Text(words), element("strong", "", item.unseen ? "covered until the second" : item.value), " ", link];
  }

  function takenBack(item, { took, said }) {
    return [new Text(took === "withdrawn" ? "Taken back: " : "Not taken back: "), `${item.words}, `, element("strong", "", item.value), took === "withdrawn" ? "" : ` ${said}`];
  }

  addEventListener("witness:entered", ({ detail }) => {
    last = detail;
    line = [new Text(`${detail.words}, `), element("strong", "", detail.value), element("span", "looked", detail.looks && ` looks ${detail.looks}`)];
    show();
  });
  addEventListener("witness:settled", ({ detail: { item, answer } }) => {
    if (item.sheet !== sheet) return;
    if (last?.key === item.key && answer.number) last = { ...last, number: answer.number };
    line = item.undoes ? takenBack(item, answer) : answer.number ? keptLine(item, answer) : line;
    show();
  });
  addEventListener("witness:unsent", show);
  addEventListener("witness:shown", show);
  addEventListener("click", ({ target }) => {
    if (!target.closest?.("[data-undo]") || !last) return;
    const back = last;
    last = undefined;
    dispatchEvent(new CustomEvent("witness:undo", { detail: back }));
    show();
  });
  show();
})();
