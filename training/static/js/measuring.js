/*
 * Two ends to measure a drawing with, by finger, mouse or keyboard.
 *
 * The drawing is true to scale along its width, and so only that is measured. Places are
 * the drawing's own units; the page says how many metres one of them is, and knows where
 * something begins or ends, so that an end can catch on it.
 */

import { printMeasure } from "./lengths.js";
import { _ } from "./say.js";

const METRES_IN_INCH = 0.0254; // by definition
const CATCH = 8; // pixels within which something catches an end
const EDGE = 28; // pixels from the frame's edge at which a drag scrolls it
const LEAP = 10; // times as far, with Shift
const NAMES = [_("First end"), _("Second end")];

function element(name, attributes) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  return made;
}

/** One end: a line across the drawing, and a handle to move it by. */
class End {
  constructor(tool, index) {
    this.tool = tool;
    this.at = 0;
    this.jaw = element("div", { class: `measure-jaw is-${index ? "second" : "first"}` });
    this.grip = element("div", {
      class: "measure-grip",
      role: "slider",
      tabindex: 0,
      "aria-label": NAMES[index],
      "aria-valuemin": 0,
      "aria-valuemax": Math.round(tool.width),
    });
    this.jaw.append(this.grip);
    this.grip.addEventListener("pointerdown", (event) => this.grab(event));
    this.grip.addEventListener("keydown", (event) => this.pressed(event));
    // The frame scrolls under a finger, and a style alone does not keep it still here.
    this.grip.addEventListener("touchstart", (event) => event.preventDefault(), { passive: false });
  }

  /** What lies just here, empty if nothing does. */
  get name() {
    const point = this.tool.points.find(([x]) => Math.abs(x - this.at) < 0.01);
    return point ? point[1] : "";
  }

  put(at) {
    this.at = Math.min(Math.max(at, 0), this.tool.width);
    this.place();
    this.tool.tell();
  }

  place() {
    this.jaw.style.left = `${this.at * this.tool.zoom}px`;
    this.grip.setAttribute("aria-valuenow", Math.round(this.at));
    const from = this.tool.print(this.at - this.tool.points[0][0]);
    this.grip.setAttribute("aria-valuetext", this.name || from);
  }

  pressed(event) {
    const step = (event.shiftKey ? LEAP : 1) / this.tool.zoom;
    const points = this.tool.points.map(([x]) => x);
    const go = {
      ArrowLeft: () => this.at - step,
      ArrowDown: () => this.at - step,
      ArrowRight: () => this.at + step,
      ArrowUp: () => this.at + step,
      PageUp: () => points.find((x) => x > this.at + 0.01) ?? this.at,
      PageDown: () => points.findLast((x) => x < this.at - 0.01) ?? this.at,
      Home: () => points[0],
      End: () => points[points.length - 1],
    }[event.key];
    if (!go) return;
    event.preventDefault();
    this.put(go());
    this.tool.show(this.at);
  }

  grab(event) {
    if (event.button) return;
    event.preventDefault();
    this.grip.focus({ preventScroll: true });
    this.grip.setPointerCapture(event.pointerId);
    const hold = this.at * this.tool.zoom + this.tool.left - event.clientX;
    const hands = new AbortController();
    const move = (now) => {
      const box = this.tool.pane.getBoundingClientRect();
      if (now.clientX > box.right - EDGE) this.tool.pane.scrollLeft += EDGE / 4;
      if (now.clientX < box.left + EDGE) this.tool.pane.scrollLeft -= EDGE / 4;
      this.put(this.tool.caught((hold + now.clientX - this.tool.left) / this.tool.zoom));
    };
    const signal = hands.signal;
    this.grip.addEventListener("pointermove", move, { signal });
    for (const name of ["pointerup", "pointercancel"]) {
      this.grip.addEventListener(name, () => hands.abort(), { signal });
    }
  }
}

/** One drawing in its frame, with both ends over it. */
export class Tool {
  constructor(section) {
    Object.assign(this, JSON.parse(document.getElementById(section.dataset.measure).textContent));
    this.section = section;
    this.pane = section.querySelector("[data-measure-pane]");
    this.paper = section.querySelector("[data-measure-paper]");
    this.told = section.querySelector("[data-measure-told]");
    this.svg = this.paper.querySelector("svg");
    this.width = this.svg.viewBox.baseVal.width;
    // As large as shows the whole, or else as small as goes.
    const room = this.pane.parentElement.clientWidth;
    this.zoomed = Math.max(this.zooms.findLastIndex((zoom) => zoom * this.width <= room), 0);
    section.querySelectorAll("[data-measure-only]").forEach((each) => (each.hidden = false));
    section.classList.add("is-live");
    this.span = element("div", { class: "measure-span" });
    this.ends = [new End(this, 0), new End(this, 1)];
    this.paper.append(this.span, ...this.ends.map((end) => end.jaw));
    this.paper.addEventListener("click", (event) => this.tapped(event));
    section.querySelector("[data-measure-fetch]").addEventListener("click", () => this.fetch());
    for (const button of section.querySelectorAll("[data-measure-zoom]")) {
      button.addEventListener("click", () => this.enlarge(Number(button.dataset.measureZoom)));
    }
    this.enlarge(0);
    this.fetch();
  }

  get zoom() {
    return this.zooms[this.zoomed];
  }

  /** Where the drawing's left edge lies on the screen, which scrolling changes. */
  get left() {
    return this.paper.getBoundingClientRect().left;
  }

  get metres() {
    return Math.abs(this.ends[0].at - this.ends[1].at) * this.metresPerUnit;
  }

  /** Print a length in units as feet and inches. */
  print(units) {
    return printMeasure((Math.abs(units) * this.metresPerUnit) / METRES_IN_INCH, this.under);
  }

  get reading() {
    return this.print(this.ends[0].at - this.ends[1].at);
  }

  /** What lies between the ends, empty unless both are at something. */
  get between() {
    const [from, to] = [...this.ends].sort((a, b) => a.at - b.at).map((end) => end.name);
    return from && to && from !== to ? _("%(from)s to %(to)s", { from, to }) : "";
  }

  tell() {
    const [from, to] = this.ends.map((end) => end.at).sort((a, b) => a - b);
    this.span.style.left = `${from * this.zoom}px`;
    this.span.style.width = `${(to - from) * this.zoom}px`;
    const fathoms = this.metresPerFathom ? ` (${(this.metres / this.metresPerFathom).toFixed(1)} fm)` : "";
    const length = `${this.reading}${fathoms}`;
    this.told.textContent = this.between
      ? `${length}, ${this.between}`
      : _("%(length)s between the ends", { length });
  }

  /** Return the place of something close by, or the place itself. */
  caught(at) {
    const near = this.points.reduce((best, each) =>
      Math.abs(each[0] - at) < Math.abs(best[0] - at) ? each : best,
    );
    return Math.abs(near[0] - at) * this.zoom <= CATCH ? near[0] : at;
  }

  tapped(event) {
    if (event.target.closest("[role=slider]")) return;
    const at = (event.clientX - this.left) / this.zoom;
    const [one, other] = this.ends;
    const nearer = Math.abs(one.at - at) <= Math.abs(other.at - at) ? one : other;
    nearer.put(this.caught(at));
  }

  /** Return the first and the last place in view. */
  get view() {
    const start = this.pane.scrollLeft / this.zoom;
    return [start, Math.min(start + this.pane.clientWidth / this.zoom, this.width)];
  }

  /** Bring both ends to where they can be seen. */
  fetch() {
    const [start, end] = this.view;
    this.ends[0].put(start + (end - start) / 4);
    this.ends[1].put(start + ((end - start) * 3) / 4);
  }

  /** Scroll so that the place can be seen. */
  show(at) {
    const [start, end] = this.view;
    if (at >= start && at <= end) return;
    this.pane.scrollLeft = at * this.zoom - this.pane.clientWidth / 2;
  }

  /** Put both ends where they were when a measurement was kept. */
  set(from, to) {
    this.ends[0].put(from);
    this.ends[1].put(to);
    this.pane.scrollLeft = ((from + to) / 2) * this.zoom - this.pane.clientWidth / 2;
  }

  enlarge(step) {
    const [start, end] = this.view;
    const held = this.ends.map((each) => each.at).filter((at) => at >= start && at <= end);
    // What is measured stays in view, or else the middle of what is seen.
    const middle = step && held.length ? held.reduce((a, b) => a + b) / held.length : (start + end) / 2;
    this.zoomed = Math.min(Math.max(this.zoomed + step, 0), this.zooms.length - 1);
    this.svg.setAttribute("width", this.width * this.zoom);
    this.svg.setAttribute("height", this.svg.viewBox.baseVal.height * this.zoom);
    this.paper.style.setProperty("--zoom", this.zoom);
    for (const button of this.section.querySelectorAll("[data-measure-zoom]")) {
      const next = this.zoomed + Number(button.dataset.measureZoom);
      button.setAttribute("aria-disabled", String(next < 0 || next >= this.zooms.length));
    }
    for (const each of this.ends) each.place();
    this.tell();
    this.pane.scrollLeft = middle * this.zoom - this.pane.clientWidth / 2;
  }
}
