/*
 * A drawing of a net in flight that one can act on: floats put on, a leg chosen, the sweep cut.
 *
 * All of it sets fields of the form and leaves the rest to it, so that each has an equal there for
 * who does not see the drawing or cannot tap it. A float is dragged from beside the drawing onto
 * the headrope and off it again, or put on by a tap on a place.
 */

import { made } from "./elements.js";
import { apart, placeAt, pointsOf, TOUCH } from "./flight_places.js";
import { _ } from "./say.js";

const ABOVE = 24; // pixels over the headrope, so that what is put on stays in sight
const REACH = 60; // pixels from the headrope within which a float is put on it
const DRAGGED = 6; // pixels from which on a tap is none
const OVER = ["over_port_end", "over_port_corner", "over_center", "over_starboard_corner", "over_starboard_end"];
const LEGS = ["port top", "port bottom", "starboard top", "starboard bottom"];

const PLACES = [
  _("port wing end"),
  _("port corner"),
  _("center"),
  _("starboard corner"),
  _("starboard wing end"),
];
const LEG_NAMES = [
  _("Port top leg: make it longer"),
  _("Port bottom leg: make it longer"),
  _("Starboard top leg: make it longer"),
  _("Starboard bottom leg: make it longer"),
];

function button(text, name, look, act) {
  const one = made("button", text, look);
  one.type = "button";
  one.setAttribute("aria-label", name);
  one.addEventListener("click", act);
  return one;
}

export class Hands {
  constructor(form, figure) {
    this.form = form;
    this.figure = figure;
    this.lost = ""; // what had the focus and is not there any more
    this.sizes = new ResizeObserver(() => this.put());
    this.show();
  }

  /** Put hands on the drawing that is there now, and the focus back where it was. */
  show(focused = "") {
    this.sizes.disconnect();
    this.svg = this.figure.querySelector("[data-flight-ahead] svg");
    this.off = made("p", "", "flight-off");
    this.off.setAttribute("aria-live", "off");
    if (this.svg) this.lay();
    else this.figure.append(this.off); // what cannot be flown can still be taken off again
    this.fill(focused || (document.activeElement === document.body ? this.lost : ""));
  }

  /** Lay what can be tapped over the drawing. */
  lay() {
    this.paper = made("div", "", "flight-hands");
    // What can be tapped is no news; the headline is.
    this.paper.setAttribute("aria-live", "off");
    this.svg.replaceWith(this.paper);
    this.holds = made("div");
    this.paper.append(this.tray(), this.svg, this.holds);
    this.paper.after(this.off);
    for (const each of [this.paper, this.svg]) this.sizes.observe(each); // the tray's text may grow
  }

  /** Beside the drawing, the float to be dragged. A tap on the drawing does the same. */
  tray() {
    const tray = made("p", "", "flight-tray");
    const float = made("span", "", "flight-float");
    float.setAttribute("aria-hidden", "true");
    float.dataset.hold = "float";
    float.addEventListener("pointerdown", (event) => this.drag(event, float, -1));
    tray.append(float, _("Drag the float on, or tap a +. Tap a leg to make it longer."));
    return tray;
  }

  field(name) {
    return this.form.elements[name] ?? null;
  }

  count(index) {
    return Number.parseInt(this.field(OVER[index]).value, 10) || 0;
  }

  /** Change the floats at a place by `by`, as if that had been typed. */
  change(changes) {
    for (const [index, by] of changes) {
      const field = this.field(OVER[index]);
      const most = Number(field.max);
      field.value = String(Math.min(Math.max(this.count(index) + by, 0), most) || "");
    }
    this.fill(document.activeElement?.dataset.hold);
    this.form.dispatchEvent(new Event("input", { bubbles: true }));
  }

  /** Make what can be tapped anew, and put the focus back. */
  fill(focused = "") {
    this.off.replaceChildren(...OVER.map((__, index) => this.takeOff(index)).filter(Boolean));
    if (this.svg) {
      const { floats, sweep } = this.svg.dataset;
      this.all = [];
      if (floats) OVER.forEach((__, index) => this.all.push(this.float(index)));
      LEGS.forEach((leg, index) => this.all.push(this.leg(leg, LEG_NAMES[index])));
      const cut = this.field("cut_sweep");
      if (cut && sweep) this.all.push(this.sweep(cut));
      this.holds.replaceChildren(...this.all);
      this.put();
    }
    // Where the last was taken off there is no button for it left.
    const hold = focused ? (this.hold(focused) ?? this.hold(focused.replace("off_", ""))) : null;
    hold?.focus({ preventScroll: true });
    this.lost = hold ? "" : focused; // for the drawing that is to come
  }

  hold(name) {
    return this.figure.querySelector(`[data-hold="${name}"]`);
  }

  float(index) {
    const [place, count] = [PLACES[index], this.count(index)];
    const name = count
      ? _("Put one more float on over the %(place)s. More there now: %(count)s", { place, count })
      : _("Put a float on over the %(place)s", { place });
    const hold = button(count ? `+${count}` : "+", name, `flight-hold${count ? " is-set" : ""}`, () => {
      if (!this.dragged) this.change([[index, 1]]);
    });
    hold.dataset.hold = OVER[index];
    if (count) hold.addEventListener("pointerdown", (event) => this.drag(event, hold, index));
    return hold;
  }

  takeOff(index) {
    if (!this.count(index)) return null;
    const text = _("Take a float off: %(place)s", { place: PLACES[index] });
    const one = button(text, text, "button button-quiet", () => this.change([[index, -1]]));
    one.dataset.hold = `off_${OVER[index]}`;
    return one;
  }

  leg(leg, name) {
    const chosen = this.field("leg").value === leg;
    const hold = button(_("leg"), name, `flight-hold is-word${chosen ? " is-set" : ""}`, () => this.choose(leg));
    hold.setAttribute("aria-pressed", String(chosen));
    hold.dataset.hold = leg;
    return hold;
  }

  /** Choose a leg in the form, and ask there by how much. */
  choose(leg) {
    const [field, by] = [this.field("leg"), this.field("leg_by")];
    field.value = leg;
    field.closest("details").open = true;
    this.fill();
    by.focus();
    if (by.value) field.dispatchEvent(new Event("input", { bubbles: true }));
  }

  sweep(cut) {
    const hold = button(_("cut"), _("Cut the sweep"), "flight-hold is-word", () => {
      cut.checked = true;
      cut.closest("details").open = true;
      cut.dispatchEvent(new Event("input", { bubbles: true }));
    });
    hold.dataset.hold = "sweep";
    return hold;
  }

  /** Put what can be tapped where it belongs on the drawing as large as it is now. */
  put() {
    const box = this.svg.getBoundingClientRect();
    this.scale = box.width / this.svg.viewBox.baseVal.width;
    const { floats, legs, sweep } = this.svg.dataset;
    this.rope = pointsOf(floats, this.scale);
    const points = [
      ...this.rope.map(([x, y]) => [x, y - ABOVE]),
      ...pointsOf(legs, this.scale),
      ...(this.all.some((each) => each.dataset.hold === "sweep") ? pointsOf(sweep, this.scale) : []),
    ].map(([x, y]) => [Math.min(Math.max(x, TOUCH / 2), box.width - TOUCH / 2), y]);
    const top = box.top - this.paper.getBoundingClientRect().top;
    apart(points).forEach(([x, y], index) => {
      Object.assign(this.all[index].style, { left: `${x}px`, top: `${top + y}px` });
    });
  }

  /** Drag a float: a new one from beside the drawing (`from` -1), or one that was put on. */
  drag(event, grip, from) {
    if (event.button) return;
    if (from < 0) event.preventDefault();
    this.dragged = false;
    grip.setPointerCapture(event.pointerId);
    const ghost = made("span", "", "flight-float is-held");
    const hands = new AbortController();
    const { signal } = hands;
    const move = (now) => {
      if (!this.dragged && Math.hypot(now.clientX - event.clientX, now.clientY - event.clientY) < DRAGGED) return;
      if (!this.dragged) document.body.append(ghost);
      this.dragged = true;
      Object.assign(ghost.style, { left: `${now.clientX}px`, top: `${now.clientY}px` });
      this.point(this.under(now));
    };
    const end = (now) => {
      hands.abort();
      ghost.remove();
      this.point(-1);
      if (this.dragged && now.type === "pointerup") this.drop(from, this.under(now));
      // The click that follows is not meant.
      setTimeout(() => (this.dragged = false));
    };
    grip.addEventListener("pointermove", move, { signal });
    for (const name of ["pointerup", "pointercancel"]) grip.addEventListener(name, end, { signal });
  }

  /** Return the place of the headrope that is under a pointer, -1 if none is. */
  under(event) {
    const box = this.svg.getBoundingClientRect();
    return placeAt(this.rope, [event.clientX - box.left, event.clientY - box.top], REACH);
  }

  /** Show the place at which a float would be put on. */
  point(index) {
    OVER.forEach((name, each) => {
      this.hold(name)?.classList.toggle("is-near", each === index);
    });
  }

  drop(from, to) {
    if (from === to) return;
    const changes = [];
    if (from >= 0) changes.push([from, -1]);
    if (to >= 0) changes.push([to, 1]);
    this.change(changes);
  }
}
