/*
 * Keeps a half-done answer on the device until the site says that it is handed in.
 *
 * Each task has its own entry, so that nothing is mixed up. If handing in fails, the
 * page stays as it is and says so: it never looks as if it were saved when it is not.
 */

const NAME = "answer to task ";

function store(action) {
  // Storage may be full or forbidden; then there is nothing kept, and nothing breaks.
  try {
    return action(window.localStorage);
  } catch {
    return null;
  }
}

function own(form) {
  return [...form.elements].filter((each) => each.name && each.type !== "hidden");
}

function ticks(field) {
  return field.type === "checkbox" || field.type === "radio";
}

function write(form, key) {
  const values = own(form)
    .filter((field) => !ticks(field) || field.checked)
    .map((field) => [field.name, field.value]);
  const kept = store((storage) => {
    storage.setItem(key, JSON.stringify(values));
    return true;
  });
  form.querySelector("[data-keep-told]").hidden = !kept;
}

function restore(form, key) {
  const values = store((storage) => JSON.parse(storage.getItem(key)));
  if (!Array.isArray(values)) return;
  for (const field of own(form)) {
    const given = values.filter(([name]) => name === field.name).map(([, value]) => value);
    if (ticks(field)) field.checked = given.includes(field.value);
    else if (given.length) field.value = given[0];
  }
  form.querySelector("[data-keep-told]").hidden = false;
  form.dispatchEvent(new Event("restored"));
}

function tell(form, words) {
  const trouble = form.querySelector("[data-keep-trouble]");
  trouble.textContent = words;
  trouble.hidden = false;
  trouble.scrollIntoView({ block: "center" });
}

const KEPT = "Your answer is still here, and saved on this device.";

async function handIn(form) {
  const button = form.querySelector("[type=submit]");
  button.disabled = true;
  form.querySelector("[data-keep-trouble]").hidden = true;
  try {
    const sent = { method: "POST", body: new FormData(form), redirect: "manual" };
    const answer = await fetch(form.action, sent);
    // Once it got through it is sent again, the plain way, to see the page that follows:
    // the marks, what must be mended, or the way to sign in. The site takes both as one.
    if (answer.ok || answer.type === "opaqueredirect") form.submit();
    else tell(form, `Not turned in: the site answered with an error (${answer.status}). ${KEPT} Load this page again, then turn it in.`);
  } catch {
    tell(form, `Not turned in: no connection. ${KEPT} Try again when you have signal.`);
  }
  button.disabled = false;
}

for (const form of document.querySelectorAll("form[data-keep]")) {
  const key = NAME + form.dataset.keep;
  if (!("typed" in form.dataset)) restore(form, key);
  for (const name of ["input", "change", "board"]) form.addEventListener(name, () => write(form, key));
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    write(form, key);
    handIn(form);
  });
}

for (const done of document.querySelectorAll("[data-handed-in]")) {
  store((storage) => storage.removeItem(NAME + done.dataset.handedIn));
}
