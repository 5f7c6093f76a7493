// Taking a notebook off this device takes off what the device keeps of it, after a warning where the server has
// not got all of it.

import { forgetPages } from "./installing.js";
import { erase, parts, unsent } from "./keeping.js";
import { openStore } from "./store.js";

const form = document.querySelector("form[action$='/put-away']");
const notebook = Number(new FormData(form).get("notebook"));
const warning = document.getElementById("unsent"), sure = document.getElementById("unsent-sure");

async function waiting() {
  for (const { part } of (await parts()).filter((each) => each.notebook === notebook)) {
    await (await openStore(part, notebook))?.flush();
  }
  return unsent(notebook);
}

function warn(entries) {
  document.getElementById("unsent-words").textContent =
    `${entries === 1 ? "1 entry is" : `${entries} entries are`} on this device only. Taken off now, ` +
    `${entries === 1 ? "it is" : "they are"} lost.`;
  warning.hidden = entries === 0;
  sure.required = entries > 0;
}

form.addEventListener("submit", (event) => {
  event.preventDefault();
  void (async () => {
    const entries = await waiting().catch(() => 0);
    if (entries && !(sure.checked && !warning.hidden)) {
      warn(entries);
      sure.focus();
      return;
    }
    await erase(notebook).catch(() => undefined);
    await forgetPages().catch(() => undefined);
    HTMLFormElement.prototype.submit.call(form);
  })();
});

void waiting().then(warn, () => undefined);
