// How the page behaves on this device. The server's cookie has it for pages without scripts; the store has it for this
// device with no network. A change holds at once.

const SWITCHES = ["large", "left", "haptic", "spoken", "awake", "keys", "rest"];

/** @param {any} store null while the page goes by its forms @param {(name: string) => void} changed */
export function openSettings(store, changed) {
  const form = document.getElementById("settings");
  const box = (name) => form.elements.namedItem(name);
  const minutes = box("rest_minutes");
  const now = {};

  const read = () => {
    for (const name of SWITCHES) now[name] = box(name).checked;
    const typed = Number(minutes.value);
    if (Number.isInteger(typed) && typed >= 5 && typed <= 180) now.rest_minutes = typed;
  };
  read();

  /** What this device's store says goes before the cookie, which may be older. */
  const takeFromStore = () => {
    for (const [name, value] of Object.entries(store?.settings ?? {})) {
      if (name === "rest_minutes" && Number.isInteger(value) && value >= 5) {
        now.rest_minutes = value;
        minutes.value = String(value);
      } else if (SWITCHES.includes(name) && typeof value === "boolean" && value !== now[name]) {
        now[name] = value;
        box(name).checked = value;
        changed(name);
      }
    }
  };

  const tellServer = () => fetch(form.action, { method: "POST", body: new URLSearchParams(new FormData(form)), redirect: "manual", keepalive: true })
    .catch(() => undefined); // with no network the device's own store has it

  const set = async (name, value) => {
    now[name] = value;
    store?.setSetting(name, value);
    if (name === "rest_minutes") minutes.value = String(value);
    else box(name).checked = value;
    const told = tellServer();
    changed(name, told);
    await told;
  };

  form.addEventListener("change", ({ target }) => {
    if (SWITCHES.includes(target.name)) void set(target.name, target.checked);
    else if (target === minutes && /^\d+$/.test(minutes.value.trim())) {
      const typed = Number(minutes.value);
      if (typed >= 5 && typed <= 180) void set("rest_minutes", typed);
    }
  });
  takeFromStore();
  return { now, set, takeFromStore };
}

/** Large type and the hand, on the page as it stands. */
export function applyLook({ large, left }) {
  document.body.classList.toggle("at-work--large", large);
  document.body.classList.toggle("at-work--left", left);
  const tools = document.getElementById("work-tools"), first = left ? "place" : "out";
  if (tools.firstElementChild.getAttribute("popovertarget") !== `sheet-${first}`) {
    tools.append(...[...tools.children].reverse());
  }
}
