// Keys for a hand that is busy, and for a foot pedal, which sends Page and arrow keys. They press the page's own
// buttons, so that a key does what a tap does and no more.

const LOGS = new Set(["ArrowRight", "ArrowDown", "PageDown"]);
const TAKES_BACK = new Set(["ArrowLeft", "ArrowUp", "PageUp"]);
const HAS_ITS_OWN = "input:not([type=checkbox]), textarea, select, [contenteditable], .strip-chart"; // typed into, or scrolled by arrows

/** What a key means here: "log", "undo", or "" where it is left alone. */
export function meaning(event) {
  if (event.repeat || event.defaultPrevented || event.isComposing) return "";
  if (event.ctrlKey || event.metaKey || event.altKey || event.shiftKey) return "";
  const at = event.target;
  if (at.closest?.(HAS_ITS_OWN) || document.querySelector("[popover]:popover-open")) return "";
  if (LOGS.has(event.key)) return "log";
  if (TAKES_BACK.has(event.key)) return "undo";
  // On the button itself space and Enter press it without our help.
  return at === document.body && (event.key === " " || event.key === "Enter") ? "log" : "";
}

/** Listens while `areOn()`; `doings.log` and `doings.undo` do it. */
export function listen(areOn, doings) {
  document.addEventListener("keydown", (event) => {
    const onLog = event.target.closest?.(".button--log");
    if (event.repeat && onLog && event.key === "Enter") event.preventDefault(); // a key held down logs once
    if (!areOn()) return;
    const held = event.repeat && (LOGS.has(event.key) || TAKES_BACK.has(event.key));
    if (held && !event.target.closest?.(HAS_ITS_OWN)) event.preventDefault(); // nor does the page scroll away
    const what = meaning(event);
    if (!what) return;
    event.preventDefault();
    doings[what]();
  });
}
