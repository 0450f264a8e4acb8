// The hand-out: the page gives way to sheets for print. What is on them is chosen at their head.

import { shareRow } from "./class_view.js";
import { exactClock } from "./clock.js";
import { make, nextId, setProblem, setText } from "./dom.js";
import { askedCells, MOST_MOMENTS, readSeed, SHARES, tableRows } from "./handout_paper.js";
import { keySheets, questionSheets } from "./handout_sheets.js";
import { siteBase } from "./qr_card.js";

export class Handout {
  constructor(panel) {
    this.panel = panel;
    this.button = make("button", { type: "button", class: "ww-handout-open" }, "Hand-out");
    this.button.addEventListener("click", () => this.open());
    shareRow(panel).append(this.button);
    this.seed = 1;
  }

  /** The moments that can be chosen: the time on show, and those of the page's guided walk through this very flight. */
  moments() {
    const { panel } = this;
    const found = [{ timeS: panel.timeS, title: "The time on show" }];
    for (const own of document.querySelectorAll(".ww-moments .ww-go[data-ww-time]:not([data-ww-edit], [data-ww-side='right'])")) {
      const timeS = panel.flight.hold(Number(own.dataset.wwTime));
      const title = own.querySelector("strong")?.textContent.trim() ?? "";
      const same = found.find((other) => Math.abs(other.timeS - timeS) < 0.05);
      if (same) same.title = title || same.title;
      else found.push({ timeS, title });
    }
    return found.sort((a, b) => a.timeS - b.timeS);
  }

  open() {
    if (this.view) return;
    const { panel } = this;
    panel.pause();
    this.scrollY = window.scrollY;
    this.title = document.querySelector("h1")?.firstChild?.textContent.trim() || document.title;
    this.view = make("main", { class: "ww-panel ww-handout" }, this.controls(), (this.sheets = make("div", { class: "ww-sheets" })));
    document.body.append(this.view);
    document.documentElement.setAttribute("data-ww-handout", "");
    this.keys = (event) => event.key === "Escape" && !event.defaultPrevented && this.close();
    document.addEventListener("keydown", this.keys);
    this.draw();
    window.scrollTo({ top: 0, behavior: "instant" });
    this.view.querySelector(".ww-primary").focus({ preventScroll: true });
  }

  close() {
    document.removeEventListener("keydown", this.keys);
    document.documentElement.removeAttribute("data-ww-handout");
    this.view.remove();
    this.view = null;
    window.scrollTo({ top: this.scrollY, behavior: "instant" });
    this.button.focus({ preventScroll: true });
    this.panel.refresh();
  }

  controls() {
    const id = nextId("ww-seed-problem");
    this.offered = this.moments();
    this.boxes = this.offered.map(({ timeS, title }, index) => {
      const box = make("input", { type: "checkbox", value: index });
      box.checked = index < MOST_MOMENTS;
      box.addEventListener("change", () => this.draw());
      return { box, label: make("label", {}, box, ` ${exactClock(timeS)} ${title}`) };
    });
    this.momentProblem = make("p", { class: "ww-problem", role: "alert", hidden: true });
    this.field = make("input", { type: "text", inputmode: "numeric", size: 7, value: String(this.seed), class: "ww-seed", "aria-describedby": id });
    this.seedProblem = make("p", { class: "ww-problem", id, role: "alert", hidden: true });
    this.field.addEventListener("change", () => this.draw());
    this.share = make("select", { class: "ww-asked-share" }, ...SHARES.map(([words, share]) => make("option", { value: share }, words)));
    this.share.value = String(SHARES[1][1]);
    this.share.addEventListener("change", () => this.draw());
    this.symbols = make("input", { type: "checkbox" });
    this.symbols.checked = true;
    this.symbols.addEventListener("change", () => this.draw());
    const button = (words, name, act) => {
      const own = make("button", { type: "button", class: name }, words);
      own.addEventListener("click", act);
      return own;
    };
    this.said = make("p", { class: "ww-handout-said", role: "status" });
    return make("section", { class: "ww-handout-controls", "aria-label": "What the hand-out holds" },
      make("h1", {}, "Hand-out"),
      make("fieldset", { class: "ww-handout-moments" }, make("legend", {}, `Moments, up to ${MOST_MOMENTS}`), ...this.boxes.map(({ label }) => label), this.momentProblem),
      make("p", { class: "ww-handout-row" },
        make("label", {}, "Seed ", this.field),
        button("Another paper", "ww-another", () => this.another()),
        make("label", {}, "Asked of the table ", this.share),
        make("label", {}, this.symbols, " Drawings show levels, flows and states")),
      this.seedProblem,
      this.said,
      make("p", { class: "ww-handout-row" }, button("Print", "ww-primary", () => window.print()), button("Back to the page", "ww-handout-close", () => this.close())));
  }

  another() {
    const read = readSeed(this.field.value);
    this.field.value = String(((read.seed ?? this.seed) % 999_999) + 1);
    this.draw();
  }

  /** Draw the sheets anew. What is wrong is told where it was chosen; the last good sheets stay. */
  draw() {
    const { panel } = this;
    const moments = this.offered.filter((_own, index) => this.boxes[index].box.checked);
    const count = moments.length;
    const wrong = count === 0 ? "Choose at least one moment." : count > MOST_MOMENTS ? `${count} moments are chosen; a hand-out holds up to ${MOST_MOMENTS}.` : null;
    setProblem(this.momentProblem, wrong);
    const read = readSeed(this.field.value);
    setProblem(this.seedProblem, read.problem ?? null);
    if (read.problem) this.field.setAttribute("aria-invalid", "true");
    else this.field.removeAttribute("aria-invalid");
    if (wrong || read.problem) return;
    this.seed = read.seed;
    const { flight, units } = panel;
    const rows = tableRows(flight, moments.map(({ timeS }) => timeS), panel.dataset.controls.split(","));
    const asked = askedCells(read.seed, rows.length, count, Number(this.share.value));
    const paper = { panel, flight, units, moments, rows, asked, seed: read.seed, symbols: this.symbols.checked, title: this.title };
    this.sheets.replaceChildren(...questionSheets(paper), ...keySheets(paper));
    setText(this.said, this.words(asked));
  }

  words(asked) {
    const count = asked.flat().filter(Boolean).length;
    const link = this.panel.source.own
      ? " It has no link, for a link can't hold a script of your own."
      : siteBase(this.panel) ? "" : " It has no link yet: write the address of this site for others under QR code.";
    return `Seed ${this.seed} asks ${count} cells. The key is on a sheet of its own, at the end.${link}`;
  }

  update() {}
}
