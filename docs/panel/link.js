// Links that hold a state as its inputs: readable, versioned, and harmless whatever they say.
// `wetwing/teach/link.py` reads the same; `tests/vectors/links.json` holds both to one answer.
//
//   #v=1&aircraft=alder-165&flight=day-sector&edit=1:58:20,centre-feed,manual&t=2:12:40&units=kg

import { exactClock, parseClock } from "./clock.js";
import { UNITS } from "./figures.js";
import { nearest } from "./nearest.js";

export const VERSION = "1";
export const MOST_EDITS = 50;
const MOST_CHARACTERS = 4000;
const KEYS = ["v", "aircraft", "flight", "edit", "t", "units", "view"];
export const VIEWS = ["inside", "gauges"];
const NAME = /^[a-z][a-z0-9-]{0,59}$/;
const STATE = /^[A-Za-z0-9][A-Za-z0-9 .-]{0,39}$/;

/** What is wrong with a link, in words for the reader. */
export class LinkProblem extends Error {}

/** Write the fragment of a link, with its `#`. */
export function formatLink({ aircraft, flight, edits = [], timeS = null, units = null, view = null }) {
  const fields = [`v=${VERSION}`];
  if (aircraft) fields.push(`aircraft=${aircraft}`);
  if (flight) fields.push(`flight=${flight}`);
  for (const edit of edits) {
    fields.push(`edit=${exactClock(edit.time_s)},${edit.part},${edit.state.replaceAll(" ", "+")}`);
  }
  if (timeS !== null) fields.push(`t=${exactClock(timeS)}`);
  if (units !== null) fields.push(`units=${units}`);
  // A page of before the second view refuses this key: so what needs none, and is the usual view, has none.
  if (view === "gauges") fields.push(`view=${view}`);
  return `#${fields.join("&")}`;
}

/** Read a fragment; null where it is no link of a panel but an ordinary anchor. Throws LinkProblem. */
export function parseLink(fragment) {
  const text = fragment.replace(/^#/, "");
  if (!text.includes("=")) return null;
  if (text.length > MOST_CHARACTERS) {
    throw new LinkProblem(`The link has ${text.length} characters; at most ${MOST_CHARACTERS} are read.`);
  }
  const once = new Map();
  const edits = [];
  for (const [key, value] of text.split("&").map(field)) {
    if (key === "edit") edits.push(edit(value, edits.length + 1));
    else if (once.has(key)) throw new LinkProblem(`'${key}' stands twice in the link.`);
    else once.set(key, value);
  }
  checkVersion(once.get("v"));
  if (edits.length > MOST_EDITS) throw new LinkProblem(`The link has ${edits.length} edits; at most ${MOST_EDITS} are read.`);
  return {
    aircraft: name(once, "aircraft"),
    flight: name(once, "flight"),
    edits,
    timeS: once.has("t") ? time(once.get("t"), "t") : null,
    units: oneOf(once, "units", UNITS),
    view: oneOf(once, "view", VIEWS),
  };
}

function field(text) {
  const at = text.indexOf("=");
  const key = at < 0 ? text : text.slice(0, at);
  if (at < 0 && KEYS.some((own) => own.startsWith(key))) throw new LinkProblem(`It ends in '${key}'; the link may have been cut short.`);
  if (!KEYS.includes(key)) {
    const near = nearest(key, KEYS);
    throw new LinkProblem(`The link has an unknown key '${key.slice(0, 60)}'.${near ? ` Did it say '${near}'?` : ""}`);
  }
  const raw = at < 0 ? "" : text.slice(at + 1);
  if (raw === "") throw new LinkProblem(`'${key}' has no value; the link may have been cut short.`);
  try {
    return [key, decodeURIComponent(raw.replaceAll("+", " "))];
  } catch {
    throw new LinkProblem(`The value of '${key}' is not text.`);
  }
}

function checkVersion(found) {
  if (found === undefined) throw new LinkProblem("The link has no version; it may have been cut short.");
  if (found !== VERSION) throw new LinkProblem(`The link is of version '${found.slice(0, 20)}'; this page reads version ${VERSION}.`);
}

function edit(value, ordinal) {
  const pieces = value.split(",");
  if (pieces.length !== 3) {
    throw new LinkProblem(`Edit ${ordinal} of the link, '${value.slice(0, 60)}', has ${pieces.length} of 3 pieces: time, part, state.`);
  }
  const [at, part, state] = pieces;
  if (!NAME.test(part)) throw new LinkProblem(`Edit ${ordinal} of the link: '${part.slice(0, 60)}' is no name of a part.`);
  if (!STATE.test(state)) throw new LinkProblem(`Edit ${ordinal} of the link: '${state.slice(0, 60)}' is no state.`);
  return { time_s: time(at, `edit ${ordinal}`), part, state };
}

function time(text, place) {
  const read = parseClock(text);
  if (read.problem) throw new LinkProblem(`In the link, ${place}: ${read.problem}`);
  return read.timeS;
}

function name(once, key) {
  const value = once.get(key);
  if (value === undefined) return null;
  if (!NAME.test(value)) throw new LinkProblem(`The link's ${key}, '${value.slice(0, 60)}', is no name.`);
  return value;
}

function oneOf(once, key, allowed) {
  const value = once.get(key);
  if (value === undefined) return null;
  if (!allowed.includes(value)) throw new LinkProblem(`The link's ${key}, '${value.slice(0, 20)}', is none of ${allowed.join(", ")}.`);
  return value;
}
