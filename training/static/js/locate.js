/*
 * Fills in the position from the phone's own receiver, if it has one and may be asked.
 *
 * Without it, the position is typed.
 */

import { _ } from "./say.js";

const DECIMALS = 3; // of a minute: about two meters, finer than a phone can tell
const PATIENCE = 30000; // milliseconds to wait for a fix
const FEET = 3.28084; // in a meter

const TROUBLE = {
  1: _("Location is turned off for this page. Type the position."),
  2: _("Your phone does not know where it is. Type the position."),
  3: _("Your phone took too long to find its position. Try again, or type the position."),
};

/** Degrees and minutes as on a plotter: 42 14.050 N. */
function written(degrees, positive, negative) {
  const scale = 60 * 10 ** DECIMALS;
  const parts = Math.round(Math.abs(degrees) * scale);
  const minutes = ((parts % scale) / 10 ** DECIMALS).toFixed(DECIMALS).padStart(DECIMALS + 3, "0");
  return `${Math.floor(parts / scale)} ${minutes} ${degrees < 0 ? negative : positive}`;
}

class Locate {
  constructor(place) {
    this.told = place.querySelector("[data-locate-told]");
    this.field = place.closest("form").elements.position;
    place.querySelector("[data-locate-button]").addEventListener("click", () => this.ask());
    place.hidden = false;
  }

  ask() {
    this.told.textContent = _("Looking for the position…");
    navigator.geolocation.getCurrentPosition(
      (found) => this.fill(found.coords),
      (error) => {
        this.told.textContent = TROUBLE[error.code];
      },
      { enableHighAccuracy: true, timeout: PATIENCE },
    );
  }

  fill({ latitude, longitude, accuracy }) {
    this.field.value = `${written(latitude, "N", "S")} ${written(longitude, "E", "W")}`;
    this.field.dispatchEvent(new Event("input", { bubbles: true }));
    const feet = Math.ceil((accuracy * FEET) / 10) * 10;
    this.told.textContent = _("Filled in. Your phone says it is accurate to about %(feet)s ft.", { feet });
  }
}

/** Let all places on the page that ask for a position be filled in. */
export function locateAll() {
  if (!("geolocation" in navigator)) return;
  for (const place of document.querySelectorAll("[data-locate]")) new Locate(place);
}
