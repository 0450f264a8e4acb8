// One plot of a trace: uPlot draws the lines once; the cursors over them only move.

/*! uPlot, which draws the lines:

The MIT License (MIT)

Copyright (c) 2022 Leon Sorokin

Permission is hereby granted, free of charge, to any person obtaining a copy
of this software and associated documentation files (the "Software"), to deal
in the Software without restriction, including without limitation the rights
to use, copy, modify, merge, publish, distribute, sublicense, and/or sell
copies of the Software, and to permit persons to whom the Software is
furnished to do so, subject to the following conditions:

The above copyright notice and this permission notice shall be included in
all copies or substantial portions of the Software.

THE SOFTWARE IS PROVIDED "AS IS", WITHOUT WARRANTY OF ANY KIND, EXPRESS OR
IMPLIED, INCLUDING BUT NOT LIMITED TO THE WARRANTIES OF MERCHANTABILITY,
FITNESS FOR A PARTICULAR PURPOSE AND NONINFRINGEMENT. IN NO EVENT SHALL THE
AUTHORS OR COPYRIGHT HOLDERS BE LIABLE FOR ANY CLAIM, DAMAGES OR OTHER
LIABILITY, WHETHER IN AN ACTION OF CONTRACT, TORT OR OTHERWISE, ARISING FROM,
OUT OF OR IN CONNECTION WITH THE SOFTWARE OR THE USE OR OTHER DEALINGS IN
THE SOFTWARE.
*/

import uPlot from "uplot";

import { ticks } from "./bars.js";
import { make } from "./dom.js";
import { followDrag } from "./drag.js";
import { stepped } from "./figures.js";
import { family } from "./trace_lines.js";
import { labelPlaces } from "./trace_labels.js";

const TALL_PX = 210;
const AXIS_PX = 27;
const TOP_PX = 10;
const PLACES = 160;
const LABEL_PX = 12;

export class TracePlot {
  /** @param {object} listen { brushes(), onTime(timeS), onHover(timeS|null), onStretch(oneS, otherS), onWhole() } */
  constructor(host, listen) {
    this.host = host;
    this.listen = listen;
    this.times = [null, null];
    [this.now, this.pointed, this.stretch] = ["now", "pointed", "stretch"].map((name) => make("div", { class: `ww-trace-${name}`, hidden: true }));
    this.names = make("div", { class: "ww-trace-names", "aria-hidden": "true" });
  }

  /**
   * Draw.
   * @param {object} drawing { times, series: [{ values, look, line, earlier }], scale, levels, phases, startS, endS, left, right, width, colours }
   */
  draw(drawing) {
    this.drawing = drawing;
    const { times, series, width } = drawing;
    this.plot?.destroy();
    this.ready = false;
    this.plot = new uPlot({ ...this.options(), width, height: TALL_PX }, [times, ...series.map(({ values }) => values)], this.host);
    this.plot.over.append(this.names, this.stretch, this.pointed, this.now);
    this.listenTo(this.plot.over);
  }

  /** uPlot lays itself out a little after it is made. */
  laidOut(plot) {
    if (plot !== this.plot) return;
    this.ready = true;
    this.nameLines();
    this.place(...this.times);
  }

  options() {
    const { series, scale, levels, phases, startS, endS, left, right, width, colours } = this.drawing;
    const dots = uPlot.pxRatio;
    const lookOf = ({ earlier, look }) => (earlier ? colours.earlier : { ...look, colour: colours.lines[look.colour] });
    const axis = { stroke: colours.words, font: colours.font, ticks: { show: false } };
    const timeTicks = ticks(startS, endS, (right - left) / (endS - startS));
    return {
      legend: { show: false },
      cursor: { show: false },
      select: { show: false },
      padding: [TOP_PX, width - right, 0, 0],
      scales: { x: { time: false, range: [startS, endS] }, y: { range: [scale.low, scale.high] } },
      series: [
        {},
        ...series.map(lookOf).map(({ colour, width: thick, dash }) => ({
          stroke: colour,
          width: thick,
          dash: dash.map((length) => length * dots),
          points: { show: false },
        })),
      ],
      axes: [
        { ...axis, size: AXIS_PX, gap: 7, grid: { show: false }, splits: () => timeTicks.map(({ timeS }) => timeS), values: () => timeTicks.map(({ words }) => words) },
        {
          ...axis,
          size: left,
          gap: 8,
          grid: { stroke: colours.grid, width: 1 },
          splits: () => scale.ticks,
          values: () => scale.ticks.map((value) => stepped(value, scale.step)),
        },
      ],
      hooks: { ready: [(plot) => this.laidOut(plot)], drawClear: [(plot) => drawPhases(plot, phases, colours)], draw: [(plot) => drawLevels(plot, levels, colours)] },
    };
  }

  // ---- names at the lines

  nameLines() {
    const { series, levels, scale } = this.drawing;
    const room = { width: this.plot.over.clientWidth, height: this.plot.over.clientHeight, lineHeight: LABEL_PX + 3 };
    const named = series.filter(({ earlier, line }) => !earlier && line.style !== "read");
    const lines = named.map(({ line, values }) => ({
      label: line.label,
      family: family(line.name),
      width: this.wide(line.label),
      ys: this.heights(values),
    }));
    const places = labelPlaces(lines, room);
    const texts = places.map((place, index) => place && this.name(place, named[index].look));
    const across = levels.map(({ value, label }) => {
      const y = this.plot.valToPos(value, "y");
      const below = y < LABEL_PX + 4 || value === scale.high;
      return make("span", { class: "ww-trace-level", style: `right:4px;top:${(below ? y + 9 : y - 9).toFixed(1)}px` }, label);
    });
    this.names.replaceChildren(...texts.filter(Boolean), ...across);
  }

  name({ x, y, text }, look) {
    return make("span", { style: `left:${x.toFixed(1)}px;top:${y.toFixed(1)}px;color:var(--ww-trace-${look.colour + 1})` }, text);
  }

  wide(text) {
    const { ctx } = this.plot;
    ctx.save();
    ctx.font = this.drawing.colours.font;
    const found = ctx.measureText(text).width;
    ctx.restore();
    return found + 4;
  }

  /** Heights of a column at evenly spaced places across. */
  heights(values) {
    const { times, startS, endS } = this.drawing;
    let at = 0;
    return Array.from({ length: PLACES + 1 }, (_none, index) => {
      const timeS = startS + ((endS - startS) * index) / PLACES;
      while (at + 1 < times.length && times[at + 1] <= timeS) at += 1;
      const [before, after] = [values[at], values[Math.min(at + 1, times.length - 1)]];
      if (before === null || after === null) return null;
      const width = (times[at + 1] ?? times[at]) - times[at];
      return this.plot.valToPos(before + (width > 0 ? (timeS - times[at]) / width : 0) * (after - before), "y");
    });
  }

  // ---- cursors

  /** Put the cursor of the panel's time, and where a time is pointed at the fine one of that. */
  place(timeS, pointedS) {
    this.times = [timeS, pointedS];
    if (!this.ready) return;
    this.put(this.now, timeS);
    this.put(this.pointed, pointedS);
  }

  put(line, timeS) {
    const { startS, endS } = this.drawing;
    const outside = timeS === null || timeS < startS || timeS > endS;
    if (line.hidden !== outside) line.hidden = outside;
    if (outside) return;
    const moved = `translateX(${this.plot.valToPos(timeS, "x").toFixed(1)}px)`;
    if (line.style.transform !== moved) line.style.transform = moved;
  }

  timeAt(event) {
    const { startS, endS } = this.drawing;
    const box = this.plot.over.getBoundingClientRect();
    const share = Math.min(Math.max((event.clientX - box.left) / box.width, 0), 1);
    return startS + share * (endS - startS);
  }

  /** A drag moves the time; with Shift held down, or where the reader has asked to choose by dragging, it marks a stretch. */
  listenTo(over) {
    const { brushes, onTime, onHover, onStretch, onWhole } = this.listen;
    let fromS = null;
    const stop = () => {
      [fromS, this.stretch.hidden] = [null, true];
      document.removeEventListener("keydown", escape);
    };
    const escape = (event) => event.key === "Escape" && stop();
    let marks = false;
    followDrag(over, {
      begin: (event) => {
        marks = event.shiftKey || brushes();
        if (marks) document.addEventListener("keydown", escape);
        fromS = marks ? this.timeAt(event) : this.times[0];
      },
      take: (event) => {
        if (!marks) onTime(this.timeAt(event));
        else if (fromS !== null) this.showStretch(fromS, this.timeAt(event));
      },
      end: (event) => {
        const began = fromS;
        stop();
        if (marks && began !== null) onStretch(began, this.timeAt(event));
      },
      leave: () => {
        if (!marks) onTime(fromS);
        stop();
      },
    });
    over.addEventListener("pointermove", (event) => event.pointerType === "mouse" && onHover(this.timeAt(event)));
    over.addEventListener("pointerleave", () => onHover(null));
    over.addEventListener("dblclick", onWhole);
  }

  showStretch(oneS, otherS) {
    const [left, right] = [oneS, otherS].map((timeS) => this.plot.valToPos(timeS, "x")).sort((a, b) => a - b);
    this.stretch.hidden = false;
    this.stretch.style.left = `${left.toFixed(1)}px`;
    this.stretch.style.width = `${(right - left).toFixed(1)}px`;
  }
}

/** Where one phase of the flight passes into the next. */
function drawPhases(plot, phases, colours) {
  const { ctx, bbox } = plot;
  ctx.save();
  ctx.strokeStyle = colours.phase;
  ctx.lineWidth = uPlot.pxRatio;
  for (const timeS of phases) {
    const x = Math.round(plot.valToPos(timeS, "x", true)) + 0.5;
    ctx.beginPath();
    ctx.moveTo(x, bbox.top);
    ctx.lineTo(x, bbox.top + bbox.height);
    ctx.stroke();
  }
  ctx.restore();
}

/** Values that mean something by themselves, such as a limit. */
function drawLevels(plot, levels, colours) {
  const { ctx, bbox } = plot;
  ctx.save();
  ctx.strokeStyle = colours.level;
  ctx.lineWidth = uPlot.pxRatio;
  ctx.setLineDash([1, 3].map((length) => length * uPlot.pxRatio));
  for (const { value } of levels) {
    const y = Math.round(plot.valToPos(value, "y", true)) + 0.5;
    ctx.beginPath();
    ctx.moveTo(bbox.left, y);
    ctx.lineTo(bbox.left + bbox.width, y);
    ctx.stroke();
  }
  ctx.restore();
}
