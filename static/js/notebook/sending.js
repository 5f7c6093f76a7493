// Between the device and the server: what is asked for, what is sent, and how long to wait after a refusal.

const PATIENCE_MS = 20_000, WAIT_LEAST_MS = 1_000, WAIT_MOST_MS = 60_000;

/** What the server said no to, or what kept it from answering; `status` 0 where nothing came back. */
export class NotDone extends Error {
  /**
   * @param {number} status @param {number} waitMs how long the server asks to wait; 0 for no word of it
   * @param {string} message what it said
   */
  constructor(status, waitMs = 0, message = "") {
    super(message || `answered ${status}`);
    this.status = status;
    this.waitMs = waitMs;
  }
}

/** An answer as JSON; NotDone where there is none. */
async function ask(address, options = {}) {
  const giveUp = new AbortController(), timer = setTimeout(() => giveUp.abort(), PATIENCE_MS);
  const sentMs = Date.now();
  try {
    const answer = await fetch(address, {
      ...options, signal: giveUp.signal, cache: "no-store", redirect: "error",
      headers: { Accept: "application/json", ...options.headers },
    });
    const told = await answer.json().catch(() => ({}));
    if (!answer.ok) {
      throw new NotDone(answer.status, 1000 * Number(answer.headers.get("Retry-After")) || 0, told.message);
    }
    return { ...told, offsetMs: Date.parse(told.now) - (sentMs + Date.now()) / 2 };
  } catch (error) {
    throw error instanceof NotDone ? error : new NotDone(0); // no network, no server, no patience
  } finally {
    clearTimeout(timer);
  }
}

/**
 * The plan and the log, each null where the device has it.
 * @param {number} part
 * @param {{notebook?: number, state?: number, plan?: string}} has
 */
export function carry(part, has = {}) {
  const query = new URLSearchParams();
  for (const [name, value] of Object.entries(has)) if (value !== undefined) query.set(name, String(value));
  return ask(`/notebook/${part}/carry?${query}`);
}

/**
 * Sends entries; what became of each.
 * @param {number} part
 * @param {{notebook: number, entries: object[], state: number, clock: string}} batch
 */
export const send = (part, batch) =>
  ask(`/notebook/${part}/entries/batch`, {
    method: "POST",
    body: JSON.stringify(batch),
    headers: { "Content-Type": "application/json" },
  });

/** How long to wait after so many failures in a row: longer each time, and not all devices at once. */
export const waitMs = (failures) =>
  Math.min(WAIT_LEAST_MS * 2 ** (failures - 1), WAIT_MOST_MS) * (0.75 + Math.random() / 2);

/** Does something while no other page of this device does it. */
export const alone = (name, doing) =>
  navigator.locks ? navigator.locks.request(`evenhand ${name}`, doing) : doing();
