// The screen stays on while the page is open: Screen Wake Lock, where there is one. The browser lets go of it whenever
// the page is hidden, so it is asked for again when the page is back.

let lock = null;
let wanted = false;

/** Whether this device can be kept awake at all (only over https or on the device itself). */
export const canStayAwake = () => "wakeLock" in navigator;

/** Keep the screen awake from now on, or let it sleep; resolves to whether it is kept awake. */
export async function stayAwake(on) {
  wanted = on;
  if (!on) {
    await lock?.release();
    lock = null;
    return false;
  }
  return ask();
}

async function ask() {
  if (!canStayAwake() || document.visibilityState !== "visible") return false;
  if (lock && !lock.released) return true;
  try {
    lock = await navigator.wakeLock.request("screen");
    if (!wanted) await lock.release();
    return wanted;
  } catch {
    return false; // refused: a low battery, or the device's own rule. The switch says so.
  }
}

/** Asks again when the page is back; `said(isAwake)` hears what came of it. */
export function askAgain(said) {
  document.addEventListener("visibilitychange", async () => {
    if (wanted && document.visibilityState === "visible") said(await ask());
  });
}
