// Worksheets of the page: they ask the panel's simulation, and show what it answers. No fuel is reckoned here.

import { setText } from "./dom.js";
import { chosenForm, chosenVolumes } from "./numbers.js";
import { clockText } from "./worksheet_text.js";
import { paintAnswer } from "./worksheet_answer.js";
import { WorksheetFields } from "./worksheet_fields.js";
import { WorksheetTools } from "./worksheet_tools.js";

const PAUSE_MS = 250;
const PAGES = "The figures are those of this page's flight.";

/** A piece of the panel: gives every worksheet of the page the panel's units and its simulation. */
export class Worksheets {
  constructor(panel) {
    this.panel = panel;
    const found = [...document.querySelectorAll(".ww-worksheet:not([data-ready])")];
    this.sheets = found.map((section) => new Worksheet(section, panel));
    if (!found.length) return;
    const hear = () => this.sheets.forEach((sheet) => sheet.open(panel.hasAttribute("data-live")));
    new MutationObserver(hear).observe(panel, { attributes: true, attributeFilter: ["data-live"] });
    hear();
  }

  update({ units, timeS }) {
    const writing = `${units} ${chosenForm()} ${chosenVolumes()}`;
    for (const sheet of this.sheets) {
      sheet.shownS = timeS;
      if (sheet.writing !== writing) sheet.setUnits(units, writing);
    }
  }
}

export class Worksheet {
  constructor(section, panel) {
    section.dataset.ready = "";
    this.section = section;
    this.panel = panel;
    this.kind = section.dataset.wwKind;
    this.facts = JSON.parse(section.querySelector(".ww-ws-facts").textContent);
    this.state = section.querySelector(".ww-ws-state");
    this.place = section.querySelector(".ww-ws-answer");
    this.units = "kg";
    this.source = this.pages();
    this.waiting = null;
    this.answered = this.facts.answer;
    this.fields = new WorksheetFields(section, this.facts.fields, () => this.later());
    this.tools = new WorksheetTools(this);
    section.querySelector(".ww-ws-of").after(this.tools.row);
    this.date = localDate();
    setText(section.querySelector(".ww-ws-date"), this.date);
  }

  /** The page's own flight, at the time that the page names. */
  pages() {
    return { request: { script: this.facts.flight.script }, edits: [], timeS: Number(this.section.dataset.wwTime), words: PAGES };
  }

  open(live) {
    this.live = live;
    this.fields.open(live);
    this.tools.open(live);
    if (live && (this.missed || Object.keys(this.fields.given()).length)) this.ask();
    else this.sayState();
  }

  setUnits(units, writing) {
    [this.units, this.writing] = [units, writing];
    this.fields.setUnits(units);
    if (this.place.dataset.stale === undefined) this.paint();
  }

  later() {
    window.clearTimeout(this.waiting);
    this.waiting = window.setTimeout(() => this.ask(), PAUSE_MS);
    this.section.setAttribute("aria-busy", "true");
  }

  /** Ask for the whole sheet. One question is out at a time; what was changed meanwhile is asked afterwards. */
  async ask() {
    window.clearTimeout(this.waiting);
    this.waiting = null;
    this.missed = !this.live;
    if (!this.live) {
      this.section.removeAttribute("aria-busy");
      return;
    }
    if (this.out) {
      this.again = true;
      return;
    }
    this.out = true;
    this.section.setAttribute("aria-busy", "true");
    const { request, edits, timeS } = this.source;
    const asked = await this.panel.door.ask({
      ask: "worksheet", aircraft: this.panel.aircraftName, ...request, edits, kind: this.kind, time_s: timeS,
      form: chosenForm(), units: this.units, volumes: chosenVolumes(), given: this.fields.given(),
    });
    this.out = false;
    if (this.again) {
      this.again = false;
      this.ask();
      return;
    }
    // Something was typed since: that is asked in a moment, and an older answer would write over it.
    if (this.waiting !== null) return;
    this.section.removeAttribute("aria-busy");
    if (asked.problem) this.tools.refuse(asked.problem);
    else this.hear(asked.answer.worksheet);
  }

  hear(answered) {
    const wrong = this.fields.show(answered.fields);
    this.tools.settled(wrong);
    if (wrong) {
      setText(this.state, `Not worked out: ${wrong === 1 ? "one field says" : `${wrong} fields say`} what is wrong beside ${wrong === 1 ? "it" : "them"}. The results are from before.`);
      this.place.dataset.stale = "";
      return;
    }
    this.answered = answered;
    this.paint();
  }

  paint() {
    delete this.place.dataset.stale;
    paintAnswer(this.place, this.answered, this.units);
    this.sayState();
  }

  /** Whose figures these are. A sheet that is not worked out says so itself. */
  sayState() {
    if (this.place.dataset.stale !== undefined) return;
    const changed = Object.keys(this.fields.given()).length;
    const own = changed === 0 ? "" : ` ${changed === 1 ? "One figure is" : `${changed} figures are`} your own.`;
    const rest = this.live ? "" : " Fields rest until the live simulation is ready.";
    setText(this.state, `${this.source.words}${own}${rest}`);
  }

  /** The flight as the panel shows it: its changes, its troubles, its time. */
  fillFromPanel() {
    const { panel } = this;
    const timeS = this.shownS ?? panel.timeS;
    const count = panel.edits.length;
    const changes = count === 0 ? "" : `, with ${count === 1 ? "one change" : `${count} changes`} of yours`;
    this.source = { request: panel.source.request(), edits: panel.edits, timeS, words: `Filled from the panel at ${clockText(timeS)}${changes}.` };
    this.fields.clear();
    this.tools.say("Filled from the panel.");
    this.ask();
  }

  back() {
    this.source = this.pages();
    this.fields.clear();
    this.tools.say("Back to the page's flight.");
    this.ask();
  }

  /** The panel's moment, as its gauges show it, into the first empty row. */
  async addRow() {
    const rows = [...new Set([...this.fields.own.values()].map(({ row }) => row).filter((row) => row !== null))];
    const row = rows.find((own) => this.fields.own.get(`time_${own}`).entry.value.trim() === "");
    if (row === undefined) {
      this.tools.refuse(`All ${rows.length} rows are filled. Empty one first.`);
      return;
    }
    const { panel } = this;
    const asked = await panel.door.ask({
      ask: "worksheet", aircraft: panel.aircraftName, ...panel.source.request(), edits: panel.edits, kind: this.kind,
      time_s: panel.timeS, form: chosenForm(), units: this.units, volumes: chosenVolumes(), given: {},
    });
    if (asked.problem) {
      this.tools.refuse(asked.problem);
      return;
    }
    // The panel's moment is the last row that the flight fills at that time.
    const values = new Map(asked.answer.worksheet.fields.map(({ name, value }) => [name, value]));
    const last = rows.filter((own) => values.get(`time_${own}`) !== null).pop();
    if (last === undefined) {
      this.tools.refuse("The panel is on the ground, or in the first half hour of the flight: no check is made there.");
      return;
    }
    const columns = ["time", "gauged", "used", "plan", "left"];
    this.fields.put(Object.fromEntries(columns.map((column) => [`${column}_${row}`, values.get(`${column}_${last}`)])));
    this.tools.say(`Check ${row} is the panel's moment.`);
    this.ask();
  }

  /** The whole sheet, for a file. */
  whole() {
    const { aircraft, script } = this.facts.flight;
    return {
      kind: this.kind, title: this.facts.title, date: this.date, caution: this.facts.caution,
      flight: this.section.querySelector(".ww-ws-flight").textContent,
      script: { aircraft, ...this.source.request }, edits: this.source.edits,
      fields: this.fields.list(), results: this.answered.results, findings: this.answered.findings,
    };
  }
}

/** Today as 2026-11-28, in the reader's own time. */
function localDate() {
  const now = new Date();
  const two = (value) => String(value).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
