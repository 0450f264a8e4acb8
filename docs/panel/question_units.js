// The reader's units, for the questions of the page: they stand outside the panel and follow its choice.

import { fromUnits, isMass } from "./figures.js";
import { keptUnits } from "./links.js";
import { chosenForm } from "./numbers.js";

const listeners = new Set();
let units = null;
let form = null;

export function unitsNow() {
  return units ?? keptUnits.read();
}

/** Call `listener` whenever the reader chooses other units. */
export function onUnits(listener) {
  listeners.add(listener);
}

/** How many of the flight's own units one of the reader's is: 1 for everything but masses and their flows. */
export function perUnit(unit, chosen = unitsNow()) {
  return isMass(unit) ? fromUnits(1, chosen) : 1;
}

/** Say the reader's units on a page that has no panel. */
export function tellUnits(chosen) {
  units = chosen;
  for (const listener of listeners) listener();
}

/** A piece of the panel: hears of the units, and of how numbers are written. */
export class QuestionUnits {
  update(shown) {
    if (shown.units === units && form === chosenForm()) return;
    [units, form] = [shown.units, chosenForm()];
    for (const listener of listeners) listener();
  }
}
