/*
 * Measuring drawings: a tool on each, and a list of the measurements kept.
 *
 * The list is another way to write the measurements' field, which is handed in with the
 * answer, and follows it when it is written in.
 */

import { Tool } from "./measuring.js";
import { _ } from "./say.js";

const LINE = /^(.*?)\s*\[([a-z]+) (\d+(?:\.\d+)?) to (\d+(?:\.\d+)?)\]$/;

function make(name, words, attributes = {}) {
  const made = document.createElement(name);
  made.textContent = words;
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  return made;
}

function short(units) {
  return String(Math.round(units * 100) / 100);
}

/** The measurements' field, line by line. */
class Notes {
  constructor(field) {
    this.field = field;
  }

  get lines() {
    return this.field.value.split("\n").filter((line) => line.trim());
  }

  /** The lines that a tool wrote: what they say, and where. */
  get kept() {
    return this.lines.flatMap((line) => {
      const found = line.trim().match(LINE);
      if (!found) return [];
      const [, words, sheet, from, to] = found;
      return [{ line, words, sheet, from: Number(from), to: Number(to) }];
    });
  }

  write(lines) {
    this.field.value = lines.join("\n");
    this.field.dispatchEvent(new Event("input", { bubbles: true }));
  }

  add(line) {
    this.write([...this.lines, line]);
  }

  remove(line) {
    const lines = this.lines;
    lines.splice(lines.indexOf(line), 1);
    this.write(lines);
  }
}

/** What is kept of one drawing. */
class Kept {
  constructor(tool, notes) {
    this.tool = tool;
    this.notes = notes;
    this.list = tool.section.querySelector("[data-measure-kept]");
    this.name = tool.section.querySelector("[data-measure-name]");
    tool.section.querySelector("[data-measure-keep]").addEventListener("click", () => this.keep());
    this.name.addEventListener("keydown", (event) => {
      if (event.key !== "Enter") return;
      // It would hand the answer in.
      event.preventDefault();
      this.keep();
    });
  }

  keep() {
    const given = this.name.value.replace(/[[\]]/g, "").trim();
    const name = given || this.tool.between || _("Measurement %(number)s", { number: this.notes.kept.length + 1 });
    const [from, to] = this.tool.ends.map((end) => short(end.at));
    this.notes.add(`${name}: ${this.tool.reading} [${this.tool.sheet} ${from} to ${to}]`);
    this.name.value = "";
  }

  follow() {
    const mine = this.notes.kept.filter((each) => each.sheet === this.tool.sheet);
    this.list.hidden = !mine.length;
    this.list.replaceChildren(...mine.map((each) => this.item(each)));
  }

  item(each) {
    const item = make("li", "");
    const { words } = each;
    const looks = { type: "button", class: "button button-quiet" };
    const show = make("button", _("Show"), { ...looks, "aria-label": _("Show %(words)s", { words }) });
    const remove = make("button", _("Remove"), { ...looks, "aria-label": _("Remove %(words)s", { words }) });
    show.addEventListener("click", () => this.tool.set(each.from, each.to));
    remove.addEventListener("click", () => {
      this.notes.remove(each.line);
      this.name.focus();
    });
    item.append(make("span", each.words), show, remove);
    return item;
  }
}

/** Let measures go into the field of a rule: from the tool beside it, or one that was kept. */
function takeInto(section, tool, notes) {
  const put = (id, words) => {
    const field = document.getElementById(id);
    field.value = words;
    field.dispatchEvent(new Event("input", { bubbles: true }));
  };
  for (const button of section.querySelectorAll("[data-measure-take]")) {
    button.addEventListener("click", () => put(button.dataset.measureTake, tool.reading));
  }
  const choices = [...section.querySelectorAll("[data-measure-from]")];
  for (const choice of choices) {
    choice.addEventListener("change", () => {
      if (choice.value) put(choice.dataset.measureFrom, choice.value);
      choice.value = "";
    });
  }
  return () => {
    const kept = notes.kept.filter((each) => each.sheet === tool.sheet);
    for (const choice of choices) {
      const options = kept.map((each) => make("option", each.words, { value: each.words.split(": ").pop() }));
      choice.replaceChildren(make("option", _("Choose one"), { value: "" }), ...options);
      choice.closest("[data-measure-pick]").hidden = !kept.length;
    }
  };
}

const sections = [...document.querySelectorAll("[data-measure]")];
if (sections.length) {
  const form = sections[0].closest("form");
  const notes = new Notes(form.elements.measurements);
  const followers = sections.flatMap((section) => {
    const tool = new Tool(section);
    const kept = new Kept(tool, notes);
    return [() => kept.follow(), takeInto(section, tool, notes)];
  });
  const follow = () => followers.forEach((each) => each());
  notes.field.addEventListener("input", follow);
  form.addEventListener("restored", follow);
  follow();
}
