// The likely slips behind a wrong count: the server knows the fabric, so they are asked for once and kept while the page
// is open. With no network the count itself still says that it is wrong, and by how much.

/** @param {string} part @param {number} piece @param {() => void} came called when an answer is there */
export function askLikely(part, piece, came) {
  const known = new Map();

  async function ask(key, { spot, name, count }) {
    known.set(key, null);
    try {
      const query = new URLSearchParams({ spot, name, count });
      const answer = await fetch(`/notebook/${part}/piece/${piece}/likely?${query}`, { headers: { Accept: "application/json" } });
      if (!answer.ok) throw new Error(String(answer.status));
      known.set(key, (await answer.json()).likely);
      came();
    } catch {
      known.delete(key); // asked again when the page is drawn the next time
    }
  }

  /** The view's counts, with the slips where they are known. `made`: spot -> name -> count, of the piece. */
  return (view, made) => {
    const each = [view.before?.spot, view.spot].flatMap((spot) =>
      [...(made.get(spot) ?? [])].map(([name, count]) => ({ spot, name, count })));
    return view.counted.map((said, at) => {
      if (said.agrees || !each[at]) return said;
      const key = `${each[at].spot} ${each[at].name} ${each[at].count}`;
      if (!known.has(key)) void ask(key, each[at]);
      return { ...said, likely: known.get(key) ?? [] };
    });
  };
}
