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
