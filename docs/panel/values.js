// Figures in the page's own text, in the reader's units.

import { KG_PER_LB, stepped, unitWord } from "./figures.js";

/** Write every computed figure of the page again in the reader's units. */
export function writeValues(units) {
  for (const figure of document.querySelectorAll("data.ww-value[data-ww-unit]")) {
    const { wwUnit, wwStep } = figure.dataset;
    const amount = Number(figure.value);
    if (!Number.isFinite(amount)) continue;
    const inPounds = units === "lb" && (wwUnit === "kg" || wwUnit === "kg/h");
    const text = `${stepped(inPounds ? amount / KG_PER_LB : amount, Number(wwStep) || 1)}\u00a0${unitWord(wwUnit, units)}`;
    if (figure.textContent !== text) figure.textContent = text;
  }
}
