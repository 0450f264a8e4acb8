// What a reader can do to a part: its settings, its troubles, and the figure that some of them take. Arithmetic alone.

import { inUnits, isMass, unitWord } from "./figures.js";
import { joined, readNumber } from "./numbers.js";
import { isSetting } from "./edits.js";

export const NUMBER = "a number";
export const MENDED = "mended";
const ROUNDED = 1e-4;

/** What can be chosen for a part. @returns {{value: string, group: string}[]} */
export function optionsOf(part, kinds) {
  const settings = part.quantity ? [NUMBER] : part.settings;
  const troubles = kinds.length ? [...kinds, MENDED] : [];
  return [...settings.map((value) => ({ value, group: "Set to" })), ...troubles.map((value) => ({ value, group: "Trouble" }))];
}

/** The figure that a choice takes: { least, most, usual, unit }, or null. `figures` is the page's, by kind of part. */
export function figureOf(part, choice, figures) {
  if (part.quantity && choice === NUMBER) return { ...part.quantity, usual: null };
  const group = part.quantity ? "control with a number" : part.kind;
  return figures[group]?.[choice] ?? null;
}

/** A state as choice and amount: `leak 1200` is a leak of 1200. The longest kind wins. */
export function partedState(part, kinds, state) {
  if (part.quantity && isSetting(part, state)) return { choice: NUMBER, amount: Number.parseFloat(state.replaceAll(",", "")) };
  const known = [...part.settings, ...kinds, MENDED].sort((a, b) => b.length - a.length);
  const choice = known.find((word) => state === word || state.startsWith(`${word} `)) ?? state;
  const amount = Number.parseFloat(state.slice(choice.length));
  return { choice, amount: Number.isFinite(amount) ? amount : null };
}

/** A figure's scale for the reader: what one of the simulation's units is in the reader's, and their sign. */
export function scaleOf({ unit }, units) {
  if (unit === "share") return { scale: 100, sign: "%" };
  if (unit === "times") return { scale: 1, sign: "times" };
  if (isMass(unit)) return { scale: inUnits(1, units), sign: unitWord(unit, units) };
  return { scale: 1, sign: unit };
}

/** A figure as a field shows it, without grouping. */
export function fieldText(amount, spec, units) {
  const { scale } = scaleOf(spec, units);
  // With the page's own decimal mark: in another form a point before three digits would part thousands.
  return amount === null ? "" : String(Number((amount * scale).toPrecision(5))).replace(".", joined("0", "5")[1]);
}

/** The range of a figure in words. */
export function rangeWords(spec, units) {
  return `${said(spec.least, spec, units)} to ${said(spec.most, spec, units)} ${scaleOf(spec, units).sign}`.trimEnd();
}

/** Read a figure's field. @returns {{amount: number}|{problem: string}} */
export function readFigure(text, spec, units) {
  const { scale } = scaleOf(spec, units);
  const amount = (readNumber(text).value ?? Number.NaN) / scale;
  // A bound as a field rounds it is still that bound.
  const [least, most] = [spec.least - Math.abs(spec.least) * ROUNDED, spec.most + Math.abs(spec.most) * ROUNDED];
  if (!Number.isFinite(amount) || amount < least || amount > most) {
    const found = text.trim() === "" ? "There is no figure" : `'${text.trim().slice(0, 20)}' is no such figure`;
    return { problem: `${found}. Write a number from ${rangeWords(spec, units)}.` };
  }
  return { amount: Math.min(Math.max(Number(amount.toPrecision(6)), spec.least), spec.most) };
}

/** The state that an edit writes for a choice and its amount. */
export function stateText(part, choice, amount) {
  if (choice === NUMBER) return `${amount} ${part.quantity.unit}`;
  return amount === null ? choice : `${choice} ${amount}`;
}

/** What an edit does to its part, in words with the reader's units: `leak 1,200 kg/h`. */
export function stateWords(part, kinds, figures, state, units) {
  const { choice, amount } = partedState(part, kinds, state);
  const spec = amount === null ? null : figureOf(part, choice, figures);
  if (!spec) return state;
  const { sign } = scaleOf(spec, units);
  return `${choice === NUMBER ? "" : `${choice} `}${said(amount, spec, units)} ${sign}`.trimEnd();
}

function said(amount, spec, units) {
  const { scale } = scaleOf(spec, units);
  const shown = Number((amount * scale).toPrecision(5));
  const [whole, decimals] = String(Number(Math.abs(shown).toFixed(4))).split(".");
  return `${shown < 0 ? "−" : ""}${joined(whole, decimals)}`;
}
