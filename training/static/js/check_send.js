/*
 * Sends what is on the phone to the site, each save until the site has said that it has it.
 *
 * A save is told by sheet, device and number, so that sending it again is harmless. On a
 * lost connection it is tried again, ever less often, and at once when the connection is
 * back. A sheet is sent under the account it was written under, or not at all.
 */

import { changeSheet, dropSheet, isUnsent, photosOf, photosToSend, sheetsOf } from "./check_store.js";

const FIRST_WAIT = 2000; // milliseconds until it is tried again, doubled each time
const LONGEST_WAIT = 60000;

class NotNow extends Error {}
class SignedOut extends Error {}

function token() {
  return document.cookie.match(/(?:^|; )csrftoken=([^;]*)/)?.[1] ?? "";
}

async function post(address, body, headers = {}) {
  let response;
  try {
    response = await fetch(address, {
      method: "POST",
      body,
      headers: { "X-CSRFToken": token(), Accept: "application/json", ...headers },
      redirect: "manual",
    });
  } catch {
    throw new NotNow();
  }
  if (response.type === "opaqueredirect" || response.status === 403) throw new SignedOut();
  if (response.status >= 500 || response.status === 429) throw new NotNow();
  return response;
}

async function problemOf(response) {
  try {
    return (await response.json()).problem ?? "";
  } catch {
    return "";
  }
}

function envelope(sheet) {
  return JSON.stringify({
    ...sheet.content,
    key: sheet.key,
    user: sheet.user,
    device: sheet.device,
    number: sheet.revision,
    hands_in: sheet.handsIn,
  });
}

/** Take into `sheet` what the site holds, after the save `number` was sent. */
export function acknowledge(sheet, number, held) {
  sheet.sent = Math.max(sheet.sent, number);
  sheet.seen = Math.max(sheet.seen, held.revision);
  sheet.finished = held.finished;
  sheet.address = held.address;
  sheet.photosSent = held.photos;
  sheet.problem = "";
  const isOurs = held.device === sheet.device && held.revision === number;
  if (isOurs && sheet.handsIn && !held.finished) {
    sheet.handsIn = false;
    sheet.problem = "Not turned in. Fix the marked answers first.";
  }
  if (isOurs) return;
  if (sheet.revision > number && !held.finished) {
    // Written on since it was sent: the next save comes after what the site holds.
    sheet.revision = Math.max(sheet.revision, held.revision + 1);
    return;
  }
  sheet.content = held.content;
  sheet.revision = sheet.sent = held.revision;
  sheet.handsIn = held.finished;
  sheet.problem = "A newer copy from another device is shown. Yours is in the history.";
}

export class Sender {
  /** `tell` is called whenever anything about what is kept or sent has changed. */
  constructor(user, addresses, tell) {
    Object.assign(this, { user, addresses, tell });
    this.wait = FIRST_WAIT;
    this.timer = 0;
    this.signedOut = false;
    window.addEventListener("online", () => this.send());
    document.addEventListener("visibilitychange", () => document.hidden || this.send());
  }

  /** Send all that is unsent. Of several windows one at a time sends. */
  send() {
    clearTimeout(this.timer);
    return navigator.locks.request("sending check sheets", () => this.sendAll());
  }

  async sendAll() {
    try {
      for (const sheet of await sheetsOf(this.user)) {
        if (isUnsent(sheet) && sheet.refused !== sheet.revision) await this.sendOne(sheet);
      }
      this.wait = FIRST_WAIT;
      this.signedOut = false;
    } catch (error) {
      if (error instanceof SignedOut) this.signedOut = true;
      else if (error instanceof NotNow) this.later();
      else throw error;
    } finally {
      this.tell();
    }
  }

  later() {
    this.timer = setTimeout(() => this.send(), this.wait * (0.75 + Math.random() / 2));
    this.wait = Math.min(this.wait * 2, LONGEST_WAIT);
  }

  async sendOne(sheet) {
    const number = sheet.revision;
    const response = await post(this.addresses.send, envelope(sheet), { "Content-Type": "application/json" });
    if (!response.ok) {
      const problem = `Not sent. ${await problemOf(response)}`;
      await changeSheet(sheet.key, (kept) => Object.assign(kept, { problem, refused: number }));
      return;
    }
    const held = await response.json();
    const kept = await changeSheet(sheet.key, (each) => acknowledge(each, number, held));
    this.tell();
    await this.sendPhotos(kept);
  }

  async sendPhotos(sheet) {
    const wanted = photosToSend(sheet);
    for (const { key, blob } of await photosOf(sheet.key)) {
      if (!wanted.includes(key)) continue;
      const body = new FormData();
      body.set("user", this.user);
      body.set("key", key);
      body.set("photo", blob, "photo.jpg");
      const response = await post(`${this.addresses.sheets}${sheet.key}/photos/`, body);
      const problem = response.ok ? "" : `A photo was not sent. ${await problemOf(response)}`;
      await changeSheet(sheet.key, (kept) => {
        if (response.ok) kept.photosSent.push(key);
        else Object.assign(kept, { problem, refused: kept.revision });
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

  /** Forget the sheets that were handed in and are with the site, photos and all. */
  async tidy() {
    for (const sheet of await sheetsOf(this.user)) {
      if (sheet.finished && !isUnsent(sheet)) await dropSheet(sheet.key);
    }
  }
}
