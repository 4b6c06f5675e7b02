// What comes to sight all at once may take the browser so long that a finger waits.
// It comes a few elements at a time instead. What waits for its turn has data-unseen,
// and the style says how.

const IN_A_TURN = 20; // elements, with all that stand in them

const unseen = []; // elements that wait for their turn
let turning = false;

page.showByTurns = (elements) => {
  for (const el of elements) el.dataset.unseen = "";
  unseen.push(...elements);
  if (!turning) turn();
};

function turn() {
  for (let count = 0; count < IN_A_TURN && unseen.length > 0;) {
    const el = unseen.shift();
    delete el.dataset.unseen;
    count += 1 + el.querySelectorAll("*").length;
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
