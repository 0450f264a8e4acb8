// Where two flights of one script part, and in what. `wetwing/teach/compare.py` finds the same.

import { exactClock } from "./clock.js";
import { inSentence } from "./words.js";

// Changes nearer than this are one: a keyframe more on the way moves the same event by a small error.
const SAME_S = 1;

/**
 * The first change that one flight has and the other has not. What people set is the cause and does not count.
 * `sentence` is the reason of that change, in the flight that has it: the first or the second.
 * @returns {{timeS: number, part: string, before: string, after: string, sentence: string, in: string}|null}
 */
export function firstDifference(first, second) {
  const [ours, theirs] = [consequences(first, second), consequences(second, first)];
  const [one, other] = [firstUnmatched(ours, theirs), firstUnmatched(theirs, ours)];
  if (other && (!one || other.time_s <= one.time_s)) {
    const before = first.at(first.hold(other.time_s)).state(other.part);
    return { timeS: other.time_s, part: other.part, before, after: other.to, sentence: other.reason.sentence, in: "second" };
  }
  if (!one) return null;
  const after = second.at(second.hold(one.time_s)).state(one.part);
  return { timeS: one.time_s, part: one.part, before: one.to, after, sentence: one.reason.sentence, in: "first" };
}

/** What a part is called where flights are compared. An alert's label is a sentence of its own, so it stands in quotes. */
export function named(flight, part) {
  const label = flight.label(part);
  return flight.parts.get(part)?.kind === "alert" ? `The alert “${label}”` : label;
}

/**
 * Say in what states a part is in two flights side by side. An alert, which is on or off, is said to be shown on one side:
 * "on" would stand beside "on the left".
 */
export function statesOnSides(kind, left, right) {
  if (kind === "alert" && left !== right) return `is shown on the ${left === "on" ? "left" : "right"} alone`;
  return `${left} on the left, ${right} on the right`;
}

/** Say a difference in words, with the marks of its quantities: what differs, and why. `earlier` names the first flight. */
export function differenceWords({ timeS, before, after, sentence, in: where }, label, earlier = "the recorded flight") {
  return {
    what: `A state first differs at ${exactClock(timeS)}: ${inSentence(label)} ${after}, where it was ${before}.`,
    why: `In ${where === "second" ? "this flight" : earlier}: ${sentence}`,
  };
}

// A trouble that one flight alone has is a cause, as what people set is; so is one that the reader has made, even where
// both flights call theirs by the same name.
function consequences(flight, other) {
  const shared = ({ part }) => other.parts.has(part) || part === "phase";
  return flight.changes.filter((change) => change.reason.kind !== "action" && shared(change) && !isOwnTrouble(flight, change));
}

function isOwnTrouble(flight, { part, time_s: timeS }) {
  const { kind, of } = flight.parts.get(part) ?? {};
  return kind === "trouble" && flight.edits.some((edit) => edit.part === of && Math.abs(edit.time_s - timeS) < 0.01);
}

function firstUnmatched(changes, others) {
  const times = new Map();
  for (const { part, to, time_s: timeS } of others) {
    const key = `${part}: ${to}`;
    times.set(key, [...(times.get(key) ?? []), timeS]);
  }
  const matched = ({ part, to, time_s: timeS }) => (times.get(`${part}: ${to}`) ?? []).some((own) => Math.abs(own - timeS) <= SAME_S);
  return changes.find((change) => !matched(change)) ?? null;
}
