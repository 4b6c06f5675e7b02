// Finds the places of the page that the program names, and makes rows.
//
// Places: [data-figure] computed figures, #id texts and parts, [data-for]
// sentences beside fields, [name] inputs, [data-list] lists whose rows are
// copies of the template #t-<list>, with the row's number in place of every "#"
// in their attributes.

// What is kept back from the page until it is opened stands here, beside all pages
// (lab.later.js): it is found as what stands in the page is.
const store = document.createElement("div").attachShadow({ mode: "open" });
const byId = (id) => document.getElementById(id) ?? store.getElementById(id);
const present = (el) => el?.isConnected || el?.getRootNode() === store;

// What an answer names is known by its attributes: to search the page for each would
// take most of an answer's time.
const known = { "data-figure": new Map(), "data-for": new Map(), "data-list": new Map(), name: new Map() };
let searched = false; // since the answer began; what came to the page by other ways is found then

const standsFor = (el, attribute, value) => present(el) && el.getAttribute(attribute) === value;

function learn(part) {
  for (const [attribute, elements] of Object.entries(known)) {
    const selector = `[${attribute}]`;
    for (const el of [...(part.matches?.(selector) ? [part] : []), ...part.querySelectorAll(selector)]) {
      const value = el.getAttribute(attribute);
      if (!standsFor(elements.get(value), attribute, value)) elements.set(value, el);
    }
  }
}

const input = (name) => first("name", name);

function first(attribute, value) {
  const find = () => {
    const el = known[attribute].get(value);
    return standsFor(el, attribute, value) ? el : null;
  };
  const el = find();
  if (el || searched) return el;
  searched = true;
  learn(document);
  learn(store);
  return find();
}

const within = (row) => [row, ...row.querySelectorAll("*")];

// The row of a template, and what in it is to be numbered: [element, attribute, value].
const patterns = new Map();
function pattern(list) {
  const row = byId(`t-${list}`).content.firstElementChild;
  const numbered = within(row).flatMap((el, i) =>
    [...el.attributes].filter(({ value }) => value.includes("#")).map(({ name, value }) => [i, name, value]));
  return { row, numbered };
}

function makeRow(list, number) {
  if (!patterns.has(list)) patterns.set(list, pattern(list));
  const { row: pure, numbered } = patterns.get(list);
  const row = pure.cloneNode(true);
  const elements = within(row);
  for (const [i, name, value] of numbered) elements[i].setAttribute(name, value.replaceAll("#", number));
  row.dataset.row = number;
  return row;
}
