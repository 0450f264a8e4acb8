import assert from "node:assert/strict";
import { test } from "node:test";

import { CLOSING, KEYS, keyAction, placeOf } from "../../docs/panel/class_keys.js";
import { differenceNow, madeBy, momentWords } from "../../docs/panel/class_words.js";
import { statesOnSides } from "../../docs/panel/difference.js";
import { COVERS, CoverState } from "../../docs/panel/cover.js";
import { fileName } from "../../docs/panel/download.js";
import { MOST_BYTES, qrCode, QUIET, squaresPath, wholeWidth } from "../../docs/panel/qr.js";
import { flightCsv, unitOf } from "../../docs/panel/save_csv.js";
import { ownBase, readBase, sharedAddress } from "../../docs/panel/site_address.js";
import { sampleFlight } from "./sample.mjs";

const pressed = (key, more = {}) => ({ key, ctrlKey: false, altKey: false, metaKey: false, ...more });

test("a clicker's keys mean what the list says, and fields keep theirs", () => {
  const wanted = { PageDown: "next", ArrowRight: "next", PageUp: "back", ArrowLeft: "back", b: "freeze", ".": "freeze", r: "reveal", F5: "reveal", "?": "keys" };
  for (const [key, action] of Object.entries(wanted)) {
    assert.equal(keyAction(pressed(key), "other"), action, key);
    assert.equal(keyAction(pressed(key), "text"), null, key);
    assert.equal(keyAction(pressed(key, { ctrlKey: true }), "other"), null, key);
  }
  assert.equal(keyAction(pressed("ArrowRight"), "arrows"), null);
  assert.equal(keyAction(pressed("PageDown"), "arrows"), "next");
  assert.equal(keyAction(pressed("x"), "other"), null);
  assert.ok([...KEYS, CLOSING].every(({ shown, words }) => shown && words));
});

test("a place is known by what it does with keys", () => {
  const element = (tagName, more = {}) => ({ tagName, getAttribute: () => null, ...more });
  assert.equal(placeOf(element("INPUT", { type: "text" })), "text");
  assert.equal(placeOf(element("INPUT", { type: "number" })), "text");
  assert.equal(placeOf(element("SELECT")), "text");
  assert.equal(placeOf(element("INPUT", { type: "radio" })), "arrows");
  assert.equal(placeOf(element("DIV", { getAttribute: () => "slider" })), "arrows");
  assert.equal(placeOf(element("BUTTON")), "other");
});

test("covers are lifted one after another, and all come back when the time moves", () => {
  const state = new CoverState();
  for (const { name } of COVERS) state.want(name, true);
  assert.equal(state.lift("next"), "next");
  assert.deepEqual(COVERS.map(({ name }) => state.lies(name)), [true, true, false, true]);
  assert.deepEqual([state.lift(), state.lift(), state.lift(), state.lift()], ["reasons", "figures", "later", null]);
  state.again();
  assert.ok(COVERS.every(({ name }) => state.lies(name)));
  state.want("figures", false);
  assert.equal(state.lies("figures"), false);
  state.clear();
  state.again();
  assert.equal(state.lift(), null);
});

test("the address of the site for others is checked, and says what is wrong", () => {
  assert.deepEqual(readBase(" https://training.example/wet-wing "), { base: "https://training.example/wet-wing/" });
  assert.deepEqual(readBase("http://host/a/index.html"), { base: "http://host/a/" });
  for (const [text, part] of [["", "such as"], ["intranet/wet", "no whole address"], ["ftp://host/", "ftp:"], ["file:///x/", "file:"], ["https://a:b@host/", "password"], ["https://host/?q=1", "?q=1"]]) {
    assert.ok(readBase(text).problem.includes(part), text);
  }
});

test("a page on this device alone has no address for others", () => {
  assert.equal(ownBase("https://host/x/phases/cruise.html#v=1", "phases/cruise.html"), "https://host/x/");
  for (const place of ["file:///a/phases/cruise.html", "http://localhost:8000/phases/cruise.html", "http://127.0.0.1/phases/cruise.html"]) {
    assert.equal(ownBase(place, "phases/cruise.html"), null, place);
  }
  assert.equal(sharedAddress("https://host/x/", "phases/cruise.html", "#v=1"), "https://host/x/phases/cruise.html#v=1");
});

/** What the standard fixes of a code, whatever its text: three finders, two timing lines, and 15 bits of format with their check. */
function formatOf(squares) {
  const size = squares.length;
  const finder = (top, left) => {
    for (let y = 0; y < 7; y += 1) {
      for (let x = 0; x < 7; x += 1) {
        const ring = Math.max(Math.abs(x - 3), Math.abs(y - 3));
        assert.equal(squares[top + y][left + x], ring !== 2, `finder at ${top},${left}`);
      }
    }
  };
  finder(0, 0);
  finder(0, size - 7);
  finder(size - 7, 0);
  for (let at = 8; at < size - 8; at += 1) assert.equal(squares[6][at], at % 2 === 0);
  const first = [0, 1, 2, 3, 4, 5, 7, 8].map((x) => squares[8][x]).concat([7, 5, 4, 3, 2, 1, 0].map((y) => squares[y][8]));
  let bits = first.reduce((sum, dark) => sum * 2 + (dark ? 1 : 0), 0) ^ 0b101010000010010;
  const data = bits >> 10;
  // The remainder of the standard's division: nothing is left of a format that is whole.
  for (let at = 14; at >= 10; at -= 1) if (bits & (1 << at)) bits ^= 0b10100110111 << (at - 10);
  assert.equal(bits, 0, "the format's check");
  return { level: data >> 3, mask: data & 7 };
}

const MASKS = [
  (x, y) => (x + y) % 2, (_x, y) => y % 2, (x) => x % 3, (x, y) => (x + y) % 3, (x, y) => (Math.floor(x / 3) + Math.floor(y / 2)) % 2,
  (x, y) => ((x * y) % 2) + ((x * y) % 3), (x, y) => (((x * y) % 2) + ((x * y) % 3)) % 2, (x, y) => (((x + y) % 2) + ((x * y) % 3)) % 2,
];

/** Read a code of version 1 (21 squares a side, one alignment of data and no block to interleave), as a camera would. */
function readSmall(squares) {
  const size = squares.length;
  assert.equal(size, 21);
  const { mask } = formatOf(squares);
  const fixed = (x, y) => x === 6 || y === 6 || (x < 9 && y < 9) || (x < 9 && y > size - 9) || (x > size - 9 && y < 9);
  const bits = [];
  let up = true;
  for (let right = size - 1; right > 0; right -= 2) {
    if (right === 6) right = 5;
    for (let step = 0; step < size; step += 1) {
      const y = up ? size - 1 - step : step;
      for (const x of [right, right - 1]) if (!fixed(x, y)) bits.push(squares[y][x] !== (MASKS[mask](x, y) === 0));
    }
    up = !up;
  }
  const take = (count) => bits.splice(0, count).reduce((sum, bit) => sum * 2 + (bit ? 1 : 0), 0);
  assert.equal(take(4), 0b0100, "bytes");
  const length = take(8);
  return new TextDecoder().decode(Uint8Array.from({ length }, () => take(8)));
}

test("a code says what it was made of: read back by the standard's own steps", () => {
  for (const text of ["http://a.b/c", "wet wing", "étude 7"]) assert.equal(readSmall(qrCode(text).squares), text);
});

test("a real address becomes a code with a margin of four squares, and a long one says how long it is", () => {
  const address = "https://training.example/wet-wing/phases/cruise.html#v=1&aircraft=alder-165&flight=day-sector&t=1:21:42.6&units=kg";
  const { squares } = qrCode(address);
  assert.equal(formatOf(squares).level, 0b00, "level M");
  assert.equal(wholeWidth(squares), squares.length + 2 * QUIET);
  const drawn = [...squaresPath(squares).matchAll(/M(\d+),(\d+)h(\d+)/g)].map((found) => found.slice(1).map(Number));
  assert.equal(drawn.reduce((sum, [, , width]) => sum + width, 0), squares.flat().filter(Boolean).length);
  assert.ok(drawn.every(([x, y, width]) => x >= QUIET && y >= QUIET && x + width <= squares.length + QUIET));
  assert.equal(formatOf(qrCode("x".repeat(MOST_BYTES)).squares).level, 0b01, "level L");
  const { problem } = qrCode("x".repeat(MOST_BYTES + 1));
  assert.ok(problem.includes("501") && problem.includes("500"));
});

test("a flight as CSV has every keyframe, with units in its head and states as columns", () => {
  const lines = flightCsv(sampleFlight()).trimEnd().split("\r\n").map((line) => line.split(","));
  const [head, ...rows] = lines;
  assert.deepEqual(rows.map((row) => row[0]), ["0", "100", "200", "200", "1000"]);
  assert.ok(head.includes("tank.actual_kg [kg]") && head.includes("pump.flow_kg_h [kg/h]") && head.includes("flight.altitude_ft [ft]"));
  const column = (name) => rows.map((row) => row[head.indexOf(name)]);
  assert.deepEqual(column("tank.actual_kg [kg]"), ["100", "100", "90", "60", "20"]);
  assert.deepEqual(column("vent.flow_kg_h [kg/h]"), ["0", "0", "0", "0", "0"]);
  // Before the jump at 200 the pump still waits; after it, it delivers.
  assert.deepEqual(column("pump [state]"), ["off", "stopped by automatics", "stopped by automatics", "delivering", "stopped by automatics"]);
  assert.ok(rows.every((row) => row.length === head.length));
});

test("a unit is read from the end of a quantity's name", () => {
  assert.deepEqual(["a.flow_kg_h", "a.actual_kg", "a.temperature_c", "flight.mach", "a.fill", "x.odd"].map(unitOf), ["kg/h", "kg", "°C", "Mach", "share of 1", ""]);
});

test("a file's name says page, flight and time, with no sign that a file system refuses", () => {
  const name = fileName({ page: "phases/cruise.html", flight: "day-sector", timeS: 4902.63, what: "plan", ending: "svg" });
  assert.equal(name, "cruise-day-sector-1h21m42s-plan.svg");
});

test("a moment's sentence tells the change that made it, with its reason, in the reader's units", () => {
  const flight = sampleFlight();
  assert.deepEqual(momentWords(flight, 0, {}), { what: "Nothing has changed yet.", why: "" });
  const change = madeBy(flight, 200);
  assert.ok(change.time_s <= 200);
  const { what, why } = momentWords(flight, change.time_s, {});
  assert.match(what, /^Now: /);
  assert.ok(what.endsWith(`${change.to}.`));
  assert.ok(why.length > 0 && why[0] === why[0].toUpperCase());
  assert.match(momentWords(flight, change.time_s + 10, {}).what, /^Since 0:0/);
  assert.equal(momentWords(flight, change.time_s, { onGauges: true }).why, "");
});

test("where two flights differ at one time is said in words, the mass in the reader's units", () => {
  const flight = sampleFlight();
  const moment = flight.at(200);
  assert.match(differenceNow(moment, moment), /^Now: no part is in another state/);
  const other = { flight, timeS: 200, state: (part) => (part === "pump" ? "failed" : moment.state(part)), quantity: (name) => moment.quantity(name) + (name === "tank.actual_kg" ? 453.59237 : 0) };
  assert.equal(differenceNow(moment, other, "lb"), `Now: main left aft pump ${moment.state("pump")} on the left, failed on the right; main left 1,000 lb more on the right.`);
});

test("an alert of one flight alone is said to be shown on its side", () => {
  const flight = sampleFlight((document) => {
    document.parts.push({ name: "low", label: "Fuel low", kind: "alert", states: ["off", "on"], settings: [], start: "off" });
    return document;
  });
  const moment = flight.at(200);
  const alerted = { ...moment, flight, timeS: 200, state: (part) => (part === "low" ? "on" : moment.state(part)), quantity: (name) => moment.quantity(name) };
  assert.equal(differenceNow(moment, alerted), "Now: the alert “Fuel low” is shown on the right alone.");
  assert.equal(differenceNow(alerted, moment), "Now: the alert “Fuel low” is shown on the left alone.");
  // Nothing of another kind is ever "on", which would stand beside "on the left".
  assert.equal(statesOnSides("pump", "off", "delivering"), "off on the left, delivering on the right");
});
