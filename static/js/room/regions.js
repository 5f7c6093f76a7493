// A page that stays as its server draws it: its regions (data-live, each with an id) are put in place anew from the
// page as it is now. What somebody is typing in is left alone. Where its kind has changed (data-kind: a room that was
// opened or closed elsewhere), it is loaded anew.

const TYPED = "input:not([type=hidden]), textarea, select";
const UNSENT = "No answer just now. Press again once the connection is back.";
let sending = Promise.resolve();

/** Fetches this page and puts its regions in place; false where it does not come. `taken` gets the page as it is now. */
export async function refresh(taken) {
  try {
    const answer = await fetch(location.href, { headers: { Accept: "text/html" }, cache: "no-store" });
    if (!answer.ok) return false;
    const fresh = put(await answer.text());
    if (fresh) taken?.(fresh);
    return true;
  } catch {
    return false;
  }
}

/**
 * Sends a form and puts in place what the page is then, one form after another. `before` runs when its turn comes. Where
 * no answer comes, the page stays with all that was typed, and says so at the form.
 */
export function send(form, submitter, before) {
  sending = sending.then(() => sendNow(form, submitter, before));
  return sending;
}

async function sendNow(form, submitter, before) {
  before?.();
  document.getElementById("unsent")?.remove();
  const body = new URLSearchParams(new FormData(form, submitter ?? undefined));
  try {
    const answer = await fetch(form.action, { method: "POST", body, headers: { Accept: "text/html" } });
    if (answer.redirected && new URL(answer.url).pathname !== location.pathname) {
      location.assign(answer.url);
      return false;
    }
    if (answer.ok) clear(form);
    put(await answer.text());
    return answer.ok;
  } catch {
    sayUnsent(form);
    return false;
  }
}

function sayUnsent(form) {
  const said = document.createElement("p");
  said.id = "unsent";
  said.className = "field-error";
  said.setAttribute("role", "alert");
  said.textContent = UNSENT;
  (form.closest(".desk-moves") ?? form).append(said);
}

function clear(form) {
  for (const field of form.querySelectorAll("input[type=text]")) field.value = field.defaultValue;
}

function put(text) {
  const fresh = new DOMParser().parseFromString(text, "text/html");
  const kind = document.querySelector("[data-kind]")?.dataset.kind, now = fresh.querySelector("[data-kind]")?.dataset.kind;
  if (now !== undefined && now !== kind) return void location.reload();
  for (const region of document.querySelectorAll("[data-live]")) {
    const other = fresh.getElementById(region.id);
    if (!other) continue;
    if (region.dataset.live === "each") putEach(region, other);
    else if (region.outerHTML !== other.outerHTML && !isTypedIn(region)) region.replaceWith(document.importNode(other, true));
  }
  return fresh;
}

function putEach(list, other) {
  const wanted = [...other.children], ids = new Set(wanted.map((each) => each.id));
  for (const each of [...list.children]) if (!ids.has(each.id) && !isTypedIn(each)) each.remove();
  wanted.forEach((each, at) => {
    const here = document.getElementById(each.id);
    if (here && (isTypedIn(here) || here.outerHTML === each.outerHTML)) return;
    const made = document.importNode(each, true);
    if (here) here.replaceWith(made);
    else list.insertBefore(made, list.children[at] ?? null);
  });
}

function isTypedIn(region) {
  if (region.contains(document.activeElement) && document.activeElement.matches(TYPED)) return true;
  return [...region.querySelectorAll("input[type=text], textarea")].some((field) => field.value !== field.defaultValue);
}
