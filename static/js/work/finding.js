// Where she is, found from what she counts on the piece in her hands, on the device itself. The rules and the words of
// server/craft/making/held.py and finding.py; tests hold both to the same.

import { asideOf, carriedFor, fitAsMade, highest, leftBehind, piecePlan, place } from "../notebook/place.js";
import { byOrder, fitOf, turnOf } from "../notebook/spots.js";
import { capitalized, many } from "../notebook/words.js";

/**
 * @typedef {{line: string, goal: number, fit: boolean, foundation: boolean, least: number}} Line
 * @typedef {{key: string, asks: string, lines: Line[], along: boolean, gap: boolean, atGap: boolean,
 *   most: number | null, least: number}} Group
 * @typedef {{key: string, asks: string, inLog: number, all: number | null}} Asked
 * @typedef {{kind: "taken_out" | "counted_in", values: object}} Told
 * @typedef {{says: string, cannot: string[], off: string[], entries: Told[], keep: string, agrees: boolean}} Found
 */

const EDGING = /\b(edging|edge|border|trim)\b/i;
const FIT_MOST = 300; // rounds of a line to fit that the log takes

/** An answer that is no number: what would be right, at which question's key. */
export class NoNumber extends Error {
  constructor(message, key) {
    super(message);
    this.key = key;
  }
}

/**
 * What to ask her to count on a piece; null where the device has no plan in her numbers.
 * @param {any} carried @param {import("../notebook/fold.js").Making} making @param {number} piece @returns {Asked[] | null}
 */
export function asked(carried, making, piece) {
  const groups = groupsOf(carried, making, piece), hand = making.pieces[piece];
  return groups && groups.map((each) => ({
    key: each.key, asks: each.asks, inLog: heldIn(each, hand), all: each.most === 1 ? 1 : null,
  }));
}

/**
 * Where the piece is by what she typed, by the questions' keys; an empty answer stays as the log has it. NoNumber where
 * one is none.
 * @param {any} carried @param {import("../notebook/fold.js").Making} making @param {number} piece
 * @param {Record<string, string>} typed @returns {Found}
 */
export function found(carried, making, piece, typed) {
  const groups = groupsOf(carried, making, piece), hand = making.pieces[piece], told = {};
  for (const group of groups) {
    const text = (typed[group.key] ?? "").trim();
    if (text && !(/^[0-9]+$/.test(text) && Number(text) <= FIT_MOST)) {
      throw new NoNumber(`Write how many ${group.asks} you count: a number from 0 to ${FIT_MOST}.`, group.key);
    }
    told[group.key] = text ? Number(text) : heldIn(group, hand);
  }
  const cannot = impossible(groups, told);
  if (cannot.length) return { says: "", cannot, off: [], entries: [], keep: "", agrees: false };
  const target = targetOf(groups, told, hand), after = withTarget(making, hand, target);
  const here = place(piecePlan(carried, after, piece), after, piece), entries = entriesFor(hand, target);
  const started = hand.worked.length > 0;
  return {
    says: saysWhere(here, groups, told),
    cannot,
    off: entries.length && started ? offBy(groups, told, hand) : [],
    entries,
    keep: entries.length && started ? "If the log is right, count once more: nothing has to be changed." : "",
    agrees: !entries.length,
  };
}

// --- what is counted as one number ---

/** @returns {Group[] | null} */
function groupsOf(carried, making, piece) {
  const hand = making.pieces[piece], numbers = hand.numbers ?? making.settled;
  const plan = numbers && carriedFor(carried, numbers);
  if (!plan) return null;
  const aside = asideOf(plan), one = making.pieces[1];
  const goalOf = ({ line, fit }) => {
    const own = hand.fitsEnded.get(line) ?? null;
    const goal = own || (piece === 2 ? fitAsMade(one, line, aside) : null) || fit.written;
    // Beyond what was to be she may go on.
    return own === null && highest(hand, line) > goal && !leftBehind(hand, line, aside) ? FIT_MOST : goal;
  };
  const sections = plan.sections.map(({ index, title, kind, lines }) => ({
    index, title, kind,
    lines: lines.filter((each) => roundsWritten(each) > 0).map((each) => lineOf(each, goalOf)),
    rows: lines.some((each) => roundsWritten(each) > 0 && each.labels.some((label) => label.startsWith("Row"))),
  })).filter((each) => each.lines.length);
  return grouped(sections);
}

const roundsWritten = ({ fit, texts }) => (fit ? fit.written : texts.length);

/** @returns {Line} */
function lineOf(line, goalOf) {
  const fit = line.fit !== null, goal = fit ? goalOf(line) : line.texts.length;
  return { line: line.line, goal, fit, foundation: line.labels[0].startsWith("Foundation"), least: fit ? 1 : goal };
}

/**
 * Sections on the way up are one group as far as there is nothing to tell them apart by: up to a gap or an edging, and
 * with one line to fit at most. Each other section is a group of its own.
 */
function grouped(sections) {
  const gaps = sections.filter(({ kind }) => kind === "gap"), made = [];
  let together = [];
  const close = () => {
    if (together.length) made.push(bodyGroup(sections, together, gaps));
    together = [];
  };
  for (const section of sections) {
    if (isBody(section)) {
      if ([...together, section].flatMap(({ lines }) => lines).filter(({ fit }) => fit).length > 1) close();
      together.push(section);
      continue;
    }
    if (section.kind === "body" || section.kind === "gap") close();
    made.push(ownGroup(section));
  }
  close();
  return made.sort((a, b) => byOrder(a.lines[0].line, b.lines[0].line));
}

const isBody = ({ kind, title }) => kind === "body" && !EDGING.test(title);
const same = (some, others) => some.length === others.length && some.every((each, at) => each === others[at]);

function bodyGroup(sections, own, gaps) {
  const key = own.map(({ index }) => index).join(".");
  return group(key, bodyAsks(sections, own, gaps), own.flatMap(({ lines }) => lines), { along: true });
}

/** "rounds below the gap" where these are all there are on that side of the only gap. */
function bodyAsks(sections, own, gaps) {
  const word = sections.some(({ rows }) => rows) ? "rows" : "rounds", body = sections.filter(isBody);
  if (gaps.length === 1) {
    if (same(own, body.filter(({ index }) => index < gaps[0].index))) return `${word} below the gap`;
    if (same(own, body.filter(({ index }) => index > gaps[0].index))) return `${word} above the gap`;
  }
  const begun = sections.some(({ lines }) => lines.some(({ foundation }) => foundation));
  if (same(own, body)) return `${word} from the ${begun ? "foundation" : "beginning"}`;
  return `${word} of the ${own.map(({ title }) => title).join(" and ")}`;
}

function ownGroup({ index, title: written, kind, lines }) {
  const title = written.toLowerCase().startsWith("the ") ? written : `the ${written}`;
  const one = sum(lines, ({ goal }) => goal) === 1 && !lines.some(({ fit }) => fit);
  const along = kind === "body" || kind === "gap";
  return group(String(index), one ? title : `rounds of ${title}`, lines, { along, gap: kind === "gap", atGap: kind === "gap edge" });
}

/** @returns {Group} */
function group(key, asks, lines, { along, gap = false, atGap = false }) {
  const counted = lines.filter(({ foundation }) => !foundation);
  const most = lines.some(({ fit }) => fit) ? null : sum(counted, ({ goal }) => goal);
  return { key, asks, lines, along, gap, atGap, most, least: sum(counted, ({ least }) => least) };
}

const sum = (items, number) => items.reduce((total, each) => total + number(each), 0);

/** How many rounds of a group stand in the log, the foundation left out. */
function heldIn({ lines }, hand) {
  const counted = new Set(lines.filter(({ foundation }) => !foundation).map(({ line }) => line));
  return hand.worked.filter((spot) => counted.has(fitOf(spot))).length;
}

// --- what cannot be ---

function impossible(groups, told) {
  const gap = groups.some((group) => group.gap && told[group.key]);
  return groups.flatMap((group, at) => {
    const rounds = told[group.key], { asks, most, least } = group;
    if (most !== null && rounds > most) return [`You counted ${rounds} ${ofGroup(asks)}, which has ${many(most, "round")}: ${most} at most.`];
    if (rounds > FIT_MOST) return [`You counted ${rounds} ${ofGroup(asks)}: the notebook takes ${FIT_MOST} at most.`];
    if (rounds < least && beyond(groups, told, at)) {
      const later = groups.slice(at + 1).find((other) => other.along && told[other.key]);
      return [`You counted ${rounds} ${ofGroup(asks)}, and there are at least ${least} before ${later.asks} can be there. ` +
        "Count again from the foundation."];
    }
    if (group.atGap && rounds && !gap) return [`${capitalized(asks)}: worked around the gap, which by your count is not there yet.`];
    return [];
  });
}

/** Whether something stands that is worked after this group. */
const beyond = (groups, told, at) =>
  groups[at].along && groups.slice(at + 1).some((other) => other.along && told[other.key] > 0);

const ofGroup = (asks) => (/^(round|row)/.test(asks) ? asks : `rounds of ${asks}`);

// --- what she holds, line by line ---

function targetOf(groups, told, hand) {
  const target = { rounds: new Map(), ended: [] };
  groups.forEach((group, at) => {
    const through = beyond(groups, told, at);
    if (hand.worked.length && told[group.key] === heldIn(group, hand)) {
      for (const { line } of group.lines) if (highest(hand, line)) target.rounds.set(line, highest(hand, line));
    } else give(group, told[group.key], through, target);
    const reached = group.lines.filter(({ line }) => target.rounds.get(line)).map(({ line }) => line);
    for (const { line, fit } of group.lines) {
      const later = reached.some((other) => byOrder(other, line) > 0);
      if (fit && reached.includes(line) && (through || later)) target.ended.push(line);
    }
  });
  return target;
}

/** Gives the rounds of a group to its lines, in working order; one to fit takes what the others leave. */
function give(group, rounds, through, { rounds: given }) {
  const lines = group.lines.filter(({ foundation }) => !foundation), last = lines.filter(({ fit }) => fit).at(-1);
  for (const { line, goal, foundation } of group.lines) if (foundation) given.set(line, goal);
  let left = rounds;
  lines.forEach((line, at) => {
    const others = lines.slice(at + 1);
    let own = Math.min(left, line.goal);
    if (through) {
      own = line === last
        ? left - sum(others, ({ goal }) => goal)
        : Math.min(line.goal, left - sum(others, ({ least }) => least));
    }
    if (own) given.set(line.line, own);
    left -= own;
  });
  if (left && last) given.set(last.line, (given.get(last.line) ?? 0) + left); // more than are to be
}

function spotsOf({ rounds }) {
  return [...rounds.keys()].sort(byOrder).flatMap((line) =>
    Array.from({ length: Math.max(rounds.get(line), 0) }, (_, turn) => `${line}.${turn + 1}`));
}

/** The pair as it would be. */
function withTarget(making, hand, target) {
  const worked = spotsOf(target), kept = [...hand.fitsEnded].filter(([fit, rounds]) => target.rounds.get(fit) === rounds);
  const fitsEnded = new Map([...kept, ...target.ended.map((fit) => [fit, target.rounds.get(fit)])]);
  const finished = hand.finished && same([...hand.worked].sort(byOrder), worked);
  const held = { ...hand, numbers: hand.numbers ?? making.settled, worked, fitsEnded, finished };
  return { ...making, pieces: { ...making.pieces, [hand.number]: held } };
}

/** Rounds out from the first that she does not hold, then those in that she does. @returns {Told[]} */
function entriesFor(hand, target) {
  const over = hand.worked.find((spot) => !(turnOf(spot) <= (target.rounds.get(fitOf(spot)) ?? 0))), told = [];
  if (over) told.push({ kind: "taken_out", values: { spot: over } });
  const stand = new Set(hand.worked.filter((spot) => !over || byOrder(spot, over) < 0));
  if (spotsOf(target).some((spot) => !stand.has(spot))) {
    told.push({ kind: "counted_in", values: { rounds: Object.fromEntries(target.rounds), ended: target.ended } });
  }
  return told;
}

// --- words ---

function saysWhere({ round, section }, groups, told) {
  const held = groups.filter(({ key }) => told[key]).map((group) => heldWords(group, told[group.key])).join(", ");
  if (!round) return `Every round is there: ${held}.`;
  const where = round.label ? `${section.title}, ${round.label}` : section.title;
  const begun = groups.some(({ lines }) => lines.some(({ foundation }) => foundation));
  return `You are at ${where}: ${held || (begun ? "only the foundation is there" : "nothing is there yet")}.`;
}

const isThing = ({ asks, most }) => most === 1 && !/^(round|row)/.test(asks);

function heldWords(group, rounds) {
  if (isThing(group)) return group.asks;
  return `${rounds} ${rounds === 1 ? group.asks.replace("rounds", "round").replace("rows", "row") : group.asks}`;
}

function offBy(groups, told, hand) {
  return groups.flatMap((group) => {
    const log = heldIn(group, hand), count = told[group.key];
    if (log === count) return [];
    if (isThing(group)) {
      return [`The log ${log ? "has" : "does not have"} ${group.asks}; by your count it is ${count ? "there" : "not there yet"}.`];
    }
    const off = `${Math.abs(count - log)} ${count < log ? "fewer" : "more"}`;
    return [`The log has ${heldWords(group, log)}; you count ${count}, ${off}.`];
  });
}
