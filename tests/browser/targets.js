// What can be touched and is smaller than arguments[0] px one way or the other. A link inside a sentence, and a choice
// whose label can be touched as well, are measured by what surrounds them. What waits above the page for the keyboard is
// not for fingers.
const [least] = arguments;
const selector = "a[href], button, input:not([type=hidden]), select, textarea, summary, [role=button], [role=tab]";

function touched(element) {
  const label = element.labels?.[0];
  const touchedToo = element.type === "radio" || element.type === "checkbox" || (element.type === "file" && label?.contains(element));
  return touchedToo && label ? label : element;
}

const name = (element) =>
  (element.innerText || element.value || element.getAttribute("aria-label") || element.name || element.tagName).trim();

return [...document.querySelectorAll(selector)]
  .filter((element) => touched(element).checkVisibility({ visibilityProperty: true }))
  .filter((element) => !(element.tagName === "A" && element.closest("p, li, th, td, dd") && getComputedStyle(element).display === "inline"))
  .map((element) => ({ element, box: touched(element).getBoundingClientRect() }))
  .filter(({ box }) => box.bottom > 0 && box.width > 1 && box.height > 1 && (box.width < least || box.height < least))
  .map(({ element, box }) => `${name(element)}: ${Math.round(box.width)} × ${Math.round(box.height)}`);
