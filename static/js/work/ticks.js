// Ticked steps of the round at hand, kept on this device: still ticked when she comes back in ten days.

/** @param {string} part @param {number} piece */
export function keepTicks(part, piece) {
  const key = `evenhand-ticks-${part}-${piece}`;
  const boxes = () => [...document.querySelectorAll("ol.steps[data-spot] input")];
  const spot = () => document.querySelector("ol.steps")?.dataset.spot;

  document.addEventListener("change", (event) => {
    if (!event.target.closest("ol.steps[data-spot]")) return;
    const ticked = boxes().flatMap((box, at) => (box.checked ? [at] : []));
    try {
      localStorage.setItem(key, JSON.stringify({ spot: spot(), ticked }));
    } catch {
      // they stay as long as the page is open
    }
  });

  /** Ticks again what was ticked in this round. */
  return () => {
    try {
      const kept = JSON.parse(localStorage.getItem(key) ?? "null");
      if (!kept || kept.spot !== spot()) return;
      boxes().forEach((box, at) => { if (kept.ticked.includes(at)) box.checked = true; });
    } catch {
      // unreadable: none are ticked
    }
  };
}
