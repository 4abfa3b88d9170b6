/* Closes what is open in the navigation by Escape, or when one goes elsewhere on the page. */

const menus = [...document.querySelectorAll(".site-nav details")];

function close(menu, focus) {
  menu.open = false;
  if (focus) menu.querySelector("summary").focus();
}

document.addEventListener("keydown", (event) => {
  if (event.key !== "Escape") return;
  for (const menu of menus) if (menu.open) close(menu, menu.contains(document.activeElement));
});

for (const happening of ["pointerdown", "focusin"]) {
  document.addEventListener(happening, (event) => {
    // What is asked in between is not elsewhere: after it one goes on where one was.
    if (event.target.closest?.("dialog, [role=dialog]")) return;
    for (const menu of menus) if (menu.open && !menu.contains(event.target)) close(menu, false);
  });
}
