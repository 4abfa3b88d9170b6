/*
A form whose answer takes the place of one part of the page, so that one stays where one is.

data-swap          on the form: the id of the part, on this page and in the answer
data-swap-trouble  shown while what was tapped last is not saved

Without this script the form is sent as any other.
*/

let last = Promise.resolve();

async function send(address, body, id, focused) {
  const answer = await fetch(address, { method: "POST", body, credentials: "same-origin" });
  if (!answer.ok) throw new Error(answer.status);
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  const part = page.getElementById(id);
  if (!part) throw new Error("signed out");
  document.getElementById(id).replaceWith(part);
  if (focused) document.getElementById(focused)?.focus();
}

document.addEventListener("submit", (event) => {
  const form = event.target.closest("[data-swap]");
  const button = event.submitter;
  if (!form || !button) return;
  event.preventDefault();
  const body = new FormData(form);
  body.append(button.name, button.value);
  const { swap } = form.dataset;
  // One after the other: an answer that overtook the next would show what is over.
  last = last
    .then(() => send(form.action, body, swap, button.id))
    .catch(() => {
      document.querySelector("[data-swap-trouble]").hidden = false;
    });
});
