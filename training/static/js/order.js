/*
 * Steps put in order by buttons that move them up and down.
 *
 * The list is another way to fill in the numbers that stand beside the steps, and
 * follows them when an answer kept on the device is put back.
 */

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
      const button = event.target.closest("[data-order-by]");
      if (button) this.move(button);
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

  /** Sort the steps by their numbers; those without one go last, as they stand. */
  follow() {
    const at = (step) => Number(this.number(step).value) || Infinity;
    const sorted = this.steps.sort((a, b) => (at(a) < at(b) ? -1 : at(a) > at(b) ? 1 : 0));
    this.list.append(...sorted);
    this.write();
  }

  /** Number the steps as they stand. */
  write() {
    const steps = this.steps;
    steps.forEach((step, index) => {
      this.number(step).value = String(index + 1);
      step.querySelector("[data-order-by='-1']").disabled = index === 0;
      step.querySelector("[data-order-by='1']").disabled = index === steps.length - 1;
    });
  }

  move(button) {
    const step = button.closest("[data-order-step]");
    if (button.dataset.orderBy === "1") step.nextElementSibling?.after(step);
    else step.previousElementSibling?.before(step);
    this.write();
    // A button at the end of its way cannot keep the focus; its fellow takes it.
    const other = [...step.querySelectorAll("[data-order-by]")].find((each) => !each.disabled);
    (button.disabled ? other : button).focus();
    this.number(step).dispatchEvent(new Event("change", { bubbles: true }));
    const title = step.querySelector("strong").textContent;
    this.told.textContent = `${title}: now number ${this.number(step).value}.`;
  }
}

for (const list of document.querySelectorAll("[data-order]")) new Order(list);
