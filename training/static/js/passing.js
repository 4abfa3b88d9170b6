/*
 * The footrope of the first page: raised and lowered by a finger on it, or by the slider.
 *
 * Nothing is reckoned here: the site sends how everything lies at each height, in `frames`.
 * Without them, or without this script, the button shows a height on a page of its own.
 */

class Passing {
  constructor(form, { grip, inch, frames }) {
    this.dial = form.querySelector("input[type=range]");
    this.svg = form.querySelector("svg");
    this.words = form.querySelector("[data-passing-words]");
    this.grip = form.querySelector("[data-passing-grip]");
    this.place = grip;
    this.inch = inch;
    this.frames = frames;
    this.first = frames[Number(this.dial.defaultValue)]; // as the site drew it
    this.grip.style.left = `${grip.left * 100}%`;
    this.grip.hidden = false;
    form.querySelector("[data-passing-button]").hidden = true;
    form.addEventListener("submit", (event) => event.preventDefault());
    this.dial.addEventListener("input", () => this.show());
    this.grip.addEventListener("pointerdown", (event) => this.taken(event));
    this.show();
  }

  taken(event) {
    event.preventDefault();
    this.grip.setPointerCapture(event.pointerId);
    const moved = (now) => this.pulled(now);
    const released = () => this.grip.removeEventListener("pointermove", moved);
    this.grip.addEventListener("pointermove", moved);
    for (const end of ["pointerup", "pointercancel"]) this.grip.addEventListener(end, released, { once: true });
  }

  /** Put the footrope where the finger is. */
  pulled(event) {
    const { top, height } = this.svg.getBoundingClientRect();
    const up = this.place.bottom - (event.clientY - top) / height;
    this.dial.value = Math.round(up / this.inch); // the slider keeps it within its ends
    this.show();
  }

  show() {
    const inches = Number(this.dial.value);
    const frame = this.frames[inches];
    for (const shape of this.svg.querySelectorAll("[data-part]")) this.put(shape, shape.dataset.part, frame);
    this.grip.style.top = `${(this.place.bottom - inches * this.inch) * 100}%`;
    this.words.replaceChildren(
      ...frame.told.map((sentence) => Object.assign(document.createElement("p"), { textContent: sentence })),
    );
    this.svg.querySelector("desc").textContent = frame.told.join(" ");
    this.dial.setAttribute("aria-valuetext", frame.told.join(" "));
  }

  put(shape, part, frame) {
    if (part in frame.lines) {
      shape.setAttribute("points", frame.lines[part]);
      return;
    }
    shape.setAttribute("transform", `translate(0 ${this.first.lifts[part] - frame.lifts[part]})`);
    if (part === "words") shape.textContent = frame.words;
  }
}

async function begin(form) {
  const answer = await fetch(form.dataset.passing);
  if (answer.ok) new Passing(form, await answer.json());
}

for (const form of document.querySelectorAll("form[data-passing]")) begin(form).catch(() => {}); // the button still works
