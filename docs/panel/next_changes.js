// What comes next: the next five changes of any part, each with its countdown, and a button that goes there.

import { exactClock, span } from "./clock.js";
import { make, setText } from "./dom.js";
import { following } from "./following.js";
import { keepPlace } from "./keyboard_place.js";
import { sayState } from "./words.js";

const NOTHING = "Nothing more changes in this flight.";
const HIDDEN = "Hidden in this view: a crew is not told what comes next.";

export class NextChanges {
  constructor(panel) {
    this.panel = panel;
    this.list = panel.querySelector(".ww-next-changes");
    this.rows = [];
  }

  update({ flight, timeS, view }) {
    if (!this.list) return;
    const hidden = view === "gauges";
    const found = hidden ? [] : following(flight, timeS);
    const key = [hidden, found[0]?.index ?? "none", this.panel.recordId, this.panel.units].join(" ");
    if (this.key !== key) {
      this.key = key;
      this.build(flight, found, hidden ? HIDDEN : NOTHING);
    }
    found.forEach(({ inS }, at) => setText(this.rows[at], `in ${span(inS)}`));
  }

  build(flight, found, otherwise) {
    const rows = found.map(({ change }) => {
      const countdown = make("span", { class: "ww-countdown" });
      const words = `${flight.label(change.part)}: ${sayState(change.to, this.panel.units)}`;
      const go = make("button", { type: "button", class: "ww-link-button", title: `At ${exactClock(change.time_s)}` }, words);
      go.addEventListener("click", () => {
        this.panel.pause();
        this.panel.goTo(change.time_s, { part: change.part, stepped: true });
      });
      return { countdown, item: make("li", {}, countdown, go) };
    });
    this.rows = rows.map(({ countdown }) => countdown);
    const items = rows.map(({ item }) => item);
    const renew = () => this.list.replaceChildren(...(items.length ? items : [make("li", {}, otherwise)]));
    keepPlace([this.list], renew, this.panel.querySelector(".ww-flightline"));
  }
}
