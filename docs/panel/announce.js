// What happens is said politely: not while a hand moves the time, and seldom while the flight plays.

import { exactClock } from "./clock.js";
import { isTold } from "./gauges.js";
import { sayState } from "./words.js";

const SELDOM_MS = 4000;
const MOST_AT_ONCE = 3;

export class Announcer {
  constructor(panel) {
    this.panel = panel;
    this.line = panel.querySelector(".ww-said");
    this.last = 0;
    this.waiting = null;
  }

  say(text) {
    window.clearTimeout(this.waiting);
    this.last = Date.now();
    // The same sentence twice is read twice only if the line was empty in between.
    this.line.textContent = "";
    this.waiting = window.setTimeout(() => (this.line.textContent = text), 60);
  }

  /** Say what changed between two times, at most every few seconds. */
  passed(flight, fromS, toS) {
    const worth = flight.between(fromS, toS).filter((index) => {
      const change = flight.changes[index];
      if (this.panel.view.onGauges) return isTold(flight, change.part);
      return ["rule", "action", "trouble"].includes(change.reason.kind) || flight.parts.get(change.part)?.kind === "alert";
    });
    if (worth.length === 0 || Date.now() - this.last < SELDOM_MS) return;
    this.say(worth.slice(-MOST_AT_ONCE).map((index) => this.words(flight, index)).join(" "));
  }

  /** Say what changes at one time. */
  at(flight, timeS) {
    const { onGauges } = this.panel.view;
    const there = flight.between(timeS - 0.05, timeS + 0.05).filter((index) => !onGauges || isTold(flight, flight.changes[index].part));
    const nothing = onGauges ? "Nothing that a crew would be told changes at this moment." : "Nothing changes at this moment.";
    const words = there.slice(0, MOST_AT_ONCE).map((index) => this.words(flight, index));
    const more = there.length > MOST_AT_ONCE ? ` And ${there.length - MOST_AT_ONCE} more changes.` : "";
    this.say(`${exactClock(timeS)}. ${words.join(" ") || nothing}${more}`);
  }

  words(flight, index) {
    const change = flight.changes[index];
    return `${flight.label(change.part)}: ${sayState(change.to, this.panel.units)}.`;
  }
}
