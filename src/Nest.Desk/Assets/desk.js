// All that the pages cannot do without a script.
"use strict";
document.addEventListener("keydown", event => {
  const frame = document.activeElement && document.activeElement.closest(".picture");
  if (frame && (event.key === "+" || event.key === "-")) {
    step(frame, event.key === "+" ? 1 : -1);
    event.preventDefault();
  }
});
document.addEventListener("dblclick", event => {
  const frame = event.target.closest && event.target.closest(".picture");
  if (frame) {
    step(frame, frame.querySelector("img").classList.contains("x4") ? -3 : 1);
  }
});
function step(frame, by) {
  const picture = frame.querySelector("img");
  const now = [2, 3, 4].find(size => picture.classList.contains("x" + size)) || 1;
  const next = Math.min(4, Math.max(1, now + by));
  picture.classList.remove("x2", "x3", "x4");
  if (next > 1) {
    picture.classList.add("x" + next);
  }
}
// Until the live connection stands, a link is followed by the browser itself: the connection would begin with the page before.
document.addEventListener("click", event => {
  if (event.target.closest && event.target.closest("a[href]") && document.querySelector("fieldset.live[disabled]")) {
    event.stopImmediatePropagation();
  }
}, true);
// A table that is wider than its window is scrolled by the keyboard too.
function reach() {
  for (const frame of document.querySelectorAll(".wide")) {
    if (frame.scrollWidth > frame.clientWidth && frame.tabIndex !== 0) {
      frame.tabIndex = 0;
    }
  }
}
new MutationObserver(reach).observe(document.body, { childList: true, subtree: true });
window.addEventListener("resize", reach);
reach();
// A new page begins at its head, but not for who is at work in it already: the desk may ask for it late.
function focusHead() {
  const head = document.querySelector("h1");
  if (head && !document.activeElement.closest("main")) {
    head.tabIndex = -1;
    head.focus({ preventScroll: true });
  }
}
// In a table that is edited: Enter and the arrows go from row to row, Ctrl+Z in a cell that was not changed takes the last change back.
let before = "";
document.addEventListener("focusin", event => {
  if (event.target.dataset && event.target.dataset.row) {
    before = event.target.value;
  }
});
document.addEventListener("keydown", event => {
  const cell = event.target;
  if (!cell.dataset || !cell.dataset.row) {
    return;
  }
  if ((event.ctrlKey || event.metaKey) && event.key === "z" && cell.value === before) {
    const undo = cell.closest("section").querySelector("[data-undo]");
    if (!undo.disabled) {
      undo.click();
    }
    event.preventDefault();
  } else if (event.key === "Escape") {
    cell.value = before;
  } else if (event.key === "Enter" || event.key === "ArrowDown" || event.key === "ArrowUp") {
    const column = [...cell.closest("table").querySelectorAll("input[data-cell='" + cell.dataset.cell + "']")];
    const next = column[column.indexOf(cell) + (event.key === "ArrowUp" ? -1 : 1)];
    if (next) {
      next.focus();
      next.select();
    } else {
      cell.blur();
      cell.focus();
    }
    event.preventDefault();
  }
});
