/* The working differential: slider and number move together, and the total is read out. */
const PART = "[data-differential]";

function numbers(form) {
  return [...form.querySelectorAll("[data-percent]")];
}

function total(form) {
  return numbers(form).reduce((sum, input) => sum + (Number(input.value) || 0), 0);
}

function words(sum) {
  if (sum === 100) return "adds up";
  return sum < 100 ? `${100 - sum} left to give` : `${sum - 100} too many`;
}

function show(form) {
  const sum = Math.round(total(form) * 10) / 10;
  const output = form.querySelector("[data-total]");
  if (output) output.value = `${sum} %`;
  const note = form.querySelector("[data-total-words]");
  if (note) note.textContent = words(sum);
}

function set(input, value) {
  input.value = value;
  const slider = input.closest(PART).querySelector(`[data-slider="${input.id}"]`);
  if (slider) slider.value = value;
}

/* Largest remainders, so that whole percents add to exactly 100. */
function scale(form) {
  const inputs = numbers(form);
  const sum = total(form);
  if (!sum) return;
  const exact = inputs.map((input) => (100 * (Number(input.value) || 0)) / sum);
  const whole = exact.map(Math.floor);
  const order = exact.map((value, index) => [value - whole[index], index]).sort((a, b) => b[0] - a[0]);
  let left = 100 - whole.reduce((a, b) => a + b, 0);
  for (const [, index] of order) if (left-- > 0) whole[index] += 1;
  inputs.forEach((input, index) => set(input, whole[index]));
  show(form);
}

export function startDifferential(root) {
  root.querySelectorAll(`${PART}:not([data-ready])`).forEach((form) => {
    form.dataset.ready = "";
    form.addEventListener("input", ({ target }) => {
      if (target.dataset.slider) set(document.getElementById(target.dataset.slider), target.value);
      else if (target.matches("[data-percent]")) set(target, target.value);
      show(form);
    });
    form.querySelector("[data-scale]")?.addEventListener("click", () => scale(form));
    show(form);
  });
}
