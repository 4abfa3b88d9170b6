/*
 * One sheet on the screen, a step at a time: every entry is kept on the phone as it is made,
 * and what it comes to stands below.
 */

import { INSIDE, inForce, judge, NOT_MEASURED, OUTSIDE, tally } from "./check_judge.js";
import { isDone, isUnsent, writeOn } from "./check_outbox.js";
import { shrink, thumb } from "./check_photos.js";
import { readAll } from "./check_units.js";
import { _ } from "./say.js";

const NOTES = "notes";
const TYPED = "input:not([type=radio], [type=checkbox]), textarea";
const LOOKS = { [OUTSIDE]: "fail", [INSIDE]: "pass", [NOT_MEASURED]: "unknown" };
const ORDER = [OUTSIDE, NOT_MEASURED, INSIDE];
const MOST_PHOTOS = 20;
const PAUSE = 3000; // milliseconds without an entry before it is sent

function element(name, text, look = "") {
  const made = document.createElement(name);
  made.textContent = text;
  if (look) made.className = look;
  return made;
}

/** Return in words where the entries of `sheet` are. */
function savedWords(sheet) {
  if (isDone(sheet)) return _("Turned in. The site has it.");
  if (sheet.handsIn) return isUnsent(sheet) ? _("Turned in. Not sent yet.") : _("Turned in and sent.");
  return isUnsent(sheet) ? _("Saved on this phone. Not sent yet.") : _("Saved on this phone and sent.");
}

/** `soFar` are words on rows too short to count, by question's name. */
function findingItem(finding, soFar) {
  const look = finding.by_custom ? "custom" : LOOKS[finding.mark];
  const item = element("li", "", `finding finding-${look}`);
  const title = element("p", "", "finding-title");
  const mark = finding.mark_text[0].toUpperCase() + finding.mark_text.slice(1);
  title.append(element("strong", finding.title), " ", element("span", mark, "finding-mark"));
  item.append(title, element("p", finding.words));
  for (const name of finding.names) if (soFar[name]) item.append(element("p", soFar[name]));
  const [missing, places] = [finding.missing.join("; "), finding.places.join("; ")];
  if (missing) item.append(element("p", _("Not measured: %(missing)s.", { missing })));
  if (places) item.append(element("p", _("Where: %(places)s.", { places })));
  if (!finding.by_custom) item.append(element("p", finding.source, "finding-clause"));
  return item;
}

export class SheetView {
  /** `rules` came with the page; `sender` sends; `go(step)` leads to a step of this sheet. */
  constructor(root, rules, sender, go) {
    Object.assign(this, { rules, sender, go });
    this.sheets = sender.sheets;
    this.view = root.querySelector("[data-view=sheet]");
    this.form = this.view.querySelector("[data-sheet]");
    this.sheet = null;
    this.listen();
  }

  part(name) {
    return this.view.querySelector(`[data-${name}]`);
  }

  listen() {
    for (const keys of this.view.querySelectorAll("[data-keys]")) {
      keys.hidden = false;
      keys.addEventListener("click", (event) => this.pressed(event.target));
    }
    this.form.addEventListener("input", (event) => this.entered(event.target));
    this.form.addEventListener("submit", (event) => {
      event.preventDefault();
      this.move(1);
    });
    this.part("before").addEventListener("click", () => this.move(-1));
    this.part("hand-in").addEventListener("click", () => this.handIn());
    this.view.querySelector("#photo").addEventListener("change", (event) => this.photo(event.target));
  }

  get book() {
    const { rulebook_name: name, day } = this.sheet.content;
    return inForce(this.rules.books, name, day);
  }

  /** The steps of this sheet, by the rule set of its day, or of any day if none is known. */
  get walk() {
    const name = this.sheet.content.rulebook_name;
    const book = this.book ?? this.rules.books.find((each) => each.name === name);
    return [...(book?.steps ?? []), { slug: NOTES, questions: [], judges: [] }];
  }

  // What is shown

  /** Show `sheet` at the step `slug`, the first if it has none such. */
  show(sheet, slug) {
    const isOther = sheet.key !== this.sheet?.key;
    this.sheet = sheet;
    const fixed = sheet.handsIn || sheet.finished;
    const at = Math.max(0, this.walk.findIndex((step) => step.slug === (fixed ? NOTES : slug)));
    this.step = this.walk[at];
    if (isOther) this.showPhotos();
    this.fill();
    for (const each of this.view.querySelectorAll("[data-step]")) {
      each.hidden = each.dataset.step !== this.step.slug;
    }
    for (const each of this.form.elements) each.disabled = fixed;
    this.part("vessel").textContent = sheet.content.vessel_name;
    const place = { step: at + 1, steps: this.walk.length };
    this.part("where").textContent = fixed ? _("Turned in") : _("Step %(step)s of %(steps)s", place);
    this.part("before").hidden = fixed || at === 0;
    this.part("after").hidden = fixed || at === this.walk.length - 1;
    this.part("photos").hidden = fixed;
    this.showOutcome();
    this.showSaved();
  }

  focus() {
    this.view.querySelector(`[data-step="${this.step.slug}"] h1`).focus();
    window.scrollTo(0, 0);
  }

  fill() {
    const { typed, notes } = this.sheet.content;
    for (const question of this.view.querySelectorAll("[data-question]")) {
      const name = question.dataset.question;
      question.hidden = !this.step.questions.includes(name);
      for (const field of question.querySelectorAll("input:not([type=checkbox]), textarea")) {
        if (field.type === "radio") field.checked = field.value === (typed[name] ?? "");
        else if (field !== document.activeElement) field.value = typed[name] ?? "";
      }
    }
    const field = this.form.elements.notes;
    if (field !== document.activeElement) field.value = notes;
  }

  showOutcome() {
    const { measures, unread, soFar, unlikely } = readAll(this.sheet.content.typed, this.rules.reading);
    for (const question of this.view.querySelectorAll("[data-question]")) {
      const name = question.dataset.question;
      this.showError(question, unread[name] ?? "");
      this.showSure(question.querySelector("[data-sure]"), name, unlikely.includes(name));
      const row = question.querySelector("[data-so-far]");
      if (row) [row.textContent, row.hidden] = [soFar[name] ?? "", !soFar[name]];
    }
    const { book } = this;
    for (const each of this.view.querySelectorAll("[data-book]")) {
      each.hidden = each.dataset.book !== `${book?.name} ${book?.version}`;
    }
    this.part("no-rules").hidden = Boolean(book);
    const findings = book ? judge(measures, book, this.sheet.content.day, this.rules.reading) : [];
    this.part("tally").textContent = book ? tally(findings) : "";
    this.part("from-memory").hidden = !findings.some((each) => each.is_from_memory);
    const shown = (list) => list.map((each) => findingItem(each, soFar));
    const here = findings.filter((each) => this.step.judges.includes(each.key));
    this.part("findings").replaceChildren(...shown(here));
    const rules = findings.filter((each) => !each.by_custom);
    const sorted = ORDER.flatMap((mark) => rules.filter((each) => each.mark === mark));
    this.part("findings-all").replaceChildren(...shown(sorted));
    const customs = findings.filter((each) => each.by_custom);
    this.part("by-custom").hidden = !customs.length;
    this.part("customs").replaceChildren(...shown(customs));
    this.part("all-findings").open ||= this.step.slug === NOTES;
    this.unread = Object.keys(unread);
  }

  /** Ask whether an unlikely answer is right, ticked if its writer has said so of this one. */
  showSure(label, name, isUnlikely) {
    if (!label) return;
    const { typed } = this.sheet.content;
    const [tick] = label.getElementsByTagName("input");
    label.hidden = !isUnlikely;
    tick.checked = isUnlikely && typed[tick.name] === typed[name];
  }

  showError(question, words) {
    const error = question.querySelector("[data-error]");
    error.textContent = words;
    error.hidden = !words;
    const field = question.querySelector(TYPED);
    if (!field) return;
    field.classList.toggle("is-invalid", Boolean(words));
    field.setAttribute("aria-invalid", String(Boolean(words)));
    const help = question.querySelector(".form-text");
    const told = [words && error.id, help?.id].filter(Boolean).join(" ");
    if (told) field.setAttribute("aria-describedby", told);
    else field.removeAttribute("aria-describedby");
  }

  showSaved() {
    const { sheet } = this;
    this.part("saved").textContent = [savedWords(sheet), sheet.problem].filter(Boolean).join(" ");
  }

  async showPhotos() {
    const { key } = this.sheet;
    const items = [];
    for (const photo of await this.sheets.filesOf(key)) {
      const item = document.createElement("li");
      item.append(await thumb(photo.blob, _("Photo %(number)s", { number: items.length + 1 })));
      items.push(item);
    }
    if (this.sheet.key === key) this.part("thumbs").replaceChildren(...items);
  }

  // What is entered

  pressed(key) {
    if (key.dataset.pick === undefined && key.dataset.key === undefined) return;
    const field = key.closest("[data-question]").querySelector(TYPED);
    if (key.dataset.pick !== undefined) field.value = key.dataset.pick;
    else if (key.dataset.key === "/") field.value = `${field.value.trim()}/`;
    else if (key.dataset.key === ",") field.value = `${field.value.trim()}, `;
    else field.value = `${field.value.trim()} ${key.dataset.key} `.trimStart();
    field.dispatchEvent(new Event("input", { bubbles: true }));
  }

  entered(field) {
    if (field.type === "file") return;
    const value = field.value.trim();
    this.change(({ content }) => {
      if (field.name === "notes") content.notes = field.value;
      else if (field.type === "checkbox") {
        // It is sure of the answer that is there now, and of no other.
        const name = field.closest("[data-question]").dataset.question;
        if (field.checked) content.typed[field.name] = content.typed[name];
        else delete content.typed[field.name];
      } else if (value) content.typed[field.name] = value;
      else delete content.typed[field.name];
    });
  }

  /** Have `change` change the sheet and number the save; keep it, show what it comes to. */
  async change(change) {
    const { key } = this.sheet;
    this.part("saved").textContent = _("Saving …");
    let written;
    try {
      written = await writeOn(this.sheets, key, change);
    } catch {
      this.part("saved").textContent = _("Not saved: this phone has no room left. Write it on paper.");
      return;
    }
    if (written && this.sheet.key === key) {
      this.sheet = written;
      this.showOutcome();
      this.showSaved();
    }
    this.sender.soon(PAUSE);
  }

  move(by) {
    const at = this.walk.findIndex((step) => step.slug === this.step.slug);
    const to = this.walk[at + by];
    if (to) this.go(to.slug);
    this.sender.send();
  }

  async handIn() {
    const told = this.part("unread");
    told.hidden = !this.unread.length;
    if (this.unread.length) {
      const steps = [...new Set(this.unread.map((name) => this.titleOf(name)))];
      told.textContent = _("Not turned in. Fix the marked answers first. See: %(steps)s.", { steps: steps.join("; ") });
      return;
    }
    await this.change((sheet) => {
      sheet.handsIn = true;
    });
    this.show(this.sheet, NOTES);
    this.sender.send();
  }

  titleOf(name) {
    return this.walk.find((step) => step.questions.includes(name))?.title ?? "";
  }

  async photo(field) {
    const [file] = field.files;
    const told = this.part("photo-error");
    told.hidden = true;
    if (!file) return;
    const { key: sheet } = this.sheet;
    const key = crypto.randomUUID();
    try {
      if (this.sheet.content.photo_keys.length >= MOST_PHOTOS) throw new Error("full");
      await this.sheets.addFile(sheet, key, await shrink(file));
      await this.change((each) => {
        each.content.photo_keys.push(key);
        each.photosHere.push(key);
      });
    } catch {
      told.textContent = _("That photo was not saved. Choose a picture. A sheet holds at most %(most)s.", { most: MOST_PHOTOS });
      told.hidden = false;
    }
    field.value = "";
    this.showPhotos();
  }
}
