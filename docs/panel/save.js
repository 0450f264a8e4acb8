// The menu "Save": pictures as SVG or PNG, the flight as JSON or CSV. Each file says what it is, and when.

import { shareRow } from "./class_view.js";
import { exactClock } from "./clock.js";
import { make, nextId, setText } from "./dom.js";
import { fileName, handOver } from "./download.js";
import { flightCsv } from "./save_csv.js";
import { savedPng, savedSvg } from "./save_svg.js";

export class Save {
  constructor(panel) {
    this.panel = panel;
    const item = (words, act) => {
      const button = make("button", { type: "button" }, words);
      button.addEventListener("click", () => this.run(act));
      return make("li", {}, button);
    };
    this.said = make("p", { class: "ww-saved", role: "status" });
    const list = make("ul", { class: "ww-save-list" },
      item("Plan as SVG", () => this.picture("plan", "svg")),
      item("Plan as PNG", () => this.picture("plan", "png")),
      item("Feed chart as SVG", () => this.picture("chart", "svg")),
      item("Feed chart as PNG", () => this.picture("chart", "png")),
      item("Flight as JSON", () => this.json()),
      item("Flight as CSV", () => this.csv()));
    const id = nextId("ww-save");
    this.list = make("div", { class: "ww-save", id, hidden: true }, list, this.said);
    const button = make("button", { type: "button", class: "ww-save-open", "aria-expanded": "false", "aria-controls": id }, "Save");
    button.addEventListener("click", () => {
      this.list.hidden = !this.list.hidden;
      button.setAttribute("aria-expanded", String(!this.list.hidden));
    });
    shareRow(panel).append(button, this.list);
  }

  async run(act) {
    try {
      setText(this.said, "");
      setText(this.said, `Saved as ${await act()}`);
    } catch (fault) {
      setText(this.said, `Not saved. ${fault.message}`);
    }
  }

  /** Hand over and say the name. */
  give(content, type, name) {
    handOver(content instanceof Blob ? content : new Blob([content], { type }), name);
    return name;
  }

  name(what, ending, timeS = null) {
    return fileName({ page: this.panel.dataset.page, flight: this.panel.scriptName, timeS, what, ending });
  }

  async picture(what, ending) {
    const { panel } = this;
    const found = [...panel.querySelectorAll(`.ww-fit > .ww-${what}`)].find((own) => own.parentElement.offsetParent !== null);
    const { aircraft, script } = panel.base.document;
    const { timeS, flight } = panel;
    const style = getComputedStyle(panel.querySelector(".ww-frame"));
    const changed = panel.edits.length ? `, with ${panel.edits.length === 1 ? "one change" : `${panel.edits.length} changes`}` : "";
    const title = `${aircraft.title}, ${script.title.toLowerCase()}: ${what === "plan" ? "the fuel system" : "what delivers when"}`;
    const caption = [
      `${aircraft.title}, revision ${aircraft.revision}. ${script.title}${changed}, at ${exactClock(timeS)}, ${flight.phaseAt(timeS).label.toLowerCase()}.`,
      "A fictional aircraft, for learning.",
    ];
    const svg = savedSvg(found, { title, caption, paper: style.backgroundColor, ink: style.color });
    const name = this.name(what, ending, timeS);
    return ending === "svg" ? this.give(svg, "image/svg+xml", name) : this.give(await savedPng(svg), "image/png", name);
  }

  /** The exact document where the simulation runs; else the record that the page holds, and its name says so. */
  async json() {
    const { panel } = this;
    if (panel.door.ready) {
      const request = { ask: "document", aircraft: panel.aircraftName, ...panel.source.request(), edits: panel.edits };
      const found = await panel.door.ask(request);
      if (found.problem) throw new Error(found.problem);
      return this.give(JSON.stringify(found.answer.document), "application/json", this.name("flight", "json"));
    }
    const name = this.give(JSON.stringify(panel.flight.document), "application/json", this.name("flight-rounded-record", "json"));
    return `${name}: the record of this page, rounded for display. The exact document needs the live simulation.`;
  }

  csv() {
    return this.give(flightCsv(this.panel.flight), "text/csv;charset=utf-8", this.name("flight", "csv"));
  }

  update() {}
}
