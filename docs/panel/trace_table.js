// The table behind a trace: its values row by row, at steps that the reader chooses, written only while it is open.

import { exactClock } from "./clock.js";
import { make } from "./dom.js";
import { unitWord } from "./figures.js";
import { bareValue, MOST_ROWS, ROW_STEPS_S, rowTimes, stepWords, usualStep } from "./trace_words.js";

const KEYFRAMES = "keyframes";

export class TraceTable {
  constructor(title) {
    this.title = title;
    this.chosen = null;
    this.steps = make("select");
    this.steps.addEventListener("change", () => {
      this.chosen = this.steps.value;
      this.write();
    });
    this.room = make("div", { class: "ww-trace-table", tabindex: "0", role: "group", "aria-label": `Table: ${title}` });
    this.root = make(
      "details",
      { class: "ww-trace-more" },
      make("summary", {}, "Table"),
      make("p", {}, make("label", {}, "Rows ", this.steps)),
      this.room,
    );
    this.root.addEventListener("toggle", () => this.write());
  }

  fill(shown) {
    this.shown = shown;
    this.write();
  }

  write() {
    if (!this.root.open || !this.shown) return;
    const { flightLines, lines, domain, unit, units } = this.shown;
    const { startS, endS } = domain;
    const stepS = this.offerSteps(flightLines.flight, startS, endS);
    const times = rowTimes(flightLines.flight, startS, endS, stepS);
    const heads = ["Time", ...lines.map(({ label }) => `${label}, ${unitWord(unit, units)}`)];
    const rows = times.map((timeS) =>
      make(
        "tr",
        {},
        make("th", { scope: "row" }, exactClock(timeS)),
        ...lines.map((line) => make("td", { class: "ww-num" }, bareValue(flightLines.at(line, timeS), unit, units))),
      ),
    );
    const table = make(
      "table",
      { class: "ww-table" },
      make("caption", { class: "ww-hidden" }, `${this.title}, a row ${stepWords(stepS)}`),
      make("thead", {}, make("tr", {}, ...heads.map((head) => make("th", { scope: "col" }, head)))),
      make("tbody", {}, ...rows),
    );
    this.room.replaceChildren(table);
  }

  /** Offer the steps that make a table of a readable length. @returns {number|null} the one in use, s; null for keyframes */
  offerSteps(flight, startS, endS) {
    const steps = ROW_STEPS_S.filter((stepS) => rowTimes(flight, startS, endS, stepS).length <= MOST_ROWS);
    const offered = [...steps.map(String), ...(rowTimes(flight, startS, endS, null).length <= MOST_ROWS ? [KEYFRAMES] : [])];
    const usual = String(usualStep(startS, endS));
    const value = offered.includes(this.chosen) ? this.chosen : offered.includes(usual) ? usual : offered[0];
    const key = offered.join(" ");
    if (this.offered !== key) {
      this.offered = key;
      this.steps.replaceChildren(...offered.map((own) => make("option", { value: own }, stepWords(own === KEYFRAMES ? null : Number(own)))));
    }
    this.steps.value = value;
    return value === KEYFRAMES ? null : Number(value);
  }
}
