// The picture of a sketch: axes, the reader's line, and, once it is checked, the flight's own line over it.

import { clock } from "./clock.js";
import { make, makeSvg } from "./dom.js";
import { filled, INTERVALS, ticks, timeTicks } from "./sketch.js";

const HEIGHT = 300;
const EDGE = { left: 62, right: 16, top: 16, bottom: 46 };

export class SketchPlot {
  /** @param wish { fromS, toS, least, most, say(value), title() } `onDraw(fromIndex, fromValue, toIndex, toValue)` hears the hand */
  constructor(wish, onDraw) {
    Object.assign(this, { wish, onDraw, width: 0, shown: null });
    this.picture = makeSvg("svg", { class: "ww-sketch-plot", "aria-hidden": "true" });
    this.box = make("div", { class: "ww-sketch-box" }, this.picture);
    new ResizeObserver(([{ contentRect }]) => this.resize(Math.round(contentRect.width))).observe(this.box);
    this.listen();
  }

  resize(width) {
    if (width === this.width || width === 0) return;
    this.width = width;
    this.paint();
  }

  show(shown) {
    this.shown = shown;
    this.paint();
  }

  x(timeS) {
    const { fromS, toS } = this.wish;
    return EDGE.left + ((timeS - fromS) / (toS - fromS)) * (this.width - EDGE.left - EDGE.right);
  }

  y(value) {
    const { least, most } = this.wish;
    return EDGE.top + (1 - (value - least) / (most - least)) * (HEIGHT - EDGE.top - EDGE.bottom);
  }

  xOf(index) {
    const { fromS, toS } = this.wish;
    return this.x(fromS + ((toS - fromS) * index) / INTERVALS);
  }

  paint() {
    if (!this.shown || !this.width) return;
    const { line, flight, worst } = this.shown;
    this.picture.setAttribute("viewBox", `0 0 ${this.width} ${HEIGHT}`);
    this.picture.setAttribute("height", HEIGHT);
    const parts = [...this.axes()];
    if (flight) parts.push(...this.flightLine(flight, worst, line));
    parts.push(...this.ownLine(line, Boolean(flight)));
    this.picture.replaceChildren(...parts);
  }

  *axes() {
    const { fromS, toS, least, most, say, step } = this.wish;
    const [left, right, floor] = [EDGE.left, this.width - EDGE.right, HEIGHT - EDGE.bottom];
    yield makeSvg("rect", { class: "field", x: left, y: EDGE.top, width: right - left, height: floor - EDGE.top });
    for (const tick of ticks(least / step(), most / step())) {
      const y = this.y(tick * step());
      yield makeSvg("line", { class: "grid", x1: left, x2: right, y1: y, y2: y });
      yield makeSvg("text", { class: "tick", x: left - 8, y: y + 4.5, "text-anchor": "end" }, say(tick * step()));
    }
    for (const tick of timeTicks(fromS, toS, this.width < 480 ? 4 : 6)) {
      const x = this.x(tick);
      yield makeSvg("line", { class: "grid", x1: x, x2: x, y1: EDGE.top, y2: floor + 5 });
      // The last one ends where the field does, or the sheet's edge would cut it.
      yield makeSvg("text", { class: "tick", x, y: floor + 20, "text-anchor": x > right - 24 ? "end" : "middle" }, clock(tick));
    }
    yield makeSvg("text", { class: "tick", x: right, y: HEIGHT - 6, "text-anchor": "end" }, "time of the flight");
  }

  *ownLine(line, judged) {
    const values = filled(line);
    const points = values.flatMap((value, at) => (value === null ? [] : [`${this.xOf(at).toFixed(1)},${this.y(value).toFixed(1)}`]));
    if (points.length > 1) yield makeSvg("polyline", { class: "own", points: points.join(" ") });
    const end = points.length - 1;
    yield makeSvg("circle", { class: "start", cx: this.xOf(0), cy: this.y(values[0]), r: 6 });
    if (points.length === 1) {
      yield makeSvg("text", { class: "word", x: this.xOf(0) + 14, y: this.y(values[0]) - 10 }, "Draw on from here");
    } else if (end < INTERVALS) {
      yield makeSvg("circle", { class: "tip", cx: this.xOf(end), cy: this.y(values[end]), r: 5 });
    } else if (judged) {
      yield this.word("own-word", "yours", values[INTERVALS], this.shown.flight.at(-1)[1]);
    }
  }

  *flightLine(flight, worst, line) {
    const points = flight.map(([timeS, value]) => `${this.x(timeS).toFixed(1)},${this.y(value).toFixed(1)}`);
    yield makeSvg("polyline", { class: "theirs", points: points.join(" ") });
    yield this.word("theirs-word", "the flight", flight.at(-1)[1], filled(line)[INTERVALS]);
    if (worst && worst.apart > 0) {
      const [x, yours, theirs] = [this.x(worst.timeS), this.y(worst.yours), this.y(worst.theirs)];
      yield makeSvg("path", { class: "gap", d: `M${x - 5},${yours}h10M${x},${yours}V${theirs}M${x - 5},${theirs}h10` });
    }
  }

  /** A word at a line's end, above or below it, away from the other line. */
  word(name, words, value, other) {
    const above = value >= other;
    const y = this.y(value) + (above ? -9 : 19);
    const held = Math.min(Math.max(y, EDGE.top + 13), HEIGHT - EDGE.bottom - 5);
    return makeSvg("text", { class: `word ${name}`, x: this.width - EDGE.right - 6, y: held, "text-anchor": "end" }, words);
  }

  listen() {
    let last = null;
    const at = (event) => {
      const box = this.picture.getBoundingClientRect();
      const { least, most } = this.wish;
      const share = (event.clientX - box.left - EDGE.left) / (this.width - EDGE.left - EDGE.right);
      const height = 1 - (event.clientY - box.top - EDGE.top) / (HEIGHT - EDGE.top - EDGE.bottom);
      const held = (value, low, high) => Math.min(Math.max(value, low), high);
      return { index: held(Math.round(share * INTERVALS), 1, INTERVALS), value: held(least + height * (most - least), least, most) };
    };
    const follow = (event) => {
      for (const passed of event.getCoalescedEvents?.() ?? [event]) {
        const now = at(passed);
        this.onDraw(last.index, last.value, now.index, now.value);
        last = now;
      }
    };
    this.picture.addEventListener("pointerdown", (event) => {
      if (event.button !== 0) return;
      this.picture.setPointerCapture(event.pointerId);
      last = at(event);
      this.onDraw(last.index, last.value, last.index, last.value);
    });
    this.picture.addEventListener("pointermove", (event) => last && follow(event));
    for (const name of ["pointerup", "pointercancel", "lostpointercapture"]) this.picture.addEventListener(name, () => (last = null));
  }
}
