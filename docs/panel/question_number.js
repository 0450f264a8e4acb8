// Number: a figure that the reader works out, in the reader's units and way of writing numbers; right within a tolerance.

import { make, setText } from "./dom.js";
import { unitWord } from "./figures.js";
import { judgeNumber } from "./number_answer.js";
import { readNumber } from "./numbers.js";
import { Question } from "./question.js";
import { onUnits, perUnit, unitsNow } from "./question_units.js";
import { fieldText } from "./field_text.js";

export class NumberQuestion extends Question {
  constructor(field) {
    super(field);
    this.wish = JSON.parse(field.dataset.wwNumber);
    this.input = make("input", { type: "text", inputmode: "decimal", autocomplete: "off", class: "ww-number-field" });
    this.unit = make("span", { class: "ww-number-unit" });
    const label = make("label", { class: "ww-number-answer" }, make("span", {}, "Your answer"), this.input, this.unit);
    field.querySelector(".ww-number-slot").replaceWith(label);
    this.value = null;
    this.input.addEventListener("input", () => {
      this.value = null;
      this.forget();
    });
    onUnits(() => this.sayUnits());
    this.sayUnits();
    this.restore();
  }

  /** The unit beside the field follows the reader's; a figure that was judged is written anew in it. */
  sayUnits() {
    setText(this.unit, unitWord(this.wish.unit, unitsNow()));
    if (this.value !== null) this.input.value = fieldText(this.value, this.wish.unit, unitsNow());
  }

  given() {
    if (this.input.value.trim() === "") return { problem: "Write a number first." };
    const read = readNumber(this.input.value);
    if (read.problem) return { problem: read.problem };
    const value = this.value ?? read.value * perUnit(this.wish.unit);
    const { right, slip } = judgeNumber(value, this.wish);
    this.value = value;
    return { answer: String(value), right, slip, words: right ? "" : "The simulation comes to another figure; see below." };
  }

  show(answer) {
    const value = Number(answer);
    if (answer === "" || !Number.isFinite(value)) return false;
    this.value = value;
    this.input.value = fieldText(value, this.wish.unit, unitsNow());
    return true;
  }

  /** Of the ways to a wrong figure, the one that leads to the reader's. */
  reveal({ slip }) {
    for (const why of this.field.querySelectorAll(".ww-why")) why.hidden = why.id !== slip?.why;
  }
}
