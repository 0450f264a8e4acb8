// Starts the browser's Python under Node, for the build and for the tests. One JSON argument says what to do:
//   { pyodide, wasm?, library, package, snapshot?, run?, keep?, ask? }
//   pyodide   folder of the Pyodide release (pyodide.mjs, pyodide.asm.js, pyodide.asm.wasm, pyodide-lock.json)
//   library   zip of the standard library          package   stored wheel of the simulation
//   snapshot  start from this memory               run       Python file to run; its last value goes to standard output
//   keep      write the memory to this file        ask       JSON file with a list of requests; the answers go out as JSON
// Clock and random source stand still while memory is kept: the same inputs then give the same bytes.

import nodeCrypto from "node:crypto";
import { readFileSync, writeFileSync } from "node:fs";
import { basename, join } from "node:path";
import { pathToFileURL } from "node:url";
import vm from "node:vm";

const task = JSON.parse(process.argv[2]);

// Without this Node would print the whole of Pyodide's one-line script before the message.
process.on("uncaughtException", (error) => {
  process.stderr.write(`${error?.message ?? error}\n`);
  process.exit(1);
});

if (task.keep) {
  const start = Date.UTC(2000, 0, 1);
  const RealDate = Date;
  globalThis.Date = class extends RealDate {
    constructor(...given) {
      super(...(given.length ? given : [start]));
    }
    static now() {
      return start;
    }
  };
  performance.now = () => 0;
  nodeCrypto.randomFillSync = (array) => array.fill(42);
}

/**
 * Zero the memory that is free but holds old bytes, so that the kept memory packs smaller. First the large blocks of
 * the allocator below, then the small ones of Python's own; each size until a block comes from fresh memory.
 */
function wipeFreeMemory(module) {
  const end = module._sbrk(0);
  const held = [];
  const fill = (allocate, free, size) => {
    for (;;) {
      const at = allocate(size);
      if (at === 0 || at + size > end) return free(at);
      held.push(() => free(at));
      module.HEAPU8.fill(0, at, at + size);
    }
  };
  for (let size = 1 << 20; size > 512; size >>= 1) fill(module._PyMem_RawMalloc, module._PyMem_RawFree, size);
  for (let size = 512; size > 0; size -= 16) fill(module._PyObject_Malloc, module._PyObject_Free, size);
  for (const free of held) free();
}

// The worker of the page and this script unpack the package with the same code.
const wheelSource = readFileSync(new URL(task.wheelScript, pathToFileURL("/")), "utf8");
const { installWheel } = vm.runInThisContext(`(() => { ${wheelSource}; return { installWheel }; })()`);

const { loadPyodide } = await import(pathToFileURL(join(task.pyodide, "pyodide.mjs")).href);
const { info } = JSON.parse(readFileSync(join(task.pyodide, "pyodide-lock.json"), "utf8"));
const wheel = new Uint8Array(readFileSync(task.package));

const pyodide = await loadPyodide({
  indexURL: task.pyodide,
  stdLibURL: task.library,
  lockFileContents: JSON.stringify({ info, packages: {} }),
  packageBaseUrl: "memory:///",
  env: { PYTHONHASHSEED: "0" },
  _sysExecutable: "/python", // else the path of this script, which says where the build was made
  fsInit: async (FS, { sitePackages }) => installWheel(FS, sitePackages, wheel),
  stdout: (line) => process.stderr.write(`${line}\n`),
  stderr: (line) => process.stderr.write(`${line}\n`),
  _makeSnapshot: Boolean(task.keep),
  ...(task.snapshot ? { _loadSnapshot: new Uint8Array(readFileSync(task.snapshot)) } : {}),
});

if (task.run) {
  const value = pyodide.runPython(readFileSync(task.run, "utf8"), { filename: basename(task.run) });
  if (typeof value === "string") process.stdout.write(value);
}
if (task.keep) {
  wipeFreeMemory(pyodide._module);
  writeFileSync(task.keep, pyodide.makeMemorySnapshot());
}
if (task.ask) {
  const answer = pyodide.runPython("from wetwing.browser import answer\nanswer");
  const answers = JSON.parse(readFileSync(task.ask, "utf8")).map((request) => answer(request));
  process.stdout.write(JSON.stringify(answers));
}
