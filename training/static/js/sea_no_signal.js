/* The site's page for when it cannot be reached: says why, what opens all the same, and what waits. */

import { ask, isAble } from "./sea_ask.js";
import { showUnsent } from "./sea_unsent.js";
import { keptList } from "./sea_words.js";

const root = document.querySelector("[data-no-signal]");
const why = root.dataset.why || "no answer";
const BETWEEN = 5000; // milliseconds between two looks

async function show() {
  const { person, kept } = await ask({ ask: "list" });
  const named = kept.filter((each) => each.what);
  root.querySelector("[data-along]").hidden = !named.length;
  root.querySelector("[data-none]").hidden = named.length > 0;
  root.querySelector("[data-list]").replaceChildren(...keptList(named));
  await showUnsent(person);
}

/** Look now and then whether the site answers, for a phone may say too early that it has signal. */
function lookAgain() {
  setTimeout(async () => {
    const isSeen = navigator.onLine && !document.hidden;
    const response = isSeen ? await fetch(root.dataset.look, { cache: "no-store" }).catch(() => null) : null;
    if (response?.ok) window.location.reload();
    else lookAgain();
  }, BETWEEN);
}

for (const said of root.querySelectorAll("[data-said]")) said.hidden = said.dataset.said !== why;
root.querySelector("[data-again]").hidden = why === "not sent";
root.querySelector("[data-again]").addEventListener("click", () => window.location.reload());
root.querySelector("[data-back]").addEventListener("click", () => window.history.back());
if (why !== "not sent") window.addEventListener("online", () => window.location.reload());
// Where the site answers with errors, that it answers says nothing.
if (why === "no answer") lookAgain();
if (isAble()) show();
