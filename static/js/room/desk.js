// The host's desk: it goes on by key, sends its forms in place, and shows what the others do as it comes.

import { listen } from "./stream.js";
import { refresh, send } from "./regions.js";
import { keepTime } from "./timers.js";

const AT_MOST_EVERY_MS = 700, HEADS_EVERY_MS = 10_000;
const KEYS = { ArrowRight: "on", PageDown: "on", " ": "on", ArrowLeft: "back", PageUp: "back" };
const desk = document.querySelector("[data-desk]");
const line = desk.querySelector("[data-standing]");
let due = null, looking = false;

/** Looks again soon, however much comes. */
function lookSoon() {
  if (due) return;
  due = setTimeout(async () => {
    due = null;
    if (looking) return lookSoon();
    looking = true;
    await refresh();
    looking = false;
  }, AT_MOST_EVERY_MS);
}

/** Forms that move say which place they were sent from: the one that the page shows when their turn comes. */
function bringUpToDate() {
  const seen = document.getElementById("desk-step")?.dataset.seenNow ?? "";
  for (const field of desk.querySelectorAll("[data-seen]")) field.value = seen;
}

desk.addEventListener("submit", (event) => {
  if (!event.target.matches("[data-sent]")) return;
  event.preventDefault();
  send(event.target, event.submitter, bringUpToDate);
});

document.addEventListener("keydown", (event) => {
  const how = KEYS[event.key];
  if (!how || event.repeat || event.altKey || event.ctrlKey || event.metaKey || event.isComposing) return;
  if (event.target.closest("input, textarea, select, summary") || (event.key === " " && event.target.closest("button, a"))) return;
  const form = desk.querySelector(`[data-move="${event.shiftKey ? `round ${how}` : how}"]`);
  if (!form) return;
  event.preventDefault();
  send(form, null, bringUpToDate);
});

keepTime(Number(desk.dataset.clock));
const openWords = line.textContent;
listen(desk.dataset.stream, 0, lookSoon, (isHeard) => {
  line.textContent = isHeard ? openWords : "The server does not answer just now. This page tries again by itself.";
}, true);
setInterval(() => { if (!document.hidden) lookSoon(); }, HEADS_EVERY_MS);
