/* A button that prints the page. Without scripts it is not there, and the browser's own print serves. */
"use strict";

for (const button of document.querySelectorAll("[data-print]")) {
  button.hidden = false;
  button.addEventListener("click", () => window.print());
}
