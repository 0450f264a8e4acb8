// What the form of the exercises says: whole numbers read as people write them, and the request for a paper.

import { readNumber } from "./numbers.js";

const NAME = /^x-([a-z0-9-]+?)-(\d{1,6})-([a-z]+)-(\d{1,3})$/;

/** A whole number in a range. @returns {{value: number}|{problem: string}} */
export function readWhole(text, least, most, what) {
  const { value, problem } = readNumber(text);
  if (problem) return { problem: `${what}: ${problem}` };
  if (!Number.isInteger(value) || value < least || value > most) {
    return { problem: `${what}: '${text.trim().slice(0, 30)}'. Allowed: a whole number from ${least} to ${most}.` };
  }
  return { value };
}

/** The request for a paper. @returns {{request: object}|{problem: string, field: string}} */
export function paperRequest({ seed, mostSeed, count, mostCount, aircraft, kinds }) {
  const fields = { seed: readWhole(seed, 0, mostSeed, "Seed"), count: readWhole(count, 1, mostCount, "Questions") };
  for (const [field, { problem }] of Object.entries(fields)) if (problem) return { problem, field };
  if (kinds.length === 0) return { problem: "Choose at least one kind of question.", field: null };
  return { request: { ask: "exercises", seed: fields.seed.value, count: fields.count.value, aircraft, kinds } };
}

/** What a question's name says of the paper that holds it; null where it names none. */
export function questionOf(name) {
  const found = NAME.exec(name);
  if (!found) return null;
  const [, aircraft, seed, kind, number] = found;
  return { aircraft, seed: Number(seed), kind, number: Number(number) };
}
