import assert from "node:assert/strict";
import { test } from "node:test";

import { because, whatNext } from "../../docs/panel/because.js";
import { describe } from "../../docs/panel/describe.js";
import { differenceWords, firstDifference, named } from "../../docs/panel/difference.js";
import { sampleFlight } from "./sample.mjs";

test("because walks from the last change along its causes, each once", () => {
  const steps = because(sampleFlight(), "pump", 700);
  assert.deepEqual(steps.map(({ index, depth }) => [index, depth]), [[5, 0], [4, 1], [3, 1], [1, 2]]);
  assert.deepEqual(because(sampleFlight(), "pump", 700, 2).length, 2);
});

test("because of the present state, not of a later one", () => {
  assert.deepEqual(because(sampleFlight(), "pump", 250).map(({ index }) => index), [2, 1, 0]);
  assert.deepEqual(because(sampleFlight(), "pump", 50), []);
});

test("what next, and in how long", () => {
  const next = whatNext(sampleFlight(), "pump", 250);
  assert.equal(next.index, 5);
  assert.equal(next.inS, 350);
  assert.equal(whatNext(sampleFlight(), "pump", 600), null);
});

test("two flights part at the first thing the aircraft does differently", () => {
  const later = sampleFlight((document) => {
    document.changes = document.changes.slice(0, 4);
    document.changes.push({
      time_s: 550, part: "tank", from: "holding", to: "spilling",
      reason: { kind: "physics", name: "overflow", sentence: "It is full at {100 kg}.", facts: [], causes: [] },
    });
    return document;
  });
  const found = firstDifference(sampleFlight(), later);
  assert.deepEqual([found.timeS, found.part, found.before, found.after], [550, "tank", "holding", "spilling"]);
  assert.deepEqual(differenceWords(found, "Main left"), {
    what: "A state first differs at 0:09:10: main left spilling, where it was holding.",
    why: "In this flight: It is full at {100 kg}.",
  });
});

test("an alert's label is a sentence, so it stands in quotes", () => {
  const flight = sampleFlight((document) => {
    document.parts.push({ name: "leak", label: "Fuel leak: less than used", kind: "alert", states: ["off", "on"], state: "off" });
    return document;
  });
  assert.equal(named(flight, "leak"), "The alert “Fuel leak: less than used”");
  assert.equal(named(flight, "tank"), flight.label("tank"));
});

test("what did not happen is a difference too; what people set is not", () => {
  const later = sampleFlight((document) => {
    document.changes = document.changes.slice(0, 4);
    return document;
  });
  const found = firstDifference(sampleFlight(), later);
  assert.equal(found.part, "hold");
  assert.match(differenceWords(found, "Slat hold").why, /^In the recorded flight: The slats are out/);
  assert.deepEqual([found.before, found.after], ["active", "inactive"]);
  const action = sampleFlight((document) => {
    document.changes[0].reason.sentence = "Set by somebody else.";
    document.changes.unshift({ ...document.changes[0], time_s: 90 });
    return document;
  });
  assert.equal(firstDifference(sampleFlight(), action), null);
});

test("a moment in words holds its masses, flows and states", () => {
  const said = describe(sampleFlight(), 600, "kg").join(" ");
  for (const piece of ["0:10:00 into the flight: cruise", "On board: 40 kg", "Main left: 40 kg, steady", "Engine 1: running, burning 200 kg/h",
    "Stopped by automatics: main left aft pump", "Rules active: slat hold"]) {
    assert.ok(said.includes(piece), `${piece} in ${said}`);
  }
  assert.ok(describe(sampleFlight(), 600, "lb").join(" ").includes("On board: 88 lb"));
});
