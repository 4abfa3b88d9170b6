/* The list of tasks taken along: which were answered on this phone, and what of them was sent. */

import { waitingOf } from "./noted.js";
import { Outbox, person } from "./outbox.js";
import { _ } from "./say.js";
import { ANSWERED } from "./sea_feedback.js";

const answered = new Outbox(person(), ANSWERED);

async function tell() {
  const waiting = new Set((await waitingOf(person())).map(({ address }) => address));
  for (const row of document.querySelectorAll("[data-sea-task]")) {
    const { pathname } = new URL(row.querySelector("a").href);
    const isWaiting = waiting.has(pathname);
    const words = row.querySelector("[data-sea-state]");
    words.hidden = !isWaiting && !(await answered.get(row.dataset.seaTask));
    words.textContent = isWaiting
      ? _("Answered. Saved on this phone, not sent yet.")
      : _("Answered on this phone, and sent.");
  }
}

/** Forget what the site has by now, and what it never got because its writer threw it away. */
async function forget() {
  const list = document.querySelector("[data-sea-tasks]");
  // A page from this phone does not know what was sent since.
  if (!list || document.documentElement.dataset.keptAt) return;
  const waiting = new Set((await waitingOf(person())).map(({ address }) => address));
  const listed = new Map([...list.querySelectorAll("[data-sea-task]")].map((row) => [row.dataset.seaTask, row]));
  const asOf = Date.parse(list.dataset.asOf);
  for (const { key, changed } of await answered.all()) {
    const address = listed.has(key) && new URL(listed.get(key).querySelector("a").href).pathname;
    if (!waiting.has(address) && changed < asOf) await answered.forget(key);
  }
}

async function work() {
  await forget();
  await tell();
}

const started = work().catch(() => {}); // a phone without room has nothing to tell of
document.addEventListener("noted", () => started.then(tell).catch(() => {}));
