// Sketch: draw how a quantity will go, by hand or by numbers; then the flight's own line is drawn over it.

import { exactClock, clock, span } from "./clock.js";
import { make, setProblem, setText } from "./dom.js";
import { stepped, unitWord } from "./figures.js";
import { readNumber } from "./numbers.js";
import { Question } from "./question.js";
import { onUnits, perUnit, unitsNow } from "./question_units.js";
import { drawn, drawnTo, emptyLine, filled, INTERVALS, judgeSketch, nearestBend, typed, valueAt } from "./sketch.js";
import { SketchPlot } from "./sketch_plot.js";
import { say, sayState, sentenceCase } from "./words.js";

export class Sketch extends Question {
  constructor(field) {
    super(field);
    this.wish = JSON.parse(field.dataset.wwSketch);
    const { from_s: fromS, to_s: toS, line, within, slack_s: slackS, least, most } = this.wish;
    this.flight = { points: line, fromS, toS, within, slackS };
    this.every = INTERVALS / this.wish.fields;
    this.line = emptyLine(line[0][1]);
    const step = () => perUnit(this.wish.unit);
    this.plot = new SketchPlot({ fromS, toS, least, most, step, say: (value) => this.figure(value) }, (...stroke) => this.draw(stroke));
    this.lay();
    onUnits(() => this.sayUnits());
    this.sayUnits();
    this.restore();
  }

  // ---- the field

  lay() {
    this.unitWords = make("p", { class: "ww-sketch-units" });
    this.cells = Array.from({ length: this.wish.fields }, (_none, at) => this.cell((at + 1) * this.every));
    this.problem = make("p", { class: "ww-problem", role: "alert", hidden: true });
    this.anew = make("button", { type: "button", class: "ww-sketch-anew" }, "Start again");
    this.anew.addEventListener("click", () => this.take(emptyLine(this.line[0])));
    this.numbersTitle = make("p", { class: "ww-sketch-title" });
    this.place = make(
      "div", { class: "ww-sketch-place" }, this.unitWords, this.plot.box, this.numbersTitle,
      make("div", { class: "ww-sketch-numbers" }, ...this.cells.map(({ cell }) => cell)), this.problem, this.anew,
    );
    this.field.querySelector(".ww-sketch-slot").replaceWith(this.place);
    this.furthest = make("p", { class: "ww-sketch-furthest" });
    this.answer.querySelector("summary").after(this.furthest);
  }

  cell(index) {
    const { from_s: fromS, to_s: toS } = this.wish;
    const timeS = fromS + ((toS - fromS) * index) / INTERVALS;
    const input = make("input", { type: "text", inputmode: "decimal", autocomplete: "off", class: "ww-sketch-number" });
    const theirs = make("span", { class: "ww-sketch-theirs" });
    const cell = make("label", {}, make("span", { class: "ww-sketch-at" }, clock(timeS)), input, theirs);
    input.addEventListener("change", () => this.type(index, input));
    return { index, timeS, input, theirs, cell };
  }

  // ---- figures in the reader's units

  get step() {
    const { least, most, unit } = this.wish;
    const range = (most - least) / perUnit(unit);
    return 10 ** Math.floor(Math.log10(range / 400));
  }

  figure(value) {
    return stepped(value / perUnit(this.wish.unit), this.step);
  }

  withUnit(value) {
    return `${this.figure(value)}\u00a0${unitWord(this.wish.unit, unitsNow())}`.trimEnd();
  }

  sayUnits() {
    const { label, unit, within, slack_s: slackS, least, most, line } = this.wish;
    const word = unitWord(unit, unitsNow());
    setText(this.unitWords, `${label}${word ? `, ${word}` : ""}. It begins at ${this.withUnit(line[0][1])}. Draw its line with the mouse or a finger to the right edge.`);
    setText(this.numbersTitle, `Or by numbers, from ${this.figure(least)} to ${this.withUnit(most)}`);
    this.tolerance = `A sketch is right when it stays within ${this.withUnit(within)} of the flight, give or take ${span(slackS)}.`;
    if (this.judged) this.explain(this.judged);
    this.paint();
  }

  // ---- drawing

  draw([from, fromValue, to, toValue]) {
    this.take(drawn(this.line, from, fromValue, to, toValue));
  }

  type(index, input) {
    const { least, most, unit } = this.wish;
    const found = readNumber(input.value);
    const value = found.problem ? null : found.value * perUnit(unit);
    // What is typed is rounded as it is shown: half a step beyond the edge is the edge.
    const slack = this.step * perUnit(unit) * 0.51;
    if (value === null || value < least - slack || value > most + slack) {
      const what = input.value.trim() === "" ? "Nothing stands here." : (found.problem ?? `${input.value.trim().slice(0, 20)} is not on the sheet.`);
      setProblem(this.problem, `${what} The sheet goes from ${this.figure(least)} to ${this.withUnit(most)}.`);
      input.setAttribute("aria-invalid", "true");
      return;
    }
    this.take(typed(this.line, index, Math.min(Math.max(value, least), most), this.every));
  }

  take(line) {
    this.line = line;
    setProblem(this.problem, null);
    this.forget();
    this.paint();
  }

  forget() {
    super.forget();
    this.judged = null;
  }

  paint() {
    const values = filled(this.line);
    for (const { index, timeS, input, theirs } of this.cells) {
      const text = values[index] === null ? "" : this.figure(values[index]);
      if (input.value !== text) input.value = text;
      input.removeAttribute("aria-invalid");
      setText(theirs, this.judged ? `flight ${this.figure(valueAt(this.flight.points, timeS))}` : "");
    }
    const worst = this.judged && !this.judged.right ? this.judged.worst : null;
    this.plot.show({ line: this.line, flight: this.judged ? this.flight.points : null, worst });
  }

  // ---- judging

  given() {
    const last = drawnTo(this.line);
    if (last < INTERVALS) {
      const { from_s: fromS, to_s: toS } = this.wish;
      const end = clock(toS);
      const stops = last === 0 ? "Nothing is drawn yet." : `Your line stops at ${clock(fromS + ((toS - fromS) * last) / INTERVALS)}.`;
      return { problem: `${stops} Draw it to ${end}.` };
    }
    const line = filled(this.line);
    const judged = judgeSketch(line, this.flight);
    const words = judged.right ? "Your line stays near the flight's." : "The flight's own line is drawn over yours.";
    return { answer: line.map((value) => String(Number(value.toPrecision(6)))).join(" "), ...judged, words };
  }

  show(answer) {
    const line = answer.split(" ").map(Number);
    const { least, most } = this.wish;
    if (line.length !== INTERVALS + 1 || !line.every((value) => value >= least && value <= most)) return false;
    this.line = [this.line[0], ...line.slice(1)];
    return true;
  }

  reveal(given) {
    this.judged = given;
    this.explain(given);
    this.paint();
  }

  /** Where the two lines are farthest apart, and what bends the flight's line nearest there. */
  explain({ right, worst }) {
    const said = [this.tolerance];
    if (worst.apart > 0) {
      said.push(` Farthest apart at ${clock(worst.timeS)}: yours ${this.withUnit(worst.yours)}, the flight ${this.withUnit(worst.theirs)}.`);
    }
    const bend = right ? null : nearestBend(this.wish.bends, worst.timeS);
    if (bend) {
      const reason = sentenceCase(say(bend.sentence, unitsNow()));
      said.push(` The bend nearest there, at ${exactClock(bend.time_s)}: ${bend.label}, ${sayState(bend.to, unitsNow())}. ${reason} `, seeLink(bend));
    }
    this.furthest.replaceChildren(...said);
  }
}

function seeLink({ time_s: timeS, part, href, edits }) {
  const where = { "data-ww-time": timeS, "data-ww-part": part, ...(edits ? { "data-ww-edit": edits } : {}) };
  return make("a", { class: "ww-see", href, ...where }, "See that moment");
}
