// Keeps what stands in the pan for the next visit, in the browser's simple storage:
// the draft; what was typed after it, its tail; and its opening, the patch that the
// program will begin with. ahead.js reads the draft and its tail.
//
// A tab finds its own again; a new tab finds the last ones.

const DRAFT = "tremblant-draft";
const TAIL = "tremblant-tail";
const OPENING = "tremblant-opening";
const stores = [() => sessionStorage, () => localStorage];

function inStores(work) {
  for (const store of stores) {
    try {
      work(store());
    } catch {
      // switched off, or full: the book still works
    }
  }
}

function keepDraft(draft, tail) {
  inStores((store) => {
    store.removeItem(OPENING); // of an older draft, and in its way when the storage is nearly full
    if (draft) store.setItem(DRAFT, draft);
    if (tail.length > 0) store.setItem(TAIL, JSON.stringify(tail));
    else store.removeItem(TAIL);
  });
}

// Another version, or another language, would begin with something else.
const openingOf = (draft) => JSON.stringify([tremblant.version, tremblant.language, draft]);

function keepOpening(draft, patch) {
  inStores((store) => {
    store.setItem(OPENING, JSON.stringify([openingOf(draft), patch]));
  });
}

// A first visit's is computed when the site is built: the one in the language of the
// page as it comes stands here, any other in its texts.
const FIRST_OPENING = {{opening}};

function openingFor(draft) {
  if (!draft) return tremblant.language === "en" ? FIRST_OPENING : tremblant.text.opening;
  let found = "";
  inStores((store) => {
    const [of, patch] = JSON.parse(store.getItem(OPENING) ?? "[]");
    if (of === openingOf(draft)) found = patch;
  });
  return found;
}
