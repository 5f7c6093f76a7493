// What a page hears of its room. Tabs of one browser share one stream: the one that holds the lock listens and tells
// the others. A tab that is out of sight lets go, so that a telephone in a pocket holds nothing open.

const KINDS = ["room", "step", "announce", "timer", "answer", "desk"];
const AGAIN_MS = 4000;

/**
 * Listens at `address` from the number `seen` on. `take(kind, number, values)` gets what happened, with the kind "gap"
 * and no values where something was missed that only the page knows; `standing(isHeard)` whether the stream stands.
 * alone: a page that is seen by others while its window is not (a screen) has a stream of its own. `moved` is called
 * where the page has another address to listen at by now.
 */
export function listen(address, seen, take, standing, alone, moved = () => location.reload()) {
  const shared = !alone && navigator.locks && typeof BroadcastChannel === "function";
  const name = `evenhand-room:${address}`;
  const channel = shared ? new BroadcastChannel(name) : null;
  let last = seen, source = null, leave = null, asking = null;

  function heard(kind, number, values) {
    if (number < last || (number === last && kind !== "room")) return;
    last = number;
    take(kind, number, values);
  }

  function open() {
    close();
    source = new EventSource(`${address}?seen=${last}`);
    source.onopen = () => stands(true);
    source.onerror = () => {
      stands(false);
      if (source?.readyState === EventSource.CLOSED) setTimeout(again, AGAIN_MS * (0.5 + Math.random()));
    };
    for (const kind of KINDS) {
      source.addEventListener(kind, (event) => {
        const number = Number(event.lastEventId), values = JSON.parse(event.data || "{}");
        channel?.postMessage({ kind, number, values });
        heard(kind, number, values);
      });
    }
  }

  /** It was refused: by a server that is not quite there, or because the room has another address by now. */
  async function again() {
    if (!source) return;
    if (await hasMoved(address)) moved();
    else open();
  }

  function close() {
    source?.close();
    source = null;
  }

  function stands(isHeard) {
    standing(isHeard);
    channel?.postMessage({ standing: isHeard });
  }

  function lead() {
    if (!shared) {
      if (!source) open();
      return;
    }
    if (leave || asking) return;
    asking = new AbortController();
    channel.postMessage({ asks: true });
    navigator.locks.request(name, { signal: asking.signal }, () => new Promise((done) => {
      leave = () => { close(); leave = null; done(); };
      open();
    })).catch(() => {});
  }

  function follow() {
    asking?.abort();
    asking = null;
    leave?.();
  }

  if (channel) {
    channel.onmessage = ({ data }) => {
      if (data.kind) heard(data.kind, data.number, data.values);
      else if (data.asks && leave) channel.postMessage({ number: last, standing: source?.readyState === EventSource.OPEN });
      else if (!leave) {
        if (data.number > last) heard("gap", data.number, null);
        if (data.standing !== undefined) standing(data.standing);
      }
    };
    document.addEventListener("visibilitychange", () => (document.hidden ? follow() : lead()));
  }
  addEventListener("pagehide", () => { follow(); close(); });
  addEventListener("pageshow", (event) => { if (event.persisted) lead(); });
  if (!shared || !document.hidden) lead();
}

/** Whether this page, as its server has it now, listens elsewhere, or is not there any more. */
async function hasMoved(address) {
  try {
    const answer = await fetch(location.href, { headers: { Accept: "text/html" }, cache: "no-store" });
    if (answer.status === 404) return true;
    const fresh = answer.ok && new DOMParser().parseFromString(await answer.text(), "text/html").querySelector("[data-stream]");
    return Boolean(fresh) && fresh.dataset.stream !== address;
  } catch {
    return false;
  }
}
