// The round at hand, drawn from the store's view into the same places and the same words as the server's templates.

import { h, notice, oneButton, refill, sign, state } from "./dom.js";
import { ago, capitalized, pace, rounds } from "./said.js";

const SAVED = {
  server: ["good", "saved"],
  here: ["care", "saved on this device"],
  not: ["differs", "not saved: this device keeps nothing, leave the page open"],
};

/** @param {{action: string, part: string, one: string, two: string, pair: boolean, strip: HTMLElement}} page */
export function drawAll(page, view, { saved, refused }) {
  const at = (id) => document.getElementById(id);
  refill(at("work-place"), place(view, saved));
  refill(at("work-news"), kept(refused), news(page, view));
  refill(at("work-round"), round(page, view));
  refill(at("work-matter"), matter(page, view));
  refill(at("work-bar"), bar(page, view));
  refill(at("work-asides"), asides(page, view));
  document.title = `${`${view.word} ${view.number}`.trim() || "Finished"}, ${view.section.title} · ${view.name}`;
}

/** The notebook is not this device's any more: why, and nothing of it. */
export function drawGone(words) {
  for (const id of ["work-said", "work-rest", "work-matter"]) document.getElementById(id).replaceChildren();
  for (const css of [".work-where", ".work-hand", ".work-after"]) document.querySelector(css)?.remove();
  for (const sheet of document.querySelectorAll(".sheet:popover-open")) sheet.hidePopover();
  const where = h("p", {}, h("a", { class: "tall-link", href: "/notebook" }, "To the shelf"));
  refill(document.getElementById("work-round"), h("h1", { tabindex: -1 }, "This notebook is not here any more"));
  refill(document.getElementById("work-news"), notice("differs", words, where));
}

function place(view, saved) {
  const [kind, words] = SAVED[saved];
  const purpose = view.section.purpose && h("span", { class: "quiet" }, `, ${view.section.purpose}`);
  const last = view.undo && h("span", { class: "quiet" }, ` ${view.undo.words}${view.undo.at ? `, ${ago(view.undo.at)}` : ""}`);
  return [
    h("p", {}, h("strong", {}, view.name), ` · ${view.section.title}`, purpose),
    h("p", { class: "work-saved" }, state(kind, words), last),
  ];
}

/** What the server did not take, and why; it stays on this device until she takes it off. */
function kept(refused) {
  return refused.map(({ id, words, reason }) => notice("care", `Not on the server: ${words}.`, h("p", {}, reason),
    h("button", { class: "button button--plain", type: "button", "data-dismiss": id }, "Take it off this device")));
}

function news(page, view) {
  const say = (each) => notice("differs", `${each.label}: ${each.words}`, slips(each.likely),
    h("p", {}, "Count again; if it stays so, take the round out and work it again."));
  const made = view.changed.map((words) => notice("care", words));
  if (view.piece === 1) made.push(...view.counted.filter((each) => !each.agrees).map(say));
  const last = view.departures.at(-1);
  if (last) made.push(departure(page, view, last));
  const more = view.departures.length - 1;
  if (more > 0) {
    made.push(h("p", {}, state("differs", `${more} more ${more === 1 ? "difference" : "differences"}`), " ",
      h("a", { href: `/notebook/${page.part}/pair` }, "See the pair")));
  }
  for (const words of view.meant) made.push(h("p", { class: "meant" }, state("note", `Meant: ${words}`)));
  return made;
}

const slips = (likely) => likely?.length ? [
  h("p", {}, "What may have happened, likeliest first:"),
  h("ol", { class: "slips" }, likely.map(({ says, where }) => h("li", {}, says, " ", h("span", { class: "quiet" }, where)))),
] : [];

function departure(page, view, { key, words, mend, takeOut, goOn }) {
  const button = (kind, label, values) => oneButton(page.action, kind, kind === "accepted" ? 0 : 2, label, values);
  return notice("differs", words,
    mend && !words.includes("Take it out") && h("p", {}, mend),
    h("div", { class: "row-of" },
      takeOut && view.kind !== "end fit" &&
        button("taken_out", `Take out ${rounds(takeOut.rounds)}, back to ${takeOut.backTo}`, { spot: takeOut.spot }),
      goOn && button("fit_reopened", "Go on with it", { fit: goOn }),
      button("accepted", "It is meant", { difference: key })));
}

function round(page, view) {
  const title = (...inside) => h("h1", { class: "round-number", tabindex: -1 }, ...inside);
  const figure = (css, words) => h("span", { class: css }, words);
  if (view.kind === "finish") return title(figure("round-name", "Every round is worked"));
  if (view.kind === "finished") return title(figure("round-name", `${view.name} is finished`));
  if (view.kind === "round") {
    return [
      title(view.word && figure("round-word", view.word), view.word && " ", figure(view.word ? "round-figure" : "round-name", view.number)),
      strip(page, view),
    ];
  }
  const { done, other } = view.fit, all = done === view.strip.filter((each) => each.state === "worked").length;
  const as = other === done ? `, as in ${page.one}` : other !== null ? `; ${page.one} has ${other}` : "";
  return [title(figure("round-figure", done), " ", figure("round-word", `${done === 1 ? "round" : "rounds"}${all ? "" : " to fit"}${as}`)), strip(page, view)];
}

function strip(page, view) {
  const all = view.strip, done = all.filter((each) => each.state === "worked").length;
  const drawing = view.kind === "round" && page.strips.at(view.spot);
  return h("div", { class: "strip" },
    h("div", { class: "strip-chart", id: "strip-chart", role: "group", "aria-label": "The stitches of this round", tabindex: 0, hidden: !drawing }, drawing),
    all.length > 1 && h("div", { class: "strip-rounds", "aria-hidden": "true" }, all.map((each) =>
      h("span", { class: `strip-round strip-round--${each.state.replace(" ", "-")}${each.other ? " strip-round--other" : ""}` }))),
    all.length > 1 && h("p", { class: "small quiet" },
      done ? `${rounds(done)} of ${view.section.title} worked` : `${view.section.title} begins here`));
}

const step = (words, checked) =>
  h("li", {}, h("label", { class: "step" }, h("input", { type: "checkbox", autocomplete: "off", checked }), h("span", {}, words)));

const counted = (view) => view.counted.filter((each) => each.agrees || view.piece === 2).flatMap((each) => [
  h("p", { class: "work-counted" }, state(each.agrees ? "good" : "differs", `${each.label}: ${each.words}`)),
  view.piece === 2 && h("div", { class: "work-likely" }, slips(each.likely)),
]);

function matter(page, view) {
  if (view.kind === "round") return roundMatter(page, view);
  if (view.kind === "end fit") return endFit(page, view);
  if (view.kind === "finish") {
    const thread = "Weave in the ends on the inside and trim them. In anything for a baby leave no loose thread inside: it can wrap a finger.";
    return [
      h("p", { class: "work-lead" }, `${rounds(view.done)}. What is left:`),
      h("ul", { class: "steps" }, [...view.section.ends, thread].map((words) => step(words, false))),
      ...counted(view),
    ];
  }
  const hook = view.hook ? `, hook ${view.hook.words} at the end` : "";
  const [label, href] = !page.pair ? ["Back to the shelf", "/notebook"]
    : view.piece === 1 ? [`On to ${page.two}`, `/notebook/${page.part}/piece/2`] : ["See the pair", `/notebook/${page.part}/pair`];
  return [
    h("p", { class: "work-lead" }, `${rounds(view.done)}${hook}. All of it is written down.`),
    h("div", { class: "stack" },
      page.pair && view.piece === 1 &&
        h("p", {}, `${capitalized(page.two)} follows what you made, not what the pattern said. Rest your hands first.`),
      h("a", { class: "button button--do button--large", href }, label)),
  ];
}

function roundMatter(page, view) {
  const { mid } = view, reached = mid && mid.step !== null ? mid.step + (mid.repeat === null ? 1 : 0) : 0;
  const quiet = (words) => h("p", { class: "work-note quiet" }, words);
  return [
    ...view.lead.map(quiet),
    mid && h("p", { class: "work-mid" }, state("care", `You stopped here ${mid.text}`)),
    h("ol", { class: "steps", "data-spot": view.spot }, view.steps.map((words, at) => step(words, at < reached))),
    ...view.hostNotes.map(quiet),
    ...view.then.map((words) => h("p", { class: "work-note" }, `Then: ${words}`)),
    ...counted(view),
    ...view.notes.map((text) => h("p", { class: "work-own-note" }, h("span", { class: "quiet" }, "Your note"), ` ${text}`)),
    view.asMade.length > 0 && h("div", { class: "glove-one" },
      h("h2", { class: "glove-one-head" }, `${capitalized(page.one)} here`), view.asMade.map((words) => h("p", {}, words)),
      view.atRound.before.map((words) => h("p", {}, state("care", words))),
      h("p", {}, state(view.atRound.twin ? "good" : "differs", view.atRound.headline))),
    hookMissing(page, view),
  ];
}

function hookMissing(page, view) {
  if (view.hook) return null;
  const other = view.otherHook;
  if (!other) {
    return h("div", { class: "fit-end" }, h("p", {}, "Your hook is not written down yet."),
      h("button", { class: "button button--plain", type: "button", popovertarget: "sheet-hook" }, "Write it down"));
  }
  return h("div", { class: "fit-end" }, h("p", {}, `Your hook is not written down yet. ${capitalized(page.one)} has ${other.words}.`),
    oneButton(page.action, "hook", view.piece, `The same: ${other.words}`, { hook: other.mm }));
}

function endFit(page, view) {
  const { fit, done, other, until } = view.fit, alike = other === done;
  const departs = view.spot && oneButton(page.action, "worked", view.piece, `Log ${view.label || "this round"}, a departure`, { spot: view.spot });
  return [
    alike && h("p", { class: "work-lead" },
      `Stop here. ${capitalized(page.one)} ended this part of ${view.section.title} after ${rounds(done)}, at ${until}.`),
    ...counted(view),
    h("details", { class: "more" },
      h("summary", {}, alike ? "Work one more all the same" : "Leave it so, or work one more"),
      h("div", { class: "stack--close" },
        alike ? h("p", {}, `That is a round more than ${page.one} has. Your notebook will say so until it is out again or noted as meant.`)
          : oneButton(page.action, "fit_ended", view.piece, `End here with ${rounds(done)}`, { fit, rounds: done }),
        departs)),
  ];
}

function bar(page, view) {
  const undo = view.undo && oneButton(page.action, "undo", view.piece, "Undo", { entry: view.undo.id }, "button--small button--undo", `: ${view.undo.words}`);
  const count = view.kind === "round" && view.count;
  const over = h("div", { class: "work-over" },
    h("p", { class: "work-count" }, count && [h("span", { class: "quiet" }, "At its end"), " ", h("strong", {}, count)]), undo);
  const big = (kind, label, values) => oneButton(page.action, kind, view.piece, label, values, "button--do button--log");
  if (view.kind === "round") {
    const { fit } = view;
    const ends = fit?.canEnd && oneButton(page.action, "fit_ended", view.piece, endWords(page, view),
      { fit: fit.fit, rounds: fit.done }, "button--plain button--end");
    return [over, big("worked", view.word ? `Log ${view.label}` : "Log this round", { spot: view.spot }), ends];
  }
  if (view.kind === "finished") return [over];
  if (view.kind === "finish") return [over, big("finished", `${view.name} is finished`, {})];
  const { fit, done, other } = view.fit, mend = view.departures.findLast((each) => each.takeOut)?.takeOut;
  if (other !== null && done > other && mend) return [over, big("taken_out", `Take out ${rounds(mend.rounds)}`, { spot: mend.spot })];
  return [over, big("fit_ended", other === done ? `End here, as ${page.one}` : "End here", { fit, rounds: done })];
}

/** Said by the round's own name, as the strip counts the whole section and the part to fit is less. */
function endWords(page, { before, fit }) {
  if (fit.other === null) return `Long enough: end after ${before.label || "this round"}`;
  const apart = fit.done - fit.other;
  if (!apart) return `End here, as ${page.one}`;
  return `End here, ${rounds(Math.abs(apart))} ${apart < 0 ? "short of" : "past"} ${page.one}`;
}

function asides(page, view) {
  const other = view.otherHook && view.otherHook.mm !== view.hook?.mm ? `; ${page.one} ${view.otherHook.words} here` : "";
  const said = pace(view);
  return [
    said && h("p", { id: "work-pace" }, said),
    view.hook && h("p", {}, `Hook: ${view.hook.words}${other}.`),
    view.reopen && oneButton(page.action, "fit_reopened", view.piece, "Not long enough after all: go on with those rounds", { fit: view.reopen.fit }, "button--quiet"),
    page.newer, // what the server said of a newer version stays
  ];
}
