// Figures as people read them: rounded, grouped, in the reader's units. `wetwing/draw/figures.py` says the same, in one form of
// numbers and in litres.

import { chosenVolumes, L_PER_US_GAL, written } from "./numbers.js";

export const KG_PER_LB = 0.45359237;
export const KG_PER_T = 1000;
export const UNITS = ["kg", "lb", "t"];
const COARSE_FROM = 100;
const STEADY_KG_H = 5;
const NOT_SHOWN = "–";

/** Whether a unit is a mass or a flow of mass, which the reader's choice changes. */
export function isMass(unit) {
  return unit === "kg" || unit === "kg/h";
}

/** A mass or a flow of mass in the reader's units, not rounded. */
export function inUnits(value, units = "kg") {
  if (units === "lb") return value / KG_PER_LB;
  return units === "t" ? value / KG_PER_T : value;
}

/** Back from the reader's units to kg or kg/h. */
export function fromUnits(value, units = "kg") {
  if (units === "lb") return value * KG_PER_LB;
  return units === "t" ? value * KG_PER_T : value;
}

/** Write a value without its unit; `unit` is the unit that the value has. What nobody shows is a dash. */
export function figure(value, unit, units = "kg") {
  if (Number.isNaN(value)) return NOT_SHOWN;
  if (isMass(unit)) return units === "t" ? tonnes(value) : coarse(inUnits(value, units));
  if (unit === "L" || unit === "L/h") return coarse(chosenVolumes() === "L" ? value : value / L_PER_US_GAL);
  if (unit === "kg/L") return written(value, 3);
  if (unit === "bar" || unit === "Mach") return written(value, 2);
  if (unit === "share") return written(value * 100, 0);
  return written(value, 0);
}

/** Decimals of a mass that is written to the kilogram, or to the pound. */
const massPlaces = (units) => (units === "t" ? 3 : 0);

/** Write a mass to the unit, for sums that a reader adds up. */
export function exactMass(valueKg, units = "kg") {
  return written(inUnits(valueKg, units), massPlaces(units));
}

/**
 * Masses as `exactMass` writes them, to add up as they are written: a reader who does the sum comes to the figure shown.
 * `text` writes what came of it.
 */
export function shownMasses(units = "kg") {
  const places = massPlaces(units);
  const scale = 10 ** places;
  return {
    of: (valueKg) => Math.round(inUnits(valueKg, units) * scale) / scale,
    text: (value) => written(value, places),
  };
}

/** The unit's sign in the reader's units. */
export function unitWord(unit, units = "kg") {
  if (unit === "share") return "%";
  if (unit === "L" || unit === "L/h") return unit.replace("L", chosenVolumes());
  return isMass(unit) ? unit.replace("kg", units) : unit;
}

/** A figure with its unit: `6,480 kg`. */
export function amount(value, unit, units = "kg") {
  return `${figure(value, unit, units)} ${unitWord(unit, units)}`;
}

/** How a quantity changes: `rising 520 kg/h`, `falling 1,450 kg/h` or `steady`. */
export function rateWords(rateKgH, units = "kg") {
  if (Number.isNaN(rateKgH)) return NOT_SHOWN;
  if (Math.abs(rateKgH) < STEADY_KG_H) return "steady";
  const way = rateKgH > 0 ? "rising" : "falling";
  return `${way} ${amount(Math.abs(rateKgH), "kg/h", units)}`;
}

/** How high the aircraft is: `on the ground`, `3,000 ft`, `FL 350`. */
export function where(altitudeFt) {
  if (altitudeFt < 50) return "on the ground";
  const hundreds = Math.floor(altitudeFt / 100 + 0.5);
  return altitudeFt < 6000 ? `${written(hundreds * 100, 0)} ft` : `FL ${hundreds}`;
}

/** Write a number that carries its own step, as a checked statement on a page does. */
export function stepped(amount, step) {
  const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  return written(Math.floor(amount / step + 0.5) * step, decimals);
}

function coarse(value) {
  const step = Math.abs(value) < COARSE_FROM ? 1 : 10;
  return written(Math.floor(value / step + 0.5) * step, 0);
}

/** Tonnes keep the steps of kilograms: 6.48 t, and 0.088 t below a hundred kilograms. */
function tonnes(valueKg) {
  const fine = Math.abs(valueKg) < COARSE_FROM;
  const step = fine ? 1 : 10;
  return written((Math.floor(valueKg / step + 0.5) * step) / KG_PER_T, fine ? 3 : 2);
}
