// The view on the gauges: what a crew would see of a moment, and nothing else.

import assert from "node:assert/strict";
import { test } from "node:test";

import { describe } from "../../docs/panel/describe.js";
import { describeGauges } from "../../docs/panel/describe_gauges.js";
import { seenWords } from "../../docs/panel/explain_gauges.js";
import { momentWords } from "../../docs/panel/class_words.js";
import { GaugedMoment, isTold, seenState } from "../../docs/panel/gauges.js";
import { compileTest } from "../../docs/panel/paint.js";
import { sampleFlight } from "./sample.mjs";

const FACTS = {
  meters: { engine: "meter" },
  displayed: [],
  tanks: { tank: { full_kg: 200, probes: ["probe-1", "probe-2"] } },
};
const reason = { kind: "trouble", name: "x", sentence: "", facts: [], causes: [] };

function troubled(document) {
  const part = (name, label, kind, states, extra = {}) => ({ name, label, kind, states, settings: [], start: states[0], ...extra });
  document.parts.push(
    part("meter", "Meter 1", "meter", ["reads", "no signal"]),
    part("total", "Totaliser", "totaliser", ["reads", "no signal"]),
    part("probe-1", "Probe 1", "probe", ["reads", "no signal"]),
    part("probe-2", "Probe 2", "probe", ["reads", "no signal"]),
    part("valve", "Cross-feed valve", "valve", ["shut", "open"], { settings: ["shut", "open"], set: "shut" }),
    part("valve-indication", "Cross-feed valve, as shown", "indication", ["shut", "open"]),
    part("sensor", "Low-level sensor", "sensor", ["wet", "dry"]),
    part("low", "Main left low level", "alert", ["off", "on"], { level: "caution" }),
    { ...part("edit-1", "Main left leaks: 1200 kg/h", "trouble", ["absent", "present"]), of: "tank", trouble: "leak" },
    { ...part("edit-2", "Cross-feed valve moves, but its indication does not", "trouble", ["absent", "present"]), of: "valve", trouble: "indication frozen" },
  );
  document.quantities["tank.gauged_kg"] = [98, 98, 88, 58, 18];
  document.quantities["tank.fill"] = [0.5, 0.5, 0.45, 0.3, 0.1];
  document.quantities["engine.metered_kg_h"] = [0, 0, 0, 150, 150];
  document.commands.push({ time_s: 650, part: "valve", state: "open" });
  const turn = (time_s, name, from, to) => document.changes.push({ time_s, part: name, from, to, reason });
  turn(650, "valve", "shut", "open");
  turn(700, "edit-1", "absent", "present");
  turn(700, "sensor", "wet", "dry");
  turn(750, "probe-1", "reads", "no signal");
  turn(760, "low", "off", "on");
  turn(800, "probe-2", "reads", "no signal");
  turn(850, "meter", "reads", "no signal");
  return document;
}

const flight = sampleFlight(troubled);
const at = (timeS) => new GaugedMoment(flight.at(timeS), FACTS);

test("an engine that has stopped is seen to stand, and not of what", () => {
  const stopped = sampleFlight((document) => {
    document.parts.find(({ name }) => name === "engine").states.push("failed", "stopped for want of fuel");
    document.changes.push({ time_s: 900, part: "engine", from: "running", to: "failed", reason });
    return document;
  });
  assert.equal(stopped.at(950).state("engine"), "failed");
  assert.equal(new GaugedMoment(stopped.at(950), FACTS).state("engine"), "not running");
  assert.equal(seenState(stopped, "engine", "stopped for want of fuel"), "not running");
  assert.equal(seenState(stopped, "engine", "running"), "running");
  assert.equal(seenState(stopped, "pump", "failed"), "failed");
  assert.match(momentWords(stopped, 950).what, /engine 1, failed\.$/i);
  assert.match(momentWords(stopped, 950, { onGauges: true }).what, /engine 1, not running\.$/i);
});

test("quantities are those of gauges and meters, or nobody's", () => {
  const now = at(300);
  assert.equal(now.quantity("tank.actual_kg"), flight.at(300).quantity("tank.gauged_kg"));
  assert.equal(now.quantity("tank.fill"), flight.at(300).quantity("tank.gauged_kg") / 200);
  assert.equal(now.quantity("engine.flow_kg_h"), 150);
  assert.equal(now.quantity("total.on_board_kg"), flight.at(300).quantity("total.gauged_kg"));
  assert.equal(now.quantity("flight.altitude_ft"), flight.at(300).quantity("flight.altitude_ft"));
  for (const name of ["tank.rate_kg_h", "pump.flow_kg_h", "vent.flow_kg_h", "total.leaked_kg"]) assert.ok(Number.isNaN(now.quantity(name)), name);
});

test("states are settings and indications; a trouble is nowhere", () => {
  const now = at(720);
  assert.equal(flight.at(720).state("valve"), "open");
  assert.equal(now.state("valve"), "shut");
  assert.equal(now.state("pump"), "on");
  assert.equal(now.state("engine"), "running");
  for (const name of ["sensor", "edit-1", "hold", "vent", "valve-indication"]) assert.equal(now.state(name), "not shown", name);
  assert.deepEqual(now.troubles("tank"), []);
  assert.ok(!compileTest("tank~leak")(now));
  assert.ok(compileTest("valve:set=open")(now) && compileTest("valve!=open")(now));
  assert.ok(compileTest("valve:shown=shut")(flight.at(720)) && compileTest("valve=open")(flight.at(720)));
});

test("a gauge is blank when no probe of it gives a signal, and not before", () => {
  assert.ok(!Number.isNaN(at(790).quantity("tank.actual_kg")));
  assert.equal(at(790).state("probe-1"), "not shown");
  assert.ok(Number.isNaN(at(810).quantity("tank.actual_kg")));
  assert.ok(Number.isNaN(at(810).quantity("total.on_board_kg")));
  assert.equal(at(810).state("probe-1"), "no signal");
  assert.ok(Number.isNaN(at(860).quantity("engine.flow_kg_h")));
});

test("what a crew is told of changes", () => {
  const told = ["selector", "engine", "low", "phase", "pump", "edit-1", "hold", "sensor"].filter((name) => isTold(flight, name));
  assert.deepEqual(told, ["selector", "engine", "low", "phase"]);
});

test("a part in words, as a crew sees it", () => {
  const words = (name, timeS) => seenWords(flight.parts.get(name), at(timeS), "kg");
  assert.equal(words("valve", 720), "shown shut, told open");
  assert.equal(words("pump", 720), "switched on");
  assert.equal(words("tank", 720), "gauge 32 kg");
  assert.equal(words("tank", 820), "gauge blank, no signal");
  assert.equal(words("engine", 720), "running, by its meter 150 kg/h");
  assert.equal(words("engine", 870), "running, flow meter blank");
  assert.equal(words("edit-1", 720), null);
  assert.equal(words("sensor", 720), null);
});

test("described on the gauges, no trouble is told; inside, all three texts of a valve are", () => {
  const inside = describe(flight, 770, "t").join(" ");
  assert.match(inside, /Caution: main left low level\. Trouble: main left leaks: 1\.2 t\/h\./);
  assert.match(inside, /Cross-feed valve: open, shown shut\./);
  const seen = describeGauges(at(770), "kg").join(" ");
  assert.match(seen, /Main left: gauge 30 kg\./);
  assert.match(seen, /Cross-feed valve: shown shut, told open\./);
  assert.match(seen, /Caution: main left low level\./);
  assert.doesNotMatch(seen, /leak|dry|delivering|frozen|present|NaN|–/);
});
