/* Where and when: the position can come from the phone's own receiver. */

import { locateAll } from "./locate.js";

locateAll();
