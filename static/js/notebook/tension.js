// The gloves' measures against each other: where the counts agree and the measures do not, the hand has changed.
// How much may differ, and why, stands in server/craft/making/tension.py; these are its rules and words.

import { hookAt, isFoundation } from "./place.js";
import { byOrder } from "./spots.js";
import { atWords, hookText, lengthText, rounded, size, smallText, titleAt, weightText } from "./words.js";

const STEP_MM = 0.4, SCALE_G = 1, KINDS = ["width", "length", "weight"];
const SPACE = /^ch-(\d+) sp$/;

/** Where the measures do not agree. @param {any} pair @param {string[]} countsDifferAt spots */
export function measuredDifferences(pair, countsDifferAt) {
  const every = compared(pair, countsDifferAt), found = [];
  for (const each of every) {
    if (agrees(each)) continue;
    const earlier = every.filter(({ what, spot }) => what === each.what && byOrder(spot, each.spot) < 0);
    // A glove that became short stays short: of lengths and weights only the first round is named.
    if (each.what !== "width" && !earlier.every(agrees)) continue;
    found.push(difference(pair, each, earlier.filter(agrees).at(-1)?.spot ?? null));
  }
  return found;
}

const agrees = ({ one, two, allowed }) => Math.abs(two - one) <= allowed;

/** Everything that both gloves were measured and weighed for at the same round, in working order. */
function compared(pair, countsDifferAt) {
  const found = [], half = (spot) => 1 / (Math.max(placesAt(pair.planOne, spot), 1) * (pair.carried.flat ? 2 : 1));
  const add = (what, spot, one, two, allowed) => {
    const alike = what === "width" ? bothHave(pair, spot) : sameRounds(pair, spot);
    const counted = countsDifferAt.every((each) => byOrder(each, spot) > 0);
    if (two !== undefined && alike && counted) found.push({ what, spot, one, two, allowed });
  };
  for (const [key, one] of pair.one.measures) {
    const [what, spot] = key.split("@");
    const allowed = what === "length" ? one / (2 * roundsTo(pair, spot)) : one * half(spot);
    add(what, spot, one, pair.two.measures.get(key), allowed);
  }
  for (const [spot, one] of pair.one.weights) {
    const share = half(spot) + 1 / (2 * roundsTo(pair, spot));
    add("weight", spot, one, pair.two.weights.get(spot), SCALE_G + one * share);
  }
  return found.sort((a, b) => byOrder(a.spot, b.spot) || KINDS.indexOf(a.what) - KINDS.indexOf(b.what));
}

/** Stitches of a round and the chains between them; of a foundation its chains. */
function placesAt(plan, spot) {
  const counts = plan.bySpot.get(spot)?.text.counts ?? {};
  const chains = Object.entries(counts).map(([name, count]) => Number(SPACE.exec(name)?.[1] ?? 0) * count);
  return (counts.sts ?? 0) + (counts.ch ?? 0) + chains.reduce((sum, each) => sum + each, 0);
}

const upTo = (hand, spot) => hand.worked.filter((each) => byOrder(each, spot) <= 0);

/** Rounds of glove one up to and with one, the foundation left out; at least 1. */
function roundsTo(pair, spot) {
  const counted = upTo(pair.one, spot).filter((each) => {
    const round = pair.planOne.bySpot.get(each);
    return !round || !isFoundation(round);
  });
  return Math.max(counted.length, 1);
}

const bothHave = (pair, spot) => pair.one.worked.includes(spot) && pair.two.worked.includes(spot);

function sameRounds(pair, spot) {
  const one = upTo(pair.one, spot);
  return one.join() === upTo(pair.two, spot).join() && one.includes(spot);
}

function difference(pair, each, agreed) {
  const { what, spot, one, two } = each, units = pair.carried.units;
  const out = agreed === null ? null : pair.two.worked.find((at) => byOrder(at, agreed) > 0) ?? null;
  const back = out === null ? "" :
    ` At the end of ${atWords(pair.planTwo, agreed)} they agree still: you can go back to there.`;
  const show = what === "weight" ? weightText : (value) => lengthText(value, units);
  const off = `${what === "weight" ? weightText(Math.abs(two - one)) : smallText(Math.abs(two - one), units)} ` +
    `(${Math.max(1, rounded((Math.abs(two - one) / one) * 100, 0))} %)`;
  const said = { width, length, weight }[what](pair, each, off, show);
  return {
    key: `${what}/${spot}/${size(one)}/${size(two)}`,
    kind: what,
    spot,
    sectionTitle: titleAt(pair.planTwo, spot),
    what: said.what,
    one: show(one),
    two: show(two),
    mend: said.mend + back,
    takeOut: out,
  };
}

function width(pair, { spot, one, two }, off, show) {
  const narrower = two < one;
  return {
    what: `At the end of ${atWords(pair.planTwo, spot)} ${pair.noun} one is ${show(one)} wide, ${pair.second} ` +
      `${show(two)}: ${off} ${narrower ? "narrower" : "wider"}. ${why(pair, spot, narrower)}`,
    mend: hookMend(pair, spot, narrower),
  };
}

function length(pair, { spot, one, two }, off, show) {
  const shorter = two < one;
  return {
    what: `To the end of ${atWords(pair.planTwo, spot)} ${pair.noun} one is ${show(one)} long, ${pair.second} ` +
      `${show(two)}: ${off} ${shorter ? "shorter" : "longer"} with the same rounds. ${why(pair, spot, shorter)}`,
    mend: pair.two.finished
      ? "Wet both, lay them out to the same length and let them dry, or note that it is meant."
      : `Draw the loops up ${shorter ? "a little higher" : "a little less"} as you work, and measure again after ` +
        "2 rounds; if the width is off too, another hook mends both. Or go on, or note that it is meant.",
  };
}

function weight(pair, { spot, one, two }, off, show) {
  const more = two > one;
  return {
    what: `To the end of ${atWords(pair.planTwo, spot)} ${pair.noun} one weighs ${show(one)}, ${pair.second} ` +
      `${show(two)}: ${off} ${more ? "more" : "less"} with the same rounds.`,
    mend: `Measure the width of both: a ${more ? "looser hand takes more" : "tighter hand takes less"} yarn. ` +
      "If they are as wide, look whether it is the same yarn. Or note that it is meant.",
  };
}

function why(pair, spot, tighter) {
  const one = hookAt(pair.one, spot), two = hookAt(pair.two, spot), text = (mm) => hookText(pair.carried, mm);
  if (one !== null && two !== null && one !== two) {
    return `${pair.first} had a hook of ${text(one)} there, ${pair.second} ${text(two)}.`;
  }
  return `The counts agree, so your hand is ${tighter ? "tighter" : "looser"} than it was.`;
}

/** A hook size up for a tighter hand, down for a looser one; glove one's, where it had another. */
function hookMend(pair, spot, tighter) {
  if (pair.two.finished) return "Wet both, lay them out to the same width and let them dry, or note that it is meant.";
  const one = hookAt(pair.one, spot), two = hookAt(pair.two, spot), text = (mm) => hookText(pair.carried, mm);
  let hook;
  if (one !== null && two !== null && one !== two && one > two === tighter) {
    hook = `Go back to ${pair.noun} one's hook of ${text(one)}`;
  } else {
    const other = nextHook(pair.carried, two ?? one, tighter);
    hook = `Take a hook a size ${tighter ? "up" : "down"}${other === undefined ? "" : `, ${text(other)},`}`;
  }
  return `${hook} from the next round on, and measure again after 2 rounds. Or go on with a ` +
    `${tighter ? "looser" : "firmer"} hand, or note that it is meant.`;
}

/** The next yarn hook a size up or down, mm; undefined where there is none or the hook is not known. */
function nextHook({ hooks }, mm, up) {
  if (mm === null) return undefined;
  const sizes = hooks.map(([each]) => each);
  return up ? sizes.find((each) => each >= mm + STEP_MM) : sizes.findLast((each) => each <= mm - STEP_MM);
}
