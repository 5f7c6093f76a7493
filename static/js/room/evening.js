// An evening on a maker's page: the host's step in her own numbers, from the rounds that came with the page. What the
// room sends is the same few bytes for everybody; only what she missed, or what is for her alone, is asked for.

import { listen } from "./stream.js";
import { refresh, send } from "./regions.js";
import { keepTime, timerWords } from "./timers.js";

const TYPING = "evenhand-typing"; // what she is typing while her page is loaded anew
const SPREAD_MS = 2000; // so that a thousand who come back do not all ask at once
const room = document.querySelector("[data-room]");
const page = JSON.parse(room.dataset.room);
const line = room.querySelector("[data-standing]");
const openWords = line.textContent;
let isOpen = page.room.open, number = page.number;

const element = (tag, words, className) => {
  const made = document.createElement(tag);
  if (className) made.className = className;
  if (words) made.textContent = words;
  return made;
};

/** Which of her rounds a place is: that one, or the last of its line where hers has fewer; -1 for none. */
function roundAt([, , section, round, turn]) {
  const exact = page.rounds.findIndex(([address]) => address === `${section}.${round}.${turn}`);
  if (exact >= 0) return exact;
  const ofLine = page.rounds.map(([address], index) => (address.startsWith(`${section}.${round}.`) ? index : -1));
  return Math.max(-1, ...ofLine);
}

function apartWords(apart) {
  if (apart === 0) return "with your host";
  const rounds = Math.abs(apart) === 1 ? "1 round" : `${Math.abs(apart)} rounds`;
  return `${rounds} ${apart > 0 ? "ahead of" : "behind"} your host`;
}

function drawStep(at) {
  if (!at) return;
  const index = at[1] === page.version ? roundAt(at) : -1;
  if (index < 0) return lookSoon();
  const [address, section, label, steps, count] = page.rounds[index], turn = Number(address.split(".")[2]);
  const list = element("ol", "", "room-steps");
  steps.forEach((words, step) => {
    const item = element("li", words);
    if (at[5] === step) item.setAttribute("aria-current", "step");
    list.append(item);
  });
  const heading = element("h2", label ? `${section}, ${label}` : section, "room-place");
  heading.id = "step-heading";
  const parts = [element("p", "Your host is at", "quiet small room-lead"), heading, list];
  if (count) parts.push(element("p", count, "room-count"));
  if (at[4] !== turn) parts.push(element("p", `Yours has ${turn} round${turn === 1 ? "" : "s"} of these.`, "quiet"));
  document.getElementById("step")?.replaceChildren(...parts);
  const apart = room.querySelector("[data-apart]");
  if (apart && page.own !== null) apart.textContent = apartWords(page.own - index);
  showDone(false);
}

function showDone(isDone) {
  for (const form of room.querySelectorAll("[data-done]")) form.hidden = (form.dataset.done === "yes") !== isDone;
}

function drawSaid(say) {
  const said = element("p", "", "room-said");
  if (say?.words) said.append(element("strong", `${say.by}:`), ` ${say.words}`);
  document.getElementById("room-said")?.replaceChildren(...(say?.words ? [said] : []));
}

function drawTimer(timer) {
  const region = document.getElementById("room-timer");
  if (!timer) return region?.replaceChildren();
  const shown = element("p", "", "room-timer"), left = element("span", "", "room-timer-left");
  left.dataset.timerEnds = timer.ends;
  shown.setAttribute("role", "timer");
  shown.append(left, " ", element("span", timerWords(timer)));
  region?.replaceChildren(shown);
}

function drawAnswer({ words, by, asked }) {
  const shown = element("p", "", "room-said");
  shown.append(asked ? `“${asked}” ` : "", element("strong", `${by}:`), ` ${words}`);
  document.getElementById("room-said")?.append(shown);
}

/** The page again, regions and rounds, once in a while however much comes. */
let due = null;
function lookSoon() {
  due ??= setTimeout(async () => {
    due = null;
    if (await refresh(placeAnew)) remember();
    else lookSoon();
  }, SPREAD_MS * Math.random());
}

/** Where she is herself: she may have gone on in her notebook since, or chosen other numbers. */
function placeAnew(fresh) {
  const now = JSON.parse(fresh.querySelector("[data-room]").dataset.room);
  if (JSON.stringify(now.rounds) !== JSON.stringify(page.rounds)) return again();
  page.own = now.own;
  number = Math.max(number, now.number);
}

function remember() {
  document.cookie = `evenhand_looked=${room.dataset.of}.${number}; path=/notebook/evening; max-age=2592000; samesite=lax`;
}

/** The page anew, in other rounds; what she is typing comes along. */
function again() {
  const words = document.getElementById("words")?.value;
  if (words) sessionStorage.setItem(TYPING, words);
  location.reload();
}

function typeOn() {
  const words = sessionStorage.getItem(TYPING), field = document.getElementById("words");
  sessionStorage.removeItem(TYPING);
  if (words && field && !field.value) field.value = words;
}

function take(kind, now, values) {
  const missed = kind === "gap" || (kind === "room" && now > number);
  number = now;
  const isOther = values?.open !== undefined && values.open !== isOpen;
  if (isOther || kind === "gap" || (values?.at && values.at[1] !== page.version)) {
    setTimeout(again, SPREAD_MS * Math.random());
    return;
  }
  if (values?.at) drawStep(values.at);
  if (values && "say" in values) drawSaid(values.say);
  if (values && "timer" in values) drawTimer(values.timer);
  if (kind === "answer" && values.words) drawAnswer(values);
  if (missed || (kind === "answer" && values.hand === page.hand)) lookSoon();
  else remember();
}

room.addEventListener("submit", async (event) => {
  if (!event.target.matches("[data-sent]")) return;
  event.preventDefault();
  await send(event.target, event.submitter);
  page.hand = Number(document.getElementById("hand")?.dataset.hand ?? 0);
});

document.addEventListener("visibilitychange", () => { if (!document.hidden) lookSoon(); });
typeOn();
keepTime(Number(room.dataset.clock));
listen(room.dataset.stream, number, take, (isHeard) => {
  line.textContent = isHeard ? openWords : "No connection just now. This page goes on by itself.";
}, false, again);
