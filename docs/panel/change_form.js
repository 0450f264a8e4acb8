// The form that changes anything: a part, what is done to it, when. Others open it with `panel.changeForm.open()`.

import { exactClock, parseClock } from "./clock.js";
import { make, nextId, setAttribute, setProblem, setText } from "./dom.js";
import { StateEntry } from "./state_entry.js";

export class ChangeForm {
  /** @param {HTMLElement} place where the form goes; `button` opens and closes it */
  constructor(panel, facts, place, button) {
    [this.panel, this.place, this.button] = [panel, place, button];
    this.kinds = facts.troubles;
    this.what = new StateEntry({ kinds: facts.troubles, figures: facts.figures }, { choice: "What happens", figure: "How much" });
    this.typed = false;
    this.build();
    button.addEventListener("click", () => (this.form.hidden ? this.open({ focus: true }) : this.close()));
  }

  build() {
    const problemId = nextId("ww-change-problem");
    this.part = make("select", { class: "ww-change-part" });
    this.part.addEventListener("change", () => this.showPart());
    this.time = make("input", { type: "text", class: "ww-change-time", autocomplete: "off", spellcheck: "false", "aria-describedby": problemId });
    this.time.addEventListener("input", () => (this.typed = true));
    this.now = make("button", { type: "button", class: "ww-change-now" }, "Now");
    this.now.addEventListener("click", () => this.followTime());
    this.problem = make("p", { class: "ww-problem", id: problemId, role: "alert", hidden: true });
    this.said = make("p", { class: "ww-change-said", role: "status" });
    const [select, figure] = this.what.elements;
    this.form = make(
      "form", { class: "ww-change-form", hidden: true, novalidate: true, "aria-label": "Change something else" },
      make("label", {}, make("span", {}, "Part"), this.part),
      make("label", {}, make("span", {}, "What happens"), select),
      make("label", { class: "ww-change-figure" }, make("span", {}, "How much"), figure),
      make("label", {}, make("span", {}, "At"), make("span", { class: "ww-change-when" }, this.time, this.now)),
      make("button", { type: "submit", class: "ww-change-add ww-primary" }, "Add"),
      this.problem,
      this.said,
    );
    this.form.addEventListener("submit", (event) => {
      event.preventDefault();
      this.add();
    });
    this.form.addEventListener("keydown", (event) => {
      if (event.key !== "Escape") return;
      this.close();
      this.button.focus();
    });
    this.place.append(this.form);
    setAttribute(this.button, "aria-expanded", "false");
  }

  /** Open the form; `focus` says whether the keyboard goes there. */
  open({ focus = false, part = null } = {}) {
    this.fill();
    if (part && [...this.part.options].some((option) => option.value === part)) this.part.value = part;
    this.form.hidden = false;
    setAttribute(this.button, "aria-expanded", "true");
    this.showPart();
    this.followTime();
    if (focus) this.part.focus();
  }

  close() {
    this.form.hidden = true;
    setAttribute(this.button, "aria-expanded", "false");
  }

  /** Every part that can be set or can have a trouble, in the groups of the list of parts. */
  fill() {
    if (this.part.options.length) return;
    const { parts } = this.panel.flight;
    const able = (name) => parts.has(name) && (parts.get(name).settings.length || parts.get(name).quantity || this.kinds[name]?.length);
    for (const group of this.panel.querySelectorAll(".ww-part > optgroup")) {
      const own = [...group.children].filter((option) => able(option.value));
      if (own.length) this.part.append(make("optgroup", { label: group.label }, ...own.map(({ value, text }) => make("option", { value }, text))));
    }
    if (able(this.panel.chosen)) this.part.value = this.panel.chosen;
  }

  showPart() {
    const { flight, units } = this.panel;
    this.what.show(flight.parts.get(this.part.value), units);
    this.refuse(null);
  }

  /** Let the time be that on show, until another is typed. */
  followTime() {
    this.typed = false;
    this.time.value = exactClock(this.panel.timeS);
    this.refuse(null);
  }

  async add() {
    const { panel } = this;
    const read = parseClock(this.time.value);
    if (read.problem) return this.refuse(read.problem, this.time);
    const found = this.what.read();
    if (found.problem) return this.refuse(found.problem, found.field);
    this.refuse(null);
    const edit = { part: this.part.value, state: found.state };
    const timeS = this.typed ? read.timeS : panel.timeS;
    const problem = await panel.edit({ ...edit, timeS });
    if (problem) return this.refuse(problem);
    setText(this.said, `Added. ${panel.editWords.timed({ ...edit, time_s: timeS })}.`);
    this.typed = false;
    return undefined;
  }

  /** Say what is wrong, at the field that it is about; null takes it away. */
  refuse(problem, field = null) {
    for (const own of [this.time, this.what.number]) setAttribute(own, "aria-invalid", own === field ? "true" : null);
    setProblem(this.problem, problem);
    setText(this.said, "");
  }

  update({ timeS, units }) {
    if (this.form.hidden) return;
    if (this.what.units !== units) this.what.show(this.what.part, units);
    this.what.figure.parentElement.hidden = this.what.spec === null;
    if (this.typed || document.activeElement === this.time) return;
    const text = exactClock(timeS);
    if (this.time.value !== text) this.time.value = text;
  }
}
