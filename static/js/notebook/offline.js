// The page for when there is no network: what is on this device, and the way there.

import { parts } from "./keeping.js";
import { whereabouts } from "./whereabouts.js";

const list = document.getElementById("on-device"), none = document.getElementById("none-on-device");
const asked = /^\/notebook\/(\d+)\/?$/.exec(location.pathname);

async function show() {
  const kept = (await parts().catch(() => [])).sort((a, b) => b.openedMs - a.openedMs);
  let shown = 0;
  for (const { part, notebook, carried, nickname } of kept) {
    if (!carried?.plans.length) continue; // no numbers settled, nothing to show
    const { piece, words: at } = whereabouts(part, notebook);
    const address = `/notebook/${part}/piece/${piece}`;
    if (asked && Number(asked[1]) === part) return location.replace(address);
    const several = kept.some((each) => each.notebook !== notebook), item = document.createElement("li");
    const link = Object.assign(document.createElement("a"), { href: address, className: "line-link" });
    const words = [several ? `${carried.title}, ${nickname}` : carried.title, at || carried.names[piece]];
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
