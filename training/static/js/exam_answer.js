/*
 * Saves the answer to a question of an exam on every change.
 *
 * The page says "saved" only once the site has said so. Until then the answer is on the device,
 * and is sent again when the connection returns. Without this script the button saves.
 */

import { CHANGES, putBack, valuesOf } from "./form_values.js";
import { madeUp, Outbox, person } from "./outbox.js";
import { _ } from "./say.js";
import { NotNow, post, Sender, SignedOut, told } from "./sending.js";

const PAUSE = 400; // milliseconds without a change before it is sent
const CONFLICT = 409; // saved elsewhere in between
const TOO_LONG = 413;
const OVER = 410; // the exam was turned in

const outbox = new Outbox(person(), "exam answer");

class ExamAnswer {
  constructor(form) {
    this.form = form;
    this.key = form.dataset.answer;
    this.revision = form.elements.revision;
    this.status = form.querySelector("[data-answer-told]");
    this.stale = form.querySelector("[data-answer-stale]");
    this.touched = new Set();
    this.window = madeUp();
    this.changes = this.sent = 0;
    this.said = null; // by the site, of what was last sent
    this.isOnDevice = false;
    this.sender = new Sender(`exam answer ${this.key}`, () => this.post(), (error) => this.failed(error));
    for (const event of CHANGES) form.addEventListener(event, ({ target }) => this.changed(target));
    form.addEventListener("submit", (event) => this.submitted(event));
    form.querySelector("[data-answer-drop]").addEventListener("click", (event) => this.drop(event));
    if (!("typed" in form.dataset)) this.restore();
  }

  // What is on the device

  /** Write the answer down as one that the site lacks. */
  async write() {
    this.changes += 1;
    await this.writeAgain();
  }

  async writeAgain() {
    const answer = { values: valuesOf(this.form), revision: this.revision.value, window: this.window };
    this.isOnDevice = await outbox.put(this.key, answer).then(() => true, () => false);
  }

  /** Forget what this window wrote; what another did since is not confirmed yet. */
  forget() {
    return outbox.forget(this.key, (entry) => entry.window === this.window).catch(() => {});
  }

  /** Put back what was never confirmed, and send it as what it was: a save on what it had seen. */
  async restore() {
    const entry = await outbox.get(this.key).catch(() => undefined);
    if (!entry) return;
    this.revision.value = entry.revision;
    putBack(this.form, entry.values, this.touched);
    await this.write();
    this.sender.send();
  }

  async drop(event) {
    event.preventDefault();
    await outbox.forget(this.key).catch(() => {});
    window.location.assign(event.target.href);
  }

  // What is sent

  changed(field) {
    this.touched.add(field.name);
    this.tell(_("Saving …"));
    this.write();
    this.sender.soon(PAUSE);
  }

  /**
   * Send the answer, unless the site has it all; return what the site said of it, null if it lacks
   * something. A button pressed while a change was under way may find that all of it has gone.
   */
  async post() {
    const sent = this.changes;
    if (sent === this.sent) return this.said;
    const response = await post(this.form.action, new FormData(this.form));
    if (response.ok) return this.confirmed(await told(response), sent);
    if (response.status === OVER) {
      const { go } = await told(response);
      await this.forget();
      window.location.assign(go);
    } else if (response.status === CONFLICT || response.status === TOO_LONG) {
      const { problem } = await told(response);
      this.tell(_("Not saved. %(problem)s", { problem }));
      this.stale.hidden = response.status === TOO_LONG;
    } else throw new NotNow(response.status);
    return null;
  }

  async confirmed(said, sent) {
    this.revision.value = said.revision;
    this.sent = sent;
    this.said = said;
    // A change made while this was under way is still to be sent.
    if (sent !== this.changes) {
      await this.writeAgain();
      return null;
    }
    await this.forget();
    const time = said.time;
    this.tell(said.ready ? _("Saved at %(time)s", { time }) : _("Saved at %(time)s, but not complete yet.", { time }));
    return said;
  }

  failed(error) {
    if (error instanceof SignedOut) {
      this.tell(
        this.isOnDevice
          ? _("Not saved: you are signed out. Your answer is still on this device. Sign in and open this task again.")
          : _("Not saved: you are signed out. Your answer is on this page only. Sign in in another window, then change it here."),
      );
    } else if (error.status) {
      this.tell(
        this.isOnDevice
          ? _("Not saved: the site answered with an error (%(status)s). Your answer is still on this device and is sent again.", { status: error.status })
          : _("Not saved: the site answered with an error (%(status)s). Your answer is on this page only and is sent again. Stay on this page.", { status: error.status }),
      );
    } else {
      this.tell(
        this.isOnDevice
          ? _("No connection. Your answer is saved on this device and is sent when you have signal.")
          : _("No connection. Your answer is on this page only and is sent when you have signal. Stay on this page."),
      );
    }
  }

  tell(words) {
    this.status.textContent = words;
  }

  async submitted(event) {
    event.preventDefault();
    await this.write();
    const said = await this.sender.send();
    if (said?.ready) window.location.assign(said.go);
    // Sent the plain way, the site shows what is missing or who saved in between.
    else if (said || !this.stale.hidden) this.form.submit();
  }
}

for (const form of document.querySelectorAll("form[data-answer]")) new ExamAnswer(form);
