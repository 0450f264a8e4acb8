// The worker's own source: unpacks the parts that the page sends, starts Python, and answers requests, one at a time.
// A classic script. The build puts it and wheel.js before Pyodide's own scripts in one file, so `loadPyodide` is there
// when it is called. It makes no request: what Pyodide asks for comes from memory, and nothing else is let out.
//
// The kept memory is more than half of all bytes, so a second worker unpacks it meanwhile and is then ended.
//
// from the page   begin {release, magic, counts, memoryBytes} · part {piece, index, text} · memory {bytes}
//                 · hold {port | lock} · ask {id, request} · drop {id}; to the second worker: unpack {piece, count} · part
// to the page     here · held · stage {stage} · ready {started} · going {id} · first {id, answer}
//                 · answer {id, answer | error | dropped} · fault {cause, technical} · crash {id, cause, technical};
//                 from the second worker: here · memory {bytes} · fault
//
// An answer is made in stages. Between two of them the worker hears what the page says, such as that it no longer wants it.

(() => {
  "use strict";

  const NOWHERE = "memory:///"; // Pyodide asks for its files here; the stand-in for `fetch` below answers
  const NOTHING = "data:,nothing";
  const STAGE_MS = 12; // how long the page may have to wait for an ear
  const SIGN_MS = 1000; // how often a long answer says that it is being made
  let pieces = null;
  let answerInParts = null;
  let work = null; // the answer in the making: { id, parts, told }
  let PythonError = null;
  let takeMemory = null;
  const said = []; // the last lines that Python wrote, for the message if the start fails

  const post = (type, content = {}) => self.postMessage({ type, ...content });
  const stage = (name) => post("stage", { stage: name });

  function bytesOf(base64) {
    if (Uint8Array.fromBase64) return Uint8Array.fromBase64(base64);
    const binary = atob(base64);
    const bytes = new Uint8Array(binary.length);
    for (let at = 0; at < binary.length; at += 1) bytes[at] = binary.charCodeAt(at);
    return bytes;
  }

  /** One piece of the runtime: its parts arrive in any order and leave, unpacked, as one stream. */
  class Piece {
    constructor(count) {
      const unpacking = new DecompressionStream("gzip");
      this.input = unpacking.writable.getWriter();
      this.output = unpacking.readable;
      this.texts = new Array(count);
      this.next = 0;
    }

    put(index, text) {
      this.texts[index] = text;
      for (; this.texts[this.next] !== undefined; this.next += 1) {
        this.write(this.texts[this.next]);
        this.texts[this.next] = null;
      }
      if (this.next === this.texts.length) this.input.close().catch(() => {});
    }

    // A failure of the input shows where the output is read, so it need not be told twice.
    write(text) {
      try {
        this.input.write(bytesOf(text)).catch(() => {});
      } catch (error) {
        this.input.abort(error).catch(() => {});
      }
    }

    async bytes() {
      return new Uint8Array(await new Response(this.output).arrayBuffer());
    }
  }

  /** An error together with what it means for the reader: a key of faults.js. */
  class Caused extends Error {
    constructor(cause, error) {
      super(error?.message ?? String(error));
      this.known = cause;
    }
  }

  function causeOf(error, otherwise) {
    if (error?.known) return error.known;
    const text = String(error?.message ?? error);
    if (/content security policy|unsafe-eval|disallowed by embedder/i.test(text)) return "wasm-policy";
    if (/out of memory|memory allocation|could not allocate|MemoryError/i.test(text)) return "memory";
    if (error instanceof RangeError && /memory|buffer|length/i.test(text)) return "memory";
    if (/bad magic number/.test(text)) return "bytecode";
    return otherwise;
  }

  const whole = (piece) =>
    pieces[piece].bytes().catch((error) => {
      throw new Caused(causeOf(error, "damaged"), new Error(`${piece}: ${error?.message ?? error}`));
    });

  async function compiledInterpreter() {
    const headers = { "Content-Type": "application/wasm" };
    try {
      return await WebAssembly.compileStreaming(new Response(pieces.wasm.output, { headers }));
    } catch (error) {
      throw new Caused(causeOf(error, "damaged"), new Error(`wasm: ${error?.message ?? error}`));
    }
  }

  /** Compare the mark at the head of every compiled module with that of this Python; return the archive. */
  function checked(archive, magic) {
    for (const [path, bytes] of storedFiles(archive)) {
      if (!path.endsWith(".pyc")) continue;
      const found = Array.from(bytes.subarray(0, 4), (byte) => byte.toString(16).padStart(2, "0")).join("");
      if (found !== magic) throw new Caused("bytecode", new Error(`${path}: found ${found}, wanted ${magic}`));
    }
    return archive;
  }

  /** Answer Pyodide's requests from memory. It never learns that a compilation failed, so that is told from here. */
  function standIn(compiled, library) {
    self.fetch = async (address) => {
      if (String(address) === `${NOWHERE}pyodide.asm.wasm`) return new Response(new Uint8Array());
      if (String(address) === `${NOWHERE}library.zip`) return new Response(await library);
      throw new TypeError(`the simulation makes no requests; refused ${address}`);
    };
    WebAssembly.instantiateStreaming = async (_response, imports) => {
      try {
        const module = await compiled;
        return { module, instance: await WebAssembly.instantiate(module, imports) };
      } catch (error) {
        fail(error);
        throw error;
      }
    };
  }

  /**
   * Start Python while its pieces still arrive. Pyodide wants the kept memory's size at once and its content only after
   * the library is in place, so the library is what waits for all the rest.
   */
  async function start({ release, magic, counts, memoryBytes }) {
    pieces = Object.fromEntries(Object.entries(counts).map(([name, count]) => [name, new Piece(count)]));
    const memory = memoryBytes ? new Uint8Array(memoryBytes) : null;
    const compiled = compiledInterpreter();
    compiled.then(() => stage("compiled"), () => {}); // a failure is told where it is used
    const wheel = whole("package").then((archive) => checked(archive, magic));
    const library = whole("library").then((archive) => checked(archive, magic));
    const rest = Promise.all([library, wheel, memory ? memoryInto(memory) : null]);
    rest.then(() => stage("unpacked"), fail);
    standIn(compiled, rest.then(([archive]) => archive));
    try {
      await startPython(release, wheel, memory);
    } catch (error) {
      if (memory && causeOf(error, "") !== "memory") throw new Caused("snapshot", error);
      throw error;
    }
    post("ready", { started: memory ? "snapshot" : "bytecode" });
  }

  async function memoryInto(target) {
    const bytes = await new Promise((resolve) => {
      takeMemory = resolve;
    });
    if (bytes.length !== target.length) {
      throw new Caused("snapshot", new Error(`the kept memory has ${bytes.length} of ${target.length} bytes`));
    }
    target.set(bytes);
  }

  async function startPython(release, wheel, memory) {
    const say = (line) => {
      said.push(line);
      if (said.length > 20) said.shift();
      console.debug(line);
    };
    const pyodide = await loadPyodide({
      indexURL: NOWHERE,
      stdLibURL: `${NOWHERE}library.zip`,
      packageBaseUrl: NOTHING,
      // No packages: what a lock file lists lies on a server elsewhere.
      lockFileContents: { info: release, packages: {} },
      env: { PYTHONHASHSEED: "0" }, // nothing may hang on chance; the kept memory has this seed too
      fsInit: async (FS, { sitePackages }) => installWheel(FS, sitePackages, await wheel),
      _sysExecutable: "/python",
      stdin: () => null,
      stdout: say,
      stderr: say,
      ...(memory ? { _loadSnapshot: memory } : {}),
    });
    stage("python");
    PythonError = pyodide.ffi.PythonError;
    answerInParts = pyodide.runPython("from wetwing.browser import answer_in_parts\nanswer_in_parts");
  }

  function fail(error) {
    const heard = said.length ? ` · ${said.join(" · ")}` : "";
    const technical = `${error?.message ?? error}${heard}`;
    post("fault", { cause: causeOf(error, causeOf(technical, "start-failed")), technical });
  }

  async function unpack({ piece, count }) {
    pieces = { [piece]: new Piece(count) };
    const bytes = await whole(piece);
    self.postMessage({ type: "memory", bytes }, [bytes.buffer]);
  }

  const turn = new MessageChannel();
  turn.port1.onmessage = () => work && goOn();

  /** Hold one end of the page's line: the browser lets go of it when this worker ends, whatever ends it. */
  function hold({ port, lock }) {
    self.pageLine = port; // what nobody holds is collected, which looks like an end
    if (lock) navigator.locks.request(lock, () => (post("held"), new Promise(() => {}))).catch(() => {});
  }

  function reply({ id, request }) {
    post("going", { id }); // at once: without this sign the page takes the request for lost
    attempt(id, () => {
      work = { id, parts: answerInParts(request), told: performance.now() };
      goOn();
    });
  }

  /** Work at the answer for a while; then let in what the page has said meanwhile, and come back. */
  function goOn() {
    const { id, parts } = work;
    attempt(id, () => {
      const until = performance.now() + STAGE_MS;
      do {
        const { done, value } = parts.next();
        if (done) {
          end();
          post("answer", { id, answer: value });
          return;
        }
        if (value) post("first", { id, answer: value });
      } while (performance.now() < until);
      if (until - work.told > SIGN_MS) {
        work.told = until;
        post("going", { id });
      }
      turn.port2.postMessage(null);
    });
  }

  /** The page no longer wants an answer. What is flown of it is known to Python, for the next. */
  function drop({ id }) {
    if (work?.id !== id) return; // it is answered already
    attempt(id, () => {
      work.parts.return();
      end();
      post("answer", { id, dropped: true });
    });
  }

  function end() {
    work?.parts.destroy();
    work = null;
  }

  function attempt(id, act) {
    try {
      act();
    } catch (error) {
      work = null; // what is left of a broken answer is not worth another trap
      const cause = causeOf(error, "crash");
      const lines = String(error?.message ?? error).trim().split("\n");
      if (error instanceof PythonError && cause !== "memory") post("answer", { id, error: lines.at(-1) });
      else post("crash", { id, cause, technical: lines.at(-1) });
    }
  }

  const actions = {
    begin: (message) => start(message).catch(fail),
    unpack: (message) => unpack(message).catch(fail),
    part: ({ piece, index, text }) => pieces[piece].put(index, text),
    memory: ({ bytes }) => takeMemory(bytes),
    hold,
    ask: reply,
    drop,
  };

  self.onmessage = ({ data }) => actions[data.type](data);
  post("here");
})();
