// Results as a file: JSON, which can be taken in again, and CSV for a spreadsheet. Both are described for instructors.

import { checked, mergedLists, sureWords } from "./answers.js";

export const FORMAT = "wetwing-results/1";
const MOST_RECORDS = 5000;
const COLUMNS = {
  page: (own) => own.page,
  question: (own) => own.question,
  kind: (own) => own.kind,
  page_title: (own) => own.title,
  asked: (own) => own.ask,
  answer: (own) => own.answer,
  right: (own) => yes(own.right),
  sure: (own) => sureWords(own.sure),
  answered_at: (own) => own.at,
  tries: (own) => own.tries,
  first_answer: (own) => own.first.answer,
  first_right: (own) => yes(own.first.right),
  first_sure: (own) => sureWords(own.first.sure),
  first_answered_at: (own) => own.first.at,
  looks: (own) => own.looks ?? "",
  fewest_looks: (own) => own.fewest ?? "",
};

export function toJson(records) {
  return `${JSON.stringify({ format: FORMAT, results: mergedLists(records) }, null, 1)}\n`;
}

/** By RFC 4180. A text that a spreadsheet would take for a formula is led by an apostrophe. */
export function toCsv(records) {
  const rows = [Object.keys(COLUMNS), ...mergedLists(records).map((own) => Object.values(COLUMNS).map((read) => read(own)))];
  return rows.map((row) => `${row.map(cell).join(",")}\r\n`).join("");
}

/** Read a JSON file of results. @returns {{records: object[], left: number}|{problem: string}} `left`: entries that are no result */
export function fromJson(text) {
  let found = null;
  try {
    found = JSON.parse(text);
  } catch {
    return { problem: "This file is no JSON. Take the file that 'Save as JSON' made." };
  }
  if (found?.format !== FORMAT) {
    const named = typeof found?.format === "string" ? `is of format '${found.format.slice(0, 40)}'` : "names no format";
    return { problem: `This file ${named}; this page reads '${FORMAT}'.` };
  }
  if (!Array.isArray(found.results)) return { problem: "This file has no list 'results'." };
  if (found.results.length > MOST_RECORDS) {
    return { problem: `This file has ${found.results.length} results; at most ${MOST_RECORDS} are read.` };
  }
  const records = found.results.map(checked);
  const sound = records.filter((record) => record !== null);
  return { records: mergedLists(sound), left: records.length - sound.length };
}

const yes = (right) => (right ? "yes" : "no");

function cell(value) {
  const text = String(value);
  const safe = /^[=+\-@\t\r]/.test(text) ? `'${text}` : text;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
