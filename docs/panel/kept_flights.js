// Flights kept by name, as the changes that make them: the list, what may enter it, and how two tabs share it. Arithmetic alone.

import { MOST_EDITS } from "./link.js";

export const MOST_KEPT = 4;
export const LONGEST_NAME = 40;
const FORMAT = "wetwing-kept/1";
const LONGEST_TEXT = 200_000;

/** The first of `Flight 1`, `Flight 2` … that no kept flight has. */
export function freeName(kept) {
  for (let number = 1; ; number += 1) {
    const name = `Flight ${number}`;
    if (!kept.some((own) => own.name === name)) return name;
  }
}

/** What is wrong with a name for a kept flight, or null; `own` is the flight that has it already. */
export function nameProblem(kept, name, own = null) {
  if (name === "") return "A kept flight needs a name.";
  if (name.length > LONGEST_NAME) return `The name has ${name.length} characters; at most ${LONGEST_NAME} are kept.`;
  if (kept.some((other) => other.id !== own && other.name === name)) return `Another kept flight is called '${name}'. Choose another name.`;
  return null;
}

/** Add a flight. @returns {{kept: object[]}|{problem: string}} */
export function withKept(kept, flight) {
  if (kept.length >= MOST_KEPT) {
    return { problem: `${kept.length} flights are kept, and at most ${MOST_KEPT} can be. Remove one first; this flight stays on show.` };
  }
  const problem = nameProblem(kept, flight.name);
  return problem ? { problem } : { kept: [...kept, flight] };
}

export function withoutKept(kept, id) {
  return kept.filter((own) => own.id !== id);
}

/** Give a flight another name. @returns {{kept: object[]}|{problem: string}} */
export function renamed(kept, id, name) {
  const problem = nameProblem(kept, name, id);
  return problem ? { problem } : { kept: kept.map((own) => (own.id === id ? { ...own, name } : own)) };
}

/** What two tabs hold together: what is stored, then what only this one has. */
export function merged(stored, unsaved) {
  const ids = new Set(stored.map(({ id }) => id));
  return [...stored, ...unsaved.filter(({ id }) => !ids.has(id))];
}

/** Write a list for the device. */
export function keptText(kept) {
  return JSON.stringify({ format: FORMAT, flights: kept.map(({ id, name, edits }) => ({ id, name, edits })) });
}

/** Read a list. What is no kept flight is left out and counted. @returns {{kept: object[], bad: number}} */
export function readKept(text) {
  if (text === null) return { kept: [], bad: 0 };
  let found = null;
  try {
    found = text.length <= LONGEST_TEXT ? JSON.parse(text) : null;
  } catch {
    // Not written by a page like this one.
  }
  if (found?.format !== FORMAT || !Array.isArray(found.flights)) return { kept: [], bad: 1 };
  const kept = [];
  for (const flight of found.flights) {
    const sound = isFlight(flight) && !kept.some(({ id }) => id === flight.id);
    if (sound) kept.push({ id: flight.id, name: flight.name, edits: flight.edits.map(({ time_s, part, state }) => ({ time_s, part, state })) });
  }
  return { kept, bad: found.flights.length - kept.length };
}

function isFlight(flight) {
  const text = (value, most) => typeof value === "string" && value !== "" && value.length <= most;
  const isEdit = (edit) => Number.isFinite(edit?.time_s) && text(edit.part, 60) && text(edit.state, 60);
  return text(flight?.id, 60) && text(flight.name, LONGEST_NAME) && Array.isArray(flight.edits) && flight.edits.length <= MOST_EDITS && flight.edits.every(isEdit);
}
