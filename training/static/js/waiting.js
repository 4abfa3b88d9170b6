/*
 * Sends what waits on this phone, and shows it: on every page of who is signed in.
 *
 * <section data-waiting="PREFIX ..."> lists what waits for addresses that begin so, with the ways to
 * change it or throw it away. Other pages say in one line how much waits. What came of what was sent is
 * said at the top of the page on which it was sent.
 */

import { made } from "./elements.js";
import { clock, shortDay } from "./moments.js";
import { sendAll, standing, throwAway, waitingOf } from "./noted.js";
import { person } from "./outbox.js";
import { _, ngettext } from "./say.js";
import { forgetOnceRead, unreadOf } from "./unread.js";

const ALL = "/sea/"; // the page that lists all that waits
const top = document.querySelector("main");
const slots = document.querySelectorAll("[data-waiting]");

function way(address, text, look = "button button-quiet") {
  const link = made("a", text, look);
  link.href = address;
  return link;
}

function button(text, action, look = "button button-quiet") {
  const element = made("button", text, look);
  element.type = "button";
  element.addEventListener("click", action);
  return element;
}

function moment(iso) {
  return _("Noted %(day)s, %(time)s", { day: shortDay(iso.slice(0, 10)), time: clock(new Date(iso)) });
}

/** Return in words why it still waits. */
function reason(entry) {
  if (standing === "signed out") return _("It is sent after you sign in here.");
  if (entry.failed) return _("The site answered with an error (%(status)s). It is sent again.", { status: entry.failed });
  return standing === "error" ? _("The site has trouble now. It is sent again.") : _("It is sent when there is signal.");
}

/** Ask in the place of `ways` whether to throw `entry` away. */
function ask(entry, ways) {
  const asked = made("p", entry.posted
    ? _("Throw it away? It may have reached the site already. Then it stays there.")
    : _("Throw it away? Nobody else has it."));
  const before = [...ways.childNodes];
  const keep = button(_("Keep it"), () => ways.replaceChildren(...before), "button");
  ways.replaceChildren(asked, keep, button(_("Throw it away"), () => throwAway(entry), "button button-danger"));
  keep.focus();
}

function item(entry) {
  const line = made("li", "", "card stack");
  const ways = made("div", "", "toolbar");
  if (entry.page) ways.append(way(`${entry.page}#noted=${entry.key}`, _("Change")));
  ways.append(button(_("Throw away"), () => ask(entry, ways)));
  for (const each of ways.children) {
    // Several buttons say the same: who does not see the list hears which is meant.
    each.append(made("span", `: ${entry.label}`, "visually-hidden"));
  }
  line.append(made("strong", entry.label), made("p", moment(entry.noted)), made("p", reason(entry)), ways);
  return line;
}

const shown = new Map(); // what each slot says

function fill(slot, waiting) {
  const prefixes = slot.dataset.waiting.split(" ");
  const entries = waiting.filter(({ address }) => prefixes.some((prefix) => address.startsWith(prefix)));
  slot.hidden = !entries.length;
  // What says the same is left as it is: somebody may be about to tap it.
  const said = JSON.stringify(entries.map((entry) => [entry.key, entry.noted, entry.label, reason(entry)]));
  if (said === shown.get(slot)) return;
  shown.set(slot, said);
  const list = made("ul", "", "cards");
  list.append(...entries.map(item));
  slot.replaceChildren(made("h2", _("Saved on this phone, not sent yet")), list);
}

let line = null;

/** Say in one line how much waits, on a page that does not list it. */
function count(waiting) {
  line?.remove();
  if (!waiting.length) return;
  line = made("p", "", "notice");
  line.append(
    ngettext("%(count)s thing is saved on this phone and not sent yet.", "%(count)s things are saved on this phone and not sent yet.", waiting.length),
    " ",
    way(ALL, _("See what waits"), ""),
  );
  top.prepend(line);
}

async function show() {
  const waiting = await waitingOf(person()).catch(() => []);
  for (const slot of slots) fill(slot, waiting);
  if (!slots.length) count(waiting);
}

let told = null;

/** Say what the site said of `entry`, but on the page that tells all of it. */
function arrived({ entry, said }) {
  forgetOnceRead(entry.key);
  if (said.page === window.location.pathname) return;
  if (!told) {
    told = made("section", "", "stack");
    told.setAttribute("role", "status");
    top.prepend(told);
  }
  const isTaken = said.outcome === "taken";
  const words = isTaken
    ? _("Sent, and saved on the site: %(label)s.", { label: entry.label })
    : _("Sent, but not saved as it is: %(label)s. What you typed is on the site.", { label: entry.label });
  const notice = made("p", `${words} ${isTaken ? said.words : ""} `, isTaken ? "notice notice-good" : "notice notice-bad");
  notice.append(isTaken && said.where ? way(said.where, _("See it"), "") : way(said.page, _("See what to do"), ""));
  told.append(notice);
}

/** Keep a form that only the site can do from leaving the page without signal. */
function needSignal(event) {
  if (event.defaultPrevented || event.target.method !== "post" || navigator.onLine) return;
  event.preventDefault();
  const said = event.target.querySelector("[data-needs-signal]") ?? made("p", "", "notice notice-bad");
  said.dataset.needsSignal = "";
  said.setAttribute("role", "alert");
  said.textContent = _("This needs signal. Nothing was done. Try again when you have signal.");
  event.target.append(said);
}

/** Wait until the forms of this page have taken up what waits of them: that is not sent under them. */
function formsAreUp() {
  const areUp = !document.querySelector("form[data-noted]") || "draftsUp" in document.documentElement.dataset;
  return areUp ? Promise.resolve() : new Promise((resolve) => document.addEventListener("drafts", resolve, { once: true }));
}

document.addEventListener("noted", show);
document.addEventListener("arrived", ({ detail }) => arrived(detail));
document.addEventListener("visibilitychange", () => document.hidden || show());
document.addEventListener("submit", needSignal);
show();
unreadOf(person()).forEach(arrived);
formsAreUp().then(sendAll);
