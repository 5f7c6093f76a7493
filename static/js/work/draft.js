// A note that is being typed: there again when the page was loaded anew, until it is kept.

/** @param {string} notebook @param {string} part @param {number} piece */
export function keepDraft(notebook, part, piece) {
  const key = `evenhand-draft-${notebook}-${part}-${piece}`; // taken off with all that pages noted for themselves (installing.js)
  const note = document.getElementById("note-text");

  const keep = (text) => {
    try {
      if (text.trim()) localStorage.setItem(key, text);
      else localStorage.removeItem(key);
    } catch {
      // it stays as long as the page is open
    }
  };

  try {
    note.value ||= localStorage.getItem(key) ?? ""; // what a refused form came back with goes first
  } catch {
    // a device that keeps nothing
  }
  note.addEventListener("input", () => keep(note.value));
  note.form.addEventListener("submit", () => keep(""));
}
