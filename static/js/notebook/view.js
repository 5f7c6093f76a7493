// One piece as it lies in her hands: where it is, in words. The same words as the working page's
// (server/services/notebooks/working.py); tests hold both to the same.

import { distinct, inForce } from "./fold.js";
import { hookAt, isFoundation, piecePlan, place, roundsOf } from "./place.js";
import { fitOf } from "./spots.js";
import { asMade, changedWords, differences, verdictAt } from "./twins.js";
import { hookText, many, ordinal, roundName, shown, size } from "./words.js";

const PAUSE_S = 3600, GAPS_LEAST = 2;
const AHEAD_MOST = 12; // more are counted in by number, not ticked

/**
 * The view of a piece; null where no numbers are settled or the device has no plan in hers.
 * @param {any} carried what the server gave of the plan
 * @param {import("./fold.js").Entry[]} entries the whole log
 * @param {import("./fold.js").Making} making the same, folded
 * @param {number} piece 1 or 2
 */
export function viewOf(carried, entries, making, piece) {
  const own = making.pieces[piece], plan = piecePlan(carried, making, piece);
  if (!plan) return null;
  const planOne = piece === 1 ? plan : piecePlan(carried, making, 1) ?? plan;
  const at = place(plan, making, piece), round = at.round, here = round?.spot ?? null;
  const full = carried.wording === "full", two = piece === 2;
  const before = own.worked.length ? plan.bySpot.get(own.worked.at(-1)) ?? null : null;
  const found = two ? differences(carried, making, planOne, plan) : [];
  const pairBegun = carried.pair && making.pieces[2].worked.length > 0;
  const foundation = new Set(plan.rounds.filter(isFoundation).map((each) => each.spot));
  const stand = new Set(own.worked);
  return {
    piece,
    name: carried.names[piece],
    kind: at.kind,
    section: { index: at.section.index, title: at.section.title, purpose: at.section.purpose, ends: at.section.ends },
    ...labelParts(at),
    label: round?.label ?? "",
    spot: here,
    steps: round ? (full ? round.text.full : round.text.steps) : [],
    count: round ? (full ? round.text.fullCount : round.text.count) : "",
    toCount: round ? toCount(round, full) : [],
    repeats: round?.text.repeats ?? 0,
    repeatStep: (full ? round?.text.fullRepeatStep : round?.text.repeatStep) ?? null,
    lead: round && round === at.section.rounds[0] ? at.section.notes : [],
    hostNotes: round?.notes ?? [],
    then: round && round === at.section.rounds.at(-1) && !round.fit ? at.section.ends : [],
    fit: fitNow(making, piece, plan, at),
    done: own.worked.filter((spot) => !foundation.has(spot)).length,
    toGo: at.toGo - [...foundation].filter((spot) => !stand.has(spot)).length,
    asMade: two && here ? asMade(carried, making, planOne, here) : [],
    atRound: two && here ? verdictAt(carried, making, planOne, plan, found, here) : null,
    notes: own.notes.filter((note) => note.spot === here).map((note) => note.text),
    mid: own.place && own.place.spot === here ? own.place : null,
    counted: [...countedAt(carried, own, before), ...countedAt(carried, own, round)],
    departures: found.filter((each) => !each.accepted).map((each) => departure(making, plan, each)),
    meant: found.filter((each) => each.accepted).map((each) => meantWords(carried, each)),
    changed: pairBegun ? changedWords(carried, making, planOne) : [],
    takeOuts: [...own.worked].reverse().map((spot) => takeOut(own, plan, spot)),
    reopen: reopen(own, plan),
    hook: hookWords(carried, own, here),
    otherHook: two ? hookWords(carried, making.pieces[1], here) : null,
    undo: undo(carried, plan, entries, piece),
    ...pace(entries, piece),
    ahead: ahead(own, plan, at),
    redo: redo(carried, own, plan, entries, piece),
    stops: round ? stops(round, full) : [],
    strip: strip(making, piece, at, stand),
    before: before && {
      spot: before.spot, label: before.label, section: before.section.title,
      count: full ? before.text.fullCount : before.text.count, toCount: toCount(before, full),
    },
    countable: countable(carried, [round, before].filter((each) => each !== null)),
  };
}

const toCount = (round, full) =>
  round.text.toCount.map(([name, count, words, all]) => ({ name, count, words: full ? all : words }));

/** The rounds of the section at hand, in order; `other`: glove one has it too. */
function strip(making, piece, at, stand) {
  const one = new Set(piece === 2 ? making.pieces[1].worked : []), offered = at.kind === "end fit";
  return at.section.rounds
    .filter((each) => !isFoundation(each) && !(offered && each === at.round))
    .map(({ spot, label }) => {
      const now = at.kind === "round" && spot === at.round.spot;
      return { spot, label, state: now ? "now" : stand.has(spot) ? "worked" : "to come", other: one.has(spot) };
    });
}

/** The rounds from the one at hand on, as far as they can be logged without another answer of hers. */
function ahead(own, plan, at) {
  if (at.kind !== "round") return [];
  const stand = new Set(own.worked), listed = [];
  let open = null;
  for (const each of plan.rounds) {
    if (stand.has(each.spot)) continue;
    if (listed.length === AHEAD_MOST || (open !== null && each.fit !== open)) break;
    open = own.fitsEnded.has(each.fit) ? null : each.fit;
    listed.push({ spot: each.spot, label: `${each.section.title}, ${each.label || "this round"}` });
  }
  return listed;
}

/** What can be counted in rounds, by name and in her terms; what their count lines name goes first. */
function countable(carried, rounds) {
  const named = rounds.flatMap((each) => each.text.toCount.map(([name]) => name));
  const all = new Set([...named, ...rounds.flatMap((each) => Object.keys(each.text.counts))]);
  return [...all].map((name) => [name, Object.hasOwn(carried.nouns, name) ? carried.nouns[name][2] : name]);
}

/** Every place within a round where she can say that she stopped, in working order. */
function stops(round, full) {
  const { steps, full: fullSteps, repeats, repeatStep, fullRepeatStep } = round.text;
  const told = full ? fullSteps : steps, within = full ? fullRepeatStep : repeatStep, made = [];
  told.forEach((_, step) => {
    for (let repeat = 1; step === within && repeat < repeats; repeat++) {
      made.push({ text: `after the ${ordinal(repeat)} of ${repeats} repeats`, step, repeat });
    }
    if (step < told.length - 1) made.push({ text: `after step ${step + 1} of ${told.length}`, step, repeat: null });
  });
  return made;
}

/** The round's label in two: "Rnd" and "4"; word is empty where it has no number. */
function labelParts({ round, section }) {
  if (!round) return { word: "", number: "" };
  const at = round.label.lastIndexOf(" "), number = round.label.slice(at + 1);
  if (/^[0-9]+$/.test(number)) return { word: round.label.slice(0, Math.max(at, 0)), number };
  return { word: "", number: round.label || section.title };
}

function fitNow(making, piece, plan, at) {
  const line = at.canEnd?.fit ?? at.round?.fit, fit = line && plan.fits.get(line);
  if (!fit) return null;
  const one = making.pieces[1];
  return {
    fit: line,
    until: fit.until,
    done: roundsOf(making.pieces[piece], line),
    other: piece === 2 && one.fitsEnded.has(line) ? roundsOf(one, line) : null,
    canEnd: at.canEnd !== null,
  };
}

/** The rounds to fit that ended last, while nothing is worked after them. */
function reopen(own, plan) {
  const line = own.worked.length && !own.finished ? fitOf(own.worked.at(-1)) : "";
  const fit = plan.fits.get(line);
  if (!fit || !own.fitsEnded.has(line)) return null;
  return { fit: line, until: fit.until, done: roundsOf(own, line), other: null, canEnd: false };
}

function takeOut(own, plan, spot) {
  const at = own.worked.indexOf(spot);
  const backTo = at ? roundName(plan, own.worked[at - 1]) : "the beginning";
  return { spot, rounds: own.worked.length - at, words: roundName(plan, spot), backTo };
}

/** A difference with what mends it at a press, where something does. */
function departure(making, plan, difference) {
  const { key, kind, spot, what, mend, one, two, sectionTitle } = difference;
  const [first, second] = [making.pieces[1], making.pieces[2]];
  const said = { key, kind, words: what, mend, one, two, section: sectionTitle, takeOut: null, goOn: null };
  if (difference.takeOut !== null && second.worked.includes(difference.takeOut)) {
    return { ...said, takeOut: takeOut(second, plan, difference.takeOut) };
  }
  const fit = kind === "rounds" && spot ? fitOf(spot) : "";
  const endedEarly = second.fitsEnded.has(fit) && roundsOf(second, fit) < roundsOf(first, fit);
  return { ...said, goOn: endedEarly ? fit : null };
}

const meantWords = ({ noun }, each) => `${each.sectionTitle}, ${each.one} in ${noun} one, ${each.two} in ${noun} two`;

function hookWords(carried, hand, spot) {
  const mm = hookAt(hand, spot);
  return mm === null ? null : { mm, words: hookText(carried, mm) };
}

/** What she counted at a round, beside what there should be. */
function countedAt(carried, own, round) {
  if (!round) return [];
  return [...(own.counted.get(round.spot) ?? [])].map(([name, count]) => {
    const should = Object.hasOwn(round.text.counts, name) ? round.text.counts[name] : null;
    const agrees = should === null || should === count;
    let words = `You counted ${shown(carried, name, count)}`;
    if (should === null) words += ".";
    else if (agrees) words += ": as it should be.";
    else {
      const off = `${Math.abs(count - should)} ${count < should ? "missing" : "too many"}`;
      words += `; there should be ${should}: ${off}.`;
    }
    return { label: round.label || round.section.title, words, agrees };
  });
}

/** The last entry of that piece that still holds: the one that an undo takes back. */
function undo(carried, plan, entries, piece) {
  const last = inForce(entries).filter((entry) => entry.piece === piece).at(-1);
  return last ? { id: last.id, words: entryWords(carried, plan, last) } : null;
}

/** The undo that was made last in that piece, which can be undone in its turn, and what it took back. */
function redo(carried, own, plan, entries, piece) {
  const ofPiece = distinct(entries).filter((entry) => entry.piece === piece), last = ofPiece.at(-1);
  if (last?.kind !== "undo") return null;
  const back = ofPiece.find(({ id, kind }) => id === last.values.entry && kind !== "undo");
  if (!back) return null;
  // A round that two devices logged, not knowing of each other, still stands.
  const twice = back.kind === "worked" && own.worked.includes(back.values.spot);
  return { id: last.id, words: `${entryWords(carried, plan, back)}${twice ? ". It was logged twice and is still there" : ""}` };
}

/** An entry in a few words, such as "Cuff, Rnd 4 logged"; `plan` is its piece's. */
export function entryWords(carried, plan, { kind, piece, values }) {
  const at = plan && values.spot && piece ? roundName(plan, String(values.spot)) : "";
  const words = {
    worked: () => `${at} logged`,
    taken_out: () => `taken out back to before ${at}`,
    hook: () => `hook ${size(Number(values.hook_mm ?? 0))} mm${at ? ` from ${at}` : ""}`,
    fit_ended: () => endedWords(plan, values),
    fit_reopened: () => "section gone on with",
    counted: () => `count at ${at}`,
    note: () => (at ? `note at ${at}` : "note"),
    place: () => `stopped in ${at}`,
    counted_in: () => "rounds counted in",
    measured: () => `measured at ${at}`,
    weighed: () => `weighed at ${at}`,
    finished: () => (piece ? `${carried.names[piece]} finished` : "finished"),
  };
  return Object.hasOwn(words, kind) ? words[kind]() : kind;
}

/** By the last round's name, as the strip counts the whole section and the part to fit may be less. */
function endedWords(plan, { fit, rounds = 0 }) {
  const last = plan?.bySpot.get(`${fit}.${rounds}`);
  return last?.label ? `ended after ${roundName(plan, last.spot)}` : `section ended after ${many(Number(rounds), "round")}`;
}

/** How long a round takes her, and when the last one was logged. */
function pace(entries, piece) {
  const moments = inForce(entries)
    .filter((entry) => entry.piece === piece && entry.kind === "worked")
    .map((entry) => ({ at: entry.at, ms: Date.parse(entry.at) }))
    .filter(({ ms }) => !Number.isNaN(ms))
    .sort((a, b) => a.ms - b.ms);
  const took = moments.slice(1).map(({ ms }, at) => (ms - moments[at].ms) / 1000)
    .filter((seconds) => seconds <= PAUSE_S).sort((a, b) => a - b);
  const half = took.length / 2;
  const median = took.length % 2 ? took[Math.floor(half)] : (took[half - 1] + took[half]) / 2;
  return { since: moments.at(-1)?.at ?? null, secondsPerRound: took.length >= GAPS_LEAST ? median : null };
}
