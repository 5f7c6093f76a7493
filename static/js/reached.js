// Whether the server can be reached just now.

const PATIENCE_MS = 5000;

/** @returns {Promise<boolean>} */
export async function reached() {
  if (!navigator.onLine) return false;
  try {
    return (await fetch("/healthz", { method: "HEAD", cache: "no-store", signal: AbortSignal.timeout(PATIENCE_MS) })).ok;
  } catch {
    return false;
  }
}
