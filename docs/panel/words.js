// Sentences of the simulation in the reader's units. `wetwing/teach/words.py` says the same.

import { inUnits, isMass, unitWord } from "./figures.js";
import { chosenVolumes, joined, L_PER_US_GAL, written } from "./numbers.js";

const MARK = /\{([-−]?[\d,]+(?:\.\d+)?)[ \u00a0]?([^{}\d]*)\}/g;

/** Replace each mark of a sentence, `{520 kg/h}`, by the figure in the reader's units. */
export function say(sentence, units = "kg") {
  return sentence.replace(MARK, (_mark, amount, unit) => said(amount, unit, units));
}

/** A label of a trouble in the reader's units: its figures stand there without marks, `Main left leaks: 1200 kg/h`. */
export function sayLabel(label, units = "kg") {
  return say(label.replace(/(?<![\d,.])(\d[\d,]*(?:\.\d+)?) (kg\/h|kg|L\/h|L)(?![\w/])/g, "{$1 $2}"), units);
}

/** A state in the reader's units: what people set a part to may be a figure, `22700 kg`, and carries no mark either. */
export const sayState = sayLabel;

/** Put a sentence's first letter in upper case. */
export function sentenceCase(text) {
  return text === "" ? text : text[0].toUpperCase() + text.slice(1);
}

/** A part's label inside a sentence: `Main left aft pump` as `main left aft pump`, but `APU valve` as it is. */
export function inSentence(label) {
  return /^[A-Z]{2}/.test(label) || /^Engine \d/.test(label) ? label : label[0].toLowerCase() + label.slice(1);
}

function said(amount, unit, units) {
  const value = Number(amount.replaceAll(",", "").replace("−", "-"));
  if (isMass(unit) && units === "t") return `${tonnes(inUnits(value, units))} ${unitWord(unit, units)}`;
  if (isMass(unit) && units === "lb") return `${written(inUnits(value, units), 0)} ${unitWord(unit, units)}`;
  if (/^L(\/h)?$/.test(unit) && chosenVolumes() !== "L") return `${written(value / L_PER_US_GAL, 0)} ${unitWord(unit)}`;
  // The sign stands apart: the whole part of -0.23 is -0, which has no sign as text.
  const sign = /^[-−]/.test(amount) ? "−" : "";
  const [whole, decimals] = amount.replace(/^[-−]/, "").replaceAll(",", "").split(".");
  const gap = unit === "°" ? "" : " ";
  return `${sign}${joined(String(Number(whole)), decimals)}${gap}${unit}`.trimEnd();
}

/** Tonnes to the kilogram, without the noughts at their end: {430 kg} is 0.43 t. */
function tonnes(value) {
  const thousandths = Math.abs(Math.floor(value * 1000 + 0.5));
  const decimals = String(thousandths % 1000).padStart(3, "0").replace(/0+$/, "");
  const whole = joined(String(Math.floor(thousandths / 1000)), decimals || undefined);
  return `${value < 0 && thousandths > 0 ? "−" : ""}${whole}`;
}
