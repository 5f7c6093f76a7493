// Addresses: a round's spot "section.line.turn", a line's fit "section.line", and their order.
// The same rules as server/craft/making/spots.py.

const SPOT = /^(0|[1-9][0-9]{0,5})\.(0|[1-9][0-9]{0,5})\.([1-9][0-9]{0,5})$/;
const FIT = /^(0|[1-9][0-9]{0,5})\.(0|[1-9][0-9]{0,5})$/;

/** @param {unknown} value @returns {value is string} */
export const isSpot = (value) => typeof value === "string" && SPOT.test(value);

/** @param {unknown} value @returns {value is string} */
export const isFit = (value) => typeof value === "string" && FIT.test(value);

/**
 * The order of two spots or fits as they are worked; a fit comes before its own spots.
 * @param {string} one @param {string} other @returns {number} below 0, 0, above 0
 */
export function byOrder(one, other) {
  const a = one.split("."), b = other.split(".");
  for (let at = 0; at < Math.min(a.length, b.length); at++) {
    if (a[at] !== b[at]) return Number(a[at]) - Number(b[at]);
  }
  return a.length - b.length;
}

/** The line "section.line" of a spot. @param {string} spot */
export const fitOf = (spot) => spot.slice(0, spot.lastIndexOf("."));

/** The turn of a spot within its line, from 1. @param {string} spot */
export const turnOf = (spot) => Number(spot.slice(spot.lastIndexOf(".") + 1));

/** The section's index of a spot or a fit. @param {string} address */
export const sectionOf = (address) => Number(address.slice(0, address.indexOf(".")));
