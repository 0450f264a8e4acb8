// What happens is said politely: not while a hand moves the time, and seldom while the flight plays.

import { exactClock } from "./clock.js";
import { isTold, seenState } from "./gauges.js";
import { sayState } from "./words.js";

const SELDOM_MS = 4000;
const MOST_AT_ONCE = 3;

export class Announcer {
  constructor(panel) {
    this.panel = panel;
    this.line = panel.querySelector(".ww-said");
    this.last = 0;
    this.waiting = null;
    this.unsaid = [];
    this.later = null;
  }

  say(text) {
    window.clearTimeout(this.waiting);
    window.clearTimeout(this.later);
    [this.unsaid, this.later] = [[], null];
    this.last = Date.now();
    // The same sentence twice is read twice only if the line was empty in between.
    this.line.textContent = "";
    this.waiting = window.setTimeout(() => (this.line.textContent = text), 60);
  }

  /** Say what changed between two times, at most every few seconds: what comes sooner waits, and is said then. */
  passed(flight, fromS, toS) {
    const worth = flight.between(fromS, toS).filter((index) => {
      const change = flight.changes[index];
      if (this.panel.view.onGauges) return isTold(flight, change.part);
      return ["rule", "action", "trouble"].includes(change.reason.kind) || flight.parts.get(change.part)?.kind === "alert";
    });
    if (worth.length === 0) return;
    this.unsaid.push(...worth.map((index) => ({ flight, index })));
    const waitMs = this.last + SELDOM_MS - Date.now();
    if (waitMs <= 0) this.sayPassed();
    else this.later ??= window.setTimeout(() => this.sayPassed(), waitMs);
  }

  sayPassed() {
    // Meanwhile the reader may have turned to the gauges, or a trouble may have been hidden.
    const { view, dataset } = this.panel;
    const told = ({ flight, index }) => dataset.challenge === undefined && (!view.onGauges || isTold(flight, flight.changes[index].part));
    const worth = this.unsaid.filter(told);
    [this.unsaid, this.later] = [[], null];
    if (worth.length === 0) return;
    // Alerts are said before all else; of the rest the last.
    const isAlert = ({ flight, index }) => flight.parts.get(flight.changes[index].part)?.kind === "alert";
    const byWeight = [...worth.filter((own) => !isAlert(own)), ...worth.filter(isAlert)];
    const chosen = new Set(byWeight.slice(-MOST_AT_ONCE));
    const words = worth.filter((own) => chosen.has(own)).map(({ flight, index }) => this.words(flight, index));
    const more = worth.length - words.length;
    this.say(`${words.join(" ")}${more ? ` And ${more} more ${more === 1 ? "change" : "changes"}.` : ""}`);
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
    const state = this.panel.view.onGauges ? seenState(flight, change.part, change.to) : change.to;
    return `${flight.label(change.part)}: ${sayState(state, this.panel.units)}.`;
  }
}
