/*
 * The footrope as a board: droppers hung by finger, mouse or keyboard.
 *
 * The board is another way to fill in the typed distances beside it, and follows
 * them when they are typed. It knows where the rope's marks are and nothing of the
 * rules. Places are inches from the center, port negative.
 */

import { printInches, readInches } from "./lengths.js";
import { _, ngettext } from "./say.js";

const SVG = "http://www.w3.org/2000/svg";
const HEIGHT = 150;
const ROPE = 52;
const EDGE = 36; // pixels of paper beyond each wing end
const LEAST_SCALE = 1; // pixels to the inch: a finger can then tell two inches apart
const REACH = 22; // pixels either side of a dropper that a finger takes for it
const CATCH = 6; // inches within which a mark catches a dropper that is dropped there
const STILL = 4; // pixels that a finger may move without dragging
const FAR = 1e6;

function shape(name, attributes, text) {
  const element = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  if (text) element.textContent = text;
  return element;
}

function fromCenter(at) {
  const length = printInches(Math.abs(at));
  if (at === 0) return _("at the center");
  return at < 0
    ? _("%(length)s to port of the center", { length })
    : _("%(length)s to starboard of the center", { length });
}

/** The rope: its marks, and what can be said of a place on it. */
class Rope {
  constructor(marks) {
    this.marks = marks;
    this.start = marks[0].at;
    this.end = marks[marks.length - 1].at;
    this.corners = marks.filter((mark) => mark.name.endsWith("corner"));
  }

  clamp(at) {
    return Math.min(Math.max(at, this.start), this.end);
  }

  /** Return the whole inch, or the mark close by, for a place on the rope. */
  snap(at) {
    const near = this.marks.find((mark) => Math.abs(mark.at - at) <= CATCH);
    return this.clamp(near ? near.at : Math.round(at));
  }

  words(at) {
    const mark = this.marks.find((each) => each.at === at);
    const from = fromCenter(at);
    if (mark) return mark.at === 0 ? from : _("at the %(mark)s, %(from)s", { mark: mark.name, from });
    const corner = this.corners.reduce((best, each) =>
      Math.abs(each.at - at) < Math.abs(best.at - at) ? each : best,
    );
    const length = printInches(Math.abs(corner.at - at));
    return _("%(from)s, %(length)s from the %(corner)s", { from, length, corner: corner.name });
  }
}

/** The typed fields: what the site reads when the answer is handed in. */
class Fields {
  constructor(form) {
    this.port = form.elements.port;
    this.starboard = form.elements.starboard;
    this.center = form.elements.center;
    // Lines that are not understood here stay as they are: the site may read them.
    this.kept = { port: [], starboard: [] };
  }

  read() {
    const places = this.center.checked ? [0] : [];
    for (const side of ["port", "starboard"]) {
      this.kept[side] = [];
      for (const line of this[side].value.split(/[\n;]/)) {
        const inches = readInches(line);
        if (inches !== null) places.push(side === "port" ? -inches : inches);
        else if (line.trim()) this.kept[side].push(line.trim());
      }
    }
    return places;
  }

  write(places) {
    for (const [side, sign] of [["port", -1], ["starboard", 1]]) {
      const distances = places.map((at) => at * sign).filter((at) => at > 0);
      distances.sort((a, b) => a - b);
      this[side].value = [...distances.map(printInches), ...this.kept[side]].join("\n");
    }
    this.center.checked = places.includes(0);
    this.center.dispatchEvent(new Event("board", { bubbles: true }));
  }
}

class Board {
  constructor(section) {
    this.section = section;
    this.strip = section.querySelector("[data-board-strip]");
    this.readout = section.querySelector("[data-board-readout]");
    this.rope = new Rope(JSON.parse(document.getElementById("board-marks").textContent).marks);
    this.fields = new Fields(section.closest("form"));
    this.droppers = []; // {at, group}: a place, and the shapes that stand for it
    this.picked = null;
    this.svg = shape("svg", { height: HEIGHT, class: "board-rope" });
    this.back = shape("g", {});
    this.svg.append(this.back);
    this.svg.addEventListener("click", (event) => this.tapped(event));
    this.strip.append(this.svg);
    section.hidden = false;
    document.querySelectorAll("[data-board-stands-in]").forEach((each) => (each.hidden = true));
    const typed = document.querySelector("[data-board-typed]");
    typed.open = Boolean(typed.querySelector(".is-invalid"));
    this.listen();
    this.measure();
    this.draw();
    this.follow();
    this.show(0);
  }

  measure() {
    const room = this.strip.clientWidth - 2 * EDGE;
    this.scale = Math.max(LEAST_SCALE, room / (this.rope.end - this.rope.start));
    this.width = (this.rope.end - this.rope.start) * this.scale + 2 * EDGE;
  }

  x(at) {
    return EDGE + (at - this.rope.start) * this.scale;
  }

  at(x) {
    return this.rope.start + (x - EDGE) / this.scale;
  }

  listen() {
    const form = this.section.closest("form");
    for (const field of [this.fields.port, this.fields.starboard, this.fields.center]) {
      field.addEventListener("input", () => this.follow());
    }
    form.addEventListener("restored", () => this.follow());
    this.section.addEventListener("click", (event) => {
      const button = event.target.closest("button");
      if (!button) return;
      if (button.dataset.nudge) this.move(Number(button.dataset.nudge));
      if (button.dataset.jump) this.show({ start: -FAR, center: 0, end: FAR }[button.dataset.jump]);
      if ("boardAdd" in button.dataset) this.addInView();
      if ("boardRemove" in button.dataset) this.remove();
    });
    new ResizeObserver(() => {
      const middle = this.at(this.strip.scrollLeft + this.strip.clientWidth / 2);
      this.measure();
      this.draw();
      this.show(middle);
    }).observe(this.strip);
  }

  /** Take over what is typed. */
  follow() {
    for (const dropper of this.droppers) dropper.group.remove();
    this.droppers = this.fields.read().map((at) => this.hang(at));
    this.pick(null);
  }

  /** Scroll so that the place is in the middle. */
  show(at) {
    this.strip.scrollLeft = this.x(this.rope.clamp(at)) - this.strip.clientWidth / 2;
  }

  /** Write the places into the fields, and say them. */
  changed() {
    this.fields.write(this.droppers.map((each) => each.at));
    this.tell();
  }

  add(at) {
    const dropper = this.hang(this.rope.snap(at));
    this.droppers.push(dropper);
    this.pick(dropper);
    this.changed();
  }

  addInView() {
    let at = this.rope.snap(this.at(this.strip.scrollLeft + this.strip.clientWidth / 2));
    // Beside whatever hangs there already, so that it can be seen and picked.
    const step = Math.ceil((2 * REACH) / this.scale);
    const taken = (each) => Math.abs(each.at - at) < step;
    while (this.droppers.some(taken) && at + step <= this.rope.end) at += step;
    this.add(at);
    this.picked.group.focus({ preventScroll: true });
  }

  put(dropper, at) {
    if (dropper.at === at) return;
    dropper.at = at;
    this.place(dropper);
    this.changed();
  }

  move(step) {
    if (!this.picked) return;
    this.put(this.picked, this.rope.clamp(Math.round(this.picked.at) + step));
    const x = this.x(this.picked.at) - this.strip.scrollLeft;
    if (x < EDGE || x > this.strip.clientWidth - EDGE) this.show(this.picked.at);
  }

  remove() {
    if (!this.picked) return;
    const gone = this.picked;
    this.droppers = this.droppers.filter((each) => each !== gone);
    gone.group.remove();
    this.pick(null);
    this.changed();
  }

  pick(dropper) {
    this.picked = dropper;
    for (const each of this.droppers) each.group.toggleAttribute("data-picked", each === dropper);
    this.tell();
  }

  // Drawing

  draw() {
    this.svg.setAttribute("width", this.width);
    this.back.replaceChildren(...this.ruler(), ...this.line());
    this.droppers.forEach((each) => this.place(each));
  }

  ruler() {
    const shapes = [];
    const y = ROPE + 62;
    for (let foot = Math.ceil(this.rope.start / 12); foot * 12 <= this.rope.end; foot += 1) {
      const x = this.x(foot * 12);
      const long = foot % 5 === 0;
      shapes.push(shape("line", { x1: x, x2: x, y1: y - (long ? 10 : 5), y2: y, class: "board-tick" }));
      if (long) shapes.push(shape("text", { x, y: y + 20, class: "board-number" }, `${Math.abs(foot)}`));
    }
    shapes.push(shape("line", { x1: this.x(this.rope.start), x2: this.x(this.rope.end), y1: y, y2: y, class: "board-tick" }));
    return shapes;
  }

  line() {
    const shapes = [
      shape("line", { x1: this.x(this.rope.start), x2: this.x(this.rope.end), y1: ROPE, y2: ROPE, class: "board-line" }),
    ];
    for (const mark of this.rope.marks) {
      const x = this.x(mark.at);
      const name = mark.name.replace(/^(port|starboard) /, "");
      const first = mark.at === this.rope.start;
      const last = mark.at === this.rope.end;
      shapes.push(
        shape("line", { x1: x, x2: x, y1: ROPE - 12, y2: ROPE + 12, class: "board-mark" }),
        shape("text", { x: x + (first ? -12 : last ? 12 : 0), y: ROPE - 22, class: `board-name${first ? " is-first" : last ? " is-last" : ""}` }, name),
      );
    }
    return shapes;
  }

  /** Return a new dropper at the place, drawn and ready to be handled. */
  hang(at) {
    const group = shape("g", {
      class: "board-dropper",
      role: "slider",
      tabindex: 0,
      "aria-label": _("Dropper"),
      "aria-valuemin": this.rope.start,
      "aria-valuemax": this.rope.end,
    });
    group.append(
      shape("rect", { x: -REACH, y: ROPE - 16, width: 2 * REACH, height: 66, rx: 6, class: "board-touch" }),
      shape("line", { x1: 0, x2: 0, y1: ROPE, y2: ROPE + 40, class: "board-chain" }),
      shape("circle", { cx: 0, cy: ROPE, r: 11, class: "board-knot" }),
    );
    const dropper = { at, group };
    group.addEventListener("focus", () => this.pick(dropper));
    group.addEventListener("keydown", (event) => this.pressed(event));
    group.addEventListener("pointerdown", (event) => this.grab(event));
    // The strip scrolls under a finger, and a style alone does not keep it still here.
    group.addEventListener("touchstart", (event) => event.preventDefault(), { passive: false });
    this.svg.append(group);
    this.place(dropper);
    return dropper;
  }

  place(dropper) {
    const { at, group } = dropper;
    group.setAttribute("transform", `translate(${this.x(at)} 0)`);
    group.setAttribute("aria-valuenow", at);
    group.setAttribute("aria-valuetext", this.rope.words(at));
  }

  tell() {
    const count = this.droppers.length;
    const hung = ngettext("%(count)s dropper hung.", "%(count)s droppers hung.", count);
    const unread = this.fields.kept.port.length + this.fields.kept.starboard.length;
    const told = [hung];
    if (this.picked) told.unshift(_("Selected: %(place)s.", { place: this.rope.words(this.picked.at) }));
    if (unread) {
      told.push(ngettext("%(count)s typed line is not drawn.", "%(count)s typed lines are not drawn.", unread));
    }
    this.readout.textContent = told.join(" ");
    for (const button of this.section.querySelectorAll("[data-nudge], [data-board-remove]")) {
      button.disabled = !this.picked;
    }
  }

  // Hands

  tapped(event) {
    if (event.target.closest("[role=slider]") || this.dragged) return;
    const at = this.at(event.clientX - this.svg.getBoundingClientRect().left);
    if (at < this.rope.start - REACH / this.scale || at > this.rope.end + REACH / this.scale) return;
    this.add(at);
  }

  pressed(event) {
    const steps = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1, PageDown: -12, PageUp: 12, Home: -FAR, End: FAR };
    if (event.key in steps) this.move(steps[event.key]);
    else if (event.key === "Delete" || event.key === "Backspace") {
      this.remove();
      this.strip.focus();
    } else return;
    event.preventDefault();
  }

  /** Return the dropper closest to where the pointer is: close neighbours overlap. */
  under(event) {
    const at = this.at(event.clientX - this.svg.getBoundingClientRect().left);
    return this.droppers.reduce((best, each) =>
      Math.abs(each.at - at) < Math.abs(best.at - at) ? each : best,
    );
  }

  grab(event) {
    if (event.button) return;
    const dropper = this.under(event);
    const { group } = dropper;
    // The browser would give the focus to the one on top.
    event.preventDefault();
    const hold = this.x(dropper.at) - this.strip.scrollLeft - event.clientX;
    const start = event.clientX;
    const hands = new AbortController();
    group.setPointerCapture(event.pointerId);
    group.focus({ preventScroll: true });
    this.pick(dropper);
    this.dragged = false;

    const move = (now) => {
      // A finger is never quite still: a tap must not shift the dropper.
      if (!this.dragged && Math.abs(now.clientX - start) < STILL) return;
      this.dragged = true;
      const box = this.strip.getBoundingClientRect();
      if (now.clientX > box.right - EDGE) this.strip.scrollLeft += EDGE / 4;
      if (now.clientX < box.left + EDGE) this.strip.scrollLeft -= EDGE / 4;
      this.put(dropper, this.rope.snap(this.at(hold + now.clientX + this.strip.scrollLeft)));
    };
    const done = () => {
      hands.abort();
      // The click that ends a drag comes after this, and must not hang another dropper.
      setTimeout(() => (this.dragged = false));
    };
    group.addEventListener("pointermove", move, { signal: hands.signal });
    for (const name of ["pointerup", "pointercancel"]) {
      group.addEventListener(name, done, { signal: hands.signal });
    }
  }
}

for (const section of document.querySelectorAll("[data-board]")) new Board(section);
