// The flight line: the feed chart as a slider of time. Drag it, click it, or move it with the keyboard.

import { barPath, cut, heldGaps, number, ticks } from "./bars.js";
import { clock } from "./clock.js";
import { followDrag } from "./drag.js";
import { isSetting } from "./edits.js";
import { makeSvg, setAttribute, setText } from "./dom.js";
import { where } from "./figures.js";

const STEP_S = 30;
const LEAP_S = 600;
const WIDE_ENOUGH = 90;

export class FlightLine {
  constructor(panel, ruleWords) {
    this.panel = panel;
    this.ruleWords = ruleWords;
    this.line = panel.querySelector(".ww-flightline");
    this.zoomed = false;
    this.span = null;
    this.laid = new Map();
    this.asSlider();
    this.listen();
  }

  asSlider() {
    const given = { role: "slider", tabindex: "0", "aria-label": "Time of the flight", "aria-valuemin": "0" };
    for (const [name, value] of Object.entries(given)) this.line.setAttribute(name, value);
    for (const picture of this.line.querySelectorAll("svg")) {
      picture.removeAttribute("role");
      picture.removeAttribute("aria-label");
      picture.setAttribute("aria-hidden", "true");
      // As the build laid it out: the whole recorded flight.
      this.laid.set(picture, { key: this.layoutKey(this.domain()), ...geometry(picture), ...this.domain() });
    }
  }

  listen() {
    const { line, panel } = this;
    let fromS = panel.timeS;
    followDrag(line, {
      begin: (event) => {
        if (this.rowNamed(event)) return false;
        fromS = panel.timeS;
        return true;
      },
      take: (event) => {
        panel.pause();
        panel.goTo(this.timeAt(event), { scrubbing: true });
      },
      leave: () => panel.goTo(fromS, { scrubbing: true }),
    });
    // The name of a row asks about its part.
    line.addEventListener("click", (event) => {
      const row = this.rowNamed(event);
      if (row) panel.choose(row);
    });
    line.addEventListener("keydown", (event) => {
      const goal = this.keyGoal(event);
      if (goal === null) return;
      event.preventDefault();
      panel.pause();
      panel.goTo(goal, { scrubbing: true });
    });
  }

  keyGoal({ key, shiftKey, altKey, ctrlKey, metaKey }) {
    if (altKey || ctrlKey || metaKey) return null;
    const { timeS, flight } = this.panel;
    const step = shiftKey ? LEAP_S : STEP_S;
    const moves = { ArrowRight: step, ArrowUp: step, ArrowLeft: -step, ArrowDown: -step, PageUp: LEAP_S, PageDown: -LEAP_S };
    if (key in moves) return timeS + moves[key];
    if (key === "Home") return 0;
    return key === "End" ? flight.durationS : null;
  }

  zoom(zoomed) {
    this.zoomed = zoomed;
    this.span = null;
    this.panel.refresh();
  }

  /** Show a stretch of the flight, { startS, endS }; null shows the whole. */
  zoomTo(span) {
    this.zoom(false);
    this.span = span;
  }

  /** The stretch of time that is on show. */
  domain() {
    const { flight, timeS } = this.panel;
    const { startS, endS } = this.span ?? {};
    // An edit may end the flight before the stretch that is on show.
    if (startS < flight.durationS) return { startS, endS: Math.min(endS, flight.durationS) };
    if (!this.zoomed) return { startS: 0, endS: flight.durationS };
    const phase = flight.phaseAt(timeS);
    return { startS: phase.start_s, endS: flight.phaseEnd(phase) };
  }

  picture() {
    return [...this.line.querySelectorAll("svg")].find((own) => own.parentElement.offsetParent !== null) ?? null;
  }

  /** The time under a pointer. */
  timeAt(event) {
    const picture = this.picture();
    const { left, right, startS, endS } = this.laid.get(picture);
    const share = (this.unitsAt(picture, event) - left) / (right - left);
    return startS + Math.min(Math.max(share, 0), 1) * (endS - startS);
  }

  /** The part whose row is named where the pointer is, left of the flight; null elsewhere. */
  rowNamed(event) {
    const picture = this.picture();
    const name = event.target.closest("[data-row]")?.dataset.row;
    const outside = this.unitsAt(picture, event) < this.laid.get(picture).left - 8;
    return outside && this.panel.flight.parts.has(name) ? name : null;
  }

  unitsAt(picture, event) {
    const box = picture.getBoundingClientRect();
    return ((event.clientX - box.left) / box.width) * picture.viewBox.baseVal.width;
  }

  /** What is read of the page's layout, before anything is written to it. */
  readLayout() {
    this.shown = this.picture();
  }

  update({ moment, timeS, flight, early }) {
    const words = `${clock(timeS)} · ${flight.phaseAt(timeS).label.toLowerCase()}, ${where(moment.quantity("flight.altitude_ft"))}`;
    setAttribute(this.line, "aria-valuemax", Math.floor(this.panel.flight.durationS));
    setAttribute(this.line, "aria-valuenow", Math.floor(timeS));
    setAttribute(this.line, "aria-valuetext", words);
    const picture = this.shown;
    if (!picture) return;
    const domain = this.domain();
    const key = this.layoutKey(domain);
    const laid = this.laid.get(picture);
    if (laid.key !== key) {
      Object.assign(laid, domain, { key });
      this.lay(picture, laid);
    }
    this.placeCursor(picture, laid, timeS, words);
    this.markPhase(picture, timeS);
    this.cover(picture, laid, early);
  }

  /** From where the flights part the bars are those of the flight before, until the rest of the new one is flown. */
  cover(picture, laid, early) {
    this.covered ??= new Map();
    const own = this.covered.get(picture);
    const covers = Boolean(early) && early.partingS < laid.endS;
    if (own) setAttribute(own, "display", covers ? null : "none");
    if (!covers) return;
    const cover = own ?? makeSvg("g", { class: "unflown" }, makeSvg("rect"), makeSvg("text", { "text-anchor": "middle" }));
    if (!own) {
      picture.insertBefore(cover, picture.querySelector(".cursor, .cursor-line").closest("svg > *"));
      this.covered.set(picture, cover);
    }
    const [rect, text] = cover.children;
    const left = across(laid)(early.partingS);
    const [top, floor] = [Number(picture.dataset.top), Number(picture.dataset.floor)];
    const place = { x: number(left), width: number(Math.max(laid.right - left, 0)), y: top, height: floor - top };
    for (const [name, value] of Object.entries(place)) setAttribute(rect, name, value);
    setAttribute(text, "x", number((left + laid.right) / 2));
    setAttribute(text, "y", number((top + floor) / 2));
    setAttribute(text, "font-size", picture.querySelector(".row-now").getAttribute("font-size"));
    setText(text, laid.right - left > WIDE_ENOUGH ? "being flown" : "");
  }

  layoutKey({ startS, endS }) {
    const { recordId, earlierId } = this.panel;
    return [startS, endS, recordId, earlierId].join(" ");
  }

  placeCursor(picture, laid, timeS, words) {
    const x = across(laid)(timeS);
    const line = picture.querySelector(".cursor-line");
    setAttribute(line, "x1", number(x));
    setAttribute(line, "x2", number(x));
    setAttribute(picture.querySelector(".cursor-head"), "cx", number(x));
    const chip = picture.querySelector(".chip");
    const width = Number(chip.getAttribute("width"));
    const left = Math.min(Math.max(x - width / 2, 4), picture.viewBox.baseVal.width - 4 - width);
    setAttribute(chip, "x", number(left));
    const text = picture.querySelector(".chip-words");
    setAttribute(text, "x", number(left + width / 2));
    setText(text, words);
  }

  markPhase(picture, timeS) {
    const now = this.panel.flight.phaseAt(timeS).name;
    for (const block of picture.querySelectorAll(".phase")) {
      setAttribute(block, "data-now", block.dataset.phase === now ? "" : null);
    }
  }

  // ---- laying out again: after an edit, or for another stretch of time

  lay(picture, laid) {
    const { flight, earlier } = this.panel;
    this.layPhases(picture, laid);
    this.layTicks(picture, laid);
    for (const row of picture.querySelectorAll("[data-row]")) {
      setAttribute(row.querySelector(".bar"), "d", this.bars(row, flight, laid));
      setAttribute(row.querySelector(".earlier"), "d", earlier ? this.bars(row, earlier, laid) : "");
      this.layGaps(row, flight, laid);
    }
    this.layMarks(picture, laid);
  }

  bars(row, flight, laid) {
    const { timeS, values } = cut(flight.timeS, flight.column(row.dataset.rowFlow), laid.startS, laid.endS);
    return barPath(timeS, values, across(laid), Number(row.dataset.middle), Number(row.dataset.pxPerKgH));
  }

  layPhases(picture, laid) {
    const place = across(laid);
    for (const block of picture.querySelectorAll(".phase")) {
      const [start, end] = [Number(block.dataset.start), Number(block.dataset.end)];
      const [left, right] = [place(Math.max(start, laid.startS)), place(Math.min(end, laid.endS))];
      const out = end <= laid.startS || start >= laid.endS;
      setAttribute(block, "display", out ? "none" : null);
      if (out) continue;
      const [rect, text] = [block.querySelector("rect"), block.querySelector("text")];
      setAttribute(rect, "x", number(left));
      setAttribute(rect, "width", number(Math.max(right - left - 1.5, 0.5)));
      setAttribute(text, "x", number((left + right) / 2));
      setAttribute(text, "display", Number(text.dataset.wide) > right - left ? "none" : null);
    }
  }

  layTicks(picture, laid) {
    const group = picture.querySelector(".ticks");
    const [line, text] = [group.querySelector("line"), group.querySelector("text")].map((own) => own.cloneNode(true));
    const place = across(laid);
    const pxPerS = (laid.right - laid.left) / (laid.endS - laid.startS);
    group.replaceChildren();
    for (const { timeS, words } of ticks(laid.startS, laid.endS, pxPerS)) {
      const x = number(place(timeS));
      const [ownLine, ownText] = [line.cloneNode(true), text.cloneNode(true)];
      ownLine.setAttribute("x1", x);
      ownLine.setAttribute("x2", x);
      ownText.setAttribute("x", x);
      ownText.textContent = words;
      group.append(ownLine, ownText);
    }
  }

  layGaps(row, flight, laid) {
    const group = row.querySelector(".gaps");
    group.replaceChildren();
    if (!row.dataset.pumps) return;
    const place = across(laid);
    const middle = Number(row.dataset.middle);
    for (const gap of heldGaps(flight, row.dataset.pumps.split(" "), this.ruleWords)) {
      const [start, end] = [Math.max(gap.start, laid.startS), Math.min(gap.end, laid.endS)];
      if (end <= start) continue;
      const [left, right] = [place(start), place(end)];
      const own = makeSvg("g", { class: "gap" }, makeSvg("title", {}, gap.why));
      own.append(makeSvg("rect", { x: number(left), y: middle - 8, width: number(Math.max(right - left, 1)), height: 16, rx: 3 }));
      group.append(own);
      const size = Number(row.querySelector(".row-now").getAttribute("font-size"));
      const text = makeSvg("text", { x: number((left + right) / 2), y: number(middle + size * 0.34), "text-anchor": "middle", "font-size": size });
      own.append(text);
      for (const words of [gap.why, "held", ""]) {
        text.textContent = words;
        if (words === "" || text.getComputedTextLength() + 8 <= right - left) break;
      }
    }
  }

  /** A line for each of the reader's changes, up from its handle in the lane. */
  layMarks(picture, laid) {
    const group = picture.querySelector(".marks");
    const [floor, top] = [Number(picture.dataset.floor), Number(picture.dataset.top) + 24];
    group.replaceChildren();
    this.panel.edits.forEach((edit, index) => {
      if (edit.time_s < laid.startS || edit.time_s > laid.endS) return;
      const x = number(across(laid)(edit.time_s));
      const look = isSetting(this.panel.flight.parts.get(edit.part), edit.state) ? "mark" : "mark ww-trouble-edit";
      group.append(makeSvg("path", { class: look, "data-mark": index, d: `M${x},${top}V${floor}M${x},${floor}l-4,7h8Z` }));
    });
  }

  /** Move the line of a change while its handle is dragged. */
  moveMark(index, timeS) {
    const picture = this.picture();
    const mark = picture?.querySelector(`[data-mark="${index}"]`);
    if (!mark) return;
    const place = across(this.laid.get(picture));
    const byX = place(timeS) - place(this.panel.edits[index]?.time_s ?? timeS);
    setAttribute(mark, "transform", Math.abs(byX) < 0.05 ? null : `translate(${number(byX)})`);
  }
}

function geometry(picture) {
  return { left: Number(picture.dataset.left), right: Number(picture.dataset.right) };
}

function across({ left, right, startS, endS }) {
  const scale = (right - left) / (endS - startS);
  return (timeS) => left + (Math.min(Math.max(timeS, startS), endS) - startS) * scale;
}
