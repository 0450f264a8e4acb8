// Moving through time: step, play, type a time, choose a speed. Nothing plays by itself.

import { exactClock, parseClock, span } from "./clock.js";
import { reducedMotion, setProblem, setText } from "./dom.js";

// With reduced motion the picture changes once a second, in steps.
const CALM_STEP_MS = 1000;

export class Transport {
  constructor(panel, flightLine) {
    this.panel = panel;
    const find = (name) => panel.querySelector(`.ww-${name}`);
    [this.play, this.time, this.speed, this.problem] = ["play", "time", "speed", "time-problem"].map(find);
    this.frame = null;
    this.timer = null;
    find("back").addEventListener("click", () => this.step(-1));
    find("next").addEventListener("click", () => this.step(1));
    this.play.addEventListener("click", () => (this.playing ? this.pause() : this.start()));
    find("zoom").addEventListener("change", (event) => flightLine.zoom(event.target.value === "phase"));
    this.time.addEventListener("keydown", (event) => event.key === "Enter" && this.enter());
    this.time.addEventListener("change", () => this.enter());
    this.time.addEventListener("focus", () => this.pause());
    document.addEventListener("visibilitychange", () => document.hidden && this.pause());
  }

  get playing() {
    return this.frame !== null || this.timer !== null;
  }

  start() {
    const { panel } = this;
    if (panel.timeS >= panel.flight.durationS) panel.goTo(0);
    setText(this.play, "Pause");
    if (reducedMotion()) {
      this.timer = window.setInterval(() => this.advance(CALM_STEP_MS / 1000), CALM_STEP_MS);
      return;
    }
    let before = null;
    const tick = (now) => {
      this.frame = window.requestAnimationFrame(tick);
      // A tab that slept must not leap.
      if (before !== null) this.advance(Math.min(now - before, 100) / 1000);
      before = now;
    };
    this.frame = window.requestAnimationFrame(tick);
  }

  advance(realS) {
    const { panel } = this;
    const goal = panel.timeS + realS * Number(this.speed.value);
    panel.goTo(goal, { playing: true });
    if (goal >= panel.flight.durationS) this.pause();
  }

  pause() {
    if (!this.playing) return;
    window.cancelAnimationFrame(this.frame);
    window.clearInterval(this.timer);
    this.frame = this.timer = null;
    setText(this.play, "Play");
  }

  /** Go to the next change, or back to the one before. */
  step(way) {
    const { panel } = this;
    this.pause();
    // What comes next is known when the rest is flown.
    if (panel.flying.early) {
      panel.inTurn(() => this.step(way));
      return;
    }
    const goal = way > 0 ? panel.flight.nextTime(panel.timeS) : panel.flight.previousTime(panel.timeS);
    if (goal === null) {
      panel.announce("Nothing more changes in this flight.");
      return;
    }
    panel.goTo(goal, { stepped: true });
  }

  enter() {
    const { panel } = this;
    const read = parseClock(this.time.value);
    if (read.problem) return this.refuse(read.problem);
    const end = panel.flight.durationS;
    if (read.timeS > end + 1e-6) return this.refuse(`The flight ends at ${exactClock(end)}. Write a time up to then.`);
    this.refuse(null);
    if (exactClock(panel.timeS) !== exactClock(read.timeS)) panel.goTo(read.timeS, { stepped: true });
    return undefined;
  }

  refuse(problem) {
    setProblem(this.problem, problem);
    if (problem) this.time.setAttribute("aria-invalid", "true");
    else this.time.removeAttribute("aria-invalid");
  }

  update({ timeS }) {
    const typing = document.activeElement === this.time;
    if (!typing) {
      const text = exactClock(timeS);
      if (this.time.value !== text) {
        this.time.value = text;
        this.refuse(null);
      }
    }
    const title = `of ${span(this.panel.flight.durationS)}`;
    if (this.time.title !== title) this.time.title = title;
  }
}
