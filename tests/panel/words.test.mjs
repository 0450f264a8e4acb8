import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { exactClock, parseClock, span, upToTenth } from "../../docs/panel/clock.js";
import { exactMass, figure, rateWords, stepped, where } from "../../docs/panel/figures.js";
import { inSentence, say, sayState } from "../../docs/panel/words.js";

const vectors = (name) => JSON.parse(readFileSync(new URL(`../vectors/${name}.json`, import.meta.url), "utf8"));
const own = JSON.parse(readFileSync(new URL("./figures.json", import.meta.url), "utf8"));

for (const { sentence, units, said } of vectors("words").say) {
  test(`say: ${sentence} in ${units}`, () => assert.equal(say(sentence, units), said));
}

for (const { state, units, said } of vectors("words").say_state) {
  test(`state: ${state} in ${units}`, () => assert.equal(sayState(state, units), said));
}

for (const { time_s: timeS, said } of vectors("words").clock) {
  test(`clock: ${timeS}`, () => {
    assert.equal(exactClock(timeS), said);
    const back = parseClock(said).timeS;
    assert.ok(back >= timeS - 1e-6 && back - timeS < 0.1 + 1e-6);
    assert.ok(Math.abs(upToTenth(timeS) - back) < 1e-6);
  });
}

for (const { value, unit, units, shown } of own.figures) {
  test(`figure: ${value} ${unit} in ${units}`, () => assert.equal(figure(value, unit, units), shown));
}
for (const { value, units, shown } of own.rates) test(`rate: ${value} in ${units}`, () => assert.equal(rateWords(value, units), shown));
for (const { value, shown } of own.where) test(`where: ${value} ft`, () => assert.equal(where(value), shown));
for (const { value, units, shown } of own.exact) test(`exact: ${value} in ${units}`, () => assert.equal(exactMass(value, units), shown));

test("times that can't be read say so", () => {
  for (const text of ["", "2:12", "2:60:00", "2:00:60", "-1:00:00", "1:00:00pm", "9999:00:00"]) {
    assert.match(parseClock(text).problem, /is not a time/, text);
  }
  assert.equal(parseClock(" 2:12:40.5 ").timeS, 7960.5);
});

test("lengths of time", () => {
  assert.deepEqual([0, 41, 60, 980, 7500].map(span), ["0 s", "41 s", "1 min", "16 min 20 s", "2 h 05 min"]);
});

test("figures of the page's text keep their own step", () => {
  assert.equal(stepped(6479.6, 1), "6,480");
  assert.equal(stepped(3.5512, 0.01), "3.55");
  assert.equal(stepped(6483, 10), "6,480");
});

test("labels inside a sentence", () => {
  assert.equal(inSentence("Main left aft pump"), "main left aft pump");
  assert.equal(inSentence("APU valve"), "APU valve");
  assert.equal(inSentence("Engine 1 shut-off valve"), "Engine 1 shut-off valve");
});
