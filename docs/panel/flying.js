// Flying a flight again with other changes. What is on show is shown as soon as it is flown, and the rest after it.
//
// Until all is flown the panel's flight and its list of changes stay those of the last whole flight: two flights are never
// mixed. Only `early` is new: what is flown so far, for the pieces that show nothing but the time on show.

import { sameEdits } from "./edits.js";
import { RecordedFlight } from "./record.js";

export class Flying {
  constructor(panel) {
    this.panel = panel;
    this.early = null; // { flight, partingS, id }: up to its end this flight is whole
    this.coming = null; // what is asked for: { edits, left, sight, seen }
    this.later = null; // where the reader has gone beyond what is flown
  }

  /** The reader's changes, with one that is seen already while the rest of its flight is flown. */
  get wishes() {
    return this.coming?.seen ? this.coming.edits : this.panel.edits;
  }

  /** Resolved when what was asked for last is seen, or is known to be refused. */
  get sight() {
    return this.coming?.sight ?? Promise.resolve();
  }

  /**
   * Fly the script with these edits. `atS` is the time that is to be shown, and `left` the lists of changes that this one
   * follows, for undoing. A later call ends an earlier one.
   * @returns {Promise<string|null>} what is wrong, if anything is
   */
  async fly(edits, { remember = true, atS = this.panel.timeS, left = remember ? this.follows() : [] } = {}) {
    const { panel } = this;
    panel.pause();
    if (sameEdits(edits, panel.base.edits)) {
      panel.wanted = null;
      // A flight on its way would take the place of this one.
      panel.door.newest?.abort();
      panel.replace(panel.base, edits, left);
      return null;
    }
    if (!panel.door.ready) return "The live simulation is not ready yet.";
    const over = this.coming?.seen ? this.coming : null;
    const coming = { edits, left, seen: false };
    coming.sight = new Promise((resolve) => (coming.see = resolve));
    this.coming = coming;
    panel.stateLine.working(true);
    const options = {
      had: panel.flight.document,
      showsS: atS,
      onFirst: (record, partingS) => this.show(coming, record, partingS, atS),
    };
    const answer = await panel.door.fly(panel.aircraftName, panel.source.request(), edits, options);
    coming.see();
    // Something else has been put on show meanwhile, or is on its way.
    if (answer === null || this.coming !== coming) return null;
    if (answer.problem) return this.refuse(answer.problem, over);
    panel.replace(new RecordedFlight(answer.record), edits, left);
    return null;
  }

  /** The lists of changes that the next one follows: with one that is seen, though its flight will never be whole. */
  follows() {
    return this.coming?.seen ? [...this.coming.left, this.coming.edits] : [this.panel.edits];
  }

  show(coming, record, partingS, atS) {
    if (this.coming !== coming) return;
    const { panel } = this;
    panel.made += 1;
    this.early = { flight: new RecordedFlight(record), partingS, id: panel.made };
    coming.seen = true;
    coming.see();
    panel.note(null);
    panel.goTo(Math.max(panel.timeS, atS));
  }

  /** The flight can't be flown. One that was seen already, and was ended for it, is flown again. */
  async refuse(problem, over) {
    this.end();
    this.panel.refresh();
    if (over) await this.fly(over.edits, { left: over.left });
    return problem;
  }

  /** Nothing is on its way any more. @returns {object|null} where the reader has gone meanwhile */
  end() {
    const { later } = this;
    if (this.coming) this.panel.stateLine.working(false);
    this.early = this.coming = this.later = null;
    return later;
  }
}
