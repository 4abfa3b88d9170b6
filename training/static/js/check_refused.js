/*
 * What the site says against a sheet: that it refuses it, or finds otherwise than this phone.
 *
 * A refused sheet is open again: mended it is sent as a new save, or it is thrown away with a
 * reason, which the site is told. Words on a parting stay until their reader has seen them.
 */

import { element } from "./check_findings.js";
import { hasParted, isRefused } from "./check_outbox.js";
import { stamp } from "./moments.js";
import { _ } from "./say.js";

export class RefusedView {
  /** `sheet` is the SheetView; `left()` is called once a sheet was thrown away. */
  constructor(root, sheet, left) {
    Object.assign(this, { root, sheet, left });
    this.reason = root.querySelector("#throw-reason");
    this.part("seen").addEventListener("click", () => this.seen());
    this.part("again").addEventListener("click", () => this.again());
    this.part("throw").addEventListener("click", () => this.throwAway());
  }

  part(name) {
    return this.root.querySelector(`[data-${name}]`);
  }

  async seen() {
    await this.sheet.note((sheet) => {
      sheet.parted.seen = true;
    });
    this.sheet.focus();
  }

  /** Send the sheet as it is, turned in if it was to be. */
  async again() {
    await this.sheet.note((sheet) => {
      sheet.refused = 0;
    });
    await this.sheet.sender.send();
  }

  async throwAway() {
    const reason = this.reason.value.trim();
    const told = this.part("throw-error");
    told.textContent = _("Say why you throw it away.");
    told.hidden = Boolean(reason);
    if (!reason) {
      this.reason.focus();
      return;
    }
    const isSaved = await this.sheet.note((sheet) => {
      sheet.thrown = { reason, at: stamp() };
      sheet.problem = "";
    });
    if (!isSaved) {
      [told.textContent, told.hidden] = [_("Not saved: this phone has no room left."), false];
      return;
    }
    this.reason.value = "";
    this.left();
  }

  /** `places` are [words, address] of the fields that the site named. */
  fill(sheet, places) {
    const isBack = isRefused(sheet);
    this.part("parted").hidden = !hasParted(sheet);
    this.part("parted-words").textContent = sheet.parted?.words ?? "";
    this.part("refused").hidden = !isBack;
    if (!isBack) return;
    const waits = sheet.again ? _("It is sent again by itself when that day has come.") : "";
    this.part("refused-words").textContent = [sheet.problem, waits].filter(Boolean).join(" ");
    const items = places.map(([words, address]) => {
      const item = element("li", "");
      const link = element("a", words, "check-way");
      link.href = address;
      item.append(link);
      return item;
    });
    this.part("refused-places").replaceChildren(...items);
  }
}
