/* Puts a button beside each password that shows or hides what was typed. */

import { _ } from "./say.js";

for (const input of document.querySelectorAll("input[data-can-show]")) {
  const button = document.createElement("button");
  button.type = "button";
  button.className = "button button-quiet";
  button.setAttribute("aria-controls", input.id);

  const show = (shown) => {
    input.type = shown ? "text" : "password";
    button.textContent = shown ? _("Hide") : _("Show");
    button.setAttribute("aria-label", shown ? _("Hide the password") : _("Show the password"));
  };
  show(false);
  button.addEventListener("click", () => show(input.type === "password"));

  // Hidden again before it is sent, or the browser would offer it as plain text later.
  input.form.addEventListener("submit", () => show(false));

  const row = document.createElement("div");
  row.className = "with-show";
  // Whoever types already goes on typing: a field that is moved loses the cursor.
  const hasCursor = document.activeElement === input;
  input.replaceWith(row);
  row.append(input, button);
  if (hasCursor) input.focus();
}
