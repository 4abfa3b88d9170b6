/* Hands a form in, for a script that is to know whether it got through. */

import { freshToken } from "./noted.js";
import { person } from "./outbox.js";
import { NotNow, post, SignedOut } from "./sending.js";

export const OK = 200;
export const SHORT_PATIENCE = 8000; // milliseconds, for what is noted if it takes longer
const FORBIDDEN = 403;
const SLOW_DOWN = 429;
const FAULT = 500;

/** Return whether `status`, as `handIn` gives it, says that the site cannot be reached now. */
export function isOutOfReach(status) {
  return status === 0 || status === SLOW_DOWN || status >= FAULT;
}

/** Put a fresh token into `form`, as one that the phone kept has an old one; return whether it went. */
async function renew(form) {
  const token = await freshToken(person()).catch(() => "");
  if (token) form.elements.csrfmiddlewaretoken.value = token;
  return Boolean(token);
}

/** Hand `form` in; return OK, or the status of the site's error, 0 if there was no answer for `patience`. */
export async function handIn(form, patience, isRenewed = false) {
  try {
    const response = await post(form.action, new FormData(form), {}, patience);
    return response.ok ? OK : response.status;
  } catch (error) {
    if (error instanceof NotNow) return error.status;
    if (!(error instanceof SignedOut)) throw error;
    if (error.status === FORBIDDEN && !isRenewed && (await renew(form))) return handIn(form, patience, true);
    return error.status || OK;
  }
}
