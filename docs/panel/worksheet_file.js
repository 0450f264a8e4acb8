// A worksheet as a file: CSV for a spreadsheet, and JSON, which can be read back in. No page is needed for either.

import { unitWord } from "./figures.js";
import { fieldUnit, resultNumber } from "./worksheet_text.js";
import { say } from "./words.js";

export const FORMAT = "wetwing-worksheet/1";

/** One row a field, a result, a finding; RFC 4180. A text that a spreadsheet would take for a formula is led by an apostrophe. */
export function worksheetCsv({ title, flight, date, fields, results, findings, caution }, units) {
  const rows = [
    ["what", "name", "label", "figure", "unit", "formula", "paragraph"],
    ["sheet", "", title, "", "", "", ""],
    ["flight", "", flight, "", "", "", ""],
    ["date", "", date, "", "", "", ""],
    ...fields.map((field) => ["in", field.name, rowLabel(field), field.text, field.kind === "choice" ? "" : fieldUnit(field, units), "", ""]),
    ...results.map((own) => ["out", own.name, own.label, resultNumber(own, units), own.unit ? unitWord(own.unit, units) : "", own.formula, own.paragraph]),
    ...findings.map(({ level, sentence }) => ["finding", level, say(sentence, units), "", "", "", ""]),
    ["caution", "", caution, "", "", "", ""],
  ];
  return rows.map((row) => `${row.map(cell).join(",")}\r\n`).join("");
}

/** Values in the sheet's own units (kg, kg/h, L, kg/L, minutes), whatever the reader's are. */
export function worksheetJson({ kind, title, flight, date, fields, results, findings, caution, edits, script }) {
  const whole = {
    format: FORMAT, kind, title, flight, script, edits, date,
    fields: Object.fromEntries(fields.map(({ name, value }) => [name, value])),
    units: Object.fromEntries(fields.filter(({ unit }) => unit).map(({ name, unit }) => [name, unit])),
    results: results.map(({ name, label, value, words, unit, formula, paragraph }) => ({ name, label, value, words, unit, formula, paragraph })),
    findings: findings.map(({ level, sentence }) => ({ level, sentence: say(sentence) })),
    caution,
  };
  return `${JSON.stringify(whole, null, 1)}\n`;
}

/** Read a JSON file of a sheet. @returns {{given: object}|{problem: string}} */
export function readWorksheet(text, kind, names) {
  let found = null;
  try {
    found = JSON.parse(text);
  } catch {
    return { problem: "This file is no JSON. Take the file that 'Save as JSON' made." };
  }
  if (found?.format !== FORMAT) {
    const named = typeof found?.format === "string" ? `is of format '${found.format.slice(0, 40)}'` : "names no format";
    return { problem: `This file ${named}; this sheet reads '${FORMAT}'.` };
  }
  if (found.kind !== kind) return { problem: `This file is a sheet '${String(found.kind).slice(0, 40)}'; this one is '${kind}'.` };
  const { fields } = found;
  if (typeof fields !== "object" || fields === null || Array.isArray(fields)) return { problem: "This file has no fields." };
  const strange = Object.keys(fields).find((name) => !names.includes(name));
  if (strange !== undefined) return { problem: `This file has a field '${strange.slice(0, 40)}', which this sheet has not.` };
  const wrong = Object.entries(fields).find(([, value]) => value !== null && !Number.isFinite(value));
  if (wrong) return { problem: `This file's field '${wrong[0]}' holds no number.` };
  return { given: { ...fields } };
}

export function rowLabel(field) {
  return field.row === null ? field.label : `${field.label}, check ${field.row}`;
}

function cell(value) {
  const text = String(value);
  const safe = /^[=+\-@\t\r]/.test(text) && !/^-?\d+(\.\d+)?$/.test(text) ? `'${text}` : text;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
