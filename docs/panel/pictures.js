// The pictures and figures of a panel: whatever is on show is painted from the moment, whatever is not is left alone.

import { compileHooks } from "./paint.js";
import { smallThingAt } from "./touched.js";

const PARTS = "[data-part],[data-for]";

export class Pictures {
  constructor(panel) {
    this.panel = panel;
    this.sets = new Map();
    this.folded = panel.querySelector(".ww-figures");
    this.fits = [...panel.querySelectorAll(".ww-fit")];
    this.always = [...panel.querySelectorAll(".ww-alerts, .ww-switches")];
    this.watcher = new ResizeObserver(() => panel.refresh());
    for (const fit of this.fits) this.watcher.observe(fit);
    this.folded?.addEventListener("toggle", () => panel.refresh());
    const plans = panel.querySelector(".ww-plans");
    // Not every browser says with a click what clicked.
    plans.addEventListener("pointerdown", ({ pointerType }) => (this.pointer = pointerType));
    plans.addEventListener("click", (event) => {
      const name = this.partAt(event);
      if (name) panel.choose(name);
    });
    for (const side of panel.querySelectorAll(".ww-sides input")) {
      side.addEventListener("change", () => this.showSide(side.value));
    }
    this.showSide("left");
  }

  /** The part that a click or a touch of the drawing means. A tank is not meant where a finger is on its pump. */
  partAt(event) {
    const direct = event.target.closest(PARTS);
    const name = direct && nameOf(direct);
    if (this.pointer !== "touch") return name;
    const picture = event.target.closest("svg");
    if (!picture) return name;
    const boxes = [...picture.querySelectorAll(PARTS)].map((own) => {
      const { left, right, top, bottom } = own.getBoundingClientRect();
      return { name: nameOf(own), left, right, top, bottom };
    });
    return smallThingAt(boxes, event.clientX, event.clientY) ?? name;
  }

  /** On a telephone half of the drawing is shown. */
  showSide(side) {
    this.panel.querySelector(".ww-drawing").dataset.side = side;
    for (const choice of this.panel.querySelectorAll(".ww-sides input")) choice.checked = choice.value === side;
  }

  /** What is read of the page's layout, before anything is written to it. */
  readLayout() {
    this.onShow = [...this.fits.filter((fit) => fit.offsetParent !== null), ...this.always];
    if (this.folded?.open) this.onShow.push(this.folded);
  }

  update({ moment, units, part, earlier, timeS, view }) {
    const was = earlier && view !== "gauges" && timeS <= earlier.durationS ? earlier.at(timeS) : null;
    for (const root of this.onShow) {
      if (!this.sets.has(root)) this.sets.set(root, compileHooks(root));
      for (const paint of this.sets.get(root)) paint(moment, units, was);
    }
    this.mark(part);
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

function nameOf(element) {
  return element.dataset.part ?? element.dataset.for;
}
