// Where the keyboard goes when what it has pressed is gone: its row, its notice or its
// part of the page. A browser leaves it nowhere, and who hears the page instead of seeing
// it begins again at its top. A finger has no such place to lose.

let pressed = null; // what a key has pressed last: its element, its list and row, and what it does
let beside = null; // what had the keyboard last, outside the notices

document.addEventListener("focusin", ({ target }) => {
  if (!target.closest(".notices")) beside = target;
});
document.addEventListener("pointerdown", () => { pressed = null; }, { passive: true });

// To be called with each press. One that no finger made counts no clicks.
function mayLose(event, el) {
  const list = el.closest("[data-list]");
  const rows = list ? [...list.children] : [];
  pressed = event.detail === 0 && el === document.activeElement
    ? { el, list, row: rows.findIndex((one) => one.contains(el)), does: el.dataset.do }
    : null;
}

// To be called when the page has changed. It is lost only once the browser has looked
// at the page anew.
const lost = () => pressed && requestAnimationFrame(() => setTimeout(find));

function find() {
  if (!pressed || document.activeElement !== document.body) return;
  const { el, list, row, does } = pressed;
  if (el.isConnected && el.checkVisibility()) return;
  const there = list?.children[Math.min(row, list.childElementCount - 1)];
  const place = document.querySelector(".place:not([hidden])");
  const heading = place.querySelector("#kept:not([hidden]) h2") ?? place.querySelector("h1");
  heading.tabIndex = -1;
  [...(there?.querySelectorAll(`[data-do="${does}"], summary, button`) ?? []), beside, heading]
    .find((one) => one && one !== el && one.isConnected && one.checkVisibility())
    ?.focus();
}
