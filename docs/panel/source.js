// Which script a panel flies: the one that its page ships with, or one of the reader's own.
//
// The reader's own is { text, file, inputs, title }: the text of a file (null: the page's script), the file's name,
// and figures changed by key. It is taken up only once it has flown: until then, and where it can't, the last good
// flight stays on show.

import { RecordedFlight } from "./record.js";

export class Source {
  constructor(panel) {
    this.panel = panel;
    this.page = panel.base;
    this.own = null;
    this.before = null;
  }

  /** What a request to the simulation says of the script. */
  request(own = this.own) {
    const { scriptName } = this.panel;
    if (!own) return { script: scriptName };
    const inputs = Object.keys(own.inputs).length ? { inputs: own.inputs } : {};
    return own.text === null ? { script: scriptName, ...inputs } : { script_text: own.text, file: own.file, ...inputs };
  }

  /** Fly another script, with these edits, and show it. @returns {Promise<{problem: string, place: string}|null>} */
  use(own, edits) {
    // In turn with changes of the flight: none of them may fall between.
    return this.panel.inTurn(() => this.take(own, edits ?? this.panel.edits));
  }

  async take(own, edits) {
    const { panel } = this;
    if (!panel.door.ready) return { problem: "The live simulation is not ready yet. Try again once it is.", place: "runtime" };
    panel.pause();
    panel.stateLine.working(true);
    // The page's own script as it ships is flown already.
    const isPage = own.text === null && Object.keys(own.inputs).length === 0;
    const plain = isPage ? { flight: this.page } : await this.fly(own, []);
    const changed = edits.length && plain?.flight ? await this.fly(own, edits) : plain;
    panel.stateLine.working(false);
    if (!plain || !changed) return null;
    if (!changed.flight) return { problem: changed.problem, place: changed.place };
    this.remember();
    this.own = isPage ? null : own;
    panel.adopt({ base: plain.flight, flight: changed.flight, edits });
    return null;
  }

  async fly(own, edits) {
    const answer = await this.panel.door.fly(this.panel.aircraftName, this.request(own), edits);
    return answer?.record ? { flight: new RecordedFlight(answer.record) } : answer;
  }

  /** Show the page's own flight again, with its own edits. */
  back() {
    if (!this.own) return;
    this.remember();
    this.own = null;
    this.panel.adopt({ base: this.page, flight: this.page, edits: this.page.edits });
  }

  remember() {
    const { base, flight, edits } = this.panel;
    this.before = { own: this.own, base, flight, edits };
  }

  /** Show what was on show before the last change of the script; a second time leads forth again. */
  swap() {
    const { before } = this;
    if (!before) return;
    this.remember();
    this.own = before.own;
    this.panel.adopt(before);
  }
}
