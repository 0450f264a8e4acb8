// What is said of a dropped file, and how figures of the form are read.

import assert from "node:assert/strict";
import { test } from "node:test";

import { changedTitle, ended, fileName, MOST_BYTES, refusal, sizeProblem, textOf } from "../../docs/panel/script_file.js";

const bytes = (...values) => new Uint8Array(values).buffer;
const BENCHES = { "rowan-54": { title: "Rowan 54", page: "rowan-54.html" } };

test("a file is refused by its size before it is read", () => {
  assert.equal(sizeProblem({ name: "a.toml", size: MOST_BYTES }), null);
  assert.match(sizeProblem({ name: "a.toml", size: MOST_BYTES + 1 }), /'a\.toml' has 200,001 bytes.*at most 200 kB/);
  assert.match(sizeProblem({ name: "a.toml", size: 0 }), /is empty/);
});

test("bytes that are no text are no script", () => {
  assert.deepEqual(textOf("a.toml", new TextEncoder().encode("größe = 1").buffer), { text: "größe = 1" });
  assert.match(textOf("photo.png", bytes(0x89, 0x50, 0x4e, 0x47)).problem, /'photo\.png' is no script/);
  assert.match(textOf("a.toml", bytes(0x61, 0, 0x62)).problem, /no script/);
});

test("a long name is cut in a message", () => {
  assert.ok(sizeProblem({ name: "x".repeat(500), size: 0 }).length < 200);
});

test("each refusal of the simulation is said in plain words", () => {
  const other = { place: "a.toml: aircraft", problem: "a.toml: aircraft: a script for 'rowan-54'; allowed: one for 'alder-165'" };
  assert.deepEqual(refusal("a.toml", other, BENCHES), {
    text: "'a.toml' is a script for another aircraft, Rowan 54.",
    link: { words: "Open the bench of Rowan 54", page: "rowan-54.html" },
  });
  const stranger = { place: "a.toml: aircraft", problem: "a.toml: aircraft: a script for 'elm-9'; allowed: one for 'alder-165'" };
  assert.match(refusal("a.toml", stranger, BENCHES).text, /'elm-9', which is no aircraft of this site/);
  const old = { place: "a.toml: format", problem: "a.toml: format: 'wetwing-script/9'; allowed: wetwing-script/1" };
  assert.equal(refusal("a.toml", old).text, "'a.toml' is of the format 'wetwing-script/9'; this page reads 'wetwing-script/1'.");
  const none = { place: "a.toml: format", problem: "a.toml: format: missing; allowed: this key is needed" };
  assert.match(refusal("a.toml", none).text, /it has no line 'format/);
  const noToml = { place: "a.toml", problem: "a.toml: not readable as TOML: Invalid statement (at line 1, column 1)" };
  assert.match(refusal("a.toml", noToml).text, /is no script: not readable as TOML: Invalid statement \(at line 1/);
  const figure = { place: "a.toml: load.zero_fuel_kg", problem: "a.toml: load.zero_fuel_kg: 9 kg; allowed: 100 to 80500 kg" };
  assert.deepEqual(refusal("a.toml", figure), { text: figure.problem });
});

test("a script is saved under its name", () => assert.equal(fileName("day-sector"), "day-sector.toml"));

test("what the simulation says ends as a sentence, and a title says once that its flight was changed", () => {
  assert.equal(ended("a.toml: foo; allowed: kg_h, note"), "a.toml: foo; allowed: kg_h, note.");
  assert.equal(ended("It is empty."), "It is empty.");
  assert.equal(changedTitle("Day sector"), "Day sector, changed");
  assert.equal(changedTitle(changedTitle("Day sector")), "Day sector, changed");
});
