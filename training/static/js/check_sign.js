/*
 * Names signed on the glass: of the officer, the skipper and a witness.
 *
 * Strokes are kept as points on a field of 1000 by 300, whatever the size of the glass. Who
 * cannot or will not draw types the name alone, or is noted as having declined.
 */

import { clock, stamp } from "./moments.js";
import { _ } from "./say.js";

const [WIDTH, HEIGHT] = [1000, 300];
const LINE = 5;

/** Return the signature of `role` in `content`, an empty one if there is none. */
function signatureOf(content, role) {
  const none = { role, name: "", at: "", strokes: [], refused: false };
  return content.signatures.find((each) => each.role === role) ?? none;
}

/** Return whether anything was written on `content` since it was signed at `at`. */
function isChangedSince({ readings }, at) {
  const signed = new Date(at);
  return readings.some(({ at: read, struck }) => [read, struck].some((time) => time && new Date(time) > signed));
}

export class SignView {
  /** `sheet` is the SheetView. */
  constructor(root, sheet) {
    Object.assign(this, { root, sheet });
    this.role = root.dataset.sign;
    this.canvas = root.querySelector("canvas");
    this.pen = this.canvas.getContext("2d");
    this.name = root.querySelector("[data-sign-name]");
    this.refused = root.querySelector("[data-sign-refused]");
    this.strokes = [];
    this.stroke = null;
    Object.assign(this.canvas, { width: WIDTH, height: HEIGHT });
    this.listen();
  }

  listen() {
    this.canvas.addEventListener("pointerdown", (event) => this.begin(event));
    this.canvas.addEventListener("pointermove", (event) => this.draw(event));
    for (const name of ["pointerup", "pointercancel"]) this.canvas.addEventListener(name, () => this.end());
    this.root.querySelector("[data-sign-clear]").addEventListener("click", () => this.clear());
    this.name.addEventListener("input", () => this.save());
    this.refused.addEventListener("input", () => this.save());
  }

  point({ clientX, clientY }) {
    const { left, top, width, height } = this.canvas.getBoundingClientRect();
    const within = (value, most) => Math.max(0, Math.min(most, Math.round(value)));
    return [within(((clientX - left) / width) * WIDTH, WIDTH), within(((clientY - top) / height) * HEIGHT, HEIGHT)];
  }

  begin(event) {
    if (this.isFixed) return;
    event.preventDefault();
    this.canvas.setPointerCapture(event.pointerId);
    this.stroke = [this.point(event)];
  }

  draw(event) {
    if (!this.stroke) return;
    this.stroke.push(this.point(event));
    this.paint();
  }

  end() {
    if (!this.stroke) return;
    this.strokes.push(this.stroke);
    this.stroke = null;
    this.paint();
    this.save();
  }

  clear() {
    this.strokes = [];
    this.paint();
    this.save();
  }

  paint() {
    const { pen } = this;
    pen.clearRect(0, 0, WIDTH, HEIGHT);
    Object.assign(pen, { lineWidth: LINE, lineCap: "round", lineJoin: "round", strokeStyle: getComputedStyle(this.canvas).color });
    for (const stroke of [...this.strokes, this.stroke].filter(Boolean)) {
      pen.beginPath();
      pen.moveTo(...stroke[0]);
      for (const point of stroke) pen.lineTo(...point);
      pen.stroke();
    }
  }

  save() {
    const told = {
      role: this.role,
      name: this.name.value.trim(),
      at: stamp(),
      strokes: this.refused.checked ? [] : this.strokes,
      refused: this.refused.checked,
    };
    const isEmpty = !told.name && !told.strokes.length && !told.refused;
    this.sheet.change(({ content }) => {
      const others = content.signatures.filter(({ role }) => role !== this.role);
      content.signatures = isEmpty ? others : [...others, told];
    }, this.root);
  }

  fill(content, isFixed) {
    this.isFixed = isFixed;
    const { name, at, strokes, refused } = signatureOf(content, this.role);
    if (this.name !== document.activeElement) this.name.value = name || (this.role === "officer" ? "" : content.head[this.role]);
    this.refused.checked = refused;
    if (!this.stroke) this.strokes = strokes;
    this.canvas.hidden = refused;
    this.paint();
    const told = this.root.querySelector("[data-sign-told]");
    const isSigned = strokes.length > 0 || refused;
    const time = at && clock(new Date(at));
    const words = refused ? _("Declined to sign at %(time)s", { time }) : _("Signed at %(time)s", { time });
    const since = isSigned && isChangedSince(content, at) ? _("Readings changed after that.") : "";
    told.textContent = isSigned ? [words, since].filter(Boolean).join(" ") : "";
  }
}
