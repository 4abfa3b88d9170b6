/* Makes the elements that scripts put on a page. */

/** Return a new element `name` that says `text` and looks like `look`, its classes. */
export function made(name, text = "", look = "") {
  const element = document.createElement(name);
  element.textContent = text;
  if (look) element.className = look;
  return element;
}
