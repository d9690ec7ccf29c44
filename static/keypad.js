// The page's own keypad: it types into the armed slot, so that a tablet whose keyboard is hidden, or too small for wet
// fingers, is not needed. Signs stand before a figure and units after it. It is there where the screen is touched, until
// somebody puts it away.
"use strict";
(() => {
  const CHOICE = "keypad";
  const UNIT = /\s*[a-zµ°³·]+$/i;
  const SIGN = /^[+\-−]/;
  const root = document.documentElement;
  const { field } = Walk;
  const press = {
    digit: (text, key) => (UNIT.test(text) ? text.replace(UNIT, key + UNIT.exec(text)[0]) : text + key),
    sign: (text, key) => (text.startsWith(key) ? text.slice(1) : key + text.replace(SIGN, "")),
    unit: (text, key) => (text.endsWith(` ${key}`) ? text.replace(UNIT, "") : `${text.replace(UNIT, "")} ${key}`),
    erase: (text) => (UNIT.test(text) ? text.replace(UNIT, "") : text.slice(0, -1)),
  };

  // The tablet's own keyboard stays away while this one is there.
  function ready() {
    const touched = matchMedia("(pointer: coarse)").matches ? "shown" : "hidden";
    root.dataset.keypad = localStorage.getItem(CHOICE) ?? touched;
    if (field()) field().inputMode = root.dataset.keypad === "shown" ? "none" : "decimal";
  }

  addEventListener("click", ({ target }) => {
    if (target.closest?.("[data-keypad-toggle]")) {
      localStorage.setItem(CHOICE, root.dataset.keypad === "shown" ? "hidden" : "shown");
      ready();
    }
    const key = target.closest?.("[data-press]");
    if (!key || !Walk.armed()) return;
    field().value = press[key.dataset.press](field().value, key.dataset.key ?? key.textContent);
    Walk.typed();
    field().focus();
  });
  addEventListener("witness:shown", ready);
  ready();
})();
