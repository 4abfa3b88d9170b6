/* How much of each kind waits in the outbox, in words. */

import { ngettext } from "./say.js";

export const COUNTS = {
  noted: (count) => ngettext("%(count)s form filled in without signal", "%(count)s forms filled in without signal", count),
  "check sheet": (count) => ngettext("%(count)s check sheet", "%(count)s check sheets", count),
  "exam answer": (count) => ngettext("%(count)s answer of an exam", "%(count)s answers of an exam", count),
  draft: (count) => ngettext("%(count)s form that is not saved", "%(count)s forms that are not saved", count),
};
