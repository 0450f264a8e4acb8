// The form of the exercises, and the judging of a figure.

import assert from "node:assert/strict";
import test from "node:test";

import { paperRequest, questionOf, readWhole } from "../../docs/panel/exercises_form.js";
import { judgeNumber } from "../../docs/panel/number_answer.js";

const wish = { amount: 410, tolerance: 40, slips: [{ amount: 9600, why: "a" }, { amount: 5000, why: "b" }] };

test("a figure is right up to its tolerance and not beyond", () => {
  for (const value of [370, 410, 450]) assert.deepEqual(judgeNumber(value, wish), { right: true, slip: null });
  for (const value of [369.9, 450.1]) assert.equal(judgeNumber(value, wish).right, false);
});

test("a wrong figure is known by the slip that leads to it", () => {
  assert.equal(judgeNumber(9640, wish).slip.why, "a");
  assert.equal(judgeNumber(5030, wish).slip.why, "b");
  assert.equal(judgeNumber(7000, wish).slip, null);
});

test("whole numbers are read as people write them, and others refused with what is allowed", () => {
  assert.deepEqual(readWhole(" 1,234 ", 0, 999999, "Seed"), { value: 1234 });
  for (const text of ["-1", "2.5", "1000000"]) assert.match(readWhole(text, 0, 999999, "Seed").problem, /^Seed: .*0 to 999999\.$/);
  assert.match(readWhole("x", 0, 9, "Seed").problem, /^Seed: 'x' is not a number/);
});

test("a form becomes a request, or says which field is wrong", () => {
  const form = { seed: "4", mostSeed: 999999, count: "12", mostCount: 40, aircraft: "rowan-54", kinds: ["state"] };
  assert.deepEqual(paperRequest(form).request, { ask: "exercises", seed: 4, count: 12, aircraft: "rowan-54", kinds: ["state"] });
  assert.equal(paperRequest({ ...form, count: "41" }).field, "count");
  assert.equal(paperRequest({ ...form, seed: "" }).field, "seed");
  assert.match(paperRequest({ ...form, kinds: [] }).problem, /at least one kind/);
});

test("a question's name says which paper holds it", () => {
  assert.deepEqual(questionOf("x-alder-165-b-17-state-2"), { aircraft: "alder-165-b", seed: 17, kind: "state", number: 2 });
  for (const name of ["", "cruise-hold", "x-alder-state-2", "v=1&aircraft=alder-165"]) assert.equal(questionOf(name), null);
});
