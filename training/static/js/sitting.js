/*
 * Saves the answer to a task of an exam on every change.
 *
 * The page says "saved" only once the site has said so. Until then the answer is kept
 * on the device, and is sent again when the connection returns. Without this script the
 * button saves.
 */

import { clock } from "./moments.js";

const NAME = "answer to exam task ";
const PAUSE = 400; // milliseconds without a change before it is sent
const AGAIN = 5000; // milliseconds until it is sent again

function store(action) {
  // Storage may be full or forbidden; then there is nothing kept, and nothing breaks.
  try {
    return action(window.localStorage);
  } catch {
    return null;
  }
}

function ticks(field) {
  return field.type === "checkbox" || field.type === "radio";
}

class Sitting {
  constructor(form) {
    this.form = form;
    this.key = NAME + form.dataset.sitting;
    this.revision = form.elements.revision;
    this.told = form.querySelector("[data-sitting-told]");
    this.stale = form.querySelector("[data-sitting-stale]");
    this.changes = 0;
    this.sending = null;
    if (!("typed" in form.dataset)) this.restore();
    for (const name of ["input", "change", "board"]) form.addEventListener(name, () => this.changed());
    form.addEventListener("submit", (event) => this.submitted(event));
    window.addEventListener("online", () => this.kept() && this.send());
    form.querySelector("[data-sitting-drop]").addEventListener("click", () => this.drop());
  }

  own() {
    return [...this.form.elements].filter((each) => each.name && each.type !== "hidden");
  }

  // What is kept on the device

  keep() {
    const values = this.own()
      .filter((field) => !ticks(field) || field.checked)
      .map((field) => [field.name, field.value]);
    store((storage) => storage.setItem(this.key, JSON.stringify({ values, revision: this.revision.value })));
  }

  kept() {
    return store((storage) => JSON.parse(storage.getItem(this.key)));
  }

  drop() {
    store((storage) => storage.removeItem(this.key));
  }

  /** Put back what was never acknowledged, and send it as what it was: a save on what it had seen. */
  restore() {
    const kept = this.kept();
    if (!kept) return;
    for (const field of this.own()) {
      const given = kept.values.filter(([name]) => name === field.name).map(([, value]) => value);
      if (ticks(field)) field.checked = given.includes(field.value);
      else if (given.length) field.value = given[0];
    }
    this.revision.value = kept.revision;
    this.form.dispatchEvent(new Event("restored"));
    this.send();
  }

  // What is sent

  changed() {
    this.changes += 1;
    this.keep();
    this.tell("Saving …");
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.send(), PAUSE);
  }

  /** Send the answer; return what the site said once it has it all, null if it does not. */
  async send() {
    clearTimeout(this.timer);
    while (this.sending) await this.sending;
    this.sending = this.post();
    const said = await this.sending;
    this.sending = null;
    return said;
  }

  async post() {
    const sent = this.changes;
    let response;
    try {
      response = await fetch(this.form.action, {
        method: "POST",
        body: new FormData(this.form),
        headers: { Accept: "application/json" },
        redirect: "manual",
      });
      if (response.ok) return this.acknowledged(await response.json(), sent);
    } catch {
      return this.later("No connection. Your answer is saved on this device and is sent when you have signal.");
    }
    if (response.status === 409 || response.status === 410) {
      const said = await response.json();
      if (response.status === 410) {
        this.drop();
        window.location.assign(said.go);
        return null;
      }
      this.tell(`Not saved. ${said.problem}`);
      this.stale.hidden = false;
      return null;
    }
    if (response.type === "opaqueredirect" || response.status === 403) {
      this.tell("Not saved: you are signed out. Your answer is still on this device. Sign in and open this task again.");
      return null;
    }
    return this.later(`Not saved: the site answered with an error (${response.status}). Your answer is still on this device and is sent again.`);
  }

  acknowledged(said, sent) {
    this.revision.value = said.revision;
    // A change made while this was under way is still to be sent.
    if (sent !== this.changes) {
      this.keep();
      return null;
    }
    this.drop();
    const time = clock(new Date());
    this.tell(said.ready ? `Saved at ${time}.` : `Saved at ${time}, but not complete yet.`);
    return said;
  }

  later(words) {
    this.tell(words);
    this.timer = setTimeout(() => this.send(), AGAIN);
    return null;
  }

  tell(words) {
    this.told.textContent = words;
  }

  async submitted(event) {
    event.preventDefault();
    this.keep();
    const said = await this.send();
    if (said && said.ready) window.location.assign(said.go);
    // Sent the plain way, the site shows what is missing or who saved in between.
    else if (said || !this.stale.hidden) this.form.submit();
  }
}

for (const form of document.querySelectorAll("form[data-sitting]")) new Sitting(form);
