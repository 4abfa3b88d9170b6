/*
 * Leaves nothing of one person's check sheets at hand for the next on the same phone.
 *
 * On signing out, and when somebody else has signed in since. What was not sent yet stays,
 * out of sight, until its writer signs in again.
 */

import { forgetPage, leave } from "./check_store.js";

const HOLDER = "check sheet holder";

function own() {
  return Number(document.querySelector("script[data-person]").dataset.person);
}

async function arrive() {
  const before = localStorage.getItem(HOLDER);
  localStorage.setItem(HOLDER, own());
  if (before !== null && Number(before) !== own()) await forgetPage();
}

async function signOut(form) {
  try {
    await leave(own());
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
