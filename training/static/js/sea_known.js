/*
 * Who holds this phone, as far as its worker knows, and what it must do before all else.
 *
 * The holder is whom the site named last, or nobody after a sign-out. Of the pages on the phone
 * only the holder's open. `known` is at hand at once, so that the worker can leave alone what is
 * no matter of its own.
 */

import { dropFact, fact, setFact } from "./sea_facts.js";
import { allKept, freeAll, keptFor } from "./sea_kept.js";

export const known = {
  isLoaded: false,
  holder: 0,
  sent: 0, // when anything was sent to the site last
  leaving: null, // a sign-out that the site has not heard of
  paths: new Set(), // what is kept of the holder
};

export async function loadKnown() {
  known.holder = await fact("holder", 0);
  known.sent = Math.max(known.sent, await fact("sent", 0));
  known.leaving = await fact("leaving");
  await lookAtKept();
  known.isLoaded = true;
}

/** Look anew at what is kept of the holder. */
export async function lookAtKept() {
  known.paths = new Set((await allKept(known.holder)).map(({ address }) => address));
}

/** Note that something is sent to the site: what is kept may not be as the site has it any more. */
export async function noteSent() {
  known.sent = Date.now();
  await setFact("sent", known.sent);
}

/** Forget all pages of `person`, and what was noted of them. */
export async function freePerson(person) {
  await freeAll(person);
  for (const name of ["taken", "token"]) await dropFact(`${name} ${person}`);
  if (person === known.holder) await lookAtKept();
}

/** Have `person` hold this phone, 0 for nobody. The pages of everybody else go when somebody comes. */
export async function setHolder(person) {
  known.holder = person;
  await setFact("holder", person);
  if (person) for (const other of await keptFor()) if (other !== person) await freePerson(other);
  await lookAtKept();
}

/** Note a sign-out of which the site has not heard: `sent` is its {address, body}. */
export async function beginLeaving(sent) {
  known.leaving = sent;
  await setFact("leaving", sent);
  await freePerson(known.holder);
  await setHolder(0);
}

export async function endLeaving() {
  known.leaving = null;
  await dropFact("leaving");
}
