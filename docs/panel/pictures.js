// The pictures and figures of a panel: whatever is on show is painted from the moment, whatever is not is left alone.

import { compileHooks } from "./paint.js";

export class Pictures {
  constructor(panel) {
    this.panel = panel;
    this.sets = new Map();
    this.folded = panel.querySelector(".ww-figures");
    this.watcher = new ResizeObserver(() => panel.refresh());
    for (const fit of panel.querySelectorAll(".ww-fit")) this.watcher.observe(fit);
    this.folded?.addEventListener("toggle", () => panel.refresh());
    panel.querySelector(".ww-plans").addEventListener("click", (event) => {
      const found = event.target.closest("[data-part],[data-for]");
      if (found) panel.choose(found.dataset.part ?? found.dataset.for);
    });
    for (const side of panel.querySelectorAll(".ww-sides input")) {
      side.addEventListener("change", () => this.showSide(side.value));
    }
    this.showSide("left");
  }

  /** On a telephone half of the drawing is shown. */
  showSide(side) {
    this.panel.querySelector(".ww-drawing").dataset.side = side;
    for (const choice of this.panel.querySelectorAll(".ww-sides input")) choice.checked = choice.value === side;
  }

  update({ moment, units, part, earlier, timeS, view }) {
    const was = earlier && view !== "gauges" && timeS <= earlier.durationS ? earlier.at(timeS) : null;
    for (const root of this.shown()) {
      if (!this.sets.has(root)) this.sets.set(root, compileHooks(root));
      for (const paint of this.sets.get(root)) paint(moment, units, was);
    }
    this.mark(part);
  }

  shown() {
    const fits = [...this.panel.querySelectorAll(".ww-fit")].filter((fit) => fit.offsetParent !== null);
    const others = [...this.panel.querySelectorAll(".ww-alerts, .ww-switches")];
    if (this.folded?.open) others.push(this.folded);
    return [...fits, ...others];
  }

  /** Mark the part that is explained, and turn the half-drawing to it. */
  mark(part) {
    if (part === this.marked) return;
    this.marked = part;
    for (const old of this.panel.querySelectorAll(".ww-chosen")) old.classList.remove("ww-chosen");
    const names = CSS.escape(part);
    for (const found of this.panel.querySelectorAll(`.ww-plan [data-part="${names}"], .ww-plan [data-for="${names}"]`)) {
      found.classList.add("ww-chosen");
    }
    if (/(^|-)right(-|$)/.test(part)) this.showSide("right");
    else if (/(^|-)left(-|$)/.test(part)) this.showSide("left");
  }
}
