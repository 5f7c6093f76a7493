// Has the browser keep what the notebook needs to open with no network.

const worker = "serviceWorker" in navigator ? navigator.serviceWorker : null; // none on plain http but localhost

/** Registers the worker, and has it keep these pages. @param {string[]} paths */
export async function install(paths = []) {
  void keepForGood();
  if (!worker) return;
  try {
    await worker.register("/sw.js", { scope: "/", updateViaCache: "none" });
    if (paths.length) (await worker.ready).active?.postMessage({ keep: paths });
  } catch {
    // Without the worker the page works while there is a network, and its outbox holds what is logged without one.
  }
}

/** Asks the browser not to clear this device's copy to make room; an installed app is granted that without a question. */
async function keepForGood() {
  if (!matchMedia("(display-mode: standalone)").matches || !navigator.storage?.persist) return;
  if (!(await navigator.storage.persisted())) await navigator.storage.persist();
}

/** Forgets every page that was kept, and what pages noted for themselves. */
export async function forgetPages() {
  for (const name of Object.keys(localStorage)) if (name.startsWith("evenhand-")) localStorage.removeItem(name);
  if ("caches" in globalThis) await caches.delete("evenhand-pages");
}
