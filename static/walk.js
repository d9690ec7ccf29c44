// The walk through a sheet's slots: which one is armed, and which comes after it, by what the server sent with the page.
// At most one slot is armed; while none is, nothing can be typed.
"use strict";
const Walk = (() => {
  // A page that came back refused stands at the address its form was sent to.
  const sheet = /^\/jobs\/\d+\/sheets\/[^/]+/.exec(location.pathname)[0];
  const form = () => document.querySelector("form[data-entry]");
  const field = () => form()?.elements.value;
  const armed = () => (form() && !form().hidden ? form().elements.slot.value : "");
  let read = { text: "[]", stops: [] };
  function stops() {
    const text = document.getElementById("walk")?.dataset.walk || "[]";
    if (text !== read.text) read = { text, stops: JSON.parse(text) };
    return read.stops;
  }
  const stop = (slot) => stops().find((other) => other.slot === slot);
  const shownPlace = () => document.getElementById("part-place").dataset.at;

  // What was typed for a slot and not entered; the newest reading known of one; readings taken back.
  const drafts = new Map();
  const newest = new Map();
  const undone = new Set();

  // The reading that somebody at a slot has seen, the newest on its way to the server before any other.
  function seen(slot, saw) {
    const known = newest.get(slot) ?? 0;
    return (undone.has(Number(saw)) ? known : Math.max(known, Number(saw) || 0)) || "";
  }

  const onItsWay = (slot) => Unsent.all().filter((item) => item.sheet === sheet && item.slot === slot);

  // A slot that is read twice is open again once the server knows of its first reading.
  function isOpen({ slot, open, saw }) {
    const last = onItsWay(slot).at(-1);
    if (last) return !!last.undoes;
    return undone.has(Number(saw)) || (open && (newest.get(slot) ?? 0) <= (Number(saw) || 0));
  }

  const text = (interval) => (interval ? interval.join(" ") : "");

  // What is typed is compared with what the server knows of its slot now.
  function compareBy(stop) {
    Object.assign(field().dataset, {
      bare: stop.bare, bareFrom: text(stop.bare_from), plus: text(stop.deviation), accept: text(stop.accept), expect: text(stop.expect),
    });
  }

  function typed() {
    field().dispatchEvent(new Event("input", { bubbles: true }));
  }

  function keepDraft() {
    if (field()?.value.trim()) drafts.set(armed(), field().value);
  }

  function arm(stop) {
    keepDraft();
    const [fields, entry] = [form().elements, field()];
    form().hidden = false;
    document.getElementById("rest").hidden = true;
    fields.slot.value = stop.slot;
    fields.saw.value = seen(stop.slot, stop.saw);
    fields.gauge.value = stop.gauge_id;
    entry.value = drafts.get(stop.slot) ?? "";
    drafts.delete(stop.slot);
    for (const shown of document.querySelectorAll("[data-armed]")) shown.textContent = stop[shown.dataset.armed];
    compareBy(stop);
    entry.removeAttribute("aria-invalid");
    document.getElementById(`${entry.id}-fault`)?.remove();
    for (const row of document.querySelectorAll(".slot")) row.classList.toggle("is-armed", row.id === `slot-${stop.slot}`);
    typed();
    if (document.activeElement !== entry) entry.focus();
    if (stop.at !== shownPlace()) soon(refresh);
  }

  // Until the server has said where the sheet goes on, what a gauge sends has nowhere to go.
  function disarm() {
    keepDraft();
    form().hidden = true;
    document.getElementById("rest").hidden = false;
    for (const row of document.querySelectorAll(".slot.is-armed")) row.classList.remove("is-armed");
  }

  function goOn(slot) {
    const all = stops();
    const at = all.findIndex((stop) => stop.slot === slot);
    const next = [...all.slice(at + 1), ...all.slice(0, at)].find(isOpen);
    if (next) arm(next);
    else disarm();
    return !!next;
  }

  function refresh(query = { slot: armed() }, all = false) {
    const address = query.slot || query.at ? `${sheet}?${new URLSearchParams(query)}` : location.href;
    history.replaceState(null, "", address);
    dispatchEvent(new CustomEvent("witness:parts", { detail: { address, all } }));
  }

  // What follows is fetched when the gauge pauses: drawing it must not hold up the next figure.
  const PAUSE = 200;
  let pending;
  let pause;
  function soon(what) {
    pending = what;
    clearTimeout(pause);
    pause = setTimeout(() => {
      pending = undefined;
      what();
    }, PAUSE);
  }
  addEventListener("keydown", () => pending && soon(pending));

  // The walk is at its end: the page shows how the place stands, and nothing is armed until somebody touches a row. A
  // gauge that goes on sending must not run on into another way of measuring.
  let resting = false;
  function rest() {
    resting = true;
    refresh({ at: shownPlace() }, true);
  }

  // Goes to a slot or a place: at once where it lies on the walk, or else by what the server shows of it.
  function visit(query) {
    const there = form() && stops().find((stop) => (query.slot ? stop.slot === query.slot : stop.at === query.at && isOpen(stop)));
    if (there) return arm(there);
    if (form()) disarm();
    refresh(query, true);
  }

  // What the server armed may have been typed already and be on its way.
  function passOver() {
    const there = stop(armed());
    if (there && !isOpen(there) && onItsWay(there.slot).length) goOn(there.slot);
  }

  addEventListener("witness:shown", ({ detail: { all } }) => {
    const there = armed() && stop(armed());
    if (there) compareBy(there);
    if (there && field().value) typed();
    if (!all || !field()) return;
    if (resting) disarm();
    resting = false;
    passOver();
    if (!armed()) return;
    field().value = drafts.get(armed()) ?? field().value;
    typed();
    field().focus();
  });

  // The server cannot be reached: what was armed is armed again, so that the walk goes on without it.
  addEventListener("witness:unreached", () => {
    resting = false;
    if (!form()?.hidden) return;
    const back = stops().find(isOpen);
    if (back) arm(back);
  });

  passOver();
  return { sheet, form, field, armed, stops, stop, shownPlace, drafts, newest, undone, seen, onItsWay, isOpen, arm, goOn, rest, refresh, soon, visit, typed };
})();
