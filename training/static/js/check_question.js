/*
 * One question of a check sheet on the screen: its field, how it was taken, the log of what was
 * written before, and why it was not measured.
 */

import { element } from "./check_findings.js";
import { counted, describe, entriesOf, putBack, strikeAll, strikeOne, Writing } from "./check_log.js";
import { clock, stamp } from "./moments.js";
import { madeUp } from "./outbox.js";
import { _ } from "./say.js";

const TOLD = "told";

/** Return how an entry was come by, as the value of one choice. */
function byOf({ how, tool }) {
  return how ? `${how} ${tool}` : "";
}

function taken(by) {
  const [how, tool = ""] = by.split(" ");
  return { how, tool };
}

function timeOf(iso) {
  return iso ? clock(new Date(iso)) : _("time not known");
}

export class QuestionView {
  /** `sheet` is the SheetView; `rules` came with the page. */
  constructor(root, sheet, rules) {
    Object.assign(this, { root, sheet });
    this.name = root.dataset.question;
    this.asked = rules.reading.questions[this.name];
    this.ways = rules.ways?.[this.name] ?? [];
    this.field = root.querySelector(`[name="${this.name}"]`);
    this.isTicks = this.field.type === "radio";
    this.by = root.querySelector("[data-by]");
    this.why = root.querySelector("[data-why-field]");
    this.writing = null;
    this.pending = 0;
    this.lastBy = "";
    this.by.append(...this.ways.map(([value, words]) => new Option(words, value)));
    this.listen();
  }

  part(name) {
    return this.root.querySelector(`[data-${name}]`);
  }

  listen() {
    for (const field of this.root.querySelectorAll(`[name="${this.name}"]`)) {
      field.addEventListener("input", () => this.entered(field));
    }
    this.root.addEventListener("focusout", ({ relatedTarget }) => this.root.contains(relatedTarget) || this.left());
    // A key leaves the field where it is: it is still being typed in.
    this.part("keys")?.addEventListener("mousedown", (event) => event.preventDefault());
    this.part("keys")?.addEventListener("click", (event) => this.pressed(event.target));
    if (this.part("keys")) this.part("keys").hidden = false;
    this.part("second").addEventListener("click", () => this.second());
    this.part("log").addEventListener("click", (event) => this.logPressed(event.target));
    this.by.addEventListener("input", () => this.described());
    this.why.addEventListener("input", () => this.reasoned());
    this.part("sure")?.addEventListener("input", (event) => this.checked(event.target));
  }

  // What is entered

  /** Save `change`; until it is, what is on the screen is newer than what is on the phone. */
  async save(change) {
    this.pending += 1;
    await this.sheet.change(change, this.root);
    this.pending -= 1;
    this.fill(this.sheet.sheet.content);
  }

  entered(field) {
    const text = field.value.trim();
    this.isNone = this.isTicks && !text;
    this.writing ??= new Writing(this.name, madeUp, stamp);
    this.sheet.opened(this);
    const { writing } = this;
    const way = taken(this.lastBy);
    this.save((sheet) => {
      writing.write(sheet, text, way);
      if (text) delete sheet.content.reasons[this.name];
    });
    // A tick is made at once; what is typed is done when its field is left.
    if (this.isTicks) this.left();
  }

  left() {
    const { writing } = this;
    if (!writing) return;
    this.writing = null;
    if (writing.id) this.save((sheet) => writing.close(sheet));
    else this.fill(this.sheet.sheet.content);
  }

  pressed(key) {
    if (key.dataset.none !== undefined) this.none();
    else if (key.dataset.animal !== undefined) this.named(key.dataset.animal);
    else if (key.dataset.pick !== undefined) this.type(`${this.listed}${key.dataset.pick}`);
    else if (key.dataset.key === "/") this.type(`${this.field.value.trim()}/`);
    else if (key.dataset.key === ",") this.type(`${this.field.value.trim()}, `);
    else if (key.dataset.key !== undefined) this.type(`${this.field.value.trim()} ${key.dataset.key} `.trimStart());
  }

  /** Put `name` on the list of names; take it off if it is on it. */
  named(name) {
    const nothing = [...this.root.querySelectorAll("[data-pick]")].map((each) => each.dataset.pick);
    const names = this.field.value.split(/[,;\n]/).map((each) => each.trim());
    const others = names.filter((each) => each && each !== name && !nothing.includes(each));
    this.type((names.includes(name) ? others : [...others, name]).join(", "));
  }

  /** What a list has so far, if another is to follow. */
  get listed() {
    const text = this.field.value.trim();
    return this.asked.several && /[,;]$/.test(text) ? `${text} ` : "";
  }

  type(text) {
    this.field.value = text;
    this.field.dispatchEvent(new Event("input", { bubbles: true }));
  }

  /** Not measured: what was there is struck out, and can be put back. */
  none() {
    this.writing = null;
    this.field.value = "";
    this.isNone = true;
    this.save(({ content }) => strikeAll(content, this.name, madeUp, stamp));
  }

  second() {
    this.writing = new Writing(this.name, madeUp, stamp, true);
    if (this.isTicks) {
      for (const each of this.root.querySelectorAll(`[name="${this.name}"]`)) each.checked = false;
    } else this.field.value = "";
    this.showLog(this.sheet.sheet.content);
    this.field.focus();
  }

  logPressed({ dataset }) {
    if (dataset.back) this.save(({ content }) => putBack(content, dataset.back, madeUp, stamp));
    if (dataset.strike) this.save(({ content }) => strikeOne(content, dataset.strike, stamp));
    if (dataset.back || dataset.strike) this.field.focus();
  }

  described() {
    const way = taken(this.by.value);
    // What somebody said once is not said of the next reading.
    if (way.how !== TOLD) this.sheet.lastBy(this.by.value);
    this.save(({ content }) => describe(content, this.name, way));
  }

  reasoned() {
    const text = this.why.value.trim();
    this.save(({ content }) => {
      if (text) content.reasons[this.name] = text;
      else delete content.reasons[this.name];
    });
  }

  /** It is sure of the answer that is there now, and of no other. */
  checked(tick) {
    this.save(({ content }) => {
      if (tick.checked) content.typed[tick.name] = content.typed[this.name];
      else delete content.typed[tick.name];
    });
  }

  /** Offer `by`, an instrument used before, for what is read next. */
  offer(by) {
    if (by === "" || this.ways.some(([value]) => value === by)) this.lastBy = by;
  }

  // What is shown

  fill(content) {
    const text = content.typed[this.name] ?? "";
    const isNewer = this.writing || this.pending || this.sheet.failed.has(this.root);
    for (const field of isNewer ? [] : this.root.querySelectorAll(`[name="${this.name}"]`)) {
      if (field.type === "radio") field.checked = field.value === text;
      else if (field.value !== text) field.value = text;
    }
    if (this.why !== document.activeElement) this.why.value = content.reasons[this.name] ?? "";
    this.showLog(content);
  }

  showLog(content) {
    const now = counted(content, this.name);
    const isSecond = Boolean(this.writing?.isSecond && !this.writing.own(content));
    const others = entriesOf(content, this.name).filter((entry) => isSecond || entry !== now);
    this.part("log").replaceChildren(...others.map((entry) => this.item(entry, now)));
    this.part("log").hidden = !others.length;
    this.part("aside").hidden = !now;
    this.by.value = now ? byOf(now) : "";
    this.part("by-label").hidden = !this.ways.length;
    const isAsked = !now && (this.isNone || Boolean(content.reasons[this.name]) || others.length > 0);
    if (now) this.isNone = false;
    this.part("why").hidden = !isAsked;
  }

  item(entry, now) {
    const item = element("li", "");
    const text = this.isTicks ? this.labelOf(entry.text) : entry.text;
    const said = element(entry.struck ? "s" : "span", text);
    const way = this.ways.find(([value]) => value === byOf(entry))?.[1];
    const words = entry.struck
      ? _("struck out at %(time)s", { time: timeOf(entry.struck) })
      : _("read at %(time)s", { time: timeOf(entry.at) });
    item.append(said, " ", element("span", [words, way].filter(Boolean).join(", "), "check-log-how"));
    if (!entry.struck && entry !== now) item.append(this.logButton("strike", entry, _("Strike it out")));
    if (entry.struck && !now) item.append(this.logButton("back", entry, _("Put it back")));
    return item;
  }

  labelOf(value) {
    const found = [...this.root.querySelectorAll(`[name="${this.name}"]`)].find((each) => each.value === value);
    return found?.closest("label").textContent.trim() ?? value;
  }

  logButton(what, entry, words) {
    const button = element("button", words, "button button-quiet check-small");
    button.type = "button";
    button.dataset[what] = entry.id;
    return button;
  }

  /**
   * Say why the answer cannot be taken, in `words`, and what it comes to `soFar`; ask whether an
   * unlikely one is right.
   */
  showTrouble(words, soFar, isUnlikely, { typed }) {
    const error = this.part("error");
    [error.textContent, error.hidden] = [words, !words];
    const row = this.part("so-far");
    if (row) [row.textContent, row.hidden] = [soFar, !soFar];
    const label = this.part("sure");
    if (label) {
      const [tick] = label.getElementsByTagName("input");
      label.hidden = !isUnlikely;
      tick.checked = isUnlikely && typed[tick.name] === typed[this.name];
    }
    if (this.isTicks) return;
    this.field.classList.toggle("is-invalid", Boolean(words));
    this.field.setAttribute("aria-invalid", String(Boolean(words)));
    const help = this.root.querySelector("[data-help]");
    const told = [words && error.id, help?.id].filter(Boolean).join(" ");
    if (told) this.field.setAttribute("aria-describedby", told);
    else this.field.removeAttribute("aria-describedby");
  }
}

