// Keys for a hand that is busy, and for a foot pedal, which sends Page and arrow keys. They press the page's own
// buttons, so that a key does what a tap does and no more.

const LOGS = new Set(["ArrowRight", "ArrowDown", "PageDown"]);
const TAKES_BACK = new Set(["ArrowLeft", "ArrowUp", "PageUp"]);
const TYPED_INTO = "input:not([type=checkbox]), textarea, select, [contenteditable]";

/** What a key means here: "log", "undo", or "" where it is left alone. */
export function meaning(event, logButton) {
  if (event.repeat || event.defaultPrevented || event.isComposing) return "";
  if (event.ctrlKey || event.metaKey || event.altKey || event.shiftKey) return "";
  const at = event.target;
  if (at.closest?.(TYPED_INTO) || document.querySelector("[popover]:popover-open")) return "";
  if (LOGS.has(event.key)) return "log";
  if (TAKES_BACK.has(event.key)) return "undo";
  const idle = at === document.body || at === logButton;
  return idle && (event.key === " " || event.key === "Enter") ? "log" : "";
}

/** Listens while `areOn()`; `doings.log` and `doings.undo` do it. */
export function listen(areOn, doings) {
  document.addEventListener("keydown", (event) => {
    const repeats = event.repeat && (LOGS.has(event.key) || TAKES_BACK.has(event.key));
    if (!areOn()) return;
    const logButton = document.querySelector(".button--log");
    if (repeats && !event.target.closest?.(TYPED_INTO)) {
      event.preventDefault(); // a key held down neither logs again nor scrolls the page away
      return;
    }
    const what = meaning(event, logButton);
    if (!what) return;
    event.preventDefault();
    doings[what]();
  });
}
