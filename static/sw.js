// The worker: opens a maker's pages where there is no network. VERSION and FILES, all that these pages are shown
// with, are put before this by the server; every address there has the sign of its content in it, so that what is
// kept under it never changes and pages of two versions never share a file.
//
// Pages are kept only where they have nothing on them but the work: never the shelf and the ways to other devices,
// which show secret links, and nothing of hosts.

const SHELL = `evenhand-shell-${VERSION}`, PAGES = "evenhand-pages";
const SHELLS_KEPT = 2; // a page that was kept before an update goes on with the shell it was made for
const WORK = /^\/notebook\/\d+\/(piece\/[12](\/where)?|pair|numbers|card|fit|fit\/(hand|gauge)|yarn)$/;
const SECRET_LINK = /^\/(n|move)\//;
const ANOTHER_NOTEBOOK = /^\/(join|move|notebook\/(open|put-away|erase|import))/; // once sent there
const AS_KEPT = { ignoreVary: true };
const NOT_SENT = "not-sent", NO_PDF = "no-pdf"; // the lines of the offline page that say so
const SHOWN_WITH = /<(?:link rel="stylesheet" href|script [^>]*src)="(\/(?:static|js)\/[^"]+)"/g;
const PIECE = /^\/notebook\/\d+\/piece\/[12]$/; // drawn from the device's own log, however old the page is
const PATIENCE_MS = 600; // another page that is kept is shown, where the network takes longer
const LATE = "late";
const SENT_MS = 10_000; // what is asked for so soon after a form was sent is its answer
let sentAtMs = 0;
let keeping = Promise.resolve();
let maker = 0; // another number once another notebook may be at hand

addEventListener("install", (event) => event.waitUntil(fillShell().then(() => skipWaiting())));
addEventListener("activate", (event) => event.waitUntil(tidyUp()));
addEventListener("message", (event) => {
  if (event.data?.keep) event.waitUntil(keepPages(event.data.keep));
  if (event.data?.ahead) event.waitUntil(keeping = keeping.then(() => keepAhead(event.data)).catch(() => undefined));
  if (event.data?.forget) event.waitUntil(caches.delete(PAGES));
});

addEventListener("fetch", (event) => {
  const { request } = event, { origin, pathname } = new URL(request.url);
  if (origin !== location.origin) return;
  const sent = request.method !== "GET", asked = request.mode === "navigate", ours = /^\/notebook(\/|$)/.test(pathname);
  if (asked && (SECRET_LINK.test(pathname) || (sent && ANOTHER_NOTEBOOK.test(pathname)))) {
    event.respondWith(anotherNotebook(event));
  } else if (asked && sent && ours) {
    event.respondWith(sendForm(request));
  } else if (sent) return;
  else if (/^\/(static|js)\//.test(pathname)) event.respondWith(fromShell(request));
  else if (asked && ours) event.respondWith(page(event));
});

async function sendForm(request) {
  try {
    return await fetch(request);
  } catch {
    return offlinePage(NOT_SENT);
  } finally {
    sentAtMs = Date.now(); // however long it took
  }
}

/** What changes the notebook at hand: no page of the one before is shown after it. */
async function anotherNotebook(event) {
  try {
    const answer = await fetch(event.request);
    maker += 1;
    await caches.delete(PAGES);
    return answer;
  } catch {
    return offlinePage(event.request.method === "GET" ? "" : NOT_SENT);
  }
}

async function fillShell() {
  const shell = await caches.open(SHELL);
  await Promise.all(FILES.map(async (address) => {
    const answer = (await caches.match(address, AS_KEPT)) ?? (await fetch(address)); // an address never means another content
    if (!answer.ok) throw new Error(`${address}: ${answer.status}`);
    await shell.put(address, answer);
  }));
}

async function tidyUp() {
  const shells = (await caches.keys()).filter((name) => name.startsWith("evenhand-shell-") && name !== SHELL);
  await Promise.all(shells.slice(0, Math.max(shells.length - SHELLS_KEPT + 1, 0)).map((name) => caches.delete(name)));
  await clients.claim();
  const kept = await (await caches.open(PAGES)).keys();
  await Promise.all(kept.map((request) => fetchedWhole(request.url).catch(() => undefined)));
}

/** A style sheet names its pictures and fonts without a sign: with no network, whichever is kept serves. */
async function fromShell(request) {
  const kept = await caches.match(request, AS_KEPT);
  if (kept) return kept;
  return fetch(request).catch(async (error) => {
    const alike = request.url.includes("/js/") ? null : await caches.match(request, { ...AS_KEPT, ignoreSearch: true });
    if (!alike) throw error;
    return alike;
  });
}

/**
 * A round at hand as it is kept, at once; what is kept is brought up to date meanwhile. Another page from the
 * network, or as it is kept where that takes long or there is none. Else the offline page.
 */
async function page(event) {
  const { pathname, search } = new URL(event.request.url);
  const kept = WORK.test(pathname) ? await (await caches.open(PAGES)).match(pathname, AS_KEPT) : undefined;
  const asked = WORK.test(pathname) && !search ? fetched(event.request) : fetch(event.request);
  if (WORK.test(pathname)) event.waitUntil(asked.then((answer) => keepFiles(answer.clone())).catch(() => undefined));
  if (!kept) return asked.catch(() => offlinePage(pathname.endsWith(".pdf") ? NO_PDF : ""));
  const waitedFor = search || Date.now() - sentAtMs < SENT_MS; // as it was kept, it would be another page
  if (PIECE.test(pathname) && !waitedFor) {
    event.waitUntil(asked.then(() => tellFresh(event.resultingClientId, pathname)).catch(() => undefined));
    return asKept(pathname, kept);
  }
  event.waitUntil(asked.catch(() => undefined));
  const late = new Promise((resolve) => { if (!waitedFor) setTimeout(resolve, PATIENCE_MS, LATE); });
  const answer = await Promise.race([asked.catch(() => undefined), late]);
  if (answer === LATE) return asKept(pathname, kept, "The network is slow just now");
  return answer && answer.status < 500 ? answer : asKept(pathname, kept);
}

/**
 * A page that was kept: its forms get ids of their own, so that none makes the entry of an earlier showing. The round
 * at hand is shown from the device's own log; another page is as it was, and says so.
 */
async function asKept(pathname, kept, why = "No network just now") {
  const fresh = await changed(kept, /(name="id" value=")[^"]*/g, (_, before) => before + crypto.randomUUID());
  if (PIECE.test(pathname)) return changed(fresh, 'id="work"', 'id="work" data-kept');
  const asItWas = `${why}: this page is as it was ${ago(Date.parse(kept.headers.get("Date")))}.`;
  return changed(fresh, /<main\b[^>]*>/, `$&<p class="notice notice--care" role="status" id="as-kept">${asItWas}</p>`);
}

/** How long ago a page was made: "a moment ago", "3 hours ago". */
function ago(ms) {
  const minutes = Math.floor((Date.now() - ms) / 60_000);
  if (Number.isNaN(minutes)) return "when it was kept here";
  const some = (number, unit) => (number === 1 ? `1 ${unit} ago` : `${number} ${unit}s ago`);
  if (minutes < 1) return "a moment ago";
  if (minutes < 60) return some(minutes, "minute");
  return minutes < 24 * 60 ? some(Math.floor(minutes / 60), "hour") : some(Math.floor(minutes / (24 * 60)), "day");
}

/** The page that was shown as kept may look at what the server said since. */
async function tellFresh(id, pathname) {
  (await clients.get(id))?.postMessage({ fresh: pathname });
}

async function offlinePage(shown = "") {
  const page = await caches.match(FILES.find((address) => address.startsWith("/offline?")), AS_KEPT);
  return page ? changed(page, `id="${shown}" hidden`, `id="${shown}"`) : Response.error();
}

async function changed(answer, what, into) {
  const { status, headers } = answer, kept = new Headers(headers);
  for (const name of ["Content-Encoding", "Content-Length"]) kept.delete(name);
  return new Response((await answer.text()).replace(what, into), { status, headers: kept });
}

/** A page of the work from the network, kept where it came as asked. */
async function fetched(request, options) {
  const of = maker, answer = await fetch(request, options);
  const path = new URL(answer.url || request.url || request, location.href).pathname;
  const pages = await caches.open(PAGES);
  if (of !== maker) return answer; // asked for with the notebook before
  if (answer.ok && answer.type === "basic" && !answer.redirected && WORK.test(path)) await pages.put(path, answer.clone());
  else if ([404, 410].includes(answer.status)) await pages.delete(path);
  return answer;
}

/** Pages that may be needed with no network, kept before she opens them. */
async function keepPages(paths) {
  const pages = await caches.open(PAGES);
  await Promise.all(paths.filter((path) => WORK.test(path)).map(async (path) => {
    // The one that is open was loaded a moment ago: the browser's own copy will do.
    if (!(await pages.match(path, AS_KEPT))) await fetched(path, { cache: "force-cache" }).catch(() => undefined);
  }));
}

/** The same with all that it is shown with. */
async function fetchedWhole(path) {
  await keepFiles(await fetched(path));
}

/** What a page that is kept needs beside what all have in common: few do. */
async function keepFiles(page) {
  if (!page.ok) return;
  const shell = await caches.open(SHELL);
  for (const [, address] of (await page.text()).matchAll(SHOWN_WITH)) {
    if (await shell.match(address, AS_KEPT)) continue;
    const file = (await caches.match(address, AS_KEPT)) ?? (await fetch(address));
    if (file.ok) await shell.put(address, file);
  }
}

/**
 * Pages that she may look up, one after another: those that are not here yet; `anew` the others too, but the round at
 * hand, which is drawn from the device's own log.
 */
async function keepAhead({ ahead, anew }) {
  const of = maker;
  for (const path of ahead.filter((each) => WORK.test(each))) {
    if (of !== maker) return;
    const kept = await (await caches.open(PAGES)).match(path, AS_KEPT);
    if (!kept || (anew && !PIECE.test(path))) await fetchedWhole(path).catch(() => undefined);
  }
}
