import assert from "node:assert/strict";
import { test } from "node:test";

import { barPath, cut, heldGaps, number, ticks } from "../../docs/panel/bars.js";
import { parseMomentEdits, sameEdits, withEdit, withoutEdit } from "../../docs/panel/edits.js";
import { departureTime, ledger, ledgerWords } from "../../docs/panel/ledger.js";
import { compileTest, wetted } from "../../docs/panel/paint.js";
import { problemWords, RuntimeDoor, stateWords } from "../../docs/panel/runtime_door.js";
import { sampleFlight } from "./sample.mjs";

test("the ledger before the first start is what arrived, was taken on, burned and vented", () => {
  const sums = ledger(sampleFlight(), ["engine"], 150);
  assert.equal(sums.kind, "ground");
  assert.deepEqual([sums.arrivedKg, sums.upliftedKg, sums.onBoardKg, sums.burnedKg], [100, 0, 95, 5]);
});

test("the ledger in flight: departure less on board less used is the difference, so a loss is seen", () => {
  assert.equal(departureTime(sampleFlight(), ["engine"], 150), null);
  assert.equal(departureTime(sampleFlight(), ["engine"], 900), 200);
  const sums = ledger(sampleFlight(), ["engine"], 1000);
  assert.deepEqual([sums.departureKg, sums.onBoardKg, sums.usedKg, sums.differenceKg], [58, 18, 40, 0]);
  const leaking = sampleFlight((document) => {
    document.quantities["total.gauged_kg"] = [98, 98, 88, 58, 8];
    return document;
  });
  assert.equal(ledger(leaking, ["engine"], 1000).differenceKg, 10);
  assert.equal(ledger(leaking, ["engine"], 600).differenceKg, 5);
});

test("the ledger in flight: what was jettisoned since departure is known, and no part of the difference", () => {
  const shedding = sampleFlight((document) => {
    document.quantities["total.gauged_kg"] = [98, 98, 88, 58, 8];
    document.quantities["total.discharged_kg"] = [3, 3, 3, 3, 13];
    return document;
  });
  const sums = ledger(shedding, ["engine"], 1000);
  assert.deepEqual([sums.usedKg, sums.jettisonedKg, sums.differenceKg], [40, 10, 0]);
  assert.equal(ledger(sampleFlight(), ["engine"], 1000).jettisonedKg, 0);
});

test("the ledger's figures add up as they are written", () => {
  const flying = { kind: "flight", departureKg: 22701.6, onBoardKg: 20206.4, usedKg: 2486.4, jettisonedKg: 0 };
  assert.deepEqual(ledgerWords(flying, "kg"), {
    departure: "22,702\u00a0kg",
    sum: "By the gauges 20,206 + used 2,486 = 22,692\u00a0kg",
    difference: "Difference 10\u00a0kg",
  });
  const short = { ...flying, departureKg: 20, onBoardKg: 15.4, usedKg: 4.4, jettisonedKg: 0.4 };
  assert.equal(ledgerWords(short, "kg").sum, "By the gauges 15 + used 4 + jettisoned 0 = 19\u00a0kg");
  assert.equal(ledgerWords(short, "kg").difference, "Difference 1\u00a0kg");
  assert.equal(ledgerWords(short, "t").difference, "Difference 0.001\u00a0t");
  const ground = { kind: "ground", arrivedKg: 0.4, upliftedKg: 22776.4, burnedKg: 2.5, lostKg: 0 };
  const { first, second } = ledgerWords(ground, "kg");
  assert.equal(first, "Left by the last flight 0 + taken on 22,776 = 22,776\u00a0kg");
  assert.equal(second, "In the tanks 22,773, unusable fuel included, + burned 3 + lost 0\u00a0kg");
});

test("bars are as high as the flow and end where it ends", () => {
  const same = (time) => time;
  assert.equal(barPath([0, 10, 10, 20, 20, 30], [0, 0, 100, 100, 0, 0], same, 50, 0.1), "M10,45L20,45L20,55L10,55Z");
  assert.equal(barPath([0, 10], [0, 0.5], same, 50, 0.1), "");
  // A trickle is drawn thick enough to be seen, a blink wide enough.
  assert.equal(barPath([0, 10], [2, 2], same, 50, 0.1), "M0,49.2L10,49.2L10,50.8L0,50.8Z");
  assert.equal(barPath([5, 5.1], [100, 100], same, 50, 0.1), "M5,45L5.8,45L5.8,55L5,55Z");
});

test("a cut column has its values at the cuts", () => {
  const found = cut([0, 10, 20], [0, 100, 0], 5, 15);
  assert.deepEqual(found, { timeS: [5, 10, 15], values: [50, 100, 50] });
  assert.deepEqual(cut([0, 100], [0, 100], 20, 40), { timeS: [20, 40], values: [20, 40] });
});

test("gaps say which rule holds", () => {
  const gaps = heldGaps(sampleFlight(), ["pump"], { hold: "slat hold" });
  assert.deepEqual(gaps, [{ start: 100, end: 200, why: "held" }, { start: 600, end: 1000, why: "slat hold" }]);
});

test("ticks are whole and far enough apart", () => {
  assert.deepEqual(ticks(0, 7200, 0.1).map(({ words }) => words), ["0:00", "0:15", "0:30", "0:45", "1:00", "1:15", "1:30", "1:45", "2:00"]);
  assert.deepEqual(ticks(0, 7200, 0.02).map(({ words }) => words), ["0 h", "1 h", "2 h"]);
  assert.equal(ticks(2880, 3180, 3)[0].words, "0:48");
});

test("coordinates", () => {
  assert.deepEqual([1, 1.5, -0.001, 10, 0.126].map(number), ["1", "1.5", "0", "10", "0.13"]);
});

test("edits: the same part at the same time is replaced, times are whole tenths, at most fifty", () => {
  const one = withEdit([], { time_s: 10.01, part: "a", state: "on" }).edits;
  assert.deepEqual(one, [{ time_s: 10.1, part: "a", state: "on" }]);
  const again = withEdit(one, { time_s: 10.05, part: "a", state: "off" }).edits;
  assert.deepEqual(again, [{ time_s: 10.1, part: "a", state: "off" }]);
  const two = withEdit(again, { time_s: 5, part: "b", state: "on" }).edits;
  assert.deepEqual(two.map(({ part }) => part), ["b", "a"]);
  assert.deepEqual(withoutEdit(two, 0), again);
  assert.ok(sameEdits(two, structuredClone(two)) && !sameEdits(two, one));
  let many = [];
  for (let index = 0; index < 50; index += 1) many = withEdit(many, { time_s: index, part: "a", state: "on" }).edits;
  assert.match(withEdit(many, { time_s: 99, part: "a", state: "on" }).problem, /at most 50/);
});

test("edits beside a moment", () => {
  assert.deepEqual(parseMomentEdits(undefined), []);
  assert.deepEqual(parseMomentEdits("7100.0,centre-feed,manual;8.5,preselect,18000 kg"), [
    { time_s: 7100, part: "centre-feed", state: "manual" },
    { time_s: 8.5, part: "preselect", state: "18000 kg" },
  ]);
});

test("a wing tank is wetted by the square root of its fill, a box in proportion", () => {
  assert.deepEqual(wetted("wedge", 100, 80, 0.25), { first: 100, extent: 40 });
  assert.deepEqual(wetted("wedge", 100, -80, 0.25), { first: 60, extent: 40 });
  assert.deepEqual(wetted("box", 200, -50, 0.5), { first: 175, extent: 25 });
  assert.deepEqual(wetted("box", 200, -50, 1.7), { first: 150, extent: 50 });
});

test("tests of a hook", () => {
  const now = sampleFlight().at(600);
  assert.ok(compileTest("pump=delivering|stopped by automatics")(now));
  assert.ok(!compileTest("pump!=stopped by automatics")(now));
  assert.ok(compileTest("pump.flow_kg_h + engine.flow_kg_h>1100")(now));
  assert.ok(!compileTest("pump.flow_kg_h<-900")(now));
  assert.ok(compileTest("-pump.flow_kg_h<-900")(now));
  assert.throws(() => compileTest("pump"), /is no test/);
});

test("every state of the runtime is said in words; only ready is live", () => {
  for (const name of ["absent", "waiting", "loading", "starting", "failed", "ready"]) {
    const { text, live } = stateWords({ name, fraction: 0.427, title: "Nothing came", detail: "Try again." });
    assert.equal(live, name === "ready");
    assert.ok(name === "ready" || text.startsWith("Recorded flight shown"), text);
  }
  assert.match(stateWords({ name: "loading", fraction: 0.427 }).text, /42 %/);
  assert.match(stateWords({ name: "failed", title: "Nothing came", detail: "Try again." }).text, /Nothing came/);
});

function fakeRuntime(answerOf) {
  const asked = [];
  const start = ({ onState }) => {
    queueMicrotask(() => onState({ name: "ready" }));
    return { ask: (request, options) => (asked.push(request), answerOf(request, options)) };
  };
  return { asked, start };
}

test("the door asks for a flight with its edits and gives its record", async () => {
  const { asked, start } = fakeRuntime(async () => ({ ok: true, record: { format: "x" } }));
  const states = [];
  const door = new RuntimeDoor({ base: "b", manifest: {} }, start, (state) => states.push(state.name));
  door.start();
  door.start();
  const answer = await door.fly("alder", "day", [{ time_s: 1, part: "a", state: "on" }]);
  assert.deepEqual(answer, { record: { format: "x" } });
  assert.deepEqual(asked, [{ ask: "fly", aircraft: "alder", script: "day", edits: [{ time_s: 1, part: "a", state: "on" }] }]);
  assert.deepEqual(states, ["ready"]);
});

test("a problem and a fault come back as words; an overtaken answer is dropped", async () => {
  const problem = { place: "edit 1", message: "edit 1: found 'manul', allowed automatic, manual", allowed: [], nearest: "manual" };
  const door = new RuntimeDoor({}, fakeRuntime(async () => ({ ok: false, problem })).start, () => {});
  door.start();
  assert.match((await door.fly("a", "b", [])).problem, /manul/);
  const failing = new RuntimeDoor({}, fakeRuntime(async () => Promise.reject(Object.assign(new Error("x"), { title: "It stopped", detail: "Wait." }))).start, () => {});
  failing.start();
  assert.equal((await failing.fly("a", "b", [])).problem, "It stopped. Wait.");
  const slow = [];
  const racing = new RuntimeDoor({}, fakeRuntime(() => new Promise((resolve) => slow.push(resolve))).start, () => {});
  racing.start();
  const [first, second] = [racing.fly("a", "b", []), racing.fly("a", "b", [])];
  slow.forEach((resolve, index) => resolve({ ok: true, record: index }));
  assert.equal(await first, null);
  assert.deepEqual(await second, { record: 1 });
});

test("without settings nothing is started", () => {
  const door = new RuntimeDoor(null, () => assert.fail("started"), () => {});
  door.start();
  assert.equal(door.ready, false);
  assert.equal(door.state.name, "absent");
  assert.equal(problemWords({ message: "no", nearest: null }), "no");
});
