/*
 * Says on this phone that the account of one who used it was deleted, and what of theirs waits here.
 *
 * It can be sent by nobody any more, and goes only by a tap: never by itself.
 */

import { made } from "./elements.js";
import { Outbox } from "./outbox.js";
import { COUNTS } from "./outbox_words.js";
import { _ } from "./say.js";
import { ask, isAble } from "./sea_ask.js";
import { forgetUnread } from "./unread.js";

/** Remove all that waits here of `owner`. */
async function remove(owner) {
  for (const kind of Object.keys(COUNTS)) {
    const outbox = new Outbox(owner, kind);
    for (const { key } of await outbox.all()) await outbox.forget(key);
  }
  await ask({ ask: "forgetGone", person: owner });
}

async function tell(owner) {
  const counts = await Promise.all(Object.keys(COUNTS).map(async (kind) => [kind, (await new Outbox(owner, kind).all()).length]));
  const waiting = counts.filter(([, count]) => count);
  const notice = made("section", "", "notice notice-bad stack");
  notice.setAttribute("role", "status");
  notice.dataset.gone = "";
  notice.append(made("p", _("An account that was used on this phone was deleted. Its pages are gone from this phone.")));
  const button = made("button", waiting.length ? _("Remove it from this phone") : _("I have seen it"), "button button-quiet");
  button.type = "button";
  button.addEventListener("click", async () => {
    await remove(owner);
    notice.remove();
  });
  if (waiting.length) {
    const list = document.createElement("ul");
    list.append(...waiting.map(([kind, count]) => made("li", COUNTS[kind](count))));
    notice.append(made("p", _("This was not sent, and cannot be sent any more:")), list);
  }
  notice.append(button);
  document.getElementById("content").prepend(notice);
}

async function show() {
  if (!(await navigator.serviceWorker.getRegistration("/"))) return;
  for (const owner of await ask({ ask: "gone" })) await tell(owner);
}

forgetUnread();
if (isAble()) show();
