// Eases typing; nothing here is needed to enter a stone. Figures are stepped, never derived.

/** The number typed, with point or comma; NaN if there is none. @param {string} text */
const numberOf = (text) => (/^\s*-?\d+([.,]\d+)?\s*$/.test(text) ? Number(text.replace(",", ".")) : NaN);

/** @param {HTMLInputElement} input @param {number} steps */
function nudge(input, steps) {
  const value = numberOf(input.value);
  const step = Number(input.dataset.step);
  if (Number.isNaN(value)) return;
  const decimals = Math.max((input.dataset.step.split(".")[1] ?? "").length, (input.value.split(/[.,]/)[1] ?? "").trim().length);
  const low = Number(input.dataset.low || -Infinity);
  const high = Number(input.dataset.high || Infinity);
  input.value = Math.min(high, Math.max(low, value + steps * step)).toFixed(decimals);
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

for (const input of /** @type {NodeListOf<HTMLInputElement>} */ (document.querySelectorAll("input[data-step]"))) {
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

// Words the sheet knows: tapped, they are added to the lines above them, or taken out again.
for (const list of document.querySelectorAll("[data-words-for]")) {
  const boxes = list.dataset.wordsFor.split(" ").map((id) => document.getElementById(id));
  for (const item of list.querySelectorAll("li")) {
    const word = item.textContent.trim();
    item.append(...boxes.map((box) => adder(box, word)));
  }
}

/** A button that puts a word into a box, pressed while it stands there. @param {HTMLTextAreaElement} box @param {string} word */
function adder(box, word) {
  const lines = () => box.value.split("\n").map((line) => line.trim()).filter(Boolean);
  const button = document.createElement("button");
  button.type = "button";
  button.className = "btn word-add";
  button.textContent = box.dataset.short;
  button.setAttribute("aria-label", `${word}: ${box.dataset.short}`);
  const show = () => button.setAttribute("aria-pressed", String(lines().includes(word)));
  button.addEventListener("click", () => {
    const others = lines().filter((line) => line !== word);
    box.value = (lines().includes(word) ? others : [...others, word]).join("\n");
    show();
  });
  box.addEventListener("input", show);
  show();
  return button;
}
