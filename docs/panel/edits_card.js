// The card of the reader's changes: what was changed, where the two flights part, and the way back.

import { exactClock } from "./clock.js";
import { differenceWords, firstDifference } from "./difference.js";
import { make } from "./dom.js";
import { withoutEdit } from "./edits.js";
import { editWords } from "./switches.js";
import { say } from "./words.js";

export class EditsCard {
  constructor(panel) {
    this.panel = panel;
    const find = (name) => panel.querySelector(`.ww-${name}`);
    [this.card, this.list, this.parting] = ["edits-card", "edits", "differs"].map(find);
    find("undo").addEventListener("click", () => panel.undo());
    find("clear").addEventListener("click", () => panel.backToRecorded());
  }

  update({ flight, units }) {
    const { edits, base, recordId } = this.panel;
    const key = [recordId, units, JSON.stringify(edits)].join(" ");
    if (this.key === key) return;
    this.key = key;
    this.card.hidden = edits.length === 0;
    this.list.replaceChildren(...edits.map((edit, index) => this.entry(flight, edit, index)));
    if (edits.length === 0) return;
    const found = firstDifference(base, flight);
    this.parting.replaceChildren(...this.partingWords(found, flight, units));
  }

  entry(flight, edit, index) {
    const remove = make("button", { type: "button", "aria-label": `Remove the change at ${editWords(flight, edit)}` }, "Remove");
    remove.addEventListener("click", () => this.panel.flyWith(withoutEdit(this.panel.edits, index)));
    return make("li", {}, this.goButton(edit.time_s, edit.part, editWords(flight, edit)), " ", remove);
  }

  partingWords(found, flight, units) {
    const ended = flight.ended ? ` This flight ends at ${exactClock(flight.ended.time_s)}: ${say(flight.ended.sentence, units)}` : "";
    if (!found) return [`The change makes no difference to what the aircraft does.${ended}`];
    const { what, why } = differenceWords(found, flight.label(found.part));
    return [this.goButton(found.timeS, found.part, what), " ", make("span", { class: "ww-reason" }, say(why, units)), ended];
  }

  goButton(timeS, part, words) {
    const button = make("button", { type: "button", class: "ww-link-button" }, words);
    button.addEventListener("click", () => this.panel.goTo(timeS, { part, stepped: true }));
    return button;
  }
}
