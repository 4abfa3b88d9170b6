/*
 * The log of readings on a check sheet: what was written of a question, when, and how.
 *
 * Of a question counts its last entry that is not struck. An entry is written in place while it
 * is being typed. Once its field was left it stays: a change strikes it out and puts another in
 * its place, a second reading stands beside it. What never left the phone and was taken back
 * before its field was left was a slip of the thumb, and goes.
 */

/** Return the entries of the question `name`, oldest first. */
export function entriesOf(content, name) {
  return content.readings.filter((entry) => entry.name === name);
}

/** Return the entry of the question `name` that counts, undefined if there is none. */
export function counted(content, name) {
  return entriesOf(content, name).findLast((entry) => !entry.struck && entry.text);
}

/** Have what is typed say what counts of the question `name`. */
function settle(content, name) {
  const entry = counted(content, name);
  if (entry) content.typed[name] = entry.text;
  else delete content.typed[name];
}

/** Return how `entry` stands, as a text to tell whether that was ever sent. */
function standing({ id, struck }) {
  return struck ? `${id} struck` : id;
}

/** Return how all entries of `content` stand: what is sent with it. */
export function standings(content) {
  return content.readings.map(standing);
}

/** Write down what is there of the question `name` without an entry: from before there was a log. */
function seed(content, name, id) {
  const text = content.typed[name];
  if (text && !counted(content, name)) {
    content.readings.push({ id, name, text, how: "", tool: "", at: "", struck: "", why: "" });
  }
}

/**
 * One question being written on, from its first touch until its field is left.
 *
 * `newId()` makes names of entries up, `clock()` gives the moment. `isSecond` if it is a second
 * reading, beside the first.
 */
export class Writing {
  constructor(name, newId, clock, isSecond = false) {
    Object.assign(this, { name, newId, clock, isSecond });
    this.id = null;
    this.replaced = null;
  }

  own(content) {
    return content.readings.find(({ id, struck }) => id === this.id && !struck);
  }

  /** Have `sheet` say `text`, and how it was taken. Call it on the sheet as it is kept. */
  write(sheet, text, { how = "", tool = "" } = {}) {
    const { content } = sheet;
    seed(content, this.name, this.newId());
    const entry = this.own(content);
    if (entry) this.rewrite(sheet, entry, text);
    else this.begin(content, text, { how, tool });
    settle(content, this.name);
  }

  begin(content, text, { how, tool }) {
    const before = counted(content, this.name);
    if (before && before.text === text && !this.isSecond) return;
    if (before && !this.isSecond) {
      before.struck = this.clock();
      this.replaced = before.id;
    }
    if (!text) return;
    this.id = this.newId();
    const { name, id } = this;
    content.readings.push({ id, name, text, how, tool, at: this.clock(), struck: "", why: "" });
  }

  rewrite({ content, posted }, entry, text) {
    if (text) entry.text = text;
    else if (posted.includes(entry.id)) entry.struck = this.clock();
    else content.readings = content.readings.filter(({ id }) => id !== entry.id);
  }

  /** Leave the field: what says again what was there before goes; return whether it did. */
  close(sheet) {
    const { content, posted } = sheet;
    const entry = this.own(content);
    const before = content.readings.find(({ id }) => id === this.replaced);
    if (!entry || !before || entry.text !== before.text) return false;
    if (posted.includes(entry.id) || posted.includes(standing(before))) return false;
    before.struck = "";
    content.readings = content.readings.filter(({ id }) => id !== entry.id);
    settle(content, this.name);
    return true;
  }
}

/** Strike out all that counts of the question `name`. */
export function strikeAll(content, name, newId, clock) {
  seed(content, name, newId());
  for (const entry of entriesOf(content, name)) if (!entry.struck) entry.struck = clock();
  settle(content, name);
}

/** Strike out the entry `id`, one of several. */
export function strikeOne(content, id, clock) {
  const entry = content.readings.find((each) => each.id === id);
  if (!entry || entry.struck) return;
  entry.struck = clock();
  settle(content, entry.name);
}

/** Write the struck entry `id` anew; the strike stays to be seen. */
export function putBack(content, id, newId, clock) {
  const { name, text, how, tool } = content.readings.find((each) => each.id === id);
  content.readings.push({ id: newId(), name, text, how, tool, at: clock(), struck: "", why: "" });
  settle(content, name);
}

/** Say how the entry of `name` that counts was taken. */
export function describe(content, name, { how, tool }) {
  const entry = counted(content, name);
  if (entry) Object.assign(entry, { how, tool });
}
