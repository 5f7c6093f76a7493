// A quiet line after so many minutes of work. It counts only while she works: a long pause was a rest.

const PAUSE_MS = 20 * 60_000; // a long round takes ten minutes without a touch; after twenty she has put it down
const LATER_MS = 10 * 60_000;
const LOOK_MS = 20_000;
const KEPT = "evenhand-sitting";

/** Where a sitting stands after something was done at `now`: {begun, last, later}, all in ms. */
export function sittingAt(sitting, now) {
  if (!sitting || now - sitting.last > PAUSE_MS || now < sitting.last) return { begun: now, last: now, later: 0 };
  return { ...sitting, last: now };
}

/** Whether it is time for the line. */
export function isDue(sitting, now, minutes) {
  if (!sitting || now - sitting.last > PAUSE_MS) return false;
  return now - sitting.begun >= minutes * 60_000 && now >= sitting.later;
}

/** Minutes of work in this sitting. */
export const minutesWorked = (sitting, now) => Math.floor((now - sitting.begun) / 60_000);

/**
 * Watches over the page. `settings()` gives {rest, rest_minutes}; `show(minutes)` shows the line, `hide()` takes it away.
 * Returns what the page calls: worked(), later().
 */
export function watchRest(settings, show, hide) {
  let sitting = read();

  const keep = () => {
    try {
      sessionStorage.setItem(KEPT, JSON.stringify(sitting));
    } catch {
      // a device that keeps nothing is reminded from each page's own beginning
    }
  };
  const look = () => {
    const now = Date.now();
    const { rest, rest_minutes: minutes } = settings();
    if (rest && isDue(sitting, now, minutes)) show(minutesWorked(sitting, now));
    else hide();
  };
  const worked = () => {
    sitting = sittingAt(sitting, Date.now());
    keep();
    look();
  };
  const later = () => {
    sitting = { ...sitting, later: Date.now() + LATER_MS };
    keep();
    look();
  };
  for (const kind of ["pointerdown", "keydown"]) document.addEventListener(kind, () => (sitting = sittingAt(sitting, Date.now())));
  setInterval(look, LOOK_MS);
  worked();
  return { worked, later, look };
}

function read() {
  try {
    const kept = JSON.parse(sessionStorage.getItem(KEPT) ?? "null");
    return Number.isFinite(kept?.begun) && Number.isFinite(kept?.last) ? kept : null;
  } catch {
    return null;
  }
}
