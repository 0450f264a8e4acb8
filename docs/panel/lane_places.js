// Where things stand in the lane under the flight line: arithmetic alone.

import { sayState } from "./words.js";

export const HANDLE_PX = 24;

/** Rows for handles at these places, px, in order along time: no two of a row touch while there are rows left. */
export function rowsFor(placesPx, most = 4, apartPx = HANDLE_PX + 2) {
  const ends = [];
  return placesPx.map((place) => {
    const free = ends.findIndex((end) => place - end >= apartPx);
    const row = free >= 0 ? free : Math.min(ends.length, most - 1);
    ends[row] = place;
    return row;
  });
}

/** Gather what stands nearer than a handle is wide: { members, placePx }, in order along time. */
export function gathered(entries, placeOf, apartPx = HANDLE_PX + 2) {
  const found = [];
  for (const entry of entries) {
    const place = placeOf(entry);
    const last = found.at(-1);
    // Measured from where the group began: groups do not creep along the line.
    if (last && place - last.placePx < apartPx) last.members.push(entry);
    else found.push({ members: [entry], placePx: place });
  }
  return found;
}

/** What the script itself has people do and lets happen, in order, in the reader's units: none of the reader's own changes. */
export function ownEvents(flight, edits, units = "kg") {
  const mine = ({ part, state, time_s: timeS }) =>
    edits.some((edit) => edit.part === part && Math.abs(edit.time_s - timeS) < 0.01 && (edit.state === state || state.startsWith(edit.state)));
  const set = (flight.document.commands ?? [])
    .filter((command) => !mine(command))
    .map(({ time_s: timeS, part, state }) => ({ timeS, part, kind: "action", words: `${flight.label(part)} to ${sayState(state, units)}` }));
  const broken = flight.changes
    .filter(({ part, to }) => flight.parts.get(part)?.kind === "trouble" && to === "present")
    .map((change) => ({ change, of: flight.parts.get(change.part) }))
    .filter(({ change, of }) => !edits.some((edit) => edit.part === of.of && Math.abs(edit.time_s - change.time_s) < 0.01 && edit.state.startsWith(of.trouble)))
    .map(({ change, of }) => ({ timeS: change.time_s, part: change.part, kind: "trouble", words: `${flight.label(of.of)}: ${of.trouble}` }));
  return [...set, ...broken].sort((a, b) => a.timeS - b.timeS);
}

/** The moment of a group that a click leads to: the first after the time on show, or its first again. */
export function nextOf(members, timeS) {
  return members.find((own) => own.timeS > timeS + 0.05) ?? members[0];
}
