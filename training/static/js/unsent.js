/* What of one person is on this device and not on the site, in words. */

import { isUnsent, sheetsOf } from "./check_outbox.js";
import { shortDay } from "./moments.js";
import { waitingOf } from "./noted.js";
import { Outbox } from "./outbox.js";
import { COUNTS } from "./outbox_words.js";
import { _ } from "./say.js";

/** Return in words, one for each, what of `owner` is on this device and not on the site. */
export async function unsentOf(owner) {
  const sheets = (await sheetsOf(owner).all()).filter(isUnsent);
  const noted = await waitingOf(owner);
  const answers = (await new Outbox(owner, "exam answer").all()).length;
  const forms = (await new Outbox(owner, "draft").all()).length;
  return [
    ...noted.map(({ label }) => label),
    ...sheets.map(({ content }) => _("Check sheet: %(vessel)s, %(day)s", { vessel: content.vessel_name, day: shortDay(content.day) })),
    ...(answers ? [COUNTS["exam answer"](answers)] : []),
    ...(forms ? [COUNTS.draft(forms)] : []),
  ];
}
