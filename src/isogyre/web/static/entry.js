// Eases entering what was read; nothing here is needed to enter a stone. Figures are stepped and
// dragged, words are picked: nothing is filled in that no hand has touched.

import { offerFeatures } from "./entry-features.js";
import { offerSteps } from "./entry-number.js";
import { offerWords } from "./entry-palette.js";
import { drawScale } from "./entry-scale.js";

/** @type {[string, (place: HTMLElement) => void][]} */
const EASED = [
  ["input[data-step]", offerSteps],
  ["[data-scale]", drawScale],
  ["[data-palette-for]", offerWords],
  ["[data-features-for]", offerFeatures],
];

/** Ease every control in a part of the page, each once. @param {ParentNode} part */
function ease(part) {
  for (const [selector, offer] of EASED) {
    for (const place of part.querySelectorAll(`${selector}:not([data-eased])`)) {
      place.dataset.eased = "";
      offer(place);
    }
  }
}

ease(document);
// A part of the page that was fetched anew is as bare as the page was.
document.addEventListener("htmx:load", () => ease(document));
