// Troubles in a record: whose they are, when they are there, and what a link may ask for.

import assert from "node:assert/strict";
import { test } from "node:test";

import { describe } from "../../docs/panel/describe.js";
import { firstDifference } from "../../docs/panel/difference.js";
import { ledger } from "../../docs/panel/ledger.js";
import { EditWords } from "../../docs/panel/edit_words.js";
import { LinkProblem } from "../../docs/panel/link.js";
import { Links } from "../../docs/panel/links.js";
import { compileTest } from "../../docs/panel/paint.js";
import { sampleFlight } from "./sample.mjs";

const TROUBLE = {
  name: "edit-1", label: "Main left leaks: 900 kg/h", kind: "trouble", states: ["absent", "present"], settings: [], start: "absent",
  of: "tank", trouble: "leak",
};

function leaking(document) {
  document.parts.push(TROUBLE);
  const turn = (time, from, to) =>
    document.changes.push({ time_s: time, part: "edit-1", from, to, reason: { kind: "trouble", name: "leak", sentence: "Main left leaks.", facts: [], causes: [] } });
  turn(700, "absent", "present");
  turn(900, "present", "absent");
  return document;
}

const flight = sampleFlight(leaking);

test("a part has a trouble from when it comes to when it goes", () => {
  assert.deepEqual([699, 700, 899, 900].map((time) => flight.at(time).troubles("tank")), [[], ["leak"], ["leak"], []]);
  assert.deepEqual(flight.at(800).troubles("pump"), []);
});

test("a picture can show what leaks", () => {
  const leaks = compileTest("tank~leak");
  assert.ok(leaks(flight.at(800)));
  assert.ok(!leaks(flight.at(950)));
  assert.ok(!compileTest("tank~water")(flight.at(800)));
});

test("a trouble is called by what it is in lists, and told in words", () => {
  assert.equal(flight.label("edit-1"), "Trouble");
  const told = describe(flight, 800, "kg").join(" ");
  assert.match(told, /Main left: 30 kg, steady, leaking\./);
  assert.match(told, /Trouble: main left leaks: 900 kg\/h\./);
});

test("a trouble that one flight alone has is a cause and no difference", () => {
  assert.equal(firstDifference(sampleFlight(), flight), null);
});

test("an edit is told as a setting, a trouble or a mending", () => {
  const facts = { troubles: { tank: ["leak"] }, figures: { tank: { leak: { least: 1, most: 60000, usual: 1000, unit: "kg/h" } } } };
  const words = new EditWords({ flight, units: "kg" }, facts);
  const told = (part, state) => words.timed({ time_s: 60, part, state });
  assert.equal(told("selector", "manual"), "0:01:00: Feed selector to manual");
  assert.equal(told("tank", "leak 900"), "0:01:00: Main left: leak 900 kg/h");
  assert.equal(told("tank", "mended"), "0:01:00: Main left mended");
});

const checks = [
  ["tank", "leak 900", null],
  ["tank", "mended", null],
  ["pump", "off", null],
  ["pump", "check valve stuck open", null],
  ["pump", "leak 900", "Allowed: off, on, failed, check valve stuck open, mended"],
  ["tank", "leek", "Allowed: leak, water, mended"],
  ["engine", "failed", "nobody can set 'engine'"],
  ["tonk", "leak", "Nearest: 'tank'"],
];
for (const [part, state, problem] of checks) {
  test(`a link's edit: ${part} ${state}`, () => {
    const links = { troubles: { tank: ["leak", "water"], pump: ["failed", "check valve stuck open"] } };
    const check = () => Links.prototype.checkEdit.call(links, { part, state, time_s: 60 }, 1, flight);
    if (problem === null) check();
    else assert.throws(check, (thrown) => thrown instanceof LinkProblem && thrown.message.includes(problem));
  });
}

test("no account can be drawn up while the total is blank", () => {
  const silent = (document) => {
    document.parts.push({ name: "probe", label: "Probe", kind: "probe", states: ["reads", "no signal"], settings: [], start: "reads" });
    document.changes.push({ time_s: 800, part: "probe", from: "reads", to: "no signal", reason: { kind: "physics", name: "power", sentence: "", facts: [], causes: [] } });
    return document;
  };
  const blind = sampleFlight(silent);
  assert.equal(ledger(blind, ["engine"], 799, { tank: ["probe"] }).kind, "flight");
  assert.equal(ledger(blind, ["engine"], 800, { tank: ["probe"] }).kind, "blank");
  assert.equal(ledger(blind, ["engine"], 800, { tank: [] }).kind, "flight");
});
