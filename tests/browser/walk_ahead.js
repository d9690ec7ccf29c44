// The slot that is armed, then those after it, in bench order.
const armed = document.querySelector("form[data-entry]:not([hidden]) [name=slot]")?.value;
const slots = JSON.parse(document.getElementById("walk")?.dataset.walk || "[]").map(({ slot }) => slot);
const at = slots.indexOf(armed);
return at < 0 ? [] : [...slots.slice(at), ...slots.slice(0, at)];
