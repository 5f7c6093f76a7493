// The twin rules: glove two against glove one as it was made, round by round. The rules and words of
// server/craft/making/differences.py, twins.py and twinwords.py.

import { hookAt, isFoundation, standing } from "./place.js";
import { byOrder, fitOf, sectionOf, turnOf } from "./spots.js";
import { measuredDifferences } from "./tension.js";
import {
  atWords, capitalized, foundationWords, hookText, lengthText, many, ordinal, sectionWords, shown, size, titleAt,
  weightText,
} from "./words.js";

/**
 * @typedef {{key: string, kind: string, spot: string | null, sectionTitle: string, what: string, one: string,
 *   two: string, mend: string, takeOut: string | null, accepted: boolean}} Difference
 * @typedef {{carried: any, one: import("./fold.js").Piece, two: import("./fold.js").Piece,
 *   planOne: import("./place.js").Plan, planTwo: import("./place.js").Plan, first: string, second: string,
 *   noun: string, changed: import("./fold.js").Change[]}} Pair
 */

/** All differences in working order, those of the whole piece first. @returns {Difference[]} */
export function differences(carried, making, planOne, planTwo) {
  if (!carried.pair || !making.pieces[2].worked.length || !making.pieces[1].worked.length) return [];
  const noun = carried.noun;
  const pair = {
    carried, noun, planOne, planTwo, changed: making.changed,
    one: making.pieces[1], two: making.pieces[2], first: `${capitalized(noun)} one`, second: `${noun} two`,
  };
  const found = [...hooks(pair), ...rounds(pair), ...counts(pair)];
  found.sort((a, b) => byOrder(a.spot ?? "0.0.0", b.spot ?? "0.0.0"));
  const made = [...foundation(pair), ...found];
  const countsAt = made.filter(({ kind }) => kind === "count").map(({ spot }) => spot);
  const measured = alike(pair) ? measuredDifferences(pair, countsAt) : [];
  return [...made, ...measured].map((each) => ({ ...each, accepted: making.accepted.has(each.key) }));
}

/** Both are made in the same foundation and size, so that their counts can be compared. */
function alike({ planOne, planTwo }) {
  const key = ({ numbers }) => JSON.stringify([numbers.foundation, numbers.foundation === null ? numbers.size : null]);
  return key(planOne) === key(planTwo);
}

function foundation(pair) {
  if (alike(pair) || !pair.one.numbers || !pair.two.numbers) return [];
  const one = foundationWords(pair.one.numbers), two = foundationWords(pair.two.numbers);
  const begin = pair.planTwo.rounds[0].spot;
  return [{
    key: `foundation/${one}/${two}`,
    kind: "foundation",
    spot: null,
    sectionTitle: "Foundation",
    what: `${pair.first} was begun with ${one}, ${pair.second} with ${two}.`,
    one, two,
    mend: `Begin ${pair.second} again with ${one}, or note that it is meant.`,
    takeOut: pair.two.worked.includes(begin) ? begin : null,
  }];
}

/** Runs of rounds made with different hooks; a hook that was not written down is not compared. */
function hooks(pair) {
  const stand = new Set(pair.two.worked), both = pair.one.worked.filter((spot) => stand.has(spot));
  const found = [];
  let before = [null, null];
  both.forEach((spot, at) => {
    const one = hookAt(pair.one, spot), two = hookAt(pair.two, spot);
    const goesOn = one === before[0] && two === before[1];
    if (one !== null && two !== null && one !== two && !goesOn) {
      found.push(hook(pair, spot, at ? both[at - 1] : null, one, two));
    }
    before = [one, two];
  });
  return found;
}

function hook(pair, spot, before, one, two) {
  const here = atWords(pair.planTwo, spot), mm = `${size(one)} mm`;
  let mend = `Take out back to the end of ${before && atWords(pair.planTwo, before)} and go on with ${mm}`;
  if (before === null) mend = `Begin ${pair.second} again with ${mm}`;
  else if (spot === pair.two.worked.at(-1)) mend = `Take out ${here} and work it with ${mm}`;
  return {
    key: `hook/${spot}/${size(one)}/${size(two)}`,
    kind: "hook",
    spot,
    sectionTitle: titleAt(pair.planTwo, spot),
    what: `${pair.first} was made with ${mm} from ${here} on, ${pair.second} with ${size(two)} mm.`,
    one: hookText(pair.carried, one),
    two: hookText(pair.carried, two),
    mend: `${mend}, or note that it is meant.`,
    takeOut: spot,
  };
}

/** Lines of which piece two has more or fewer rounds than piece one as made. */
function rounds(pair) {
  const lines = new Set([...pair.planOne.rounds, ...pair.planTwo.rounds].map((round) => round.line));
  return [...lines].sort(byOrder).flatMap((line) => {
    const one = standing(pair.one, pair.planOne, line), two = standing(pair.two, pair.planTwo, line);
    if (one.through && two.rounds > one.rounds) return [more(pair, one, two)];
    return two.through && two.rounds < one.rounds ? [fewer(pair, one, two)] : [];
  });
}

function more(pair, one, two) {
  const line = one.line, over = two.rounds - one.rounds, firstOver = `${line}.${one.rounds + 1}`;
  const behind = pair.two.worked.filter((spot) => byOrder(spot, firstOver) >= 0);
  let mended = `take out ${many(over, "round")} of ${sectionWords(pair.planTwo, line)}`;
  if (behind.length > over) {
    mended = `take out ${fromOn(pair, behind, firstOver)}, and go on from there`;
  }
  const had = one.rounds ? many(one.rounds, "round") : "no round";
  const what = one.rounds && over === 1 && behind.length === 1
    ? `${pair.first} had ${had} here; this is the ${ordinal(two.rounds)}. Take it out, or note that it is meant.`
    : `${pair.first} had ${had} here; ${pair.second} has ${two.rounds}.`;
  return {
    ...roundsDiffer(pair, one, two),
    spot: firstOver,
    what,
    mend: sentence(mended) + orOne(pair, line, `work ${many(over, "more round", "more rounds")} there`),
    takeOut: behind.length ? firstOver : null,
  };
}

/** "Rnd 1 of the Hand", "3 rounds, Rnd 1 of the Hand the first of them" */
function fromOn(pair, spots, first) {
  const where = atWords(pair.planTwo, first);
  return spots.length === 1 ? where : `${spots.length} rounds, ${where} the first of them`;
}

function fewer(pair, one, two) {
  const line = one.line, short = one.rounds - two.rounds, section = sectionWords(pair.planTwo, line);
  const behind = pair.two.worked.filter((spot) => byOrder(fitOf(spot), line) > 0);
  const elsewhere = pair.two.worked.every((spot) => sectionOf(spot) !== sectionOf(line));
  const work = `work ${many(short, "more round", "more rounds")} of ${section}`;
  let mended = work, takeOut = null;
  if (elsewhere) mended = `work ${section}`;
  else if (behind.length) {
    takeOut = [...behind].sort(byOrder)[0];
    mended = `take out ${fromOn(pair, behind, takeOut)}, and ${work}`;
  }
  return {
    ...roundsDiffer(pair, one, two),
    spot: `${line}.${Math.max(two.rounds, 1)}`,
    what: `${pair.first} had ${many(one.rounds, "round")} here; ${pair.second} has ${two.rounds || "none"}.`,
    mend: sentence(mended) + orOne(pair, line, `take out ${many(short, "round")} there`),
    takeOut,
  };
}

const roundsDiffer = (pair, one, two) => ({
  key: `rounds/${one.line}/${one.rounds}/${two.rounds}`,
  kind: "rounds",
  sectionTitle: titleAt(pair.planTwo, one.line),
  one: many(one.rounds, "round"),
  two: many(two.rounds, "round"),
});

const sentence = (words) => `${capitalized(words)}.`;

/** The mend in piece one, where that is the piece that changed last. */
function orOne(pair, line, mended) {
  const touched = pair.changed.some(({ spot, kind }) =>
    spot && kind !== "hook" &&
    (fitOf(spot) === line || (kind === "taken_out" && byOrder(fitOf(spot), line) < 0)));
  return touched ? ` Or mend ${pair.noun} one, which changed after ${pair.second} began: ${mended}.` : "";
}

/** What she counted at piece two, against what she counted at piece one, or what is to be there. */
function counts(pair) {
  if (!alike(pair)) return [];
  const found = [];
  for (const [spot, counted] of pair.two.counted) {
    const planned = pair.planOne.bySpot.get(spot)?.text.counts ?? {};
    for (const [name, count] of [...counted].sort(([a], [b]) => (a < b ? -1 : 1))) {
      const own = pair.one.counted.get(spot)?.get(name);
      const target = own ?? (Object.hasOwn(planned, name) ? planned[name] : undefined);
      if (target !== undefined && target !== count) {
        found.push(countDiffers(pair, spot, name, target, count, own !== undefined));
      }
    }
  }
  return found;
}

function countDiffers(pair, spot, name, target, count, wasCounted) {
  const here = atWords(pair.planTwo, spot), say = (number) => shown(pair.carried, name, number);
  const off = `${say(Math.abs(target - count))} too ${count < target ? "few" : "many"}`;
  const says = wasCounted ? `You counted ${say(target)} in ${pair.noun} one` : `There should be ${say(target)}`;
  return {
    key: `count/${spot}/${name}/${target}/${count}`,
    kind: "count",
    spot,
    sectionTitle: titleAt(pair.planTwo, spot),
    what: `${says} at the end of ${here}; in ${pair.second} you counted ${count}: ${off}.`,
    one: say(target),
    two: say(count),
    mend: `Count again; if it stays so, take out ${here} and work it again.`,
    takeOut: pair.two.worked.includes(spot) ? spot : null,
  };
}

/** What changed in piece one after piece two had begun, a sentence each. @returns {string[]} */
export function changedWords(carried, making, plan) {
  const lead = `${capitalized(carried.noun)} one changed after ${carried.noun} two began: `;
  return [...new Set(making.changed.map((change) => lead + changeWords(change, plan)))];
}

function changeWords({ kind, spot, count }, plan) {
  const where = spot ? atWords(plan, spot) : "";
  if (kind === "taken_out") {
    return count === 1 ? `${where} was taken out.` : `${count} rounds were taken out, ${where} the first of them.`;
  }
  if (kind === "hook") return `another hook is written down${where ? ` for ${where}` : ""}.`;
  if (spot && plan.fits.has(fitOf(spot))) return `${sectionWords(plan, spot)} was opened again.`;
  return `it was gone on with at ${where}.`;
}

/**
 * Whether piece two is a twin up to a round, and what to heed before working it (server/craft/making/atround.py).
 * @param {Difference[]} found all differences @returns {{twin: boolean, headline: string, before: string[]}}
 */
export function verdictAt(carried, making, planOne, planTwo, found, spot) {
  const one = making.pieces[1], two = making.pieces[2], noun = carried.noun;
  const here = found.filter((each) => !each.accepted && (each.spot === null || byOrder(each.spot, spot) <= 0)).length;
  const before = one.worked.length && !two.worked.includes(spot)
    ? heedBefore(carried, making, planOne, planTwo, spot, `${capitalized(noun)} one`) : [];
  const meant = found.filter((each) => each.accepted).length;
  const also = meant ? ` ${many(meant, "difference is", "differences are")} meant.` : "";
  const stand = new Set(one.worked), begun = new Set(planOne.rounds.filter(isFoundation).map((round) => round.spot));
  const same = two.worked.filter((each) => stand.has(each) && !begun.has(each) && byOrder(each, spot) <= 0).length;
  let headline = `Twin so far: ${many(same, "round")} as in ${noun} one.`;
  if (here) headline = `Not as ${noun} one in ${many(here, "place")}.`;
  else if (!same) headline = `${capitalized(noun)} two begins here.`;
  return { twin: !here && !before.length, headline: headline + also, before };
}

function heedBefore(carried, making, planOne, planTwo, spot, first) {
  const one = making.pieces[1], two = making.pieces[2], stands = standing(one, planOne, fitOf(spot)), says = [];
  if (stands.through && turnOf(spot) > stands.rounds) {
    const had = stands.rounds ? many(stands.rounds, "round") : "no round";
    says.push(`${first} had ${had} here; this would be the ${ordinal(turnOf(spot))}.`);
  }
  const [hadMm, inHandMm] = [hookAt(one, spot), hookAt(two, spot)];
  if (hadMm !== null && inHandMm !== null && hadMm !== inHandMm && !hookMeant(making, hadMm, inHandMm)) {
    const [had, inHand] = [hadMm, inHandMm].map((mm) => hookText(carried, mm));
    says.push(`${first} had a hook of ${had} here; you have ${inHand} in hand. Change it now.`);
  }
  const section = planTwo.sections.find(({ index }) => index === sectionOf(spot));
  if (section?.kind !== "gap" || !one.worked.some((each) => sectionOf(each) === section.index)) return says;
  const [below, sits] = [roundsBelow(one, planOne, section.index), roundsBelow(two, planTwo, section.index)];
  if (below !== sits) {
    says.push(`${first} has this gap above ${many(below, "round")}; here it would sit above ${sits}, ` +
      `${many(Math.abs(sits - below), "round")} ${sits > below ? "higher" : "lower"}.`);
  }
  return says;
}

/** Whether she said of the same two hooks that they are meant, at whichever round. */
const hookMeant = (making, one, two) =>
  [...making.accepted].some((key) => key.startsWith("hook/") && key.endsWith(`/${size(one)}/${size(two)}`));

/** How many rounds stand in the sections before one, the foundation left out. */
function roundsBelow(hand, plan, section) {
  const begun = new Set(plan.rounds.filter(isFoundation).map(({ spot }) => spot));
  return hand.worked.filter((spot) => sectionOf(spot) < section && !begun.has(spot)).length;
}

/** What glove one did at a round, in sentences; there is always at least one. @returns {string[]} */
export function asMade(carried, making, planOne, spot) {
  const one = making.pieces[1], noun = carried.noun, first = `${capitalized(noun)} one`;
  const stand = standing(one, planOne, fitOf(spot)), worked = one.worked.includes(spot);
  const counted = one.counted.get(spot) ?? new Map(), notes = one.notes.filter((note) => note.spot === spot);
  const changed = one.hookChanges.find(([at]) => at === spot);
  const says = [];
  if (planOne.fits.has(fitOf(spot)) && stand.through && stand.rounds) {
    says.push(`${first} had ${many(stand.rounds, "round")} here.`);
  } else if (stand.through && !worked) says.push(`${first} has no such round.`);
  if (changed) says.push(`${first} changed to a hook of ${hookText(carried, changed[1])} here.`);
  else if (spot === planOne.rounds[0]?.spot && one.hookMm !== null) {
    says.push(`${first} was begun with a hook of ${hookText(carried, one.hookMm)}.`);
  }
  if (counted.size) {
    const words = [...counted].sort(([a], [b]) => (a < b ? -1 : 1)).map(([name, n]) => shown(carried, name, n));
    says.push(`You counted ${words.join(", ")} in ${noun} one.`);
  }
  const wide = one.measures.get(`width@${spot}`), long = one.measures.get(`length@${spot}`);
  const measured = [[wide, "wide"], [long, "long"]].filter(([mm]) => mm !== undefined)
    .map(([mm, how]) => `${lengthText(mm, carried.units)} ${how}`);
  if (measured.length) says.push(`${first} was ${measured.join(" and ")} at the end of this round.`);
  if (one.weights.has(spot)) says.push(`${first} weighed ${weightText(one.weights.get(spot))} with this round.`);
  says.push(...notes.map((note) => `Your note at ${noun} one: ${note.text}`));
  if (!worked && !says.length) says.push(`${carried.names[1]} has not come to this round.`);
  else if (worked && ![counted.size, notes.length, changed, measured.length, one.weights.has(spot)].some(Boolean)) {
    says.push("Worked, nothing noted at it.");
  }
  const hook = hookAt(one, spot);
  if (worked && hook !== null && !says.some((words) => words.includes("hook"))) {
    says.push(`Hook ${hookText(carried, hook)}.`);
  }
  return says;
}

