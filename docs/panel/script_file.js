// A script's file before the simulation reads it, and what is said when it can't be.

import { written } from "./numbers.js";

export const MOST_BYTES = 200_000;
const CHANGED = ", changed";
const WANTED = `A script is a text file of at most ${MOST_BYTES / 1000} kB, whose name usually ends in .toml.`;

/** What is wrong with a file by its size; null where nothing is. */
export function sizeProblem({ name, size }) {
  if (size === 0) return `'${short(name)}' is empty. ${WANTED}`;
  if (size > MOST_BYTES) return `'${short(name)}' has ${written(size, 0)} bytes. ${WANTED}`;
  return null;
}

/** The text of a file's bytes. @returns {{text: string}|{problem: string}} */
export function textOf(name, bytes) {
  const noText = { problem: `'${short(name)}' is no script: it holds something other than text. ${WANTED}` };
  try {
    const text = new TextDecoder("utf-8", { fatal: true }).decode(bytes);
    return text.includes("\0") ? noText : { text };
  } catch {
    return noText;
  }
}

/** Say why the simulation did not take a file; `benches` tells the pages of other aircraft. */
export function refusal(name, { problem, place }, benches = {}) {
  const of = place.slice(place.lastIndexOf(": ") + 2);
  const found = /: (?:a script for )?'([^']*)'/.exec(problem)?.[1] ?? "";
  if (of === "aircraft" && found in benches) {
    const { title, page } = benches[found];
    return { text: `'${short(name)}' is a script for another aircraft, ${title}.`, link: { words: `Open the bench of ${title}`, page } };
  }
  if (of === "aircraft" && problem.includes("a script for")) {
    return { text: `'${short(name)}' is a script for '${short(found)}', which is no aircraft of this site.` };
  }
  if (of === "format" && found) {
    const allowed = /allowed: (\S+)/.exec(problem)?.[1] ?? "";
    return { text: `'${short(name)}' is of the format '${short(found)}'; this page reads '${allowed}'.` };
  }
  if (of === "format") return { text: `'${short(name)}' is no script: it has no line 'format = "wetwing-script/1"'. ${WANTED}` };
  if (problem.includes("not readable as TOML")) {
    return { text: `'${short(name)}' is no script: ${problem.slice(problem.indexOf("not readable"))}. ${WANTED}` };
  }
  return { text: problem };
}

/** The name of the file that a script is saved as. */
export function fileName(name) {
  return `${name}.toml`;
}

/** What is said of a file as a whole sentence: what the simulation says of it has no full stop. */
export function ended(text) {
  return /[.!?]$/.test(text) ? text : `${text}.`;
}

/** The title that is offered for a flight that has been changed: it says so once, however often that is done. */
export function changedTitle(title) {
  return title.endsWith(CHANGED) ? title : `${title}${CHANGED}`;
}

function short(text) {
  return text.length > 60 ? `${text.slice(0, 57)}…` : text;
}
