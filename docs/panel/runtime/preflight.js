// What can be known before anything is downloaded: whether this browser, under this page's policy, can run the simulation.

import { RuntimeFault } from "./faults.js";

// The smallest WebAssembly module: its mark and its version.
const EMPTY_MODULE = new Uint8Array([0x00, 0x61, 0x73, 0x6d, 0x01, 0x00, 0x00, 0x00]);

/** Throw the fault that keeps the simulation from running here, if one is known already. */
export function preflight(scope = globalThis) {
  if (typeof scope.WebAssembly !== "object") throw new RuntimeFault("no-webassembly");
  const needed = {
    Worker: "background workers",
    Blob: "files made in memory",
    DecompressionStream: "the unpacking of gzip (2023)",
    BigInt64Array: "64-bit whole numbers (2021)",
  };
  const lacking = Object.keys(needed).filter((name) => typeof scope[name] !== "function");
  if (lacking.length) throw new RuntimeFault("old-browser", { lacking: lacking.map((name) => needed[name]).join(", ") });
  try {
    new scope.WebAssembly.Module(EMPTY_MODULE);
  } catch (error) {
    throw new RuntimeFault("wasm-policy", { technical: error.message });
  }
}

// Taken now, when this script first runs: a theme's help for pages opened from a folder may replace it afterwards.
const firstWorker = globalThis.Worker;

const isNative = (value) => typeof value === "function" && /\[native code\]/.test(Function.prototype.toString.call(value));

/**
 * Return the browser's own Worker. A page may set one aside as `wetwingNativeWorker`. Where all that can be found is a
 * replacement, an empty frame has an untouched one; the frame stays, since its workers would end with it.
 */
export function nativeWorker() {
  for (const candidate of [globalThis.wetwingNativeWorker, firstWorker, globalThis.Worker]) {
    if (isNative(candidate)) return candidate;
  }
  const frame = document.createElement("iframe");
  frame.hidden = true;
  frame.title = "Simulation";
  document.body.append(frame);
  return frame.contentWindow.Worker;
}
