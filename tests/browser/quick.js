// Watches from now on how long it takes from Enter until the mark of how a figure looks is painted, and how
// much the page has moved by itself since it was opened; called again, says it.
if (!window.watched) {
  const watched = (window.watched = { marks: [], moved: 0, what: [], painted: 0 });
  const isMark = (node) => node.classList?.contains("looked");
  new MutationObserver((changes) => {
    if (!window.entered || !changes.some(({ addedNodes }) => [...addedNodes].some(isMark))) return;
    const since = window.entered;
    window.entered = undefined;
    requestAnimationFrame(() => setTimeout(() => watched.marks.push(performance.now() - since)));
  }).observe(document.body, { childList: true, subtree: true });
  const watch = (type, seen) => new PerformanceObserver((list) => list.getEntries().forEach(seen)).observe({ type, buffered: true });
  watch("layout-shift", ({ value, hadRecentInput, sources }) => {
    if (hadRecentInput) return;
    watched.moved += value;
    watched.what.push(...sources.map(({ node }) => node?.outerHTML?.slice(0, 120) ?? String(node?.textContent)));
  });
  watch("largest-contentful-paint", ({ startTime }) => (watched.painted = startTime));
}
return window.watched;
