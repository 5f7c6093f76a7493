// What a form of the page says, as an entry: the same fields and the same answers as the server's
// (server/web/maker/entries.py, server/services/notebooks/shapes.py).

const MM_PER_IN = 25.4;
const NOTE_MOST = 1000, PLACE_MOST = 200, COUNT_MOST = 5000, LENGTH_MOST_MM = 3000, WEIGHT_MOST_G = 5000;
const HOOK_LEAST_MM = 0.4, HOOK_MOST_MM = 40;

/** A form that could not be an entry: what would be right, at which field. */
export class Refusal extends Error {
  constructor(message, field) {
    super(message);
    this.field = field;
  }
}

/** {kind, piece, values, id} of a form; Refusal where it cannot be. `ahead`: the spots of the long list. */
export function entryOf(form, ahead) {
  const data = new FormData(form), said = (name) => String(data.get(name) ?? "");
  const kind = said("kind"), rule = RULES[kind];
  if (!rule) return null;
  return { kind, piece: Number(said("piece")), values: rule(said, data, ahead), id: said("id") || undefined };
}

/** A number as people write it, "9.5" or "9,5"; null where it is none. */
export function decimal(typed) {
  const text = typed.trim().replace(",", ".");
  return /^\d{1,5}(\.\d{1,6})?$/.test(text) ? Number(text) : null;
}

function whole(typed, least, most, what, field) {
  const text = typed.trim();
  if (!/^[+-]?\d+$/.test(text)) throw new Refusal(`${what} is a number from ${least} to ${most}.`, field);
  const number = Number(text);
  if (number < least || number > most) throw new Refusal(`${number} is out of reach here: ${what} is a number from ${least} to ${most}.`, field);
  return number;
}

function hookMm(typed) {
  const text = typed.trim().toLowerCase().replace(/mm$/, "").trim().replace(",", ".");
  if (!/^\d{1,2}(\.\d{1,2})?$/.test(text)) throw new Refusal("Write the hook in mm, such as 4.5.", "hook_other");
  const size = Number(text);
  if (size < HOOK_LEAST_MM || size > HOOK_MOST_MM) {
    throw new Refusal(`${size} mm is no hook size. They run from ${HOOK_LEAST_MM} to ${HOOK_MOST_MM} mm.`, "hook_other");
  }
  return size;
}

function placeSaid(said) {
  const [, step, repeat, words] = /^(\d*)\/(\d*)\/(.*)$/s.exec(said("at")) ?? ["", "", "", ""];
  const text = (said("text").trim() || words).split(/\s+/).filter(Boolean).join(" ");
  const length = [...text].length;
  if (length < 1 || length > PLACE_MOST) throw new Refusal(`Say where in the round you stopped, in 1 to ${PLACE_MOST} characters.`, "text");
  return { text, step: step === "" ? null : Number(step), repeat: repeat === "" ? null : Number(repeat) };
}

function noteText(typed) {
  const text = typed.replaceAll("\r\n", "\n").trim(), length = [...text].length;
  if (!text) throw new Refusal("Write the note first.", "text");
  if (length > NOTE_MOST) throw new Refusal(`${length} characters; a note holds ${NOTE_MOST}. Make two notes of it.`, "text");
  return text;
}

function lengthMm(typed, units) {
  const number = decimal(typed.trim().toLowerCase().replace(/(cm|in)$/, ""));
  if (number === null) throw new Refusal(`Write what you measured in digits, such as ${units === "in" ? "3.75" : "9.5"}.`, "measure");
  const mm = Math.round(number * (units === "in" ? MM_PER_IN : 10) * 100) / 100;
  if (mm <= 0 || mm > LENGTH_MOST_MM) throw new Refusal(`Write what you measured, such as 9.5; at most ${LENGTH_MOST_MM / 10} cm.`, "measure");
  return mm;
}

function grams(typed) {
  const number = decimal(typed);
  if (number === null || number <= 0 || number > WEIGHT_MOST_G) {
    throw new Refusal(`Write what it weighs in grams, such as 21; at most ${WEIGHT_MOST_G} g.`, "grams");
  }
  return number;
}

/** Every round up to the last one ticked, as one entry. */
function countedIn(data, ahead) {
  const last = Math.max(...data.getAll("spot").map((spot) => ahead.indexOf(spot)), -1);
  if (last < 0) throw new Refusal("Tick the rounds that you have made, up to the last one.", "spot");
  const lines = ahead.slice(0, last + 1).map((spot) => spot.split("."));
  return { rounds: Object.fromEntries(lines.map(([section, line, turn]) => [`${section}.${line}`, Number(turn)])), ended: [] };
}

const RULES = {
  hook: (said) => ({ hook_mm: hookMm(said("hook_other").trim() ? said("hook_other") : said("hook")), spot: said("spot") || null }),
  worked: (said) => ({ spot: said("spot") }),
  taken_out: (said) => ({ spot: said("spot") }),
  fit_ended: (said) => ({ fit: said("fit"), rounds: Number(said("rounds")) }),
  fit_reopened: (said) => ({ fit: said("fit") }),
  counted: (said) => ({ spot: said("spot"), name: said("name"), count: whole(said("count"), 0, COUNT_MOST, "A count", "count") }),
  note: (said) => ({ spot: said("spot") || null, text: noteText(said("text")) }),
  accepted: (said) => ({ difference: said("difference") }),
  finished: () => ({}),
  place: (said) => ({ spot: said("spot"), ...placeSaid(said) }),
  measured: (said) => ({ what: said("what"), mm: lengthMm(said("measure"), said("units")), spot: said("spot") }),
  weighed: (said) => ({ grams: grams(said("grams")), spot: said("spot") }),
  counted_in: (said, data, ahead) => countedIn(data, ahead),
  undo: (said) => ({ entry: said("entry") }),
};
