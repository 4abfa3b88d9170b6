/*
 * The check sheets on this phone: start one, go on with one, see what is not sent yet.
 *
 * The page opens without a connection. Which sheet and step is shown stands after the # of
 * the address.
 */

import { begun, onAnotherNet } from "./check_content.js";
import { element, saidOf } from "./check_findings.js";
import { HeadForm } from "./check_head.js";
import { asHeld, blank, hasParted, isDone, isRefused, isUnsent, SheetSender, sheetsOf } from "./check_outbox.js";
import { SheetView } from "./check_sheet.js";
import { locateAll } from "./locate.js";
import { shortDay } from "./moments.js";
import { _, ngettext } from "./say.js";

const AGAIN = 600000; // milliseconds until what waits for a day is looked at again

function stateOf(sheet) {
  if (sheet.thrown) return _("thrown away, not sent yet");
  if (isRefused(sheet)) return _("not taken by the site: open it to fix it");
  if (isDone(sheet)) return _("turned in, the site has it");
  if (isUnsent(sheet)) return sheet.handsIn ? _("turned in, not sent yet") : _("not turned in yet, not sent yet");
  return sheet.handsIn ? _("turned in, sent") : _("not turned in yet, sent");
}

class CheckPhone {
  constructor(root) {
    this.root = root;
    this.rules = JSON.parse(document.getElementById("check-rules").textContent);
    this.rules.page = root.dataset.page;
    this.sheets = sheetsOf(this.rules.user);
    const { send, sheets, thrown } = root.dataset;
    this.sender = new SheetSender(this.sheets, { send, sheets, thrown }, () => this.refresh());
    this.start = root.querySelector("[data-start]");
    this.head = new HeadForm(this.start, this.rules);
    this.key = crypto.randomUUID();
    const ways = { go: (step) => this.go(step), home: () => this.home() };
    this.sheet = new SheetView(root, this.rules, this.sender, ways);
    this.start.addEventListener("submit", (event) => {
      event.preventDefault();
      this.begin();
    });
    root.querySelector("[data-another]").addEventListener("click", () => this.another());
    root.querySelector("[data-load-newer]").addEventListener("click", () => this.loadNewer());
    window.addEventListener("hashchange", () => this.show(true));
    navigator.serviceWorker?.addEventListener("message", ({ data }) => data.page === window.location.pathname && this.newer(data.version));
    setInterval(() => this.sender.send(), AGAIN);
    this.head.reset();
  }

  async run() {
    await this.sender.tidy();
    await this.show(false);
    await this.sender.send();
  }

  go(step) {
    window.location.hash = `${this.sheet.sheet.key}/${step}`;
  }

  home() {
    window.location.hash = "";
    this.sender.send();
  }

  // A newer page

  /** The phone keeps the version `version` of this page now: offer it, but load nothing unasked. */
  newer(version) {
    this.root.querySelector("[data-newer]").hidden = !version || version === this.rules.page;
  }

  async loadNewer() {
    if (this.sheet.sheet && !(await this.sheet.saveAll())) return;
    window.location.reload();
  }

  // What is shown

  /** Show what the address asks for; move the focus there if it was come to from here. */
  async show(moved) {
    const [key, step] = window.location.hash.slice(1).split("/");
    const sheet = key && ((await this.sheets.get(key)) ?? (await this.fetch(key)));
    const isShown = Boolean(sheet) && !sheet.thrown;
    this.root.querySelector("[data-view=home]").hidden = isShown;
    this.root.querySelector("[data-view=sheet]").hidden = !isShown;
    if (isShown) {
      this.sheet.show(sheet, step);
      if (moved) this.sheet.focus();
    } else {
      this.tell(key && !sheet ? _("That sheet is not on this phone. Try again when you have signal.") : "");
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

  // A new sheet

  async begin() {
    const first = this.head.showProblems(this.head.check());
    if (first) {
      first.focus();
      return;
    }
    // A second tap finds the same key, and so makes no second sheet.
    const { key } = this;
    const isSaved = await this.write(key, begun(this.head.told));
    this.root.querySelector("[data-start-error]").hidden = isSaved;
    if (!isSaved || key !== this.key) return;
    window.location.hash = key;
    this.head.reset();
    this.key = crypto.randomUUID();
    this.sender.send();
  }

  /** Write down a new sheet `key` that holds `content`; return whether it is on the phone. */
  async write(key, content) {
    try {
      const said = saidOf(content, this.rules);
      if (!(await this.sheets.get(key))) await this.sheets.put(key, { ...blank(content), said });
      return true;
    } catch (error) {
      if (!(error instanceof DOMException)) throw error;
      return false;
    }
  }

  /** Check another net on the vessel whose sheet is shown. */
  async another() {
    if (!(await this.sheet.saveAll())) return;
    const key = crypto.randomUUID();
    const isSaved = await this.write(key, onAnotherNet(this.sheet.sheet.content));
    this.root.querySelector("[data-another-error]").hidden = isSaved;
    if (isSaved) window.location.hash = `${key}/head`;
  }

  // The list

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
    if (shown && isOpen && !this.sheet.failed.size) this.sheet.show(shown, this.sheet.step.slug);
  }

  item(sheet) {
    const item = document.createElement("li");
    const { vessel_name: vessel, head, day } = sheet.content;
    const title = [vessel, head?.net, shortDay(day)].filter(Boolean).join(", ");
    const link = sheet.thrown ? element("span", title) : element("a", title);
    // What parts from the site is read here first.
    if (!sheet.thrown) link.href = isDone(sheet) && !hasParted(sheet) ? sheet.address : `#${sheet.key}`;
    const state = element("span", [stateOf(sheet), sheet.problem].filter(Boolean).join(". "));
    item.append(link, " ", state);
    if (hasParted(sheet)) item.append(element("p", sheet.parted.words, "notice notice-bad"));
    return item;
  }
}

const root = document.querySelector("[data-check]");
// Kept for good if the phone agrees, so that it does not clear them away when space is short.
navigator.storage?.persist?.();
new CheckPhone(root).run();
locateAll();
