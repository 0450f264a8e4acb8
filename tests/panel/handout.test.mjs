import assert from "node:assert/strict";
import { test } from "node:test";

import { apart, gathered, massAxis } from "../../docs/panel/handout_axes.js";
import { askedCells, numbers, readSeed, tableRows } from "../../docs/panel/handout_paper.js";
import { sampleFlight } from "./sample.mjs";

test("the same seed asks the same cells, another seed asks others", () => {
  const paper = (seed) => askedCells(seed, 10, 6, 0.5);
  assert.deepEqual(paper(7), paper(7));
  assert.notDeepEqual(paper(7), paper(8));
  assert.equal(paper(7).flat().filter(Boolean).length, 30);
  assert.ok(askedCells(3, 4, 2, 1).flat().every(Boolean));
  assert.equal(askedCells(3, 1, 1, 0.1).flat().filter(Boolean).length, 1);
});

test("the numbers of a seed are those of the shifts, worked out beside the code", () => {
  // 32-bit shifts 13, 17, 5 from seed 1, spread by 0x9e3779b1: worked out with Python's whole numbers.
  const next = numbers(1);
  assert.deepEqual([next(1000), next(1000), next(1000)], [747, 245, 694]);
});

test("every cell is asked about as often as any other", () => {
  const counts = Array(12).fill(0);
  for (let seed = 1; seed <= 2000; seed += 1) askedCells(seed, 4, 3, 0.5).flat().forEach((asked, at) => (counts[at] += asked ? 1 : 0));
  // 1,000 expected; the spread of so many throws is 22, and five times that is allowed.
  assert.ok(counts.every((count) => Math.abs(count - 1000) < 112), String(counts));
});

test("a seed is a whole number within its range", () => {
  assert.deepEqual(readSeed(" 42 "), { seed: 42 });
  for (const wrong of ["", "0", "1000000", "4.5", "-3", "x"]) assert.ok(readSeed(wrong).problem.includes("1 to 999,999"), wrong);
});

test("the table has the tanks' masses, the pumps' states, and what differs or can be set here", () => {
  const rows = tableRows(sampleFlight(), [100, 700], ["selector"]);
  assert.deepEqual(rows.map(({ part, what }) => `${part} ${what}`), ["tank mass", "pump state", "selector state"]);
  assert.deepEqual(tableRows(sampleFlight(), [100], []).map(({ part }) => part), ["tank", "pump"]);
});

test("axes have round steps and a top above the greatest mass", () => {
  assert.deepEqual(massAxis(0), { stepKg: 2, topKg: 10 });
  for (const most of [12, 98, 6540, 8300, 21_300, 64_000]) {
    const { stepKg, topKg } = massAxis(most);
    assert.ok(topKg >= most && topKg - most < stepKg, String(most));
    assert.ok([1, 2, 5].includes(Number(String(stepKg)[0])), String(stepKg));
    assert.ok(topKg / stepKg >= 3 && topKg / stepKg <= 9, String(most));
  }
});

test("labels are moved apart, and near letters share a place", () => {
  assert.deepEqual(apart([100, 101, 50], 17), [100, 117, 50]);
  assert.deepEqual(gathered([{ x: 10, words: "A" }, { x: 100, words: "B" }, { x: 108, words: "C" }], 15), [{ x: 10, words: "A" }, { x: 104, words: "B C" }]);
});
