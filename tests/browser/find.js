// What a person would take the words for, in whatever case: arguments are the kind of thing, the words, and the headings of
// the parts to look in, each within the one before. Returns the elements whose name is exactly that; failing these, those
// whose name begins with it. Nothing is found in a part that is not there, or there twice.
const [kind, words, headings] = arguments;

const kinds = {
  field: "input:not([type=hidden]):not([type=radio]):not([type=checkbox]):not([type=submit]), textarea, select",
  choice: "input[type=radio], input[type=checkbox]",
  press: "button, a[href], input[type=submit], summary, [role=button], [role=tab]",
  part: "main, section, article, fieldset, form, li, tr, dl, figure, details, dialog, nav, aside, [role=group], [role=radiogroup], [role=region]",
};

const plain = (text) => (text ?? "").replace(/\s+/g, " ").trim();
// The style may set a capital.
const spoken = (text) => plain(text).toLowerCase();
const shown = (element) => element.checkVisibility({ visibilityProperty: true }) && element.getClientRects().length > 0;
const named = (ids) => (ids ?? "").split(" ").map((id) => document.getElementById(id)?.innerText).join(" ");

const labels = (element) => [...(element.labels ?? [])].map((label) => label.innerText);

function names(element, kind) {
  const heading = kind === "part" && (element.querySelector("h1, h2, h3, h4, legend, th, dt") ?? element.querySelector("a, summary"));
  return [
    element.getAttribute("aria-label"),
    named(element.getAttribute("aria-labelledby")),
    ...labels(element),
    kind === "press" ? element.innerText : null,
    element.type === "submit" ? element.value : null,
    heading ? heading.innerText : null,
  ].map(spoken).filter(Boolean);
}

// A file input and a choice may be drawn by their label.
function reachable(element) {
  return shown(element) || (element.type !== "text" && [...(element.labels ?? [])].some(shown));
}

function within(root, kind, words) {
  const wanted = spoken(words);
  const all = [...root.querySelectorAll(kinds[kind])].filter(reachable);
  const exact = all.filter((element) => names(element, kind).includes(wanted));
  const found = exact.length > 0 ? exact : all.filter((element) => names(element, kind).some((name) => name.startsWith(wanted)));
  return kind === "part" ? innermost(found) : found;
}

function innermost(elements) {
  return elements.filter((element) => !elements.some((other) => other !== element && element.contains(other)));
}

let root = document.body;
for (const heading of headings) {
  const parts = root ? within(root, "part", heading) : [];
  root = parts.length === 1 ? parts[0] : null;
}
if (kind === "text") return plain(root?.innerText);
return root ? within(root, kind, words) : [];
