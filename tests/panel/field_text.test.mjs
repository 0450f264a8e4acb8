// Figures in the fields of a form, in the reader's units, and back.

import assert from "node:assert/strict";
import { test } from "node:test";

import { fieldText, fieldValue } from "../../docs/panel/field_text.js";

test("a figure stands in a field as people write it", () => {
  const shown = [[22700, "kg", "kg", "22,700"], [22700, "kg", "lb", "50,045"], [22700, "kg", "t", "22.7"], [0.78, "", "t", "0.78"], [-3, "K", "lb", "\u22123"], [9.66667, "min", "kg", "9.667"], [0, "kg", "t", "0"]];
  for (const [value, unit, units, text] of shown) assert.equal(fieldText(value, unit, units), text);
});

test("what a field shows is read back, to the kilogram in other units", () => {
  for (const units of ["kg", "lb", "t"]) {
    for (const value of [0, 4, 1985, 22700, 143500]) assert.equal(fieldValue(fieldText(value, "kg", units), "kg", units), value);
    for (const value of [-47, 0.78, 9.667]) assert.equal(fieldValue(fieldText(value, "min", units), "min", units), value);
  }
});

test("what is no number is none", () => {
  for (const text of ["", "  ", "much", "1.2.3,4.5", "12 kg"]) assert.ok(Number.isNaN(fieldValue(text, "kg", "lb")), text);
});
