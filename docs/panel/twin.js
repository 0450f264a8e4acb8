// Two panels side by side on one time: where one goes, the other goes; and where their flights part is said between them.

import { exactClock } from "./clock.js";
import { firstDifference, named, statesOnSides } from "./difference.js";
import { make } from "./dom.js";
import { inSentence, say } from "./words.js";

export class Twin {
  constructor(panel) {
    this.panel = panel;
    this.frame = panel.closest(".ww-twin");
    if (!this.frame) return;
    this.side = panel.dataset.twin;
    // One of them plays, and takes the other with it.
    panel.querySelector(".ww-play").addEventListener("click", () => this.other()?.panel.pause(), true);
    panel.querySelector(".ww-folded").addEventListener("toggle", () => panel.refresh());
  }

  /** The other panel's half of the twin, once it is there. */
  other() {
    const panels = [...this.frame.querySelectorAll("wet-wing-panel")];
    const found = panels.find((panel) => panel !== this.panel && panel.links);
    return found?.pieces?.find((piece) => piece instanceof Twin);
  }

  update({ timeS, units, part }) {
    const view = this.panel.view?.name;
    if (!this.frame) return;
    const other = this.other();
    if (!other) return;
    this.lead(other, { timeS, units, part, view });
    this.sayParting(other, units);
  }

  /** Take the other panel along, where this one has moved: one that moves because of it must not lead back. */
  lead(other, now) {
    const { panel } = other;
    const before = this.now ?? now;
    this.now = now;
    // Whoever leads nowhere leaves the other alone: that one may be under way by itself, and leads next.
    if (Object.keys(now).every((name) => now[name] === before[name])) return;
    if (now.units !== before.units && panel.units !== now.units) panel.setUnits(now.units);
    if (now.view !== before.view) panel.view.set(now.view);
    if (now.part !== before.part && panel.chosen !== now.part && panel.flight.parts.has(now.part)) panel.choose(now.part);
    if (now.timeS !== before.timeS) panel.goTo(panel.flight.hold(now.timeS));
    other.now = { timeS: panel.timeS, units: panel.units, part: panel.chosen, view: panel.view?.name };
  }

  /** Say anew where the two flights part, whenever one of them is another. */
  sayParting(other, units) {
    const [left, right] = this.side === "left" ? [this.panel, other.panel] : [other.panel, this.panel];
    const key = [left.recordId, right.recordId, units].join(" ");
    if (this.frame.dataset.parting === key) return;
    this.frame.dataset.parting = key;
    const line = this.frame.querySelector(".ww-twin-parting");
    const found = firstDifference(left.flight, right.flight);
    line.replaceChildren(...(found ? partingWords(found, left, units) : ["The two flights are the same now."]));
  }
}

/** The words that the page was built with (`wetwing_tools/site/twin.py`), the first of them a button that goes there. */
function partingWords({ timeS, part, before, after, sentence, in: where }, panel, units) {
  const states = statesOnSides(panel.flight.parts.get(part)?.kind, before, after);
  const words = `A state first differs at ${exactClock(timeS)}: ${inSentence(named(panel.flight, part))} ${states}.`;
  const button = make("button", { type: "button", class: "ww-link-button" }, words);
  button.addEventListener("click", () => panel.goTo(timeS, { part, stepped: true }));
  return [button, " ", say(`On the ${where === "second" ? "right" : "left"}: ${sentence}`, units)];
}
