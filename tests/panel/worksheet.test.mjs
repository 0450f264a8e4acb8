// What a worksheet's own modules do without a page: numbers as typed, values in fields, files out and in.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { afterEach, test } from "node:test";

import { chooseForm, chooseVolumes, readNumber } from "../../docs/panel/numbers.js";
import { readWorksheet, worksheetCsv, worksheetJson } from "../../docs/panel/worksheet_file.js";
import { entryText, fieldUnit, resultText } from "../../docs/panel/worksheet_text.js";

afterEach(() => {
  chooseForm("1,234.5");
  chooseVolumes("L");
});

test("numbers are read as the simulation reads them", () => {
  const cases = JSON.parse(readFileSync(new URL("../vectors/typed_numbers.json", import.meta.url), "utf8"));
  for (const [form, typed, value] of cases) {
    chooseForm(form);
    assert.equal(readNumber(typed).value ?? null, value, `'${typed}' in ${form}`);
  }
});

const MASS = { kind: "mass", unit: "kg" };

test("a value stands in its field in the reader's units and form", () => {
  assert.equal(entryText(MASS, 12500.4, "kg"), "12,500");
  assert.equal(entryText(MASS, 12500, "t"), "12.5");
  assert.equal(entryText(MASS, 12500, "lb"), "27,558");
  assert.equal(entryText(MASS, null, "kg"), "");
  assert.equal(entryText({ kind: "density", unit: "kg/L" }, 0.804, "lb"), "0.804");
  assert.equal(entryText({ kind: "clock", unit: "h:mm" }, 9000, "kg"), "2:30");
  chooseVolumes("US gal");
  assert.equal(entryText({ kind: "volume", unit: "L" }, 3785.411784, "kg"), "1,000");
  assert.equal(fieldUnit({ kind: "volume", unit: "L" }, "kg"), "US gal");
  chooseForm("1.234,5");
  assert.equal(entryText(MASS, 12500, "t"), "12,5");
  assert.equal(resultText({ value: 12285, unit: "kg", step: 1, words: "" }, "kg"), "12.285\u00a0kg");
  assert.equal(resultText({ value: null, unit: "", step: 1, words: "normal" }, "kg"), "normal");
});

const WHOLE = {
  kind: "uplift", title: "Uplift check", flight: "Alder 165, day sector", date: "2026-11-28", caution: "For learning.",
  script: { aircraft: "alder-165", script: "day-sector" }, edits: [],
  fields: [{ name: "gauged", label: "Gauges after", row: null, kind: "mass", unit: "kg", value: 12500, text: "12,500" }],
  results: [{ name: "difference", label: "Gauges − expected", value: -150, words: "", unit: "kg", formula: "=after, before", paragraph: "p" }],
  findings: [{ level: "beyond", sentence: "{150 kg} less." }],
};

test("a sheet as CSV has the reader's units, and no formula that a spreadsheet would run", () => {
  const rows = worksheetCsv(WHOLE, "lb").split("\r\n");
  assert.ok(rows.includes('in,gauged,Gauges after,"12,500",lb,,'));
  assert.ok(rows.includes("out,difference,Gauges − expected,-330.693,lb,\"'=after, before\",p"));
  assert.ok(rows.includes("finding,beyond,331 lb less.,,,,"));
});

test("a sheet as JSON is read back in", () => {
  const text = worksheetJson(WHOLE);
  assert.equal(JSON.parse(text).results[0].value, -150);
  assert.deepEqual(readWorksheet(text, "uplift", ["gauged"]), { given: { gauged: 12500 } });
});

for (const [text, told] of [
  ["no", /no JSON/],
  ["null", /names no format/],
  ['{"format": "other/1"}', /is of format 'other\/1'/],
  ['{"format": "wetwing-worksheet/1", "kind": "fuel-plan"}', /'fuel-plan'; this one is 'uplift'/],
  ['{"format": "wetwing-worksheet/1", "kind": "uplift", "fields": []}', /no fields/],
  ['{"format": "wetwing-worksheet/1", "kind": "uplift", "fields": {"strange": 1}}', /field 'strange'/],
  ['{"format": "wetwing-worksheet/1", "kind": "uplift", "fields": {"gauged": "12"}}', /'gauged' holds no number/],
]) {
  test(`a file that is no sheet: ${text}`, () => assert.match(readWorksheet(text, "uplift", ["gauged"]).problem, told));
}
