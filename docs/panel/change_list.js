// The reader's list of changes as it is changed: add, change, remove, undo, redo. One after another, so that none is lost
// while a flight is flown.

import { counted } from "./edit_words.js";
import { sameEdits, sortOf, withChangedEdit, withEdit, withoutEdit } from "./edits.js";
import { EditHistory } from "./history.js";

const RESTS = "A trouble is hidden in this flight: changes rest until the question is answered.";

export class ChangeList {
  constructor(panel) {
    this.panel = panel;
    this.history = new EditHistory();
    this.turn = Promise.resolve(); // when all that was asked for is done
    this.sight = Promise.resolve(); // when the last of it is seen
    this.sort = (edit) => sortOf(panel.flight.parts.get(edit.part), edit);
  }

  /** Do some work when what was asked for before is done. */
  inTurn(work) {
    this.turn = this.turn.then(work, work);
    this.sight = settled(this.turn);
    return this.turn;
  }

  /** Make a change as soon as the one before it is seen: the rest of that one's flight is not flown then. */
  onSight(change) {
    const begun = this.sight.then(() => {
      const done = change();
      // Flying has begun by now, if there is anything to fly.
      return { done, sight: Promise.race([settled(done), this.panel.flying.sight]) };
    });
    const done = begun.then((own) => own.done);
    this.sight = settled(begun.then((own) => own.sight));
    this.turn = Promise.all([settled(this.turn), settled(done)]).then(() => done);
    return done;
  }

  /** Why nothing can be changed now, or null. */
  get rest() {
    return this.panel.dataset.challenge === undefined ? null : RESTS;
  }

  /** Nothing that was done before can be undone: another script is flown. */
  forget() {
    this.history = new EditHistory();
  }

  add({ part, state, timeS }) {
    const { panel } = this;
    return this.onSight(async () => {
      if (this.rest) return this.rest;
      const added = withEdit(panel.flying.wishes, { time_s: timeS, part, state }, this.sort);
      if (added.problem) return added.problem;
      const at = added.edits.find((own) => own.part === part && own.state === state && own.time_s >= timeS - 1e-6);
      const problem = await panel.flyWith(added.edits, { atS: Math.max(panel.timeS, at?.time_s ?? 0) });
      // The change is made at a whole tenth of a second: go there, so that it is seen.
      if (!problem && at) panel.goTo(Math.max(panel.timeS, at.time_s));
      return problem;
    });
  }

  change(edit, wanted) {
    return this.onSight(async () => {
      const index = this.indexOf(edit);
      if (index < 0) return null;
      const changed = withChangedEdit(this.panel.flying.wishes, index, wanted, this.sort);
      return changed.problem ?? this.panel.flyWith(changed.edits);
    });
  }

  remove(edit) {
    return this.onSight(async () => {
      const index = this.indexOf(edit);
      return index < 0 ? null : this.panel.flyWith(withoutEdit(this.panel.flying.wishes, index));
    });
  }

  /** Go a step back or forth in the history of changes. */
  step(way) {
    const { panel } = this;
    return this.inTurn(async () => {
      const goal = this.history.peek(way);
      if (!goal) return;
      const left = panel.edits;
      const problem = await panel.flyWith(goal, { remember: false });
      if (problem) panel.note(problem);
      if (!sameEdits(panel.edits, goal)) return;
      this.history.step(way, left);
      const now = goal.length ? `Now ${counted(goal.length)} of yours.` : "Now none of your changes is left.";
      panel.announce(`${way === "back" ? "Undone" : "Redone"}. ${now}`);
      panel.refresh();
    });
  }

  indexOf(edit) {
    return this.panel.flying.wishes.findIndex((own) => sameEdits([own], [edit]));
  }
}

/** A promise that is kept when another is kept or broken. */
function settled(promise) {
  return promise.then(() => {}, () => {});
}
