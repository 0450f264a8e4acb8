// The fields in which a reader says what a change does: a choice, and a figure where the choice takes one.

import { make, setAttribute, setText } from "./dom.js";
import { fieldText, figureOf, optionsOf, partedState, rangeWords, readFigure, scaleOf, stateText } from "./state_options.js";

export class StateEntry {
  /**
   * @param {{kinds: object, figures: object}} facts the page's: kinds of trouble by part, figures by kind of part
   * @param {{choice: string, figure: string}} names of the two fields, as they are read out
   */
  constructor({ kinds, figures }, names, onChange = () => {}) {
    [this.kinds, this.figures] = [kinds, figures];
    this.select = make("select", { "aria-label": names.choice, "data-field": "choice" });
    this.number = make("input", { type: "text", inputmode: "decimal", autocomplete: "off", "aria-label": names.figure, "data-field": "figure" });
    this.sign = make("span", { class: "ww-number-unit" });
    this.figure = make("span", { class: "ww-number", hidden: true }, this.number, this.sign);
    this.elements = [this.select, this.figure];
    this.figureName = names.figure;
    this.select.addEventListener("change", () => {
      this.showFigure(null);
      onChange(this.spec !== null);
    });
    this.number.addEventListener("change", () => onChange(false));
  }

  /** Offer what a part can be given; `state` stands in the fields, or the first that can be chosen. */
  show(part, units, state = null) {
    [this.part, this.units] = [part, units];
    const own = this.kinds[part.name] ?? [];
    const options = optionsOf(part, own);
    const groups = new Map(options.map(({ group }) => [group, []]));
    for (const { value, group } of options) groups.get(group).push(make("option", { value }, value));
    const titled = [...groups].map(([label, entries]) => make("optgroup", { label }, ...entries));
    this.select.replaceChildren(...(groups.size > 1 ? titled : [...groups.values()].flat()));
    const { choice, amount } = state === null ? { choice: options[0].value, amount: null } : partedState(part, own, state);
    this.select.value = choice;
    this.showFigure(amount);
  }

  showFigure(amount) {
    const { select, units } = this;
    this.spec = figureOf(this.part, select.value, this.figures);
    this.figure.hidden = this.spec === null;
    if (!this.spec) return;
    const { sign } = scaleOf(this.spec, units);
    setText(this.sign, sign);
    this.number.value = fieldText(amount ?? this.spec.usual, this.spec, units);
    this.number.title = rangeWords(this.spec, units);
    setAttribute(this.number, "aria-label", sign ? `${this.figureName}, ${sign}` : this.figureName);
  }

  /** @returns {{state: string}|{problem: string, field: HTMLElement}} */
  read() {
    if (!this.spec) return { state: this.select.value };
    const read = readFigure(this.number.value, this.spec, this.units);
    if (read.problem) return { problem: read.problem, field: this.number };
    return { state: stateText(this.part, this.select.value, read.amount) };
  }
}
