/* What is typed and ticked in a form: read as a list, put back from one. */

import { shortDay } from "./moments.js";

export const CHANGES = ["input", "change", "board"]; // events that tell of a change

function own(form) {
  return [...form.elements].filter((each) => each.name && each.type !== "hidden");
}

function ticks(field) {
  return field.type === "checkbox" || field.type === "radio";
}

/** Return what stands in `form`, as [name, value] pairs; what is hidden is the page's, not typed. */
export function valuesOf(form) {
  return own(form)
    .filter((field) => !ticks(field) || field.checked)
    .map((field) => [field.name, field.value]);
}

/** Put `values` back into `form`, but for fields that are called in `touched`. */
export function putBack(form, values, touched) {
  for (const field of own(form)) {
    if (touched.has(field.name)) continue;
    const given = values.filter(([name]) => name === field.name).map(([, value]) => value);
    if (ticks(field)) field.checked = given.includes(field.value);
    else if (given.length) field.value = given[0];
  }
  form.dispatchEvent(new Event("restored"));
}

function questionOf(field) {
  const group = field.type === "radio" && field.closest("fieldset")?.querySelector("legend");
  return (group || field.labels?.[0])?.textContent.trim().replace(/\s+/g, " ").replace(/\*$/, "") ?? field.name;
}

function answerOf(field) {
  if (field.type === "radio") return field.labels?.[0]?.textContent.trim() ?? field.value;
  if (field.type === "checkbox") return "✓";
  if (field.selectedOptions) return [...field.selectedOptions].map((each) => each.textContent.trim()).join(", ");
  return field.type === "date" ? shortDay(field.value) : field.value;
}

/** Return what was filled in, as [question, answer] pairs in the words of the page. */
export function shownIn(form) {
  return own(form)
    .filter((field) => (ticks(field) ? field.checked : field.value))
    .map((field) => [questionOf(field), answerOf(field)]);
}
