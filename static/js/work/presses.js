// Two presses that are one: the second half of a double tap, whatever lies there by then, and a pedal whose contact bounces.
// Each is told from the press before it of its own kind, by the moment it was made and not the one the page came round to it.

const APART_MS = { tap: 300, key: 100 }; // no hand means two rounds so soon; a key held down repeats, and says so (keys.js)
const APART_PX = 48; // another finger, at another button

/**
 * Listens. The second half of a double tap goes no further, and `again()` is called. Returns what a form that is sent
 * asks: whether the press that sent it is one of its own, and no bounce.
 */
export function watchPresses(again) {
  const taken = { tap: { ms: -Infinity, x: 0, y: 0 }, key: { ms: -Infinity } };
  let last = null;
  document.addEventListener("keydown", ({ timeStamp }) => { last = { by: "key", ms: timeStamp }; }, true);
  document.addEventListener("click", (event) => {
    const { detail, timeStamp: ms, clientX: x, clientY: y, target } = event, { tap } = taken;
    last = { by: detail ? "tap" : "key", ms, x, y }; // a key's click counts none
    if (!detail || target.closest?.(".sheet")) return; // a sheet that is sent is gone from under the finger
    if (ms - tap.ms >= APART_MS.tap || Math.hypot(x - tap.x, y - tap.y) >= APART_PX) return;
    event.preventDefault();
    event.stopPropagation();
    again();
  }, true);
  return (event) => {
    const press = last ?? { by: "key", ms: event.timeStamp };
    last = null;
    if (press.by === "key" && press.ms - taken.key.ms < APART_MS.key) return false;
    taken[press.by] = press;
    return true;
  };
}

/** What came by her own press is under her finger already: it need not wait until it takes the next. */
export function ready() {
  for (const each of document.getAnimations()) if (each.animationName === "settle") each.finish();
}
