// Words that the page says of numbers and moments, the same as the server's (server/web/moments.py, maker/working.py).

const MONTHS = ["January", "February", "March", "April", "May", "June", "July", "August", "September", "October",
  "November", "December"];

/** "1 round", "6 rounds" */
export const rounds = (number) => (number === 1 ? "1 round" : `${number} rounds`);

export const capitalized = (words) => words.slice(0, 1).toUpperCase() + words.slice(1);

/** How long ago a moment was: "just now", "10 days ago" up to a week, else its date. */
export function ago(iso, nowMs = Date.now()) {
  const at = new Date(iso), seconds = (nowMs - at.getTime()) / 1000;
  const some = (number, unit) => (number === 1 ? `1 ${unit} ago` : `${number} ${unit}s ago`);
  if (seconds < 60) return "just now";
  if (seconds < 3600) return some(Math.floor(seconds / 60), "minute");
  if (seconds < 86_400) return some(Math.floor(seconds / 3600), "hour");
  if (seconds < 7 * 86_400) return some(Math.floor(seconds / 86_400), "day");
  return `${at.getUTCDate()} ${MONTHS[at.getUTCMonth()]} ${at.getUTCFullYear()}`;
}

/** "7 min", "1 h 20 min" */
export function time(seconds) {
  const minutes = Math.max(1, Math.round(seconds / 60)), hours = Math.floor(minutes / 60), rest = minutes % 60;
  if (!hours) return `${minutes} min`;
  return rest && hours < 10 ? `${hours} h ${rest} min` : `${hours} h`;
}

/** How far she is, how long a round takes her and how much is left. */
export function pace({ kind, done, toGo, secondsPerRound: seconds }) {
  if (kind === "finished") return "";
  const said = [done && `${rounds(done)} done`, toGo && `about ${toGo} to go`].filter(Boolean);
  return `${capitalized(said.join(", "))}.${timeWords(seconds, toGo)}`;
}

/** How long a round takes and how much is left; once only where both come to the same words. */
function timeWords(seconds, toGo) {
  if (seconds === null) return "";
  const each = time(seconds), left = time(seconds * toGo);
  if (toGo > 1 && each === left) return ` About ${left} of work to go.`;
  return ` A round takes you about ${each}${toGo > 1 ? `: about ${left} of work to go` : ""}.`;
}
