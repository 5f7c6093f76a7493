// One part of a notebook on this device: the log in memory and in IndexedDB, shown at once, sent when there is
// a network. Any order, repetition or loss of what is sent gives the same log on both sides, because entries
// are only ever added and known by their ids.

import { distinct, fold } from "./fold.js";
import { forgetPages, install } from "./installing.js";
import { dropRow, erase, keepPart, keepRows, keepSetting, partOf, parts, rowsOf, settings } from "./keeping.js";
import { carriedFor, piecePlan } from "./place.js";
import { alone, carry, NotDone, send, waitMs } from "./sending.js";
import { entryWords, viewOf } from "./view.js";
import { many } from "./words.js";

/** @typedef {import("./fold.js").Entry} Entry @typedef {import("./keeping.js").Row} Row */

const AT_ONCE = 100; // entries in one sending
const UNREADABLE = "The server could not read this. It is kept on this device only.";
const CANNOT_BE_READ = [400, 413, 422];
const LAST_MS = Date.UTC(9999, 11, 31);
const firstVisit = !globalThis.navigator?.serviceWorker?.controller;
let loggedHere = false;

/**
 * Whether this page may fetch what she may need later. Not on a first visit, often to look round only: there the page
 * at hand is all that is kept, until she logs something.
 */
export const fetchesAhead = () => !firstVisit || loggedHere;

/** Whether this page has logged something. */
export const hasLogged = () => loggedHere;

/**
 * The store of a part: from this device at once, then refreshed from the server. Null where the part is not on
 * the device and the server cannot be reached, or the device keeps nothing: the page's own forms go on working.
 * @param {number} part @param {number} [notebook] the one opened last, where none is said
 * @returns {Promise<Store | null>}
 */
export async function openStore(part, notebook) {
  try {
    const known = (await parts())
      .filter((row) => row.part === part && (notebook === undefined || row.notebook === notebook))
      .sort((a, b) => b.openedMs - a.openedMs)[0];
    const store = known ? new Store(known) : await fetched(part, notebook);
    await store.load();
    if (known) void store.refresh();
    void install([location.pathname]);
    return store;
  } catch {
    return null;
  }
}

async function fetched(part, notebook) {
  const told = await carry(part, { notebook });
  const store = new Store({
    key: `${told.notebook}.${part}`, notebook: told.notebook, part, nickname: told.nickname,
    device: told.device, plan: "", carried: null, offsetMs: 0, openedMs: Date.now(),
  });
  await store.takeIn(told);
  return store;
}

export class Store {
  /** @type {Map<string, Row>} */ #rows = new Map();
  /** @type {Set<() => void>} */ #listeners = new Set();
  /** @type {Map<number, any>} */ #views = new Map();
  /** @type {ReturnType<typeof fold> | null} */ #making = null;
  /** @type {Set<string>} ids that are not on the disk yet, or could not be written there */ #unwritten = new Set();
  #storable = true;
  #writes = 0; // grows with all that is written or taken off, so that reading knows when it was overtaken
  #sending = false;
  #failures = 0;
  /** @type {ReturnType<typeof setTimeout> | undefined} */ #timer;
  /** @type {string | null} what the server said, where the notebook was erased or this device shut out */ gone = null;
  #channel = "BroadcastChannel" in globalThis ? new BroadcastChannel("evenhand") : null;

  /** @param {import("./keeping.js").PartRow} part */
  constructor(part) {
    this.part = part;
    /** @type {Record<string, any>} */ this.settings = {};
    /** Resolves once all that was logged so far is on this device's disk, or could not be written. */
    this.written = Promise.resolve();
    this.#channel?.addEventListener("message", ({ data }) => {
      if (data === this.part.key || data === "settings") void this.load();
    });
    addEventListener("online", () => void this.refresh());
    document.addEventListener("visibilitychange", () => {
      if (document.visibilityState === "visible") void this.refresh();
    });
  }

  /** Everything in the log, sent or not; what the server refused is no part of it. @returns {Entry[]} */
  get entries() {
    return [...this.#rows.values()].filter((row) => row.refused === null).map((row) => row.entry);
  }

  /** The same, in the order of the fold. @returns {Entry[]} */
  get inOrder() {
    return distinct(this.entries);
  }

  /** The log, folded. */
  get making() {
    return (this.#making ??= fold(this.entries));
  }

  /** A piece as it lies in her hands; null where the device has no plan in her numbers (none settled yet). */
  view(piece) {
    if (this.gone !== null) return null;
    if (!this.#views.has(piece)) {
      this.#views.set(piece, viewOf(this.part.carried, this.entries, this.making, piece));
    }
    return this.#views.get(piece);
  }

  /** "server": all of it is on the server; "here": on this device; "not": it could not be written down. */
  get saved() {
    const pending = this.#pending();
    if (!pending.length) return "server";
    return this.#storable || !pending.some((row) => this.#unwritten.has(row.id)) ? "here" : "not";
  }

  /** What the server did not take, with the reason; kept until she dismisses it. */
  get refused() {
    return [...this.#rows.values()].filter((row) => row.refused !== null).map(({ entry, refused }) => {
      const plan = entry.piece ? piecePlan(this.part.carried, this.making, entry.piece) : null;
      return { id: entry.id, piece: entry.piece, words: entryWords(this.part.carried, plan, entry), reason: refused, entry };
    });
  }

  /** Takes a refused entry off this device. @param {string} id */
  dismiss(id) {
    if (!this.#rows.get(id)?.refused) return;
    this.#rows.delete(id);
    this.#writes += 1;
    this.#tell();
    void dropRow(id).then(() => this.#tellOthers(), () => undefined).finally(() => (this.#writes += 1));
  }

  /** @param {() => void} listener called after anything changed; returns what takes it off again */
  onChange(listener) {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  /** @param {string} name @param {unknown} value */
  setSetting(name, value) {
    this.settings = { ...this.settings, [name]: value };
    this.#tell();
    void keepSetting(name, value).then(() => this.#channel?.postMessage("settings"), () => undefined);
  }

  /**
   * Logs: shown at once, written to the outbox, then sent. Never waits, never throws for the network.
   * The id is made here: a form's own may come from a page that was kept, and have been used before.
   * @param {number} piece @param {string} kind @param {object} values @returns {Entry}
   */
  log(piece, kind, values) {
    const id = freshId();
    loggedHere = true;
    const last = this.inOrder.at(-1), device = this.part.device;
    const own = [...this.#rows.values()].filter((row) => row.entry.device === device);
    const entry = {
      id, piece, kind, values, device,
      at: iso(Math.max(this.#now(), last ? Date.parse(last.at) + 1 : 0)),
      order: 1 + Math.max(0, ...own.map((row) => row.entry.order)),
      after: last?.id ?? "",
    };
    const row = { id, key: this.part.key, sent: false, refused: null, entry };
    this.#rows.set(id, row);
    this.#unwritten.add(id);
    this.#tell();
    this.written = this.#write([row]).then(() => void this.flush());
    return entry;
  }

  /** Brings the log and the plan up to date with the server, and sends what waits. */
  async refresh() {
    await this.flush();
    if (this.gone !== null) return;
    try {
      await this.#askAnew(this.#sent().length);
      if (this.#pending().length) await this.flush();
    } catch (error) {
      if (!(error instanceof NotDone)) throw error;
      if (error.status === 410) await this.#leave(error.message);
    }
  }

  /** The notebook is not this device's any more: what is kept of it goes, and the page says why. */
  async #leave(message) {
    if (this.gone !== null) return; // what was lost is told once
    const lost = this.#pending().length;
    this.gone = lost ? `${message} ${many(lost, "entry was", "entries were")} on this device only.` : message;
    clearTimeout(this.#timer);
    this.#rows.clear();
    this.#unwritten.clear();
    this.#tell();
    await Promise.allSettled([erase(this.part.notebook), forgetPages()]);
    this.#tellOthers();
  }

  /** Sends what waits. After a failure it tries again by itself, each time later. */
  async flush() {
    clearTimeout(this.#timer);
    if (this.#sending || this.gone !== null) return;
    this.#sending = true;
    let failed = false;
    try {
      await alone(`sending ${this.part.key}`, () => this.#sendAll());
      this.#failures = 0;
    } catch (error) {
      failed = true;
      if (error instanceof NotDone && error.status === 410) return await this.#leave(error.message);
      this.#failures += 1;
      const asked = error instanceof NotDone ? error.waitMs : 0;
      this.#timer = setTimeout(() => void this.flush(), Math.max(asked, waitMs(this.#failures)));
      if (!(error instanceof NotDone)) throw error;
    } finally {
      this.#sending = false;
    }
    if (!failed && this.#pending().length) await this.flush(); // logged in the last moment
  }

  async #sendAll() {
    await this.load(); // another page may have sent some of it
    for (let most = AT_ONCE, pending = this.#pending(); pending.length; pending = this.#pending()) {
      const some = pending.slice(0, most);
      try {
        const told = await send(this.part.part, {
          notebook: this.part.notebook,
          entries: some.map(({ entry }) => sentForm(entry)),
          state: this.#sent().length,
          clock: iso(this.#now()),
        });
        await this.takeIn(told);
        if (some.every(({ id }) => this.#waits(id))) throw new NotDone(0); // no word of any of them
        most = AT_ONCE;
      } catch (error) {
        if (!(error instanceof NotDone) || !CANNOT_BE_READ.includes(error.status)) throw error;
        // One that cannot be read does not keep back the others: it is found by halves.
        if (some.length > 1) most = Math.ceil(some.length / 2);
        else await this.takeIn({ refused: { [some[0].id]: UNREADABLE } });
      }
    }
    const { settled } = this.making;
    if (settled && !carriedFor(this.part.carried, settled)) await this.#askAnew(this.#sent().length);
  }

  async #askAnew(state) {
    await this.takeIn(await carry(this.part.part, { notebook: this.part.notebook, plan: this.part.plan, state }));
  }

  /** Takes in what the server told: entries as they are in its log, refusals, the plan, its clock. */
  async takeIn({ entries = null, refused = {}, plan, carried, device, state, offsetMs }) {
    const rows = (entries ?? []).map((entry) => (
      { id: entry.id, key: this.part.key, sent: true, refused: null, entry }));
    for (const [id, reason] of Object.entries(refused)) {
      if (this.#waits(id)) rows.push({ ...this.#rows.get(id), refused: reason });
    }
    if (entries && entries.length === state) rows.push(...this.#lostThere(new Set(entries.map(({ id }) => id))));
    for (const row of rows) this.#rows.set(row.id, row);
    if (carried) Object.assign(this.part, { carried, plan });
    const isNew = carried || (device && device !== this.part.device);
    if (device) this.part.device = device;
    if (offsetMs !== undefined) this.part.offsetMs = offsetMs;
    if (rows.length || carried) this.#tell();
    if (rows.length) await this.#write(rows);
    if (isNew) await this.#tried(keepPart({ ...this.part, openedMs: Date.now() }));
    if (entries && this.#sent().length < state) await this.#askAnew(-1);
  }

  /** Entries that the server had and has no more, as after a backup was put back: they are sent again. */
  #lostThere(there) {
    return this.#sent().filter((row) => !there.has(row.id)).map((row) => ({ ...row, sent: false }));
  }

  /** Reads what is on this device; what is not written yet stays. */
  async load() {
    let kept, own, said, writes;
    do {
      writes = this.#writes;
      try {
        [kept, own, said] = await Promise.all([rowsOf(this.part.key), partOf(this.part.key), settings()]);
      } catch {
        return;
      }
    } while (writes !== this.#writes);
    const unwritten = [...this.#unwritten].map((id) => this.#rows.get(id)).filter((row) => row !== undefined);
    const before = signOf(this.#rows, this.settings);
    this.#rows = new Map([...kept, ...unwritten].map((row) => [row.id, row]));
    this.settings = said;
    const anew = own && own.plan !== this.part.plan;
    if (anew) this.part = own;
    if (anew || signOf(this.#rows, said) !== before) this.#tell();
  }

  #waits(id) {
    const row = this.#rows.get(id);
    return row !== undefined && !row.sent && row.refused === null;
  }

  /** Rows that wait to be sent, in the order they were made. */
  #pending() {
    return [...this.#rows.values()].filter(({ id }) => this.#waits(id))
      .sort((a, b) => a.entry.order - b.entry.order);
  }

  #sent() {
    return [...this.#rows.values()].filter((row) => row.sent);
  }

  async #write(rows) {
    this.#writes += 1;
    for (const row of rows) this.#unwritten.add(row.id);
    if (await this.#tried(keepRows(rows))) {
      for (const row of rows) if (this.#rows.get(row.id) === row) this.#unwritten.delete(row.id);
      this.#tellOthers();
    }
    this.#writes += 1;
    this.#tell();
  }

  async #tried(writing) {
    try {
      await writing;
      this.#storable = true;
    } catch {
      this.#storable = false;
    }
    return this.#storable;
  }

  /** The server's time, as near as this device knows it. */
  #now() {
    return Date.now() + this.part.offsetMs;
  }

  #tell() {
    this.#making = null;
    this.#views.clear();
    for (const listener of this.#listeners) listener();
  }

  #tellOthers() {
    this.#channel?.postMessage(this.part.key);
  }
}

const sentForm = ({ id, piece, kind, values, at, order, after }) => ({ id, piece, kind, values, at, order, after: after ?? "" });

const signOf = (rows, settings) =>
  [...rows.values()].map((row) => `${row.id} ${row.sent} ${row.refused} ${row.entry.at}`).sort().join("\n") +
  JSON.stringify(settings);

/** A moment as entries carry it. */
const iso = (ms) => new Date(Math.min(Math.max(ms, 0), LAST_MS)).toISOString();

/** An id that no other device makes. */
function freshId() {
  const bytes = crypto.getRandomValues(new Uint8Array(15));
  return btoa(String.fromCharCode(...bytes)).replaceAll("+", "-").replaceAll("/", "_");
}
