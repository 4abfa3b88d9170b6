/*
 * The figures to try out: asks the site for the drawing and the figures as they are set.
 *
 * Nothing is reckoned here. Where the site does not answer, what it worked out beforehand for the
 * nearest settings is shown, if the phone has it, and said to be that. Without this script, the
 * button shows the same on a page of its own.
 */

import { _ } from "./say.js";
import { nearestEntry } from "./tabled.js";

const PAUSE = 150; // milliseconds without a move before the site is asked
const PARTS = ["[data-live-drawing]", "[data-live-words]", "[data-live-more]"]; // the last not in all
const PATIENCE = 4000; // milliseconds that the site has to answer

/** The site answers, and what is set does not fit. */
class Refused extends Error {}

class Live {
  constructor(form) {
    this.form = form;
    this.trouble = form.querySelector("[data-live-trouble]");
    this.told = form.querySelector("[data-live-told]");
    this.isLost = false; // whether the site did not answer the last time
    this.timer = 0;
    this.latest = null;
    form.querySelector("[data-live-button]").hidden = true;
    form.addEventListener("input", () => this.moved());
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      this.ask();
    });
    this.tell();
  }

  /** Write each slider's number beside it, and have it read out with its unit. */
  tell() {
    for (const output of this.form.querySelectorAll("[data-live-number]")) {
      const dial = this.form.querySelector(`#${output.htmlFor}`);
      output.textContent = `${Number(dial.value)} ${dial.dataset.unit}`;
      output.hidden = false;
      dial.setAttribute("aria-valuetext", output.textContent);
    }
  }

  moved() {
    this.tell();
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.ask(), PAUSE);
  }

  async ask() {
    this.latest?.abort();
    const asked = new AbortController();
    this.latest = asked;
    const { isLost } = this;
    // Who waited once for a site that is out of reach does not wait again at each move.
    if (isLost) await this.lookUp(asked);
    try {
      this.show(await this.answer(asked.signal));
      this.isLost = false;
      this.told.hidden = true;
    } catch (error) {
      if (asked.signal.aborted) return;
      this.isLost = !(error instanceof Refused);
      if (!this.isLost) this.trouble.hidden = false;
      else if (!isLost) await this.lookUp(asked);
    }
  }

  /** Return the site's answer to what is set, as markup. */
  async answer(signal) {
    const query = new URLSearchParams(new FormData(this.form));
    const late = new Promise((_resolve, reject) => {
      setTimeout(() => reject(new Error("late")), PATIENCE);
    });
    const answer = await Promise.race([fetch(`${this.form.dataset.live}?${query}`, { signal }), late]);
    if (answer.status >= 500) throw new Error(String(answer.status));
    if (!answer.ok) throw new Refused(String(answer.status));
    return answer.text();
  }

  /** Show what the phone has from before for the settings nearest to these. */
  async lookUp({ signal }) {
    try {
      this.table ??= await this.fetchTable();
      if (signal.aborted) return;
      this.show(nearestEntry(this.table, Object.fromEntries(new FormData(this.form))));
      this.told.textContent = _("The site does not answer. The figure was worked out before, for the settings nearest to yours. It says below which.");
      this.told.hidden = false;
    } catch {
      if (!signal.aborted) this.trouble.hidden = false;
    }
  }

  async fetchTable() {
    const answer = await fetch(this.form.dataset.liveTable, { signal: AbortSignal.timeout(PATIENCE) });
    if (!answer.ok) throw new Error(String(answer.status));
    return answer.json();
  }

  show(markup) {
    const came = new DOMParser().parseFromString(markup, "text/html");
    const shown = PARTS.filter((part) => this.form.querySelector(part));
    const parts = shown.map((part) => [part, came.querySelector(part)]);
    if (!parts.every(([, found]) => found)) throw new Error("not the figure");
    // The words stay the same element, so that what changes in them is read out.
    for (const [part, found] of parts) this.form.querySelector(part).replaceChildren(...found.childNodes);
    this.trouble.hidden = true;
  }
}

for (const form of document.querySelectorAll("form[data-live]")) new Live(form);
