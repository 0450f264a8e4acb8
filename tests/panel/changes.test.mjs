import assert from "node:assert/strict";
import { test } from "node:test";
import { firstDifference } from "../../docs/panel/difference.js";
import { isSetting, sortOf, withChangedEdit, withEdit } from "../../docs/panel/edits.js";
import { following } from "../../docs/panel/following.js";
import { EditHistory } from "../../docs/panel/history.js";
import { freeName, keptText, merged, nameProblem, readKept, renamed, withKept, withoutKept } from "../../docs/panel/kept_flights.js";
import { gathered, nextOf, ownEvents, rowsFor } from "../../docs/panel/lane_places.js";
import { fieldText, figureOf, optionsOf, partedState, rangeWords, readFigure, stateText, stateWords } from "../../docs/panel/state_options.js";
import { sampleFlight } from "./sample.mjs";

const valve = { name: "cross-feed", kind: "valve", settings: ["open", "shut"] };
const tank = { name: "main-left", kind: "tank", settings: [] };
const preselect = { name: "preselect", kind: "control", settings: [], quantity: { unit: "kg", least: 0, most: 30000 } };
const figures = {
  tank: { leak: { least: 1, most: 60000, usual: 1000, unit: "kg/h" }, water: { least: 1, most: 500, usual: 40, unit: "L" } },
  valve: { slow: { least: 1.5, most: 100, usual: 4, unit: "times" } },
  pump: { "low output": { least: 0.05, most: 0.95, usual: 0.6, unit: "share" } },
  "control with a number": { "wrong units": { least: 0.1, most: 10, usual: 0.45359237, unit: "times" } },
};

test("what can be done to a part: settings, troubles, mending; a number where it takes one", () => {
  const words = (part, kinds) => optionsOf(part, kinds).map(({ value }) => value);
  assert.deepEqual(words(valve, ["stuck", "slow"]), ["open", "shut", "stuck", "slow", "mended"]);
  assert.deepEqual(words(tank, ["leak", "water"]), ["leak", "water", "mended"]);
  assert.deepEqual(words(preselect, ["wrong units"]), ["a number", "wrong units", "mended"]);
  assert.deepEqual(words({ ...valve, settings: ["on"] }, []), ["on"]);
});

test("a state parts into choice and figure, and is written the same again", () => {
  for (const [part, kinds, state] of [
    [tank, ["leak", "water"], "leak 1200"], [valve, ["stuck", "stuck open", "slow"], "stuck open"], [valve, ["slow"], "slow 4"],
    [preselect, ["wrong units"], "18000 kg"], [preselect, ["wrong units"], "wrong units 0.45"], [tank, ["leak"], "mended"],
  ]) {
    const { choice, amount } = partedState(part, kinds, state);
    assert.equal(stateText(part, choice, amount), state);
  }
  assert.deepEqual(partedState(valve, ["stuck", "stuck open"], "stuck open"), { choice: "stuck open", amount: null });
});

test("a figure is read in the reader's units and held to what the aircraft can take", () => {
  const leak = figureOf(tank, "leak", figures);
  assert.equal(fieldText(leak.usual, leak, "kg"), "1000");
  assert.equal(fieldText(leak.usual, leak, "lb"), "2204.6");
  assert.equal(readFigure("1,200", leak, "kg").amount, 1200);
  // 2,645.5 lb/h at 0.45359237 kg to the pound.
  assert.ok(Math.abs(readFigure("2645.5", leak, "lb").amount - 1199.98) < 0.01);
  assert.equal(readFigure("0", leak, "kg").problem, "'0' is no such figure. Write a number from 1 to 60,000 kg/h.");
  assert.equal(readFigure("", leak, "kg").problem, "There is no figure. Write a number from 1 to 60,000 kg/h.");
  for (const wrong of ["1e9", "much", "-5", "99999999"]) assert.ok(readFigure(wrong, leak, "kg").problem, wrong);
  // Its end, as rounded for the field, is allowed: what is shown can be given back.
  assert.equal(readFigure(fieldText(leak.most, leak, "lb"), leak, "lb").amount, leak.most);
  const low = figureOf({ kind: "pump", settings: [] }, "low output", figures);
  assert.equal(fieldText(low.usual, low, "kg"), "60");
  assert.equal(readFigure("25", low, "kg").amount, 0.25);
  assert.equal(rangeWords(low, "kg"), "5 to 95 %");
  assert.equal(figureOf(valve, "stuck", figures), null);
  assert.equal(figureOf(preselect, "wrong units", figures).usual, 0.45359237);
});

test("a change in words has grouped figures with their unit", () => {
  assert.equal(stateWords(tank, ["leak"], figures, "leak 1200", "kg"), "leak 1,200 kg/h");
  assert.equal(stateWords(tank, ["leak"], figures, "leak 1200", "lb"), "leak 2,645.5 lb/h");
  assert.equal(stateWords(preselect, ["wrong units"], figures, "18000 kg", "kg"), "18,000 kg");
  assert.equal(stateWords(valve, ["stuck"], figures, "open", "kg"), "open");
});

test("two troubles of a part stand side by side; one setting replaces another of the same time", () => {
  const parts = new Map([["main-left", tank], ["cross-feed", valve]]);
  const sort = (edit) => sortOf(parts.get(edit.part), edit);
  const leaking = withEdit([], { time_s: 60, part: "main-left", state: "leak 1200" }, sort).edits;
  const both = withEdit(leaking, { time_s: 60, part: "main-left", state: "water 40" }, sort).edits;
  assert.deepEqual(both.map(({ state }) => state).sort(), ["leak 1200", "water 40"]);
  const more = withEdit(both, { time_s: 60, part: "main-left", state: "leak 3000" }, sort).edits;
  assert.deepEqual(more.map(({ state }) => state).sort(), ["leak 3000", "water 40"]);
  const shut = withEdit([{ time_s: 60, part: "cross-feed", state: "open" }], { time_s: 60, part: "cross-feed", state: "shut" }, sort).edits;
  assert.deepEqual(shut, [{ time_s: 60, part: "cross-feed", state: "shut" }]);
  assert.equal(isSetting(preselect, "18000 kg"), true);
  assert.equal(isSetting(preselect, "wrong units 0.45"), false);
});

test("a moved change keeps its place in time, and never swallows another", () => {
  const edits = [{ time_s: 60, part: "a", state: "on" }, { time_s: 90, part: "a", state: "off" }, { time_s: 100, part: "b", state: "on" }];
  const moved = withChangedEdit(edits, 0, { ...edits[0], time_s: 95.04 });
  assert.deepEqual(moved.edits.map(({ time_s, part }) => [time_s, part]), [[90, "a"], [95.1, "a"], [100, "b"]]);
  assert.equal(moved.edit.time_s, 95.1);
  assert.equal(edits[0].time_s, 60);
  assert.match(withChangedEdit(edits, 0, { ...edits[0], time_s: 90 }).problem, /does that at 0:01:30/);
});

test("undo and redo walk the same way back and forth; a new change ends what could be redone", () => {
  const history = new EditHistory();
  history.push(["none"]);
  history.push(["one"]);
  assert.equal(history.peek("forth"), null);
  assert.deepEqual(history.peek("back"), ["one"]);
  history.step("back", ["two"]);
  assert.deepEqual([history.peek("back"), history.peek("forth")], [["none"], ["two"]]);
  history.step("forth", ["one"]);
  assert.deepEqual([history.peek("back"), history.peek("forth")], [["one"], null]);
  history.step("back", ["two"]);
  history.push(["one"]);
  assert.equal(history.peek("forth"), null);
  for (let count = 0; count < 1000; count += 1) history.push([count]);
  assert.equal(history.past.length, 200);
});

test("the next changes of any part, with their countdown", () => {
  const found = following(sampleFlight(), 250);
  assert.deepEqual(found.map(({ index, inS }) => [index, inS]), [[3, 50], [4, 350], [5, 350]]);
  // What happens at the time on show has happened.
  assert.deepEqual(following(sampleFlight(), 300, 1).map(({ index }) => index), [4]);
  assert.deepEqual(following(sampleFlight(), 600), []);
});

test("handles stand in rows without touching, in the last row if they must", () => {
  assert.deepEqual(rowsFor([10, 20, 40, 300]), [0, 1, 0, 0]);
  assert.deepEqual(rowsFor([10, 11, 12, 13, 14, 15]), [0, 1, 2, 3, 3, 3]);
  assert.deepEqual(rowsFor([]), []);
});

test("what stands close is one mark, which leads through its moments", () => {
  const groups = gathered([{ timeS: 0 }, { timeS: 5 }, { timeS: 20 }, { timeS: 40 }], ({ timeS }) => timeS * 2);
  assert.deepEqual(groups.map(({ members }) => members.map(({ timeS }) => timeS)), [[0, 5], [20, 40]].flatMap((own, at) => (at ? [[20], [40]] : [own])));
  assert.equal(nextOf([{ timeS: 10 }, { timeS: 12 }], 10).timeS, 12);
  assert.equal(nextOf([{ timeS: 10 }, { timeS: 12 }], 12).timeS, 10);
});

test("what the script does itself holds none of the reader's own changes", () => {
  const flight = sampleFlight((document) => {
    document.parts.push({ name: "edit-1", label: "Edit 1", kind: "trouble", of: "tank", trouble: "leak", states: [], settings: [], start: "absent" });
    document.parts.push({ name: "t", label: "T", kind: "trouble", of: "engine", trouble: "failed", states: [], settings: [], start: "absent" });
    const reason = { kind: "trouble", name: "t", sentence: "", facts: [], causes: [] };
    document.changes.push({ time_s: 700, part: "edit-1", from: "absent", to: "present", reason });
    document.changes.push({ time_s: 800, part: "t", from: "absent", to: "present", reason });
    return document;
  });
  const edits = [{ time_s: 500, part: "selector", state: "manual" }, { time_s: 700, part: "tank", state: "leak 900" }];
  assert.deepEqual(ownEvents(flight, edits).map(({ timeS, kind, words }) => [timeS, kind, words]), [
    [100, "action", "Main left aft pump to on"], [800, "trouble", "Engine 1: failed"],
  ]);
  assert.equal(ownEvents(flight, []).length, 4);
});

test("what somebody sets to a figure is told in the reader's units", () => {
  const flight = sampleFlight((document) => {
    document.commands.push({ time_s: 700, part: "selector", state: "22700 kg" });
    return document;
  });
  const told = (units) => ownEvents(flight, [], units).at(-1).words;
  assert.equal(told("kg"), "Feed selector to 22,700 kg");
  assert.equal(told("lb"), "Feed selector to 50,045 lb");
});

const keptFlight = (number) => ({ id: `id-${number}`, name: `Flight ${number}`, edits: [{ time_s: number, part: "a", state: "on" }] });

test("up to four flights are kept; the fifth is refused in plain words, and the four stay", () => {
  let kept = [];
  for (const number of [1, 2, 3, 4]) kept = withKept(kept, keptFlight(number)).kept;
  const fifth = withKept(kept, keptFlight(5));
  assert.equal(fifth.kept, undefined);
  assert.equal(fifth.problem, "4 flights are kept, and at most 4 can be. Remove one first; this flight stays on show.");
  assert.equal(freeName(withoutKept(kept, "id-2")), "Flight 2");
  assert.equal(withKept(withoutKept(kept, "id-2"), keptFlight(5)).kept.length, 4);
});

test("a name is needed, short and its own", () => {
  const kept = [keptFlight(1), keptFlight(2)];
  assert.equal(nameProblem(kept, ""), "A kept flight needs a name.");
  assert.match(nameProblem(kept, "x".repeat(41)), /has 41 characters; at most 40/);
  assert.match(withKept(kept, { ...keptFlight(3), name: "Flight 1" }).problem, /called 'Flight 1'/);
  assert.equal(renamed(kept, "id-1", "Flight 1").problem, undefined);
  assert.deepEqual(renamed(kept, "id-1", "Leak").kept.map(({ name }) => name), ["Leak", "Flight 2"]);
  assert.match(renamed(kept, "id-1", "Flight 2").problem, /Choose another/);
});

test("what is stored is read again; what is no kept flight is left out and counted", () => {
  const kept = [keptFlight(1), keptFlight(2)];
  assert.deepEqual(readKept(keptText(kept)), { kept, bad: 0 });
  assert.deepEqual(readKept(null), { kept: [], bad: 0 });
  for (const broken of ["", "{", "[]", "null", '{"format":"wetwing-kept/9","flights":[]}', '{"format":"wetwing-kept/1"}', "x".repeat(300_000)]) {
    assert.deepEqual(readKept(broken), { kept: [], bad: 1 }, broken.slice(0, 40));
  }
  const flights = [
    keptFlight(1), keptFlight(1), { ...keptFlight(2), name: 7 }, null, { ...keptFlight(3), edits: [{ time_s: "soon", part: "a", state: "on" }] },
    { ...keptFlight(4), edits: Array.from({ length: 51 }, () => ({ time_s: 1, part: "a", state: "on" })) },
    { ...keptFlight(5), name: "<img src=x onerror=alert(1)>" },
  ];
  const read = readKept(JSON.stringify({ format: "wetwing-kept/1", flights }));
  assert.deepEqual(read.kept.map(({ id }) => id), ["id-1", "id-5"]);
  assert.equal(read.bad, 5);
});

test("two tabs: what is stored and what only this tab has, each once", () => {
  assert.deepEqual(merged([keptFlight(1), keptFlight(2)], [keptFlight(2), keptFlight(3)]).map(({ id }) => id), ["id-1", "id-2", "id-3"]);
});

test("troubles that readers made are causes, even where both flights call theirs by one name", () => {
  const broken = (timeS, of, trouble) =>
    sampleFlight((document) => {
      document.edits = [{ time_s: timeS, part: of, state: trouble }];
      document.parts.push({ name: "edit-1", label: "Edit 1", kind: "trouble", of, trouble, states: [], settings: [], start: "absent" });
      const reason = { kind: "trouble", name: "edit-1", sentence: "", facts: [], causes: [] };
      document.changes.push({ time_s: timeS, part: "edit-1", from: "absent", to: "present", reason });
      return document;
    });
  assert.equal(firstDifference(broken(650, "tank", "leak"), broken(800, "engine", "failed")), null);
});
