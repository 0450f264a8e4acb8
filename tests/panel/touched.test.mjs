import assert from "node:assert/strict";
import { test } from "node:test";

import { smallThingAt } from "../../docs/panel/touched.js";

const box = (name, left, top, wide, high) => ({ name, left, top, right: left + wide, bottom: top + high });
const tank = box("tank", 0, 0, 200, 100);
const pump = box("pump", 50, 50, 14, 14);
const valve = box("valve", 72, 52, 10, 6);

test("a small thing is hit within twenty-four pixels of room, and not beyond", () => {
  assert.equal(smallThingAt([tank, pump], 57, 57), "pump");
  assert.equal(smallThingAt([tank, pump], 46, 57), "pump");
  assert.equal(smallThingAt([tank, pump], 44, 57), null);
  assert.equal(smallThingAt([tank, pump], 57, 70), null);
});

test("of two small things the nearer is meant", () => {
  assert.equal(smallThingAt([pump, valve], 66, 55), "pump");
  assert.equal(smallThingAt([pump, valve], 70, 55), "valve");
});

test("a symbol on a line is meant before the line", () => {
  const line = box("line", 0, 40, 200, 20);
  assert.equal(smallThingAt([line, valve], 75, 54), "valve");
  assert.equal(smallThingAt([line, valve], 150, 54), "line");
});

test("a row of words is wide enough, and is hit a little above and below", () => {
  const words = box("words", 0, 0, 120, 12);
  assert.equal(smallThingAt([words], 110, 17), "words");
  assert.equal(smallThingAt([words], 110, 19), null);
});

test("what is not shown, or is large, is left to the browser", () => {
  assert.equal(smallThingAt([tank, box("hidden", 0, 0, 0, 0)], 1, 1), null);
});
