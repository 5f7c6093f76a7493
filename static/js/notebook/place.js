// Where a piece is, and its plan with as many rounds to fit as it needs now. The rules of
// server/craft/making/placing.py and standing.py.

import { byOrder, fitOf, sectionOf, turnOf } from "./spots.js";

/**
 * @typedef {import("./fold.js").Making} Making
 * @typedef {import("./fold.js").Piece} Piece
 * @typedef {{steps: string[], full: string[], count: string, fullCount: string,
 *   toCount: [string, number, string, string][], counts: Record<string, number>, stitches: number,
 *   repeats: number, repeatStep: number | null, fullRepeatStep: number | null}} Text
 * @typedef {{spot: string, line: string, section: Section, label: string, text: Text, fit: string | null,
 *   notes: string[]}} Round
 * @typedef {{fit: string, until: string, least: number, written: number, rounds: number}} Fit
 * @typedef {{index: number, title: string, purpose: string, kind: string, ends: string[], notes: string[],
 *   rounds: Round[]}} Section
 * @typedef {{numbers: import("./fold.js").Numbers, sections: Section[], rounds: Round[], fits: Map<string, Fit>,
 *   bySpot: Map<string, Round>}} Plan
 * @typedef {{kind: "round" | "end fit" | "finish" | "finished", round: Round | null, canEnd: Fit | null,
 *   section: Section, done: number, toGo: number, inFit: number}} Place
 */

const NUMBERED = /^(Rnd|Row) (\d+)$/;

/** The plan that a device carries for these numbers; null where it has none. */
export function carriedFor(carried, numbers) {
  return carried.plans.find(
    (each) => each.numbers.foundation === numbers.foundation && each.numbers.size === numbers.size,
  ) ?? null;
}

/**
 * The plan of a piece with as many rounds to fit as it needs now; null where no numbers are settled or the
 * device has no plan for them.
 * @param {any} carried @param {Making} making @param {number} number @returns {Plan | null}
 */
export function piecePlan(carried, making, number) {
  const hand = making.pieces[number], numbers = hand.numbers ?? making.settled;
  const plan = numbers && carriedFor(carried, numbers);
  if (!plan) return null;
  const aside = asideOf(plan);
  return laidOut(plan, (line, fit) => roundsNeeded({ ...fit, fit: line }, making, hand, aside));
}

function roundsNeeded(fit, making, hand, aside) {
  const made = fitAsMade(hand, fit.fit, aside);
  if (made !== null) return made;
  const goal = openGoal(fit, making.pieces[1], hand, aside).rounds;
  if (leftBehind(hand, fit.fit, aside)) return goal; // passed over without a round of it
  const stand = highest(hand, fit.fit);
  return stand < goal ? goal : stand + 1;
}

/** A carried plan with so many rounds in each line to fit. @returns {Plan} */
function laidOut(plan, needed) {
  const fits = new Map(), bySpot = new Map();
  let shift = 0;
  const sections = plan.sections.map((each) => {
    const section = { ...each, rounds: [] };
    for (const line of each.lines) {
      if (line.first) shift = 0;
      const many = line.fit ? needed(line.line, line.fit) : line.texts.length;
      for (let turn = 1; turn <= many; turn++) {
        const round = {
          spot: `${line.line}.${turn}`,
          line: line.line,
          section,
          label: labelOf(line, turn, line.named ? 0 : shift),
          text: plan.texts[line.texts[Math.min(turn, line.texts.length) - 1]],
          fit: line.fit ? line.line : null,
          notes: turn === many ? line.notes : [],
        };
        section.rounds.push(round);
        bySpot.set(round.spot, round);
      }
      if (line.fit) {
        fits.set(line.line, { fit: line.line, ...line.fit, rounds: many });
        shift += many - line.fit.written;
      }
    }
    return section;
  });
  return { numbers: plan.numbers, sections, rounds: sections.flatMap((each) => each.rounds), fits, bySpot };
}

function labelOf(line, turn, shift) {
  const beyond = Math.max(turn - line.labels.length, 0);
  const label = line.labels[turn - beyond - 1];
  const numbered = NUMBERED.exec(label);
  return numbered ? `${numbered[1]} ${Number(numbered[2]) + shift + beyond}` : label;
}

/**
 * Where a piece is in its plan: the next round is the first that is not there.
 * @param {Plan} plan @param {Making} making @param {number} number @returns {Place}
 */
export function place(plan, making, number) {
  const hand = making.pieces[number], stand = new Set(hand.worked);
  const missing = plan.rounds.filter((round) => !stand.has(round.spot));
  const done = plan.rounds.length - missing.length;
  if (hand.finished || !missing.length) {
    const kind = hand.finished ? "finished" : "finish";
    return { kind, round: null, canEnd: null, section: plan.sections.at(-1), done, toGo: 0, inFit: 0 };
  }
  const round = missing[0], section = round.section;
  const fit = round.fit && !hand.fitsEnded.has(round.fit) ? plan.fits.get(round.fit) : null;
  const aside = asideOf(plan);
  if (!fit || leftBehind(hand, fit.fit, aside)) {
    return { kind: "round", round, canEnd: null, section, done, toGo: missing.length, inFit: 0 };
  }
  const inFit = highest(hand, fit.fit), goal = openGoal(fit, making.pieces[1], hand, aside);
  const offered = inFit >= goal.rounds ? 1 : 0; // the round beyond is offered, not to be made
  return {
    kind: offered && goal.asGloveOne ? "end fit" : "round",
    round,
    canEnd: inFit >= fit.least ? fit : null,
    section,
    done,
    toGo: missing.length - offered,
    inFit,
  };
}

// --- what stands of a piece, line by line ---

/** The highest turn of a line that stands; 0 for none. @param {Piece} hand @param {string} line */
export const highest = (hand, line) =>
  Math.max(0, ...hand.worked.filter((spot) => fitOf(spot) === line).map(turnOf));

/** How many rounds of a line stand. @param {Piece} hand @param {string} line */
export const roundsOf = (hand, line) => hand.worked.filter((spot) => fitOf(spot) === line).length;

/**
 * Sections worked into an edge, of the foundation or of a gap: they may be made at any time, so that a round of
 * theirs does not tell that what comes before them in the pattern is done.
 */
export const asideOf = (plan) =>
  new Set(plan.sections.filter(({ kind }) => kind === "foundation edge" || kind === "gap edge").map(({ index }) => index));

/** Whether a round of a later line stands, in a section that is worked on top. */
export const leftBehind = (hand, line, aside) =>
  hand.worked.some((spot) =>
    byOrder(fitOf(spot), line) > 0 && (sectionOf(spot) === sectionOf(line) || !aside.has(sectionOf(spot))));

/** How many rounds a line to fit has in a piece that is through with it; null where it is not. */
export function fitAsMade(hand, fit, aside) {
  if (hand.fitsEnded.has(fit)) return hand.fitsEnded.get(fit);
  const stand = highest(hand, fit);
  return stand && (hand.finished || leftBehind(hand, fit, aside)) ? stand : null;
}

/** How many rounds an open line to fit is to have, and whether glove one says so. */
function openGoal(fit, one, hand, aside) {
  const made = hand.number === 2 ? fitAsMade(one, fit.fit, aside) : null;
  return made === null ? { rounds: fit.written, asGloveOne: false } : { rounds: made, asGloveOne: true };
}

/**
 * What stands of a line: how many rounds, and whether nothing more comes in it.
 * @param {Piece} hand @param {Plan} plan @param {string} line @returns {{line: string, rounds: number, through: boolean}}
 */
export function standing(hand, plan, line) {
  const rounds = roundsOf(hand, line), section = sectionOf(line);
  if (hand.fitsEnded.has(line)) return { line, rounds: hand.fitsEnded.get(line), through: true };
  if (hand.finished) return { line, rounds, through: true };
  if (!hand.worked.some((spot) => sectionOf(spot) === section)) return { line, rounds: 0, through: false };
  const later = hand.worked.some((spot) => sectionOf(spot) === section && byOrder(fitOf(spot), line) > 0);
  if (leftBehind(hand, line, asideOf(plan)) && (rounds || later)) return { line, rounds, through: true };
  const planned = plan.rounds.filter((round) => round.line === line);
  return { line, rounds, through: planned.length > 0 && !planned[0].fit && rounds >= planned.length };
}

/** The hook in mm that a round is made with, as far as it was written down. @returns {number | null} */
export function hookAt(hand, spot) {
  let inHand = hand.hookMm;
  for (const [at, size] of hand.hookChanges) if (spot === null || byOrder(at, spot) <= 0) inHand = size;
  return inHand;
}

/** The foundation is made once and not counted among the rounds. @param {Round} round */
export const isFoundation = (round) => round.label.startsWith("Foundation");
