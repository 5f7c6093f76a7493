// The likely slips behind a wrong count. The server knows the fabric: what it would say of any count of these pieces
// comes once, is kept on this device, and is there with no network.

/** @param {string} part @param {() => void} came called when they are there */
export function openLikely(part, came) {
  const key = `evenhand-slips-${part}`; // taken off with all that pages noted for themselves (installing.js)
  const kept = read(key);
  let asking = false;

  const setFor = (plan, numbers) => plan === kept.plan && kept.sets.find((each) =>
    each.numbers.foundation === numbers.foundation && each.numbers.size === numbers.size);

  return {
    /** Fetches them where they are not there, or of another plan. */
    async fetch(plan, numbers) {
      if (!numbers || asking || !navigator.onLine || setFor(plan, numbers)) return;
      asking = true;
      try {
        const answer = await fetch(`/notebook/${part}/slips`, { headers: { Accept: "application/json" } });
        if (!answer.ok) throw new Error(String(answer.status));
        Object.assign(kept, await answer.json());
        localStorage.setItem(key, JSON.stringify(kept));
      } catch {
        // no network: asked again with the next thing that changes. No room: they stay as long as the page is open
      } finally {
        asking = false;
      }
      if (setFor(plan, numbers)) came();
    },

    /** The view's counts, with the slips where they are known. `made`: spot -> name -> count, of the piece. */
    beside(view, made, plan, numbers) {
      const set = setFor(plan, numbers);
      const each = [view.before?.spot, view.spot].flatMap((spot) =>
        [...(made.get(spot) ?? [])].map(([name, count]) => ({ spot, name, count })));
      return view.counted.map((said, at) =>
        said.agrees || !set || !each[at] ? said : { ...said, likely: slipsOf(set, each[at]) });
    },
  };
}

/** What explains a count, likeliest first; what to do where nothing does. */
function slipsOf({ texts, rounds, counts }, { spot, name, count }) {
  const names = counts[rounds[spot] ?? rounds[lastOf(spot, Object.keys(rounds))]];
  if (!names || !Object.hasOwn(names, name)) return [];
  const [should, again, byDifference] = names[name], off = count - should;
  if (!off) return [];
  const several = Math.abs(off) > 1 ? 2 : 0, found = byDifference[off] ?? [again[several + (off > 0 ? 1 : 0)]];
  const numbered = (words) => words.replaceAll("{number}", String(Math.abs(off)));
  return found.map((at) => texts[at]).map(([says, where]) => ({ says: numbered(says), where: numbered(where) }));
}

/** The last round of the same line, where a line to fit is longer than what the server worked. */
function lastOf(spot, known) {
  const line = spot.slice(0, spot.lastIndexOf(".") + 1);
  return known.findLast((each) => each.startsWith(line));
}

function read(key) {
  try {
    const kept = JSON.parse(localStorage.getItem(key) ?? "null");
    if (typeof kept?.plan === "string" && Array.isArray(kept.sets)) return kept;
  } catch {
    // unreadable: as though nothing were kept
  }
  return { plan: "", sets: [] };
}
