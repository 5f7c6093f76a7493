// The page for when there is no network: what is on this device, and the way there.

import { parts } from "./keeping.js";
import { openStore } from "./store.js";

const list = document.getElementById("on-device"), none = document.getElementById("none-on-device");
const asked = /^\/notebook\/(\d+)\/?$/.exec(location.pathname);

/** The piece she is at: where she logged last while it is not finished, else the first unfinished, or the last. */
function pieceAt(store) {
  const pieces = Object.keys(store.part.carried.names).map(Number);
  const open = pieces.filter((piece) => !store.making.pieces[piece].finished);
  const last = store.inOrder.filter((entry) => open.includes(entry.piece) && entry.kind !== "undo").at(-1);
  return last?.piece ?? open[0] ?? pieces.at(-1);
}

async function show() {
  const kept = (await parts().catch(() => [])).sort((a, b) => b.openedMs - a.openedMs);
  let shown = 0;
  for (const { part, notebook, carried, nickname } of kept) {
    const store = await openStore(part, notebook), piece = store && pieceAt(store), view = piece && store.view(piece);
    if (!view) continue;
    const address = `/notebook/${part}/piece/${piece}`;
    if (asked && Number(asked[1]) === part) return location.replace(address);
    const several = kept.some((each) => each.notebook !== notebook), item = document.createElement("li");
    const link = Object.assign(document.createElement("a"), { href: address, className: "line-link" });
    const words = [
      several ? `${carried.title}, ${nickname}` : carried.title,
      `${view.name}, ${view.label || (view.kind === "finished" ? "finished" : view.section.title)}`,
    ];
    link.append(...words.map((textContent) => Object.assign(document.createElement("span"), { textContent })));
    item.append(link);
    list.append(item);
    shown += 1;
  }
  none.hidden = shown > 0;
}

document.getElementById("again")?.addEventListener("click", () => location.reload());
addEventListener("online", () => location.reload());
void show();
