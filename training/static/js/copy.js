/* Buttons that copy what their data-copy holds: shown only where the browser can copy. */

import { _ } from "./say.js";

if (navigator.clipboard) {
  for (const button of document.querySelectorAll("[data-copy]")) {
    button.hidden = false;
    button.addEventListener("click", async () => {
      await navigator.clipboard.writeText(button.dataset.copy);
      button.textContent = _("Copied");
    });
  }
}
