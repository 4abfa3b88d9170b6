/*
 * Says on the list of check sheets what of those on this phone the site does not have yet, and
 * where the site finds otherwise than the phone.
 */

import { element } from "./check_findings.js";
import { hasParted, isRefused, isUnsent, sheetsOf } from "./check_outbox.js";
import { _, ngettext } from "./say.js";

const place = document.querySelector("[data-on-this-phone]");
const sheets = await sheetsOf(Number(place.dataset.onThisPhone)).all();
const count = sheets.filter(isUnsent).length;
place.querySelector("[data-count]").textContent = count
  ? ngettext("%(count)s sheet on this phone is not sent yet.", "%(count)s sheets on this phone are not sent yet.", count)
  : _("All sheets on this phone are sent.");
const against = sheets.filter((sheet) => hasParted(sheet) || isRefused(sheet));
for (const sheet of against) {
  const words = hasParted(sheet) ? sheet.parted.words : sheet.problem;
  place.after(element("p", `${sheet.content.vessel_name}: ${words}`, "notice notice-bad"));
}
place.hidden = !count && !against.length;
