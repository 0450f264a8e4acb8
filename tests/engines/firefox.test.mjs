// The panel's core in a second engine: the built site in Firefox, from a host and from a folder.
// `WETWING_FIREFOX` names the program; `make test` finds one, or brings it.

import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { createServer } from "node:http";
import { extname, join, normalize, sep } from "node:path";
import { after, before, test } from "node:test";
import { fileURLToPath, pathToFileURL } from "node:url";
import puppeteer from "puppeteer-core";

const ROOT = fileURLToPath(new URL("../..", import.meta.url));
const SITE = process.env.WETWING_SITE ?? join(ROOT, "site");
const TYPES = { ".html": "text/html", ".js": "text/javascript", ".css": "text/css", ".svg": "image/svg+xml", ".png": "image/png" };
const PATIENCE_MS = 60_000;

const NOW = () => document.querySelector("wet-wing-panel .ww-now-time").textContent;

let browser, server, host;

before(async () => {
  server = createServer(async (request, response) => {
    const path = normalize(join(SITE, decodeURIComponent(new URL(request.url, "http://x").pathname)));
    try {
      assert.ok(path.startsWith(SITE + sep));
      const body = await readFile(path);
      response.writeHead(200, { "content-type": TYPES[extname(path)] ?? "application/octet-stream" }).end(body);
    } catch {
      response.writeHead(404).end();
    }
  });
  await new Promise((done) => server.listen(0, "127.0.0.1", done));
  host = `http://127.0.0.1:${server.address().port}`;
  browser = await puppeteer.launch({ browser: "firefox", executablePath: process.env.WETWING_FIREFOX ?? "firefox", headless: true });
});

after(async () => {
  await browser?.close();
  server?.close();
});

// A page, opened as a reader does; it fails the test on any error of its own, and on any request that leaves the host.
async function open(t, address, { width = 1280, live = true } = {}) {
  const page = await browser.newPage();
  const faults = [];
  page.on("pageerror", (error) => faults.push(String(error)));
  page.on("request", (request) => {
    if (!/^(http:\/\/127\.0\.0\.1:|file:|blob:|data:)/.test(request.url())) faults.push(`left the host: ${request.url()}`);
  });
  page.setDefaultTimeout(PATIENCE_MS);
  await page.setViewport({ width, height: 900 });
  await page.goto(address, { timeout: PATIENCE_MS });
  if (live) await page.waitForSelector("wet-wing-panel[data-live]");
  t.after(() => page.close());
  return { page, faults };
}

async function assertAccessible(page) {
  await page.evaluate(await readFile(join(ROOT, "node_modules/axe-core/axe.min.js"), "utf8"));
  const found = await page.evaluate(async () =>
    (await axe.run(document, { resultTypes: ["violations"] })).violations.map(({ id, nodes }) => `${id}: ${nodes[0].target} ${nodes[0].failureSummary}`),
  );
  assert.deepEqual(found, []);
}

// What every way of opening the page owes a reader: the flight at once, an answer, a switch that flies the rest anew.
async function asAReader(t, address) {
  const { page, faults } = await open(t, address);
  const start = await page.evaluate(NOW);
  await page.click(".ww-next");
  await page.waitForFunction((was) => document.querySelector(".ww-now-time").textContent !== was, {}, start);
  await page.select("select.ww-part", "centre-right");
  await page.waitForFunction(() => document.querySelector(".ww-because").textContent.length > 40);

  const manual = await page.$$eval('[data-control="centre-feed"] label', (labels) => labels.findIndex((label) => /manual/.test(label.textContent)));
  await (await page.$$('[data-control="centre-feed"] label'))[manual].click();
  await page.waitForFunction(() => document.querySelectorAll(".ww-edits > li").length === 1);
  const edited = await page.evaluate(() => document.querySelector("wet-wing-panel").links.address());
  assert.match(edited, /edit=[^&]*centre-feed,manual/);
  await page.waitForFunction(() => /first differs at \d+:\d\d:\d\d/.test(document.querySelector(".ww-differs").textContent));
  await page.click(".ww-undo");
  await page.waitForFunction(() => document.querySelectorAll(".ww-edits > li").length === 0);
  await assertAccessible(page);
  assert.deepEqual(faults, []);
}

test("Firefox: from a host, a reader looks, asks and switches", { timeout: 3 * PATIENCE_MS }, (t) => asAReader(t, `${host}/phases/cruise.html`));

test("Firefox: opened from a folder, the same", { timeout: 3 * PATIENCE_MS }, (t) =>
  asAReader(t, pathToFileURL(join(SITE, "phases/cruise.html")).href),
);

test("Firefox: the keyboard alone reaches the switch, the time and the next change", { timeout: 2 * PATIENCE_MS }, async (t) => {
  const { page, faults } = await open(t, `${host}/phases/cruise.html`);
  const wanted = new Set(["ww-next", "ww-time", "ww-switch", "ww-part", "ww-copy"]);
  for (let pressed = 0; pressed < 160 && wanted.size; pressed += 1) {
    await page.keyboard.press("Tab");
    const seen = await page.evaluate(() => {
      const all = [];
      for (let element = document.activeElement; element; element = element.parentElement) all.push(...element.classList);
      return all;
    });
    for (const name of seen) wanted.delete(name);
  }
  assert.deepEqual([...wanted], []);
  assert.deepEqual(faults, []);
});

test("Firefox: a link opens its state, and 320 px lose nothing", { timeout: 2 * PATIENCE_MS }, async (t) => {
  const state = "#v=1&aircraft=alder-165&flight=day-sector&edit=1:58:20,centre-feed,manual&t=2:30:00";
  const { page, faults } = await open(t, `${host}/phases/cruise.html${state}`, { width: 320 });
  await page.waitForFunction(() => document.querySelectorAll(".ww-edits > li").length === 1);
  assert.equal(await page.evaluate(NOW), "2:30:00");
  const wide = await page.evaluate(() => document.documentElement.scrollWidth);
  assert.ok(wide <= 320, `${wide} px wide`);
  assert.deepEqual(faults, []);
});

test("Firefox: a question is answered, and a twin moves both of its flights", { timeout: 3 * PATIENCE_MS }, async (t) => {
  const { page, faults } = await open(t, `${host}/twins/back-flow.html`);
  const times = () => page.$$eval(".ww-now-time", (all) => all.map((one) => one.textContent));
  const before = await times();
  assert.equal(before.length, 2);
  await page.click(".ww-next");
  await page.waitForFunction((was) => document.querySelector(".ww-now-time").textContent !== was, {}, before[0]);
  const [left, right] = await times();
  assert.equal(left, right);

  const cruise = await open(t, `${host}/phases/cruise.html`, { live: false });
  await cruise.page.waitForSelector(".ww-predict button");
  await cruise.page.click('.ww-predict input[type="radio"][data-right="true"]');
  await cruise.page.click(".ww-predict .ww-sure label:last-child");
  await cruise.page.click(".ww-predict .ww-check");
  assert.match(await cruise.page.$eval(".ww-predict .ww-result", (said) => said.textContent), /^Right \(certain\)/);
  assert.deepEqual([...faults, ...cruise.faults], []);
});
