/*
A part of the page that is fetched again and again while somebody looks at it.

data-watch       the address of the part
data-watch-every seconds between two fetches
*/

const part = document.querySelector("[data-watch]");
const trouble = document.querySelector("[data-watch-trouble]");
const pause = Number(part.dataset.watchEvery) * 1000;

async function look() {
  // A page that nobody sees asks for nothing.
  if (!document.hidden) {
    try {
      const answer = await fetch(part.dataset.watch, { credentials: "same-origin" });
      if (!answer.ok || answer.redirected) throw new Error(answer.status);
      part.innerHTML = await answer.text();
      trouble.hidden = true;
      // What is over changes no more, and the rest of the page has to follow.
      if (part.querySelector("[data-watch-over]")) return location.reload();
    } catch {
      trouble.hidden = false;
    }
  }
  setTimeout(look, pause);
}

setTimeout(look, pause);
