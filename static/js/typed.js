// Forms of pages that only the server can answer: sent where it can be reached. Where it cannot, the page stays as it
// is, says so, and keeps what was typed on this device until it is sent.

import { reached } from "./reached.js";

const SAYS = "No network just now, so nothing was sent. What you typed is kept here: send it again once there is a network.";
const SAYS_BUTTON = "No network just now, so nothing was done. Press again once there is a network.";
const AGAIN = "This was not sent: there was no network. What you typed is here; look through it and send it.";
const key = `evenhand-typed-${location.pathname}`; // taken off with all that pages noted for themselves (notebook/installing.js)
let asking = false;

const said = (form, name) => String(new FormData(form).get(name) ?? "");
/** Which form of the page, and whose: another notebook on this device is another maker's. */
const nameOf = (form) => ["notebook", "kind", "piece"].map((name) => said(form, name)).join(" ");
const fields = (form) => [...form.elements].filter((each) => each.name && each.type !== "hidden");
const choosing = (field) => field.type === "radio" || field.type === "checkbox";

function read() {
  try {
    return JSON.parse(localStorage.getItem(key) ?? "{}") ?? {};
  } catch {
    return {};
  }
}

function keep(form, typed) {
  const kept = read();
  if (typed?.length) kept[nameOf(form)] = typed;
  else delete kept[nameOf(form)];
  try {
    if (Object.keys(kept).length) localStorage.setItem(key, JSON.stringify(kept));
    else localStorage.removeItem(key);
  } catch {
    // no room: it stays as long as the page is open
  }
}

function say(form, words) {
  let line = form.querySelector("[data-not-sent]");
  if (!line) {
    line = document.createElement("p");
    line.className = "notice notice--care";
    line.dataset.notSent = "";
    line.setAttribute("role", "status");
    form.append(line);
  }
  line.textContent = words;
}

document.addEventListener("submit", (event) => {
  const form = event.target;
  event.preventDefault();
  if (asking) return;
  asking = true;
  void (async () => {
    if (await reached()) {
      if (form.method === "post") keep(form, null);
      HTMLFormElement.prototype.submit.call(form); // `asking` stays: a second press sends nothing twice
      return;
    }
    asking = false;
    const typed = fields(form).filter((each) => !choosing(each) || each.checked).map(({ name, value }) => [name, value]);
    if (form.method === "post") keep(form, typed);
    say(form, typed.length ? SAYS : SAYS_BUTTON);
  })();
});

addEventListener("pageshow", ({ persisted }) => { if (persisted) asking = false; }); // she came back to it

/** What was typed and not sent stands in its form again. */
for (const form of document.querySelectorAll("form[method=post]")) {
  const typed = read()[nameOf(form)];
  if (!typed) continue;
  for (const field of fields(form)) {
    const values = typed.filter(([name]) => name === field.name).map(([, value]) => value);
    if (choosing(field)) field.checked = values.includes(field.value);
    else if (values.length) field.value = values[0];
  }
  const more = form.closest("details");
  if (more) more.open = true;
  say(form, AGAIN);
}
