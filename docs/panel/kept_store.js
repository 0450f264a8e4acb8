// Where kept flights are: on the device if it lets them, else in this page until it closes. Every change reads what is
// stored first, so that what another tab has kept meanwhile is not lost.

import { kept as device } from "./dom.js";
import { keptText, merged, readKept, withoutKept } from "./kept_flights.js";

export class KeptStore {
  /** @param {(said: string) => void} onOther called when another tab has changed the list */
  constructor(key, onOther) {
    this.key = key;
    this.unsaved = [];
    this.read();
    window.addEventListener("storage", (event) => {
      if (event.storageArea !== window.localStorage || (event.key !== null && event.key !== key)) return;
      this.read();
      onOther();
    });
  }

  read() {
    const { kept, bad } = readKept(device.read(this.key));
    this.bad = bad;
    this.flights = merged(kept, this.unsaved);
    return this.flights;
  }

  /**
   * Change the list by `change(flights)`, which returns { kept } or { problem }.
   * @returns {{problem: string|null, saved: boolean}} saved is false where the device refuses: the list then lasts as long as the page
   */
  change(change) {
    const before = this.read();
    const made = change(before);
    if (made.problem) return { problem: made.problem, saved: true };
    const saved = device.write(this.key, keptText(made.kept));
    if (saved) this.unsaved = [];
    // What was taken away must not come back from the list that could not be written.
    else this.unsaved = made.kept;
    this.flights = made.kept;
    return { problem: null, saved };
  }

  remove(id) {
    return this.change((flights) => ({ kept: withoutKept(flights, id) }));
  }
}
