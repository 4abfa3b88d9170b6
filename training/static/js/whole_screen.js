/*
A button that fills the screen with the page, where the browser can.

data-whole-screen  on the button, which is hidden until then
*/

const button = document.querySelector("[data-whole-screen]");

if (document.fullscreenEnabled) {
  button.hidden = false;
  button.addEventListener("click", () => document.documentElement.requestFullscreen());
  document.addEventListener("fullscreenchange", () => {
    button.hidden = Boolean(document.fullscreenElement);
  });
}
