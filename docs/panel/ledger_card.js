// The ledger card: on board, used, departure and their difference as bars, so that a leak is arithmetic.

import { clock } from "./clock.js";
import { describe } from "./describe.js";
import { describeGauges } from "./describe_gauges.js";
import { make, setAttribute, setText, unbroken } from "./dom.js";
import { amount, exactMass, unitWord } from "./figures.js";
import { ledger, ledgerWords } from "./ledger.js";
import { Traces } from "./traces.js";

export class LedgerCard {
  constructor(panel, { engines, probes }) {
    this.panel = panel;
    this.engines = engines;
    this.probes = probes;
    this.root = panel.querySelector(".ww-ledger");
    this.button = panel.querySelector(".ww-describe");
    this.description = panel.querySelector(".ww-description");
    this.button.addEventListener("click", () => this.describe());
  }

  update({ flight, timeS, units, view, moment }) {
    const sums = ledger(flight, this.engines, timeS, this.probes);
    if (this.kind !== sums.kind) this.build(sums.kind);
    if (sums.kind === "flight") this.showFlight(sums, units);
    else if (sums.kind === "blank") this.showBlank(sums);
    else if (view === "gauges") this.showGroundByGauges(moment, units);
    else this.showGround(sums, units);
    if (!this.description.hidden && this.describedAt !== this.now()) this.fold();
  }

  build(kind) {
    this.kind = kind;
    const bar = (...pieces) => make("div", { class: "ww-sum-bar", "aria-hidden": "true" }, ...pieces);
    this.pieces = Object.fromEntries(
      ["whole", "left", "used", "gap"].map((name) => [name, make("span", { class: `ww-sum-${name}` })]),
    );
    const { whole, left, used, gap } = this.pieces;
    [this.first, this.second, this.third] = [0, 1, 2].map(() => make("p"));
    this.departed = this.momentButton();
    this.departure = make("span");
    // The brackets stay with the time that they hold, whatever the width.
    this.opening = unbroken("(", this.departed, "): ");
    this.third.className = "ww-sum-note";
    this.root.replaceChildren(this.first, bar(whole), bar(left, used, gap), this.second, this.third);
  }

  showFlight(sums, units) {
    const { departedS, departureKg, onBoardKg, usedKg, jettisonedKg, differenceKg } = sums;
    const words = ledgerWords(sums, units);
    this.departedS = departedS;
    setText(this.departed, clock(departedS));
    setAttribute(this.departed, "aria-label", `${clock(departedS)}, the first engine start: go there`);
    setText(this.departure, words.departure);
    if (!this.opening.isConnected) this.first.replaceChildren("Departure, at the first engine start ", this.opening, this.departure);
    const goneKg = usedKg + jettisonedKg;
    setText(this.second, words.sum);
    setText(
      this.third,
      `${words.difference}. What the APU burns, what leaves by a vent and what a gauge gets wrong, as in a climb, stand here. ` +
        "A leak would open this gap at the right-hand end, and it would grow.",
    );
    const scale = Math.max(departureKg, onBoardKg + goneKg, 1);
    this.widths({ whole: departureKg / scale, left: onBoardKg / scale, used: goneKg / scale, gap: Math.max(differenceKg, 0) / scale });
  }

  /** The moment at which the account opens: pointed at, it is shown along the flight line and in the traces, as theirs are. */
  momentButton() {
    const button = make("button", { type: "button", class: "ww-link-button" });
    const traces = () => this.panel.pieces.find((piece) => piece instanceof Traces);
    button.addEventListener("click", () => {
      this.panel.pause();
      this.panel.goTo(this.departedS, { stepped: true });
    });
    button.addEventListener("pointerenter", () => traces()?.point(this.departedS));
    button.addEventListener("pointerleave", () => traces()?.point(null));
    return button;
  }

  showBlank({ departedS }) {
    setText(this.first, `The account of the flight began at the first engine start (${clock(departedS)}).`);
    setText(this.second, "The total of the gauges is blank, so what is on board can't be set against what was used.");
    setText(this.third, "What a blank gauge holds is found by fuel used, or by sticks on the ground.");
    this.widths({ whole: 0, left: 0, used: 0, gap: 0 });
  }

  showGround(sums, units) {
    const { arrivedKg, upliftedKg, onBoardKg, burnedKg, lostKg } = sums;
    const words = ledgerWords(sums, units);
    setText(this.first, words.first);
    setText(this.second, words.second);
    setText(this.third, "The account of the flight opens when the first engine starts, with what the gauges read, and they leave unusable fuel out. The fuel-used figures begin at zero there.");
    const scale = Math.max(arrivedKg + upliftedKg, 1);
    this.widths({ whole: 1, left: onBoardKg / scale, used: burnedKg / scale, gap: lostKg / scale });
  }

  /** Before the first start a crew knows what the gauges read and what the last flight and the refuelling papers say. */
  showGroundByGauges(moment, units) {
    const kg = moment.quantity("total.on_board_kg");
    const total = Number.isNaN(kg) ? "The total of the gauges is blank." : `On board by the gauges ${exactMass(kg, units)} ${unitWord("kg", units)}`;
    setText(this.first, total);
    setText(this.second, `Taken on ${exactMass(moment.quantity("total.uplifted_kg"), units)} ${unitWord("kg", units)}, ${amount(moment.quantity("total.uplifted_l"), "L")}`);
    setText(this.third, "The account of the flight opens when the first engine starts: the fuel-used figures begin at zero there.");
    this.widths({ whole: 0, left: Number.isNaN(kg) ? 0 : 1, used: 0, gap: 0 });
  }

  widths(shares) {
    for (const [name, share] of Object.entries(shares)) {
      const width = `${(share * 100).toFixed(2)}%`;
      const { style } = this.pieces[name];
      if (style.width !== width) style.width = width;
    }
  }

  describe() {
    if (!this.description.hidden) {
      this.fold();
      return;
    }
    const { flight, timeS, units, view } = this.panel;
    const sentences = view.onGauges ? describeGauges(view.seen(flight.at(timeS)), units) : describe(flight, timeS, units);
    this.description.replaceChildren(...sentences.map((sentence) => make("p", {}, sentence)));
    this.description.hidden = false;
    this.describedAt = this.now();
    this.button.setAttribute("aria-expanded", "true");
    this.description.focus();
  }

  /** What a description holds for. */
  now() {
    const { timeS, units, view, recordId } = this.panel;
    return [timeS, units, view.name, recordId].join(" ");
  }

  fold() {
    this.description.hidden = true;
    this.button.setAttribute("aria-expanded", "false");
  }
}
