/*
 * Leaves nothing of one person's check sheets at hand for the next on the same phone.
 *
 * On signing out, and when somebody else has signed in since. What was not sent yet stays,
 * out of sight, until its writer signs in again: before signing out that is said.
 */

import { forgetPage, isUnsent, leave, sheetsOf } from "./check_outbox.js";
import { shortDay } from "./moments.js";
import { waitingOf } from "./noted.js";
import { Outbox, person } from "./outbox.js";
import { _, ngettext } from "./say.js";

const HOLDER = "check sheet holder";

async function arrive() {
  const before = localStorage.getItem(HOLDER);
  localStorage.setItem(HOLDER, person());
  if (before !== null && Number(before) !== person()) await forgetPage();
}

/** Return in words, one for each, what of this person is on this device and not on the site. */
async function unsent() {
  const sheets = (await sheetsOf(person()).all()).filter(isUnsent);
  const answers = (await new Outbox(person(), "exam answer").all()).length;
  const forms = (await new Outbox(person(), "draft").all()).length;
  const noted = await waitingOf(person());
  return [
    ...noted.map(({ label }) => label),
    ...sheets.map(({ content }) => _("Check sheet: %(vessel)s, %(day)s", { vessel: content.vessel_name, day: shortDay(content.day) })),
    ...(answers ? [ngettext("%(count)s answer of an exam", "%(count)s answers of an exam", answers)] : []),
    ...(forms ? [ngettext("%(count)s form that is not saved", "%(count)s forms that are not saved", forms)] : []),
  ];
}

function made(name, text, look = "") {
  const element = document.createElement(name);
  element.textContent = text;
  if (look) element.className = look;
  return element;
}

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
  const items = await unsent().catch(() => []);
  if (items.length && !(await asked(items))) return;
  try {
    await leave(person());
  } finally {
    form.submit();
  }
}

arrive();
for (const form of document.querySelectorAll("form[data-sign-out]")) {
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    signOut(form);
  });
}
