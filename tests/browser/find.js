// What a person would take the words for: arguments are the kind of thing, the words, and the part of the page to look in
// (or null). Returns the elements whose name is exactly that; failing these, those whose name begins with it.
const [kind, words, part] = arguments;

const kinds = {
  field: "input:not([type=hidden]):not([type=radio]):not([type=checkbox]):not([type=submit]), textarea, select",
  choice: "input[type=radio], input[type=checkbox]",
  press: "button, a[href], input[type=submit], summary, [role=button], [role=tab]",
  part: "main, section, article, fieldset, form, li, tr, dl, figure, details, dialog, nav, aside, [role=group], [role=region]",
};

const plain = (text) => (text ?? "").replace(/\s+/g, " ").trim();
const shown = (element) => element.checkVisibility({ visibilityProperty: true }) && element.getClientRects().length > 0;
const named = (ids) => (ids ?? "").split(" ").map((id) => document.getElementById(id)?.innerText).join(" ");

const labels = (element) => [...(element.labels ?? [])].map((label) => label.innerText);

function names(element) {
  const heading = kind === "part" && (element.querySelector("h1, h2, h3, h4, legend, th, dt") ?? element.querySelector("a, summary"));
  return [
    element.getAttribute("aria-label"),
    named(element.getAttribute("aria-labelledby")),
    ...labels(element),
    kind === "press" ? element.innerText : null,
    element.type === "submit" ? element.value : null,
    heading ? heading.innerText : null,
  ].map(plain).filter(Boolean);
}

// A file input and a choice may be drawn by their label.
function reachable(element) {
  return shown(element) || (element.type !== "text" && [...(element.labels ?? [])].some(shown));
}

function within(root, selector, wanted) {
  const all = [...root.querySelectorAll(selector)].filter(reachable);
  const exact = all.filter((element) => names(element).includes(wanted));
  return exact.length > 0 ? exact : all.filter((element) => names(element).some((name) => name.startsWith(wanted)));
}

function innermost(elements) {
  return elements.filter((element) => !elements.some((other) => other !== element && element.contains(other)));
}

if (kind === "text") {
  const root = part ?? document.body;
  return plain(root?.innerText);
}
const found = within(part ?? document, kinds[kind], plain(words));
return kind === "part" ? innermost(found) : found;
