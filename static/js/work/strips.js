// The drawn stitches of rounds: the one the page came with, and those that come next, fetched while there is a network
// and kept on this device. A round that is not kept has none: its steps and the section's rounds say where she is.

/** @param {string} part @param {number} piece */
export function openStrips(part, piece) {
  const key = `evenhand-strips-${part}-${piece}`;
  const kept = read(key);
  let asking = false;

  const take = (sign, strips) => {
    if (kept.sign !== sign) Object.assign(kept, { sign, strips: {} });
    Object.assign(kept.strips, strips);
    try {
      localStorage.setItem(key, JSON.stringify(kept));
    } catch {
      // no room: they stay as long as the page is open
    }
  };

  return {
    /** The drawing of a round as an element, or null. */
    at(spot) {
      if (kept.strips[spot]) return drawn(kept.strips[spot]);
      const alike = likeIt(spot ?? "", Object.keys(kept.strips));
      return alike ? unnamed(drawn(kept.strips[alike])) : null;
    },
    /** Keeps the one that the page came with. */
    keepShown(spot) {
      const shown = document.getElementById("strip-chart"), svg = shown?.querySelector("svg");
      if (spot && svg && shown.dataset.sign) take(shown.dataset.sign, { [spot]: new XMLSerializer().serializeToString(svg) });
    },
    /** Fetches what is missing of the next rounds; resolves to true where something came. */
    async fetchNext(spot, next) {
      const missing = [spot, ...next].find((each) => each && !kept.strips[each]);
      if (!missing || asking || !navigator.onLine) return false;
      asking = true;
      try {
        const after = kept.strips[spot] && spot !== missing ? `?after=${spot}` : "";
        const answer = await fetch(`/notebook/${part}/piece/${piece}/strips${after}`, { headers: { Accept: "application/json" } });
        if (!answer.ok) return false;
        const { sign, strips } = await answer.json();
        take(sign, strips);
        return Object.keys(strips).length > 0;
      } catch {
        return false; // no network: it is asked again at the next round
      } finally {
        asking = false;
      }
    },
    /** Forgets all, as when the hand was changed. */
    forget() {
      Object.assign(kept, { sign: "", strips: {} });
    },
  };
}

function drawn(svg) {
  const root = new DOMParser().parseFromString(svg, "image/svg+xml").documentElement;
  return root.localName === "svg" ? document.importNode(root, true) : null;
}

/** A round of the same line, worked upon one of its own kind: it has the same stitches, only another number. */
function likeIt(spot, known) {
  const [section, line, turn] = spot.split(".");
  if (Number(turn) < 3) return null;
  return known.find((each) => each.startsWith(`${section}.${line}.`) && Number(each.split(".")[2]) > 1) ?? null;
}

/** The drawing without its words, which are of another round. */
function unnamed(svg) {
  for (const words of svg?.querySelectorAll("text, title, desc") ?? []) words.remove();
  svg?.setAttribute("aria-hidden", "true");
  return svg;
}

function read(key) {
  try {
    const kept = JSON.parse(localStorage.getItem(key) ?? "null");
    if (typeof kept?.sign === "string" && typeof kept.strips === "object") return kept;
  } catch {
    // unreadable: as though nothing were kept
  }
  return { sign: "", strips: {} };
}
