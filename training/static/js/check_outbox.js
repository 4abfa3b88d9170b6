/*
 * Check sheets in the outbox: what one is, and how it is sent.
 *
 * A save is told by sheet, device and number, so that sending it again is harmless. A sheet is
 * sent under the account it was written under, or not at all.
 */

import { Outbox } from "./outbox.js";
import { _ } from "./say.js";
import { post, Sender, SignedOut, told } from "./sending.js";

const DEVICE = "check sheet device";
export const PAGE = "check sheet page"; // as the worker calls its cache

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
    content,
    device: device(),
    number: 1,
    sent: 0,
    seen: 0,
    handsIn: false,
    finished: false,
    problem: "",
    photosHere: [],
    photosSent: [],
  };
}

/** Return a sheet as the site holds it. */
export function asHeld(held) {
  return {
    ...blank(held.content),
    number: held.revision,
    sent: held.revision,
    seen: held.revision,
    handsIn: held.finished,
    finished: held.finished,
    photosSent: held.photos,
    address: held.address,
  };
}

/** Return the keys of the photos on this phone that belong to `sheet` and the site lacks. */
function photosToSend(sheet) {
  const belongs = (key) => sheet.content.photo_keys.includes(key) && !sheet.photosSent.includes(key);
  return sheet.photosHere.filter(belongs);
}

/** Return whether the site lacks anything of `sheet`. */
export function isUnsent(sheet) {
  return sheet.number > sheet.sent || photosToSend(sheet).length > 0;
}

/** Return whether `sheet` was handed in and is with the site, photos and all. */
export function isDone(sheet) {
  return sheet.finished && !isUnsent(sheet);
}

/** Have `change(sheet)` write on the sheet `key`, and number the save; return it as it is then. */
export function writeOn(sheets, key, change) {
  return sheets.change(key, (sheet) => {
    // What was handed in, or taken in from elsewhere as such, is fixed.
    if (sheet.handsIn || sheet.finished) return;
    change(sheet);
    sheet.number = Math.max(sheet.number, sheet.seen) + 1;
    sheet.changed = Date.now();
    sheet.problem = "";
  });
}

/** Take into `sheet` what the site holds, after the save `number` was sent. */
export function confirm(sheet, number, held) {
  sheet.sent = Math.max(sheet.sent, number);
  sheet.seen = Math.max(sheet.seen, held.revision);
  sheet.finished = held.finished;
  sheet.address = held.address;
  sheet.photosSent = held.photos;
  sheet.problem = "";
  const isOurs = held.device === sheet.device && held.revision === number;
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
  sheet.content = held.content;
  sheet.number = sheet.sent = held.revision;
  sheet.handsIn = held.finished;
  sheet.problem = _("A newer copy from another device is shown. Yours is in the history.");
}

/**
 * Leave nothing of `user` at hand but what the site does not have yet: that must not be lost,
 * and is shown to nobody else.
 */
export async function leave(user) {
  const sheets = sheetsOf(user);
  for (const { key } of await sheets.all()) await sheets.forget(key, (sheet) => !isUnsent(sheet));
  await forgetPage();
}

/** Forget the page that opens without a connection: it tells whose it is. */
export async function forgetPage() {
  await caches.delete(PAGE);
}

function token() {
  return document.cookie.match(/(?:^|; )csrftoken=([^;]*)/)?.[1] ?? "";
}

async function problemOf(response) {
  const { problem = "" } = await response.json().catch(() => ({}));
  return problem;
}

function envelope(sheet) {
  return JSON.stringify({
    ...sheet.content,
    key: sheet.key,
    user: sheet.person,
    device: sheet.device,
    number: sheet.number,
    hands_in: sheet.handsIn,
  });
}

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

  async sendAll() {
    for (const sheet of await this.sheets.all()) {
      if (isUnsent(sheet) && sheet.refused !== sheet.number) await this.sendOne(sheet);
    }
    this.signedOut = false;
    this.tell();
  }

  failed(error) {
    if (error instanceof SignedOut) this.signedOut = true;
    this.tell();
  }

  async sendOne(sheet) {
    const { number } = sheet;
    const headers = { "X-CSRFToken": token(), "Content-Type": "application/json" };
    const response = await post(this.addresses.send, envelope(sheet), headers);
    if (!response.ok) {
      const problem = _("Not sent. %(problem)s", { problem: await problemOf(response) });
      await this.sheets.change(sheet.key, (each) => Object.assign(each, { problem, refused: number }));
      return;
    }
    const held = await told(response);
    const written = await this.sheets.change(sheet.key, (each) => confirm(each, number, held));
    this.tell();
    if (written) await this.sendPhotos(written);
  }

  async sendPhotos(sheet) {
    const wanted = photosToSend(sheet);
    for (const { key, blob } of await this.sheets.filesOf(sheet.key)) {
      if (!wanted.includes(key)) continue;
      const body = new FormData();
      body.set("user", sheet.person);
      body.set("key", key);
      body.set("photo", blob, "photo.jpg");
      const address = `${this.addresses.sheets}${sheet.key}/photos/`;
      const response = await post(address, body, { "X-CSRFToken": token() });
      const problem = response.ok
        ? ""
        : _("A photo was not sent. %(problem)s", { problem: await problemOf(response) });
      await this.sheets.change(sheet.key, (each) => {
        if (response.ok) each.photosSent.push(key);
        else Object.assign(each, { problem, refused: each.number });
      });
      this.tell();
    }
  }

  /** Return what the site holds of the sheet `key`, null if it cannot be had. */
  async fetchHeld(key) {
    try {
      const response = await fetch(`${this.addresses.sheets}${key}/held/`, { redirect: "manual" });
      return response.ok ? await response.json() : null;
    } catch {
      return null;
    }
  }

  /** Forget the sheets that were handed in and are with the site. */
  async tidy() {
    for (const { key } of await this.sheets.all()) await this.sheets.forget(key, isDone);
  }
}
