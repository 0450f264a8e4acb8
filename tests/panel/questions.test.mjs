// The arithmetic of the questions: order, sketch, hidden troubles.

import assert from "node:assert/strict";
import { test } from "node:test";

import { judgeAnswer, look, readCase, revealed, troubleOf } from "../../docs/panel/challenge_game.js";
import { judgeOrder, moved, placeAt, readSequence } from "../../docs/panel/order.js";
import { RecordedFlight } from "../../docs/panel/record.js";
import { band, drawn, drawnTo, emptyLine, filled, INTERVALS, judgeSketch, nearestBend, ticks, timeTicks, typed, valueAt } from "../../docs/panel/sketch.js";
import { sampleDocument } from "./sample.mjs";

const SAMPLE = sampleDocument();

test("an item moves within its list and no farther", () => {
  assert.deepEqual(moved([3, 1, 2], 0, 2), [1, 2, 3]);
  assert.deepEqual(moved([3, 1, 2], 2, 0), [2, 3, 1]);
  assert.deepEqual(moved([3, 1, 2], 1, -4), [1, 3, 2]);
  assert.deepEqual(moved([3, 1, 2], 1, 9), [3, 2, 1]);
});

test("an order is right only as a whole", () => {
  assert.deepEqual(judgeOrder([1, 2, 3, 4]), { right: true, inPlace: 4, count: 4, firstWrong: null });
  assert.deepEqual(judgeOrder([1, 3, 2, 4]), { right: false, inPlace: 2, count: 4, firstWrong: 2 });
});

test("a kept order is read only where it is one", () => {
  assert.deepEqual(readSequence("2 1 3", 3), [2, 1, 3]);
  for (const wrong of ["1 2", "1 2 2", "1 2 4", "a b c", "", "0 1 2"]) assert.equal(readSequence(wrong, 3), null, wrong);
});

test("a dragged item goes before the first row whose middle is lower", () => {
  assert.deepEqual([5, 10, 15, 99].map((y) => placeAt([10, 20], y)), [0, 1, 1, 2]);
});

// 1,000 at 0 s, straight to 400 at 60 s, a jump to 700, and flat to 96 s.
const POINTS = [[0, 1000], [60, 400], [60, 700], [96, 700]];
const SHEET = { points: POINTS, fromS: 0, toS: 96, within: 50, slackS: 4 };
const exact = Array.from({ length: INTERVALS + 1 }, (_none, at) => valueAt(POINTS, at * 2));

test("the flight's line is straight between points, and later at a jump", () => {
  assert.deepEqual([-1, 0, 30, 59.999, 60, 90, 200].map((at) => Math.round(valueAt(POINTS, at))), [1000, 1000, 700, 400, 700, 700, 700]);
  assert.deepEqual(band(POINTS, 60, 6), { least: 400, most: 700 });
  assert.deepEqual(band(POINTS, 0, 6), { least: 940, most: 1000 });
});

test("a stroke is straight, its start is given, and what is typed makes its neighbourhood straight", () => {
  const line = drawn(emptyLine(10), 4, 20, 0, 100);
  assert.deepEqual(line.slice(0, 6), [10, 80, 60, 40, 20, null]);
  assert.equal(drawnTo(line), 4);
  assert.deepEqual(filled(typed(line, 8, 100, 8)).slice(0, 10), [10, 21.25, 32.5, 43.75, 55, 66.25, 77.5, 88.75, 100, null]);
  assert.deepEqual(filled(drawn(emptyLine(0), 3, 9, 3, 9)).slice(0, 5), [0, 3, 6, 9, null]);
});

test("a sketch is right within its tolerance of value and time, and wrong beyond", () => {
  assert.equal(judgeSketch(exact, SHEET).right, true);
  assert.equal(judgeSketch(exact.map((value) => value + 49), SHEET).right, true);
  const off = judgeSketch(exact.map((value, at) => (at > 40 ? value + 120 : value)), SHEET);
  assert.deepEqual([off.right, off.worst.timeS, off.worst.yours, off.worst.theirs, off.worst.apart], [false, 82, 820, 700, 120]);
  // The bend three seconds late is within the slack; twelve seconds late is not.
  const late = (delay) => exact.map((_value, at) => valueAt(POINTS, Math.max(at * 2 - delay, 0)));
  assert.equal(judgeSketch(late(3), SHEET).right, true);
  assert.equal(judgeSketch(late(12), SHEET).right, false);
});

test("the bend that explains a departure is the one nearest to it", () => {
  const bends = [{ time_s: 10 }, { time_s: 60 }];
  assert.deepEqual([0, 34, 36, 500].map((at) => nearestBend(bends, at).time_s), [10, 10, 60, 60]);
  assert.equal(nearestBend([], 5), null);
});

test("axes have round figures", () => {
  assert.deepEqual(ticks(5600, 7000), [6000, 6500, 7000]);
  assert.deepEqual(ticks(-0.2, 0.2, 4).map((value) => Math.round(value * 10) / 10), [-0.2, -0.1, 0, 0.1, 0.2]);
  assert.deepEqual(timeTicks(3702, 7090), [4200, 4800, 5400, 6000, 6600]);
});

test("a case hides the same trouble everywhere, and every trouble has cases", () => {
  assert.deepEqual([1, 2, 3, 4, 5, 6].map((number) => troubleOf(number, 3)), [1, 2, 3, 4, 5, 6].map((number) => troubleOf(number, 3)));
  for (const count of [2, 3, 5]) {
    const found = Array.from({ length: 60 }, (_none, at) => troubleOf(at + 1, count));
    for (let trouble = 0; trouble < count; trouble += 1) assert.ok(found.filter((own) => own === trouble).length > 60 / count / 3, `${count} ${trouble}`);
  }
  assert.deepEqual(readCase(" 17 "), { caseNumber: 17 });
  for (const wrong of ["", "0", "1000", "-3", "1.5", "x"]) assert.match(readCase(wrong).problem, /from 1 to 999/);
});

test("what is hidden is read as it was written, whatever its letters", () => {
  assert.deepEqual(revealed(Buffer.from(JSON.stringify({ part: "zentral–ö" })).toString("base64")), { part: "zentral–ö" });
});

test("an answer is right by part and kind together, and says which of them was", () => {
  const hidden = { part: "main-left", kind: "leak" };
  assert.equal(judgeAnswer({ part: "main-left", kind: "leak" }, hidden).right, true);
  assert.match(judgeAnswer({ part: "main-left", kind: "water" }, hidden).words, /^The part is right/);
  assert.match(judgeAnswer({ part: "centre", kind: "leak" }, hidden).words, /not that part/);
  assert.match(judgeAnswer({ part: "centre", kind: "water" }, hidden).words, /^Neither/);
});

test("a look shows what is true inside, and never names a trouble", () => {
  const flight = new RecordedFlight(SAMPLE);
  const own = flight.changes.findIndex((change) => change.reason.kind === "rule" || change.reason.kind === "physics");
  const { part, time_s: timeS, to, reason } = flight.changes[own];
  const seen = look(flight, part, timeS);
  assert.deepEqual([seen.state, seen.sinceS, seen.sentence], [to, timeS, reason.sentence]);
  const troubled = new RecordedFlight({
    ...SAMPLE, changes: SAMPLE.changes.map((change, at) => (at === own ? { ...change, reason: { ...change.reason, kind: "trouble" } } : change)),
  });
  assert.equal(look(troubled, part, timeS).sentence, null);
});
