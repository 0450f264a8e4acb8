// The door to the live simulation: when it starts, what it says of itself, and one flight at a time, the newest.

import { joined } from "./remainder.js";

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
   * With `had`, the record of a flight of the same script that the page has, only what that lacks is sent, and `onFirst`
   * hears the record up to `showsS` as soon as that much is flown: (record, partS), `partS` being where the flights part.
   * @returns {Promise<{record: object}|{problem: string, place: string}|null>} null where a later call took its place
   */
  async fly(aircraft, script, edits, { had = null, showsS = 0, onFirst } = {}) {
    this.newest?.abort();
    const own = new AbortController();
    this.newest = own;
    try {
      const source = typeof script === "string" ? { script } : script;
      const known = had ? { had: had.edits, shows_s: showsS } : {};
      const first = ({ remainder }) => {
        const record = wholeOf(had, remainder);
        if (record) onFirst?.(record, remainder.parting_s);
      };
      const options = { signal: own.signal, ...(had ? { onFirst: first } : {}) };
      const answer = await this.waitFor({ ask: "fly", aircraft, ...source, edits, ...known }, options);
      if (own.signal.aborted) return null;
      if (answer.ok) {
        const record = had ? wholeOf(had, answer.remainder) : answer.record;
        return record ? { record } : this.fly(aircraft, script, edits);
      }
      return { problem: problemWords(answer.problem), place: answer.problem.place };
    } catch (fault) {
      if (own.signal.aborted) return null;
      return { problem: fault.title ? `${fault.title}. ${fault.detail}` : String(fault.message ?? fault), place: "runtime" };
    }
  }

  /** Have a flight flown while nobody waits for anything, so that a change of it takes no longer than it must. */
  prepare(aircraft, script, edits) {
    this.preparing = new AbortController();
    const request = { ask: "fly", aircraft, ...script, edits, had: edits, shows_s: 0 };
    // What goes wrong here goes wrong again where somebody waits for it, and is told there.
    this.client.ask(request, { signal: this.preparing.signal }).catch(() => {});
  }

  /** Ask what somebody waits for. */
  waitFor(request, options) {
    this.preparing?.abort();
    return this.client.ask(request, options);
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
      const answer = await this.waitFor({ ask: "ahead", aircraft, ...source, edits, time_s: timeS }, { signal: own.signal });
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
      const answer = await this.waitFor(request);
      return answer.ok ? { answer } : { problem: problemWords(answer.problem), place: answer.problem.place };
    } catch (fault) {
      return { problem: fault.title ? `${fault.title}. ${fault.detail}` : String(fault.message ?? fault), place: "runtime" };
    }
  }
}

/** The record of a flight; null where what was sent does not fit the record at hand, so that the whole has to be asked for. */
function wholeOf(had, remainder) {
  try {
    return joined(had, remainder);
  } catch (error) {
    console.warn(`The whole flight is asked for: ${error.message}`);
    return null;
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
