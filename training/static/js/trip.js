/*
 * Where and when: the position can come from the phone's own receiver, and where the site does not
 * answer the page tells what it has of the day and the place.
 */

import { locateAll } from "./locate.js";
import { tellAhead } from "./trip_ahead.js";

locateAll();
for (const form of document.querySelectorAll("form[data-trip]")) tellAhead(form);
