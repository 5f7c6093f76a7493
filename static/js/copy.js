/* Copies the text of a field at one press. Without this the field can be selected and copied by hand. */
"use strict";

(() => {
  const show = (root) => {
    for (const button of root.querySelectorAll("[data-copies][hidden]")) button.hidden = false;
  };

  const copy = async (field) => {
    field.focus();
    field.select();
    if (navigator.clipboard) await navigator.clipboard.writeText(field.value);
    else if (!document.execCommand("copy")) throw new Error("no copying here");
  };

  document.addEventListener("click", async (event) => {
    const button = event.target.closest("[data-copies]");
    if (!button) return;
    const said = button.closest("[data-copyable]").querySelector("[role=status]");
    try {
      await copy(document.getElementById(button.dataset.copies));
      said.textContent = "Copied.";
    } catch {
      said.textContent = "It is selected: copy it with your device's own menu.";
    }
  });

  document.addEventListener("htmx:after:swap", () => show(document));
  show(document);
})();
