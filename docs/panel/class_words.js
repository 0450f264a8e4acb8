// What the class view says of a moment: the change that made it, and where two flights on one time differ now.

import { exactClock } from "./clock.js";
import { amount } from "./figures.js";
import { isTold, seenState } from "./gauges.js";
import { named, statesOnSides } from "./difference.js";
import { countUpTo } from "./record.js";
import { inSentence, say, sayState, sentenceCase } from "./words.js";

const SAME_S = 0.05;
// Of the changes of one time the one that a class talks about: what is told to the crew, what broke, what somebody did, what a rule did.
const RANKS = ["alert", "trouble", "action", "rule"];
const MOST_PARTS = 2;
const WORTH_KG = 10;
// What these do is the cause of a difference, or is said of the part that they belong to.
const CAUSES = ["control", "trouble", "indication", "phase"];

const timesOf = new WeakMap();

/** The change that made a moment: the most telling of those at the last time at which a crew, a rule or a trouble changed anything. */
export function madeBy(flight, timeS, onGauges = false) {
  const rank = ({ part, reason }) => RANKS.indexOf(flight.parts.get(part)?.kind === "alert" ? "alert" : reason.kind);
  if (!timesOf.has(flight)) timesOf.set(flight, flight.changes.map((change) => change.time_s));
  let best = null;
  for (let at = countUpTo(timesOf.get(flight), timeS + 1e-6) - 1; at >= 0; at -= 1) {
    const change = flight.changes[at];
    if (best && best.time_s - change.time_s > SAME_S) break;
    if (rank(change) < 0 || (onGauges && !isTold(flight, change.part))) continue;
    if (!best || rank(change) <= rank(best)) best = change;
  }
  return best;
}

/** @returns {{what: string, why: string}} the moment's sentence; `why` is empty on the gauges, which know no reasons */
export function momentWords(flight, timeS, { units = "kg", onGauges = false } = {}) {
  const change = madeBy(flight, timeS, onGauges);
  if (!change) return { what: "Nothing has changed yet.", why: "" };
  const when = timeS - change.time_s <= SAME_S ? "Now" : `Since ${exactClock(change.time_s)}`;
  const state = onGauges ? seenState(flight, change.part, change.to) : change.to;
  const what = `${when}: ${inSentence(named(flight, change.part))}, ${sayState(state, units)}.`;
  return { what, why: onGauges ? "" : sentenceCase(say(change.reason.sentence, units)) };
}

/**
 * Where two flights differ at one time, in words: the parts in other states, and the tank whose fuel differs most.
 * @param {object} left a moment as the view sees it
 * @param {object} right the other flight's moment
 */
export function differenceNow(left, right, units = "kg") {
  const flights = [left.flight, right.flight];
  const shared = [...flights[0].parts.values()].filter(({ name }) => flights[1].parts.has(name));
  const found = shared
    .filter(({ kind, name }) => !CAUSES.includes(kind) && left.state(name) !== right.state(name))
    .map((part) => ({ part, sinceS: Math.max(...flights.map((flight) => sinceOf(flight, part.name, left.timeS))) }))
    .sort((a, b) => (b.part.kind === "alert") - (a.part.kind === "alert") || b.sinceS - a.sinceS);
  const states = found.slice(0, MOST_PARTS).map(({ part: { kind, name } }) => {
    const [one, other] = [left, right].map((moment) => sayState(moment.state(name), units));
    return `${inSentence(named(flights[0], name))} ${statesOnSides(kind, one, other)}`;
  });
  if (found.length > MOST_PARTS) states.push(`${found.length - MOST_PARTS} more parts in other states`);
  const masses = massWords(shared.filter(({ kind }) => kind === "tank"), left, right, units);
  const all = [...states, ...masses];
  return all.length ? `Now: ${all.join("; ")}.` : "Now: no part is in another state, and no tank holds more on one side.";
}

function sinceOf(flight, part, timeS) {
  const last = flight.lastChange(part, timeS);
  return last === null ? 0 : flight.changes[last].time_s;
}

function massWords(tanks, left, right, units) {
  const gaps = tanks.map((tank) => ({ tank, gapKg: right.quantity(`${tank.name}.actual_kg`) - left.quantity(`${tank.name}.actual_kg`) }));
  const [most] = gaps.filter(({ gapKg }) => Math.abs(gapKg) > WORTH_KG).sort((a, b) => Math.abs(b.gapKg) - Math.abs(a.gapKg));
  if (!most) return [];
  return [`${inSentence(most.tank.label)} ${amount(Math.abs(most.gapKg), "kg", units)} ${most.gapKg > 0 ? "more" : "less"} on the right`];
}
