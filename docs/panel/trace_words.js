// Traces in words and figures: values, a sentence for each line, rows of a table, and the file that a reader saves.

import { clock, exactClock } from "./clock.js";
import { figure, inUnits, isMass, stepped, unitWord } from "./figures.js";

export const ROW_STEPS_S = [30, 60, 300, 600, 1800, 3600];
export const MOST_ROWS = 400;
const USUAL_ROWS = 60;
const SAVED_DECIMALS = 6;

/** How much of the reader's unit one of the record's is. */
export function factor(unit, units) {
  return isMass(unit) ? inUnits(1, units) : 1;
}

/** A value with its unit, as every other figure of the panel is written. */
export function valueWords(value, unit, units) {
  if (value === null) return "not shown";
  return `${bareValue(value, unit, units)}\u00a0${unitWord(unit, units)}`;
}

/** The same without its unit. */
export function bareValue(value, unit, units) {
  if (value === null) return "–";
  return unit === "%" ? stepped(value, 0.1) : figure(value, unit, units);
}

/** Where a line starts, its highest and lowest value with their times, and where it ends, as one sentence. */
export function lineWords(label, times, values, unit, units) {
  const shown = times.map((timeS, index) => ({ timeS, value: values[index] })).filter(({ value }) => value !== null);
  if (shown.length === 0) return `${label}: not shown in this stretch.`;
  const words = (value) => valueWords(value, unit, units);
  const [first, last] = [shown[0], shown.at(-1)];
  const dark = [
    first.timeS > times[0] ? ` Not shown before ${clock(first.timeS)}.` : "",
    last.timeS < times.at(-1) ? ` Not shown after ${clock(last.timeS)}.` : "",
  ].join("");
  let [highest, lowest] = [first, first];
  for (const own of shown) {
    if (own.value > highest.value) highest = own;
    if (own.value < lowest.value) lowest = own;
  }
  if (words(highest.value) === words(lowest.value)) {
    return `${label}: ${words(first.value)} from ${clock(first.timeS)} to ${clock(last.timeS)}.${dark}`;
  }
  const turns = [
    ["highest", highest],
    ["lowest", lowest],
  ].filter(([, own]) => own !== first && own !== last);
  const extreme = (own) => (own === highest ? ", its highest" : own === lowest ? ", its lowest" : "");
  return [
    `${label}: ${words(first.value)} at ${clock(first.timeS)}${extreme(first)}`,
    ...turns.map(([what, own]) => `${what} ${words(own.value)} at ${clock(own.timeS)}`),
    `${words(last.value)} at ${clock(last.timeS)}${extreme(last)}.${dark}`,
  ].join("; ");
}

/** The finest step of a table that keeps it short. */
export function usualStep(startS, endS) {
  return ROW_STEPS_S.find((step) => (endS - startS) / step <= USUAL_ROWS) ?? ROW_STEPS_S.at(-1);
}

/** The times of a table's rows: at each step, or for a null step at each keyframe. */
export function rowTimes(flight, startS, endS, stepS) {
  if (stepS === null) return [...new Set(flight.timeS)].filter((timeS) => timeS >= startS && timeS <= endS);
  const found = [startS];
  for (let timeS = (Math.floor(startS / stepS) + 1) * stepS; timeS < endS; timeS += stepS) found.push(timeS);
  if (found.at(-1) < endS) found.push(endS);
  return found;
}

/** How the rows of a table are spaced, in words. */
export function stepWords(stepS) {
  if (stepS === null) return "at each keyframe";
  if (stepS < 60) return `every ${stepS} seconds`;
  if (stepS === 3600) return "every hour";
  return stepS === 60 ? "every minute" : `every ${stepS / 60} minutes`;
}

/** A file of comma-separated values: every keyframe of a flight, in the record's units, which stand in the names. */
export function csv(lines, flightLines) {
  const columns = lines.map((line) => flightLines.column(line));
  const rows = flightLines.flight.timeS.map((timeS, index) => [timeS, ...columns.map((column) => saved(column[index]))]);
  return [["time_s", ...lines.map((line) => line.name)], ...rows].map((row) => `${row.join(",")}\r\n`).join("");
}

function saved(value) {
  return value === null ? "" : Number(value.toFixed(SAVED_DECIMALS));
}

/** Read the stretch that a reader wrote. @returns {{startS: number, endS: number}|{problem: string, field: "from"|"to"}} */
export function readStretch(from, to, durationS) {
  if (from.problem) return { problem: from.problem, field: "from" };
  if (to.problem) return { problem: to.problem, field: "to" };
  if (from.timeS >= durationS) return { problem: `The flight ends at ${exactClock(durationS)}. Write a time before that.`, field: "from" };
  const endS = Math.min(to.timeS, durationS);
  if (to.timeS > durationS + 1) return { problem: `The flight ends at ${exactClock(durationS)}. Write a time up to then.`, field: "to" };
  if (endS - from.timeS < LEAST_STRETCH_S) {
    return { problem: `The end must be ${LEAST_STRETCH_S} s or more after the beginning, ${exactClock(from.timeS)}.`, field: "to" };
  }
  return { startS: from.timeS, endS };
}

export const LEAST_STRETCH_S = 10;

/** The stretch between two times that were pointed at, in either order; null where it is too short to mean anything. */
export function brushed(oneS, otherS, durationS) {
  const [startS, endS] = [Math.max(Math.min(oneS, otherS), 0), Math.min(Math.max(oneS, otherS), durationS)];
  return endS - startS < LEAST_STRETCH_S ? null : { startS, endS };
}
