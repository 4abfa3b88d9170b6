/*
 * Registers the worker that opens the site without signal, and says when a page came from the phone.
 *
 * Such a page says since when it is there: the worker writes it into the page.
 */

import { clock, shortDay, today } from "./moments.js";
import { person } from "./outbox.js";
import { _ } from "./say.js";
import { ask, isAble } from "./sea_ask.js";

const BEFORE = "check sheet page"; // what the worker of check sheets alone kept

const { keptAt, worker } = document.documentElement.dataset;

function tell() {
  const moment = new Date(keptAt);
  const words = document.createElement("p");
  words.className = "notice";
  words.dataset.fromPhone = "";
  words.textContent = _("From this phone, as of %(day)s, %(time)s It may have changed since.", {
    day: shortDay(today(moment)),
    time: clock(moment),
  });
  document.getElementById("content").prepend(words);
}

/** Unregister the worker that once was of check sheets alone: it would go before that of the site. */
async function retire() {
  for (const each of await navigator.serviceWorker.getRegistrations()) {
    if (new URL(each.scope).pathname.endsWith("/checks/")) await each.unregister();
  }
  await caches.delete(BEFORE);
}

async function register() {
  await retire();
  await navigator.serviceWorker.register(worker, { updateViaCache: "none" });
  if (keptAt) return;
  await ask({ ask: "here", person: person() });
  const opened = document.querySelector("[data-keep-opened]");
  if (!opened) return;
  const part = { what: opened.dataset.keepOpened, title: document.querySelector("h1").textContent, address: window.location.pathname };
  await ask({ ask: "keepOpened", person: person(), part });
}

// A page with a way of its own to say that there is a newer one says it itself.
if (keptAt && !document.querySelector("[data-newer]")) tell();
if (worker && isAble()) {
  const start = () => register().catch(() => {}); // a browser that forbids it keeps nothing
  // The page comes first: what is brought behind it waits.
  if (document.readyState === "complete") start();
  else window.addEventListener("load", start);
}
