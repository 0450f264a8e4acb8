// A frozen picture: the class sees how it was, while the time and the switches are moved behind it.

import { exactClock } from "./clock.js";
import { stillCopy } from "./copies.js";
import { make } from "./dom.js";

const SHOWN = [".ww-when", ".ww-plans", ".ww-alerts", ".ww-flightline", ".ww-why-card"];

export class Frozen {
  constructor(panel, reveal) {
    this.panel = panel;
    this.reveal = reveal;
    this.behind = [];
  }

  get on() {
    return this.behind.length > 0;
  }

  freeze() {
    if (this.on) return;
    const { panel } = this;
    this.behind = SHOWN.map((name) => panel.querySelector(name)).filter((own) => own && own.offsetParent !== null);
    this.copies = this.behind.map((own) => {
      const copy = stillCopy(own);
      copy.classList.add("ww-frozen");
      own.after(copy);
      return copy;
    });
    for (const own of this.behind) own.classList.add("ww-behind");
    const button = make("button", { type: "button" }, "Reveal what is behind");
    button.addEventListener("click", this.reveal);
    this.note = make(
      "p",
      { class: "ww-frozen-note" },
      make("strong", {}, "Frozen"),
      make("span", {}, ` at ${exactClock(panel.timeS)}. Time and switches move behind this picture. Press R to reveal.`),
      " ",
      button,
    );
    panel.querySelector(".ww-frame").prepend(this.note);
    panel.setAttribute("data-frozen", "");
  }

  thaw() {
    if (!this.on) return;
    const focused = this.note.contains(document.activeElement);
    this.note.remove();
    for (const copy of this.copies) copy.remove();
    for (const own of this.behind) own.classList.remove("ww-behind");
    this.behind = [];
    this.panel.removeAttribute("data-frozen");
    this.panel.refresh();
    if (focused) this.panel.querySelector(".ww-next").focus({ preventScroll: true });
  }
}
