// Features of the vocabulary: found by any of their words, and put down as seen or as not seen.

/** @param {string} text */
const wordsIn = (text) => text.toLowerCase().match(/[\p{L}\d]+/gu) ?? [];

/** A button that puts a feature into a box, pressed while it stands there.
 * @param {HTMLTextAreaElement} box @param {string} feature */
function adder(box, feature) {
  const lines = () => box.value.split("\n").map((line) => line.trim()).filter(Boolean);
  const button = document.createElement("button");
  button.type = "button";
  button.className = "btn word-add";
  button.textContent = box.dataset.short;
  button.setAttribute("aria-label", `${feature}: ${box.dataset.short}`);
  const show = () => button.setAttribute("aria-pressed", String(lines().includes(feature)));
  button.addEventListener("click", () => {
    const others = lines().filter((line) => line !== feature);
    box.value = (lines().includes(feature) ? others : [...others, feature]).join("\n");
    box.dispatchEvent(new Event("input", { bubbles: true }));
  });
  box.addEventListener("input", show);
  show();
  return button;
}

/** Show of a list only what every word typed begins a word of. @param {HTMLElement} list @param {string} typed */
function narrow(list, typed) {
  // "Needles" finds "needle" and the other way round.
  const asked = wordsIn(typed).map((word) => (word.length > 3 ? word.replace(/s$/, "") : word));
  let found = 0;
  for (const group of list.querySelectorAll("[data-cause]")) {
    let here = 0;
    for (const item of group.querySelectorAll("[data-feature]")) {
      const known = wordsIn(`${item.dataset.feature} ${item.dataset.words} ${group.dataset.cause}`);
      item.hidden = !asked.every((word) => known.some((other) => other.startsWith(word)));
      if (!item.hidden) here += 1;
    }
    group.hidden = here === 0;
    found += here;
  }
  return found;
}

/** Let features be found and put into boxes. @param {HTMLElement} list */
export function offerFeatures(list) {
  const boxes = list.dataset.featuresFor.split(" ").map((id) => document.getElementById(id));
  const finder = list.querySelector(".find-feature");
  const typed = finder.querySelector("input");
  const told = finder.querySelector("[role=status]");
  const fold = list.querySelector("details");
  for (const item of list.querySelectorAll("[data-feature]")) {
    item.append(...boxes.map((box) => adder(box, item.dataset.feature)));
  }
  const search = () => {
    const found = narrow(list, typed.value);
    const isAsked = typed.value.trim() !== "";
    if (isAsked) fold.open = true;
    told.textContent = !isAsked ? "" : found === 0 ? "No feature is known by these words. Type it in the box above in your own." : `${found} found`;
  };
  typed.addEventListener("input", search);
  typed.addEventListener("keydown", (event) => {
    // Enter finds; it does not send the readings away. Escape empties the box.
    if (event.key === "Enter") event.preventDefault();
    if (event.key !== "Escape" || !typed.value) return;
    event.preventDefault();
    typed.value = "";
    search();
  });
  finder.hidden = false;
}
