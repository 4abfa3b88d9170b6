/*
 * The check sheets on this phone: start one, go on with one, see what is not sent yet.
 *
 * The page opens without a connection. Which sheet and step is shown stands after the # of
 * the address.
 */

import { asHeld, blank, isDone, isUnsent, SheetSender, sheetsOf } from "./check_outbox.js";
import { SheetView } from "./check_sheet.js";
import { shortDay } from "./moments.js";
import { _, ngettext } from "./say.js";

function today() {
  const now = new Date();
  const two = (number) => String(number).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

function stateOf(sheet) {
  if (isDone(sheet)) return _("turned in, the site has it");
  if (isUnsent(sheet)) return sheet.handsIn ? _("turned in, not sent yet") : _("not turned in yet, not sent yet");
  return sheet.handsIn ? _("turned in, sent") : _("not turned in yet, sent");
}

class CheckPhone {
  constructor(root) {
    this.root = root;
    this.rules = JSON.parse(document.getElementById("check-rules").textContent);
    this.sheets = sheetsOf(this.rules.user);
    const addresses = { send: root.dataset.send, sheets: root.dataset.sheets };
    this.sender = new SheetSender(this.sheets, addresses, () => this.refresh());
    this.start = root.querySelector("[data-start]");
    this.key = crypto.randomUUID();
    this.sheet = new SheetView(root, this.rules, this.sender, (step) => this.go(step));
    this.start.addEventListener("submit", (event) => {
      event.preventDefault();
      this.begin();
    });
    window.addEventListener("hashchange", () => this.show(true));
  }

  async run() {
    await this.sender.tidy();
    await this.show(false);
    await this.sender.send();
  }

  go(step) {
    window.location.hash = `${this.sheet.sheet.key}/${step}`;
  }

  /** Show what the address asks for; move the focus there if it was come to from here. */
  async show(moved) {
    const [key, step] = window.location.hash.slice(1).split("/");
    const sheet = key && ((await this.sheets.get(key)) ?? (await this.fetch(key)));
    this.root.querySelector("[data-view=home]").hidden = Boolean(sheet);
    this.root.querySelector("[data-view=sheet]").hidden = !sheet;
    if (sheet) {
      this.sheet.show(sheet, step);
      if (moved) this.sheet.focus();
    } else {
      this.tell(key ? _("That sheet is not on this phone. Try again when you have signal.") : "");
      this.start.elements.day.value ||= today();
      this.start.elements.day.max = today();
      if (moved) this.root.querySelector("[data-view=home] h1").focus();
    }
    await this.refresh();
  }

  tell(words) {
    const told = this.root.querySelector("[data-told]");
    told.textContent = words;
    told.hidden = !words;
  }

  /** Bring a sheet that was begun elsewhere to this phone; null if it cannot be. */
  async fetch(key) {
    const held = await this.sender.fetchHeld(key);
    return held && this.sheets.put(held.key, asHeld(held));
  }

  async begin() {
    if (!this.start.reportValidity()) return;
    const told = Object.fromEntries(new FormData(this.start));
    // A second tap finds the same key, and so makes no second sheet.
    const { key } = this;
    if (!(await this.sheets.get(key))) {
      await this.sheets.put(key, blank({ ...told, typed: {}, notes: "", photo_keys: [] }));
    }
    window.location.hash = key;
    this.start.reset();
    this.key = crypto.randomUUID();
    this.sender.send();
  }

  /** Show anew what is kept and what is sent. */
  async refresh() {
    const sheets = await this.sheets.all();
    const unsent = sheets.filter(isUnsent).length;
    this.root.querySelector("[data-kept]").hidden = !sheets.length;
    this.root.querySelector("[data-unsent]").textContent = unsent
      ? ngettext("%(count)s sheet not sent yet.", "%(count)s sheets not sent yet.", unsent)
      : _("All sheets are sent.");
    this.root.querySelector("[data-list]").replaceChildren(...sheets.map((sheet) => this.item(sheet)));
    this.root.querySelector("[data-signed-out]").hidden = !this.sender.signedOut;
    const shown = sheets.find((sheet) => sheet.key === this.sheet.sheet?.key);
    const isOpen = !this.root.querySelector("[data-view=sheet]").hidden;
    if (shown && isOpen) this.sheet.show(shown, this.sheet.step.slug);
  }

  item(sheet) {
    const item = document.createElement("li");
    const link = document.createElement("a");
    link.href = isDone(sheet) ? sheet.address : `#${sheet.key}`;
    link.textContent = `${sheet.content.vessel_name}, ${shortDay(sheet.content.day)}`;
    const state = document.createElement("span");
    state.textContent = [stateOf(sheet), sheet.problem].filter(Boolean).join(". ");
    item.append(link, " ", state);
    return item;
  }
}

const root = document.querySelector("[data-check]");
// Kept for good if the phone agrees, so that it does not clear them away when space is short.
navigator.storage?.persist?.();
navigator.serviceWorker?.register(root.dataset.worker);
new CheckPhone(root).run();
