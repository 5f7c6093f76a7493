// What is kept on this device, in IndexedDB: parts with their plans, the entries of their logs (the outbox
// is those that are not sent), and the device's settings.

const NAME = "evenhand", VERSION = 1;

/**
 * @typedef {{id: string, key: string, sent: boolean, refused: string | null,
 *   entry: import("./fold.js").Entry & {after?: string}}} Row
 * @typedef {{key: string, notebook: number, part: number, nickname: string, device: string, plan: string,
 *   carried: any, offsetMs: number, openedMs: number}} PartRow
 */

/** @type {Promise<IDBDatabase> | null} */
let opened = null;

/** The database; rejects where there is none (private windows of some browsers, a full device). */
function database() {
  opened ??= new Promise((resolve, reject) => {
    const request = indexedDB.open(NAME, VERSION);
    request.onupgradeneeded = () => {
      const made = request.result;
      made.createObjectStore("parts", { keyPath: "key" });
      made.createObjectStore("entries", { keyPath: "id" }).createIndex("key", "key");
      made.createObjectStore("settings", { keyPath: "name" });
    };
    request.onerror = () => reject(request.error);
    request.onblocked = () => reject(new Error("another version of the page holds the database"));
    request.onsuccess = () => {
      request.result.onversionchange = () => { request.result.close(); opened = null; };
      request.result.onclose = () => { opened = null; };
      resolve(request.result);
    };
  });
  opened.catch(() => { opened = null; });
  return opened;
}

/** Does something in one transaction; resolves once it is on the disk. */
async function within(stores, mode, doing) {
  const transaction = (await database()).transaction(stores, mode, { durability: "strict" });
  const done = new Promise((resolve, reject) => {
    transaction.oncomplete = () => resolve(undefined);
    transaction.onabort = () => reject(transaction.error ?? new Error("not written"));
  });
  const result = doing(...stores.map((name) => transaction.objectStore(name)));
  await done;
  return result instanceof IDBRequest ? result.result : result;
}

/** Every part on this device. @returns {Promise<PartRow[]>} */
export const parts = () => within(["parts"], "readonly", (store) => store.getAll());

/** @param {string} key @returns {Promise<PartRow | undefined>} */
export const partOf = (key) => within(["parts"], "readonly", (store) => store.get(key));

/** @param {PartRow} row */
export const keepPart = (row) => within(["parts"], "readwrite", (store) => void store.put(row));

/** The rows of a part's log. @param {string} key @returns {Promise<Row[]>} */
export const rowsOf = (key) => within(["entries"], "readonly", (store) => store.index("key").getAll(key));

/** Writes rows down, the one that was written last for an id. @param {Row[]} rows */
export const keepRows = (rows) =>
  within(["entries"], "readwrite", (store) => rows.forEach((row) => store.put(row)));

/** @param {string} id */
export const dropRow = (id) => within(["entries"], "readwrite", (store) => void store.delete(id));

/** @returns {Promise<Record<string, unknown>>} */
export const settings = async () =>
  Object.fromEntries(
    (await within(["settings"], "readonly", (store) => store.getAll())).map(({ name, value }) => [name, value]),
  );

/** @param {string} name @param {unknown} value */
export const keepSetting = (name, value) =>
  within(["settings"], "readwrite", (store) => void store.put({ name, value }));

/** How many entries of a notebook the server has not got. @param {number} notebook */
export async function unsent(notebook) {
  const all = await within(["entries"], "readonly", (store) => store.getAll());
  return all.filter((row) => row.key.startsWith(`${notebook}.`) && !row.sent).length;
}

/** Takes all that is kept of a notebook off this device. @param {number} notebook */
export const erase = (notebook) =>
  within(["parts", "entries"], "readwrite", (...stores) => {
    const mine = IDBKeyRange.bound(`${notebook}.`, `${notebook}.\uffff`);
    stores[0].delete(mine);
    const cursor = stores[1].index("key").openCursor(mine);
    cursor.onsuccess = () => {
      cursor.result?.delete();
      cursor.result?.continue();
    };
  });
