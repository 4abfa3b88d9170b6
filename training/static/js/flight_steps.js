/*
 * Buttons beside a field: one more, one less. Only a finger needs them: a number field has its
 * arrow keys, and every field can be typed in.
 */

import { made } from "./elements.js";
import { printInches, readInches } from "./lengths.js";
import { _ } from "./say.js";

/** Return a length as somebody typed it, an inch longer or shorter; never below nothing. */
export function inchOn(text, by) {
  const bare = /^\d+(\.\d+)?$/.test(text.trim()) ? `${text.trim()} in` : text;
  return printInches(Math.max((readInches(bare) ?? 0) + by, 0));
}

/** Return a whole number as somebody typed it, one more or less, within its field's ends. */
export function oneOn(text, by, least, most) {
  const number = (Number.parseInt(text, 10) || 0) + by;
  return String(Math.min(Math.max(number, least), most));
}

function step(input, by) {
  input.value =
    input.type === "number" ? oneOn(input.value, by, Number(input.min), Number(input.max)) : inchOn(input.value, by);
  input.dispatchEvent(new Event("input", { bubbles: true }));
}

function button(input, by, sign, name) {
  const label = input.labels[0]?.firstChild.textContent.trim() ?? "";
  const one = made("button", sign, "button button-quiet flight-step");
  one.type = "button";
  one.setAttribute("aria-label", `${name}: ${label}`);
  one.addEventListener("click", () => step(input, by));
  return one;
}

/** Put the buttons beside the fields of `form` that count pieces, and beside that of a leg's inches. */
export function addSteps(form) {
  for (const input of form.querySelectorAll("input[type=number], input[name=leg_by]")) {
    if (input.parentElement.classList.contains("flight-steps")) continue;
    const inches = input.type !== "number";
    const beside = made("div", "", "flight-steps");
    input.before(beside);
    beside.append(
      button(input, -1, "−", inches ? _("An inch less") : _("One less")),
      input,
      button(input, 1, "+", inches ? _("An inch more") : _("One more")),
    );
  }
}
