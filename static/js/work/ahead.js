// Pages that she may look up with no network, fetched before she opens them, while this page is open and idle: the other
// glove and the pair at once, the rest for who stays, or logs.

const STAYS_MS = 10_000; // who has the page open so long did not only look round
const AGAIN_MS = 60 * 60_000; // as they were an hour ago is near enough: each is asked for once an hour at most
const REST = ["numbers", "card", "fit", "yarn"];

/**
 * Returns what to call when something changed: `(pieces, atWork)`, the numbers of the part's pieces and whether something
 * was logged here. The worker then fetches what it has not got, and an hour later all of it anew.
 * @param {string} notebook @param {string} part
 */
export function keepAhead(notebook, part) {
  const key = `evenhand-ahead-${notebook}-${part}`; // taken off with all that pages noted for themselves (installing.js)
  let near = false, rest = false;

  const ask = (names, anew) => (globalThis.requestIdleCallback ?? setTimeout)(async () => {
    const { active } = await navigator.serviceWorker.ready;
    active?.postMessage({ ahead: names.map((name) => `/notebook/${part}/${name}`), anew });
  });

  /** Whether what is kept is an hour old. Where nothing can be noted, it never is. */
  function isOld() {
    try {
      return Math.abs(Date.now() - Number(localStorage.getItem(key) ?? NaN)) > AGAIN_MS;
    } catch {
      return false;
    }
  }

  function askAll(names) {
    if (!navigator.onLine) return;
    const anew = isOld();
    rest = true;
    try {
      if (anew || localStorage.getItem(key) === null) localStorage.setItem(key, String(Date.now()));
    } catch {
      return; // no room, nor for pages
    }
    ask([...names, ...names.filter((each) => each.startsWith("piece/")).map((each) => `${each}/where`), ...REST], anew);
  }

  return (pieces, atWork) => {
    if (!navigator.onLine || !navigator.serviceWorker) return;
    const names = [...pieces.map((piece) => `piece/${piece}`), "pair"];
    if (!near) {
      near = true;
      ask(names, false);
      setTimeout(() => { if (!rest) askAll(names); }, STAYS_MS);
    }
    if (rest ? isOld() : atWork) askAll(names);
  };
}
