// What comes to sight all at once may take the browser so long that a finger waits.
// It comes a few elements at a time instead, from above. What waits for its turn has
// data-unseen, and the style says how.

const IN_A_TURN = 20; // elements, with all that stand in them

const unseen = []; // elements that wait for their turn
let turning = false;

// Keeps elements back until turns are taken.
function keepUnseen(elements) {
  for (const el of elements) el.dataset.unseen = "";
  unseen.push(...elements);
}

function takeTurns() {
  if (turning || unseen.length === 0) return;
  turning = true;
  turn();
}

const size = (el) => (el.hidden ? 0 : 1 + el.querySelectorAll("*").length);
const takesApart = (el) => size(el) > IN_A_TURN && el.matches("div, section, ul, ol, dl");

function turn() {
  for (let count = 0; count < IN_A_TURN && unseen.length > 0;) {
    const el = unseen.shift();
    const pieces = takesApart(el) ? [...el.children] : [];
    for (const piece of pieces) piece.dataset.unseen = "";
    unseen.unshift(...pieces);
    delete el.dataset.unseen;
    if (pieces.length === 0) count += size(el);
  }
  turning = unseen.length > 0;
  if (turning) afterPaint(turn);
}

// A page that nobody sees is not painted.
function afterPaint(work) {
  let next = () => {
    next = () => {};
    work();
  };
  requestAnimationFrame(() => setTimeout(() => next()));
  setTimeout(() => next(), 200);
}

page.showByTurns = (elements) => {
  keepUnseen(elements);
  takeTurns();
};

// Where the keyboard is to go at once.
page.showAtOnce = () => {
  for (const el of unseen.splice(0)) delete el.dataset.unseen;
};
