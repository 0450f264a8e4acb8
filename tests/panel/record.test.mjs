import assert from "node:assert/strict";
import { test } from "node:test";

import { countUpTo } from "../../docs/panel/record.js";
import { sampleDocument, sampleFlight } from "./sample.mjs";
import { RecordedFlight } from "../../docs/panel/record.js";

const flight = sampleFlight();

test("a quantity is linear between keyframes", () => {
  assert.equal(flight.at(150).quantity("tank.actual_kg"), 95);
  assert.equal(flight.at(600).quantity("tank.actual_kg"), 40);
});

test("at a jump the later value is shown, just before it the earlier", () => {
  assert.equal(flight.at(200).quantity("tank.actual_kg"), 60);
  assert.ok(Math.abs(flight.at(199.999).quantity("tank.actual_kg") - 90) < 0.001);
});

test("a column of one value is constant, and the ends hold", () => {
  assert.equal(flight.at(777).quantity("vent.flow_kg_h"), 0);
  assert.equal(flight.at(0).quantity("tank.actual_kg"), 100);
  assert.equal(flight.at(1000).quantity("tank.actual_kg"), 20);
  assert.equal(flight.hold(-5), 0);
  assert.equal(flight.hold(5000), 1000);
});

test("a state holds from its change on", () => {
  assert.equal(flight.at(99.9).state("pump"), "off");
  assert.equal(flight.at(100).state("pump"), "stopped by automatics");
  assert.equal(flight.at(599.9).state("pump"), "delivering");
  assert.equal(flight.at(600).state("pump"), "stopped by automatics");
});

test("what is commanded is told apart from what is so", () => {
  assert.equal(flight.at(50).setting("pump"), "off");
  assert.equal(flight.at(150).setting("pump"), "on");
  assert.equal(flight.at(150).state("pump"), "stopped by automatics");
  assert.equal(flight.at(500).setting("selector"), "manual");
});

test("changes are found forward and back", () => {
  assert.equal(flight.nextTime(0), 100);
  assert.equal(flight.nextTime(100), 200);
  assert.equal(flight.nextTime(600), null);
  assert.equal(flight.previousTime(600), 300);
  assert.equal(flight.previousTime(100), 0);
  assert.equal(flight.nextChange("pump", 200), 5);
  assert.equal(flight.lastChange("hold", 599), null);
  assert.deepEqual(flight.between(100, 200), [1, 2]);
});

test("a time that a record has rounded is held to the keyframe that it means", () => {
  assert.equal(flight.hold(199.9995), 200);
  assert.equal(flight.hold(199.99), 199.99);
});

test("phases", () => {
  assert.equal(flight.phaseAt(0).name, "start");
  assert.equal(flight.phaseAt(400).name, "cruise");
  assert.equal(flight.phaseEnd(flight.phases[0]), 400);
  assert.equal(flight.phaseEnd(flight.phases[1]), 1000);
});

test("columns add up, spans cover the flight", () => {
  assert.deepEqual(flight.column("pump.flow_kg_h + engine.flow_kg_h"), [0, 0, 0, 1200, 1200]);
  const spans = flight.spans("pump");
  assert.deepEqual(spans.map((span) => span.state), ["off", "stopped by automatics", "delivering", "stopped by automatics"]);
  assert.equal(spans.at(-1).end, 1000);
});

test("a record of another format is refused by name", () => {
  assert.throws(() => new RecordedFlight({ ...sampleDocument(), format: "wetwing-record/9" }), /wetwing-record\/9.*wetwing-record\/1/);
});

test("counting in a sorted array", () => {
  assert.deepEqual([-1, 0, 1, 2, 9].map((value) => countUpTo([0, 1, 1, 3], value)), [0, 1, 3, 3, 4]);
});
