// The changes that follow a time, of any part: arithmetic alone.

import { countUpTo } from "./record.js";

export const SHOWN = 5;

const timesOf = new WeakMap();

/** The next changes after a time, in their order: { index, change, inS }. */
export function following(flight, timeS, most = SHOWN) {
  if (!timesOf.has(flight)) timesOf.set(flight, flight.changes.map((change) => change.time_s));
  const first = countUpTo(timesOf.get(flight), timeS);
  return flight.changes.slice(first, first + most).map((change, at) => ({ index: first + at, change, inS: change.time_s - timeS }));
}
