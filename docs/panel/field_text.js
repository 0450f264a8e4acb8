// A figure in a field, in the reader's units and form of numbers, and back.

import { fromUnits, inUnits, isMass } from "./figures.js";
import { readNumber, written } from "./numbers.js";

const MOST_DECIMALS = 3;

/** A figure as it stands in a field: thousands apart, whole pounds, else at most three decimals, none where it is whole. */
export function fieldText(value, unit, units = "kg") {
  const shown = isMass(unit) ? inUnits(value, units) : value;
  const most = isMass(unit) && units === "lb" ? 0 : MOST_DECIMALS;
  const rounded = Math.round(shown * 10 ** most) / 10 ** most;
  let decimals = 0;
  while (decimals < most && Math.round(rounded * 10 ** decimals) / 10 ** decimals !== rounded) decimals += 1;
  return written(rounded, decimals);
}

/** What a field says, in the unit of the script; a mass to the whole kilogram. NaN where it says no number. */
export function fieldValue(text, unit, units = "kg") {
  const { value = Number.NaN } = readNumber(text);
  return isMass(unit) && units !== "kg" ? Math.round(fromUnits(value, units)) : value;
}
