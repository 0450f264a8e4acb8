// How a worksheet's values stand in its fields and its results, in the reader's units. Which figure means what, Python knows.

import { fieldText } from "./field_text.js";
import { inUnits, isMass, unitWord } from "./figures.js";
import { chosenVolumes, L_PER_US_GAL } from "./numbers.js";
import { valueWords } from "./values.js";

const UNIT = { mass: "kg", flow: "kg/h", volume: "L" };
const DECIMALS = { mass: 0, flow: 0, volume: 0, minutes: 1 };

/** The unit that a field of a kind shows: the reader's for masses, flows and volumes. */
export function fieldUnit(field, units) {
  const unit = UNIT[field.kind];
  return unit ? unitWord(unit, units) : field.unit;
}

/** A value as it stands in a field; nothing where the field is empty. */
export function entryText(field, value, units) {
  if (value === null) return "";
  if (field.kind === "clock") return clockText(value);
  const unit = UNIT[field.kind];
  if (unit === "L") return fieldText(rounded(chosenVolumes() === "L" ? value : value / L_PER_US_GAL, 0), "L", units);
  if (isMass(unit)) return fieldText(units === "kg" ? rounded(value, 0) : value, unit, units);
  return fieldText(rounded(value, DECIMALS[field.kind] ?? 3), field.unit, units);
}

/** A time of the flight: h:mm, with seconds where there are some. */
export function clockText(timeS) {
  const whole = Math.round(timeS);
  const two = (value) => String(value).padStart(2, "0");
  const seconds = whole % 60;
  return `${Math.floor(whole / 3600)}:${two(Math.floor(whole / 60) % 60)}${seconds ? `:${two(seconds)}` : ""}`;
}

/** A result as the table has it. */
export function resultText(result, units) {
  if (result.value === null) return result.words;
  return `${valueWords(result.value, result.unit, result.step, units)}\u00a0${unitWord(result.unit, units)}`.trim();
}

/** A result's figure in the reader's units, as a plain number for a file. */
export function resultNumber(result, units) {
  if (result.value === null) return result.words;
  const value = isMass(result.unit) ? inUnits(result.value, units) : result.value;
  const whole = result.unit === "L" && chosenVolumes() !== "L" ? value / L_PER_US_GAL : value;
  return String(rounded(whole, 3));
}

function rounded(value, decimals) {
  const scale = 10 ** decimals;
  return Math.round(value * scale) / scale;
}
