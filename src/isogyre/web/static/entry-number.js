// Typed figures: read, stepped and written as their typist writes them.

/** The upper of two figures on one scale, by the lower, and the other way round. */
const above = new WeakMap();
const below = new WeakMap();

/** Let two inputs share a scale: what is stepped or dragged does not cross the other.
 * @param {HTMLInputElement} lower @param {HTMLInputElement} upper */
export function share(lower, upper) {
  above.set(lower, upper);
  below.set(upper, lower);
}

/** The number typed, with point or comma; NaN if there is none. @param {string} text */
export const numberOf = (text) => (/^\s*-?\d+([.,]\d+)?\s*$/.test(text) ? Number(text.replace(",", ".")) : NaN);

/** How many decimals a figure is written with. @param {string} text */
export const decimalsOf = (text) => (text.trim().split(/[.,]/)[1] ?? "").length;

/** The lowest and highest figure that a hand on its scale can give to an input.
 * @param {HTMLInputElement} input @returns {[number, number]} */
function limits(input) {
  const value = numberOf(input.value);
  let low = Number(input.dataset.low || -Infinity);
  let high = Number(input.dataset.high || Infinity);
  const under = numberOf(below.get(input)?.value ?? "");
  const over = numberOf(above.get(input)?.value ?? "");
  // Two figures that were typed the wrong way round are free to find back.
  if (!(value < under)) low = Math.max(low, under || low);
  if (!(value > over)) high = Math.min(high, over || high);
  return [low, high];
}

/** Write a figure inside its limits and tell whoever listens, as typing would.
 * @param {HTMLInputElement} input @param {number} value @param {number} decimals */
export function write(input, value, decimals) {
  const [low, high] = limits(input);
  const text = Math.min(high, Math.max(low, value)).toFixed(decimals);
  input.value = input.value.includes(",") ? text.replace(".", ",") : text;
  input.dispatchEvent(new Event("input", { bubbles: true }));
}

/** @param {HTMLInputElement} input @param {number} steps */
function nudge(input, steps) {
  const value = numberOf(input.value);
  if (Number.isNaN(value)) return;
  const step = input.dataset.step;
  write(input, value + steps * Number(step), Math.max(decimalsOf(step), decimalsOf(input.value)));
}

/** A button that steps the number beside it. @param {HTMLInputElement} input @param {number} steps @param {string} sign */
function nudger(input, steps, sign) {
  const button = document.createElement("button");
  button.type = "button";
  button.className = "btn nudge";
  button.textContent = sign;
  button.setAttribute("aria-label", `${input.dataset.label}, ${steps < 0 ? "less" : "more"} by ${input.dataset.step}`);
  button.addEventListener("click", () => nudge(input, steps));
  return button;
}

/** Step a figure by buttons, by the arrow keys and, with Shift, by ten. @param {HTMLInputElement} input */
export function offerSteps(input) {
  input.addEventListener("keydown", (event) => {
    const way = { ArrowUp: 1, ArrowDown: -1 }[event.key];
    if (!way) return;
    event.preventDefault();
    nudge(input, way * (event.shiftKey ? 10 : 1));
  });
  input.before(nudger(input, -1, "−"));
  input.after(nudger(input, 1, "+"));
  input.parentElement.classList.add("nudged");
}
