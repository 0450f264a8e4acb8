// One handle of the lane: a change of the reader's that drags along time, or moves with the arrow keys.

import { isSetting } from "./edits.js";
import { exactClock, upToTenth } from "./clock.js";
import { make, setText } from "./dom.js";

const STEP_S = 1;
const LEAP_S = 60;
const STILL_PX = 4;
// After the last arrow key, before the flight is flown again.
const REST_MS = 400;

export class Handle {
  constructor(lane, edit, index, row) {
    [this.lane, this.edit, this.index] = [lane, edit, index];
    const words = lane.panel.editWords.plain(edit);
    this.bubble = make("span", { class: "ww-handle-time", hidden: true });
    this.element = make(
      "div",
      {
        class: "ww-handle", role: "slider", tabindex: "0", title: `${exactClock(edit.time_s)}: ${words}. Drag it, or use the arrow keys; Delete removes it.`,
        "aria-label": `Change ${index + 1}: ${words}`, "aria-valuemin": "0", "aria-valuemax": String(Math.floor(lane.panel.flight.durationS)),
        "aria-keyshortcuts": "Delete",
      },
      make("span", { class: "ww-handle-number", "aria-hidden": "true" }, String(index + 1)),
      this.bubble,
    );
    this.element.style.setProperty("--row", row);
    // In the view on the gauges a trouble is not told.
    this.element.classList.toggle("ww-trouble-edit", !isSetting(lane.panel.flight.parts.get(edit.part), edit.state));
    this.place(edit.time_s);
    this.listen();
  }

  /** Being moved: nothing may take the handle away. */
  get busy() {
    return this.goal !== undefined;
  }

  place(timeS) {
    const { element, lane } = this;
    element.style.left = `${lane.across(timeS).toFixed(1)}px`;
    element.setAttribute("aria-valuenow", String(Math.floor(timeS)));
    element.setAttribute("aria-valuetext", exactClock(timeS));
    lane.panel.flightLine.moveMark(this.index, timeS);
  }

  listen() {
    const { element } = this;
    element.addEventListener("pointerdown", (event) => this.down(event));
    element.addEventListener("pointermove", (event) => this.drag(event));
    element.addEventListener("pointerup", () => this.up());
    element.addEventListener("pointercancel", () => this.cancel());
    element.addEventListener("keydown", (event) => this.key(event));
    element.addEventListener("blur", () => this.timer && this.drop());
  }

  down(event) {
    if (event.button !== 0) return;
    event.preventDefault();
    this.element.focus({ preventScroll: true });
    this.element.setPointerCapture(event.pointerId);
    this.lane.panel.pause();
    // Held where it was taken, not by its middle.
    this.grip = { x: event.clientX, offset: event.clientX - this.lane.across(this.edit.time_s), moved: false };
  }

  drag(event) {
    const { grip } = this;
    if (!grip) return;
    grip.moved ||= Math.abs(event.clientX - grip.x) >= STILL_PX;
    if (grip.moved) this.show(Math.round(this.lane.timeAt(event.clientX - grip.offset)));
  }

  up() {
    const { grip } = this;
    this.grip = null;
    if (!grip) return;
    if (grip.moved) this.drop();
    else this.goThere();
  }

  key(event) {
    const { key, shiftKey, ctrlKey, altKey, metaKey } = event;
    if (ctrlKey || altKey || metaKey) return;
    const step = shiftKey ? LEAP_S : STEP_S;
    const way = { ArrowRight: step, ArrowUp: step, ArrowLeft: -step, ArrowDown: -step }[key];
    if (way !== undefined) this.nudge(way);
    else if (key === "Escape" && this.busy) this.cancel();
    else if (key === "Delete" || key === "Backspace") this.lane.remove(this.edit);
    else if (key === "Enter") this.busy ? this.drop() : this.goThere();
    else return;
    event.preventDefault();
  }

  nudge(byS) {
    const { flight } = this.lane.panel;
    this.show(Math.min(Math.max((this.goal ?? this.edit.time_s) + byS, 0), flight.durationS));
    window.clearTimeout(this.timer);
    this.timer = window.setTimeout(() => this.drop(), REST_MS);
  }

  /** Show where the change would go. */
  show(timeS) {
    this.goal = Math.min(upToTenth(timeS), this.lane.panel.flight.durationS);
    this.place(this.goal);
    setText(this.bubble, exactClock(this.goal));
    this.bubble.hidden = false;
    this.element.classList.add("ww-moving");
  }

  rest() {
    window.clearTimeout(this.timer);
    [this.timer, this.goal, this.grip] = [null, undefined, null];
    this.bubble.hidden = true;
    this.element.classList.remove("ww-moving");
  }

  drop() {
    const { goal } = this;
    this.rest();
    if (goal === undefined || exactClock(goal) === exactClock(this.edit.time_s)) this.place(this.edit.time_s);
    else this.lane.move(this.edit, goal);
  }

  cancel() {
    this.rest();
    this.place(this.edit.time_s);
  }

  goThere() {
    const { panel } = this.lane;
    panel.pause();
    panel.goTo(this.edit.time_s, { part: this.edit.part, stepped: true });
  }
}
