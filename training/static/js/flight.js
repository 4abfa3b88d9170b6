/*
 * A net in flight: asks the site what a change does as soon as it is typed, then how sure that is.
 *
 * Nothing is reckoned here. The likely answer comes at once; how sure it is takes the site
 * seconds, and the page says that it is working. Without this script, the button shows both.
 */

import { Hands } from "./flight_hands.js";
import { addSteps } from "./flight_steps.js";
import { _ } from "./say.js";

const PAUSE = 300; // milliseconds without typing before the site is asked
const SETTLED = 1200; // milliseconds without typing before it is asked how sure that is

class Flight {
  constructor(page) {
    this.page = page;
    this.form = page.querySelector("form");
    this.figure = page.querySelector("[data-flight-figure]");
    this.spread = page.querySelector("[data-flight-spread]");
    this.working = page.querySelector("[data-flight-working]");
    this.trouble = page.querySelector("[data-flight-trouble]");
    this.print = page.querySelector("[data-flight-print]");
    this.timer = 0;
    this.latest = null;
    addSteps(this.form);
    this.hands = new Hands(this.form, this.figure);
    this.print.hidden = false;
    this.print.querySelector("button").addEventListener("click", () => window.print());
    for (const part of ["slow", "button"]) page.querySelector(`[data-flight-${part}]`).hidden = true;
    this.form.addEventListener("input", () => this.later(PAUSE));
    this.form.addEventListener("submit", (event) => {
      event.preventDefault();
      this.later(0);
    });
    const open = this.figure.querySelector("[data-flight-open]");
    if (open) {
      open.remove();
      this.later(0);
    }
  }

  later(pause) {
    clearTimeout(this.timer);
    this.latest?.abort();
    this.timer = setTimeout(() => this.ask(), pause);
  }

  async ask() {
    const asked = new AbortController();
    this.latest = asked;
    const query = new URLSearchParams(new FormData(this.form));
    this.working.hidden = false;
    this.print.hidden = true; // until all of it is there
    try {
      const answer = await fetch(`${this.page.dataset.flight}?${query}`, { signal: asked.signal });
      if (answer.redirected) throw new Error("signed out");
      const markup = await answer.text();
      if (answer.status === 422) this.refused(markup);
      else if (answer.ok) this.show(markup);
      else throw new Error(String(answer.status));
      this.trouble.hidden = true;
      if (answer.ok) await this.askHowSure(query, asked);
    } catch {
      if (asked.signal.aborted) return;
      this.trouble.hidden = false;
    }
    this.working.hidden = true;
    this.print.hidden = false;
  }

  /** Put the fields with what is wrong with them in place, and leave the one in hand alone. */
  refused(markup) {
    const came = new DOMParser().parseFromString(markup, "text/html");
    for (const field of this.form.querySelectorAll("[id^=div_id_]")) {
      const told = came.getElementById(field.id);
      if (!told || field.contains(document.activeElement) && !told.querySelector(".invalid-feedback")) continue;
      const { activeElement } = document;
      const at = field.contains(activeElement) ? activeElement.id : null;
      field.replaceWith(told);
      addSteps(this.form);
      if (at) {
        const input = document.getElementById(at);
        input.focus();
        const end = input.value.length;
        if (input.setSelectionRange && input.type === "text") input.setSelectionRange(end, end);
      }
    }
    this.spread.replaceChildren();
  }

  show(markup) {
    const focused = this.figure.contains(document.activeElement) ? document.activeElement.dataset.hold : "";
    this.figure.innerHTML = markup;
    this.hands.show(focused);
    for (const bad of this.form.querySelectorAll(".invalid-feedback")) bad.remove();
    for (const field of this.form.querySelectorAll(".is-invalid")) {
      field.classList.remove("is-invalid");
      field.removeAttribute("aria-invalid");
    }
    this.spread.replaceChildren();
  }

  async askHowSure(query, asked) {
    if (!this.figure.querySelector("[data-flight-changes]")) return;
    this.spread.textContent = _("Working out how sure that is: 20 nets that may be yours are flown.");
    await new Promise((resolve) => {
      setTimeout(resolve, SETTLED);
    });
    if (asked.signal.aborted) return;
    const answer = await fetch(`${this.page.dataset.flightSure}?${query}`, { signal: asked.signal });
    if (!answer.ok || answer.redirected) throw new Error(String(answer.status));
    this.spread.innerHTML = await answer.text();
  }
}

for (const page of document.querySelectorAll("[data-flight]")) new Flight(page);
