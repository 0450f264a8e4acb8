// The door to the live simulation: when it starts, what it says of itself, and one flight at a time, the newest.

/** @param {object|null} settings { base, manifest } as the page holds it; null where the site has no simulation */
export class RuntimeDoor {
  constructor(settings, start, onState) {
    this.settings = settings;
    this.startRuntime = start;
    this.onState = onState;
    this.client = null;
    this.state = settings ? { name: "waiting" } : { name: "absent" };
    this.newest = null;
  }

  get ready() {
    return this.state.name === "ready";
  }

  /** Start the runtime once. */
  start() {
    if (!this.settings || this.client) return;
    this.client = this.startRuntime({
      base: this.settings.base,
      manifest: this.settings.manifest,
      onState: (state) => {
        this.state = state;
        this.onState(state);
      },
    });
  }

  retry() {
    this.client?.retry?.();
  }

  /**
   * Fly a script with edits: one that ships, by its name, or what `Source.request` says. A later call drops this one.
   * @returns {Promise<{record: object}|{problem: string, place: string}|null>} null where a later call took its place
   */
  async fly(aircraft, script, edits) {
    this.newest?.abort();
    const own = new AbortController();
    this.newest = own;
    try {
      const source = typeof script === "string" ? { script } : script;
      const answer = await this.client.ask({ ask: "fly", aircraft, ...source, edits }, { signal: own.signal });
      if (own.signal.aborted) return null;
      if (answer.ok) return { record: answer.record };
      return { problem: problemWords(answer.problem), place: answer.problem.place };
    } catch (fault) {
      if (own.signal.aborted) return null;
      return { problem: fault.title ? `${fault.title}. ${fault.detail}` : String(fault.message ?? fault), place: "runtime" };
    }
  }

  /**
   * Look ahead from a time of a script with edits. A later look drops this one; a flight does not.
   * @returns {Promise<{ahead: object}|{problem: string}|null>} null where a later look took its place
   */
  async ahead(aircraft, script, edits, timeS) {
    this.looking?.abort();
    const own = new AbortController();
    this.looking = own;
    try {
      const source = typeof script === "string" ? { script } : script;
      const answer = await this.client.ask({ ask: "ahead", aircraft, ...source, edits, time_s: timeS }, { signal: own.signal });
      if (own.signal.aborted) return null;
      return answer.ok ? { ahead: answer.ahead } : { problem: problemWords(answer.problem) };
    } catch (fault) {
      if (own.signal.aborted) return null;
      return { problem: fault.title ? `${fault.title}. ${fault.detail}` : String(fault.message ?? fault) };
    }
  }

  /** Ask something else than a flight. @returns {Promise<{answer: object}|{problem: string, place: string}>} */
  async ask(request) {
    if (!this.ready) return { problem: "The live simulation is not ready yet. Try again once it is.", place: "runtime" };
    try {
      const answer = await this.client.ask(request);
      return answer.ok ? { answer } : { problem: problemWords(answer.problem), place: answer.problem.place };
    } catch (fault) {
      return { problem: fault.title ? `${fault.title}. ${fault.detail}` : String(fault.message ?? fault), place: "runtime" };
    }
  }
}

/** A problem of the simulation in words: its message holds place, found and allowed. */
export function problemWords({ message, nearest }) {
  const near = nearest && !message.includes(nearest) ? ` Nearest: ${nearest}.` : "";
  return `${message}${near}`;
}

/** What the state of the runtime means for a reader: { text, detail, live }. `shown` says which flight the panel shows. */
export function stateWords(state, shown = "Recorded flight shown") {
  switch (state.name) {
    case "absent":
      return { text: `${shown}. This copy of the site has no live simulation, so switches rest.`, live: false };
    case "loading": {
      const percent = Math.floor((state.fraction ?? 0) * 100);
      const slow = state.stalled ? ", and nothing has come for ten seconds" : "";
      return { text: `${shown}. The live simulation is loading (${percent} %${slow}).`, live: false };
    }
    case "starting":
      return { text: `${shown}. The live simulation is starting${state.slow ? ", slower than usual" : ""}.`, live: false };
    case "ready":
      return { text: "Live: change a switch and the rest of the flight is flown again.", live: true };
    case "failed":
      return { text: `${shown}; switches rest. ${state.title}.`, detail: state.detail, technical: state.technical, live: false };
    default:
      return { text: `${shown}. The live simulation starts soon.`, live: false };
  }
}
