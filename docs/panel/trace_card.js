// One trace as a reader meets it: its title, the plot, a key with values, the words, the table and the file behind it.

import { exactClock } from "./clock.js";
import { make, makeSvg, setText } from "./dom.js";
import { unitWord } from "./figures.js";
import { resample, roundScale, timeAxis } from "./trace_lines.js";
import { looksOf } from "./trace_look.js";
import { TracePlot } from "./trace_plot.js";
import { TraceTable } from "./trace_table.js";
import { csv, factor, lineWords, valueWords } from "./trace_words.js";

const AMOUNTS = ["kg", "kg/h", "bar"];

export class TraceCard {
  constructor(trace, listen, fileName) {
    this.trace = trace;
    this.hidden = new Set();
    this.lines = [];
    this.title = make("span", { class: "ww-trace-title" });
    this.canvas = make("div", { class: "ww-trace-plot", role: "img" });
    this.key = make("ul", { class: "ww-trace-key" });
    this.resting = make("p", { class: "ww-trace-resting" });
    this.words = make("ul", { class: "ww-trace-words" });
    this.inWords = make("details", { class: "ww-trace-more" }, make("summary", {}, "In words"), this.words);
    this.table = new TraceTable(trace.title);
    const save = make("button", { type: "button", class: "ww-trace-save" }, "Save as CSV");
    save.addEventListener("click", () => saveText(csv(this.lines, this.shown.own), `${fileName()}-${slug(trace.title)}.csv`));
    this.inWords.addEventListener("toggle", () => this.writeWords());
    this.root = make(
      "figure",
      { class: "ww-trace" },
      make("figcaption", {}, this.title),
      this.canvas,
      this.key,
      this.resting,
      make("div", { class: "ww-trace-behind" }, this.inWords, this.table.root, save),
    );
    this.plot = new TracePlot(this.canvas, listen);
  }

  /** @param {object} shown { own, earlier: FlightLines, domain, units, onGauges, colours, room: { left, right, width } } */
  draw(shown) {
    this.shown = shown;
    const { own, earlier, onGauges } = shown;
    const told = this.trace.lines.filter((line) => !onGauges || line.told);
    const moves = (line) => line.style === "read" || !own.rests(line) || (earlier && !earlier.rests(line));
    const [lines, resting] = [told.filter(moves), told.filter((line) => !moves(line))];
    this.lines = lines;
    this.looks = looksOf(lines);
    this.root.hidden = told.length === 0;
    if (this.root.hidden) return;
    this.unit = unitWord(this.trace.unit, shown.units);
    setText(this.title, `${this.trace.title}, ${this.unit}`);
    this.canvas.hidden = this.lines.length === 0;
    setText(this.resting, restingWords(resting, this.lines.length === 0));
    this.resting.hidden = resting.length === 0;
    this.writeKey();
    if (!this.canvas.hidden) this.drawPlot();
    this.table.fill({ ...shown, flightLines: own, lines: this.lines, unit: this.trace.unit });
    this.writeWords();
  }

  drawPlot() {
    const { own, earlier, domain, units, colours, room } = this.shown;
    const { startS, endS } = domain;
    const flights = earlier ? [own.flight, earlier.flight] : [own.flight];
    const times = timeAxis(flights, startS, endS);
    const times1 = factor(this.trace.unit, units);
    const values = (lines, line) =>
      resample(lines.flight.timeS, lines.column(line), times).map((value) => (value === null ? null : value * times1));
    const visible = this.lines.map((line, index) => ({ line, look: this.looks[index] })).filter(({ line }) => !this.hidden.has(line.name));
    const before = earlier ? visible.filter(({ line }) => line.style !== "read").map((each) => ({ ...each, values: values(earlier, each.line), earlier: true })) : [];
    const now = visible.map((each) => ({ ...each, values: values(own, each.line) }));
    // Fine lines lie over wide ones, and what an instrument reads over what is so.
    const over = ({ line, look }) => (line.style === "read" ? 2 : look.dash.length ? 0 : 1);
    const series = [...before, ...now.sort((a, b) => over(a) - over(b))];
    const levels = (this.trace.levels ?? []).map(({ value, label }) => ({ value: value * times1, label }));
    const scale = roundScale([...series.map((each) => each.values), levels.map(({ value }) => value)], { fromZero: AMOUNTS.includes(this.trace.unit) });
    const phases = own.flight.phases.map(({ start_s: timeS }) => timeS).filter((timeS) => timeS > startS && timeS < endS);
    this.canvas.setAttribute("aria-label", `${this.trace.title} over time, ${exactClock(startS)} to ${exactClock(endS)}. In words and as a table below.`);
    this.plot.draw({ times, series, scale, levels, phases, startS, endS, colours, ...room });
  }

  // ---- the key

  writeKey() {
    const id = this.lines.map(({ name }) => name).join(" ");
    if (this.keyId === id) return;
    this.keyId = id;
    this.values = this.lines.map(() => make("span", { class: "ww-trace-value" }));
    this.key.replaceChildren(
      ...this.lines.map((line, index) => {
        const words = [sample(this.looks[index]), make("span", {}, line.label)];
        if (this.lines.length === 1) return make("li", {}, make("span", { class: "ww-trace-name" }, ...words), this.values[index]);
        const tick = make("input", { type: "checkbox" });
        tick.checked = !this.hidden.has(line.name);
        tick.addEventListener("change", () => {
          if (tick.checked) this.hidden.delete(line.name);
          else this.hidden.add(line.name);
          this.drawPlot();
        });
        return make("li", {}, make("label", { class: "ww-trace-name" }, tick, ...words), this.values[index]);
      }),
    );
    this.texts = null;
  }

  /** Move the cursors, and write the values at the time that is pointed at, or else at the panel's. */
  place(timeS, pointedS) {
    if (this.root.hidden) return;
    this.plot.place(timeS, pointedS);
    const { own, earlier, units } = this.shown;
    const atS = pointedS ?? timeS;
    this.lines.forEach((line, index) => {
      const text = valueWords(own.at(line, atS), this.trace.unit, units);
      const before = earlier ? valueWords(earlier.at(line, atS), this.trace.unit, units) : text;
      setText(this.values[index], before === text ? text : `${text} (was ${before})`);
    });
  }

  // ---- in words

  writeWords() {
    if (!this.inWords.open || !this.shown) return;
    const { own, domain, units } = this.shown;
    const times = timeAxis([own.flight], domain.startS, domain.endS);
    const sentences = this.lines.map((line) =>
      lineWords(line.label, times, resample(own.flight.timeS, own.column(line), times), this.trace.unit, units),
    );
    this.words.replaceChildren(...sentences.map((sentence) => make("li", {}, sentence)));
  }
}

function restingWords(resting, all) {
  if (all) return "Nothing of this moves in this flight.";
  return `At rest in this flight: ${resting.map(({ label }) => label).join("; ")}.`;
}

function sample({ colour, dash, width }) {
  const line = makeSvg("line", { x1: 1, x2: 33, y1: 6, y2: 6, "stroke-width": width, "stroke-dasharray": dash.join(" ") });
  return makeSvg("svg", { class: `ww-trace-sample ww-trace-colour-${colour + 1}`, width: 34, height: 12, viewBox: "0 0 34 12", "aria-hidden": "true" }, line);
}

function slug(title) {
  return title.toLowerCase().replace(/[^a-z0-9]+/g, "-");
}

/** Hand a text to the reader as a file. */
function saveText(text, name) {
  const address = URL.createObjectURL(new Blob([text], { type: "text/csv;charset=utf-8" }));
  const link = make("a", { href: address, download: name });
  document.body.append(link);
  link.click();
  link.remove();
  URL.revokeObjectURL(address);
}
