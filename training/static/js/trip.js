/*
 * Fills in the position from the phone's own receiver, if it has one and may be asked.
 *
 * Without it, the position is typed.
 */

const DECIMALS = 5; // of a degree: about a metre, finer than a phone can tell
const PATIENCE = 30000; // milliseconds to wait for a fix

const TROUBLE = {
  1: "The phone may not tell its position to this page. Type it in.",
  2: "The phone does not know where it is. Type the position in.",
  3: "The phone took too long to find where it is. Try again, or type the position in.",
};

class Locate {
  constructor(place) {
    this.told = place.querySelector("[data-locate-told]");
    this.field = place.closest("form").elements.position;
    place.querySelector("[data-locate-button]").addEventListener("click", () => this.ask());
    place.hidden = false;
  }

  ask() {
    this.told.textContent = "Looking for the position…";
    navigator.geolocation.getCurrentPosition(
      (found) => this.fill(found.coords),
      (error) => {
        this.told.textContent = TROUBLE[error.code];
      },
      { enableHighAccuracy: true, timeout: PATIENCE },
    );
  }

  fill({ latitude, longitude, accuracy }) {
    this.field.value = `${latitude.toFixed(DECIMALS)}, ${longitude.toFixed(DECIMALS)}`;
    this.told.textContent = `Filled in, to within ${Math.ceil(accuracy)} metres by the phone's own reckoning.`;
  }
}

if ("geolocation" in navigator) {
  for (const place of document.querySelectorAll("[data-locate]")) new Locate(place);
}
