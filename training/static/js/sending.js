/*
 * Sends to the site what it lacks, until the site has said that it has it.
 *
 * On a lost connection or a site in trouble it is tried again, ever less often, and at once when
 * the connection or the reader is back. What is sent must bear to come twice: a reply can be lost.
 */

const FIRST_WAIT = 2000; // milliseconds until it is tried again, doubled each time
const LONGEST_WAIT = 60000;
export const PATIENCE = 30000; // milliseconds that the site has to answer
export const LONG_PATIENCE = 120000; // for a photo on a weak signal

/** The site did not answer, or with `status`: later it may. */
export class NotNow extends Error {
  constructor(status = 0) {
    super(`not now: ${status}`);
    this.status = status;
  }
}

/** Nobody is signed in, or somebody else: the site leads to where one does, or says 403. */
export class SignedOut extends Error {
  constructor(status) {
    super(`signed out: ${status}`);
    this.status = status;
  }
}

/**
 * Post `body`; return the response, which may be a refusal. Throws NotNow or SignedOut; what hangs
 * for `patience` milliseconds is broken off, and later it may go.
 */
export async function post(address, body, headers = {}, patience = PATIENCE) {
  let response;
  try {
    response = await fetch(address, {
      method: "POST",
      body,
      headers: { Accept: "application/json", ...headers },
      redirect: "manual",
      signal: AbortSignal.timeout(patience),
    });
  } catch {
    throw new NotNow();
  }
  if (response.type === "opaqueredirect" || response.status === 403) throw new SignedOut(response.status);
  if (response.status >= 500 || response.status === 429) throw new NotNow(response.status);
  return response;
}

/** Return the JSON that a response holds; an answer that breaks off is as good as none. */
export async function told(response) {
  try {
    return await response.json();
  } catch {
    throw new NotNow();
  }
}

/** Sends again and again what `work` sends, one at a time over all windows of this browser. */
export class Sender {
  /**
   * `work()` sends all that is unsent, and throws NotNow or SignedOut if it cannot; `failed(error)`
   * is told of either. `name` tells apart what may be sent side by side.
   */
  constructor(name, work, failed) {
    Object.assign(this, { name, work, failed });
    this.wait = FIRST_WAIT;
    this.timer = 0;
    this.last = Promise.resolve();
    window.addEventListener("online", () => this.send());
    document.addEventListener("visibilitychange", () => document.hidden || this.send());
  }

  /** Send; return what `work` returns, null if it could not. */
  send() {
    clearTimeout(this.timer);
    // Locks are there on secure addresses alone. Without them one window still takes turns.
    if (navigator.locks) return navigator.locks.request(`sending ${this.name}`, () => this.attempt());
    this.last = this.last.then(() => this.attempt());
    return this.last;
  }

  /** Send after `pause` milliseconds, unless it is sent before. */
  soon(pause) {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.send(), pause);
  }

  async attempt() {
    try {
      const said = await this.work();
      this.wait = FIRST_WAIT;
      return said;
    } catch (error) {
      if (error instanceof NotNow) this.later();
      else if (!(error instanceof SignedOut)) throw error;
      this.failed(error);
      return null;
    }
  }

  later() {
    // A little by chance, so that a whole dock does not come back at one moment.
    this.soon(this.wait * (0.75 + Math.random() / 2));
    this.wait = Math.min(this.wait * 2, LONGEST_WAIT);
  }
}
