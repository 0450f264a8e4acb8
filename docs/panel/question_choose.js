// Choose: one of several answers; each says why it is right or not, and opens the moment that shows it.

import { Question } from "./question.js";

export class Choose extends Question {
  constructor(field) {
    super(field);
    this.options = [...field.querySelectorAll(".ww-option input[type=radio]")];
    field.addEventListener("change", (event) => {
      if (this.options.includes(event.target)) this.forget();
    });
    this.restore();
  }

  given() {
    const option = this.options.find((own) => own.checked);
    if (!option) return { problem: "Choose an answer first." };
    const right = option.dataset.right === "true";
    return { answer: option.value, right, words: right ? "" : "The simulation says otherwise; see why below.", option };
  }

  show(answer) {
    const option = this.options.find((own) => own.value === answer);
    if (option) option.checked = true;
    return Boolean(option);
  }

  /** Show why the chosen answer is right or not, and the right one; the others stay for whoever tries them. */
  reveal({ option }) {
    for (const why of this.field.querySelectorAll(".ww-why")) {
      why.hidden = !(why.id === option.dataset.why || why.dataset.right === "true");
    }
  }
}
