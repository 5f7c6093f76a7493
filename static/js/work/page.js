// The working page with scripts: what she does is shown at once, from this device's store, and sent when there is a
// network. Until the store is open, and where there is none, the page's own forms do the same by the server.

import { keepAhead } from "./ahead.js";
import { canStayAwake, askAgain, stayAwake } from "./awake.js";
import { drawAll, drawGone } from "./draw.js";
import { h, oneButton } from "./dom.js";
import { keepDraft } from "./draft.js";
import { entryOf, Refusal } from "./entries.js";
import { buzz, say as speak, spokenRound } from "./feedback.js";
import { listen } from "./keys.js";
import { openLikely } from "./likely.js";
import { ready, watchPresses } from "./presses.js";
import { watchRest } from "./rest.js";
import { applyLook, openSettings } from "./settings.js";
import { clear, fillSheets, say, tickThrough } from "./sheets.js";
import { openStrips } from "./strips.js";
import { fetchesAhead, hasLogged, openStore } from "../notebook/store.js";
import { noteWhereabouts } from "../notebook/whereabouts.js";
import { keepTicks } from "./ticks.js";
import { watchYarn } from "./yarn.js";

const STRIPS_AHEAD = 3;
const SENT_WITHIN_MS = 1500; // longer than that nobody waits for a page

const work = document.getElementById("work");
const { part, noun, notebook } = work.dataset, piece = Number(work.dataset.piece);
const page = {
  part, pair: work.dataset.pair === "yes", one: `${noun} one`, two: `${noun} two`, action: `/notebook/${part}/entries`,
  strips: openStrips(part, piece), newer: document.getElementById("work-newer"),
};
const likely = openLikely(part, () => draw());
const tickAgain = keepTicks(part, piece), askYarn = watchYarn(part, piece), isItsOwn = watchPresses(sayOnce);
const lookAhead = keepAhead(notebook, part);
let store = null, begun = false, shown = "";

const settings = openSettings(null, () => undefined);
let kept = settings;

// --- drawing ---

function viewNow() {
  const view = store?.view(piece);
  if (!view) return null;
  const last = view.undo && store.entries.find((entry) => entry.id === view.undo.id);
  const counted = likely.beside(view, store.making.pieces[piece].counted, store.part.plan, numbersNow());
  return { ...view, counted, undo: view.undo && { ...view.undo, at: last?.at } };
}

const numbersNow = () => store.making.pieces[piece].numbers ?? store.making.settled;

/** What may be needed with no network, the drawings' likes too: not on a first visit that looks round. */
function fetchAhead() {
  const wrong = store?.view(piece)?.counted.some((each) => !each.agrees), may = store && !store.gone && fetchesAhead();
  if (wrong || may) void likely.fetch(store.part.plan, numbersNow());
  if (may) lookAhead(Object.keys(store.part.carried.names), hasLogged());
}

function draw() {
  if (store?.gone) return void drawGone(store.gone);
  const view = viewNow();
  if (!view) return;
  const { saved, refused } = store;
  const now = JSON.stringify([view, saved, refused]);
  if (now === shown) return;
  shown = now;
  drawAll(page, view, { saved, refused });
  fillSheets(view);
  drawBack(view);
  tickAgain();
  noteWhereabouts(store);
  const ahead = fetchesAhead() ? STRIPS_AHEAD : 0;
  void page.strips.fetchNext(view.spot, view.ahead.slice(0, ahead).map((each) => each.spot)).then(drawStrip);
}

function drawStrip(came) {
  const place = document.getElementById("strip-chart"), view = came && viewNow();
  const drawing = place && view?.kind === "round" ? page.strips.at(view.spot) : null;
  if (!drawing) return;
  place.replaceChildren(drawing);
  place.hidden = false;
}

/** What came of it, for eyes and ears: `seen` false is for ears only. */
function answer(words, seen = true, ...more) {
  document.getElementById("work-said").replaceChildren(h("p", seen ? {} : { class: "out-of-sight" }, words), ...more);
}

/** The offer to put back what was taken back: that of the log as it is now, not of the page as it was kept. */
function drawBack({ redo }) {
  const offered = document.querySelector("#work-said [name=entry]")?.value;
  if (offered === redo?.id || (!offered && begun)) return;
  if (redo) answer(`Taken back: ${redo.words}.`, true, putBack(redo.id));
  else document.getElementById("work-said").replaceChildren();
}

/** The second half of a double tap did nothing: that is said, and what stands there stays. */
function sayOnce() {
  const said = document.getElementById("work-said");
  if (!said.querySelector("[data-once]")) said.append(h("p", { "data-once": true }, "Two taps at once count as one."));
}

const putBack = (entry) => oneButton(page.action, "undo", piece, "Put it back", { entry }, "button--small");

// --- doing ---

function carryOut({ kind, piece: of, values, id }) {
  const before = viewNow(), undone = kind === "undo" ? before?.undo : null;
  const entry = store.log(of, kind, values, id);
  draw();
  ready();
  const view = viewNow(), last = view?.undo?.words ?? "";
  if (kind === "undo") {
    if (undone && undone.id === values.entry) answer(`Taken back: ${view?.redo?.words ?? undone.words}.`, true, putBack(entry.id));
    else answer(`Put back: ${last}.`);
  } else if (kind === "counted") {
    const said = view?.counted.at(-1);
    answer(said ? `${said.label}: ${said.words}` : "", false);
  } else {
    const next = view?.kind === "round" ? `Next: ${view.label || view.section.title}${view.count ? `, at its end ${view.count}` : ""}.` : "";
    const left = view?.departures.filter(({ key }) => !before?.departures.some((each) => each.key === key)) ?? [];
    answer([`${last}.`, ...left.map((each) => each.words), next].join(" "), false);
  }
  rest.worked();
  if (kept.now.haptic) buzz(kind === "undo" ? "undo" : "log");
  if (kept.now.spoken && view && ["worked", "counted_in", "undo"].includes(kind)) speak(spokenRound(view));
}

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (form.id === "settings" && store) {
    event.preventDefault(); // every change is kept already
    form.closest("[popover]")?.hidePopover();
    return;
  }
  if (!store || store.gone || !store.view(piece) || !form.querySelector("[name=kind]")) return;
  let made;
  try {
    made = entryOf(form, store.view(piece).ahead.map((each) => each.spot));
  } catch (refusal) {
    if (!(refusal instanceof Refusal)) throw refusal;
    event.preventDefault();
    say(form, refusal);
    return;
  }
  if (!made) return;
  event.preventDefault();
  if (!isItsOwn(event)) return;
  const sheet = form.closest(".sheet");
  clear(form);
  if (sheet?.matches(":popover-open")) sheet.hidePopover();
  if (sheet) form.reset();
  if (sheet || store.entries.some(({ id }) => id === made.id)) delete made.id; // a form's id is used once
  carryOut(made);
  scrollTo({ top: 0, behavior: "instant" }); // what came of it stands at the top
});

/** A tap beside an open sheet closes it, and does not press what lies dimmed under the finger. */
let closing = false;
document.addEventListener("pointerdown", ({ target }) => {
  closing = document.querySelector(".sheet:popover-open") !== null && !target.closest?.(".sheet");
}, true);
document.addEventListener("click", (event) => {
  if (closing && event.detail) { // no key's
    event.preventDefault();
    event.stopPropagation();
  }
  closing = false;
}, true);

document.addEventListener("click", ({ target }) => {
  const id = target.closest?.("[data-dismiss]")?.dataset.dismiss;
  if (id) store.dismiss(id);
});

/** The pages beside this one are the server's: what was logged a moment ago goes there first, if it can. */
document.addEventListener("click", (event) => {
  const link = event.target.closest?.("a[href^='/notebook']");
  const plain = event.button === 0 && !(event.ctrlKey || event.metaKey || event.shiftKey || event.altKey);
  if (!link || !plain || event.defaultPrevented || !store || store.saved === "server" || !navigator.onLine) return;
  event.preventDefault();
  const go = () => {
    if (off) off();
    off = null;
    clearTimeout(timer);
    location.assign(link.href);
  };
  const timer = setTimeout(go, SENT_WITHIN_MS);
  let off = store.onChange(() => { if (store.saved === "server") go(); });
});

document.addEventListener("change", ({ target }) => {
  if (target.closest?.("#several-list")) tickThrough(target);
});

const press = (css) => {
  const button = document.querySelector(css);
  if (button?.checkVisibility({ visibilityProperty: true })) button.form.requestSubmit(button); // what is not shown is not pressed
};
listen(() => kept.now.keys, { log: () => press(".button--log"), undo: () => press(".button--undo") });

// --- the device ---

const awake = document.getElementById("awake");
const showAwake = (on) => awake.setAttribute("aria-checked", String(on));
let asked = 0;
const keepAwake = async () => {
  const mine = asked += 1, on = await stayAwake(kept.now.awake);
  if (mine === asked) showAwake(on); // what was asked for later says how it is
};
if (canStayAwake()) {
  awake.hidden = false;
  askAgain(showAwake);
  awake.addEventListener("click", () => void kept.set("awake", !kept.now.awake));
  void keepAwake();
}

const restLine = document.getElementById("work-rest");
const rest = watchRest(() => kept.now, (minutes) => {
  if (restLine.childElementCount) return;
  const button = (words, doing) => {
    const made = h("button", { class: "button button--small", type: "button" }, words);
    made.addEventListener("click", doing);
    return made;
  };
  restLine.replaceChildren(
    h("p", {}, `You have worked for ${minutes} minutes. Put it down for a moment and open your hands.`),
    h("div", { class: "row-of" }, button("Later", () => rest.later()), button("Off for good", () => void kept.set("rest", false))));
}, () => restLine.replaceChildren());

function settingChanged(name, told) {
  if (name === "large" || name === "left") applyLook(kept.now);
  if (name === "awake" && canStayAwake()) void keepAwake();
  if (name === "rest" || name === "rest_minutes") rest.look();
  if (name === "left") {
    page.strips.forget();
    void Promise.resolve(told).then(() => page.strips.fetchNext(viewNow()?.spot, [])).then(drawStrip);
  }
}

// --- the store ---

async function begin() {
  page.strips.keepShown(document.querySelector("ol.steps")?.dataset.spot);
  tickAgain();
  keepDraft(notebook, part, piece);
  store = await openStore(Number(part), Number(notebook));
  kept = openSettings(store, settingChanged);
  applyLook(kept.now);
  if (canStayAwake()) void keepAwake();
  rest.look();
  work.dataset.alive = store?.view(piece) ? "yes" : "no";
  if (!store) {
    // The page's forms go on by the server: what stands on them has to be of now.
    if ("kept" in work.dataset && !location.search) location.replace(`${location.pathname}?now`);
    return;
  }
  store.onChange(() => {
    kept.takeFromStore();
    draw();
    fetchAhead();
    askYarn(store);
  });
  addEventListener("online", fetchAhead);
  draw();
  begun = true;
  fetchAhead();
  askYarn(store);
}

/** What only the server knows, where this page was shown as it had been kept. */
async function takeNews() {
  const kept = await caches.match(location.pathname, { ignoreVary: true });
  if (!kept) return;
  const said = new DOMParser().parseFromString(await kept.text(), "text/html").getElementById("work-newer");
  page.newer = said && document.adoptNode(said);
  shown = "";
  draw();
}

navigator.serviceWorker?.addEventListener("message", ({ data }) => {
  if (data?.fresh === location.pathname) void takeNews();
});
navigator.serviceWorker?.startMessages();

void begin();
