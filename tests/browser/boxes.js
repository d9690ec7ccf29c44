// Where what a selector finds lies on the screen now, in whole px within it: [x, y, width, height]. The first of them is
// brought onto the screen.
const [selector] = arguments;
const found = [...document.querySelectorAll(selector)].filter((element) => element.checkVisibility());
found[0]?.scrollIntoView({ block: "center", behavior: "instant" });
return found
  .map((element) => element.getBoundingClientRect())
  .filter(({ top, bottom, left, right, width, height }) => width > 4 && height > 4 && top >= 0 && left >= 0 && bottom <= innerHeight && right <= innerWidth)
  .map(({ x, y, width, height }) => [Math.ceil(x), Math.ceil(y), Math.floor(width) - 1, Math.floor(height) - 1]);
