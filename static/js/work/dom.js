// Elements, built rather than written as text: whatever stands in a note or a pattern stays text.

const SVG = "http://www.w3.org/2000/svg";
const SIGNS = {
  good: "M4.5 13l5 5L19.5 6.5",
  differs: "M5 9h14M5 15h14M8 20l8-16",
  care: "M12 4.5L21 19.5H3zM12 10v4.5M12 17v.1",
  note: "M5 4h10l4 4v12H5zM8.5 11h7M8.5 15h7",
};

/** An element. Attributes that are false, null or undefined are left out; children likewise. */
export function h(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (value === false || value === null || value === undefined) continue;
    element.setAttribute(name, value === true ? "" : String(value));
  }
  element.append(...children.flat().filter((child) => child !== null && child !== undefined && child !== false && child !== ""));
  return element;
}

/** A small sign with an even pen line (templates/_pieces/signs.html). */
export function sign(name) {
  const svg = document.createElementNS(SVG, "svg");
  const given = { viewBox: "0 0 24 24", "aria-hidden": "true", focusable: "false", fill: "none", stroke: "currentColor",
    "stroke-width": 2, "stroke-linecap": "round", "stroke-linejoin": "round" };
  for (const [key, value] of Object.entries(given)) svg.setAttribute(key, value);
  const path = document.createElementNS(SVG, "path");
  path.setAttribute("d", SIGNS[name]);
  svg.append(path);
  return svg;
}

/** A word for a state with its sign. */
export const state = (kind, words) => h("span", { class: `state state--${kind}` }, sign(kind), h("span", {}, words));

/** A notice in place. */
export const notice = (kind, title, ...more) =>
  h("div", { class: `notice notice--${kind}` }, sign(kind), h("div", {}, h("p", { class: "notice-title" }, title), ...more));

/** A form of one button that makes an entry, as the page's own (templates/maker/_forms.html). */
export function oneButton(action, kind, piece, label, values = {}, css = "button--plain", hiddenLabel = "") {
  const fields = Object.entries({ kind, piece, ...values }).map(([name, value]) => h("input", { type: "hidden", name, value }));
  const unseen = hiddenLabel && h("span", { class: "out-of-sight" }, hiddenLabel);
  return h("form", { method: "post", action }, fields, h("button", { class: `button ${css}`, type: "submit" }, label, unseen));
}

/**
 * Brings an element's children up to date. Those that stay as they are stay the same elements, so that a press under
 * way, a tick, an open line and the focus are not lost to an answer of the server; where the one that has the focus is
 * replaced, its successor takes it.
 */
export function refill(element, ...children) {
  const fresh = children.flat().filter(Boolean), old = [...element.childNodes];
  const alike = (a, b) => Boolean(a && b && a.isEqualNode(b));
  let front = 0, back = 0;
  while (alike(old[front], fresh[front])) front += 1;
  while (front + back < Math.min(old.length, fresh.length) && alike(old.at(-1 - back), fresh.at(-1 - back))) back += 1;
  const gone = old.slice(front, old.length - back), come = fresh.slice(front, fresh.length - back);
  if (!gone.length && !come.length) return;
  const focused = element.contains(document.activeElement) ? document.activeElement : null;
  const name = focused && nameOf(focused), place = focused && named(element, name).indexOf(focused);
  for (const each of gone) each.remove();
  for (const each of come) element.insertBefore(each, old[old.length - back] ?? null);
  if (!focused || document.activeElement === focused) return;
  const successors = named(element, name);
  (successors[place] ?? successors[0] ?? document.querySelector("h1"))?.focus({ preventScroll: true });
}

const named = (element, name) =>
  [...element.querySelectorAll("button, input, select, summary, a, h1, [tabindex]")].filter((each) => nameOf(each) === name);

/** What an element is for, whichever round it stands in: a box is named by its label. */
const nameOf = (element) =>
  ["button--log", "button--undo"].find((css) => element.classList.contains(css)) ??
  (element.id || `${element.tagName} ${element.getAttribute("name") ?? ""} ${(element.closest("label") ?? element).textContent.trim()}`);
