// Where she is in each part, noted where it can be read without the log: the offline page is light by it.

const NOTED = "evenhand-at-"; // taken off with all that pages noted for themselves (installing.js)

/** The piece she is at: where she logged last while it is not finished, else the first unfinished, or the last. */
export function pieceAt(store) {
  const pieces = Object.keys(store.part.carried.names).map(Number);
  const open = pieces.filter((piece) => !store.making.pieces[piece].finished);
  const last = store.inOrder.filter((entry) => open.includes(entry.piece) && entry.kind !== "undo").at(-1);
  return last?.piece ?? open[0] ?? pieces.at(-1);
}

/** Notes where she is, in words too. @param {import("./store.js").Store} store */
export function noteWhereabouts(store) {
  const { part, notebook } = store.part, piece = pieceAt(store), view = store.view(piece);
  if (!view) return;
  const at = view.label || (view.kind === "finished" ? "finished" : view.section.title);
  try {
    localStorage.setItem(`${NOTED}${part}-${notebook}`, JSON.stringify({ piece, words: `${view.name}, ${at}` }));
  } catch {
    // A device that keeps nothing has no offline page either.
  }
}

/** What was noted last. @returns {{piece: number, words: string}} the first piece, without words, where nothing was */
export function whereabouts(part, notebook) {
  try {
    return JSON.parse(localStorage.getItem(`${NOTED}${part}-${notebook}`)) ?? { piece: 1, words: "" };
  } catch {
    return { piece: 1, words: "" };
  }
}
