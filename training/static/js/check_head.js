/*
 * The head of a check sheet: by which rules, which vessel, where and when, and who was there.
 *
 * The same fields start a sheet and mend the head of one until it is turned in.
 */

import { PositionError, readPosition } from "./check_positions.js";
import { shortDay, timeOfDay, today } from "./moments.js";
import { _ } from "./say.js";

const NONE = "none"; // chosen: no fishery beside the gear
const TOP = ["rulebook_name", "vessel_name", "day", "harbor", "position"];

function missing(field, words) {
  return field.value.trim() ? {} : { [field.name]: words };
}

export class HeadForm {
  /** `vessels`, `books` and how to read came with the page, `changed` is called with every change. */
  constructor(form, { vessels = [], books, reading }, changed = () => {}) {
    Object.assign(this, { form, vessels, books, reading, changed });
    this.fields = [...form.querySelectorAll("[data-head] [name]")];
    for (const button of form.querySelectorAll("[data-now]")) {
      button.addEventListener("click", () => this.now(button.dataset.now));
    }
    form.addEventListener("input", ({ target }) => this.entered(target));
    this.field("position").addEventListener("blur", () => this.showProblems({ ...this.problems, ...this.misread }));
  }

  field(name) {
    return this.form.elements[name];
  }

  now(name) {
    this.field(name).value = timeOfDay();
    this.field(name).dispatchEvent(new Event("input", { bubbles: true }));
  }

  entered(field) {
    if (!this.fields.includes(field)) return;
    if (field.name === "vessel_name") this.named(field.value.trim());
    this.showPlace();
    this.showProblems({ ...this.problems, [field.name]: "" });
    this.changed(field);
  }

  /** Another vessel than before: what was filled in of that one goes. */
  named(name) {
    const before = this.vessels.find((each) => each.name === this.vessel);
    for (const key of before && before.name !== name ? ["number", "permit"] : []) {
      const field = this.field(key === "number" ? "vessel_number" : key);
      if (field.value === before[key]) field.value = "";
    }
    this.vessel = name;
    this.known(name);
  }

  /** Fill in what is known of the vessel `name`, where nothing was written yet. */
  known(name) {
    const found = this.vessels.find((each) => each.name === name);
    if (!found) return;
    const told = { vessel_number: found.number, permit: found.permit, harbor: found.harbor };
    for (const [key, value] of Object.entries(told)) {
      if (value && !this.field(key).value) this.field(key).value = value;
    }
  }

  get isAtSea() {
    return this.field("at_sea").value === "yes";
  }

  showPlace() {
    const { value } = this.field("at_sea");
    this.form.querySelector("[data-in-port]").hidden = value !== "no";
    this.form.querySelector("[data-at-sea]").hidden = value !== "yes";
  }

  /** Put nothing but the phone's own day. */
  reset() {
    this.form.reset();
    this.vessel = "";
    this.field("day").value = today();
    this.showPlace();
    this.showProblems({});
  }

  fill(content) {
    const put = (name, value) => {
      const field = this.field(name);
      if (field !== document.activeElement) field.value = value ?? "";
    };
    for (const name of TOP) put(name, content[name]);
    this.vessel = this.field("vessel_name").value.trim();
    put("fishery_name", content.fishery_name || NONE);
    for (const [name, value] of Object.entries(content.head)) if (this.field(name)) put(name, value);
    this.field("at_sea").value = content.at_sea ? "yes" : "no";
    this.showPlace();
  }

  /** Return what stands in the form, as a sheet's content has it. */
  get told() {
    const value = (name) => this.field(name).value.trim();
    const own = Object.fromEntries(TOP.map((name) => [name, value(name)]));
    const fishery = value("fishery_name");
    const others = ["vessel_number", "permit", "skipper", "tape", "witness", "started", "ended", "wet", "net"];
    return {
      ...own,
      fishery_name: fishery === NONE ? "" : fishery,
      at_sea: this.isAtSea,
      // What is not asked for is not sent.
      harbor: this.isAtSea ? "" : own.harbor,
      position: this.isAtSea ? own.position : "",
      head: Object.fromEntries(others.map((name) => [name, value(name)])),
    };
  }

  /** Return that gear and fishery do not go together, if they do not. */
  get misfit() {
    const [gear, fishery] = [this.field("rulebook_name").value, this.field("fishery_name").value];
    const book = this.books.findLast((each) => each.name === fishery);
    if (!gear || !book || book.goes_with.includes(gear)) return {};
    return { fishery_name: _("That fishery is not fished with this gear. Change one of the two.") };
  }

  /** Return why the position cannot be read, if it cannot. */
  get misread() {
    const { value } = this.field("position");
    if (!this.isAtSea || !value.trim()) return {};
    try {
      readPosition(value, this.reading);
      return {};
    } catch (error) {
      if (!(error instanceof PositionError)) throw error;
      return { position: error.message };
    }
  }

  /** Return why the head cannot be taken yet, by field's name. */
  check() {
    const place = this.isAtSea
      ? missing(this.field("position"), _("Enter the position, or get it from the phone."))
      : missing(this.field("harbor"), _("Enter the harbor."));
    const day = this.field("day").value;
    return {
      ...missing(this.field("rulebook_name"), _("Choose the rules.")),
      ...missing(this.field("fishery_name"), _("Choose the fishery, or none.")),
      ...this.misfit,
      ...missing(this.field("vessel_name"), _("Enter the vessel's name.")),
      ...missing(this.field("day"), _("Enter the day.")),
      ...(day > today() ? { day: _("That is after %(day)s, today on this phone.", { day: shortDay(today()) }) } : {}),
      ...this.misread,
      ...(this.field("at_sea").value ? place : { at_sea: _("Choose in port or at sea.") }),
    };
  }

  /** Show `problems`, words by field's name, beside the fields; return whether there is any. */
  showProblems(problems) {
    this.problems = problems;
    let first = null;
    for (const place of this.form.querySelectorAll("[data-head-error]")) {
      const { headError: name } = place.dataset;
      const words = problems[name] ?? "";
      [place.textContent, place.hidden] = [words, !words];
      const field = this.fields.find((each) => each.name === name);
      field.setAttribute("aria-invalid", String(Boolean(words)));
      if (words) field.setAttribute("aria-describedby", place.id);
      else field.removeAttribute("aria-describedby");
      if (words) first ??= field;
    }
    return first;
  }
}
