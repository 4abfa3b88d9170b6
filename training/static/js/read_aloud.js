/*
 * Reads one question of an exam aloud, with the answers to choose from, for whom it is granted.
 *
 * The voice is the browser's own. What is read is what is shown, in its order; what was
 * answered is not read, since others may be in the room.
 */

import { said } from "./hear.js";
import { _ } from "./say.js";

const BLOCKS = "h1, p, li, legend, label, th, td, caption, figcaption, svg > title, svg > desc";
const PASSED_OVER = "nav, details:not([open]) > :not(summary), [role=status], .tag, .visually-hidden";

function shown(block) {
  return block.closest("svg") || block.getClientRects().length > 0;
}

function texts(page) {
  return [...page.querySelectorAll(BLOCKS)]
    .filter((block) => !block.closest(PASSED_OVER) && !block.closest("[data-read-aloud]"))
    .filter((block) => !block.querySelector(BLOCKS) && shown(block))
    .map((block) => said(block.textContent))
    .filter(Boolean);
}

for (const bar of document.querySelectorAll("[data-read-aloud]")) {
  const button = bar.querySelector("button");
  const status = bar.querySelector("[role=status]");
  let reading = 0; // which press is being read; 0 for none
  let presses = 0;

  const stop = (words) => {
    reading = 0;
    speechSynthesis.cancel();
    button.textContent = _("Read the question aloud");
    status.textContent = words;
  };

  const play = () => {
    reading = ++presses;
    const mine = reading;
    const found = texts(document.getElementById("content"));
    button.textContent = _("Stop reading");
    status.textContent = _("Reading aloud.");
    found.forEach((text, index) => {
      const voice = new SpeechSynthesisUtterance(text);
      voice.lang = document.documentElement.lang;
      const isLast = index === found.length - 1;
      voice.onend = () => isLast && reading === mine && stop(_("That was the whole question."));
      voice.onerror = () => reading === mine && stop(_("The voice stopped. Press the button again."));
      speechSynthesis.speak(voice);
    });
  };

  if ("speechSynthesis" in window && "SpeechSynthesisUtterance" in window) {
    button.addEventListener("click", () => (reading ? stop(_("Stopped.")) : play()));
    addEventListener("pagehide", () => speechSynthesis.cancel());
  } else {
    button.disabled = true;
    status.textContent = _("This browser has no voice. Ask the staff to read the question to you.");
  }
}
