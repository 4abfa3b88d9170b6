/*
 * Puts down on the device what is typed into a form, until the site says that it has it.
 *
 * Each thing that is filled in has its own entry, so that nothing is mixed up. If handing in
 * fails, the page stays as it is and says so: it never looks as if it were saved when it is not.
 * A page that shows what was handed in confirms it: by `data-handed-in`, or by the draft's name as
 * `saved` in its address, to which the site leads on once it has taken the form in.
 */

import { CHANGES, putBack, valuesOf } from "./form_values.js";
import { madeUp, Outbox, person } from "./outbox.js";
import { _ } from "./say.js";
import { NotNow, post, SignedOut } from "./sending.js";

const outbox = new Outbox(person(), "draft");

const OK = 200;

/** Return in words why handing in did not get through: `status` is the site's, 0 for no answer. */
function trouble({ isSaved, isOnDevice, status }) {
  const still = isOnDevice
    ? _("Your answer is still here, and saved on this device.")
    : _("Your answer is still here, but not saved on this device.");
  const typed = isOnDevice
    ? _("What you typed is still here, and saved on this device.")
    : _("What you typed is still here, but not saved on this device.");
  if (isSaved) {
    return status
      ? _("Not saved: the site answered with an error (%(status)s). %(typed)s Load this page again, then save it.", { status, typed })
      : _("Not saved: no connection. %(typed)s Try again when you have signal.", { typed });
  }
  return status
    ? _("Not turned in: the site answered with an error (%(status)s). %(still)s Load this page again, then turn it in.", { status, still })
    : _("Not turned in: no connection. %(still)s Try again when you have signal.", { still });
}

class Draft {
  constructor(form) {
    this.form = form;
    this.key = form.dataset.draft;
    this.told = form.querySelector("[data-draft-told]");
    this.trouble = form.querySelector("[data-draft-trouble]");
    this.name = form.elements.draft; // where the site is to be told its name
    this.made = form.elements.key; // the key that the database holds unique
    if (this.name) this.name.value = madeUp();
    this.touched = new Set();
    for (const event of CHANGES) form.addEventListener(event, ({ target }) => this.changed(target));
    form.addEventListener("submit", (event) => this.submitted(event));
    form.querySelector("[data-draft-drop]")?.addEventListener("click", (event) => this.drop(event));
    if (!("typed" in form.dataset)) this.restore();
  }

  async restore() {
    const entry = await outbox.get(this.key).catch(() => undefined);
    if (!entry) return;
    if (this.name) this.name.value = entry.name;
    // Perhaps the site has it and its reply was lost: under the same key it stays one.
    if (this.made) this.made.value = entry.made;
    putBack(this.form, entry.values, this.touched);
    this.told.hidden = false;
  }

  changed(field) {
    this.touched.add(field.name);
    this.write();
  }

  /** Write the form down; return whether it is on the device now. */
  async write() {
    const told = { values: valuesOf(this.form), name: this.name?.value, made: this.made?.value };
    const isOnDevice = await outbox.put(this.key, told).then(() => true, () => false);
    this.told.hidden = !isOnDevice;
    return isOnDevice;
  }

  async submitted(event) {
    event.preventDefault();
    const button = this.form.querySelector("[type=submit]");
    if (button.disabled) return;
    button.disabled = true;
    this.trouble.hidden = true;
    const isOnDevice = await this.write();
    const status = await this.handIn();
    // Once it got through it is sent again, the plain way, to see the page that follows:
    // the marks, what must be mended, or the way to sign in. The site takes both as one.
    if (status === OK) this.form.submit();
    else this.tell(trouble({ isSaved: Boolean(this.name), isOnDevice, status }));
    button.disabled = false;
  }

  /** Hand in; return OK, or the status of the site's error, 0 if there was no answer. */
  async handIn() {
    try {
      const response = await post(this.form.action, new FormData(this.form));
      return response.ok ? OK : response.status;
    } catch (error) {
      if (error instanceof NotNow) return error.status;
      if (error instanceof SignedOut) return error.status || OK;
      throw error;
    }
  }

  tell(words) {
    this.trouble.textContent = words;
    this.trouble.hidden = false;
    this.trouble.scrollIntoView({ block: "center" });
  }

  async drop(event) {
    event.preventDefault();
    await outbox.forget(this.key).catch(() => {});
    window.location.assign(event.target.href);
  }
}

/** Forget what this page confirms. */
async function confirmed() {
  for (const done of document.querySelectorAll("[data-handed-in]")) await outbox.forget(done.dataset.handedIn);
  const address = new URL(window.location.href);
  const saved = address.searchParams.get("saved");
  if (!saved) return;
  for (const { key } of await outbox.all()) await outbox.forget(key, ({ name }) => name === saved);
  address.searchParams.delete("saved");
  window.history.replaceState(null, "", address);
}

for (const form of document.querySelectorAll("form[data-draft]")) new Draft(form);
confirmed().catch(() => {}); // a device without room for drafts has none to forget
