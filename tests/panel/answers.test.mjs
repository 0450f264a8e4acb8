// What readers answered: merged without loss whatever the order, checked when it comes from elsewhere, kept where it can be.

import assert from "node:assert/strict";
import { test } from "node:test";

import { answered, byPage, calibration, checked, merged, mergedLists, worthAnotherLook } from "../../docs/panel/answers.js";
import { fromJson, toCsv, toJson } from "../../docs/panel/answers_file.js";
import { AnswerStore } from "../../docs/panel/answers_store.js";

const given = (changes) => ({
  page: "phases/cruise.html", question: "cruise-hold", kind: "choose", title: "Cruise", ask: "What do you find?",
  answer: "1", right: false, sure: "certain", at: "2026-05-01T10:00:00.000Z", ...changes,
});
const one = answered(null, given());
const two = answered(one, given({ answer: "2", right: true, sure: "guess", at: "2026-05-02T10:00:00.000Z" }));
const other = answered(null, given({ answer: "3", at: "2026-04-30T10:00:00.000Z" }));

test("a second answer stands beside the first, which was the prediction", () => {
  assert.deepEqual([two.answer, two.tries, two.first.answer, two.first.sure], ["2", 2, "1", "certain"]);
});

test("two records of one question become one, in any order, and twice is once", () => {
  for (const [a, b] of [[two, other], [other, two], [two, two], [merged(two, other), other]]) {
    const found = merged(a, b);
    assert.equal(found.answer, "2");
    assert.equal(found.tries, 2);
    assert.equal(found.first.answer, a === b ? "1" : "3");
  }
  const [a, b, c] = [one, two, other];
  assert.deepEqual(merged(merged(a, b), c), merged(a, merged(c, b)));
});

test("what comes from elsewhere is taken only where it is a result", () => {
  assert.deepEqual(checked(JSON.parse(JSON.stringify({ ...two, more: "<img>" }))), two);
  const wrong = [
    { page: "javascript:alert(1)" }, { page: "../../x.html" }, { page: "//else.where/x.html" }, { question: "a b" }, { kind: "other" }, { tries: 0 },
    { sure: "very" }, { at: "yesterday" }, { right: "yes" }, { first: null }, { ask: "x".repeat(2000) }, { title: 7 },
  ];
  for (const change of wrong) assert.equal(checked({ ...two, ...change }), null, JSON.stringify(change));
  for (const nothing of [null, 7, "x", []]) assert.equal(checked(nothing), null);
});

test("a file of results is read again as it was written", () => {
  assert.deepEqual(fromJson(toJson([two])), { records: [two], left: 0 });
  assert.deepEqual(fromJson(JSON.stringify({ format: "wetwing-results/1", results: [two, { page: 1 }] })).left, 1);
  assert.match(fromJson("nonsense").problem, /no JSON/);
  assert.match(fromJson('{"format": "else/2"}').problem, /'else\/2'.*'wetwing-results\/1'/);
  assert.match(fromJson('{"results": []}').problem, /names no format/);
  assert.match(fromJson('{"format": "wetwing-results/1"}').problem, /no list 'results'/);
});

test("the table for a spreadsheet quotes what it must and holds no formula", () => {
  const tricky = { ...two, ask: '=1+1, "quoted"', answer: "-5" };
  const [head, row] = toCsv([tricky]).trim().split("\r\n");
  assert.equal(head.split(",").length, 16);
  assert.ok(row.includes(`"'=1+1, ""quoted"""`), row);
  assert.ok(row.includes(",'-5,yes,a guess,"), row);
});

test("wrong and certain comes first, even where a later answer was right", () => {
  const name = (question, changes) => answered(null, given({ question, ...changes }));
  const records = [
    name("a", { right: true, sure: "certain" }), name("b", { sure: "guess" }), name("c", { sure: "certain" }), name("d", { sure: "rather" }),
    { ...two, question: "e" },
  ];
  assert.deepEqual(worthAnotherLook(records).map(({ question }) => question), ["c", "e", "d", "b"]);
  assert.deepEqual(byPage(records)[0].records.length, 5);
  assert.deepEqual(calibration(records).map(({ count, right }) => [count, right]), [[1, 0], [1, 0], [3, 1]]);
});

class Shelf {
  entries = new Map();
  get length() {
    return this.entries.size;
  }
  key(at) {
    return [...this.entries.keys()][at] ?? null;
  }
  getItem(key) {
    return this.entries.get(key) ?? null;
  }
  setItem(key, value) {
    if (this.full) throw new Error("full");
    this.entries.set(key, value);
  }
  removeItem(key) {
    this.entries.delete(key);
  }
}

test("results go where they can be kept, and are found wherever they are", () => {
  const [device, visit] = [new Shelf(), new Shelf()];
  const store = new AnswerStore([device, visit]);
  assert.equal(store.write(one), "device");
  device.full = true;
  assert.equal(store.write({ ...two, question: "second" }), "visit");
  visit.full = true;
  assert.equal(store.write({ ...two, question: "third" }), "page");
  assert.equal(new AnswerStore([null, null]).write(one), "page");
  assert.deepEqual(store.all().map(({ question }) => question).sort(), ["cruise-hold", "second", "third"]);
  store.clear();
  assert.deepEqual(store.all(), []);
});

test("two tabs lose nothing of each other", () => {
  const device = new Shelf();
  device.setItem("something-else", "x");
  const [left, right] = [new AnswerStore([device, null]), new AnswerStore([device, null])];
  left.write(one);
  right.write({ ...one, question: "elsewhere" });
  assert.equal(left.all().length, 2);
  assert.equal(left.putIn([two, other]), "device");
  assert.equal(right.read("phases/cruise.html#cruise-hold").first.answer, "3");
  device.setItem("ww-answer:phases/cruise.html#broken", "{");
  assert.equal(right.all().length, 2);
  right.clear();
  assert.deepEqual([...device.entries.keys()], ["something-else"]);
});

test("lists of results become one list, by name", () => {
  assert.deepEqual(mergedLists([two], [other, { ...one, question: "a-first" }]).map(({ question }) => question), ["a-first", "cruise-hold"]);
});
