// What is said while a flight plays: politely and seldom, and nothing that matters is lost.

import assert from "node:assert/strict";
import { mock, test } from "node:test";

import { Announcer } from "../../docs/panel/announce.js";
import { sampleFlight } from "./sample.mjs";

function listen() {
  mock.timers.enable({ apis: ["setTimeout", "Date"], now: 1_000_000 });
  globalThis.window = { setTimeout: globalThis.setTimeout, clearTimeout: globalThis.clearTimeout };
  const said = [];
  const line = { set textContent(text) { if (text) said.push(text); } };
  const panel = { units: "kg", view: { onGauges: false }, dataset: {}, querySelector: () => line };
  return { said, panel, announcer: new Announcer(panel), flight: sampleFlight() };
}

/** Time goes by in small steps: a timer may set another one. */
function wait(ms) {
  for (let gone = 0; gone < ms; gone += 20) mock.timers.tick(20);
}

function leave() {
  mock.timers.reset();
  delete globalThis.window;
}

test("changes that pass are said at most every few seconds, and those that wait are said then", () => {
  const { said, announcer, flight } = listen();
  announcer.passed(flight, 50, 150);
  wait(100);
  assert.deepEqual(said, ["Main left aft pump: stopped by automatics."]);
  // Two more within the next second: both are said, in one sentence, when the line is free again.
  announcer.passed(flight, 150, 250);
  announcer.passed(flight, 550, 650);
  wait(1000);
  assert.equal(said.length, 1);
  wait(3000);
  assert.deepEqual(said.slice(1), ["Main left aft pump: delivering. Slat hold: active. Main left aft pump: stopped by automatics."]);
  wait(60_000);
  assert.equal(said.length, 2);
  leave();
});

test("of many that pass the last are said, and how many more there were", () => {
  const { said, announcer, flight } = listen();
  announcer.passed(flight, 50, 150);
  wait(100);
  announcer.passed(flight, 50, 650);
  wait(5000);
  assert.equal(said[1], "Main left aft pump: delivering. Slat hold: active. Main left aft pump: stopped by automatics. And 1 more change.");
  leave();
});

test("what is said for another reason takes the place of what waits", () => {
  const { said, announcer, flight } = listen();
  announcer.passed(flight, 50, 150);
  wait(100);
  announcer.passed(flight, 150, 250);
  announcer.say("Paused.");
  wait(60_000);
  assert.deepEqual(said.slice(1), ["Paused."]);
  leave();
});

test("what waits is not said once a trouble is hidden, or the gauges would not show it", () => {
  for (const hide of [(panel) => (panel.dataset.challenge = "on"), (panel) => (panel.view.onGauges = true)]) {
    const { said, panel, announcer, flight } = listen();
    announcer.passed(flight, 50, 150);
    wait(100);
    announcer.passed(flight, 550, 650);
    hide(panel);
    wait(60_000);
    assert.equal(said.length, 1);
    leave();
  }
});

test("an alert is said, however many changes come after it", () => {
  const { said, announcer } = listen();
  const flight = sampleFlight((document) => {
    document.parts.push({ name: "low", label: "Fuel low", kind: "alert", states: ["off", "on"], settings: [], start: "off" });
    const reason = { kind: "rule", name: "low", sentence: "It is low.", facts: [], causes: [] };
    document.changes.splice(1, 0, { time_s: 150, part: "low", from: "off", to: "on", reason });
    return document;
  });
  announcer.passed(flight, 50, 120);
  wait(100);
  announcer.passed(flight, 120, 650);
  wait(5000);
  assert.equal(said[1], "Fuel low: on. Slat hold: active. Main left aft pump: stopped by automatics. And 1 more change.");
  leave();
});
