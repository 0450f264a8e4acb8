// The lane under the flight line: a handle for each change of the reader's, a quiet mark for what the script itself does.

import { exactClock } from "./clock.js";
import { make, setProblem } from "./dom.js";
import { Handle } from "./handle.js";
import { gathered, nextOf, ownEvents, rowsFor } from "./lane_places.js";

export class Lane {
  constructor(panel) {
    this.panel = panel;
    this.place = panel.querySelector(".ww-lane");
    if (!this.place) return;
    this.handles = [];
    this.following = null;
    this.track = make("div", { class: "ww-lane-track" });
    this.problem = make("p", { class: "ww-problem ww-lane-problem", role: "alert", hidden: true });
    this.place.append(this.track, this.problem);
    // Measured when it changes, so that no painting has to wait for a measure.
    new ResizeObserver(() => this.measure()).observe(this.track);
  }

  measure() {
    this.width = this.track.clientWidth;
    this.picture = this.width ? this.panel.flightLine.picture() : null;
    this.panel.refresh();
  }

  update({ flight, units, view }) {
    if (!this.picture || this.handles.some((handle) => handle.busy)) return;
    const { recordId, edits, flightLine } = this.panel;
    const laid = flightLine.laid.get(this.picture);
    const key = [recordId, units, view, this.width, laid.left, laid.startS, laid.endS, JSON.stringify(edits)].join(" ");
    if (this.key === key) return;
    this.key = key;
    this.laid = { ...laid, widthUnits: this.picture.viewBox.baseVal.width };
    // On the gauges nobody is told of a trouble; what the reader broke is no secret to them.
    this.told = ({ kind }) => kind !== "trouble" || view !== "gauges";
    this.build(flight, edits);
  }

  /** Build anew, as after a change that could not be made. */
  again() {
    this.key = null;
    this.panel.refresh();
  }

  /** Where a time stands in the lane, px. */
  across(timeS) {
    const { left, right, startS, endS, widthUnits } = this.laid;
    return ((left + ((timeS - startS) / (endS - startS)) * (right - left)) / widthUnits) * this.width;
  }

  /** The time of a place in the lane, held to the stretch on show. */
  timeAt(px) {
    const { left, right, startS, endS, widthUnits } = this.laid;
    const share = ((px / this.width) * widthUnits - left) / (right - left);
    return startS + Math.min(Math.max(share, 0), 1) * (endS - startS);
  }

  shows(timeS) {
    return timeS >= this.laid.startS && timeS <= this.laid.endS;
  }

  build(flight, edits) {
    const focused = this.track.contains(document.activeElement);
    const shown = edits.map((edit, index) => ({ edit, index })).filter(({ edit }) => this.shows(edit.time_s));
    const rows = rowsFor(shown.map(({ edit }) => this.across(edit.time_s)));
    this.handles = shown.map(({ edit, index }, at) => new Handle(this, edit, index, rows[at]));
    const count = Math.max(0, ...rows.map((row) => row + 1));
    this.track.style.setProperty("--rows", count);
    this.track.replaceChildren(
      ...(count ? [this.name("Your changes", 0)] : []),
      ...this.handles.map(({ element }) => element),
      this.name("Actions", count),
      ...this.groups(flight, edits, count),
      ...this.end(flight, count),
    );
    if (focused && this.following) this.focusOn(this.following);
    this.following = null;
  }

  name(words, row) {
    const right = ((this.laid.left - 16) / this.laid.widthUnits) * 100;
    return make("span", { class: "ww-lane-name", style: `width:${right.toFixed(2)}%;--row:${row}` }, words);
  }

  focusOn({ part, state, time_s: timeS }) {
    const own = this.handles.find(({ edit }) => edit.part === part && edit.state === state && Math.abs(edit.time_s - timeS) < 0.1);
    own?.element.focus({ preventScroll: true });
  }

  groups(flight, edits, row) {
    const events = ownEvents(flight, edits, this.panel.units).filter((own) => this.told(own) && this.shows(own.timeS));
    return gathered(events, ({ timeS }) => this.across(timeS)).map(({ members, placePx }) => {
      const trouble = members.some(({ kind }) => kind === "trouble");
      const first = members[0];
      const words = members.length === 1
        ? `${exactClock(first.timeS)}: ${first.words}`
        : `${members.length} from ${exactClock(first.timeS)}: ${members.map((own) => own.words).slice(0, 6).join(", ")}${members.length > 6 ? " and more" : ""}`;
      const name = `In the script, ${words}`;
      const button = make("button", { type: "button", class: `ww-lane-event${trouble ? " ww-lane-trouble" : ""}`, "aria-label": name, title: name });
      button.textContent = members.length > 1 ? members.length : "";
      button.style.left = `${placePx.toFixed(1)}px`;
      button.style.setProperty("--row", row);
      button.addEventListener("click", () => {
        const goal = nextOf(members, this.panel.timeS);
        this.panel.pause();
        this.panel.goTo(goal.timeS, { part: goal.part, stepped: true });
      });
      return button;
    });
  }

  /** A flight that ends early ends here: a post, and words. */
  end(flight, row) {
    if (!flight.ended || !this.shows(flight.durationS)) return [];
    const words = make("span", { class: "ww-lane-end" }, `Ends early, ${exactClock(flight.ended.time_s)}`);
    words.style.right = `${(this.width - this.across(flight.durationS)).toFixed(1)}px`;
    words.style.setProperty("--row", row);
    return [words];
  }

  // ---- what handles ask for

  async move(edit, timeS) {
    const wanted = { ...edit, time_s: timeS };
    this.following = { ...wanted };
    this.refuse(null);
    const problem = await this.panel.changes.change(edit, wanted);
    if (problem) this.refuse(`${this.panel.editWords.plain(edit)} stays at ${exactClock(edit.time_s)}. ${problem}`);
    this.again();
  }

  async remove(edit) {
    this.refuse(null);
    const problem = await this.panel.changes.remove(edit);
    if (problem) this.refuse(problem);
    else this.panel.querySelector(".ww-flightline").focus({ preventScroll: true });
  }

  refuse(problem) {
    setProblem(this.problem, problem);
  }
}
