// A visitor's own clock beside the host's, where the two differ; and a host's own zone in a form that has none yet.

// Browsers still say some zones by names that the IANA time zone database has given up (its file `backward`).
const RENAMED = {
  "Africa/Asmera": "Africa/Asmara",
  "America/Godthab": "America/Nuuk",
  "Asia/Calcutta": "Asia/Kolkata",
  "Asia/Katmandu": "Asia/Kathmandu",
  "Asia/Rangoon": "Asia/Yangon",
  "Asia/Saigon": "Asia/Ho_Chi_Minh",
  "Atlantic/Faeroe": "Atlantic/Faroe",
  "Europe/Kiev": "Europe/Kyiv",
  "Pacific/Enderbury": "Pacific/Kanton",
};

const device = Intl.DateTimeFormat().resolvedOptions().timeZone || "UTC";
const here = RENAMED[device] ?? device;

const day = new Intl.DateTimeFormat("en-GB", { weekday: "long", day: "numeric", month: "long" });
const clock = new Intl.DateTimeFormat("en-GB", { hour: "2-digit", minute: "2-digit", hourCycle: "h23" });

const place = here === "UTC" ? "UTC" : `${here.split("/").pop().replaceAll("_", " ")} time`;

// What the page says by the host's clock, "Thursday 3 December 2026" and "19:30 to 21:30", said by this device's.
const words = (starts, ends) => {
  const from = `${day.format(starts).replace(",", "")}, ${clock.format(starts)}`;
  const until = day.format(ends) === day.format(starts) ? clock.format(ends) : `${clock.format(ends)} the next day`;
  return `${from} to ${until}`;
};

const shownHours = (evening) => evening.querySelector(".when-hours")?.textContent ?? "";
const shownDay = (evening) => evening.querySelector(".when-day")?.textContent ?? "";

for (const evening of document.querySelectorAll("[data-evening]")) {
  const own = evening.querySelector("[data-own]");
  const starts = new Date(evening.dataset.starts);
  const ends = new Date(evening.dataset.ends);
  const same = shownHours(evening).startsWith(clock.format(starts))
    && shownDay(evening).startsWith(day.format(starts).replace(",", ""));
  own.textContent = same ? "The same by your clock." : `By your clock: ${words(starts, ends)}, ${place}`;
  own.hidden = false;
}

for (const field of document.querySelectorAll("[data-zone-here]")) {
  if (!field.value) field.value = here;
}
