// The least that a page can do between a keystroke and its answer.
const input = document.querySelector("[name=batch-liquid]");
const figure = document.querySelector("[data-figure=dose-1-mass]");
input.addEventListener("input", () => {
  const grams = input.value * 0.01;
  figure.textContent = grams;
  figure.setAttribute("data-value", grams);
});
document.documentElement.dataset.ready = "1";
