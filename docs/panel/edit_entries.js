// The list of the reader's changes, each with fields that change it: when, what, how much; and its removal.

import { exactClock, parseClock } from "./clock.js";
import { make, nextId, setAttribute, setProblem } from "./dom.js";
import { isSetting } from "./edits.js";
import { StateEntry } from "./state_entry.js";

export class EditEntries {
  /** @param {HTMLElement} after where the keyboard goes when the last change is removed */
  constructor(panel, facts, list, after) {
    [this.panel, this.list, this.after] = [panel, list, after];
    this.facts = { kinds: facts.troubles, figures: facts.figures };
    this.following = null;
  }

  show(edits) {
    const place = this.keyboardPlace();
    this.shown = edits;
    this.entries = edits.map((edit, index) => this.entry(edit, index));
    this.list.replaceChildren(...this.entries.map(({ item }) => item));
    if (place) this.restore(place);
    this.following = null;
  }

  entry(edit, index) {
    const { panel } = this;
    const words = panel.editWords.plain(edit);
    const named = `change ${index + 1}`;
    const item = make("li", {});
    const go = make("button", { type: "button", class: "ww-link-button", "data-field": "go" }, panel.editWords.timed(edit));
    go.addEventListener("click", () => {
      panel.pause();
      panel.goTo(edit.time_s, { part: edit.part, stepped: true });
    });
    const problem = make("p", { class: "ww-problem", id: nextId("ww-edit-problem"), role: "alert", hidden: true });
    const time = make("input", {
      type: "text", class: "ww-edit-time", value: exactClock(edit.time_s), autocomplete: "off", spellcheck: "false",
      "aria-label": `Time of ${named}`, "aria-describedby": problem.id, "data-field": "time",
    });
    const own = { edit, index, item, time, problem };
    time.addEventListener("change", () => this.commit(own));
    own.what = new StateEntry(this.facts, { choice: `What ${named} does`, figure: `How much, ${named}` }, () => this.commit(own));
    const part = panel.flight.parts.get(edit.part);
    if (part) own.what.show(part, panel.units, edit.state);
    item.classList.toggle("ww-trouble-edit", Boolean(part) && !isSetting(part, edit.state));
    for (const field of own.what.elements) field.setAttribute("aria-describedby", problem.id);
    const remove = make("button", { type: "button", "aria-label": `Remove ${named}: ${words}`, "data-field": "remove" }, "Remove");
    remove.addEventListener("click", () => this.remove(own));
    const fields = make("span", { class: "ww-edit-fields" }, time, ...(part ? own.what.elements : []), remove);
    item.append(go, " ", fields, problem);
    for (const field of [time, own.what.number]) field.addEventListener("keydown", (event) => event.key === "Enter" && this.commit(own));
    return own;
  }

  async commit(own) {
    const { edit, time, what } = own;
    // Enter is heard twice: as a key, and as a change of the field.
    if (own.busy) return undefined;
    const read = parseClock(time.value);
    if (read.problem) return this.refuse(own, read.problem, time);
    const found = what.part ? what.read() : { state: edit.state };
    if (found.problem) return this.refuse(own, found.problem, found.field);
    this.refuse(own, null);
    const timeS = exactClock(edit.time_s) === time.value.trim() ? edit.time_s : read.timeS;
    if (timeS === edit.time_s && found.state === edit.state) return undefined;
    const wanted = { ...edit, time_s: timeS, state: found.state };
    this.following = wanted;
    own.busy = true;
    const problem = await this.panel.changes.change(edit, wanted);
    own.busy = false;
    if (problem) this.refuse(own, problem, timeS === edit.time_s ? what.select : time);
    return undefined;
  }

  async remove(own) {
    const problem = await this.panel.changes.remove(own.edit);
    if (problem) this.refuse(own, problem);
  }

  refuse(own, problem, field = null) {
    for (const each of [own.time, own.what.select, own.what.number]) setAttribute(each, "aria-invalid", each === field ? "true" : null);
    setProblem(own.problem, problem);
  }

  // ---- the keyboard stays where it was, though the list is made anew

  keyboardPlace() {
    const active = document.activeElement;
    if (!this.list.contains(active)) return null;
    const index = [...this.list.children].findIndex((item) => item.contains(active));
    return { index, edit: this.shown?.[index], field: active.dataset.field };
  }

  restore({ index, edit, field }) {
    const goal = this.following ?? edit;
    const same = (own) => own.edit.part === goal?.part && own.edit.state === goal.state && Math.abs(own.edit.time_s - goal.time_s) < 0.1;
    const own = this.entries.find(same) ?? this.entries[Math.min(index, this.entries.length - 1)];
    const found = own?.item.querySelector(`[data-field="${field}"]`);
    (found ?? this.after).focus({ preventScroll: true });
  }
}
