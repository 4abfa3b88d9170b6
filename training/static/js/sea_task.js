/*
 * A task that was taken along: its answer is saved on the phone, and then told how it is graded.
 *
 * What is told is sealed until the answer is on the phone. From then on the answer stays as it is,
 * and waits to be sent like any form that was filled in without signal.
 */

import { check } from "./foretold.js";
import { putBack, shownIn, valuesOf } from "./form_values.js";
import { note, sendAll, waitingOf } from "./noted.js";
import { Outbox, person } from "./outbox.js";
import { _ } from "./say.js";
import { ANSWERED, feedback, opened, rendered } from "./sea_feedback.js";

class SeaTask {
  constructor(form) {
    this.form = form;
    this.owner = person();
    this.pk = form.dataset.seaTask;
    this.answered = new Outbox(this.owner, ANSWERED);
    this.address = new URL(form.action).pathname;
    this.place = document.querySelector("[data-sea-told]");
    this.trouble = form.querySelector("[data-draft-trouble]");
    this.known = JSON.parse(document.getElementById("sea-told")?.textContent ?? "null");
    // Asked for at once, since the signal may be gone by the time of the answer.
    this.secret = this.fetched().catch(() => null);
    // Before the form itself hears of it, which would send it the plain way.
    document.addEventListener("submit", (event) => event.target === form && this.submitted(event), { capture: true });
    document.addEventListener("arrived", ({ detail }) => this.arrived(detail));
    this.restore().catch(() => {}); // a phone that keeps nothing has nothing to show
  }

  /** Show what was answered on this phone before, in another window perhaps; return whether it was. */
  async restore() {
    const waiting = (await waitingOf(this.owner)).find(({ address }) => address === this.address);
    const before = waiting ?? (await this.answered.get(this.pk));
    if (!before) return false;
    putBack(this.form, before.values, new Set());
    await this.show(before.values, Boolean(waiting));
    return true;
  }

  async submitted(event) {
    event.preventDefault();
    event.stopImmediatePropagation();
    const button = this.form.querySelector("[type=submit]");
    if (button.disabled) return;
    button.disabled = true;
    this.trouble.hidden = true;
    await this.answer(valuesOf(this.form));
    button.disabled = false;
  }

  async answer(values) {
    const unread = this.known && check(this.known.entered, values, this.known.lengths);
    if (unread !== null) {
      this.refuse(unread);
      return;
    }
    const { seaLabel: label } = this.form.dataset;
    let entry;
    try {
      if (await this.restore()) return;
      const [page, shown] = [this.address, shownIn(this.form)];
      entry = await note(this.owner, { address: this.address, values, label, page, shown });
    } catch {
      this.tell(_("Not saved: this phone has no room for it, or forbids it. Your answer is on this page only."));
      return;
    }
    await this.answered.put(this.pk, { values }).catch(() => {});
    const found = await this.show(values, true);
    await this.add(entry, found);
    new Outbox(this.owner, "draft").forget(this.form.dataset.draft).catch(() => {});
    sendAll();
  }

  /** Have the site know how many points were told here. */
  async add({ key }, found) {
    if (!found) return;
    const told = ["told", String(found.marks)];
    await new Outbox(this.owner, "noted").change(key, (entry) => entry.values.push(told)).catch(() => {});
  }

  refuse(name) {
    const { unread } = this.known;
    this.tell(unread[name] ?? unread[""]);
    const field = this.form.elements[name];
    (field?.[0] ?? field)?.focus?.();
  }

  tell(words) {
    this.trouble.textContent = words;
    this.trouble.hidden = false;
    this.trouble.scrollIntoView({ block: "center" });
  }

  // What is told

  /** Return what opens the seal, null where this phone cannot. */
  async fetched() {
    if (!this.known || !globalThis.crypto.subtle || !globalThis.DecompressionStream) return null;
    const response = await fetch(this.form.dataset.seaKey);
    if (!response.ok) return null;
    return (await response.json()).secret;
  }

  async open() {
    const secret = await this.secret;
    return secret && opened(this.known.sealed, secret).catch(() => null);
  }

  /** Show the answer, which stays as it is, and what is told of it; return that, null if nothing is. */
  async show(values, isWaiting) {
    this.form.inert = true;
    this.form.querySelector("[type=submit]").hidden = true;
    this.status = document.createElement("p");
    this.status.className = "notice";
    this.status.setAttribute("role", "status");
    this.place.replaceChildren(this.status);
    this.place.hidden = false;
    this.say(isWaiting);
    const found = await this.result(values);
    this.place.focus({ preventScroll: true });
    this.place.scrollIntoView({ block: "start" });
    return found;
  }

  async result(values) {
    const known = await this.open();
    try {
      const found = known && feedback(known, values, this.known.lengths);
      if (found) this.place.append(...rendered(known, found, values));
      else this.later();
      return found;
    } catch {
      this.later();
      return null;
    }
  }

  later() {
    const words = document.createElement("p");
    words.textContent = _("How it is graded you see once it is sent.");
    this.place.append(words);
  }

  say(isWaiting) {
    this.status.textContent = isWaiting
      ? _("Your answer is saved on this phone, not sent yet. It is final. It counts once the site has it.")
      : _("You answered this on this phone, and it was sent.");
  }

  /** Say what came of the answer, if it is this task's. */
  async arrived({ entry, said }) {
    if (entry.address !== this.address) return;
    const isTaken = said.outcome === "taken";
    if (!isTaken) await this.answered.forget(this.pk).catch(() => {});
    const link = document.createElement("a");
    link.href = isTaken ? said.where : said.page;
    link.textContent = isTaken ? _("See it as the site graded it") : _("See what came of it");
    const words = isTaken
      ? _("Sent: the site has your answer. %(words)s", { words: said.words })
      : _("Sent, but the site could not take your answer. Nothing you entered is lost.");
    this.status.replaceChildren(words.trim(), " ", link);
  }
}

for (const form of document.querySelectorAll("form[data-sea-task]")) new SeaTask(form);
