// Figures in the page's own text, in the reader's units.

import { inUnits, isMass, KG_PER_T, stepped, unitWord } from "./figures.js";
import { chosenVolumes, L_PER_US_GAL } from "./numbers.js";

/** Write every computed figure of the page again in the reader's units. */
export function writeValues(units) {
  for (const figure of document.querySelectorAll("data.ww-value[data-ww-unit]")) {
    const { wwUnit, wwStep } = figure.dataset;
    const amount = Number(figure.value);
    if (!Number.isFinite(amount)) continue;
    const text = `${valueWords(amount, wwUnit, Number(wwStep) || 1, units)}\u00a0${unitWord(wwUnit, units)}`;
    if (figure.textContent !== text) figure.textContent = text;
  }
}

/** A figure that is rounded to a step of its own. */
export function valueWords(amount, unit, step, units) {
  if (isMass(unit)) return stepped(inUnits(amount, units), units === "t" ? step / KG_PER_T : step);
  if (unit === "L" && chosenVolumes() !== "L") return stepped(amount / L_PER_US_GAL, step);
  return stepped(amount, step);
}
