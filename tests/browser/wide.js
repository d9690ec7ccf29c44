// What makes the page wider than its screen, as "table.figures: 412 px"; nothing where it fits.
const screen = window.innerWidth;
if (document.documentElement.scrollWidth <= screen) return [];
const isScrolled = (element) => element !== document.body && (getComputedStyle(element).overflowX !== "visible" || isScrolled(element.parentElement));
return [...document.querySelectorAll("body *")]
  .filter((element) => !isScrolled(element.parentElement) && element.getBoundingClientRect().right > screen + 0.5)
  .map((element) => `${element.tagName.toLowerCase()}.${element.getAttribute("class") ?? ""}: ${Math.round(element.getBoundingClientRect().right)} px`)
  .concat(`${document.documentElement.scrollWidth} px in all, of ${screen}`);
