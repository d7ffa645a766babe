// The stills one at a time, filling the page. The address says which: #still-3 is the third, #stills the first, anything
// else the paper; so a link, a key and a reload all lead to the same.
const stills = [...document.querySelectorAll(".still")];
const NEXT = ["PageDown", "ArrowRight", "ArrowDown", " ", "Enter"];
const BACK = ["PageUp", "ArrowLeft", "ArrowUp", "Backspace"];
const place = () => (location.hash === "#stills" ? 0 : stills.findIndex((each) => `#${each.id}` === location.hash));
const go = (to) => location.replace(`#${stills[Math.min(Math.max(to, 0), stills.length - 1)].id}`);
const leave = () => location.replace("#paper");

function show() {
  const at = place();
  document.body.classList.toggle("showing", at >= 0);
  document.body.classList.remove("sigcalc-blank");
  stills.forEach((each, number) => each.classList.toggle("now", number === at));
  stills[at]?.focus({ preventScroll: true });
}

function onKey(event) {
  const at = place();
  if (at < 0 || event.ctrlKey || event.metaKey || event.altKey) return;
  if (event.key === "b" || event.key === ".") document.body.classList.toggle("sigcalc-blank");
  else if (event.key === "Escape") leave();
  else if (event.key === "Home") go(0);
  else if (event.key === "End") go(stills.length - 1);
  else if (BACK.includes(event.key) || (event.key === " " && event.shiftKey)) go(at - 1);
  else if (NEXT.includes(event.key)) go(at + 1);
  else return;
  event.preventDefault();
}

window.addEventListener("hashchange", show);
window.addEventListener("keydown", onKey);
document.addEventListener("fullscreenchange", () => document.fullscreenElement || leave());
document.getElementById("show").addEventListener("click", () => {
  document.documentElement.requestFullscreen?.().catch(() => {}); // a page that may not still fills the window
  go(0);
});
show();
