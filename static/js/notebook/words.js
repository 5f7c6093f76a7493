// Words that the page says in several places: numbers with their nouns, hooks, rounds by name.

import { sectionOf, turnOf } from "./spots.js";

/** "1 round", "2 rounds"; `more` where the plural is not `one` with an s. */
export const many = (count, one, more = `${one}s`) => `${count} ${count === 1 ? one : more}`;

/** "1st", "2nd", "11th" */
export function ordinal(number) {
  if ([11, 12, 13].includes(number % 100)) return `${number}th`;
  return `${number}${{ 1: "st", 2: "nd", 3: "rd" }[number % 10] ?? "th"}`;
}

export const capitalized = (words) => words.slice(0, 1).toUpperCase() + words.slice(1);

/** A count in her terms: "8 V-sts". */
export function shown(carried, name, count) {
  const nouns = Object.hasOwn(carried.nouns, name) ? carried.nouns[name] : [name, name];
  return `${count} ${nouns[count === 1 ? 0 : 1]}`;
}

/** A size as short as it goes: 5, 4.5, 4.25. */
export const size = (mm) => String(Number(mm.toPrecision(6)));

/** A hook as it is said: "5 mm (US H-8)". */
export function hookText(carried, mm) {
  const named = carried.hooks.find(([each]) => Math.abs(each - mm) < 0.005); // half of the last digit written
  return `${size(mm)} mm${named?.[1] ? ` (US ${named[1]})` : ""}`;
}

/** To so many digits after the point; what lies exactly between two goes to the even one. */
export function rounded(value, digits) {
  const scaled = value * 10 ** digits, below = Math.floor(scaled);
  if (scaled - below === 0.5 && Number.isInteger(value * 2 ** (digits + 1))) return (below + (below % 2)) / 10 ** digits;
  return Number(value.toFixed(digits));
}

const MM_PER_INCH = 25.4; // by definition (1959)

/** A length as it is read off a tape: "8.4 cm", "7.25 in" (to a twentieth: quarters stay what they are). */
export const lengthText = (mm, units) =>
  units === "in" ? `${size(rounded(mm / MM_PER_INCH * 20, 0) / 20)} in` : `${size(rounded(mm / 10, 1))} cm`;

/** A small length: "6 mm", "0.24 in". */
export const smallText = (mm, units) =>
  units === "in" ? `${size(rounded(mm / MM_PER_INCH, 2))} in` : `${size(rounded(mm, 1))} mm`;

/** A weight as a kitchen scale shows it. */
export const weightText = (grams) => `${size(rounded(grams, 1))} g`;

/** The section of a spot or a fit, as it is said: "the Cuff". */
export function sectionWords(plan, address) {
  const title = titleAt(plan, address);
  return title.toLowerCase().startsWith("the ") || !title ? title : `the ${title}`;
}

/** The title of an address's section. */
export const titleAt = (plan, address) =>
  plan.sections.find((each) => each.index === sectionOf(address))?.title ?? "";

/** A round by name within a sentence: "Rnd 3 of the Cuff". */
export function atWords(plan, spot) {
  const round = plan.bySpot.get(spot), section = sectionWords(plan, spot);
  if (!round) return section ? `${section}, round ${turnOf(spot)}` : "a round";
  return round.label ? `${round.label} of ${section}` : section;
}

/** "Cuff, Rnd 4", as it stands in that piece. */
export function roundName(plan, spot) {
  const round = plan.bySpot.get(spot);
  if (round) return round.label ? `${round.section.title}, ${round.label}` : round.section.title;
  const index = sectionOf(spot);
  return `${index < plan.sections.length ? `${plan.sections[index].title}, ` : ""}a round that is out`;
}

/** "24 chains", a size's name where the pattern starts from a ring, "not settled". */
export function foundationWords(numbers) {
  if (!numbers) return "not settled";
  return numbers.foundation === null ? numbers.size || "as written" : many(numbers.foundation, "chain");
}
