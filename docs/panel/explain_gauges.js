// The card that explains a part, in the view on the gauges: what a crew would know of it, and where they would be told nothing.

import { because } from "./because.js";
import { exactClock } from "./clock.js";
import { make, setText } from "./dom.js";
import { amount, unitWord } from "./figures.js";
import { isTold, NOT_SHOWN, seenState } from "./gauges.js";
import { say, sayState, sentenceCase } from "./words.js";

const NOTHING_AHEAD = "Next: hidden in this view. A crew is not told what comes.";

/** What a crew would see of a part at a moment of the gauges; null where they would see nothing of it. */
export function seenWords(part, moment, units) {
  const { name, kind, settings } = part;
  if (kind === "tank") {
    const kg = moment.quantity(`${name}.gauged_kg`);
    return Number.isNaN(kg) ? "gauge blank, no signal" : `gauge ${amount(kg, "kg", units)}`;
  }
  const state = moment.state(name);
  if (state === NOT_SHOWN || ["trouble", "indication"].includes(kind)) return null;
  if (kind === "pump") return `switched ${state}`;
  if (kind === "valve") {
    const told = moment.setting(name);
    return `shown ${state}${settings.length && told !== state ? `, told ${told}` : ""}`;
  }
  if (kind === "engine" && ["running", "starting"].includes(state)) {
    const flow = moment.quantity(`${name}.flow_kg_h`);
    return Number.isNaN(flow) ? `${state}, flow meter blank` : `${state}, by its meter ${amount(flow, "kg/h", units)}`;
  }
  return sayState(state, units);
}

export class GaugedExplain {
  constructor(explain) {
    this.explain = explain;
  }

  show({ flight, part, timeS, moment, units }) {
    const { now, balance, more, then } = this.explain;
    const words = seenWords(flight.parts.get(part), moment, units);
    const told = words !== null;
    const steps = isTold(flight, part) ? because(flight, part, timeS) : null;
    const key = [part, words, steps?.[0]?.index, unitWord("kg", units), this.explain.panel.onShowId].join(" ");
    setText(then, NOTHING_AHEAD);
    if (this.key === key) return;
    this.key = key;
    const label = told ? flight.label(part) : "This part";
    now.replaceChildren(make("strong", {}, label), ": ", make("strong", {}, told ? words : "not shown to a crew"));
    balance.hidden = more.hidden = true;
    this.showChain(flight, steps, units);
  }

  /** The steps that a crew is told, and in place of all others one line that says so. */
  showChain(flight, steps, units) {
    const { panel, chain } = this.explain;
    const seen = (steps ?? []).filter(({ change }) => isTold(flight, change.part));
    const rows = seen.map(({ change }) => {
      const words = [this.explain.timeButton(change), " ", this.explain.named(flight, change.part), ` ${sayState(seenState(flight, change.part, change.to), units)}. `];
      // Why an alert comes on is not told; what the crew did, they know.
      if (change.reason.kind === "action") words.push(make("span", { class: "ww-reason" }, sentenceCase(say(change.reason.sentence, units))));
      return make("li", { "data-depth": 0 }, ...words);
    });
    const hides = steps === null || steps.length > seen.length;
    if (hides) {
      const row = make("li", { class: "ww-hidden-step" });
      row.append(...panel.view.hiddenNote().childNodes);
      rows.push(row);
    }
    if (rows.length === 0) rows.push(make("li", { class: "ww-hidden-step" }, `Nothing that a crew would be told has changed since ${exactClock(0)}.`));
    chain.replaceChildren(...rows);
  }
}
