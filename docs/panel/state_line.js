// The line that says whether the panel is live, and why not where it isn't.

import { make, setText } from "./dom.js";
import { stateWords } from "./runtime_door.js";

export class StateLine {
  constructor(panel, door, switches) {
    this.panel = panel;
    this.door = door;
    this.switches = switches;
    this.line = panel.querySelector(".ww-state");
    this.text = make("span");
    this.line.replaceChildren(this.text);
    this.show(door.state);
  }

  show(state) {
    const { text, detail, technical, live } = stateWords(state, this.panel.earlier ? "Your flight stays on show" : undefined);
    this.line.dataset.state = state.name;
    // Percents change many times a second: they are shown, and not read out each time.
    this.line.setAttribute("aria-live", state.name === "loading" ? "off" : "polite");
    setText(this.text, this.busy ? "Flying the rest of the flight again…" : text);
    this.switches.allow(live, text);
    this.showDetail(state.name === "failed" ? { detail, technical } : null);
  }

  showDetail(found) {
    this.more?.remove();
    this.more = null;
    if (!found) return;
    const again = make("button", { type: "button" }, "Try again");
    again.addEventListener("click", () => this.door.retry());
    this.more = make("span", { class: "ww-state-more" }, ` ${found.detail} `, again);
    if (found.technical) this.more.append(make("details", {}, make("summary", {}, "Technical text"), make("code", {}, found.technical)));
    this.line.append(this.more);
  }

  working(busy) {
    this.busy = busy;
    this.show(this.door.state);
  }
}
