/*
 * The live drawing beside the form for a net.
 *
 * The server draws and judges; this only sends it what has been typed so far and
 * shows what comes back. Without it, the button that asks for the drawing remains.
 */

import { _ } from "./say.js";

const PAUSE = 500; // milliseconds without typing before the net is drawn again

/** Keeps the drawing of one form up to date. */
class LiveDrawing {
  constructor(form) {
    this.form = form;
    this.place = form.querySelector("[data-drawing]");
    this.timer = 0;
    this.latest = null;
    form.querySelector("[data-look]").hidden = true;
    for (const event of ["input", "restored"]) form.addEventListener(event, () => this.later());
    this.later(0);
  }

  later(pause = PAUSE) {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.draw(), pause);
  }

  async draw() {
    this.latest?.abort();
    const asked = new AbortController();
    this.latest = asked;
    try {
      const answer = await fetch(this.form.dataset.preview, {
        method: "POST",
        body: new FormData(this.form),
        signal: asked.signal,
      });
      // A sign-in page instead of a drawing is told by where the answer came from.
      if (!answer.ok || answer.redirected) throw new Error(String(answer.status));
      this.place.innerHTML = await answer.text();
    } catch (error) {
      if (error.name === "AbortError") return;
      // Only a lost connection is a TypeError; all else the site answered.
      this.place.textContent =
        error instanceof TypeError
          ? _("Without signal there is no drawing: the site makes it. What you typed is still here.")
          : _("The drawing did not load. What you typed is still here.");
    }
  }
}

for (const form of document.querySelectorAll("form[data-preview]")) new LiveDrawing(form);
