// The row of buttons over a worksheet: the panel's flight, the page's, print, files.

import { handOver } from "./download.js";
import { make, setProblem, setText } from "./dom.js";
import { readWorksheet, worksheetCsv, worksheetJson } from "./worksheet_file.js";

const MOST_BYTES = 200_000;

export class WorksheetTools {
  constructor(sheet) {
    this.sheet = sheet;
    const button = (words, action) => {
      const made = make("button", { type: "button" }, words);
      made.addEventListener("click", action);
      return made;
    };
    this.file = make("input", { type: "file", accept: ".json,application/json", class: "ww-hidden", tabindex: "-1", "aria-hidden": "true" });
    this.file.addEventListener("change", () => this.takeIn());
    this.asking = [
      button("Fill from the panel", () => sheet.fillFromPanel()),
      button("Back to the page's flight", () => sheet.back()),
    ];
    if (sheet.kind === "fuel-checks") this.asking.splice(1, 0, button("Add a row from the panel", () => sheet.addRow()));
    this.reading = button("Read a JSON file…", () => this.file.click());
    this.saving = [
      button("Print this sheet", () => this.print()),
      button("Save as CSV", () => this.save("csv")),
      button("Save as JSON", () => this.save("json")),
    ];
    this.told = make("span", { class: "ww-ws-told", role: "status" });
    this.problem = make("p", { class: "ww-problem", role: "alert", hidden: true });
    this.row = make("div", { class: "ww-ws-tools" }, ...this.asking, ...this.saving, this.reading, this.file, this.told, this.problem);
  }

  open(live) {
    for (const button of [...this.asking, this.reading]) button.disabled = !live;
  }

  /** What doesn't fit can't be saved or printed as if it did. */
  settled(wrong) {
    for (const button of this.saving) button.disabled = wrong > 0;
  }

  say(words) {
    setProblem(this.problem, null);
    setText(this.told, words);
  }

  refuse(words) {
    setText(this.told, "");
    setProblem(this.problem, words);
  }

  save(ending) {
    const { sheet } = this;
    const whole = sheet.whole();
    const text = ending === "csv" ? worksheetCsv(whole, sheet.units) : worksheetJson(whole);
    const name = `${sheet.kind}-${whole.script.script}-${whole.date}.${ending}`;
    handOver(new Blob([text], { type: `${ending === "csv" ? "text/csv" : "application/json"};charset=utf-8` }), name);
    this.say(`Saved as ${name}.`);
  }

  async takeIn() {
    const [file] = this.file.files;
    this.file.value = "";
    if (!file) return;
    if (file.size > MOST_BYTES) {
      this.refuse(`'${file.name}' has ${Math.ceil(file.size / 1000)} kB; a file of a sheet has at most ${MOST_BYTES / 1000} kB.`);
      return;
    }
    const { sheet } = this;
    const read = readWorksheet(await file.text(), sheet.kind, [...sheet.fields.own.keys()]);
    if (read.problem) {
      this.refuse(`'${file.name}' was not read in. ${read.problem}`);
      return;
    }
    this.say(`Read in from '${file.name}'.`);
    sheet.fields.put(read.given);
    sheet.ask();
  }

  /** One sheet of paper: the rest of the page stays off it. */
  print() {
    const off = [];
    for (let own = this.sheet.section; own !== document.body; own = own.parentElement) {
      own.toggleAttribute("data-ww-printed", true);
      off.push(...[...own.parentElement.children].filter((other) => other !== own));
    }
    const mark = (printed) => {
      document.documentElement.toggleAttribute("data-ww-sheet", printed);
      for (const other of off) other.toggleAttribute("data-ww-off", printed);
    };
    mark(true);
    window.addEventListener("afterprint", () => {
      mark(false);
      for (const own of document.querySelectorAll("[data-ww-printed]")) own.removeAttribute("data-ww-printed");
    }, { once: true });
    window.print();
  }
}
