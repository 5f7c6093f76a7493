// A notebook that is erased on the server goes from this device too, with all that it kept to work without a
// network. Which one it was is noted for this tab as the form is sent: an address could be made up by anybody.

import { forgetPages } from "./installing.js";
import { erase } from "./keeping.js";

const NOTED = "evenhand-erasing";
const form = document.querySelector("form[action$='/erase']");

if (form instanceof HTMLFormElement) {
  sessionStorage.removeItem(NOTED); // of a form that was not carried out
  form.addEventListener("submit", () => {
    sessionStorage.setItem(NOTED, String(new FormData(form).get("notebook")));
  });
} else {
  const notebook = Number(sessionStorage.getItem(NOTED));
  sessionStorage.removeItem(NOTED);
  if (notebook) await Promise.allSettled([erase(notebook), forgetPages()]);
}
