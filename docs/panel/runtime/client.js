// The page's side of the runtime: starts Python in a worker, asks it, and starts it again when it stops.
//
//   const client = startRuntime({ base, manifest, onProgress, onState });
//   const answer = await client.ask({ ask: "fly", … }, { signal });
//
// `base` is the address of the runtime's folder, `manifest` what the build returned for it. `onState` hears objects:
//   { name: "waiting" }
//   { name: "loading", fraction, bytes, totalBytes, stalled }   stalled: nothing came for ten seconds
//   { name: "starting", stage, slow }                           slow: no step done for ten seconds
//   { name: "ready", started }                                  started: "snapshot", or "bytecode" where that failed
//   { name: "failed", title, detail, cause, technical }         cause: a key of FAULTS
// One page has one runtime: a second call for the same folder joins the first.

import { RuntimeFault } from "./faults.js";
import { lifeline } from "./lifeline.js";
import { Parts, unpackText } from "./parts.js";
import { nativeWorker, preflight } from "./preflight.js";

const CORE = ["wasm", "library", "package"];
const MEMORY = "snapshot";
// In this order: what takes longest to prepare comes first.
const ORDER = ["script", "wasm", MEMORY, "library", "package"];

const LIMITS = {
  noticeS: 10, // a wait longer than this is told
  loadingS: 60, // without any part arriving
  startingS: 30, // without any step of the start done
  greetingS: 15, // for a new worker's first message
  answerS: 20, // without a sign that an answer is being made
  takenS: 6, // without the sign that a request has arrived, which a worker gives before it begins
  restarts: 3, // in a row, without an answer between them
};

let current = null;

/**
 * @param {{signal?: AbortSignal}} options with those of the head of this file; aborting `signal` ends the listening, for a
 *   panel that leaves the page. The runtime itself goes on until `stop`.
 * @returns {RuntimeClient} the page's one runtime
 */
export function startRuntime({ base, manifest, onProgress, onState, signal, limits }) {
  const folder = new URL(base, document.baseURI).href.replace(/\/?$/, "/");
  if (current === null || current.stopped || current.folder !== folder) {
    current?.stop();
    current = new RuntimeClient(folder, manifest, { ...LIMITS, ...limits });
  }
  current.listen({ onProgress, onState }, signal);
  return current;
}

class RuntimeClient {
  constructor(folder, manifest, limits) {
    this.folder = folder;
    this.manifest = manifest;
    this.limits = limits;
    this.listeners = [];
    this.state = { name: "waiting" };
    this.stopped = false;
    this.workers = []; // the one that answers, and at the start a second that unpacks
    this.queue = [];
    this.asked = null;
    this.asks = 0;
    this.restarts = 0;
    this.run = 0; // counts starts: what an earlier start still sends is not heard
    this.timers = {};
    this.renewReady();
    queueMicrotask(() => this.begin());
  }

  listen(listener, signal) {
    this.listeners.push(listener);
    signal?.addEventListener("abort", () => {
      this.listeners = this.listeners.filter((other) => other !== listener);
    });
    listener.onState?.(this.state);
  }

  /**
   * Ask the simulation. Requests are answered in order, one at a time; JSON goes both ways.
   * @param {object} request
   * @param {{signal?: AbortSignal, onFirst?: (answer: object) => void}} [options] aborting drops a request that waits, and
   *   ends one at work; `onFirst` hears a first part of the answer, if there is one. It hears it again where the worker had
   *   to be replaced meanwhile.
   */
  ask(request, { signal, onFirst } = {}) {
    return new Promise((resolve, reject) => {
      if (signal?.aborted) return reject(abortError());
      if (this.stopped) return reject(new RuntimeFault("stopped"));
      if (this.state.name === "failed") return reject(this.fault);
      this.asks += 1;
      const job = { id: this.asks, text: JSON.stringify(request), resolve, reject, onFirst, again: false, dropped: false };
      signal?.addEventListener("abort", () => this.drop(job), { once: true });
      this.queue.push(job);
      return this.pump();
    });
  }

  /** Try again after a failure. */
  retry() {
    if (this.state.name !== "failed" || this.stopped) return;
    this.restarts = 0;
    this.renewReady();
    this.begin();
  }

  /** End the worker for good; what waits is rejected. */
  stop() {
    if (this.stopped) return;
    this.stopped = true;
    this.run += 1;
    const fault = new RuntimeFault("stopped");
    this.endWorkers();
    this.rejectAll(fault);
    this.settleReady.reject(fault);
    this.parts = null;
    this.setState({ name: "waiting" });
  }

  // ---- starting

  renewReady() {
    this.ready = new Promise((resolve, reject) => {
      this.settleReady = { resolve, reject };
    });
    this.ready.catch(() => {}); // a page that only listens to states has heard of it
  }

  begin() {
    if (this.stopped) return;
    try {
      preflight();
    } catch (fault) {
      this.fail(fault);
      return;
    }
    const parts = new Parts(this.folder, this.manifest, () => this.onLoaded(parts));
    this.parts = parts;
    this.tookLongWay = false;
    this.onLoaded(parts);
    parts.fetchAll(ORDER);
    this.startWorker(true);
  }

  /** Start a worker and hand it the parts; `snapshot` false is the slower start without the kept memory. */
  async startWorker(snapshot) {
    this.endWorkers();
    this.run += 1;
    const run = this.run;
    const parts = this.parts;
    try {
      const source = await unpackText((await Promise.all(parts.piece("script"))).join(""));
      const own = source.slice(0, this.manifest.ownChars); // without Pyodide's scripts, which unpacking does not need
      const [worker, unpacker] = await Promise.all([this.greeted(source), snapshot ? this.greeted(own) : null]);
      const made = unpacker ? [worker, unpacker] : [worker];
      if (run !== this.run) {
        for (const late of made) late.terminate();
        return;
      }
      this.workers = made;
      worker.onmessage = ({ data }) => run === this.run && this.hear(data);
      worker.onerror = ({ message }) => run === this.run && this.onCrash({ cause: "crash", technical: message });
      this.line = lifeline(worker, () => run === this.run && this.onDeath());
      const { release, magic, pieces, memoryBytes } = this.manifest;
      const counts = Object.fromEntries(CORE.map((piece) => [piece, pieces[piece].length]));
      worker.postMessage({ type: "begin", release, magic, counts, memoryBytes: snapshot ? memoryBytes : 0 });
      if (unpacker) this.unpackMemory(unpacker, worker, parts, run);
      await Promise.all(CORE.map((piece) => handOver(worker, parts, piece)));
      if (run === this.run && this.state.name === "loading") this.onStage("unpacking");
    } catch (fault) {
      if (run === this.run) this.fail(fault);
    }
  }

  /** Let the second worker unpack the kept memory, pass it on, and end it. Its failure costs the quick start only. */
  unpackMemory(unpacker, worker, parts, run) {
    const lost = (technical) => {
      if (run === this.run) this.onFault({ cause: "snapshot", technical });
    };
    unpacker.onerror = ({ message }) => lost(message);
    unpacker.onmessage = ({ data }) => {
      unpacker.terminate();
      if (data.type === "memory") worker.postMessage(data, [data.bytes.buffer]);
      else lost(data.technical);
    };
    unpacker.postMessage({ type: "unpack", piece: MEMORY, count: this.manifest.pieces[MEMORY].length });
    handOver(unpacker, parts, MEMORY).catch((fault) => lost(fault.message));
  }

  /** A worker that has said it is there: from memory, or where that is refused, from the server. */
  async greeted(source) {
    // Before the address: a frame made after it now and then finds nothing there, on a busy machine.
    const Worker = nativeWorker();
    const address = URL.createObjectURL(new Blob([source], { type: "text/javascript" }));
    try {
      return await this.greet(Worker, address);
    } catch (refusal) {
      if (!/^https?:/.test(this.folder)) throw new RuntimeFault("worker-policy", { technical: refusal });
      const served = new URL(this.manifest.worker, this.folder).href;
      return await this.greet(Worker, served).catch((second) => {
        throw new RuntimeFault("worker-policy", { technical: `${refusal}; ${second}` });
      });
    } finally {
      URL.revokeObjectURL(address);
    }
  }

  greet(Worker, address) {
    return new Promise((resolve, reject) => {
      const worker = new Worker(address); // may throw: then this promise rejects
      const refuse = (reason) => {
        worker.terminate();
        reject(reason);
      };
      const limit = setTimeout(() => refuse("it gave no sign"), this.limits.greetingS * 1000);
      worker.onerror = (event) => {
        event.preventDefault?.();
        clearTimeout(limit);
        refuse(event.message || "the browser refused it");
      };
      worker.onmessage = () => {
        clearTimeout(limit);
        resolve(worker);
      };
    });
  }

  // ---- hearing

  hear(message) {
    const heard = {
      stage: () => this.onStage(message.stage),
      held: () => this.line?.held(),
      ready: () => this.onReady(message),
      going: () => this.onSign(message),
      first: () => this.onFirst(message),
      answer: () => this.onAnswer(message),
      fault: () => this.onFault(message),
      crash: () => this.onCrash(message),
    };
    heard[message.type]();
  }

  onLoaded(parts) {
    if (parts !== this.parts) return;
    const counts = { fraction: parts.loaded / parts.total, bytes: parts.loaded, totalBytes: parts.total };
    for (const { onProgress } of this.listeners) onProgress?.(counts);
    this.setState({ name: "loading", ...counts, stalled: false });
    const megabytes = (bytes) => (bytes / 1e6).toFixed(1);
    const facts = { loaded: megabytes(parts.loaded), total: megabytes(parts.total), seconds: this.limits.loadingS };
    this.watch("stalled", this.limits.loadingS, () => this.fail(new RuntimeFault("stalled", facts)));
  }

  /** A step of the start is done. Until every part is here, the wait for parts is the one that is watched and told. */
  onStage(stage) {
    if (!this.parts.settled) return;
    this.setState({ name: "starting", stage, slow: false });
    const seconds = this.limits.startingS;
    this.watch("slow", seconds, () => this.onFault({ cause: "start-stalled", seconds, stage }));
  }

  onReady({ started }) {
    this.clear("notice", "limit");
    this.parts = null; // parts that are no longer waited for, such as the rest of a broken snapshot, change nothing now
    this.setState({ name: "ready", started });
    this.settleReady.resolve({ started });
    this.pump();
  }

  onFault({ cause, ...facts }) {
    const slower = cause === "snapshot" || (cause === "start-stalled" && !this.tookLongWay);
    if (!slower) {
      this.fail(new RuntimeFault(cause, facts));
      return;
    }
    this.tookLongWay = true;
    console.warn(`The quick start failed, so the slower one is tried: ${facts.technical ?? cause}`);
    this.onStage("again");
    this.startWorker(false);
  }

  // ---- asking

  pump() {
    if (this.state.name !== "ready" || this.asked !== null || this.queue.length === 0) return;
    this.asked = this.queue.shift();
    this.watchAnswer(this.limits.takenS, true);
    this.workers[0].postMessage({ type: "ask", id: this.asked.id, request: this.asked.text });
  }

  watchAnswer(seconds = this.limits.answerS, again = false) {
    this.clear("answer");
    const giveUp = () => this.restart(new RuntimeFault("no-answer", { seconds }), again);
    this.timers.answer = setTimeout(giveUp, seconds * 1000);
  }

  onFirst({ id, answer }) {
    const job = this.asked;
    if (job?.id !== id) return;
    this.watchAnswer();
    if (!job.dropped) job.onFirst?.(JSON.parse(answer));
  }

  /** A long flight on a slow device takes its time: only silence is a fault. */
  onSign({ id }) {
    if (this.asked?.id === id) this.watchAnswer();
  }

  onAnswer({ id, answer, error, dropped }) {
    const job = this.asked;
    if (job === null || job.id !== id) return;
    this.clear("answer");
    this.asked = null;
    this.restarts = 0;
    if (dropped || job.dropped) job.reject(abortError());
    else if (error === undefined) job.resolve(JSON.parse(answer));
    else job.reject(new Error(error));
    this.pump();
  }

  onCrash({ cause, technical }) {
    if (this.state.name !== "ready") {
      this.onFault({ cause: cause === "crash" ? "start-failed" : cause, technical });
      return;
    }
    this.restart(new RuntimeFault(cause, { technical }), cause === "crash");
  }

  /** The worker has gone, at work or at rest: another takes its place at once. */
  onDeath() {
    this.restart(new RuntimeFault("crash", { technical: "the worker ended without a message" }), true);
  }

  /** End the worker and start another. The request at work is asked once more if `again`, else rejected with `fault`. */
  restart(fault, again) {
    const job = this.asked;
    this.asked = null;
    this.clear("answer");
    if (job !== null) {
      if (job.dropped) job.reject(abortError());
      else if (again && !job.again) this.queue.unshift(Object.assign(job, { again: true }));
      else job.reject(fault);
    }
    this.endWorkers();
    this.restarts += 1;
    if (this.restarts > this.limits.restarts) {
      this.fail(new RuntimeFault("keeps-stopping", { times: this.limits.restarts, technical: fault.technical }));
      return;
    }
    this.begin();
  }

  drop(job) {
    job.reject(abortError());
    job.dropped = true;
    this.queue = this.queue.filter((other) => other !== job);
    // The worker says in any case that it is done with it: then the next is asked.
    if (job === this.asked) this.workers[0].postMessage({ type: "drop", id: job.id });
  }

  // ---- ending

  fail(fault) {
    if (this.stopped) return;
    this.run += 1;
    this.endWorkers();
    this.parts = null;
    this.fault = fault instanceof RuntimeFault ? fault : new RuntimeFault("start-failed", { technical: fault });
    const { title, detail, cause, technical } = this.fault;
    this.setState({ name: "failed", title, detail, cause, technical });
    this.settleReady.reject(this.fault);
    this.rejectAll(this.fault);
  }

  rejectAll(fault) {
    const jobs = this.asked === null ? this.queue : [this.asked, ...this.queue];
    this.asked = null;
    this.queue = [];
    for (const job of jobs) job.reject(fault);
  }

  endWorkers() {
    this.clear("notice", "limit", "answer");
    this.line?.cut();
    this.line = null;
    for (const worker of this.workers) worker.terminate();
    this.workers = [];
  }

  // ---- telling

  setState(state) {
    this.state = state;
    for (const { onState } of this.listeners) onState?.(state);
  }

  /** Tell the state's `mark` when nothing happens for a while, and give up after `limitS`. */
  watch(mark, limitS, atLimit) {
    this.clear("notice", "limit");
    const tell = () => this.setState({ ...this.state, [mark]: true });
    this.timers.notice = setTimeout(tell, Math.min(this.limits.noticeS, limitS / 2) * 1000);
    this.timers.limit = setTimeout(atLimit, limitS * 1000);
  }

  clear(...names) {
    for (const name of names) clearTimeout(this.timers[name]);
  }
}

function abortError() {
  return new DOMException("The request was dropped.", "AbortError");
}

async function handOver(worker, parts, piece) {
  const send = async (text, index) => worker.postMessage({ type: "part", piece, index, text: await text });
  await Promise.all(parts.piece(piece).map(send));
}
