// What a figure looks like while it is typed: good, out or odd, by the intervals that the server sent with its field.
// It converts units and compares. What it cannot read it says nothing of; the verdict comes from the server.
"use strict";
const Looks = (() => {
  const SI = { in: 0.0254, '"': 0.0254, thou: 2.54e-5, tenth: 2.54e-6, tenths: 2.54e-6, mm: 1e-3, "µm": 1e-6, "μm": 1e-6, um: 1e-6, cc: 1e-6, ml: 1e-6, g: 1e-3 };
  const FIGURE = /^([+\-−]?)\s*(\d+(?:[.,]\d*)?|[.,]\d+)\s*([a-zµμ"]*)$/i;

  const pair = (text) => (text ? text.split(" ").map(Number) : null);

  // A figure in SI; undefined where the server had better read it.
  function read(text, { bare, bareFrom, plus }) {
    const parts = FIGURE.exec(text.trim());
    if (!parts) return undefined;
    const [, sign, digits, word] = parts;
    const figure = Number(digits.replace(",", "."));
    const unit = SI[word.toLowerCase()];
    if (word && !unit) return undefined;
    if (sign) return plus ? plus[0] + (sign === "+" ? 1 : -1) * figure * (unit ?? plus[1]) : undefined;
    if (unit) return figure * unit;
    if (figure === 0) return plus?.[0];
    return figure * (bareFrom && figure >= bareFrom[0] ? bareFrom[1] : bare);
  }

  function of(field) {
    const said = field.dataset;
    const value = read(field.value, { bare: Number(said.bare), bareFrom: pair(said.bareFrom), plus: pair(said.plus) });
    const outside = (interval) => interval && (value < interval[0] || value > interval[1]);
    const [accept, expect] = [pair(said.accept), pair(said.expect)];
    if (value === undefined) return "";
    if (outside(expect)) return "odd";
    if (outside(accept)) return "out";
    return accept ? "good" : "";
  }

  // A gauge types faster than the screen is drawn: once a frame is enough.
  let waits = false;
  function show(field) {
    waits = false;
    const place = document.getElementById(field.dataset.looks);
    const word = of(field);
    if (!place || place.dataset.looks === word) return;
    place.textContent = word && `looks ${word}`;
    place.dataset.looks = word;
  }

  addEventListener("input", ({ target }) => {
    if (!target.dataset.looks || waits) return;
    waits = true;
    requestAnimationFrame(() => show(target));
  });
  return { of };
})();
