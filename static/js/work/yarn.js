// The line of yarn: worked out by the server alone. It names the round that it holds for, so that it stays true where
// it is not renewed; once the log is with the server, the line for the round after is asked for.

const SETTLED_MS = 1000; // several rounds in a row are asked about once

/** @param {string} part @param {number} piece @returns {(store: {saved: string, entries: unknown[]}) => void} */
export function watchYarn(part, piece) {
  const line = document.getElementById("work-yarn");
  let of = Number(line.dataset.state), timer;
  return ({ saved, entries }) => {
    if (saved !== "server" || entries.length === of) return;
    of = entries.length;
    clearTimeout(timer);
    timer = setTimeout(async () => {
      try {
        const answer = await fetch(`/notebook/${part}/piece/${piece}/yarn-line`);
        if (!answer.ok) throw new Error(answer.statusText);
        const words = await answer.text();
        line.firstElementChild.textContent = words;
        line.hidden = !words;
      } catch {
        of = -1; // with the next thing logged
      }
    }, SETTLED_MS);
  };
}
