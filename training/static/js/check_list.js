/* Says on the list of check sheets how many on this phone the site does not have yet. */

import { isUnsent, sheetsOf } from "./check_outbox.js";

const place = document.querySelector("[data-on-this-phone]");
const count = (await sheetsOf(Number(place.dataset.onThisPhone)).all()).filter(isUnsent).length;
place.querySelector("[data-count]").textContent =
  count === 1 ? "1 sheet on this phone is not sent yet." : `${count} sheets on this phone are not sent yet.`;
place.hidden = !count;
