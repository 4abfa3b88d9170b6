/* Shows on a page what of one person is saved on this phone and not sent yet. */

import { unsentOf } from "./unsent.js";

/** Show what of `owner` is not sent, in the slot that the page has for it. */
export async function showUnsent(owner) {
  const items = owner ? await unsentOf(owner).catch(() => []) : [];
  const list = document.querySelector("[data-unsent-list]");
  list.replaceChildren(
    ...items.map((words) => {
      const item = document.createElement("li");
      item.textContent = words;
      return item;
    }),
  );
  document.querySelector("[data-unsent]").hidden = !items.length;
}
