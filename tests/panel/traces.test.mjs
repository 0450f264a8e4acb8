import assert from "node:assert/strict";
import { test } from "node:test";

import { aheadWords } from "../../docs/panel/ahead_words.js";
import { labelPlaces } from "../../docs/panel/trace_labels.js";
import { family, FlightLines, resample, roundScale, timeAxis } from "../../docs/panel/trace_lines.js";
import { looksOf } from "../../docs/panel/trace_look.js";
import { brushed, csv, factor, lineWords, readStretch, rowTimes, stepWords, usualStep, valueWords } from "../../docs/panel/trace_words.js";
import { sampleFlight } from "./sample.mjs";

// A probe of the sample's tank that gives no signal from 0 to 200 s; the gauge then reads 2 kg less than there is.
const gauged = sampleFlight((document) => {
  document.parts.push({ name: "probe", label: "Probe", kind: "probe", states: ["no signal", "reads"], settings: [], start: "no signal" });
  document.parts.push({ name: "spare", label: "Spare probe", kind: "probe", states: ["no signal", "reads"], settings: [], start: "reads" });
  const reason = { kind: "physics", name: "power", sentence: "", facts: [], causes: [] };
  document.changes.splice(3, 0, { time_s: 200, part: "probe", from: "no signal", to: "reads", reason });
  document.quantities["tank.gauged_kg"] = [0, 0, 0, 58, 18];
  return document;
});
const lines = new FlightLines(gauged, ["engine"]);
const actual = { label: "Main left", name: "tank.actual_kg" };
const gauge = { label: "Main left, gauge", name: "tank.gauged_kg", style: "read", blank: [["probe"]] };

test("an instrument without a signal shows nothing, not zero", () => {
  assert.deepEqual(lines.column(gauge), [null, null, null, 58, 18]);
  assert.equal(lines.at(gauge, 199.9), null);
  assert.equal(lines.at(gauge, 200), 58);
  assert.equal(lines.at(gauge, 600), 38);
});

test("a tank of two probes is blank only while both give no signal, and a total while any set does", () => {
  const both = { ...gauge, name: "tank.gauged_kg ", blank: [["probe", "spare"]] };
  assert.equal(lines.at(both, 100), 0);
  const any = { label: "Total", name: "total.gauged_kg", style: "read", blank: [["spare"], ["probe"]] };
  assert.equal(lines.at(any, 100), null);
  assert.equal(lines.at(any, 1000), 18);
});

test("an account by fuel used begins as the first engine starts", () => {
  const used = { label: "By fuel used", name: "total.gauged_kg", style: "read", since: "departure" };
  assert.deepEqual(new FlightLines(gauged, ["engine"]).column(used), [null, null, null, 58, 18]);
  assert.equal(new FlightLines(gauged, ["none"]).at(used, 900), null);
});

test("terms add up, and are taken away after a minus sign", () => {
  const sum = { label: "Right less left", name: "r-less-l.actual_kg", terms: ["total.on_board_kg", "-tank.actual_kg", "total.burned_kg"] };
  assert.deepEqual(lines.column(sum), [0, 0, 10, 10, 50]);
  assert.equal(lines.at(sum, 600), 30);
});

test("a line that is never anything but nothing rests", () => {
  assert.equal(lines.rests({ label: "Vent", name: "vent.flow_kg_h" }), true);
  assert.equal(lines.rests(actual), false);
});

test("two flights share an axis of time: a jump stands twice, the ends once", () => {
  const other = { timeS: [0, 150, 1000], durationS: 1000 };
  assert.deepEqual(timeAxis([gauged], 50, 500), [50, 100, 200, 200, 500]);
  assert.deepEqual(timeAxis([gauged, other], 0, 1000), [0, 100, 150, 200, 200, 1000]);
});

test("resampled, a jump keeps its two values and nothing is made up after a flight's end", () => {
  assert.deepEqual(resample(gauged.timeS, lines.column(actual), [0, 150, 200, 200, 600, 1100]), [100, 95, 90, 60, 40, null]);
  assert.deepEqual(resample([0, 100, 400], [10, 20, 80], [100, 100, 200]), [20, 20, 40]);
  assert.deepEqual(resample(gauged.timeS, lines.column(gauge), [100, 200, 200, 600]), [null, null, 58, 38]);
});

test("what is drawn between two times is what the flight was then", () => {
  const times = timeAxis([gauged], 120, 640);
  const drawn = resample(gauged.timeS, lines.column(actual), times);
  times.forEach((timeS, index) => {
    const before = times[index + 1] === timeS;
    assert.equal(drawn[index], before ? 90 : gauged.at(timeS).quantity("tank.actual_kg"));
  });
});

test("a scale has round steps, holds every value, and begins at zero where that is near", () => {
  assert.deepEqual(roundScale([[990, 6590, null]]), { low: 0, high: 8000, step: 2000, ticks: [0, 2000, 4000, 6000, 8000] });
  assert.deepEqual(roundScale([[79390, 98277]]).ticks, [75000, 80000, 85000, 90000, 95000, 100000]);
  assert.equal(roundScale([[15, 36]]).low, 0);
  assert.equal(roundScale([[15, 36]], { fromZero: false }).low, 10);
  const cold = roundScale([[-72.9, 25]]);
  assert.ok(cold.low <= -72.9 && cold.high >= 25 && cold.ticks.includes(0));
  assert.ok(roundScale([[600, 600]]).low < 600 && roundScale([[600, 600]]).high > 600);
  assert.deepEqual(roundScale([[0, 0]]).low, 0);
  assert.ok(roundScale([[null]]).high > roundScale([[null]]).low);
});

test("parts that come in sets are told by their names", () => {
  assert.equal(family("main-left-aft.flow_kg_h"), family("main-right-aft.flow_kg_h"));
  assert.equal(family("engine-1.flow_kg_h"), family("engine-2.metered_kg_h"));
  assert.notEqual(family("main-left.actual_kg"), family("outboard-left.actual_kg"));
  assert.notEqual(family("total.on_board_kg"), family("total.burned_kg"));
});

test("lines of one family have one colour and differ in their dashes; what is read is dotted in its colour", () => {
  const looks = looksOf(
    ["outer-left", "inner-left", "centre", "inner-right", "outer-right"].map((tank) => ({ name: `${tank}.actual_kg` })).concat([{ name: "centre.gauged_kg", style: "read" }]),
  );
  assert.equal(looks[0].colour, looks[4].colour);
  assert.notDeepEqual(looks[0].dash, looks[4].dash);
  assert.equal(new Set([looks[0], looks[1], looks[2]].map(({ colour }) => colour)).size, 3);
  assert.equal(new Set([looks[0], looks[1], looks[2], looks[4]].map(({ dash }) => dash.join())).size, 4);
  assert.equal(looks[5].colour, looks[2].colour);
  assert.ok(looks[5].dash[0] < 2);
});

test("a sentence says start, highest, lowest and end", () => {
  const times = [0, 600, 1200, 3600];
  assert.equal(
    lineWords("Main left", times, [2000, 6500, 900, 1000], "kg", "kg").replaceAll("\u00a0", " "),
    "Main left: 2,000 kg at 0:00:00; highest 6,500 kg at 0:10:00; lowest 900 kg at 0:20:00; 1,000 kg at 1:00:00.",
  );
  assert.equal(
    lineWords("On board", times, [9000, 8000, 7000, 6000], "kg", "kg").replaceAll("\u00a0", " "),
    "On board: 9,000 kg at 0:00:00, its highest; 6,000 kg at 1:00:00, its lowest.",
  );
  assert.equal(
    lineWords("Gauge", times, [null, 600, 600, null], "kg", "lb").replaceAll("\u00a0", " "),
    "Gauge: 1,320 lb from 0:10:00 to 0:20:00. Not shown before 0:10:00. Not shown after 0:20:00.",
  );
  assert.equal(lineWords("Gauge", times, [null, null, null, null], "kg", "kg"), "Gauge: not shown in this stretch.");
});

test("values are written as everywhere in the panel", () => {
  assert.equal(valueWords(1234, "kg", "kg"), "1,230\u00a0kg");
  assert.equal(valueWords(453.59237, "kg/h", "lb"), "1,000\u00a0lb/h");
  assert.equal(valueWords(27.24, "%", "kg"), "27.2\u00a0%");
  assert.equal(valueWords(null, "kg", "kg"), "not shown");
  assert.equal(factor("bar", "lb"), 1);
  assert.equal(factor("kg/h", "t"), 0.001);
  assert.ok(Math.abs(factor("kg", "lb") * 0.45359237 - 1) < 1e-12);
});

test("a stretch is brushed in either order and held to the flight; a slip of the hand is none", () => {
  assert.deepEqual(brushed(800, 200, 1000), { startS: 200, endS: 800 });
  assert.deepEqual(brushed(-50, 5000, 1000), { startS: 0, endS: 1000 });
  assert.equal(brushed(300, 305, 1000), null);
});

test("a written stretch is read, or told what is wrong with which end", () => {
  assert.deepEqual(readStretch({ timeS: 60 }, { timeS: 600 }, 1000), { startS: 60, endS: 600 });
  assert.equal(readStretch({ problem: "no time" }, { timeS: 600 }, 1000).field, "from");
  const late = readStretch({ timeS: 2000 }, { timeS: 3000 }, 1000);
  assert.equal(late.field, "from");
  assert.match(late.problem, /0:16:40/);
  assert.match(readStretch({ timeS: 10 }, { timeS: 3000 }, 1000).problem, /up to then/);
  const backwards = readStretch({ timeS: 600 }, { timeS: 60 }, 1000);
  assert.equal(backwards.field, "to");
  assert.match(backwards.problem, /10 s or more after the beginning, 0:10:00/);
});

test("rows of a table: at a step, with both ends, or at each keyframe once", () => {
  assert.deepEqual(rowTimes(gauged, 0, 1000, 300), [0, 300, 600, 900, 1000]);
  assert.deepEqual(rowTimes(gauged, 250, 650, 300), [250, 300, 600, 650]);
  assert.deepEqual(rowTimes(gauged, 50, 500, null), [100, 200]);
  assert.equal(usualStep(0, 26460), 600);
  assert.equal(usualStep(0, 600), 30);
  assert.equal(stepWords(null), "at each keyframe");
  assert.equal(stepWords(300), "every 5 minutes");
});

test("the saved file holds every keyframe under names with units, and blanks as blanks", () => {
  const rows = csv([actual, gauge], lines).split("\r\n");
  assert.equal(rows[0], "time_s,tank.actual_kg,tank.gauged_kg");
  assert.deepEqual(rows.slice(1), ["0,100,", "100,100,", "200,90,", "200,60,58", "1000,20,18", ""]);
});

test("names stand beside their lines, clear of others; twins share one", () => {
  const flat = (y) => Array.from({ length: 161 }, () => y);
  const line = (label, ys, own = label) => ({ label, family: own, width: 60, ys });
  const room = { width: 600, height: 160, lineHeight: 15 };
  const [high, low] = labelPlaces([line("High", flat(40)), line("Low", flat(120))], room);
  assert.ok(Math.abs(high.y - 40) < 20 && Math.abs(low.y - 120) < 20);
  const [first, second] = labelPlaces([line("Main left", flat(60), "main-*"), line("Main right", flat(61), "main-*")], room);
  assert.equal(first.text, "Main left, main right");
  assert.equal(second, null);
  const crowded = labelPlaces(Array.from({ length: 20 }, (_none, index) => line(`Line ${index}`, flat(4 + index * 8))), room);
  assert.ok(crowded.some((place) => place === null), "where there is no room the key alone names a line");
  const placed = crowded.filter(Boolean);
  placed.forEach((one, at) => placed.slice(at + 1).forEach((two) => assert.ok(Math.abs(one.y - two.y) >= 15 || Math.abs(one.x - two.x) >= 60)));
  assert.equal(labelPlaces([line("Blank", flat(null))], room)[0], null);
});

const AHEAD = {
  time_s: 3600,
  levels: [{ tank: "tank", part: "pump", after: "dry", in_s: 600, sentence: "Main left is down to {98 kg}." }],
  endurance: {
    lasts_s: 7200, usable_kg: 3886, on_board_kg: 4006, sentence: "Engine 1 then gets no fuel any more: nothing feeds it.",
    stranded: [{ tank: "tank", stranded_kg: 68, sentence: "Main left keeps {68 kg}: its pump is off." }],
  },
  landing: { time_s: 9000, on_board_kg: 4006, usable_kg: 3886, final_reserve_kg: 1170, standing: "normal", sentence: "It lands with {3,886 kg} usable." },
  imbalance: { now_kg: -40, rate_kg_h: 0, sentence: "Both wings change alike." },
};
const told = (answer, units = "kg") =>
  aheadWords(answer, gauged, units).map(({ title, lines: own }) => `${title}: ${own.map(({ words, timeS, reason }) => `${words}${timeS ?? ""} ${reason ?? ""}`).join(" | ")}`);

test("what lies ahead is told with its reasons", () => {
  const [lasts, landing, level, wings, stranded] = told(AHEAD);
  assert.match(lasts, /another 2 h 00 min at this height and speed, until 3:00:00\. Usable are 3,890 kg of the 4,010 kg on board\. Engine 1 then gets no fuel/);
  assert.match(landing, /The landing is in 1 h 30 min, at 9000 It lands with 3,886 kg usable\. Standing: normal\./);
  assert.match(level, /Main left, in 10 min: main left aft pump dry, at 4200 Main left is down to 98 kg\./);
  assert.match(wings, /The left wing holds 40 kg more than the other\. Both wings change alike\./);
  assert.match(stranded, /Main left keeps 68 kg: its pump is off\./);
  assert.match(told(AHEAD, "lb")[4], /keeps 150 lb/);
  const spills = told({ ...AHEAD, levels: [{ ...AHEAD.levels[0], part: "tank", after: "spilling" }] });
  assert.match(spills[2], /Main left, in 10 min: it is full and spills over, at 4200/);
});

test("what there is nothing to say of is said too", () => {
  const [lasts, landing, level, wings, stranded] = told({ ...AHEAD, levels: [], endurance: null, landing: null, imbalance: { now_kg: 0.2, rate_kg_h: 0, sentence: "" } });
  assert.match(lasts, /No engine runs/);
  assert.match(landing, /does not land/);
  assert.match(level, /No level comes any more in this flight: Main left\./);
  assert.match(wings, /Both wings hold the same/);
  assert.match(stranded, /No engine runs/);
  assert.match(told({ ...AHEAD, endurance: { ...AHEAD.endurance, lasts_s: 86400, stranded: [] } })[0], /more than a day/);
});
