// Gauges that type like a keyboard: a figure faster than fingers, ended with Enter, Tab or nothing. It goes into the slot
// that is armed, wherever the focus is; where none is, it is refused so that somebody sees it, on every page.
"use strict";
(() => {
  // Fingers roll over two keys this fast, not four in a row.
  const FAST = 50;
  const ENOUGH = 4;
  const SILENCE = 250;
  const NONE = { text: "", at: 0, into: null, before: "" };
  const field = () => document.querySelector("form[data-entry]:not([hidden]) [name=value]");
  const writes = (element) => element.matches?.("input:not([type=hidden]), textarea, select");
  // A field that somebody chose for a figure may be filled by a gauge too. Beside an armed slot, and in a note, it is a slip.
  const isChosen = (element) => element.matches?.("input") && (!document.querySelector("form[data-entry]") || element.matches(".entry"));
  let burst = NONE;
  let silence;

  const isBurst = () => burst.text.length >= ENOUGH && /^[\d.,+\-]/.test(burst.text);

  function forget() {
    clearTimeout(silence);
    burst = NONE;
  }

  function refuse() {
    if (writes(burst.into)) burst.into.value = burst.before;
    const said = document.getElementById("stray");
    const way = document.querySelector(".slot-arm") ? "Touch a row, then send it again." : "Open its sheet, then send it again.";
    said.textContent = `${burst.text} came from a gauge and no slot is armed for it. It is not kept. ${way}`;
    said.hidden = false;
    forget();
  }

  // A gauge that ends with nothing has ended.
  function end() {
    if (!isBurst()) return;
    const armed = field();
    if (burst.into !== armed && !isChosen(burst.into)) return refuse();
    if (burst.into === armed) armed.form.requestSubmit();
    forget();
  }

  function follow(event) {
    const soon = burst.text && event.timeStamp - burst.at < FAST;
    burst = soon ? { ...burst, text: burst.text + event.key } : { text: event.key, into: document.activeElement, before: document.activeElement.value };
    burst.at = event.timeStamp;
    const stray = document.getElementById("stray");
    if (!stray.hidden) stray.hidden = true;
    clearTimeout(silence);
    silence = setTimeout(end, SILENCE);
  }

  addEventListener("keydown", (event) => {
    const { key, target } = event;
    if (event.isComposing || event.ctrlKey || event.metaKey || event.altKey || event.repeat) return;
    const ends = key === "Enter" || (key === "Tab" && !event.shiftKey);
    if (ends && field() && target === field()) {
      forget();
      if (!field().value.trim()) return;
      // Sent at once: a browser would first press the button and draw it pressed.
      event.preventDefault();
      field().form.requestSubmit();
    } else if (ends && isBurst() && !isChosen(burst.into)) {
      event.preventDefault();
      end();
    } else if (/^[\d.,+\-/ a-zµ"]$/i.test(key)) {
      // Typed at nothing in particular: into the slot that is armed.
      if (field() && !writes(target) && /[\d.,+\-]/.test(key)) field().focus();
      follow(event);
    } else forget();
  }, true);
})();
