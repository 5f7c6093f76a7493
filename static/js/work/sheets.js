// The forms one tap away, brought up to date with the round at hand.

import { h, refill } from "./dom.js";
import { rounds } from "./said.js";

const at = (id) => document.getElementById(id);

let latest = null;

/**
 * Fills the sheets anew. One that is open keeps what was typed, and the round it was opened at: that is the round she
 * writes of, whatever another device logs meanwhile.
 */
export function fillSheets(view) {
  latest = view;
  fillOut(view);
  fillCount(view);
  fillSeveral(view);
  for (const [id, fill] of Object.entries({ note: fillNote, place: fillPlace, hook: fillHook, measure: fillMeasure })) {
    if (!isOpen(id)) fill(view);
  }
}

document.addEventListener("toggle", ({ target, newState }) => {
  if (latest && newState === "closed" && target.matches?.(".sheet")) fillSheets(latest);
}, true); // it does not bubble

const isOpen = (id) => at(`sheet-${id}`).matches(":popover-open");
const roundWords = (view) => (view.spot ? view.label || view.section.title : "the end");

function fillNote(view) {
  titled("note", `Note at ${roundWords(view)}`);
  field("note", "spot").value = view.spot ?? view.before?.spot ?? "";
}

const titled = (id, words) => { at(`sheet-${id}-name`).textContent = words; };
const field = (id, name) => at(`sheet-${id}`).querySelector(`[name=${name}]`);

/** Shows the form, or the sentence in its place. */
function only(id, isForm) {
  for (const form of at(`sheet-${id}`).querySelectorAll("[data-when]")) form.hidden = (form.dataset.when === "there") !== isForm;
}

/** New options. In a sheet that is open the chosen one stays where it is still there; else the usual one stands. */
function options(select, all, usual = all[0]?.[0] ?? "") {
  const chosen = select.closest(".sheet").matches(":popover-open, :not([popover])") ? select.value : usual;
  refill(select, all.map(([value, words]) => h("option", { value }, words)));
  select.value = all.some(([value]) => value === chosen) ? chosen : usual;
}

function fillOut(view) {
  only("out", view.takeOuts.length > 0);
  options(at("out-spot"), view.takeOuts.map((out) => [out.spot, `${rounds(out.rounds)}: back to ${out.backTo}`]));
}

function fillCount(view) {
  const all = [];
  if (view.spot) all.push([view.spot, `${view.section.title}, ${view.label || "this round"}: ${view.count}`]);
  if (view.before) all.push([view.before.spot, `${view.before.section}, ${view.before.label || "this round"}: ${view.before.count}`]);
  options(at("count-spot"), all);
  options(at("count-name"), view.countable ?? []);
}

function fillPlace(view) {
  only("place", Boolean(view.spot));
  field("place", "spot").value = view.spot ?? "";
  const stops = view.stops ?? [], list = at("place-at"), value = ({ step, repeat, text }) => `${step}/${repeat ?? ""}/${text}`;
  list.closest(".field").hidden = !stops.length;
  const kept = view.mid && stops.find(({ step, repeat }) => step === view.mid.step && repeat === view.mid.repeat);
  options(list, stops.map((stop) => [value(stop), stop.repeat === null ? `${stop.text}: ${view.steps[stop.step]}` : stop.text]),
    kept ? value(kept) : undefined);
  at("place-text").required = !stops.length;
}

function fillHook(view) {
  titled("hook", view.hook ? `Hook from ${roundWords(view)} on` : "The hook you begin with");
  const spot = field("hook", "spot");
  spot.value = view.hook && view.spot ? view.spot : "";
}

function fillSeveral(view) {
  only("several", view.ahead.length > 0);
  const list = at("several-list");
  const ticked = new Set([...list.querySelectorAll(":checked")].map((box) => box.value));
  refill(list, view.ahead.map(({ spot, label }) =>
    h("label", { class: "switch" },
      h("input", { type: "checkbox", name: "spot", value: spot, autocomplete: "off", checked: ticked.has(spot) }),
      h("span", { class: "switch-name" }, label))));
}

function fillMeasure(view) {
  only("measure", Boolean(view.before));
  if (!view.before) return;
  at("measure-at").textContent = `${view.before.section}, ${view.before.label || "this round"}`;
  for (const spot of at("sheet-measure").querySelectorAll("[name=spot]")) spot.value = view.before.spot;
}

/** In the long list a tick takes those before it along: rounds are made one after another. */
export function tickThrough(box) {
  const boxes = [...at("several-list").querySelectorAll("input")], place = boxes.indexOf(box);
  boxes.forEach((each, index) => { each.checked = index < place || (index === place ? box.checked : false); });
}

/** Says at its field what would be right; nothing typed is lost. */
export function say(form, refusal) {
  clear(form);
  const input = form.elements.namedItem(refusal.field), field = input instanceof RadioNodeList ? input[0] : input;
  const id = `${form.closest("section")?.id ?? form.id}-said`;
  const words = h("p", { class: "field-error", id, "data-said": true }, h("span", {}, refusal.message));
  (field?.closest(".field") ?? field?.closest("fieldset") ?? form).append(words);
  field?.setAttribute("aria-invalid", "true");
  field?.setAttribute("aria-describedby", id);
  field?.focus();
}

/** Takes what was said off again. */
export function clear(form) {
  for (const said of form.querySelectorAll(".field-error")) said.remove();
  for (const field of form.querySelectorAll("[aria-invalid]")) field.removeAttribute("aria-invalid");
}
