// How numbers are written and read: in each form, the same precision, and back again.

import assert from "node:assert/strict";
import { afterEach, test } from "node:test";

import { amount, exactMass, figure, fromUnits, inUnits, rateWords, stepped, unitWord } from "../../docs/panel/figures.js";
import { chooseForm, chooseVolumes, FORMS, formOf, readNumber, written } from "../../docs/panel/numbers.js";
import { valueWords } from "../../docs/panel/values.js";
import { say, sayLabel } from "../../docs/panel/words.js";

afterEach(() => {
  chooseForm("1,234.5");
  chooseVolumes("L");
});

const SPACE = "\u202f";
const FORM_CASES = [
  ["1,234.5", "6,480", "−1,234.50", "22.702", "held until {430 kg}: 22,500 kg"],
  ["1 234,5", `6${SPACE}480`, `−1${SPACE}234,50`, "22,702", ""],
  ["1.234,5", "6.480", "−1.234,50", "22,702", ""],
];
for (const [form, mass, signed, tonnes] of FORM_CASES) {
  test(`numbers in the form ${form}`, () => {
    chooseForm(form);
    assert.equal(figure(6483, "kg"), mass);
    assert.equal(written(-1234.5, 2), signed);
    assert.equal(exactMass(22701.6, "t"), tonnes);
    assert.equal(rateWords(-1452).replace(FORMS[form].group, "_"), "falling 1_450 kg/h");
    assert.equal(say("{22,500 kg} at {2.43 bar}").replace(FORMS[form].group, "_").replace(FORMS[form].point, "*"), "22_500 kg at 2*43 bar");
  });
}

test("a form that is not on offer changes nothing", () => {
  chooseForm("1'234.5");
  assert.equal(written(1234.5, 1), "1,234.5");
});

test("each language has its form", () => {
  const wanted = { en: "1,234.5", "en-GB": "1,234.5", de: "1.234,5", fr: "1 234,5", sv: "1 234,5", es: "1.234,5", "no such": "1,234.5" };
  for (const [language, form] of Object.entries(wanted)) assert.equal(formOf(language), form, language);
});

test("what is shown can be typed back, in every form and unit", () => {
  for (const form of Object.keys(FORMS)) {
    chooseForm(form);
    for (const units of ["kg", "lb", "t"]) {
      for (const kg of [0, 7, 88, 940, 6480, 22500, 1234567]) {
        const read = readNumber(exactMass(kg, units));
        assert.equal(read.problem, undefined, `${form} ${exactMass(kg, units)}`);
        assert.ok(Math.abs(fromUnits(read.value, units) - kg) <= (units === "lb" ? 0.3 : 0.5), `${form}: ${exactMass(kg, units)} ${units} is read as ${read.value}`);
      }
    }
  }
});

const READ = [
  ["1,234.5", "18000", 18000],
  ["1,234.5", "18,000", 18000],
  ["1,234.5", "18 000", 18000],
  ["1,234.5", "1.5", 1.5],
  ["1,234.5", "1,5", 1.5],
  ["1,234.5", "18.000,5", 18000.5],
  ["1,234.5", "−250", -250],
  ["1.234,5", "18.000", 18000],
  ["1.234,5", "18,000", 18],
  ["1.234,5", "22,5", 22.5],
  ["1 234,5", "22.5", 22.5],
];
for (const [form, typed, value] of READ) {
  test(`'${typed}' is read in the form ${form}`, () => {
    chooseForm(form);
    assert.deepEqual(readNumber(typed), { value });
  });
}

for (const typed of ["", "much", "1,23,4", "12..5", "1e5", "1,234,5", "--4", "5 kg", "12,3456,789"]) {
  test(`'${typed}' is refused`, () => assert.match(readNumber(typed).problem, /is not a number\. Write it as 1,234\.5/));
}

test("volumes in gallons, masses in tonnes, and nothing in the wrong one", () => {
  assert.equal(amount(8134, "L"), "8,130 L");
  chooseVolumes("US gal");
  assert.equal(amount(8134, "L"), "2,150 US gal");
  assert.equal(unitWord("L/h"), "US gal/h");
  assert.equal(say("at {8134 L} and {5 L/h}"), "at 2,149 US gal and 1 US gal/h");
  assert.equal(valueWords(3785.411784, "L", 1, "kg"), "1,000");
  assert.equal(amount(0.8035, "kg/L"), "0.804 kg/L");
  assert.equal(valueWords(6480, "kg", 1, "t"), "6.480");
  assert.equal(inUnits(6480, "t"), 6.48);
});

test("what nobody shows is a dash", () => {
  assert.equal(figure(Number.NaN, "kg"), "–");
  assert.equal(rateWords(Number.NaN), "–");
  assert.equal(stepped(6483, 10), "6,480");
});

test("the figure in a trouble's label is grouped and in the reader's units", () => {
  assert.equal(sayLabel("Main left leaks: 1200 kg/h when the tank is full"), "Main left leaks: 1,200 kg/h when the tank is full");
  assert.equal(sayLabel("Main left leaks: 1,200 kg/h when the tank is full", "t"), "Main left leaks: 1.2 t/h when the tank is full");
  assert.equal(sayLabel("Engine 1 leaks 200 kg/h before its flow meter", "lb"), "Engine 1 leaks 441 lb/h before its flow meter");
});
