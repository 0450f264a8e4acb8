// Which stretch of the flight is on show: two time fields, and the way back to the whole. The flight line follows.

import { exactClock, parseClock } from "./clock.js";
import { make, nextId, setProblem } from "./dom.js";
import { brushed, readStretch } from "./trace_words.js";

export class TraceStretch {
  constructor(panel) {
    this.panel = panel;
    const id = nextId("ww-stretch");
    const field = () => make("input", { type: "text", class: "ww-stretch-time", size: 9, autocomplete: "off", spellcheck: "false", "aria-describedby": id });
    this.fields = { from: field(), to: field() };
    this.problem = make("p", { class: "ww-problem", id, role: "alert", hidden: true });
    const show = make("button", { type: "button", class: "ww-stretch-show" }, "Show this stretch");
    this.whole = make("button", { type: "button", class: "ww-stretch-whole" }, "Whole flight");
    // For a finger, which holds no Shift down: the next drag over a trace marks the stretch.
    this.drag = make("button", { type: "button", class: "ww-stretch-drag", "aria-pressed": "false" }, "Choose by dragging");
    this.drag.addEventListener("click", () => (this.dragging = !this.dragging));
    show.addEventListener("click", () => this.enter());
    this.whole.addEventListener("click", () => this.choose(null));
    for (const own of Object.values(this.fields)) {
      own.addEventListener("keydown", (event) => event.key === "Enter" && this.enter());
    }
    this.root = make(
      "div",
      { class: "ww-stretch", role: "group", "aria-label": "Stretch of the flight on show" },
      make("label", {}, "From ", this.fields.from),
      make("label", {}, "to ", this.fields.to),
      show,
      this.drag,
      this.whole,
      this.problem,
    );
    this.select = panel.querySelector(".ww-zoom");
    this.option = make("option", { value: "stretch", hidden: true }, "chosen stretch");
    this.select.append(this.option);
  }

  get dragging() {
    return this.drag.getAttribute("aria-pressed") === "true";
  }

  set dragging(dragging) {
    this.drag.setAttribute("aria-pressed", String(dragging));
  }

  /** Show a stretch in the flight line and the traces. */
  choose(stretch) {
    const { panel } = this;
    this.refuse(null);
    this.dragging = false;
    panel.flightLine.zoomTo(stretch);
    this.option.hidden = stretch === null;
    this.select.value = stretch === null ? "flight" : "stretch";
    this.written = null;
    panel.announce(stretch === null ? "The whole flight is shown." : `Shown from ${exactClock(stretch.startS)} to ${exactClock(stretch.endS)}.`);
  }

  brush(oneS, otherS) {
    const found = brushed(oneS, otherS, this.panel.flight.durationS);
    if (found) this.choose(found);
  }

  enter() {
    const { from, to } = this.fields;
    const read = readStretch(parseClock(from.value), parseClock(to.value), this.panel.flight.durationS);
    if (read.problem) this.refuse(read.problem, read.field);
    else this.choose(read);
  }

  refuse(problem, name) {
    setProblem(this.problem, problem);
    for (const [own, field] of Object.entries(this.fields)) {
      if (problem && own === name) field.setAttribute("aria-invalid", "true");
      else field.removeAttribute("aria-invalid");
    }
  }

  /** Write what is on show; what a reader is writing is left alone until something else is shown. */
  update({ startS, endS }) {
    const key = `${startS} ${endS}`;
    if (this.written === key) return;
    this.written = key;
    [this.fields.from.value, this.fields.to.value] = [startS, endS].map(exactClock);
    this.refuse(null);
    if (this.select.value !== "stretch") this.option.hidden = true;
  }
}
