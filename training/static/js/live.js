/*
 * The dropper to try out: asks the site for the drawing and the figures as they are set.
 *
 * Nothing is reckoned here. Without it, the button shows the same on a page of its own.
 */

const PAUSE = 150; // milliseconds without a move before the site is asked

class Live {
  constructor(form) {
    this.form = form;
    this.trouble = form.querySelector("[data-live-trouble]");
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
    try {
      const query = new URLSearchParams(new FormData(this.form));
      const answer = await fetch(`${this.form.dataset.live}?${query}`, { signal: asked.signal });
      if (!answer.ok) throw new Error(String(answer.status));
      const came = new DOMParser().parseFromString(await answer.text(), "text/html");
      // The words stay the same element, so that what changes in them is read out.
      for (const part of ["[data-live-drawing]", "[data-live-words]"]) {
        this.form.querySelector(part).replaceChildren(...came.querySelector(part).childNodes);
      }
      this.trouble.hidden = true;
    } catch (error) {
      if (error.name !== "AbortError") this.trouble.hidden = false;
    }
  }
}

for (const form of document.querySelectorAll("form[data-live]")) new Live(form);
