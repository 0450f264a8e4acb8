import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { formatLink, LinkProblem, parseLink } from "../../docs/panel/link.js";
import { nearest } from "../../docs/panel/nearest.js";

const vectors = JSON.parse(readFileSync(new URL("../vectors/links.json", import.meta.url), "utf8"));

for (const { fragment, canonical, link } of vectors.good) {
  test(`link: ${fragment}`, () => {
    const read = parseLink(fragment);
    const wanted = { aircraft: link.aircraft, flight: link.flight, edits: link.edits, timeS: link.time_s, units: link.units, view: link.view ?? null };
    assert.deepEqual(read, wanted);
    assert.equal(formatLink(read), canonical);
    // The usual view is not written.
    assert.deepEqual(parseLink(formatLink(read)), { ...read, view: read.view === "gauges" ? "gauges" : null });
  });
}

for (const fragment of vectors.no_link) {
  test(`no link of a panel: '${fragment}'`, () => assert.equal(parseLink(fragment), null));
}

for (const { fragment, problem } of vectors.bad) {
  test(`refused: ${fragment}`, () => {
    assert.throws(
      () => parseLink(fragment),
      (thrown) => thrown instanceof LinkProblem && thrown.message.includes(problem),
    );
  });
}

test("a link that is far too long is refused before it is read", () => {
  assert.throws(() => parseLink(`#v=1&t=${"1".repeat(5000)}`), /4000/);
  const edits = Array.from({ length: 51 }, () => "edit=0:00:01,a,on").join("&");
  assert.throws(() => parseLink(`#v=1&${edits}`), /51 edits/);
});

test("a wrong key names the nearest valid one", () => {
  assert.throws(() => parseLink("#v=1&unit=kg"), /'units'/);
  assert.equal(nearest("centre-fed", ["centre-feed", "cross-feed"]), "centre-feed");
  assert.equal(nearest("xyz", ["centre-feed", "cross-feed"]), null);
});

test("a link that ends in the middle of a key was cut short", () => {
  for (const end of ["fli", "t", ""]) assert.throws(() => parseLink(`#v=1&aircraft=alder-165&${end}`), new RegExp(`It ends in '${end}'; the link may have been cut short`));
});
