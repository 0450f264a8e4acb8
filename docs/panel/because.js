// Why a part is as it is: a walk from its last change along the changes that made the facts of that change.
// `wetwing/flight/reasons.py` walks the same way.

export const MOST_STEPS = 40;

/**
 * The chain of reasons behind a part's state at a time, nearest first.
 * @returns {{index: number, depth: number, change: object}[]} empty where nothing has changed it since the flight began
 */
export function because(flight, part, timeS, most = MOST_STEPS) {
  const first = flight.lastChange(part, timeS);
  if (first === null) return [];
  const steps = [];
  const seen = new Set();
  const visit = (index, depth) => {
    if (seen.has(index) || steps.length >= most) return;
    seen.add(index);
    steps.push({ index, depth, change: flight.changes[index] });
    for (const cause of flight.changes[index].reason.causes) visit(cause, depth + 1);
  };
  visit(first, 0);
  return steps;
}

/** The next change of a part: { index, change, inS } or null. */
export function whatNext(flight, part, timeS) {
  const index = flight.nextChange(part, timeS);
  if (index === null) return null;
  const change = flight.changes[index];
  return { index, change, inS: change.time_s - timeS };
}
