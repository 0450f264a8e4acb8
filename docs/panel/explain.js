// The card that explains a part: how it is, because of what, and what comes next.

import { because, whatNext } from "./because.js";
import { exactClock, span } from "./clock.js";
import { make, setText, unbroken } from "./dom.js";
import { GaugedExplain } from "./explain_gauges.js";
import { figure, rateWords, unitWord } from "./figures.js";
import { keepPlace } from "./keyboard_place.js";
import { say, sayLabel, sayState, sentenceCase } from "./words.js";

const FEW_STEPS = 5;
const DEEPEST_INDENT = 3;

export class Explain {
  constructor(panel, { flows, overflows, spills_to: spillsTo, drains }) {
    this.panel = panel;
    this.drains = drains;
    this.spillsTo = spillsTo;
    this.flows = flows;
    this.overflows = overflows;
    const find = (name) => panel.querySelector(`.ww-${name}`);
    [this.part, this.now, this.balance, this.chain, this.more, this.then] =
      ["part", "now", "balance", "because", "more", "then"].map(find);
    this.onGauges = new GaugedExplain(this);
    this.whole = false;
    this.part.addEventListener("change", () => panel.choose(this.part.value));
    this.more.addEventListener("click", () => {
      this.whole = !this.whole;
      panel.refresh();
    });
  }

  /** A step of the chain that is followed leads to another chain: the keyboard goes on in that one. */
  update(shown) {
    keepPlace([this.chain, this.then, this.balance], () => this.write(shown), this.part);
  }

  write(shown) {
    const { flight, part, timeS, units } = shown;
    this.offerTroubles(flight, shown.view);
    if (this.part.value !== part) this.part.value = part;
    if (this.forPart !== part) this.whole = false;
    this.forPart = part;
    if (shown.view === "gauges") {
      // Whatever is written here, the other view writes anew.
      this.key = this.nextKey = this.balanceKey = null;
      this.onGauges.show(shown);
      return;
    }
    this.onGauges.key = null;
    this.showNow(shown);
    this.showBalance(shown);
    const last = flight.lastChange(part, timeS);
    const key = [part, last, units, this.panel.onShowId, this.whole].join(" ");
    if (this.key !== key) {
      this.key = key;
      this.showChain(flight, part, timeS, units);
    }
    this.showNext(shown);
  }

  /** Troubles that a change of the reader's has brought are parts of that flight alone. */
  offerTroubles(flight, view) {
    if (this.offered === flight && this.offeredIn === view) return;
    [this.offered, this.offeredIn] = [flight, view];
    const own = [...flight.parts.values()].filter((part) => ["trouble", "indication"].includes(part.kind));
    this.part.querySelector("optgroup[label=Troubles]")?.remove();
    // A crew is not told that there is one.
    if (own.length === 0 || view === "gauges") return;
    this.part.append(make("optgroup", { label: "Troubles" }, ...own.map((part) => make("option", { value: part.name }, sayLabel(part.label, this.panel.units)))));
  }

  showNow({ flight, part, timeS, moment, units }) {
    const last = flight.lastChange(part, timeS);
    const since = last === null ? "since the flight began" : `since ${exactClock(flight.changes[last].time_s)}`;
    const state = moment.state(part);
    const words = [make("strong", {}, flight.label(part)), ": "];
    if (flight.parts.get(part).kind === "tank") {
      const mass = `${figure(moment.quantity(`${part}.actual_kg`), "kg", units)} ${unitWord("kg", units)}`;
      words.push(`${mass}, ${rateWords(moment.quantity(`${part}.rate_kg_h`), units)}`, state === "holding" ? "" : `, ${state} ${since}`);
    } else {
      words.push(make("strong", {}, sayState(state, units)), ` ${since}`);
    }
    const text = words.map((own) => own.textContent ?? own).join("");
    if (this.now.textContent !== text) this.now.replaceChildren(...words);
  }

  /** What moves a tank's fuel, each a part that can be asked in turn. */
  showBalance({ flight, part, moment, units }) {
    const rows = (this.flows[part] ?? [])
      .map(([name, quantity, sign]) => ({ name, flow: moment.quantity(quantity) * sign }))
      .filter(({ flow }) => Math.abs(flow) >= 1);
    rows.push(...this.spills(part, moment, rows));
    const words = rows.map(({ name, flow, verb }) => {
      const amount = `${figure(Math.abs(flow), "kg/h", units)} ${unitWord("kg/h", units)}`;
      return { name, text: `${verb ?? (flow > 0 ? "brings" : "takes")} ${amount}` };
    });
    const key = JSON.stringify(words);
    if (this.balanceKey === key) return;
    this.balanceKey = key;
    this.balance.replaceChildren(
      ...words.map(({ name, text }) => make("li", {}, this.partButton(flight, name, flight.label(name)), ` ${text}`)),
    );
    this.balance.hidden = words.length === 0;
  }

  /**
   * What spills in from one other tank, and out through a vent that no other tank uses at this moment. Nothing is said where a
   * leak or a surge space takes part: their flows are not recorded.
   */
  spills(part, moment, rows) {
    const found = [];
    const spilling = (name) => moment.state(name) === "spilling";
    const [from, to] = [this.overflows[part] ?? [], this.spillsTo[part]];
    const surges = (this.drains[part] ?? []).some((vent) => moment.state(vent) === "holding");
    if (surges || moment.troubles(part).includes("leak")) return found;
    if (to && moment.flight.parts.get(to)?.kind === "vent" && spilling(part)) {
      const sharers = Object.keys(this.spillsTo).filter((name) => this.spillsTo[name] === to && spilling(name));
      if (sharers.length > 1) return found;
      found.push({ name: to, flow: -moment.quantity(`${to}.flow_kg_h`), verb: "lets out" });
    }
    const known = [...rows, ...found].reduce((sum, { flow }) => sum + flow, 0);
    const rest = from.length ? moment.quantity(`${part}.rate_kg_h`) - known : 0;
    const sources = from.filter(spilling);
    if (sources.length === 1 && rest >= 1) found.push({ name: sources[0], flow: rest, verb: "spills in" });
    return found;
  }

  partButton(flight, name, words) {
    const button = make("button", { type: "button", class: "ww-link-button" }, words);
    button.addEventListener("click", () => this.panel.choose(name));
    return button;
  }

  /** A part's button with the colon after it, which never stands alone on the next line. */
  named(flight, name) {
    return unbroken(this.partButton(flight, name, flight.label(name)), ":");
  }

  timeButton(change) {
    const label = `${exactClock(change.time_s)}, ${this.panel.onShow.label(change.part)}: go there`;
    const button = make("button", { type: "button", class: "ww-link-button ww-moment-time", "aria-label": label }, exactClock(change.time_s));
    button.addEventListener("click", () => {
      this.panel.pause();
      this.panel.goTo(change.time_s, { part: change.part, stepped: true });
    });
    return button;
  }

  showChain(flight, part, timeS, units) {
    const steps = because(flight, part, timeS);
    const shown = this.whole ? steps : steps.slice(0, FEW_STEPS);
    this.chain.replaceChildren(
      ...shown.map(({ depth, change }) =>
        make(
          "li",
          { "data-depth": Math.min(depth, DEEPEST_INDENT) },
          this.timeButton(change),
          " ",
          this.named(flight, change.part),
          ` ${sayState(change.to, units)}. `,
          make("span", { class: "ww-reason" }, sentenceCase(say(change.reason.sentence, units))),
        ),
      ),
    );
    this.more.hidden = steps.length <= FEW_STEPS;
    setText(this.more, this.whole ? "Show less" : `Show the whole chain (${steps.length} steps)`);
    this.more.setAttribute("aria-expanded", String(this.whole));
  }

  /** A part whose state stays. A tank's says little: what moves its fuel goes on changing, and its pace with it. */
  showLast({ flight, part, timeS, units, early }) {
    const movers = flight.parts.get(part).kind === "tank" ? (this.flows[part] ?? []) : [];
    const next = early ? null : nextOfMovers(flight, movers, timeS);
    if (next === null) {
      this.nextKey = null;
      const stays = movers.length ? "Next: nothing that moves its fuel changes again in this flight." : "Next: its state does not change again in this flight.";
      setText(this.then, early ? "Next: the rest of the flight is being flown." : stays);
      return;
    }
    const key = ["mover", next.index, units, this.panel.onShowId].join(" ");
    if (this.nextKey !== key) {
      this.nextKey = key;
      this.countdown = make("strong");
      const { change } = next;
      this.then.replaceChildren(
        make("span", { class: "ww-then-title" }, "Next:"), " what moves its fuel changes in ", this.countdown, ", at ", unbroken(this.timeButton(change), ":"), " ",
        this.named(flight, change.part), ` ${sayState(change.to, units)}.`,
      );
    }
    setText(this.countdown, span(next.inS));
  }

  showNext({ flight, part, timeS, units, early }) {
    const next = whatNext(flight, part, timeS);
    if (next === null) {
      this.showLast({ flight, part, timeS, units, early });
      return;
    }
    const key = [next.index, units, this.panel.onShowId].join(" ");
    if (this.nextKey !== key) {
      this.nextKey = key;
      this.countdown = make("strong");
      const { change } = next;
      const cause = change.reason.causes.length ? flight.changes[change.reason.causes[0]] : null;
      const why = [change.reason.sentence, ...(cause ? [`(${causeWords(flight, cause)})`] : [])];
      this.then.replaceChildren(
        make("span", { class: "ww-then-title" }, "Next:"), ` ${sayState(change.to, units)} in `, this.countdown, ", at ", unbroken(this.timeButton(change), "."), " ",
        make("span", { class: "ww-reason" }, say(why.join(" "), units)),
      );
    }
    setText(this.countdown, span(next.inS));
  }
}

/** The next change of anything that moves a tank's fuel: { change, inS } or null. */
export function nextOfMovers(flight, movers, timeS) {
  const found = movers.map(([name]) => whatNext(flight, name, timeS)).filter((next) => next !== null);
  return found.reduce((first, next) => (first === null || next.inS < first.inS ? next : first), null);
}

/** What will bring a change about. A rule's sentence often begins with the rule's name, which is not said twice. */
function causeWords(flight, { part, reason }) {
  const label = flight.label(part);
  return reason.sentence.startsWith(label) ? reason.sentence : `${label}: ${reason.sentence}`;
}
