// Words of colour, picked: put into the text at their place in speech, replaced or taken out again.
// What else stands in the text is left as it was typed.

/** @typedef {{words: string[], leads: boolean, rules: boolean}} Row one that rules is said last */
/** @typedef {{rows: Row[], alone: string, partedBy: string}} Palette */

/** The first of some words in a text, the longest where several begin.
 * @param {string} text @param {string[]} words */
function find(text, words) {
  const longest = [...words].sort((one, other) => other.length - one.length);
  const match = new RegExp(`(?<![\\w-])(?:${longest.join("|")})(?![\\w-])`, "i").exec(text);
  return match && { at: match.index, word: match[0].toLowerCase() };
}

/** @param {string} text */
const tidy = (text) => text.replace(/\s+/g, " ").trimStart().replace(/ $/, "").replace(/\/$/, "/ ");

/** @param {string} text @param {{at: number, word: string}} there @param {string} [word] */
const replaced = (text, there, word = "") => text.slice(0, there.at) + word + text.slice(there.at + there.word.length);

/** Where the colour begins that is being told. @param {string} text @param {Palette} palette @param {Row} row */
const beginning = (text, palette, row) => (palette.partedBy && !row.leads ? text.lastIndexOf(palette.partedBy) + 1 : 0);

/** The word of a row that a text holds, if it holds one. @param {string} text @param {Palette} palette @param {Row} row */
export function picked(text, palette, row) {
  return find(text.slice(beginning(text, palette, row)), row.words)?.word ?? "";
}

/** A text after a word was picked; picked again, the word is taken out.
 * @param {string} text @param {Palette} palette @param {Row} row @param {string} word */
export function pick(text, palette, row, word) {
  if (palette.alone && word === palette.alone) return picked(text, palette, row) === word ? "" : word;
  const alone = palette.alone && find(text, [palette.alone]);
  const said = alone ? replaced(text, alone) : text;
  const start = beginning(said, palette, row);
  const [before, part] = [said.slice(0, start), said.slice(start)];
  const there = find(part, row.words);
  if (there) return tidy(`${before} ${replaced(part, there, there.word === word ? "" : word)}`);
  const spoken = [...palette.rows].sort((one, other) => Number(one.rules) - Number(other.rules));
  const later = spoken.slice(spoken.indexOf(row) + 1).map((next) => find(part, next.words));
  const at = row.leads ? 0 : Math.min(part.length, ...later.filter(Boolean).map((next) => next.at));
  return tidy(`${before} ${part.slice(0, at)} ${word} ${part.slice(at)}`);
}

/** Let words be picked into a box. @param {HTMLDetailsElement} fold */
export function offerWords(fold) {
  const box = /** @type {HTMLInputElement} */ (document.getElementById(fold.dataset.paletteFor));
  const groups = [...fold.querySelectorAll("[data-row]")];
  const buttonsOf = (group) => [...group.querySelectorAll("[data-word]")];
  const rows = groups.map((group) => ({ words: buttonsOf(group).map((button) => button.dataset.word), leads: "leads" in group.dataset, rules: "rules" in group.dataset }));
  const palette = { rows, alone: fold.dataset.alone ?? "", partedBy: fold.dataset.partedBy ?? "" };
  const next = fold.querySelector("[data-next]");

  const show = () => {
    groups.forEach((group, index) => {
      const word = picked(box.value, palette, rows[index]);
      for (const button of buttonsOf(group)) button.setAttribute("aria-pressed", String(button.dataset.word === word));
    });
    if (next) next.disabled = /^\s*$|\/\s*$/.test(box.value);
  };
  const say = (text) => {
    box.value = text;
    box.dispatchEvent(new Event("input", { bubbles: true }));
  };

  groups.forEach((group, index) => {
    for (const button of buttonsOf(group)) button.addEventListener("click", () => say(pick(box.value, palette, rows[index], button.dataset.word)));
  });
  next?.addEventListener("click", () => say(tidy(`${box.value} ${palette.partedBy}`)));
  box.addEventListener("input", show);
  fold.hidden = false;
  show();
}
