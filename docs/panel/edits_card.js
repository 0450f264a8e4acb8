// The card of the reader's own changes: what they are, how the flight parts from the earlier one, undo and redo.

import { ChangeForm } from "./change_form.js";
import { exactClock } from "./clock.js";
import { differenceWords, firstDifference, named } from "./difference.js";
import { make, setText } from "./dom.js";
import { EditEntries } from "./edit_entries.js";
import { handOn } from "./keyboard_place.js";
import { listenForUndo } from "./undo_keys.js";
import { say } from "./words.js";

const NONE = "None. A switch changes the flight from the time on show; so does anything that you add here.";
const HIDDEN = "Where the flights part is hidden in this view: a crew would not be told.";

export class EditsCard {
  constructor(panel, facts) {
    this.panel = panel;
    const find = (name) => panel.querySelector(`.ww-${name}`);
    [this.card, this.parting, this.none, this.ended] = ["edits-card", "differs", "no-edits", "ended"].map(find);
    [this.undo, this.redo, this.clear] = ["undo", "redo", "clear"].map(find);
    this.undo.addEventListener("click", () => panel.undo());
    this.redo.addEventListener("click", () => panel.redo());
    this.clear.addEventListener("click", () => panel.backToRecorded());
    this.entries = new EditEntries(panel, facts, find("edits"), find("change"));
    this.form = new ChangeForm(panel, facts, find("change-place"), find("change"));
    panel.changeForm = this.form;
    listenForUndo(panel);
  }

  update(shown) {
    const { flight, earlier, units, view } = shown;
    const { edits, recordId, earlierId, earlierName, changes } = this.panel;
    this.form.update(shown);
    const ways = [this.undo, this.redo, this.clear];
    const rest = () => {
      this.undo.disabled = !changes.history.peek("back");
      this.redo.disabled = !changes.history.peek("forth");
      this.clear.hidden = edits.length === 0;
    };
    handOn(ways, rest, this.undo, this.redo, this.form.button);
    const key = [recordId, earlierId, earlierName, units, view, JSON.stringify(edits)].join(" ");
    if (this.key === key) return;
    this.key = key;
    this.none.hidden = edits.length > 0;
    setText(this.none, NONE);
    this.entries.show(edits);
    this.showParting(flight, earlier, units, view);
    this.showEnd(flight, units);
  }

  showParting(flight, earlier, units, view) {
    this.parting.hidden = !earlier;
    if (!earlier) return;
    if (view === "gauges") {
      this.parting.replaceChildren(HIDDEN);
      return;
    }
    const found = firstDifference(earlier, flight);
    const { earlierName, compared } = this.panel;
    if (!found) {
      this.parting.replaceChildren(`What the aircraft does is the same as in ${earlierName}.`);
      return;
    }
    const { what, why } = differenceWords(found, named(flight, found.part), earlierName);
    const against = compared ? [`Compared with ${earlierName}: `] : [];
    this.parting.replaceChildren(...against, this.goButton(found, what), " ", make("span", { class: "ww-reason" }, say(why, units)));
  }

  showEnd({ ended }, units) {
    this.ended.hidden = !ended;
    if (ended) setText(this.ended, `This flight ends early, at ${exactClock(ended.time_s)}: ${say(ended.sentence, units)} No later time can be shown.`);
  }

  goButton({ timeS, part }, words) {
    const button = make("button", { type: "button", class: "ww-link-button" }, words);
    button.addEventListener("click", () => {
      this.panel.pause();
      this.panel.goTo(timeS, { part, stepped: true });
    });
    return button;
  }
}
