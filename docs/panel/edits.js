// A reader's changes of a flight, as the list of inputs that a link carries. Lists are never changed in place.

import { upToTenth } from "./clock.js";
import { MOST_EDITS } from "./link.js";

/** Add an edit; one of the same part at the same time is replaced. @returns {{edits: object[]}|{problem: string}} */
export function withEdit(edits, edit) {
  const rounded = { ...edit, time_s: upToTenth(edit.time_s) };
  const others = edits.filter((own) => own.part !== rounded.part || own.time_s !== rounded.time_s);
  if (others.length >= MOST_EDITS) return { problem: `A flight takes at most ${MOST_EDITS} changes. Remove one first.` };
  return { edits: [...others, rounded].sort((a, b) => a.time_s - b.time_s || (a.part < b.part ? -1 : 1)) };
}

export function withoutEdit(edits, index) {
  return edits.filter((_own, at) => at !== index);
}

export function sameEdits(a, b) {
  const told = (edits) => JSON.stringify(edits.map(({ time_s, part, state }) => [time_s, part, state]));
  return told(a) === told(b);
}

/** Read `time,part,state;…` as pages write it beside a moment. */
export function parseMomentEdits(text) {
  return (text ?? "").split(";").filter(Boolean).map((entry) => {
    const [time, part, ...state] = entry.split(",");
    return { time_s: Number(time), part, state: state.join(",") };
  });
}
