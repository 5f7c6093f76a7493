// The fold: from any heap of entries to the state of a pair. The rules are those of
// server/craft/making/folding.py, by the same numbers; tests hold both to the same state.

import { byOrder, fitOf, isFit, isSpot, turnOf } from "./spots.js";

/**
 * @typedef {{id: string, piece: number, kind: string, values: any, at: string, device: string, order: number}} Entry
 * @typedef {{foundation: number | null, size: string | null}} Numbers
 * @typedef {{spot: string | null, text: string, at: string, id: string}} Note
 * @typedef {{kind: string, spot: string | null, count: number, at: string}} Change
 * @typedef {{spot: string, text: string, step: number | null, repeat: number | null}} Mid
 * @typedef {{number: number, numbers: Numbers | null, hookMm: number | null, hookChanges: [string, number][],
 *   worked: string[], fitsEnded: Map<string, number>, notes: Note[], takenOut: [string, number][],
 *   counted: Map<string, Map<string, number>>, finished: boolean, place: Mid | null,
 *   measures: Map<string, number>, weights: Map<string, number>}} Piece
 * @typedef {{tries: {foundation: number, verdict: string, at: string, id: string}[], settled: Numbers | null,
 *   pieces: Record<number, Piece>, accepted: Set<string>, changed: Change[], notes: Note[],
 *   entriesSeen: number}} Making
 */

const NUMBER_MOST = 1_000_000, HOOK_MOST_MM = 100, LINE_MOST = 400, PLACE_MOST = 200;
const MEASURE_MOST_MM = 3000, WEIGHT_MOST_G = 5000;
const OF_THE_PAIR = new Set(["tried", "settled", "accepted", "note"]);

/** The state that the entries give. @param {Iterable<Entry>} entries @returns {Making} */
export function fold(entries) {
  const known = distinct(entries);
  const state = {
    tries: [], settled: null, hands: { 1: hand(1), 2: hand(2) }, accepted: new Set(), changed: [], notes: [],
  };
  for (const entry of standing(known)) {
    const rule = Object.hasOwn(RULES, entry.kind) ? RULES[entry.kind] : null;
    if (rule && pieceFits(entry)) rule(state, entry);
  }
  return {
    tries: state.tries,
    settled: state.settled,
    pieces: { 1: made(state.hands[1]), 2: made(state.hands[2]) },
    accepted: state.accepted,
    changed: state.changed,
    notes: state.notes,
    entriesSeen: known.length,
  };
}

/** The entries that count, in order (rules 1 and 2). @param {Iterable<Entry>} entries @returns {Entry[]} */
export const inForce = (entries) => standing(distinct(entries));

/** Every entry once, in the order of rule 1. @param {Iterable<Entry>} entries @returns {Entry[]} */
export function distinct(entries) {
  const first = new Map();
  for (const entry of entries) {
    const other = first.get(entry.id);
    if (!other || compare(wholeOf(entry), wholeOf(other)) < 0) first.set(entry.id, entry);
  }
  return [...first.values()].sort((a, b) => compare(placeInTime(a), placeInTime(b)));
}

const placeInTime = (entry) => [entry.at, entry.device, entry.order, entry.id];
const wholeOf = (entry) => [...placeInTime(entry), entry.piece, entry.kind, canonical(entry.values)];

function compare(a, b) {
  for (let at = 0; at < a.length; at++) {
    if (a[at] !== b[at]) return a[at] < b[at] ? -1 : 1;
  }
  return 0;
}

/** A value as text, the same for the same value: keys in order, all but ASCII escaped. */
function canonical(value) {
  if (Array.isArray(value)) return `[${value.map(canonical).join(", ")}]`;
  if (isMapping(value)) {
    return `{${Object.keys(value).sort().map((key) => `${quoted(key)}: ${canonical(value[key])}`).join(", ")}}`;
  }
  return typeof value === "string" ? quoted(value) : String(JSON.stringify(value));
}

const quoted = (text) =>
  JSON.stringify(text).replace(/[\u007f-\uffff]/g, (c) => `\\u${c.charCodeAt(0).toString(16).padStart(4, "0")}`);

const isMapping = (value) => typeof value === "object" && value !== null && !Array.isArray(value);

function standing(known) {
  const targets = new Map(), waiting = new Map(known.map((entry) => [entry.id, 0]));
  for (const entry of known) {
    if (entry.kind !== "undo") continue;
    const target = isMapping(entry.values) && typeof entry.values.entry === "string" ? entry.values.entry : "";
    targets.set(entry.id, target);
    if (waiting.has(target)) waiting.set(target, waiting.get(target) + 1);
  }
  const holds = new Map(known.map((entry) => [entry.id, true]));
  const decided = known.filter((entry) => waiting.get(entry.id) === 0).map((entry) => entry.id);
  for (const id of decided) { // grows: an undo is decided once every undo of it is
    const target = targets.get(id);
    if (!waiting.has(target)) continue;
    holds.set(target, holds.get(target) && !holds.get(id));
    waiting.set(target, waiting.get(target) - 1);
    if (waiting.get(target) === 0) decided.push(target);
  }
  return known.filter((entry) => entry.kind !== "undo" && holds.get(entry.id));
}

// --- the state while it is folded ---

function hand(number) {
  return {
    number, numbers: null, hookMm: null, hooks: new Map(), worked: new Set(), fits: new Map(), notes: [],
    takenOut: [], counted: new Map(), finished: false, place: null, measures: new Map(), weights: new Map(),
  };
}

/** The changes in working order, without those to the hook in hand (rule 9). */
function hookChanges(hand) {
  let inHand = hand.hookMm;
  return sorted(hand.hooks).filter(([, size]) => size !== inHand && ((inHand = size), true));
}

const sorted = (map) => [...map].sort(([a], [b]) => byOrder(a, b));

function made(hand) {
  return {
    number: hand.number,
    numbers: hand.numbers,
    hookMm: hand.hookMm,
    hookChanges: hookChanges(hand),
    worked: [...hand.worked].sort(byOrder),
    fitsEnded: new Map(sorted(hand.fits)),
    notes: hand.notes,
    takenOut: hand.takenOut,
    counted: new Map(sorted(hand.counted)),
    finished: hand.finished,
    place: hand.place,
    measures: hand.measures,
    weights: new Map(sorted(hand.weights)),
  };
}

/** Rule 13. */
function noteChange(state, entry, kind, spot, count = 0) {
  if (entry.piece === 1 && state.hands[2].worked.size) state.changed.push({ kind, spot, count, at: entry.at });
}

const isWhole = (value, least) => Number.isInteger(value) && value >= least && value <= NUMBER_MOST;
const isSize = (value, most) => typeof value === "number" && value > 0 && value <= most;

function stand(state, entry, spot) {
  const hand = state.hands[entry.piece];
  if (hand.worked.has(spot)) return;
  if (!hand.worked.size) hand.numbers = state.settled;
  hand.worked.add(spot);
  if (hand.place?.spot === spot) hand.place = null;
  const opened = turnOf(spot) > (hand.fits.get(fitOf(spot)) ?? NUMBER_MOST);
  if (opened) hand.fits.delete(fitOf(spot));
  if (opened || hand.finished) {
    hand.finished = false;
    noteChange(state, entry, "reopened", spot);
  }
}

function end(hand, fit, rounds) {
  const turns = [...hand.worked].filter((spot) => fitOf(spot) === fit).map(turnOf);
  hand.fits.set(fit, Math.max(rounds, ...turns));
}

/** Keeps what comes before an address. */
function keepBefore(map, address, spotOf = (key) => key) {
  for (const key of [...map.keys()]) if (byOrder(spotOf(key), address) >= 0) map.delete(key);
}

// --- one rule per kind: (state, entry); values that cannot be say nothing (rule 3) ---

const RULES = {
  tried(state, { values, at, id }) {
    const { foundation, verdict } = values;
    if (isWhole(foundation, 1) && ["too long", "too short", "fits"].includes(verdict)) {
      state.tries.push({ foundation, verdict, at, id });
    }
  },
  settled(state, { values }) {
    const foundation = values.foundation ?? null, size = values.size ?? null;
    if (foundation !== null && !isWhole(foundation, 1)) return;
    if (size !== null && typeof size !== "string") return;
    state.settled = { foundation, size };
    for (const hand of Object.values(state.hands)) {
      if (hand.worked.size && hand.numbers === null) hand.numbers = state.settled;
    }
  },
  hook(state, entry) {
    const size = entry.values.hook_mm, spot = entry.values.spot ?? null;
    if (!isSize(size, HOOK_MOST_MM) || (spot !== null && !isSpot(spot))) return;
    const hand = state.hands[entry.piece];
    const before = JSON.stringify([hand.hookMm, hookChanges(hand)]);
    const wasKnown = spot !== null || hand.hookMm !== null; // a hook that is said late is no change
    if (spot === null) hand.hookMm = size;
    else hand.hooks.set(spot, size);
    const standsFrom = spot === null || [...hand.worked].some((each) => byOrder(each, spot) >= 0);
    const differs = before !== JSON.stringify([hand.hookMm, hookChanges(hand)]);
    if (hand.worked.size && standsFrom && wasKnown && differs) noteChange(state, entry, "hook", spot);
  },
  worked(state, entry) {
    if (isSpot(entry.values.spot)) stand(state, entry, entry.values.spot);
  },
  taken_out(state, entry) {
    const spot = entry.values.spot;
    if (!isSpot(spot)) return;
    const hand = state.hands[entry.piece];
    const out = [...hand.worked].filter((each) => byOrder(each, spot) >= 0);
    const opened = [...hand.fits.keys()].filter((fit) => byOrder(fit, fitOf(spot)) >= 0);
    if (!out.length && !opened.length) return;
    for (const each of out) hand.worked.delete(each);
    for (const fit of opened) hand.fits.delete(fit);
    for (const map of [hand.hooks, hand.counted, hand.weights]) keepBefore(map, spot);
    keepBefore(hand.measures, spot, (key) => key.slice(key.indexOf("@") + 1));
    if (hand.place && byOrder(hand.place.spot, spot) >= 0) hand.place = null;
    hand.finished = false;
    if (out.length) {
      hand.takenOut.push([spot, out.length]);
      noteChange(state, entry, "taken_out", spot, out.length);
    } else noteChange(state, entry, "reopened", spot);
    if (!hand.worked.size) hand.numbers = null;
  },
  fit_ended(state, { values, piece }) {
    if (isFit(values.fit) && isWhole(values.rounds, 1)) end(state.hands[piece], values.fit, values.rounds);
  },
  fit_reopened(state, entry) {
    const hand = state.hands[entry.piece], fit = entry.values.fit;
    if (!hand.fits.has(fit)) return;
    noteChange(state, entry, "reopened", `${fit}.${hand.fits.get(fit)}`);
    hand.fits.delete(fit);
    hand.finished = false;
  },
  counted(state, { values, piece }) {
    const { spot, name, count } = values;
    if (!isSpot(spot) || typeof name !== "string" || !name || !isWhole(count, 0)) return;
    const counted = state.hands[piece].counted;
    if (!counted.has(spot)) counted.set(spot, new Map());
    counted.get(spot).set(name, count);
  },
  note(state, { values, piece, at, id }) {
    const text = values.text, spot = values.spot ?? null;
    if (typeof text !== "string" || !text.trim() || (spot !== null && !isSpot(spot))) return;
    (piece === 0 ? state : state.hands[piece]).notes.push({ spot, text, at, id });
  },
  accepted(state, { values }) {
    if (typeof values.difference === "string" && values.difference) state.accepted.add(values.difference);
  },
  finished(state, { piece }) {
    state.hands[piece].finished = true;
  },
  place(state, { values, piece }) {
    const { spot, text } = values, step = values.step ?? null, repeat = values.repeat ?? null;
    const length = typeof text === "string" ? [...text].length : 0;
    if (!isSpot(spot) || length < 1 || length > PLACE_MOST) return;
    if ([step, repeat].some((each) => each !== null && !isWhole(each, 0))) return;
    const hand = state.hands[piece];
    if (!hand.worked.has(spot)) hand.place = { spot, text, step, repeat };
  },
  counted_in(state, entry) {
    const { rounds, ended } = entry.values;
    if (!isMapping(rounds) || !Array.isArray(ended)) return;
    const lines = Object.keys(rounds).sort((a, b) => (isFit(a) && isFit(b) ? byOrder(a, b) : 0));
    if (!lines.every((line) => isFit(line) && isWhole(rounds[line], 1) && rounds[line] <= LINE_MOST)) return;
    if (!ended.every((fit) => typeof fit === "string" && Object.hasOwn(rounds, fit))) return;
    for (const line of lines) {
      for (let turn = 1; turn <= rounds[line]; turn++) stand(state, entry, `${line}.${turn}`);
    }
    for (const fit of ended) end(state.hands[entry.piece], fit, rounds[fit]);
  },
  measured(state, { values, piece }) {
    const { what, spot, mm } = values;
    if (!["width", "length"].includes(what) || !isSpot(spot) || !isSize(mm, MEASURE_MOST_MM)) return;
    state.hands[piece].measures.set(`${what}@${spot}`, mm);
  },
  weighed(state, { values, piece }) {
    if (!isSpot(values.spot) || !isSize(values.grams, WEIGHT_MOST_G)) return;
    state.hands[piece].weights.set(values.spot, values.grams);
  },
};

/** Whether the kind can be said of that piece (rule 3). */
function pieceFits({ kind, piece, values }) {
  if (!isMapping(values)) return false;
  if (piece === 0) return OF_THE_PAIR.has(kind);
  return (piece === 1 || piece === 2) && kind !== "tried" && kind !== "settled";
}
