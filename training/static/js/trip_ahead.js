/*
 * Tells what is open on a day, and where a position lies, from what the site put into the page.
 *
 * Seasons, areas and sentences are the site's; what is not in the page is not checked, and that is
 * said. A form whose site answers goes to it as any other.
 */

import { PositionError, readPosition } from "./check_positions.js";
import { INSIDE, NEAR, settle } from "./check_waters.js";
import { made } from "./elements.js";
import { shortDay } from "./moments.js";
import { _, ngettext } from "./say.js";

const PATIENCE = 4000; // milliseconds that the site has to answer
const DECIMALS = 2; // of a nautical mile

function filled(text, holes) {
  return text.replace(/\{(\w+)\}/g, (hole, name) => holes[name] ?? hole);
}

function holesOf({ area, line, metres }, { line: template, waters }) {
  const [one, other] = line;
  const count = String(Number((metres / waters.nautical_mile).toFixed(DECIMALS)));
  const distance = ngettext("%(count)s nautical mile", "%(count)s nautical miles", count === "1" ? 1 : 2, { count });
  return { area: area.title, clause: area.clause, line: filled(template, { one, other }), distance };
}

/** Return the sentences on where `position` lies to `areas`, those of `said` by way. */
function placesOf(position, areas, said, ahead) {
  const found = areas.map((area) => settle(position, [area], ahead.waters));
  return found.filter(({ way }) => said[way]).map((each) => filled(said[each.way], holesOf(each, ahead)));
}

/**
 * Return what `ahead` has of `asked`, {day, fishery, position} as the form holds them: `problem`, or
 * `closures`, sentences, and `fisheries`, each {name, title, words: sentences}.
 */
export function toldOf(ahead, { day, fishery, position }) {
  if (!/^\d{4}-\d\d-\d\d$/.test(day)) return { problem: _("Choose the day first.") };
  if (day < ahead.first || day > ahead.last) {
    const [first, last] = [shortDay(ahead.first), shortDay(ahead.last)];
    return { problem: _("This page has the days from %(first)s to %(last)s. For another day it needs signal.", { first, last }) };
  }
  let place = null;
  try {
    if (position.trim()) place = readPosition(position, ahead);
  } catch (error) {
    if (!(error instanceof PositionError)) throw error;
    return { problem: error.message };
  }
  const fisheries = ahead.fisheries
    .filter(({ name }) => !fishery || name === fishery)
    .map(({ name, title, spells }) => {
      const spell = spells.find(({ first, last }) => first <= day && day <= last);
      if (!spell) return { name, title, words: [_("This page has no rules of it for that day.")] };
      const places = place ? placesOf(place, spell.areas, ahead.where, ahead) : [];
      return { name, title, words: [spell.words, ...places] };
    });
  const { [INSIDE]: inside, [NEAR]: near } = ahead.closed;
  const closures = place ? placesOf(place, ahead.closures, { [INSIDE]: inside, [NEAR]: near }, ahead) : [];
  return { closures, fisheries };
}

function show(place, told, day, ahead) {
  const parts = [made("h2", _("Without signal: what this page has"))];
  if (told.problem) parts.push(made("p", told.problem, "notice notice-bad"));
  else {
    const [on, first] = [shortDay(day), shortDay(ahead.first)];
    const words = _("For %(on)s, as this site had the seasons and areas on %(first)s. Letter, mesh, gear and catch are not checked here. Read their rules below.", { on, first });
    parts.push(made("p", words, "notice"));
    parts.push(...told.closures.map((sentence) => made("p", sentence, "notice notice-bad")));
    for (const { name, title, words: sentences } of told.fisheries) {
      const heading = made("h3", "");
      const link = Object.assign(made("a", title), { href: `#ahead-${name}` });
      link.addEventListener("click", () => {
        document.querySelector(link.hash).open = true;
      });
      heading.append(link);
      parts.push(heading, made("p", sentences.join(" ")));
    }
  }
  place.replaceChildren(...parts);
  place.hidden = false;
  place.focus();
}

async function answers(address) {
  try {
    const answer = await fetch(address, { cache: "no-store", signal: AbortSignal.timeout(PATIENCE) });
    return answer.ok;
  } catch {
    return false;
  }
}

/** Let `form` be answered from the page where the site does not answer. */
export function tellAhead(form) {
  const place = document.querySelector("[data-trip-told]");
  const ahead = JSON.parse(document.getElementById("trip-ahead").textContent);
  let isSure = false;
  form.addEventListener("submit", async (event) => {
    if (isSure) return;
    event.preventDefault();
    const { submitter } = event;
    if (await answers(form.dataset.trip)) {
      isSure = true; // once: what is sent is the site's to answer
      form.requestSubmit(submitter);
      isSure = false;
      return;
    }
    const { day, fishery, position } = form.elements;
    const asked = { day: day.value, fishery: fishery.value, position: position.value };
    show(place, toldOf(ahead, asked), asked.day, ahead);
  });
}
