/*
 * "I have read this", said without signal: it is noted on the phone, and sent later.
 *
 * Once it got through it is sent again, the plain way, to see the page that follows: said twice it
 * is one.
 */

import { handIn, isOutOfReach, SHORT_PATIENCE } from "./handing_in.js";
import { note, sendAll } from "./noted.js";
import { person } from "./outbox.js";
import { _ } from "./say.js";

class LessonRead {
  constructor(form) {
    this.form = form;
    this.told = form.querySelector("[role=status]");
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      this.say();
    });
  }

  async say() {
    const button = this.form.querySelector("[type=submit]");
    button.disabled = true;
    if (isOutOfReach(await handIn(this.form, SHORT_PATIENCE))) this.told.textContent = await this.noted();
    else this.form.submit();
    button.disabled = false;
  }

  /** Note it; return in words what became of it. */
  async noted() {
    const told = { address: new URL(this.form.action).pathname, values: [], label: this.form.dataset.read };
    try {
      await note(person(), told);
    } catch {
      return _("Not saved: no connection, and this phone has no room for it. Say it again when you have signal.");
    }
    this.form.querySelector("[type=submit]").hidden = true;
    sendAll();
    return _("Saved on this phone. It is sent when there is signal.");
  }
}

for (const form of document.querySelectorAll("form[data-read]")) new LessonRead(form);
