import assert from "node:assert/strict";
import { test } from "node:test";

import { joined } from "../../docs/panel/remainder.js";
import { RuntimeDoor } from "../../docs/panel/runtime_door.js";
import { sampleDocument } from "./sample.mjs";

/** What lacks of a flight that parts from the sample at 200 s, with the selector set by hand. */
function sampleRemainder(alter = {}) {
  return {
    format: "wetwing-remainder/1",
    after: { keyframes: 2, time_s: 100, changes: 1, commands: 1 },
    parting_s: 200,
    whole: true,
    edits: [{ time_s: 200, part: "selector", state: "manual" }],
    duration_s: 600,
    ended: { time_s: 600, name: "no-engine", sentence: "It stops." },
    time_s: [200, 600],
    quantities: { "tank.actual_kg": [80, 10], "tank.rate_kg_h": [0], "pump.flow_kg_h": [0], "vent.flow_kg_h": [5] },
    changes: [{ time_s: 200, part: "selector", from: "automatic", to: "manual", reason: { kind: "action", name: "setting", sentence: "Set.", facts: [], causes: [0] } }],
    commands: [{ time_s: 200, part: "selector", state: "manual" }],
    ...alter,
  };
}

test("rows, changes and commands go on from where the flights part", () => {
  const before = sampleDocument();
  const made = joined(before, sampleRemainder());
  assert.deepEqual(before, sampleDocument());
  assert.deepEqual(made.time_s, [0, 100, 200, 600]);
  assert.deepEqual(made.quantities["tank.actual_kg"], [100, 100, 80, 10]);
  assert.deepEqual(made.changes.map(({ part, to }) => `${part} ${to}`), ["pump stopped by automatics", "selector manual"]);
  assert.deepEqual(made.commands.map(({ part }) => part), ["pump", "selector"]);
  assert.equal(made.duration_s, 600);
  assert.equal(made.ended.name, "no-engine");
  assert.deepEqual(made.edits, sampleRemainder().edits);
  assert.equal(made.parts, before.parts);
  assert.equal(made.script, before.script);
});

test("a column is written once only where all of it is one value", () => {
  const { quantities } = joined(sampleDocument(), sampleRemainder());
  assert.deepEqual(quantities["tank.rate_kg_h"], [0]);
  assert.deepEqual(quantities["pump.flow_kg_h"], [0]);
  assert.deepEqual(quantities["vent.flow_kg_h"], [0, 0, 5, 5]);
});

test("a flight that ends before the other parts from it, and one that has nothing of it", () => {
  const same = joined(sampleDocument(), sampleRemainder({ after: { keyframes: 5, time_s: 1000, changes: 6, commands: 2 }, time_s: [], quantities: {}, changes: [], commands: [] }));
  assert.deepEqual(same.quantities, sampleDocument().quantities);
  assert.deepEqual(same.changes, sampleDocument().changes);
  const parts = [{ name: "other" }];
  const other = joined(sampleDocument(), sampleRemainder({ after: { keyframes: 0, time_s: null, changes: 0, commands: 0 }, parts }));
  assert.deepEqual(other.time_s, [200, 600]);
  assert.deepEqual(other.quantities["vent.flow_kg_h"], [5]);
  assert.equal(other.parts, parts);
});

test("a remainder of another flight is refused", () => {
  const after = { keyframes: 2, time_s: 101, changes: 1, commands: 1 };
  assert.throws(() => joined(sampleDocument(), sampleRemainder({ after })), /goes on from 101 s; the record at hand has 100 s/);
  assert.throws(() => joined(sampleDocument(), sampleRemainder({ after: { ...after, keyframes: 9 } })), /goes on from 101 s/);
  assert.throws(() => joined(sampleDocument(), sampleRemainder({ format: "wetwing-remainder/9" })), /wetwing-remainder\/9/);
});

function doorTo(answer) {
  const asked = [];
  const start = ({ onState }) => {
    onState({ name: "ready" });
    return {
      ask: (request, options) => {
        asked.push({ request, options });
        return answer(request, options);
      },
    };
  };
  const door = new RuntimeDoor({}, start, () => {});
  door.start();
  return { asked, door };
}

test("with a flight at hand the door asks for what lacks, tells the first part, and gives the whole record", async () => {
  const early = sampleRemainder({ whole: false, duration_s: 200, time_s: [200], quantities: { "tank.actual_kg": [80] }, ended: null });
  const { asked, door } = doorTo(async (_request, { onFirst }) => {
    onFirst({ ok: true, remainder: early });
    return { ok: true, remainder: sampleRemainder() };
  });
  const had = sampleDocument();
  const seen = [];
  const { edits } = sampleRemainder();
  const answer = await door.fly("alder", { script: "day" }, edits, { had, showsS: 150, onFirst: (record, partingS) => seen.push([record.duration_s, partingS]) });
  assert.deepEqual(asked[0].request, { ask: "fly", aircraft: "alder", script: "day", edits, had: [], shows_s: 150 });
  assert.deepEqual(seen, [[200, 200]]);
  assert.deepEqual(answer.record, joined(had, sampleRemainder()));
});

test("where the remainder does not fit, the whole flight is asked for", async (context) => {
  context.mock.method(console, "warn", () => {});
  const wrong = sampleRemainder({ after: { keyframes: 3, time_s: 7, changes: 0, commands: 0 } });
  const { asked, door } = doorTo(async ({ had }, { onFirst }) => {
    if (!had) return { ok: true, record: { format: "whole" } };
    onFirst({ ok: true, remainder: wrong });
    return { ok: true, remainder: wrong };
  });
  const seen = [];
  const answer = await door.fly("alder", "day", [], { had: sampleDocument(), onFirst: (record) => seen.push(record) });
  assert.deepEqual(answer, { record: { format: "whole" } });
  assert.deepEqual(seen, []);
  assert.equal("had" in asked[1].request, false);
});

test("what is flown while nobody waits gives way to what somebody waits for", async () => {
  const waiting = [];
  const { asked, door } = doorTo((_request, { signal } = {}) => new Promise((resolve, reject) => {
    signal?.addEventListener("abort", () => reject(new DOMException("", "AbortError")));
    waiting.push(resolve);
  }));
  door.prepare("alder", { script: "day" }, []);
  assert.deepEqual(asked[0].request, { ask: "fly", aircraft: "alder", script: "day", edits: [], had: [], shows_s: 0 });
  const flying = door.fly("alder", "day", []);
  assert.ok(asked[0].options.signal.aborted);
  waiting[1]({ ok: true, record: 1 });
  assert.deepEqual(await flying, { record: 1 });
});
