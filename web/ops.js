// Carries out the ops of a patch, each on one place of the page; see places.js.

function setInput(name, text) {
  const el = input(name);
  if (!el) return;
  if (el.type === "checkbox") {
    el.checked = text !== "";
  } else if (el.type === "radio") {
    for (const one of el.getRootNode().querySelectorAll(`[name="${name}"]`)) one.checked = one.value === text;
  } else if (el.value !== text) {
    setValue(el, text);
  }
  if (el.matches(GROWS)) grow(el);
}

// A field of one line of text that is shown in as many lines as it takes.
const GROWS = "textarea.title";
const GROWS_BY_ITSELF = CSS.supports("field-sizing", "content");

function grow(el) {
  if (GROWS_BY_ITSELF) return;
  el.style.height = "auto";
  el.style.height = `${el.scrollHeight}px`;
}

// A long list is filled when somebody is about to open it. Until then it holds what is
// chosen in it: a browser goes through all options again and again, to lay them out
// and to see whether they could be filled in.
const LONG_LIST = 40;
const unfilled = new WeakMap(); // select → value, text, value, text ...

const options = (pairs) => pairs.flatMap((value, i) => (i % 2 ? [] : [new Option(pairs[i + 1], value)]));

function fillUp(select) {
  const pairs = unfilled.get(select);
  if (!pairs) return;
  unfilled.delete(select);
  const { value } = select;
  select.replaceChildren(...options(pairs));
  select.value = value;
}
for (const before of ["pointerdown", "focusin"]) {
  document.addEventListener(before, ({ target }) => fillUp(target), { capture: true, passive: true });
}

function setValue(el, value) {
  const pairs = unfilled.get(el);
  const at = pairs ? pairs.findIndex((one, i) => i % 2 === 0 && one === value) : -1;
  if (at >= 0) el.replaceChildren(...options(pairs.slice(at, at + 2)));
  el.value = value;
}

// The figure to weigh is large; its unit need not be.
function smallUnit(el, text) {
  const at = text.lastIndexOf("\u00a0");
  el.classList.toggle("long", at > LONG_FIGURE);
  if (at < 0) return;
  const unit = document.createElement("small");
  unit.textContent = text.slice(at);
  el.replaceChildren(text.slice(0, at), unit);
}
const LONG_FIGURE = 6; // characters

// What is said of a field is read out with it; in a row, with its fields.
function readOutWith(el, field) {
  el.id = `${field}-said`;
  const fields = input(field) ? [input(field)] : el.closest("[data-row]")?.querySelectorAll("input") ?? [];
  for (const one of fields) one.setAttribute("aria-describedby", el.id);
}

function unfold(el) {
  if (!el.isConnected) page.bringIn(el);
  el.closest("details")?.setAttribute("open", "");
}

// What an op shows something in, where that is not named by its id.
const finds = {
  figure: (name) => first("data-figure", name),
  say: (field) => first("data-for", field),
  invalid: input,
  value: input,
  rows: (list) => first("data-list", list) && byId(`t-${list}`),
  choices: (name) => input(name) ?? byId(name),
  focus: (name) => input(name) ?? byId(name),
};

const ops = {
  figure(name, value, text) {
    const el = first("data-figure", name);
    if (!el) return;
    el.value = value;
    el.textContent = text;
    if (el.parentElement.matches(".weigh")) smallUnit(el, text);
  },
  text(id, text) {
    const el = byId(id);
    if (el) el.textContent = text;
  },
  show(id, on) {
    const el = byId(id);
    if (el) el.hidden = !on;
  },
  state(id, state) {
    const el = byId(id);
    if (!el) return;
    if (el.matches("nav a")) el.ariaCurrent = state ? "page" : null;
    el.dataset.state = state;
  },
  say(field, text, kind) {
    const el = first("data-for", field);
    if (!el) return;
    if (text && !el.id) readOutWith(el, field);
    el.textContent = text;
    el.hidden = !text;
    el.classList.toggle("hint", kind === "hint");
    if (text && kind !== "hint") unfold(el); // not to be overlooked
  },
  invalid(name, bad) {
    const el = input(name);
    if (!el) return;
    if (bad) el.setAttribute("aria-invalid", "true");
    else el.removeAttribute("aria-invalid");
  },
  value: setInput,
  rows(list, count) {
    const el = first("data-list", list);
    while (el.childElementCount > Number(count)) el.lastElementChild.remove();
    while (el.childElementCount < Number(count)) {
      const row = makeRow(list, el.childElementCount + 1);
      el.append(row);
      learn(row);
    }
  },
  choices(name, ...pairs) {
    const el = input(name) ?? byId(name);
    unfilled.delete(el);
    const long = el.matches("select") && pairs.length > 2 * LONG_LIST && el !== document.activeElement;
    if (long) unfilled.set(el, pairs);
    el.replaceChildren(...options(long ? pairs.slice(0, 2) : pairs));
  },
  focus(name) {
    const el = input(name) ?? byId(name);
    if (!el) return;
    unfold(el);
    el.focus();
    if (el.tagName === "INPUT") el.select();
  },
  set(id, attribute, value) {
    const el = byId(id);
    el?.setAttribute(attribute, value);
    if (el && attribute in known) learn(el);
  },
  place(id, into) {
    byId(into)?.append(byId(id));
  },
};
