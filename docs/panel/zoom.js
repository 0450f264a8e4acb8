// A closer look at a part of the wing plan: one side, or the centre. The picture is cut, not stretched, and no label is cut through.

import { reducedMotion, setAttribute } from "./dom.js";

const LASTS_MS = 260;
/** How much of the width each place shows: from, to. */
export const PLACES = { whole: [0, 1], left: [0, 0.58], centre: [0.24, 0.76], right: [0.42, 1] };
const MARGIN = 6;

export class Zoom {
  constructor(panel) {
    this.panel = panel;
    this.select = panel.querySelector("select.ww-closer");
    if (!this.select) return;
    this.place = "whole";
    this.pictures = new Map();
    this.select.addEventListener("change", () => this.set(this.select.value));
  }

  set(place) {
    this.place = place in PLACES ? place : "whole";
    if (this.select.value !== this.place) this.select.value = this.place;
    this.panel.refresh();
  }

  /** What is read of the page's layout, before anything is written to it. */
  readLayout() {
    if (!this.select) return;
    this.plans ??= [...this.panel.querySelectorAll(".ww-fit .ww-plan")];
    this.offered = this.select.offsetParent !== null;
    this.onShow = this.plans.filter((picture) => picture.closest(".ww-fit").offsetParent !== null);
  }

  update({ part }) {
    if (!this.select) return;
    if (part !== this.part) this.follow(part);
    this.part = part;
    // On a telephone half of the picture is shown already, and this choice is not.
    const wanted = this.offered ? this.place : "whole";
    setAttribute(this.panel.querySelector(".ww-drawing"), "data-closer", wanted === "whole" ? null : wanted);
    for (const picture of this.onShow) this.show(picture, wanted);
  }

  /** A part that is asked about on the other side brings that side. */
  follow(part) {
    if (this.part === undefined || !["left", "right"].includes(this.place)) return;
    const side = /(^|-)(left|right)(-|$)/.exec(part)?.[2];
    if (side) this.set(side);
  }

  show(picture, wanted) {
    const own = this.pictures.get(picture) ?? { whole: picture.getAttribute("viewBox").split(" ").map(Number), place: "whole" };
    this.pictures.set(picture, own);
    if (own.place === wanted) return;
    own.place = wanted;
    for (const label of picture.querySelectorAll(".label, .leader")) setAttribute(label, "data-cut", null);
    const from = picture.getAttribute("viewBox").split(" ").map(Number);
    const to = wanted === "whole" ? own.whole : this.cut(picture, own.whole, PLACES[wanted]);
    window.cancelAnimationFrame(own.frame);
    if (reducedMotion()) picture.setAttribute("viewBox", to.join(" "));
    else this.glide(picture, own, from, to);
  }

  /** The box of a place: as wide as asked, as high as what stands in it. Labels that would be cut through are left out. */
  cut(picture, [left, top, width, height], [from, to]) {
    const [first, last] = [left + from * width, left + to * width];
    let [upper, lower] = [top + height, top];
    for (const label of picture.querySelectorAll(".label")) {
      const box = label.getBBox();
      if (box.width === 0) continue;
      const whole = box.x >= first && box.x + box.width <= last;
      const leader = picture.querySelector(`.leader[data-leads="${label.dataset.for}"]`);
      for (const cut of leader ? [label, leader] : [label]) setAttribute(cut, "data-cut", whole ? null : "");
      if (!whole) continue;
      [upper, lower] = [Math.min(upper, box.y), Math.max(lower, box.y + box.height)];
    }
    upper = Math.max(upper - MARGIN, top);
    return [first, upper, last - first, Math.min(lower + MARGIN, top + height) - upper];
  }

  glide(picture, own, from, to) {
    const begun = performance.now();
    const step = (now) => {
      const share = Math.min(Math.max((now - begun) / LASTS_MS, 0), 1);
      const eased = share * share * (3 - 2 * share);
      picture.setAttribute("viewBox", from.map((value, i) => (value + eased * (to[i] - value)).toFixed(2)).join(" "));
      if (share < 1) own.frame = window.requestAnimationFrame(step);
    };
    own.frame = window.requestAnimationFrame(step);
  }
}
