/* What a check sheet comes to on this phone: its findings, how many of each, and how they look. */

import { inForce, INSIDE, NOT_MEASURED, OUTSIDE, tally } from "./check_judge.js";
import { noted, remark } from "./check_remarks.js";
import { readAll } from "./check_units.js";
import { judgeWhole } from "./check_whole.js";
import { _ } from "./say.js";

const LOOKS = { [OUTSIDE]: "fail", [INSIDE]: "pass", [NOT_MEASURED]: "unknown" };
const ORDER = [OUTSIDE, NOT_MEASURED, INSIDE];

/** Return a new element `name` that says `text`. */
export function element(name, text, look = "") {
  const made = document.createElement(name);
  made.textContent = text;
  if (look) made.className = look;
  return made;
}

/** Return the rule sets that `content` goes by, those of its day: the gear's first. */
export function booksOf(content, rules) {
  const names = [...new Set([content.rulebook_name, content.fishery_name])].filter(Boolean);
  return names.map((name) => inForce(rules.books, name, content.day)).filter(Boolean);
}

/** Return of `books` that of the gear and that of the fishery, null for none. */
function pairOf(books, { rulebook_name: gear, fishery_name: fishery }) {
  const find = (name) => books.find((book) => book.name === name) ?? null;
  return { gear: find(gear), fishery: find(fishery) };
}

/** Return the findings of `books` from `measures`; what two of them ask alike is told once. */
export function findingsOf(measures, books, content, rules) {
  const pair = pairOf(books, content);
  return pair.gear ? judgeWhole(measures, pair, content, rules.reading) : [];
}

function count(findings, mark) {
  return findings.filter((each) => each.mark === mark && !each.by_custom && !each.is_warning).length;
}

/** Return what this phone says of all that `content` holds, and by which rules. */
export function saidOf(content, rules) {
  const books = booksOf(content, rules);
  const findings = findingsOf(readAll(content.typed, rules.reading).measures, books, content, rules);
  const version = (name) => books.find((book) => book.name === name)?.version ?? "";
  return {
    rulebook_version: version(content.rulebook_name),
    fishery_version: version(content.fishery_name),
    tally: {
      outside: count(findings, OUTSIDE),
      within: count(findings, INSIDE),
      not_measured: count(findings, NOT_MEASURED),
    },
    page: rules.page ?? "",
  };
}

/** Return what `content` holds beside the findings on the questions called `names`, for them. */
export function besideOf(content, names, books, rules) {
  const isAsked = (name) => names.has(name) || names.has(name.replace(/_sure$/, ""));
  const only = (told) => Object.fromEntries(Object.entries(told).filter(([name]) => isAsked(name)));
  const seen = {
    typed: only(content.typed),
    reasons: only(content.reasons),
    readings: content.readings.filter(({ name }) => names.has(name)),
  };
  return noted(seen, (measures) => findingsOf(measures, books, content, rules), rules.reading);
}

/** Return `findings` in words, by how many of each there are; `told` are the names of what was. */
export function tallyWords(findings, told) {
  return tally(findings, told);
}

/** Return `findings` that clauses ask for, the gravest first. */
export function byWeight(findings) {
  const rules = findings.filter((each) => !each.by_custom && !each.is_warning);
  return ORDER.flatMap((mark) => rules.filter((each) => each.mark === mark));
}

/** `beside` is what the sheet holds beside its findings. */
export function findingItem(finding, beside, rules) {
  const look = finding.by_custom || finding.is_warning ? "custom" : LOOKS[finding.mark];
  const item = element("li", "", `finding finding-${look}`);
  const title = element("p", "", "finding-title");
  const mark = finding.mark_text[0].toUpperCase() + finding.mark_text.slice(1);
  title.append(element("strong", finding.title), " ", element("span", mark, "finding-mark"));
  item.append(title, element("p", finding.words));
  const said = remark(finding, beside, rules.reading);
  if (said) item.append(element("p", said, "finding-remark"));
  const [missing, places] = [finding.missing.join("; "), finding.places.join("; ")];
  if (missing) item.append(element("p", _("Not measured: %(missing)s.", { missing })));
  if (places) item.append(element("p", _("Where: %(places)s.", { places })));
  if (!finding.by_custom) item.append(element("p", finding.source, "finding-clause"));
  return item;
}
