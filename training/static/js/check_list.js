/* Says on the list of check sheets how many on this phone the site does not have yet. */

import { isUnsent, sheetsOf } from "./check_outbox.js";
import { ngettext } from "./say.js";

const place = document.querySelector("[data-on-this-phone]");
const count = (await sheetsOf(Number(place.dataset.onThisPhone)).all()).filter(isUnsent).length;
place.querySelector("[data-count]").textContent =
  ngettext("%(count)s sheet on this phone is not sent yet.", "%(count)s sheets on this phone are not sent yet.", count);
place.hidden = !count;
