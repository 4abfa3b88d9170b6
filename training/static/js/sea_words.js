/* What is on the phone for sea, in words. */

import { clock, shortDay, today } from "./moments.js";
import { _, ngettext } from "./say.js";

const MEGABYTE = 1e6;

// A part has one of these, in this order; what is one thing alone is not counted.
const SORTS = {
  start: () => _("First pages"),
  lessons: () => _("Lessons"),
  tasks: () => _("Tasks"),
  nets: () => _("Nets"),
  rounds: () => _("Judging rounds"),
  trip: () => _("Where and when"),
  sheets: () => _("Check sheets"),
};

const COUNTS = {
  lessons: (count) => ngettext("%(count)s lesson", "%(count)s lessons", count),
  tasks: (count) => ngettext("%(count)s task", "%(count)s tasks", count),
  nets: (count) => ngettext("%(count)s net", "%(count)s nets", count),
  rounds: (count) => ngettext("%(count)s judging round", "%(count)s judging rounds", count),
};

const isNamed = (each) => Boolean(each.what);

function sizeWords(bytes) {
  const size = bytes / MEGABYTE;
  return _("%(size)s MB", { size: size < 10 ? size.toFixed(1) : Math.round(size) });
}

/** Return how much is kept, such as "14 lessons, 12 tasks, 2 nets, 3 MB". */
export function countWords(kept) {
  const counts = Object.entries(COUNTS).flatMap(([what, words]) => {
    const count = kept.filter((each) => each.what === what).length;
    return count ? [words(count)] : [];
  });
  const others = kept.filter((each) => isNamed(each) && !(each.what in COUNTS)).length;
  if (others) counts.push(ngettext("%(count)s other page", "%(count)s other pages", others));
  return [...counts, sizeWords(kept.reduce((sum, { bytes }) => sum + bytes, 0))].join(", ");
}

/** Return the moment of `at`, milliseconds, such as "Nov 22, 2026, 3:00 p.m." */
export function momentWords(at) {
  const moment = new Date(at);
  return `${shortDay(today(moment))}, ${clock(moment)}`;
}

/** Return elements that list what is kept by its sort, each with its age. */
export function keptList(kept) {
  return Object.entries(SORTS).flatMap(([what, title]) => {
    const found = kept.filter((each) => each.what === what);
    if (!found.length) return [];
    const heading = document.createElement("h3");
    heading.textContent = title();
    const list = document.createElement("ul");
    list.className = "sea-list";
    list.append(...found.map(keptItem));
    return [heading, list];
  });
}

function keptItem({ address, title, at }) {
  const item = document.createElement("li");
  const link = document.createElement("a");
  [link.href, link.textContent] = [address, title || address];
  const since = document.createElement("span");
  since.className = "soft";
  since.textContent = _("as of %(moment)s", { moment: momentWords(at) });
  item.append(link, since);
  return item;
}
