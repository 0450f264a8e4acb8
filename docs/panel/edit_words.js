// A reader's changes in words, for lists and names: what they set or break, and when.

import { exactClock } from "./clock.js";
import { isSetting } from "./edits.js";
import { stateWords } from "./state_options.js";

export class EditWords {
  constructor(panel, { troubles, figures }) {
    [this.panel, this.kinds, this.figures] = [panel, troubles, figures];
  }

  /** `Centre feed selector to manual`, `Main left: leak 1,200 kg/h`, `Main left mended`. */
  plain({ part: name, state }) {
    const { flight, units } = this.panel;
    const part = flight.parts.get(name);
    if (!part) return `${name}: ${state}`;
    const joins = isSetting(part, state) ? " to" : state === "mended" ? "" : ":";
    return `${flight.label(name)}${joins} ${stateWords(part, this.kinds[name] ?? [], this.figures, state, units)}`;
  }

  /** The same after its time. */
  timed(edit) {
    return `${exactClock(edit.time_s)}: ${this.plain(edit)}`;
  }
}

/** How many changes, in words. */
export function counted(count) {
  return count === 1 ? "one change" : `${count} changes`;
}
