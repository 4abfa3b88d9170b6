/*
 * Leaves nothing of one person's check sheets at hand for the next on the same phone.
 *
 * On signing out, and when somebody else has signed in since. What was not sent yet stays,
 * out of sight, until its writer signs in again.
 */

import { forgetPage, leave } from "./check_outbox.js";
import { person } from "./outbox.js";

const HOLDER = "check sheet holder";

async function arrive() {
  const before = localStorage.getItem(HOLDER);
  localStorage.setItem(HOLDER, person());
  if (before !== null && Number(before) !== person()) await forgetPage();
}

async function signOut(form) {
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
