// Where two flights of one script part, and in what. `wetwing/teach/compare.py` finds the same.

import { exactClock } from "./clock.js";
import { inSentence } from "./words.js";

/**
 * The first change that one flight has and the other has not. What people set is the cause and does not count.
 * `sentence` is the reason of that change, in the flight that has it: the first or the second.
 * @returns {{timeS: number, part: string, before: string, after: string, sentence: string, in: string}|null}
 */
export function firstDifference(first, second) {
  const [ours, theirs] = [consequences(first), consequences(second)];
  const count = Math.max(ours.length, theirs.length);
  for (let index = 0; index < count; index += 1) {
    const [one, other] = [ours[index], theirs[index]];
    if (one && other && same(one, other)) continue;
    if (other && (!one || other.time_s <= one.time_s)) {
      const before = first.at(first.hold(other.time_s)).state(other.part);
      return { timeS: other.time_s, part: other.part, before, after: other.to, sentence: other.reason.sentence, in: "second" };
    }
    const after = second.at(second.hold(one.time_s)).state(one.part);
    return { timeS: one.time_s, part: one.part, before: one.to, after, sentence: one.reason.sentence, in: "first" };
  }
  return null;
}

/** Say a difference in words, with the marks of its quantities: what differs, and why. */
export function differenceWords({ timeS, before, after, sentence, in: where }, label) {
  return {
    what: `The two flights part at ${exactClock(timeS)}: ${inSentence(label)} ${after}, where it was ${before}.`,
    why: `${where === "second" ? "In this flight" : "In the recorded flight"}: ${sentence}`,
  };
}

function consequences(flight) {
  return flight.changes.filter((change) => change.reason.kind !== "action");
}

function same(one, other) {
  return one.time_s === other.time_s && one.part === other.part && one.to === other.to;
}
