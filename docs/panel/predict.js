// Predict first: choose, say how sure you are, then see what the simulation says and the moment that shows it.

import { kept, make, setText } from "./dom.js";

const SURE = [["guess", "a guess"], ["rather", "fairly sure"], ["certain", "certain"]];

/** Bring every question of the page to life. */
export function startQuestions(root = document) {
  for (const field of root.querySelectorAll("fieldset.ww-predict:not([data-ready])")) {
    field.dataset.ready = "";
    new Question(field);
  }
}

class Question {
  constructor(field) {
    this.field = field;
    this.key = `ww-predict:${window.location.pathname.split("/").slice(-2).join("/")}#${field.dataset.wwQuestion}`;
    this.options = [...field.querySelectorAll("input[type=radio]")];
    this.answer = field.querySelector(".ww-answer");
    this.build();
    this.restore();
  }

  build() {
    const name = `${this.field.id || this.field.dataset.wwQuestion}-sure`;
    this.sure = SURE.map(([value, words], index) => {
      const radio = make("input", { type: "radio", name, value, checked: index === 1 });
      return { radio, label: make("label", {}, radio, make("span", {}, words)) };
    });
    const row = make(
      "div", { class: "ww-sure", role: "radiogroup", "aria-label": "How sure are you?" },
      make("span", { class: "ww-sure-title", "aria-hidden": "true" }, "How sure are you?"),
      make("div", { class: "ww-seg" }, ...this.sure.map(({ label }) => label)),
    );
    this.check = make("button", { type: "button", class: "ww-check ww-primary" }, "Check");
    this.result = make("p", { class: "ww-result", role: "status" });
    this.answer.before(row, this.check, this.result);
    this.check.addEventListener("click", () => this.judge(true));
    // The answer is not read by chance: it opens by the check, and stays closed to a click before it.
    this.answer.hidden = true;
    this.field.addEventListener("change", (event) => {
      if (this.options.includes(event.target)) this.forget();
    });
  }

  chosen() {
    return this.options.find((option) => option.checked) ?? null;
  }

  sureness() {
    return this.sure.find(({ radio }) => radio.checked)?.radio.value ?? "rather";
  }

  judge(keep) {
    const option = this.chosen();
    if (!option) {
      setText(this.result, "Choose an answer first.");
      this.result.dataset.result = "none";
      return;
    }
    const right = option.dataset.right === "true";
    const sure = SURE.find(([value]) => value === this.sureness())[1];
    setText(this.result, right ? `Right (${sure}).` : `Not so (${sure}). The simulation says otherwise; see why below.`);
    this.result.dataset.result = right ? "right" : "wrong";
    this.showWhy(option);
    if (keep) kept.write(this.key, JSON.stringify({ option: option.value, sure: this.sureness(), right }));
  }

  /** Show why the chosen answer is right or not, and the right one; the others stay for whoever opens them. */
  showWhy(option) {
    for (const why of this.field.querySelectorAll(".ww-why")) {
      why.hidden = !(why.id === option.dataset.why || why.dataset.right === "true");
    }
    this.answer.hidden = false;
    this.answer.open = true;
  }

  forget() {
    setText(this.result, "");
    delete this.result.dataset.result;
    this.answer.hidden = true;
  }

  restore() {
    let before = null;
    try {
      before = JSON.parse(kept.read(this.key) ?? "null");
    } catch {
      return;
    }
    const option = this.options.find((own) => own.value === before?.option);
    if (!option) return;
    option.checked = true;
    for (const { radio } of this.sure) radio.checked = radio.value === before.sure;
    this.judge(false);
  }
}
