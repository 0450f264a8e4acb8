// A reader's changes of a flight, as the list of inputs that a link carries. Lists are never changed in place.

import { exactClock, upToTenth } from "./clock.js";
import { MOST_EDITS } from "./link.js";

/**
 * Add an edit; one of the same thing at the same time is replaced. `sort` says what of its part an edit is about.
 * @returns {{edits: object[]}|{problem: string}}
 */
export function withEdit(edits, edit, sort = () => "") {
  const rounded = { ...edit, time_s: upToTenth(edit.time_s) };
  const others = edits.filter((own) => !sameThing(own, rounded, sort));
  if (others.length >= MOST_EDITS) return { problem: `A flight takes at most ${MOST_EDITS} changes. Remove one first.` };
  return { edits: inOrder([...others, rounded]) };
}

/** Put another edit in the place of one. It never replaces a third. @returns {{edits: object[], edit: object}|{problem: string}} */
export function withChangedEdit(edits, index, edit, sort = () => "") {
  const rounded = { ...edit, time_s: upToTenth(edit.time_s) };
  const others = withoutEdit(edits, index);
  if (others.some((own) => sameThing(own, rounded, sort))) {
    return { problem: `Another of your changes does that at ${exactClock(rounded.time_s)}. Choose another time, or remove that one.` };
  }
  return { edits: inOrder([...others, rounded]), edit: rounded };
}

/** Whether an edit sets a part, as against breaking or mending it. */
export function isSetting(part, state) {
  return Boolean(part?.settings.includes(state) || (part?.quantity && /^[-−]?[\d.]/.test(state)));
}

/** What of its part an edit is about: its setting, or one kind of trouble. */
export function sortOf(part, { state }) {
  return isSetting(part, state) ? "setting" : state.replace(/ [-−]?[\d.,]+$/, "");
}

function sameThing(one, other, sort) {
  return one.part === other.part && one.time_s === other.time_s && sort(one) === sort(other);
}

function inOrder(edits) {
  return edits.sort((a, b) => a.time_s - b.time_s || (a.part < b.part ? -1 : 1));
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
