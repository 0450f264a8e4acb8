// Two views of the same flight: inside, as it is, and on the gauges, as a crew would see it. What the second hides, it says.

import { make, setAttribute } from "./dom.js";
import { GaugedMoment } from "./gauges.js";
import { VIEWS } from "./link.js";

export const HIDDEN_WORDS = "Hidden in this view: a crew would not be told.";
const KEPT = "ww-view";

export class View {
  constructor(panel, gauges) {
    this.panel = panel;
    this.gauges = gauges;
    this.name = VIEWS.includes(keptForTheVisit.read(KEPT)) ? keptForTheVisit.read(KEPT) : "inside";
    this.choices = [...panel.querySelectorAll(".ww-views input")];
    for (const choice of this.choices) {
      choice.addEventListener("change", () => {
        keptForTheVisit.write(KEPT, choice.value);
        this.set(choice.value);
      });
    }
    // In these cards nothing but the truth could be told: each says that it is hidden.
    for (const place of panel.querySelectorAll(".ww-next-card, .ww-ahead")) {
      place.querySelector("summary, .ww-card-title").after(this.hiddenNote());
    }
    panel.querySelector(".ww-edits")?.after(this.hiddenNote("ww-hidden-edits", "A trouble among your changes is hidden in this view."));
    this.show();
  }

  get onGauges() {
    return this.name === "gauges";
  }

  /** A moment as this view sees it. */
  seen(moment) {
    return this.onGauges ? new GaugedMoment(moment, this.gauges) : moment;
  }

  set(name) {
    if (!VIEWS.includes(name) || name === this.name) return;
    this.name = name;
    this.show();
    this.panel.refresh();
  }

  show() {
    setAttribute(this.panel, "data-view", this.name);
    for (const choice of this.choices) choice.checked = choice.value === this.name;
  }

  /** What stands where something is hidden, with the way to see it. */
  hiddenNote(look = "ww-hidden-note", words = HIDDEN_WORDS) {
    return make("p", { class: `${look} of-gauges` }, `${words} `, this.showInside());
  }

  showInside() {
    const button = make("button", { type: "button", class: "ww-link-button" }, "Show inside");
    button.addEventListener("click", () => {
      this.set("inside");
      // The button goes with what it stood for: the keyboard goes on from the choice of views.
      this.choices.find((choice) => choice.checked)?.focus();
    });
    return button;
  }
}

/** Kept until the window is closed; storage may be missing or refused. */
const keptForTheVisit = {
  read(key) {
    try {
      return window.sessionStorage.getItem(key);
    } catch {
      return null;
    }
  },
  write(key, value) {
    try {
      window.sessionStorage.setItem(key, value);
    } catch {
      // The page works without.
    }
  },
};
