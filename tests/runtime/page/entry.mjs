// The tests' page: starts the runtime as a panel does, and keeps what it hears for the tests to read.

import { startRuntime } from "../../../docs/panel/runtime/client.js";

const { base, manifest, limits } = globalThis.wetwingPage;
globalThis.heard = [];
globalThis.started = performance.now();
globalThis.client = startRuntime({
  base,
  manifest,
  limits,
  onState: (state) => globalThis.heard.push({ ...state, atMs: performance.now() - globalThis.started }),
});
globalThis.startRuntime = startRuntime;
