/*
 * What would put a net right: asks the site for it, then for how sure each change is, in turn.
 *
 * Nothing is reckoned here. Without this script a link asks for all of it at once.
 */

import { _ } from "./say.js";

class Advice {
  constructor(page) {
    this.page = page;
    this.figure = page.querySelector("[data-advice-figure]");
    this.working = page.querySelector("[data-advice-working]");
    this.trouble = page.querySelector("[data-advice-trouble]");
  }

  async ask() {
    if (this.figure.querySelector("[data-advice-sure]")) return; // the page came with all of it
    this.figure.replaceChildren();
    this.working.hidden = false;
    try {
      this.figure.innerHTML = await got(this.page.dataset.advice);
      this.working.hidden = true;
      for (const place of this.figure.querySelectorAll("[data-advice-sure]")) {
        place.textContent = _("Working out how sure that is …");
      }
      for (const place of this.figure.querySelectorAll("[data-advice-sure]")) {
        const query = new URLSearchParams({ change: place.dataset.adviceSure });
        place.innerHTML = await got(`${this.page.dataset.adviceHowSure}?${query}`); // one after the other: each keeps the site busy
      }
    } catch {
      this.trouble.hidden = false;
      for (const place of this.figure.querySelectorAll("[data-advice-sure]")) {
        if (!place.children.length) place.textContent = _("How sure that is was not worked out.");
      }
    }
    this.working.hidden = true;
  }
}

async function got(address) {
  const answer = await fetch(address);
  if (!answer.ok || answer.redirected) throw new Error(String(answer.status));
  return answer.text();
}

for (const page of document.querySelectorAll("[data-advice]")) new Advice(page).ask();
