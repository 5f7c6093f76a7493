// "Where am I?" with no network: the questions and the answer come from the device's own log, and what she writes down goes
// into it, to be sent later. Where the server can be reached the page's forms are its own. The same words as the page's
// (templates/maker/find.html); a test holds them alike.

import { h, notice, refill } from "./dom.js";
import { asked, found, NoNumber } from "./finding.js";
import { clear, say } from "./sheets.js";
import { openStore } from "../notebook/store.js";
import { capitalized } from "../notebook/words.js";
import { reached } from "../reached.js";

const BY_LOG = "this goes by the log on this device.", BY_THIS_DEVICE = `No network just now: ${BY_LOG}`;
const BY_SERVER = "No network just now, and this device has not got your log, so only the server can find your place. " +
  "What you typed stays here: ask again once there is a network.";
const NOT_WRITTEN = "This device could not keep that. Leave this page open until there is a network: it is sent from here.";
const STAYS = "What stays as it stands is what the log has.";
const COUNTED = "The notebook writes down what you count, as though it had been logged round by round.";
const HELD = "held-";

const where = document.getElementById("where"), questions = document.getElementById("questions");
const { part, piece: number, notebook } = where.dataset, piece = Number(number), here = `/notebook/${part}/piece/${piece}`;
const asKept = document.getElementById("as-kept");
let store = null, asking = false;

const opened = openStore(Number(part), Number(notebook)).then((one) => { store = one; });
const log = () => [store.part.carried, store.making, piece];
const has = () => Boolean(store && store.gone === null && asked(...log()));
const started = () => store.making.pieces[piece].worked.length > 0;
const typedIn = (data) =>
  Object.fromEntries([...data].filter(([name]) => name.startsWith(HELD)).map(([name, value]) => [name.slice(HELD.length), String(value)]));

/** What she chose or typed before the log was open. */
const changed = () => Object.fromEntries([...questions.elements]
  .filter((each) => each.name && (each.selectedOptions ? !each.selectedOptions[0].defaultSelected : each.value !== each.defaultValue))
  .map(({ name, value }) => [name.slice(HELD.length), value]));

// --- drawing ---

/** The page that was kept, as it is by the log on this device; `typed` what she answered. */
function draw(typed) {
  const begun = started(), title = begun ? "Where am I?" : "Made already? Count it in";
  where.querySelector("h1").textContent = title;
  document.getElementById("where-how").textContent = `Count what you hold. ${begun ? STAYS : COUNTED}`;
  const fields = asked(...log()).map((each, at) => field(each, `held-${at + 1}`, typed[each.key] ?? String(each.inLog)));
  refill(questions, fields, button(begun ? "Find my place" : "Count it in", "do"));
  asKept.textContent = `${asKept.textContent.split(":")[0]}: ${BY_LOG}`; // no network, or a slow one
}

function field({ key, asks, inLog, all }, id, value) {
  const option = (rounds, words) => h("option", { value: rounds, selected: value === String(rounds) }, words);
  const choice = () => h("select", { class: "input", id, name: HELD + key },
    option(0, "not made"),
    0 < inLog && inLog < all && option(inLog, `begun: ${inLog} of ${all} rounds`),
    option(all, `made${all > 1 ? `, all ${all} rounds` : ""}`));
  const number = () => h("input", { class: "input input--number", id, name: HELD + key, value, inputmode: "numeric",
    autocomplete: "off", maxlength: 6 });
  return h("div", { class: "field" }, h("label", { class: "field-label", for: id }, capitalized(asks)), all === null ? number() : choice());
}

const button = (words, css) => h("button", { class: `button button--${css}`, type: "submit" }, words);

/** What came of it, in the place where the server's answer stands. */
function answer(...matter) {
  document.getElementById("found")?.remove();
  questions.before(h("div", { id: "found", class: "stack--close", role: "status" }, matter));
}

function answerFound(typed) {
  const { says, cannot, off, keep, agrees } = found(...log(), typed), lines = (each) => each.map((words) => h("p", {}, words));
  const source = asKept ? null : h("p", { class: "quiet" }, BY_THIS_DEVICE);
  if (cannot.length) answer(notice("differs", "That does not come out:", lines(cannot)), source);
  else if (agrees) {
    answer(notice("good", says), h("p", {}, "The log says the same."),
      h("a", { class: "button button--do", href: here }, "Go on from there"), source);
  } else {
    const fields = Object.entries(typed).map(([key, value]) => h("input", { type: "hidden", name: HELD + key, value }));
    answer(notice("note", says, lines(off)),
      h("form", { class: "stack--close", "data-here": true }, fields, button("Write that down and go on from there", "do")),
      keep && h("p", { class: "quiet" }, keep), source);
  }
  const last = questions.querySelector(".button");
  last.className = `button button--${cannot.length ? "do" : "plain"}`;
}

// --- doing ---

/** Finds her place on this device, or says at its field what is no number. */
function find(typed) {
  clear(questions);
  try {
    answerFound(typed);
  } catch (refusal) {
    if (!(refusal instanceof NoNumber)) throw refusal;
    document.getElementById("found")?.remove();
    say(questions, { message: refusal.message, field: HELD + refusal.key });
    return;
  }
  // Loaded again, the page has what she typed.
  history.replaceState(null, "", `?${new URLSearchParams(Object.entries(typed).map(([key, value]) => [HELD + key, value]))}`);
  document.getElementById("found").scrollIntoView({ block: "nearest" });
}

/** Writes down what she holds, into the log on this device, and goes on from there. */
async function writeDown(typed) {
  for (const { kind, values } of found(...log(), typed).entries) {
    store.log(piece, kind, values);
    await store.written;
  }
  if (store.saved === "not") answer(notice("care", NOT_WRITTEN));
  else location.assign(here);
}

document.addEventListener("submit", (event) => {
  const form = event.target, byThisDevice = "here" in form.dataset;
  event.preventDefault();
  if (asking) return;
  asking = true;
  void (async () => {
    // `asking` stays then: a second press sends nothing twice.
    if (!byThisDevice && (await reached())) return HTMLFormElement.prototype.submit.call(form);
    await opened;
    const typed = typedIn(new FormData(form));
    if (!has()) answer(notice("care", BY_SERVER));
    else if (byThisDevice || form.method === "post") await writeDown(typed);
    else find(typed);
    asking = false;
  })();
});

addEventListener("pageshow", ({ persisted }) => { if (persisted) asking = false; }); // she came back to it

void (async () => {
  await opened;
  if (!asKept || !has()) return;
  const typed = typedIn(new URLSearchParams(location.search));
  draw({ ...typed, ...changed() });
  if (Object.keys(typed).length) find(typed); // asked of the server, which could not be reached
})();
