/*
 * One sheet on the screen, a step at a time: every entry is kept on the phone as it is made.
 * What a step comes to is shown when the step is done: first the readings, then the limits.
 */

import { besideOf, booksOf, byWeight, element, findingItem, findingsOf, saidOf, tallyWords } from "./check_findings.js";
import { HeadForm } from "./check_head.js";
import { isDone, isRefused, isUnsent, refusedPhotos, writeOn } from "./check_outbox.js";
import { PhotosView } from "./check_photos.js";
import { QuestionView } from "./check_question.js";
import { RefusedView } from "./check_refused.js";
import { atOdds } from "./check_remarks.js";
import { SignView } from "./check_sign.js";
import { readAll, workedOut } from "./check_units.js";
import { stepsOf } from "./check_whole.js";
import { _, ngettext } from "./say.js";

const HEAD = "head";
const NOTES = "notes";
const FEW = 6; // things not measured that are named at once; more are folded by step
const PAUSE = 3000; // milliseconds without an entry before it is sent

/** Return in words where the entries of `sheet` are. */
function savedWords(sheet) {
  if (isDone(sheet)) return _("Turned in. The site has it.");
  if (sheet.handsIn) return isUnsent(sheet) ? _("Turned in. Not sent yet.") : _("Turned in and sent.");
  return isUnsent(sheet) ? _("Saved on this phone. Not sent yet.") : _("Saved on this phone and sent.");
}

/** Return in words why photos of `sheet` are not sent, "" if all are or will be. */
function photoWords(sheet) {
  const problems = [...new Set(Object.values(refusedPhotos(sheet)))];
  return problems.length ? _("A photo was not sent. %(problem)s", { problem: problems.join(" ") }) : "";
}

/** Return `code` in groups that can be read aloud. */
function inGroups(code) {
  return code.match(/.{1,4}/g)?.join(" ") ?? "";
}

export class SheetView {
  /**
   * `rules` came with the page; `sender` sends; `go(step)` leads to a step of this sheet, `home()`
   * to all sheets.
   */
  constructor(root, rules, sender, { go, home }) {
    Object.assign(this, { rules, sender, go });
    this.sheets = sender.sheets;
    this.view = root.querySelector("[data-view=sheet]");
    this.form = this.view.querySelector("[data-sheet]");
    this.sheet = null;
    this.open = null; // the question that is being written on
    this.failed = new Map(); // what could not be saved, by the place on the page
    this.saving = Promise.resolve();
    this.waiting = 0; // changes that are not on the phone yet
    this.questions = [...this.view.querySelectorAll("[data-question]")].map((each) => new QuestionView(each, this, rules));
    this.signs = [...this.view.querySelectorAll("[data-sign]")].map((each) => new SignView(each, this));
    this.photos = new PhotosView(this.part("photos"), this);
    this.refused = new RefusedView(this.part("against"), this, home);
    this.head = new HeadForm(this.form, rules, () => this.mendHead());
    this.listen();
  }

  part(name) {
    return this.view.querySelector(`[data-${name}]`);
  }

  listen() {
    const notes = this.form.elements.notes;
    notes.addEventListener("input", () => this.noteDown(notes.value, notes.parentElement));
    this.form.addEventListener("submit", (event) => {
      event.preventDefault();
      this.move(1);
    });
    this.part("before").addEventListener("click", () => this.move(-1));
    this.part("done").addEventListener("click", () => this.finish());
    this.part("hand-in").addEventListener("click", () => this.handIn());
    this.part("hand-in-anyway").addEventListener("click", () => this.turnIn());
    this.part("hand-in-not").addEventListener("click", () => this.ask(false));
    this.part("mend-head").addEventListener("click", (event) => this.leave(event, HEAD));
    this.part("back").addEventListener("click", (event) => this.leave(event, ""));
    window.addEventListener("beforeunload", (event) => this.failed.size && event.preventDefault());
  }

  get books() {
    return booksOf(this.sheet.content, this.rules);
  }

  /** The steps of this sheet, by the rule sets of its day, or of any day if none is known. */
  get walk() {
    const { rulebook_name: name, fishery_name: other } = this.sheet.content;
    const bookOf = (wanted) => [...this.rules.books, ...this.books].findLast((each) => each.name === wanted) ?? null;
    const [gear, fishery] = [bookOf(name), bookOf(other)];
    const steps = gear ? stepsOf({ gear, fishery }, this.rules.reading) : [];
    return [{ slug: HEAD, questions: [], judges: [] }, ...steps, { slug: NOTES, questions: [], judges: [] }];
  }

  /** The steps whose readings are done with. */
  get done() {
    const told = new Set(this.sheet.done ?? []);
    const before = new Set(this.sheet.before ?? []);
    const isDoneWith = ({ slug, questions }) => told.has(slug) || questions.some((name) => before.has(name));
    return this.walk.filter((step) => this.fixed || isDoneWith(step));
  }

  get fixed() {
    return Boolean(this.sheet.handsIn || this.sheet.finished);
  }

  // What is shown

  /** Show `sheet` at the step `slug`, the first with questions if it has none such. */
  show(sheet, slug) {
    this.sheet = sheet;
    const { fixed, walk } = this;
    const found = walk.findIndex((step) => step.slug === (fixed ? NOTES : slug));
    const at = found < 0 ? Math.min(1, walk.length - 1) : found;
    if (this.step?.slug !== walk[at].slug) this.ask(false);
    this.step = walk[at];
    this.fill();
    for (const each of this.view.querySelectorAll("[data-step]")) {
      each.hidden = each.dataset.step !== this.step.slug;
    }
    for (const each of this.form.elements) each.disabled = fixed && !each.closest("[data-after-turning-in]");
    const { vessel_name: vessel, head } = sheet.content;
    this.part("vessel").textContent = [vessel, head.net].filter(Boolean).join(", ");
    const place = { step: at, steps: walk.length - 1 };
    const where = at ? _("Step %(step)s of %(steps)s", place) : _("About the check");
    this.part("where").textContent = fixed ? _("Turned in") : where;
    this.part("before").hidden = fixed || at === 0;
    this.part("after").hidden = fixed || at === walk.length - 1;
    this.part("done").hidden = fixed || !this.step.questions.length;
    this.part("mend-head").hidden = fixed || at === 0;
    this.part("before-turning-in").hidden = fixed;
    this.showOutcome();
    this.showSaved();
  }

  focus() {
    this.view.querySelector(`[data-step="${this.step.slug}"] h1`).focus();
    window.scrollTo(0, 0);
  }

  fill() {
    const { content } = this.sheet;
    for (const each of this.questions) {
      each.root.hidden = !this.step.questions.includes(each.name);
      each.fill(content);
    }
    for (const each of this.signs) each.fill(content, this.fixed);
    if (!this.failed.has(this.headPlace)) this.head.fill(content);
    const field = this.form.elements.notes;
    if (field !== document.activeElement && !this.failed.has(field.parentElement)) field.value = content.notes;
    const all = this.walk.flatMap((step) => step.questions);
    this.photos.fill(this.lines(this.step.questions), this.lines(all), this.fixed);
    const { code } = content;
    this.part("copy").hidden = !this.fixed || !code;
    this.part("code").textContent = inGroups(code);
  }

  /** Return what a photo can belong to: the sheet, or one of the questions `names`. */
  lines(names) {
    const { questions } = this.rules.reading;
    return [["", _("the whole sheet")], ...names.map((name) => [name, questions[name].called ?? name])];
  }

  /** Return why answers cannot be taken, by question's name: they cannot be read, or the site's words. */
  troubles(unread) {
    const refused = isRefused(this.sheet) ? (this.sheet.fields ?? {}) : {};
    return { ...refused, ...unread };
  }

  showOutcome() {
    const { content } = this.sheet;
    const { measures, unread, soFar, unlikely } = readAll(content.typed, this.rules.reading);
    const odds = atOdds(measures, this.rules.reading);
    const comesTo = ({ name }) => {
      const typed = { name, text: content.typed[name] ?? "" };
      const worked = name in unread ? "" : workedOut(typed, content.typed, this.rules.reading);
      return [soFar[name] ?? worked, odds[name]].filter(Boolean).join(" ");
    };
    this.unread = Object.keys(unread);
    const troubles = this.troubles(unread);
    for (const each of this.questions) {
      const { name } = each;
      each.showTrouble(troubles[name] ?? "", comesTo(each), unlikely.includes(name), content);
    }
    // What is still being typed is not told to be wrong yet.
    const isTyped = this.head.field("position") === document.activeElement;
    this.head.showProblems({ ...(isTyped ? {} : this.head.misread), ...troubles });
    this.refused.fill(this.sheet, this.placesOf(troubles));
    this.showFindings();
  }

  /** Show the findings from what was read in the steps that are done with. */
  showFindings() {
    const { books, done, step, rules } = this;
    const { content } = this.sheet;
    const beside = besideOf(content, new Set(done.flatMap((each) => each.questions)), books, rules);
    const findings = findingsOf(beside.measures, books, content, rules);
    const versions = books.map(({ name, version }) => `${name} ${version}`);
    for (const each of this.view.querySelectorAll("[data-book]")) each.hidden = !versions.includes(each.dataset.book);
    const named = new Set([content.rulebook_name, content.fishery_name].filter(Boolean));
    this.part("no-rules").hidden = books.length === named.size;
    const judged = new Set(done.flatMap((each) => each.judges));
    const seen = findings.filter((each) => judged.has(each.key));
    const isHere = done.some((each) => each.slug === step.slug);
    this.part("tally").textContent = judged.size && books.length ? tallyWords(findings, beside.told) : _("shown when a step is done");
    this.part("from-memory").hidden = !seen.some((each) => each.is_from_memory);
    const shown = (list) => list.map((each) => findingItem(each, beside, rules));
    this.part("findings").replaceChildren(...shown(isHere ? seen.filter((each) => step.judges.includes(each.key)) : []));
    this.part("findings-all").replaceChildren(...shown(byWeight(seen)));
    const customs = seen.filter((each) => each.by_custom);
    this.part("by-custom").hidden = !customs.length;
    this.part("customs").replaceChildren(...shown(customs));
    const warnings = seen.filter((each) => each.is_warning);
    this.part("warned").hidden = !warnings.length;
    this.part("warnings").replaceChildren(...shown(warnings));
    this.part("all-findings").hidden = !seen.length;
    this.part("all-findings").open ||= step.slug === NOTES;
  }

  /** Return [words, address] of the places that `troubles` name. */
  placesOf(troubles) {
    const { key } = this.sheet;
    const steps = new Map(Object.keys(troubles).map((name) => [this.stepOf(name), name]));
    return [...steps].filter(([slug]) => slug).map(([slug]) => [this.titleOf(slug), `#${key}/${slug}`]);
  }

  stepOf(name) {
    if (this.head.fields.some((field) => field.name === name)) return HEAD;
    return this.walk.find((step) => step.questions.includes(name))?.slug;
  }

  titleOf(slug) {
    return this.view.querySelector(`[data-step="${slug}"] h1`).textContent.trim();
  }

  showSaved() {
    const { sheet } = this;
    if (this.failed.size) return;
    if (this.waiting) {
      this.part("saved").textContent = _("Saving …");
      return;
    }
    const problem = isRefused(sheet) ? "" : sheet.problem;
    this.part("saved").textContent = [savedWords(sheet), problem, photoWords(sheet)].filter(Boolean).join(" ");
  }

  // What is entered

  /**
   * Have `change` change the sheet and number the save; keep it, show what it comes to. `place` is
   * where on the page it was made: if the phone has no room, that is said there. Return whether it
   * is on the phone.
   */
  change(change, place) {
    const { key } = this.sheet;
    const { slug: step, questions } = this.step;
    this.waiting += 1;
    this.showSaved();
    const opened = (sheet) => {
      if (change(sheet) === false) return false;
      // Who writes on in a step reads there again.
      if (place.dataset.question) {
        sheet.done = (sheet.done ?? []).filter((slug) => slug !== step);
        sheet.before = (sheet.before ?? []).filter((name) => !questions.includes(name));
      }
      return true;
    };
    const work = writeOn(this.sheets, key, opened, (content) => saidOf(content, this.rules));
    this.saving = this.settled(work, key, change, place);
    return this.saving;
  }

  async settled(work, key, change, place) {
    try {
      const written = await work.finally(() => (this.waiting -= 1));
      this.showFailed(place, null);
      if (written && this.sheet.key === key) {
        this.sheet = written;
        this.fill();
        this.showOutcome();
        this.showSaved();
      }
      this.sender.soon(PAUSE);
      return true;
    } catch (error) {
      if (!(error instanceof DOMException)) throw error;
      this.showFailed(place, change);
      return false;
    }
  }

  /** Mark at `place` that `change` is not on the phone, or that all is. */
  showFailed(place, change) {
    const words = _("Not saved: this phone has no room left. Make room, or write it on paper.");
    let told = place?.querySelector(":scope > [data-not-saved]");
    if (change) this.failed.set(place, [...(this.failed.get(place) ?? []), change]);
    else this.failed.delete(place);
    if (!place) return;
    if (change && !told) {
      told = element("p", words, "invalid-feedback");
      told.dataset.notSaved = "";
      told.setAttribute("role", "alert");
      place.append(told);
    } else if (!change) told?.remove();
    place.classList.toggle("check-not-saved", Boolean(change));
    if (change) this.part("saved").textContent = words;
  }

  /** Take `by`, how a reading was come by, for the next ones where it fits. */
  lastBy(by) {
    for (const each of this.questions) each.offer(by);
  }

  /** The question `question` is being written on: the one before it was left. */
  opened(question) {
    if (this.open !== question) this.open?.left();
    this.open = question;
  }

  /** Try again to save what could not be; return whether all is on the phone now. */
  saveAll() {
    // One after the other: a second tap may not find the list of what failed empty meanwhile.
    const attempt = () => this.saveEach();
    this.savedAll = (this.savedAll ?? Promise.resolve()).then(attempt, attempt);
    return this.savedAll;
  }

  async saveEach() {
    this.open?.left();
    await this.saving;
    for (const [place, changes] of [...this.failed]) {
      this.failed.delete(place);
      for (const [at, change] of changes.entries()) {
        if (await this.change(change, place)) continue;
        // What comes after it waits with it, before what was written meanwhile.
        const [first, ...newer] = this.failed.get(place);
        this.failed.set(place, [first, ...changes.slice(at + 1), ...newer]);
        break;
      }
    }
    const [place] = this.failed.keys();
    place?.scrollIntoView({ block: "center" });
    return !place;
  }

  /** Note `change` on the sheet without a new save; return whether it is on the phone. */
  async note(change) {
    try {
      this.sheet = (await this.sheets.change(this.sheet.key, change)) ?? this.sheet;
    } catch {
      this.part("saved").textContent = _("Not saved: this phone has no room left. Make room, or write it on paper.");
      return false;
    }
    this.show(this.sheet, this.step.slug);
    return true;
  }

  /** The step that is shown is done with: its readings are in. */
  close() {
    const { slug } = this.step;
    return this.note((sheet) => {
      sheet.done = [...new Set([...(sheet.done ?? []), slug])];
    });
  }

  async finish() {
    if (!(await this.saveAll()) || !(await this.close())) return;
    this.part("outcome").querySelector("h2").focus();
    this.part("outcome").scrollIntoView();
  }

  async move(by) {
    const at = this.walk.findIndex((step) => step.slug === this.step.slug);
    if (!(await this.saveAll())) return;
    if (this.step.slug === HEAD && this.head.showProblems(this.head.check())) {
      this.head.showProblems(this.head.check()).focus();
      return;
    }
    if (!(await this.close())) return;
    const to = this.walk[at + by];
    if (to) this.go(to.slug);
    this.sender.send();
  }

  /** Leave the step for another, or for all sheets, once all of it is on the phone. */
  async leave(event, slug) {
    event.preventDefault();
    if (!(await this.saveAll())) return;
    if (slug) this.go(slug);
    else window.location.hash = "";
  }

  noteDown(text, place) {
    this.change(({ content }) => {
      content.notes = text;
    }, place);
  }

  get headPlace() {
    return this.view.querySelector(`[data-step="${HEAD}"]`);
  }

  mendHead() {
    const { told } = this.head;
    this.change(({ content }) => {
      Object.assign(content, told, { head: { ...content.head, ...told.head } });
    }, this.headPlace);
  }

  // Turning in

  /** Return the names of the questions that nobody answered. */
  get unmeasured() {
    const { typed } = this.sheet.content;
    return this.walk.flatMap((step) => step.questions).filter((name) => !typed[name]);
  }

  async handIn() {
    if (!(await this.saveAll())) return;
    const told = this.part("unread");
    told.hidden = !this.unread.length;
    if (this.unread.length) {
      const steps = [...new Set(this.unread.map((name) => this.titleOf(this.stepOf(name))))];
      told.textContent = _("Not turned in. Fix the marked answers first. See: %(steps)s.", { steps: steps.join("; ") });
      return;
    }
    if (Object.keys(this.head.check()).length) {
      this.go(HEAD);
      return;
    }
    if (this.unmeasured.length) this.ask(true);
    else await this.turnIn();
  }

  /** Ask once whether to turn in what was not measured in full. */
  ask(isAsked) {
    const place = this.part("ask");
    place.hidden = !isAsked;
    if (!isAsked) return;
    const { questions } = this.rules.reading;
    const names = this.unmeasured;
    const { reasons } = this.sheet.content;
    this.part("ask-title").textContent = ngettext(
      "%(count)s thing is not measured.", "%(count)s things are not measured.", names.length,
    );
    const item = (name, slug) => {
      const words = [questions[name].called ?? name, reasons[name]].filter(Boolean).join(": ");
      const link = element("a", words, "check-way");
      link.href = `#${this.sheet.key}/${slug}`;
      const made = element("li", "");
      made.append(link);
      return made;
    };
    const steps = this.walk.map(({ slug, questions: asked }) => [slug, asked.filter((name) => names.includes(name))]);
    const folds = steps.filter(([, missing]) => missing.length).map(([slug, missing]) => {
      const fold = element("details", "");
      const list = element("ul", "", "check-sheets");
      list.append(...missing.map((name) => item(name, slug)));
      fold.append(element("summary", `${this.titleOf(slug)} (${missing.length})`), list);
      fold.open = names.length <= FEW;
      return fold;
    });
    this.part("ask-list").replaceChildren(...folds);
    this.part("ask-title").focus();
  }

  async turnIn() {
    const place = this.part("before-turning-in");
    const isSaved = await this.change((sheet) => {
      sheet.handsIn = true;
    }, place);
    if (!isSaved) {
      this.failed.delete(place); // it is turned in by a tap, not by a try to save the rest
      return;
    }
    this.ask(false);
    this.show(this.sheet, NOTES);
    this.focus();
    this.sender.send();
  }
}
