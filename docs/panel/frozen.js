// A frozen picture: the class sees how it was, while the time and the switches are moved behind it.

import { exactClock } from "./clock.js";
import { stillCopy } from "./copies.js";
import { make } from "./dom.js";

const SHOWN = [".ww-when", ".ww-plans", ".ww-alerts", ".ww-flightline", ".ww-why-card", ".ww-class-sentence"];

export class Frozen {
  /**
   * @param {(() => void)|null} reveal what the button in the note does; null where another panel's note speaks for this one
   * @param {Element[]} more what stands beside the panel and is frozen with it
   */
  constructor(panel, reveal, more = []) {
    this.panel = panel;
    this.reveal = reveal;
    this.more = more;
    this.behind = [];
  }

  get on() {
    return this.behind.length > 0;
  }

  freeze() {
    if (this.on) return;
    const { panel } = this;
    this.behind = [...SHOWN.map((name) => panel.querySelector(name)), ...this.more].filter((own) => own && own.offsetParent !== null);
    this.copies = this.behind.map((own) => {
      const copy = stillCopy(own);
      copy.classList.add("ww-frozen");
      // It may scroll, and has no button left that brings the keyboard to it.
      if (own.matches(".ww-why-card")) copy.tabIndex = 0;
      own.after(copy);
      return copy;
    });
    for (const own of this.behind) own.classList.add("ww-behind");
    if (this.reveal) panel.querySelector(".ww-frame").prepend((this.note = this.makeNote()));
    panel.setAttribute("data-frozen", "");
  }

  makeNote() {
    const button = make("button", { type: "button" }, "Reveal what is behind");
    button.addEventListener("click", this.reveal);
    const how = make("span", { class: "ww-frozen-how" }, " Time and switches move behind this picture. Press R to reveal.");
    return make("p", { class: "ww-frozen-note" }, make("strong", {}, "Frozen"), make("span", {}, ` at ${exactClock(this.panel.timeS)}.`, how), " ", button);
  }

  thaw() {
    if (!this.on) return;
    const focused = this.note?.contains(document.activeElement);
    this.note?.remove();
    for (const copy of this.copies) copy.remove();
    for (const own of this.behind) own.classList.remove("ww-behind");
    this.behind = [];
    this.panel.removeAttribute("data-frozen");
    this.panel.refresh();
    if (focused) this.panel.querySelector(".ww-next").focus({ preventScroll: true });
  }
}
