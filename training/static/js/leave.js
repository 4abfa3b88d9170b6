/*
 * Leaves nothing of one person at hand for the next on the same phone, once they sign out.
 *
 * What was not sent yet stays, out of sight, until its writer signs in again: before signing out
 * that is said. Without signal the worker of the site tells it of the sign-out later.
 */

import { leave } from "./check_outbox.js";
import { made } from "./elements.js";
import { person } from "./outbox.js";
import { _ } from "./say.js";
import { unsentOf } from "./unsent.js";

/** Ask whether to sign out with `items` not sent; return the answer. */
function asked(items) {
  const dialog = made("dialog", "", "leave stack");
  const title = made("h2", _("Not sent to the site yet"));
  title.id = "leave-title";
  dialog.setAttribute("aria-labelledby", title.id);
  const list = document.createElement("ul");
  list.append(...items.map((words) => made("li", words)));
  const kept = made("p", _("If you sign out, this stays on this device. It is sent after you sign in here again."));
  const stay = made("button", _("Stay signed in"), "button");
  const go = made("button", _("Sign out, keep it here"), "button button-quiet");
  const ways = made("p", "", "toolbar");
  ways.append(stay, go);
  dialog.append(title, list, kept, ways);
  document.body.append(dialog);
  return new Promise((resolve) => {
    stay.addEventListener("click", () => dialog.close());
    go.addEventListener("click", () => dialog.close("go"));
    dialog.addEventListener("close", () => {
      dialog.remove();
      resolve(dialog.returnValue === "go");
    });
    dialog.showModal();
  });
}

async function signOut(form) {
  // A device that cannot say what it keeps keeps nobody from signing out.
  const items = await unsentOf(person()).catch(() => []);
  if (items.length && !(await asked(items))) return;
  try {
    await leave(person());
  } finally {
    form.submit();
  }
}

for (const form of document.querySelectorAll("form[data-sign-out]")) {
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    signOut(form);
  });
}
