// What a hand-out asks: which cells of its table are left empty. The same seed gives the same paper on every machine.

import { written } from "./numbers.js";

export const LARGEST_SEED = 999_999;
export const MOST_MOMENTS = 6;
/** How much of the table is asked. */
export const SHARES = [["a third", 1 / 3], ["half", 1 / 2], ["all", 1]];

/** Read a seed. @returns {{seed: number}|{problem: string}} */
export function readSeed(text) {
  const typed = text.trim();
  const seed = Number(typed);
  if (/^\d+$/.test(typed) && seed >= 1 && seed <= LARGEST_SEED) return { seed };
  return { problem: `'${typed.slice(0, 20)}' is no seed. Write a whole number from 1 to ${written(LARGEST_SEED, 0)}.` };
}

/** Numbers from 0 up to `below`, one after another, the same for a seed everywhere: 32-bit shifts and no platform's own dice. */
export function numbers(seed) {
  // Neighbouring seeds are spread far apart first.
  let state = Math.imul(seed, 0x9e3779b1) >>> 0 || 1;
  const next = () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    state >>>= 0;
    return state;
  };
  for (let turn = 0; turn < 8; turn += 1) next();
  return (below) => next() % below;
}

/** Which cells are asked: `rows` lists of `columns` truths, a share of them true, at least one. */
export function askedCells(seed, rows, columns, share) {
  const all = Array.from({ length: rows * columns }, (_own, index) => index);
  const count = Math.max(1, Math.round(all.length * share));
  const next = numbers(seed);
  for (let index = all.length - 1; index > 0; index -= 1) {
    const other = next(index + 1);
    [all[index], all[other]] = [all[other], all[index]];
  }
  const chosen = new Set(all.slice(0, count));
  return Array.from({ length: rows }, (_row, row) => Array.from({ length: columns }, (_cell, column) => chosen.has(row * columns + column)));
}

/**
 * The rows of the table: a tank's mass, a pump's state, and the state of each valve and control that the page is about or that
 * differs between the moments.
 */
export function tableRows(flight, times, controls) {
  const moments = times.map((timeS) => flight.at(timeS));
  const differs = (name) => new Set(moments.map((moment) => moment.state(name))).size > 1;
  const found = [];
  for (const part of flight.parts.values()) {
    if (part.kind === "tank") found.push({ part: part.name, label: part.label, what: "mass" });
    else if (part.kind === "pump") found.push({ part: part.name, label: part.label, what: "state" });
    else if (["valve", "control"].includes(part.kind) && !part.quantity && (controls.includes(part.name) || differs(part.name))) {
      found.push({ part: part.name, label: part.label, what: "state" });
    }
  }
  const order = ["mass", "state"];
  return found.sort((a, b) => order.indexOf(a.what) - order.indexOf(b.what));
}

/** The letter of a moment: A, B, C… */
export function letter(index) {
  return String.fromCharCode(65 + index);
}
