/*
 * Reads a lesson aloud with the voice that the browser brings; hidden where it brings none.
 *
 * What is read is what is shown: headings, paragraphs, lists, tables row by row, and of a drawing
 * its caption and its words. What is folded away is passed over.
 */

import { _ } from "./say.js";

const BLOCKS = "h2, p, li, caption, tr, figcaption, dt, dd, svg";
const PASSED_OVER = "form, details:not([open]) > :not(summary), thead, [hidden]";
const MOST_OF_A_DRAWING = 60; // words; a chart's list of corners is not for the ear

// As a voice should say them. Only behind a figure: "in" alone is a word.
const UNITS = [
  [/(\d)[\s\u00a0]in\b/g, "$1 inches"],
  [/(\d)[\s\u00a0]ft\b/g, "$1 feet"],
  [/(\d)[\s\u00a0]fm\b/g, "$1 fathoms"],
  [/(\d)[\s\u00a0]cm\b/g, "$1 centimeters"],
  [/(\d)[\s\u00a0]mm\b/g, "$1 millimeters"],
  [/(\d)[\s\u00a0]m\b/g, "$1 meters"],
  [/(\d)[\s\u00a0]lb\b/g, "$1 pounds"],
  [/(\d)[\s\u00a0]kn\b/g, "$1 knots"],
  [/\(?\b\d+ CFR [\d.]+(\([a-zA-Z0-9]+\))*\)?/g, ""], // a clause is for the eye
  [/\*/g, ""],
];

export function said(text) {
  const plain = text.replace(/[^\S\u00a0]+/g, " ").trim();
  return UNITS.reduce((words, [unit, full]) => words.replace(unit, full), plain);
}

function wordsOf(drawing) {
  const title = drawing.querySelector("title")?.textContent ?? "";
  const about = drawing.querySelector("desc")?.textContent ?? "";
  const isShort = about.split(/\s+/).length <= MOST_OF_A_DRAWING;
  return _("Drawing. %(title)s. %(about)s", { title, about: isShort ? about : "" });
}

/** Return what is read of the element `lesson`, piece by piece, each with its element. */
function pieces(lesson) {
  const found = [];
  for (const block of lesson.querySelectorAll(BLOCKS)) {
    if (block.closest(PASSED_OVER) || block.parentElement.closest("svg, tr")) continue;
    if (block.matches("li, dd") && block.querySelector("p, li")) continue;
    const text = block.matches("svg")
      ? wordsOf(block)
      : block.matches("tr")
        ? [...block.cells].map((cell) => cell.textContent).join(": ")
        : block.textContent;
    if (said(text)) found.push({ block, text: said(text) });
  }
  return found;
}

class Reader {
  constructor(bar) {
    this.lesson = document.querySelector(bar.dataset.hear);
    this.button = bar.querySelector("button");
    this.status = bar.querySelector("[role=status]");
    this.at = -1; // the piece being read; -1 for none
    this.button.addEventListener("click", () => (this.at < 0 ? this.play() : this.stop(_("Stopped."))));
    addEventListener("pagehide", () => speechSynthesis.cancel());
    bar.hidden = false;
  }

  play() {
    this.pieces = pieces(this.lesson);
    this.button.textContent = _("Stop reading");
    this.status.textContent = _("Reading aloud.");
    this.read(0);
  }

  read(at) {
    if (at >= this.pieces.length) {
      this.stop(_("That was the whole lesson."));
      return;
    }
    this.at = at;
    const { block, text } = this.pieces[at];
    this.mark(block);
    const voice = new SpeechSynthesisUtterance(text);
    voice.lang = "en-US";
    voice.onend = () => this.at === at && this.read(at + 1);
    voice.onerror = () => this.at === at && this.stop(_("The voice stopped. Press Hear this lesson to start over."));
    speechSynthesis.speak(voice);
  }

  stop(words) {
    this.at = -1;
    this.mark(null);
    speechSynthesis.cancel();
    this.button.textContent = _("Hear this lesson");
    this.status.textContent = words;
  }

  mark(block) {
    this.lesson.querySelector(".is-read-aloud")?.classList.remove("is-read-aloud");
    block?.classList.add("is-read-aloud");
  }
}

if ("speechSynthesis" in window && "SpeechSynthesisUtterance" in window) {
  for (const bar of document.querySelectorAll("[data-hear]")) new Reader(bar);
}
