/*
 * Puts down on the device what is typed into a form, until the site says that it has it.
 *
 * Each thing that is filled in has its own entry, so that nothing is mixed up. If handing in
 * fails, the page stays as it is and says so: it never looks as if it were saved when it is not.
 * A page that shows what was handed in confirms it: by `data-handed-in`, or by the draft's name as
 * `saved` in its address, to which the site leads on once it has taken the form in.
 *
 * A form with `data-noted`, what it is in words (%(field)s is what is typed there), that does not
 * reach the site is noted: it waits on the phone and is sent by itself. `data-noted-next` is where
 * one goes on, and with `data-noted-new` the form makes something new: then the next can be typed.
 */

import { CHANGES, putBack, shownIn, valuesOf } from "./form_values.js";
import { handIn, isOutOfReach, OK, SHORT_PATIENCE } from "./handing_in.js";
import { shortDay, today } from "./moments.js";
import { holdBack, note, sendAll, waitingOf } from "./noted.js";
import { madeUp, Outbox, person } from "./outbox.js";
import { _ } from "./say.js";
import { PATIENCE } from "./sending.js";

const outbox = new Outbox(person(), "draft");

const PAGES_OWN = ["draft", "key", "seen", "arrival"]; // hidden, and part of what is noted

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

/** Return in words that a form waits on this phone, and for what. */
function waits(status) {
  return status
    ? _("Saved on this phone, not sent yet: the site answered with an error (%(status)s). It is sent when the site works again.", { status })
    : _("Saved on this phone. It is sent when there is signal.");
}

class Draft {
  constructor(form) {
    this.form = form;
    this.key = form.dataset.draft;
    this.told = form.querySelector("[data-draft-told]");
    this.trouble = form.querySelector("[data-draft-trouble]");
    this.name = form.elements.draft; // where the site is to be told its name
    this.made = form.elements.key; // the key that the database holds unique
    this.seen = form.elements.seen; // how the row stood that the form changes
    this.label = form.dataset.noted;
    this.makesNew = "notedNew" in form.dataset;
    this.entry = null; // what waits to be sent, and is changed here
    this.touched = new Set();
    for (const event of CHANGES) form.addEventListener(event, ({ target }) => this.changed(target));
    form.addEventListener("submit", (event) => this.submitted(event));
    form.querySelector("[data-draft-drop]")?.addEventListener("click", (event) => this.drop(event));
    document.addEventListener("arrived", ({ detail }) => this.arrived(detail));
    this.begin();
    this.restored = "typed" in form.dataset ? Promise.resolve() : this.restore();
  }

  get address() {
    return new URL(this.form.action).pathname;
  }

  /** Give what is filled in a name and a key of its own: a page kept on the phone has the old ones. */
  begin() {
    if (this.name) this.name.value = madeUp();
    if (!this.makesNew || "typed" in this.form.dataset) return;
    this.made.value = madeUp();
    // The day that the site put there is that on which the page was kept.
    const { day } = this.form.elements;
    if ("keptAt" in document.documentElement.dataset && day?.defaultValue) day.value = today();
  }

  async restore() {
    if (this.label !== undefined) await this.takeUp().catch(() => {});
    const entry = await outbox.get(this.key).catch(() => undefined);
    if (!entry) return;
    if (this.name) this.name.value = entry.name;
    // Perhaps the site has it and its reply was lost: under the same key it stays one.
    if (this.made) this.made.value = entry.made;
    if (this.seen && entry.seen) this.seen.value = entry.seen;
    putBack(this.form, entry.values, this.touched);
    this.told.hidden = false;
  }

  /** Take up what was noted of this form and waits, so that it is changed and not noted twice. */
  async takeUp() {
    const chosen = new URLSearchParams(window.location.hash.slice(1)).get("noted");
    const isMeant = ({ key, address }) => address === this.address && (key === chosen || !this.makesNew);
    const found = (await waitingOf(person())).find(isMeant);
    if (!found) return;
    this.release = await holdBack(found);
    // It may have been on its way just now.
    const entry = (await waitingOf(person())).find(({ key }) => key === found.key);
    if (!entry) {
      this.release();
      return;
    }
    this.entry = entry;
    this.key = `${this.key} noted ${entry.key}`;
    for (const [name, value] of entry.values) {
      if (PAGES_OWN.includes(name) && this.form.elements[name]) this.form.elements[name].value = value;
    }
    putBack(this.form, entry.values, this.touched);
    this.say(_("This is saved on this phone, and not sent yet. Save it again after you change it."));
  }

  changed(field) {
    this.touched.add(field.name);
    this.write();
  }

  /** Write the form down; return whether it is on the device now. */
  async write() {
    const told = { values: valuesOf(this.form), name: this.name?.value, made: this.made?.value, seen: this.seen?.value };
    const isOnDevice = await outbox.put(this.key, told).then(() => true, () => false);
    this.told.hidden = !isOnDevice;
    return isOnDevice;
  }

  async submitted(event) {
    event.preventDefault();
    const button = this.form.querySelector("[type=submit]");
    if (button.disabled) return;
    button.disabled = true;
    this.carry(event.submitter);
    this.trouble.hidden = true;
    const isOnDevice = await this.write();
    // What waits already has its turn: it is changed where it waits.
    const status = this.entry ? 0 : await handIn(this.form, this.label === undefined ? PATIENCE : SHORT_PATIENCE);
    // Once it got through it is sent again, the plain way, to see the page that follows:
    // the marks, what must be mended, or the way to sign in. The site takes both as one.
    if (status === OK) this.form.submit();
    else if (!(await this.note(status))) this.tell(trouble({ isSaved: Boolean(this.name), isOnDevice, status }));
    button.disabled = false;
  }

  /** Have the form say which button was pressed, as it does when the browser sends it. */
  carry(pressed) {
    this.pressed?.remove();
    if (!pressed?.name) return;
    this.pressed = document.createElement("input");
    Object.assign(this.pressed, { type: "hidden", name: pressed.name, value: pressed.value });
    this.form.append(this.pressed);
  }

  // What is noted

  /** Note the form if it is one to be, and the site cannot be reached; return whether it is noted. */
  async note(status) {
    if (this.label === undefined || !isOutOfReach(status)) return false;
    const values = [...new FormData(this.form)].filter(([name]) => name !== "csrfmiddlewaretoken");
    const told = { address: this.address, values, label: this.labelled(), page: window.location.pathname };
    const entry = await note(person(), { ...told, shown: shownIn(this.form), before: this.entry }).catch(() => null);
    if (!entry) return false;
    await outbox.forget(this.key).catch(() => {});
    this.told.hidden = true;
    this.release?.();
    this.release = null;
    this.lastNoted = entry.key;
    // What was taken up to be changed stays: one waits to see what comes of it.
    if (this.makesNew && !this.entry) this.startAnew();
    else this.entry = entry;
    this.touched.clear();
    this.say(waits(status), this.form.dataset.notedNext);
    sendAll();
    return true;
  }

  labelled() {
    return this.label.replace(/%\((\w+)\)s/g, (_all, name) => {
      const { type, value = "" } = this.form.elements[name] ?? {};
      return type === "date" && value ? shortDay(value) : value;
    });
  }

  startAnew() {
    this.form.reset();
    this.begin();
    this.form.dispatchEvent(new Event("restored"));
  }

  /** What waited here has arrived: go on to what came of it, unless something is typed since. */
  arrived({ entry, said }) {
    if (entry.key === this.lastNoted && this.saved) this.saved.hidden = true; // it no longer waits
    if (entry.key !== this.entry?.key) return;
    this.entry = null;
    if (this.touched.size) return;
    window.location.assign(said.outcome === "taken" ? said.where : said.page);
  }

  /** Say `words` above the buttons, with the way on to `next`. */
  say(words, next = "") {
    this.saved ??= this.trouble.parentElement.insertBefore(document.createElement("p"), this.trouble);
    this.saved.className = "notice notice-good";
    this.saved.setAttribute("role", "status");
    this.saved.textContent = words;
    this.saved.hidden = false;
    if (next) {
      const way = document.createElement("a");
      way.href = next;
      way.textContent = _("Go on");
      this.saved.append(" ", way);
    }
    this.saved.scrollIntoView({ block: "center" });
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

const drafts = [...document.querySelectorAll("form[data-draft]")].map((form) => new Draft(form));
Promise.allSettled(drafts.map((each) => each.restored)).then(() => {
  document.documentElement.dataset.draftsUp = "";
  document.dispatchEvent(new Event("drafts"));
});
confirmed().catch(() => {}); // a device without room for drafts has none to forget
