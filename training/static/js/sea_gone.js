/*
 * Says on this phone that the account of one who used it was deleted, and what of theirs waits here.
 *
 * It can be sent by nobody any more, and goes only by a tap: never by itself.
 */

import { Outbox } from "./outbox.js";
import { _, ngettext } from "./say.js";
import { ask, isAble } from "./sea_ask.js";

const KINDS = {
  noted: (count) => ngettext("%(count)s form filled in without signal", "%(count)s forms filled in without signal", count),
  "check sheet": (count) => ngettext("%(count)s check sheet", "%(count)s check sheets", count),
  "exam answer": (count) => ngettext("%(count)s answer of an exam", "%(count)s answers of an exam", count),
  draft: (count) => ngettext("%(count)s form that is not saved", "%(count)s forms that are not saved", count),
};

function made(name, text, look = "") {
  const element = document.createElement(name);
  element.textContent = text;
  if (look) element.className = look;
  return element;
}

/** Remove all that waits here of `owner`. */
async function remove(owner) {
  for (const kind of Object.keys(KINDS)) {
    const outbox = new Outbox(owner, kind);
    for (const { key } of await outbox.all()) await outbox.forget(key);
  }
  await ask({ ask: "forgetGone", person: owner });
}

async function tell(owner) {
  const counts = await Promise.all(Object.keys(KINDS).map(async (kind) => [kind, (await new Outbox(owner, kind).all()).length]));
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
    list.append(...waiting.map(([kind, count]) => made("li", KINDS[kind](count))));
    notice.append(made("p", _("This was not sent, and cannot be sent any more:")), list);
  }
  notice.append(button);
  document.getElementById("content").prepend(notice);
}

async function show() {
  if (!(await navigator.serviceWorker.getRegistration("/"))) return;
  for (const owner of await ask({ ask: "gone" })) await tell(owner);
}

if (isAble()) show();
