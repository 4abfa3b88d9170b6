/*
 * Steps put in order by buttons that move them up and down, or leave them out.
 *
 * The list is another way to fill in the numbers that stand beside the steps, and
 * follows them when an answer kept on the device is put back.
 */

import { _ } from "./say.js";

const OUT = "out";

class Order {
  constructor(list) {
    this.list = list;
    this.form = list.closest("form");
    this.told = this.form.querySelector("[data-order-told]");
    this.form.querySelector("[data-order-how]").hidden = false;
    this.form.querySelector("[data-order-numbers]").hidden = true;
    for (const step of this.steps) {
      step.querySelector("[data-order-number]").hidden = true;
      step.querySelector("[data-order-move]").hidden = false;
    }
    list.classList.add("is-moved");
    list.addEventListener("click", (event) => {
      const by = event.target.closest("[data-order-by]");
      const out = event.target.closest("[data-order-out]");
      if (by) this.move(by);
      else if (out) this.leave(out);
    });
    this.form.addEventListener("restored", () => this.follow());
    this.follow();
  }

  get steps() {
    return [...this.list.querySelectorAll("[data-order-step]")];
  }

  number(step) {
    return step.querySelector("select");
  }

  isOut(step) {
    return this.number(step).value === OUT;
  }

  /** Sort the steps by their numbers; those without one come after, what is left out last. */
  follow() {
    const at = (step) => (this.isOut(step) ? 1000 : Number(this.number(step).value) || 999);
    this.list.append(...this.steps.sort((a, b) => at(a) - at(b)));
    this.write();
  }

  /** Number the steps as they stand; what is left out has no number. */
  write() {
    const steps = this.steps;
    const taken = steps.filter((step) => !this.isOut(step));
    for (const step of steps) {
      const out = this.isOut(step);
      const index = taken.indexOf(step);
      if (!out) this.number(step).value = String(index + 1);
      step.classList.toggle("is-out", out);
      step.querySelector("[data-order-by='-1']").disabled = out || index === 0;
      step.querySelector("[data-order-by='1']").disabled = out || index === taken.length - 1;
      step.querySelector("[data-order-out]")?.setAttribute("aria-pressed", String(out));
    }
  }

  move(button) {
    const step = button.closest("[data-order-step]");
    if (button.dataset.orderBy === "1") step.nextElementSibling?.after(step);
    else step.previousElementSibling?.before(step);
    this.write();
    // A button at the end of its way cannot keep the focus; its fellow takes it.
    const other = [...step.querySelectorAll("[data-order-by]")].find((each) => !each.disabled);
    (button.disabled ? other : button)?.focus();
    this.tell(step, _("now number %(number)s", { number: this.number(step).value }));
  }

  /** Leave a step out, below the others, or take it in again as the last of them. */
  leave(button) {
    const step = button.closest("[data-order-step]");
    const back = this.isOut(step);
    this.number(step).value = back ? "" : OUT;
    const first = this.steps.find((each) => each !== step && this.isOut(each));
    if (back && first) first.before(step);
    else this.list.append(step);
    this.write();
    button.focus();
    this.tell(step, back ? _("now number %(number)s", { number: this.number(step).value }) : _("not needed"));
  }

  tell(step, what) {
    this.number(step).dispatchEvent(new Event("change", { bubbles: true }));
    this.told.textContent = `${step.querySelector("strong").textContent}: ${what}.`;
  }
}

for (const list of document.querySelectorAll("[data-order]")) new Order(list);
