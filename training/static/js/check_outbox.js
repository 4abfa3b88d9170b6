/*
 * Check sheets in the outbox: what one is, and how it is sent.
 *
 * A save is told by sheet, device and number, so that sending it again is harmless. A sheet is
 * sent under the account it was written under, or not at all.
 */

import { whole } from "./check_content.js";
import { standings } from "./check_log.js";
import { today } from "./moments.js";
import { Outbox } from "./outbox.js";
import { _ } from "./say.js";
import { pagesOf } from "./sea_kept.js";
import { LONG_PATIENCE, NotNow, PATIENCE, post, Sender, SignedOut, told } from "./sending.js";

const DEVICE = "check sheet device";

/** Return the outbox of the check sheets of the person `user`. */
export function sheetsOf(user) {
  return new Outbox(user, "check sheet");
}

/** Return the name under which this phone numbers its saves, made up once. */
function device() {
  const found = localStorage.getItem(DEVICE) ?? crypto.randomUUID();
  localStorage.setItem(DEVICE, found);
  return found;
}

/** Return a sheet of which the site has nothing yet. */
export function blank(content) {
  return {
    content: whole(content),
    device: device(),
    number: 1,
    sent: 0,
    seen: 0,
    handsIn: false,
    finished: false,
    problem: "",
    photosHere: [],
    photosSent: [],
    photosRefused: {}, // why the site does not take a photo, by its key
    posted: [], // how the readings stood that were ever on their way to the site
    done: [], // the steps that were read to their end
  };
}

/** Return a sheet as the site holds it. */
export function asHeld(held) {
  const sheet = blank(held.content);
  return {
    ...sheet,
    number: held.revision,
    sent: held.revision,
    seen: held.revision,
    handsIn: held.finished,
    finished: held.finished,
    photosSent: held.photos,
    address: held.address,
    posted: standings(sheet.content),
    before: Object.keys(sheet.content.typed), // read before, elsewhere
  };
}

/** Return the keys of the photos on this phone that belong to `sheet` and the site lacks. */
function photosToSend(sheet) {
  const belongs = (key) => sheet.content.photo_keys.includes(key) && !sheet.photosSent.includes(key);
  return sheet.photosHere.filter(belongs);
}

/** Return why the site does not take photos of `sheet`, words by key. */
export function refusedPhotos(sheet) {
  const refused = sheet.photosRefused ?? {};
  return Object.fromEntries(photosToSend(sheet).flatMap((key) => (refused[key] ? [[key, refused[key]]] : [])));
}

/** Note on `sheet` that the site does not take the photo `key`, and why; with no words ask it again. */
export function refusePhoto(sheet, key, words) {
  const { [key]: _before, ...others } = sheet.photosRefused ?? {};
  sheet.photosRefused = words ? { ...others, [key]: words } : others;
}

/** Take the photo `key` off this phone's list of what is to be sent: the site does not take it. */
export function dropPhoto(sheet, key) {
  refusePhoto(sheet, key, "");
  sheet.photosHere = sheet.photosHere.filter((each) => each !== key);
}

/** Return whether the site lacks anything of `sheet`. */
export function isUnsent(sheet) {
  return Boolean(sheet.thrown) || sheet.number > sheet.sent || photosToSend(sheet).length > 0;
}

/** Return whether `sheet` was handed in and is with the site, photos and all. */
export function isDone(sheet) {
  return sheet.finished && !isUnsent(sheet);
}

/** Return whether the site found otherwise than this phone, and nobody said that it was seen. */
export function hasParted(sheet) {
  return Boolean(sheet.parted) && !sheet.parted.seen;
}

/** Return whether the site has refused `sheet` as it is now. */
export function isRefused(sheet) {
  return sheet.refused === sheet.number && !sheet.thrown;
}

/** Return whether it is worth while to send `sheet` on the day `day`, ISO text. */
export function isToSend(sheet, day) {
  if (!isUnsent(sheet)) return false;
  if (isRefused(sheet)) return Boolean(sheet.again && sheet.again <= day);
  if (sheet.thrown || sheet.number > sheet.sent) return true;
  // A photo that the site does not take is sent again only when its officer asks.
  return photosToSend(sheet).length > Object.keys(refusedPhotos(sheet)).length;
}

/**
 * Have `change(sheet)` write on the sheet `key`, and number the save, unless it returns false;
 * return it as it is then.
 * `saidOf(content)` is what the phone says of it, and by which rules: kept with the save.
 */
export function writeOn(sheets, key, change, saidOf = () => null) {
  return sheets.change(key, (sheet) => {
    // What was handed in, or taken in from elsewhere as such, is fixed.
    if (sheet.handsIn || sheet.finished || sheet.thrown) return;
    sheet.content = whole(sheet.content);
    sheet.posted ??= [];
    if (change(sheet) === false) return;
    sheet.number = Math.max(sheet.number, sheet.seen) + 1;
    sheet.changed = Date.now();
    sheet.problem = "";
    sheet.said = saidOf(sheet.content);
  });
}

const COUNTS = ["outside", "within", "not_measured"];

/** Return in words how the site finds otherwise than the phone `said`, "" if it does not. */
export function partedWords(said, { counts, versions, parted }) {
  if (parted) return parted;
  if (!said?.tally || !counts) return "";
  const site = Object.values(versions ?? {});
  const ours = [said.rulebook_version, said.fishery_version].filter(Boolean);
  if (COUNTS.every((name) => said.tally[name] === counts[name]) && ours.every((each) => site.includes(each))) return "";
  return _(
    "This phone went by version %(ours)s: %(phoneOutside)s outside, %(phoneUnknown)s not measured. The site goes by version %(site)s: %(siteOutside)s outside, %(siteUnknown)s not measured. What the site says counts.",
    {
      ours: ours.join(", "),
      site: site.join(", "),
      phoneOutside: said.tally.outside,
      phoneUnknown: said.tally.not_measured,
      siteOutside: counts.outside,
      siteUnknown: counts.not_measured,
    },
  );
}

/** Note on `sheet` that phone and site part; what was seen once is not told again. */
function part(sheet, words) {
  if (words && sheet.parted?.words !== words) sheet.parted = { words, seen: false };
}

/** Take into `sheet` what the site holds, after the save `number` was sent, with what was `said`. */
export function confirm(sheet, number, held, said = null) {
  sheet.sent = Math.max(sheet.sent, number);
  sheet.seen = Math.max(sheet.seen, held.revision);
  sheet.finished = held.finished;
  sheet.address = held.address;
  sheet.photosSent = held.photos;
  sheet.problem = "";
  sheet.fields = {};
  sheet.again = "";
  sheet.refused = 0;
  sheet.arrived = held.arrived ?? {};
  if (held.code) sheet.content.code = held.code;
  const isOurs = held.device === sheet.device && held.revision === number;
  if (isOurs) part(sheet, partedWords(said, held));
  if (isOurs && sheet.handsIn && !held.finished) {
    sheet.handsIn = false;
    sheet.problem = _("Not turned in. Fix the marked answers first.");
  }
  if (isOurs) return;
  if (sheet.number > number && !held.finished) {
    // Written on since it was sent: the next save comes after what the site holds.
    sheet.number = Math.max(sheet.number, held.revision + 1);
    return;
  }
  sheet.content = whole(held.content);
  sheet.posted = standings(sheet.content);
  sheet.before = Object.keys(sheet.content.typed);
  sheet.number = sheet.sent = held.revision;
  sheet.handsIn = held.finished;
  sheet.problem = _("A newer copy from another device is shown. Yours is in the history.");
}

/** Take into `sheet` that the site refused the save `number`: it is open again, to be mended. */
export function refuse(sheet, number, { problem = "", fields = {}, again_from: again = "" }) {
  if (sheet.number !== number) return; // written on since: the next save may be right
  const isDue = sheet.handsIn && !again;
  Object.assign(sheet, { refused: number, fields, again, problem });
  // A sheet that only waits for its day stays as it was turned in.
  if (isDue) sheet.handsIn = false;
}

/**
 * Leave nothing of `user` at hand but what the site does not have yet: that must not be lost,
 * and is shown to nobody else.
 */
export async function leave(user) {
  const sheets = sheetsOf(user);
  for (const { key } of await sheets.all()) await sheets.forget(key, (sheet) => !isUnsent(sheet) && !hasParted(sheet));
  // Where there is no worker to do it, the pages that were taken along go here.
  if ("caches" in globalThis) await caches.delete(pagesOf(user));
}

function token() {
  return document.cookie.match(/(?:^|; )csrftoken=([^;]*)/)?.[1] ?? "";
}

async function refusalOf(response) {
  const refusal = await response.json().catch(() => ({}));
  return { ...refusal, problem: refusal.problem || _("The site answered with an error (%(status)s).", { status: response.status }) };
}

function envelope(sheet) {
  return JSON.stringify({
    ...sheet.content,
    key: sheet.key,
    user: sheet.person,
    device: sheet.device,
    number: sheet.number,
    hands_in: sheet.handsIn,
    said: sheet.said ?? null,
  });
}

const OTHER_ACCOUNT = 409;
const NOT_WHOLE = 400;
const NOT_FOUND = 404; // a site that does not take sheets thrown away, yet

/** Sends the sheets of one person. */
export class SheetSender {
  /** `tell` is called whenever anything about what is written or sent has changed. */
  constructor(sheets, addresses, tell) {
    Object.assign(this, { sheets, addresses, tell });
    this.signedOut = false;
    this.sender = new Sender("check sheets", () => this.sendAll(), (error) => this.failed(error));
  }

  /** Send all that is unsent. */
  send() {
    return this.sender.send();
  }

  /** Send all that is unsent after `pause` milliseconds. */
  soon(pause) {
    this.sender.soon(pause);
  }

  /** Send each sheet, in the order in which they were written; one that fails does not hold up the others. */
  async sendAll() {
    const failures = [];
    for (const sheet of (await this.sheets.all()).reverse()) {
      if (isToSend(sheet, today())) await this.tryOne(sheet, failures);
    }
    this.signedOut = false;
    this.tell();
    if (failures.length) throw failures[0];
  }

  /** Do `work`; a failure that is not the account's goes to `failures`. */
  async attempt(work, failures) {
    try {
      await work();
    } catch (error) {
      if (error instanceof SignedOut) throw error;
      // A phone without room for the reply sends again later: the site bears it.
      failures.push(error instanceof DOMException ? new NotNow() : error);
    }
  }

  async tryOne(sheet, failures) {
    await this.attempt(async () => {
      if (sheet.thrown) await this.sendThrown(sheet);
      else await this.sendOne(sheet, failures);
    }, failures);
  }

  failed(error) {
    if (error instanceof SignedOut) this.signedOut = true;
    this.tell();
  }

  postJson(address, body) {
    return post(address, body, { "X-CSRFToken": token(), "Content-Type": "application/json" });
  }

  async sendOne({ key }, failures) {
    // What is on its way may arrive, even if no reply comes back.
    const sheet = await this.sheets.change(key, (each) => {
      each.content = whole(each.content);
      each.posted = [...new Set([...(each.posted ?? []), ...standings(each.content)])];
    });
    if (!sheet) return;
    const { number, said } = sheet;
    if (number > sheet.sent) {
      const response = await this.postJson(this.addresses.send, envelope(sheet));
      if (!response.ok) return this.takeRefusal(key, number, response);
      const held = await told(response);
      await this.sheets.change(key, (each) => confirm(each, number, held, said));
      this.tell();
    }
    await this.sendPhotos(await this.sheets.get(key), failures);
  }

  async takeRefusal(key, number, response) {
    const refusal = await refusalOf(response);
    const problem = _("Not sent. %(problem)s", { problem: refusal.problem });
    await this.sheets.change(key, (each) => {
      if ([OTHER_ACCOUNT, NOT_WHOLE].includes(response.status)) each.problem = problem;
      else refuse(each, number, { ...refusal, problem });
    });
    if (response.status === NOT_WHOLE) throw new NotNow(response.status);
  }

  /** Tell the site that its officer threw `sheet` away, and why; then forget it here. */
  async sendThrown(sheet) {
    const { key, person: user, content, thrown } = sheet;
    const response = await this.postJson(this.addresses.thrown, JSON.stringify({ key, user, content, ...thrown }));
    if (response.ok) return this.sheets.forget(key);
    if (response.status === NOT_FOUND) throw new NotNow(response.status);
    const { problem } = await refusalOf(response);
    return this.sheets.change(key, (each) => Object.assign(each, { problem }));
  }

  async sendPhotos(sheet, failures) {
    const refused = refusedPhotos(sheet);
    const wanted = photosToSend(sheet).filter((key) => !(key in refused));
    for (const file of await this.sheets.filesOf(sheet.key)) {
      if (wanted.includes(file.key)) await this.attempt(() => this.sendPhoto(sheet, file), failures);
    }
  }

  async sendPhoto(sheet, { key, blob }) {
    const body = new FormData();
    body.set("user", sheet.person);
    body.set("key", key);
    body.set("photo", blob, "photo.jpg");
    const address = `${this.addresses.sheets}${sheet.key}/photos/`;
    const response = await post(address, body, { "X-CSRFToken": token() }, LONG_PATIENCE);
    const words = response.ok ? "" : (await refusalOf(response)).problem;
    await this.sheets.change(sheet.key, (each) => {
      if (response.ok) each.photosSent.push(key);
      refusePhoto(each, key, words);
    });
    this.tell();
  }

  /** Return what the site holds of the sheet `key`, null if it cannot be had. */
  async fetchHeld(key) {
    try {
      const signal = AbortSignal.timeout(PATIENCE);
      const response = await fetch(`${this.addresses.sheets}${key}/held/`, { redirect: "manual", signal });
      return response.ok ? await response.json() : null;
    } catch {
      return null;
    }
  }

  /** Forget the sheets that were handed in and are with the site, and on which nothing is to be read. */
  async tidy() {
    const isOver = (sheet) => isDone(sheet) && !hasParted(sheet);
    for (const { key } of await this.sheets.all()) await this.sheets.forget(key, isOver);
  }
}
