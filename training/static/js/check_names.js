/*
 * Animals by the names that people give them, sorted as the site sorts them.
 *
 * The table of names comes with the page, as `kinds`: for each plain name the kinds it can mean.
 */

const words = (text) => text.split(/\s+/).filter(Boolean);

/** Return `name` without case, hyphens, dots and needless space. */
function plainName(name) {
  return words(name.replace(/[-‐‑–.]/g, " ").toUpperCase().toLowerCase()).join(" ");
}

/** Return the names that `text`, made plain, lists, each once. */
export function splitNames(text) {
  const names = [];
  for (const part of text.split(/[,;&\n]/)) {
    names.push([]);
    for (const word of words(part)) {
      if (word.toLowerCase() === "and") names.push([]);
      else names.at(-1).push(word);
    }
  }
  return [...new Set(names.map((each) => each.join(" ")).filter(Boolean))];
}

/** Return the kinds that `name` can mean; none if it is not in the table. */
export function kindsOf(name, kinds) {
  const plain = plainName(name);
  const found = [plain, plain.replace(/s$/, ""), plain.replace(/es$/, "")].find((each) => Object.hasOwn(kinds, each));
  return found === undefined ? [] : kinds[found];
}

/** Return whether `name` can mean a kind of `group`; one not in the table can. */
export function mayBe(name, group, kinds) {
  const meant = kindsOf(name, kinds);
  return !meant.length || meant.some((each) => group.includes(each));
}

/** Return `names` sorted by the closed list `allowed`: {listed, unlisted, unclear, unknown}. */
export function sortOut(names, allowed, kinds) {
  const allowedKinds = new Set(allowed.flatMap((name) => kindsOf(name, kinds)));
  const asWritten = allowed.filter((name) => !kindsOf(name, kinds).length).map(plainName);
  const found = { listed: [], unlisted: [], unclear: [], unknown: [] };
  for (const name of names) {
    const meant = kindsOf(name, kinds);
    const on = meant.filter((each) => allowedKinds.has(each)).length;
    if (!meant.length) found[asWritten.includes(plainName(name)) ? "listed" : "unknown"].push(name);
    else if (on === meant.length) found.listed.push(name);
    else found[on ? "unclear" : "unlisted"].push(name);
  }
  return found;
}
