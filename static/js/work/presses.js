// Two presses that are one: the second half of a double tap, wherever it lands, and a pedal whose contact bounces. Each is
// told from the press before it of its own kind, by the moment it was made and not the one the page came round to it.

const APART_MS = { tap: 300, key: 100 }; // no hand means two rounds so soon; a key held down repeats, and says so (keys.js)

/**
 * Listens. The second half of a double tap goes no further, and `again()` is called. Returns what a form that is sent
 * asks: whether the press that sent it is one of its own, and no bounce.
 */
export function watchPresses(again) {
  const taken = { tap: -Infinity, key: -Infinity };
  let last = null;
  document.addEventListener("keydown", ({ timeStamp }) => { last = { by: "key", ms: timeStamp }; }, true);
  document.addEventListener("click", (event) => {
    last = { by: event.detail ? "tap" : "key", ms: event.timeStamp }; // a key's click counts none
    if (!event.detail || event.timeStamp - taken.tap >= APART_MS.tap) return;
    event.preventDefault();
    event.stopPropagation();
    again();
  }, true);
  return (event) => {
    const { by, ms } = last ?? { by: "key", ms: event.timeStamp };
    last = null;
    if (ms - taken[by] < APART_MS[by]) return false;
    taken[by] = ms;
    return true;
  };
}

/** What came by her own press is under her finger already: it need not wait until it takes the next. */
export function ready() {
  for (const each of document.getAnimations()) if (each.animationName === "settle") each.finish();
}
